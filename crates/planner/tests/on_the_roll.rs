//! Cloth that is still on the roll: nobody has measured where its design stands, and what is planned must hold wherever that is.

mod common;

use common::{job, judge, main_cloth, pattern, piece};
use ellwand_garment::{
    CutEnd, Design, DesignAxis, Hands, Job, LeftEdge, Match, MatchRule, Matching, Need, Pattern, PiecePoint, Repeat,
    Way, WayChoice,
};
use ellwand_geometry::{Outline, point};
use ellwand_planner::{Budget, ClothPlan, Options, Unheard, plan_cloth, plan_job};

const REPEAT: f64 = 90.0;

/// Fronts and backs with a slanted side, which nest when some of them are turned round.
fn garment() -> Pattern {
    let of = |name| {
        let shape = [(0.0, 0.0), (300.0, 0.0), (140.0, 500.0), (0.0, 500.0)];
        let mut piece = piece(name, Outline::from_pairs(&shape).unwrap(), 2, Hands::Pair);
        piece.points.insert("side".into(), point(220.0, 250.0));
        piece
    };
    pattern(vec![of("Front"), of("Back")])
}

fn at(piece: &str) -> PiecePoint {
    PiecePoint { piece: piece.into(), point: "side".into() }
}

fn meets(axis: DesignAxis) -> MatchRule {
    MatchRule::Meet { a: at("Front"), b: at("Back"), axis }
}

fn stands(axis: DesignAxis) -> MatchRule {
    MatchRule::Stand { at: at("Front"), axis, phase: 0.0 }
}

fn asked(design: Design, layer: WayChoice, matches: Vec<(&str, MatchRule)>) -> Job {
    let mut job = job(900.0, layer);
    main_cloth(&mut job).design = Some(design);
    let required = |(name, rule): (&str, _)| Match { name: name.into(), need: Need::Required, rules: vec![rule] };
    job.fabrics[0].matching = Matching { matches: matches.into_iter().map(required).collect(), ..Matching::default() };
    job
}

fn options() -> Options {
    Options { budget: Budget::Work(6_000), threads: 1, ..Options::default() }
}

fn planned(job: &Job) -> ClothPlan {
    let plan = plan_cloth(job, &garment(), "main", &[], &options(), &Unheard).expect("the pieces fit");
    judge(plan.layout(), job, &garment());
    plan
}

/// How many cuts point up the cloth.
fn point_up(plan: &ClothPlan) -> usize {
    plan.layout().cuts.iter().filter(|cut| cut.grainline[0].y < cut.grainline[1].y).count()
}

/// Stripes from selvage to selvage.
fn stripes(cut_end: CutEnd) -> Design {
    Design { cut_end, ..Design::repeating(None, Some(Repeat::even(REPEAT, 0.0))) }
}

/// Two pieces that meet, one of them turned round, do so at one place of the design alone; pointing the same way they do at any.
#[test]
fn what_only_meets_points_one_way_where_nobody_measured_the_design() {
    let found = |cut_end, more: Option<MatchRule>| {
        let matches = [("side", meets(DesignAxis::Along))].into_iter().chain(more.map(|rule| ("front", rule)));
        let plan = planned(&asked(stripes(cut_end), WayChoice::Only(Way::Open), matches.collect()));
        (point_up(&plan), plan.layout().purchase.taken() - plan.layout().length)
    };
    assert_eq!(found(CutEnd::OnTheRoll, None), (4, 0.0));
    assert!(found(CutEnd::Measured, None).0 < 4, "slanted sides nest when some of them are turned round");
    // Where something stands on the design the layout begins at a line of it anyway.
    let (up, before) = found(CutEnd::OnTheRoll, Some(stands(DesignAxis::Along)));
    assert!(up < 4 && before == REPEAT, "{up}, {before}");
}

/// What is cut on a fold can be cut from an open layer: no bound of the one may lie above a layout of the other.
#[test]
fn the_fold_asks_no_less_than_the_open_layer() {
    let across = Design { left_edge: LeftEdge::OnTheRoll, ..Design::repeating(Some(Repeat::even(REPEAT, 0.0)), None) };
    let matches = vec![("side", meets(DesignAxis::Across))];
    let plans = [WayChoice::Only(Way::Open), WayChoice::Only(Way::CentreFold), WayChoice::Either]
        .map(|layer| planned(&asked(across.clone(), layer, matches.clone())));
    assert!(plans.iter().all(|plan| point_up(plan) == 4));
    // The fold alone may be bound to more: half a repeat is kept free along each selvage there.
    for loose in [&plans[0], &plans[2]] {
        assert!(plans.iter().all(|other| loose.layout().lower_bound.length <= other.layout().length + 1e-6));
    }
    assert!(plans[2].layout().length <= plans[1].layout().length + 1e-6);
}

/// Without the match that stands on the design all pieces must point up; what is cut with it serves all the same.
#[test]
fn no_match_costs_less_than_nothing() {
    let matches = vec![("side", meets(DesignAxis::Along)), ("front", stands(DesignAxis::Along))];
    let job = asked(stripes(CutEnd::OnTheRoll), WayChoice::Only(Way::Open), matches);
    let plan = plan_job(&job, &garment(), &["main".to_owned()], &options(), &Unheard).expect("the pieces fit");
    let cost = plan.cloths[0].matching.as_ref().expect("two matches have prices");
    assert_eq!(cost.prices.len(), 2);
    for price in &cost.prices {
        assert!(price.length >= 0.0 && price.steps >= 0 && price.buy >= 0.0, "{price:?}");
    }
    let taken = plan.cloths[0].layout().purchase.taken();
    assert!(cost.unmatched.purchase.taken() <= taken, "{taken}");
}
