//! What every way of laying promises, over random garments on random cloth: a sound layout, folds as its way has them, exact images in the other layer, and no more
//! bought than by the plainer ways.

mod common;

use std::collections::BTreeMap;

use common::{YARD, folded_rectangle, job, main_cloth, pattern, piece, rectangle};
use ellwand_garment::{
    Cut, CutAtOnce, Design, Fold, Hands, Job, Layout, Nap, Notch, Pattern, Piece, Question, Repeat, Way, WayChoice,
    WayRefusal, check,
};
use ellwand_geometry::{Outline, Point, point};
use ellwand_planner::{Budget, Options, PlanError, Unheard, plan_cloth};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// How far an image may be off, mm.
const EXACT: f64 = 1e-6;
/// Positions that each search may look at.
const WORK: u64 = 6_000;

fn options(threads: usize) -> Options {
    Options { budget: Budget::Work(WORK), threads, ..Options::default() }
}

fn planned(job: &Job, pattern: &Pattern, ways: WayChoice, threads: usize) -> Result<Layout, PlanError> {
    let mut job = job.clone();
    job.fabrics[0].ways = ways;
    plan_cloth(&job, pattern, "main", &[], &options(threads), &Unheard).map(|plan| plan.plan.layout)
}

/// A piece with corners cut askew, a notch on its left edge, and a point at its upper right corner.
fn askew(name: &str, (width, height, slant): (f64, f64, f64), count: u32, hands: Hands) -> Piece {
    let corners = [(0.0, 0.0), (width, 0.0), (width * (1.0 - slant), height), (0.0, height * (1.0 - slant / 2.0))];
    let mut piece = piece(name, Outline::from_pairs(&corners).unwrap(), count, hands);
    piece.notches.push(Notch { name: "side".into(), at: point(0.0, height * 0.3), inward: point(1.0, 0.0) });
    piece.points.insert("corner".into(), point(corners[2].0, corners[2].1));
    piece
}

/// A trapezium on the fold, notched on both sides.
fn on_fold(name: &str, (width, height, slant): (f64, f64, f64), count: u32) -> Piece {
    let (low, high) = (width / 2.0, width / 2.0 * (1.0 - slant));
    let corners = [(-low, 0.0), (low, 0.0), (high, height), (-high, height)];
    let mut piece = folded_rectangle(name, width, height, count);
    piece.outline = Outline::from_pairs(&corners).unwrap();
    piece.points = BTreeMap::from([("corner".to_owned(), point(high, height))]);
    piece
}

fn any_pattern() -> impl Strategy<Value = Pattern> {
    let one = (80.0..420.0_f64, 90.0..400.0_f64, 0.0..0.6_f64, 0..6_u8);
    prop::collection::vec(one, 2..=4).prop_map(|pieces| {
        let made = pieces.into_iter().enumerate().map(|(k, (width, height, slant, kind))| {
            let (name, size) = (format!("Piece {k}"), (width, height, slant));
            match kind {
                0 | 1 => askew(&name, size, 2, Hands::Pair),
                2 => askew(&name, size, 1, Hands::Same),
                3 => askew(&name, (width / 2.0, height, slant), 4, Hands::Any),
                4 => askew(&name, (width / 2.0, height, slant), 3, Hands::Any),
                _ => on_fold(&name, size, 1),
            }
        });
        pattern(made.collect())
    })
}

/// Cloth between narrow and wide, of any kind.
fn any_job() -> impl Strategy<Value = Job> {
    let kinds = (any::<[bool; 3]>(), prop::sample::select(vec![0.0, 4.0]), prop::sample::select(vec![0.0, 12.0]));
    (480.0..1300.0_f64, kinds, prop::sample::select(vec![25.0, YARD / 8.0])).prop_map(
        |(width, ([nap, plaid, flaw], gap, selvage), sold_by)| {
            let mut job = job(width, WayChoice::Any);
            job.fabrics[0].sold_by = sold_by;
            let cloth = main_cloth(&mut job);
            cloth.nap = if nap { Nap::With } else { Nap::Without };
            (cloth.piece_gap, cloth.selvage) = (gap, selvage);
            if plaid {
                cloth.design = Some(Design::repeating(Some(Repeat::even(60.0, 20.0)), Some(Repeat::even(80.0, 0.0))));
            } else if flaw {
                let hole = [(200.0, 150.0), (240.0, 150.0), (240.0, 180.0), (200.0, 180.0)];
                cloth.flaws.push(Outline::from_pairs(&hole).unwrap());
            }
            job
        },
    )
}

