//! With nap is never shorter than without, true to the grain never shorter than off it, a copy added never needs less, and either way of laying never needs more than one of them: on
//! random garments, always on checked layouts. The searches are far too small to be good, so only keeping the stricter answer can make
//! these hold. A comparison of widths says of each what a plan of it says, and tells where a narrower layout would do.

mod common;

use common::{job, judge, main_cloth, pattern, piece};
use ellwand_garment::{Hands, Job, Layout, Nap, Pattern, Way, WayChoice};
use ellwand_geometry::Outline;
use ellwand_planner::{Budget, Options, Unheard, compare_widths, on_width, plan_cloth, plan_job};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// Equal within rounding noise, mm.
const NOISE: f64 = 1e-6;

fn config() -> ProptestConfig {
    ProptestConfig {
        cases: 12,
        rng_seed: RngSeed::Fixed(20_260),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// Too little work to find a good layout; each property is tried with an amount that breaks it when no answer is kept.
fn tiny(work: u64) -> Options {
    Options { budget: Budget::Work(work), threads: 1, ..Options::default() }
}

/// A leaning four-cornered piece like a gore or a sleeve half, in hands that `kind` tells; or one cut on the fold.
fn any_piece(index: usize) -> impl Strategy<Value = ellwand_garment::Piece> {
    (60.0..300.0, 80.0..500.0, -50.0..50.0, 0.3..1.0, 1_u32..=2, 0..4).prop_map(
        move |(width, height, lean, taper, pairs, kind): (f64, f64, f64, f64, u32, i32)| {
            let name = format!("Piece {index}");
            let top = width * taper;
            let leaning = [(0.0, 0.0), (width, 0.0), (lean + top, height), (lean, height * 0.9)];
            let outline = Outline::from_pairs(&leaning).expect("a convex quadrangle");
            match kind {
                0 => piece(&name, outline, 2 * pairs, Hands::Pair),
                1 => piece(&name, outline, pairs, Hands::Same),
                2 => piece(&name, outline, pairs, Hands::Any),
                _ => {
                    let whole = [(-width, 0.0), (width, 0.0), (top, height), (-top, height)];
                    let mut piece = piece(&name, Outline::from_pairs(&whole).expect("a trapezoid"), pairs, Hands::Any);
                    piece.fold = true;
                    piece.cuts[0].on_fold = true;
                    piece
                }
            }
        },
    )
}

fn any_garment() -> impl Strategy<Value = Pattern> {
    (any_piece(1), any_piece(2), any_piece(3), any_piece(4)).prop_map(|(a, b, c, d)| pattern(vec![a, b, c, d]))
}

fn any_way() -> impl Strategy<Value = WayChoice> {
    prop_oneof![Just(WayChoice::Only(Way::Open)), Just(WayChoice::Only(Way::CentreFold)), Just(WayChoice::Either)]
}

fn layout(job: &Job, pattern: &Pattern, known: &[Layout], work: u64) -> Layout {
    let plan = plan_cloth(job, pattern, "main", known, &tiny(work), &Unheard).expect("the pieces fit");
    judge(plan.layout(), job, pattern);
    plan.layout().clone()
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn with_nap_is_never_shorter_than_without(garment in any_garment(), way in any_way(), width in 800.0..1500.0) {
        let without = job(width, way);
        let mut with = without.clone();
        main_cloth(&mut with).nap = Nap::With;
        prop_assert!(layout(&without, &garment, &[], 1_000).length <= layout(&with, &garment, &[], 1_000).length + NOISE);
    }

    #[test]
    fn true_to_the_grain_is_never_shorter_than_off_it(
        garment in any_garment(),
        way in any_way(),
        width in 800.0..1500.0,
        napped in any::<bool>(),
        off_grain_deg in prop_oneof![Just(1e-6), 0.1..4.0],
    ) {
        let mut strict = job(width, way);
        main_cloth(&mut strict).nap = if napped { Nap::With } else { Nap::Without };
        let mut loose = strict.clone();
        main_cloth(&mut loose).off_grain_deg = off_grain_deg;
        let (strict, loose) = (layout(&strict, &garment, &[], 1_000), layout(&loose, &garment, &[], 1_000));
        prop_assert!(loose.length <= strict.length + NOISE);
        prop_assert!(loose.lower_bound.length <= strict.length + NOISE);
    }

    #[test]
    fn each_width_of_a_comparison_is_answered_as_a_plan_of_it(garment in any_garment(), way in any_way(), wider in 1.0..300.0) {
        let (narrow, roles) = (850.0, ["main".to_owned()]);
        let job = job(narrow, way);
        let widths = [narrow + wider, narrow, 2000.0];
        let plans = compare_widths(&job, &garment, &roles, &widths, &tiny(1_000), &Unheard).unwrap().remove(0);
        prop_assert!(plans.windows(2).all(|w| w[0].width < w[1].width));
        let mut shortest: Option<(f64, f64)> = None;
        for plan in &plans {
            let found = plan.answer.as_ref().expect("fits").layout();
            let alone = plan_job(&on_width(&job, "main", plan.width), &garment, &roles, &tiny(1_000), &Unheard).unwrap();
            let alone = alone.cloths[0].layout();
            prop_assert_eq!((found.length, &found.cuts), (alone.length, &alone.cuts));
            // Plain cloth without flaws takes every layout of narrower cloth.
            let narrower = shortest.filter(|(length, _)| *length < found.length - 0.5).map(|(_, width)| width);
            prop_assert_eq!(plan.shorter_on, narrower);
            if shortest.is_none_or(|(length, _)| found.length < length) {
                shortest = Some((found.length, plan.width));
            }
        }
    }

    #[test]
    fn no_layout_of_either_way_is_shorter_than_what_is_said_of_both(garment in any_garment(), width in 800.0..1500.0) {
        let either = layout(&job(width, WayChoice::Either), &garment, &[], 1_000);
        let open = layout(&job(width, WayChoice::Only(Way::Open)), &garment, &[], 20_000);
        prop_assert!(either.lower_bound.length <= open.length + NOISE);
        // And what holds of an open layer holds of a fold.
        let fold = layout(&job(width, WayChoice::Only(Way::CentreFold)), &garment, &[], 1_000);
        prop_assert!(fold.lower_bound.length >= open.lower_bound.length - NOISE || fold.is_shortest_possible());
    }

    #[test]
    fn a_copy_added_never_needs_less(garment in any_garment(), way in any_way(), which in 0_usize..4) {
        let job = job(1000.0, way);
        let mut more = garment.clone();
        let rule = &mut more.pieces[which].cuts[0];
        rule.count += if rule.hands == Hands::Pair { 2 } else { 1 };
        let with_more = layout(&job, &more, &[], 4_000);
        let fewer = layout(&job, &garment, std::slice::from_ref(&with_more), 4_000);
        prop_assert!(fewer.length <= with_more.length + NOISE);
    }

    #[test]
    fn either_way_never_needs_more_than_one_of_them(garment in any_garment(), width in 800.0..1500.0) {
        let either = layout(&job(width, WayChoice::Either), &garment, &[], 1_000).length;
        prop_assert!(either <= layout(&job(width, WayChoice::Only(Way::CentreFold)), &garment, &[], 1_000).length);
        prop_assert!(either <= layout(&job(width, WayChoice::Only(Way::Open)), &garment, &[], 1_000).length);
    }
}
