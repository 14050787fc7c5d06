//! What is cut from several remnants, with as little as possible from the shop: each piece of cloth is judged by itself, and all of them together cut
//! every copy once.

mod common;

use common::{YARD, job, little, pattern, piece, rectangle};
use ellwand_garment::{
    Design, Hands, Job, Match, MatchRule, Need, Pattern, PiecePoint, Portion, Question, Remnant, Repeat, Way,
    WayChoice, check,
};
use ellwand_geometry::{Outline, point};
use ellwand_planner::{JobPlan, Unheard, plan_job};
use proptest::prelude::*;

fn remnant(name: &str, width: f64, length: f64) -> Remnant {
    Remnant::within(name, &Outline::rectangle(width, length).unwrap())
}

/// The plan, with every piece of cloth judged as an answer to the question about what is cut from it, and every copy counted.
fn planned(job: &Job, pattern: &Pattern) -> JobPlan {
    let plan = plan_job(job, pattern, &["main".into()], &little(), &Unheard).unwrap();
    let mut cut: Vec<(String, u32)> = Vec::new();
    for cloth in &plan.cloths {
        let layout = cloth.layout();
        let portions =
            layout.asked.iter().map(|asked| Portion { piece: asked.piece.clone(), copies: asked.copies.clone() });
        let whole = Question::of(job, pattern, "main", layout.way).unwrap().on(cloth.fabric.clone());
        assert_eq!(check::check(layout, &whole.of_share(portions.collect())), vec![]);
        if let Some(remnant) = &layout.cloth.remnant {
            assert!(layout.cuts.iter().all(|cut| cut.outline.bounds().max.y <= remnant.length() + 1e-3));
        }
        cut.extend(layout.cuts.iter().map(|cut| (cut.piece.clone(), cut.copy)));
    }
    let orders = Question::of(job, pattern, "main", ellwand_garment::Way::Open).unwrap();
    let mut asked: Vec<(String, u32)> = (orders.orders().iter())
        .flat_map(|order| order.copies.iter().map(|&copy| (order.piece.name.clone(), copy)).collect::<Vec<_>>())
        .collect();
    cut.sort();
    asked.sort();
    assert_eq!(cut, asked);
    let all_bought = plan.stash("main").map(|stash| stash.all_bought.layout().purchase.buy);
    let bought: f64 = plan
        .cloths
        .iter()
        .filter(|cloth| cloth.fabric.cloth.remnant.is_none())
        .map(|cloth| cloth.layout().purchase.buy)
        .sum();
    assert!(all_bought.is_none_or(|all| bought <= all), "{bought} of {all_bought:?}");
    plan
}

/// The remnants that are cut from, and what is bought, mm.
fn spread(plan: &JobPlan) -> (Vec<&str>, f64) {
    let remnants = plan.cloths.iter().filter_map(|cloth| Some(cloth.fabric.cloth.remnant.as_ref()?.name.as_str()));
    let rolls = plan.cloths.iter().filter(|cloth| cloth.fabric.cloth.remnant.is_none());
    (remnants.collect(), rolls.map(|cloth| cloth.layout().purchase.buy).sum())
}

#[test]
fn copies_are_cut_from_several_remnants_and_the_rest_is_bought() {
    // Two of four squares stand beside each other on the roll.
    let pattern = pattern(vec![rectangle("Square", 300.0, 300.0, 4)]);
    let mut job = job(700.0, WayChoice::Only(Way::Open));
    job.fabrics[0].remnants =
        vec![remnant("one", 310.0, 305.0), remnant("sliver", 290.0, 2000.0), remnant("two", 305.0, 340.0)];
    let plan = planned(&job, &pattern);
    let (remnants, bought) = spread(&plan);
    assert_eq!(remnants, ["one", "two"]);
    assert_eq!(bought, 3.0 * YARD / 8.0);
    // Each copy has a name of its own among all of them.
    let mut names: Vec<String> =
        plan.cloths.iter().flat_map(|cloth| cloth.layout().copy_names()).map(|name| name.to_string()).collect();
    names.sort();
    assert_eq!(names, ["a", "b", "c", "d"]);
    // With enough remnants nothing is bought.
    job.fabrics[0].remnants.push(remnant("three", 600.0, 300.0));
    let plan = planned(&job, &pattern);
    let (remnants, bought) = spread(&plan);
    assert_eq!((remnants, bought), (vec!["one", "two", "three"], 0.0));
}

#[test]
fn a_remnant_that_saves_no_step_is_left_whole() {
    let pattern = pattern(vec![rectangle("Square", 300.0, 300.0, 2), rectangle("Tab", 40.0, 60.0, 1)]);
    let mut job = job(700.0, WayChoice::Only(Way::Open));
    // The tab lies beside the squares anyway.
    job.fabrics[0].remnants = vec![remnant("scrap", 100.0, 100.0)];
    let plan = planned(&job, &pattern);
    assert_eq!(spread(&plan), (Vec::new(), 3.0 * YARD / 8.0));
}