/// Whether the folds are those of the way, or none where it may be no deeper than not at all.
fn lies_as_asked(layout: &Layout) -> bool {
    let folds: Vec<Fold> = layout.lay.folds().map(|(_, fold)| fold).collect();
    let sections = layout.lay.sections.len();
    let middle = layout.cloth.centre_fold();
    match (layout.way, &folds[..]) {
        (Way::CentreFold, []) => false,
        // No deeper than not at all, or nothing can be cut double.
        (_, []) => sections == 1,
        (Way::CentreFold, [Fold::Lengthwise { at }]) => sections == 1 && *at == middle,
        (Way::PartFolded, [Fold::Lengthwise { at }]) => sections <= 2 && *at == middle,
        (Way::OffCentre, [Fold::Lengthwise { .. }]) => sections == 1,
        (Way::ToTheMiddle, [Fold::Lengthwise { at: left }, Fold::Lengthwise { at: right }]) => {
            sections == 1 && left < right && 2.0 * left <= 2.0 * right - layout.cloth.width + EXACT
        }
        (Way::Crosswise, [Fold::Crosswise { .. }]) | (Way::CutAndTurned, [Fold::CutAndTurned { .. }]) => sections == 1,
        _ => false,
    }
}

/// Every mark of a cut, its outline among them, that has a name.
fn marks(cut: &Cut) -> BTreeMap<String, Vec<Point>> {
    let mut marks = BTreeMap::from([("grainline".to_owned(), cut.grainline.to_vec())]);
    for notch in &cut.notches {
        marks.entry(format!("notch {}", notch.name)).or_default().push(notch.at);
        marks.entry(format!("tip of notch {}", notch.name)).or_default().push(notch.at + notch.inward);
    }
    marks.extend(cut.points.iter().map(|(name, &at)| (format!("point {name}"), vec![at])));
    marks
}

/// The two layers of what is cut at once.
fn assert_images(layout: &Layout) {
    for cuts in layout.cut_at_once() {
        let CutAtOnce::BothLayers(one, other) = cuts else { continue };
        let (near, far) = (&layout.cuts[one], &layout.cuts[other]);
        // By hand: mirrored in a line along the cloth or across it, or turned over and moved along.
        let image = |p: Point| match layout.fold_of(cuts).expect("it is cut through a fold") {
            Fold::Lengthwise { at } => point(2.0 * at - p.x, p.y),
            Fold::Crosswise { at } => point(p.x, 2.0 * at - p.y),
            Fold::CutAndTurned { at, middle } => point(2.0 * middle - p.x, p.y + at),
        };
        let is_near = |p: Point, q: Point| (p.x - q.x).abs() <= EXACT && (p.y - q.y).abs() <= EXACT;
        let points = far.outline.points();
        assert_eq!(near.outline.points().len(), points.len());
        for &corner in near.outline.points() {
            assert!(points.iter().any(|&q| is_near(image(corner), q)), "{}: no image of {corner:?}", near.piece);
        }
        assert_eq!(near.piece, far.piece);
        let hands = layout.asked.iter().find(|asked| asked.piece == near.piece).unwrap().hands;
        if near.mirrored != far.mirrored {
            for (name, places) in marks(near) {
                let images = &marks(far)[&name];
                let all = places.iter().zip(images).all(|(&p, &q)| is_near(image(p), q));
                assert!(all, "{}: {name} {places:?} {images:?}", near.piece);
            }
        }
        assert!(near.mirrored != far.mirrored || hands == Hands::Any, "{} has two of one hand", near.piece);
    }
}

/// Everything one layout must be.
fn assert_sound(layout: &Layout, job: &Job, pattern: &Pattern, ways: WayChoice) {
    let mut job = job.clone();
    job.fabrics[0].ways = ways;
    let question = Question::of(&job, pattern, "main", layout.way).unwrap();
    assert_eq!(check::check(layout, &question), vec![], "{:?}", layout.way);
    assert!(lies_as_asked(layout), "{:?} has {:?}", layout.way, layout.lay);
    assert!(layout.lower_bound.length <= layout.length + EXACT, "{:?}: {:?}", layout.way, layout.lower_bound);
    assert_images(layout);
}