#[test]
fn of_a_pair_one_hand_is_cut_from_each_of_two_remnants() {
    // A wedge that is not its own mirror image, and remnants that are just it.
    let wedge = Outline::from_pairs(&[(0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 500.0)]).unwrap();
    let pattern = pattern(vec![piece("Wedge", wedge.clone(), 2, Hands::Pair)]);
    let other = Outline::from_pairs(&[(0.0, 0.0), (300.0, 0.0), (300.0, 500.0), (0.0, 200.0)]).unwrap();
    let mut job = job(700.0, WayChoice::Only(Way::Open));
    job.fabrics[0].cloth.nap = ellwand_garment::Nap::With;
    let larger = |outline: &Outline| {
        let corners = outline.points().iter().map(|p| point(p.x * 1.02, p.y * 1.02));
        Outline::new(corners.collect()).unwrap()
    };
    job.fabrics[0].remnants =
        vec![Remnant::within("as drawn", &larger(&wedge)), Remnant::within("turned over", &larger(&other))];
    let plan = planned(&job, &pattern);
    assert_eq!(spread(&plan), (vec!["as drawn", "turned over"], 0.0));
    let hands: Vec<(u32, bool)> =
        plan.cloths.iter().flat_map(|cloth| &cloth.layout().cuts).map(|cut| (cut.copy, cut.mirrored)).collect();
    assert_eq!(hands, [(1, false), (2, true)]);
}

#[test]
fn on_folded_cloth_pairs_stay_together() {
    let pattern = pattern(vec![rectangle("Panel", 140.0, 400.0, 4)]);
    let mut job = job(700.0, WayChoice::Only(Way::CentreFold));
    job.fabrics[0].remnants = vec![remnant("end", 300.0, 410.0)];
    let plan = planned(&job, &pattern);
    // Two pairs beside each other on the roll anyway.
    assert_eq!(spread(&plan).0, Vec::<&str>::new());
    job.fabrics[0].cloth.width = 320.0;
    let plan = planned(&job, &pattern);
    assert_eq!(spread(&plan).0, ["end"]);
    assert_eq!(plan.cloths[0].layout().asked[0].copies.len(), 2);
}

#[test]
fn what_is_matched_is_cut_from_the_cloth_that_is_bought() {
    let mut panel = rectangle("Panel", 300.0, 300.0, 2);
    panel.points.insert("side".into(), point(0.0, 150.0));
    let pattern = pattern(vec![panel, rectangle("Lining", 600.0, 300.0, 1)]);
    let mut job = job(700.0, WayChoice::Only(Way::Open));
    job.fabrics[0].cloth.design = Some(Design::repeating(None, Some(Repeat::even(100.0, 0.0))));
    let at = || PiecePoint { piece: "Panel".into(), point: "side".into() };
    let rules = vec![MatchRule::Meet { a: at(), b: at(), axis: ellwand_garment::DesignAxis::Along }];
    job.fabrics[0].matching.matches = vec![Match { name: "side".into(), need: Need::Required, rules }];
    job.fabrics[0].remnants = vec![Remnant { offset_along: Some(0.0), ..remnant("end", 620.0, 320.0) }];
    let plan = planned(&job, &pattern);
    let pieces: Vec<Vec<&str>> =
        plan.cloths.iter().map(|cloth| cloth.layout().cuts.iter().map(|cut| cut.piece.as_str()).collect()).collect();
    assert_eq!(pieces, [vec!["Lining"], vec!["Panel", "Panel"]]);
    assert_eq!(plan.cloths[1].layout().matching.len(), 1);
}

#[test]
fn two_roles_of_one_cloth_do_not_cut_one_remnant_twice() {
    let mut first = rectangle("Outer", 300.0, 300.0, 1);
    first.cuts[0].role = "main".into();
    let mut second = rectangle("Inner", 300.0, 300.0, 1);
    second.cuts[0].role = "lining".into();
    let pattern = pattern(vec![first, second]);
    let mut job = job(700.0, WayChoice::Only(Way::Open));
    job.fabrics[0].remnants = vec![remnant("end", 310.0, 320.0)];
    let mut lining = job.fabrics[0].clone();
    lining.role = "lining".into();
    job.fabrics.push(lining);
    let roles = ["main".to_owned(), "lining".to_owned()];
    let plan = plan_job(&job, &pattern, &roles, &little(), &Unheard).unwrap();
    let from: Vec<bool> = plan.cloths.iter().map(|cloth| cloth.fabric.cloth.remnant.is_some()).collect();
    assert_eq!(from, [true, false]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever lies in the cupboard: every copy is cut once, each piece of cloth is sound, and no more is bought than without it.
    #[test]
    fn remnants_never_cost_cloth(
        sizes in prop::collection::vec((60.0..400.0_f64, 60.0..400.0_f64, 1..4_u32, 0..3_u8), 1..5),
        remnants in prop::collection::vec((50.0..500.0_f64, 50.0..600.0_f64, 0.0..1.0_f64), 1..5),
        fold in any::<bool>(),
    ) {
        let pieces = sizes.iter().enumerate().map(|(k, &(w, h, count, hands))| {
            let corners = [(0.0, 0.0), (w, 0.0), (w, h * 0.7), (0.0, h)];
            let (hands, count) = match hands {
                0 => (Hands::Pair, 2 * count),
                1 => (Hands::Same, count),
                _ => (Hands::Any, count),
            };
            piece(&format!("Piece {k}"), Outline::from_pairs(&corners).unwrap(), count, hands)
        });
        let pattern = pattern(pieces.collect());
        let mut job = job(1000.0, if fold { WayChoice::Only(Way::CentreFold) } else { WayChoice::Either });
        job.fabrics[0].remnants = remnants.iter().enumerate().map(|(k, &(w, h, cut))| {
            let corners = [(0.0, 0.0), (w, 0.0), (w, h), (w * cut, h), (0.0, h * (1.0 - cut / 2.0))];
            match Outline::from_pairs(&corners) {
                Ok(outline) => Remnant::within(format!("remnant {k}"), &outline),
                Err(_) => remnant(&format!("remnant {k}"), w, h),
            }
        }).collect();
        planned(&job, &pattern);
    }
}