/// Without what differs from run to run.
fn untimed(mut layout: Layout) -> Layout {
    layout.search.seconds = 0.0;
    layout
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 40,
        rng_seed: RngSeed::Fixed(77),
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn every_way_keeps_its_promises(job in any_job(), pattern in any_pattern()) {
        let mut steps: Vec<(Way, u64)> = Vec::new();
        for way in Way::ALL {
            let answer = planned(&job, &pattern, WayChoice::Only(way), 1);
            prop_assert!(!matches!(answer, Err(PlanError::Bug { .. })), "{way:?} {answer:?}");
            let one_way = main_cloth(&mut job.clone()).is_one_way();
            if way == Way::Crosswise && one_way {
                let refused = matches!(answer, Err(PlanError::WayRefused { why: WayRefusal::Nap, .. }));
                prop_assert!(refused, "{answer:?}");
            }
            let Ok(layout) = answer else { continue };
            prop_assert_eq!(layout.way, way);
            assert_sound(&layout, &job, &pattern, WayChoice::Only(way));
            let again = planned(&job, &pattern, WayChoice::Only(way), 2).unwrap();
            steps.push((way, layout.purchase.steps));
            prop_assert_eq!(untimed(layout), untimed(again));
        }
        let of = |wanted: Way| steps.iter().find(|(way, _)| *way == wanted).map(|(_, steps)| *steps);
        let plain = of(Way::Open).into_iter().chain(of(Way::CentreFold)).min();
        for way in [Way::OffCentre, Way::PartFolded] {
            if let (Some(steps), Some(plain)) = (of(way), plain) {
                prop_assert!(steps <= plain, "{way:?} buys {steps} of {plain}");
            }
        }
        match planned(&job, &pattern, WayChoice::Any, 1) {
            Ok(any) => {
                assert_sound(&any, &job, &pattern, WayChoice::Any);
                for (way, steps) in steps {
                    prop_assert!(any.purchase.steps <= steps, "any buys {}, {way:?} alone {steps}", any.purchase.steps);
                }
            }
            Err(fault) => prop_assert!(steps.is_empty(), "{fault}, and {steps:?}"),
        }
    }
}

#[test]
fn a_crosswise_fold_is_refused_where_the_second_layer_would_stand_on_its_head() {
    let pattern = pattern(vec![askew("Front", (300.0, 400.0, 0.3), 2, Hands::Pair)]);
    let mut job = job(1000.0, WayChoice::Any);
    let refusal = |job: &Job| match planned(job, &pattern, WayChoice::Only(Way::Crosswise), 1) {
        Err(PlanError::WayRefused { role, way: Way::Crosswise, why }) if role == "main" => why,
        other => panic!("{other:?}"),
    };
    main_cloth(&mut job).nap = Nap::With;
    assert_eq!(refusal(&job), WayRefusal::Nap);
    main_cloth(&mut job).nap = Nap::Without;
    let along = Repeat { balance: ellwand_garment::Balance::Uneven, ..Repeat::even(80.0, 0.0) };
    main_cloth(&mut job).design = Some(Design::repeating(None, Some(along)));
    assert_eq!(refusal(&job), WayRefusal::OneWayDesign);
    // Cut and turned both layers run the same way.
    assert!(planned(&job, &pattern, WayChoice::Only(Way::CutAndTurned), 1).is_ok());
    // Of any ways it is told with the others and not taken.
    job.fabrics[0].ways = WayChoice::Any;
    let plan = plan_cloth(&job, &pattern, "main", &[], &options(1), &Unheard).unwrap();
    let crosswise = plan.others.iter().find(|other| other.way == Way::Crosswise).expect("it is told");
    assert!(matches!(crosswise.answer, Err(PlanError::WayRefused { .. })));
}

#[test]
fn odd_garments_have_an_answer_or_a_reason() {
    let one = || vec![askew("Panel", (300.0, 400.0, 0.2), 1, Hands::Same)];
    let garments = [
        ("one piece", one()),
        ("one on the fold", vec![on_fold("Yoke", (300.0, 200.0, 0.2), 1)]),
        ("no pairs", [one(), vec![rectangle("Band", 100.0, 500.0, 1)]].concat()),
        ("wider than the cloth", vec![askew("Train", (2000.0, 1500.0, 0.1), 2, Hands::Pair)]),
        ("as wide as the cloth", vec![rectangle("Sheet", 900.0, 300.0, 2)]),
        ("as wide as half of it", vec![rectangle("Half", 450.0, 300.0, 4)]),
        ("a sliver", vec![rectangle("Loop", 0.5, 2.0, 2)]),
    ];
    for (what, pieces) in garments {
        let pattern = pattern(pieces);
        for width in [900.0, 90.0] {
            let job = job(width, WayChoice::Any);
            let mut answers = 0;
            for way in Way::ALL {
                match planned(&job, &pattern, WayChoice::Only(way), 1) {
                    Ok(layout) => {
                        assert_sound(&layout, &job, &pattern, WayChoice::Only(way));
                        answers += 1;
                    }
                    Err(PlanError::TooNarrow(misfits)) => assert!(!misfits.is_empty()),
                    Err(fault) => panic!("{what}, {way:?}: {fault}"),
                }
            }
            let any = planned(&job, &pattern, WayChoice::Any, 1);
            assert_eq!(any.is_ok(), answers > 0, "{what} on {width}: {any:?}");
        }
    }
}
