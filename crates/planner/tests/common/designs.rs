//! Cloth with a design, and what is matched on it.

use ellwand_garment::{
    Design, DesignAxis, Job, Layout, Match, MatchRule, Matching, Need, Pattern, Piece, PiecePoint, Repeat, WayChoice,
};
use ellwand_geometry::point;
use ellwand_planner::{Budget, Options, PlanError, Unheard, plan_cloth};

use super::{job, judge, main_cloth};

/// Equal within rounding noise, mm.
pub(crate) const NOISE: f64 = 1e-6;

pub(crate) fn even(every: f64, offset: f64) -> Option<Repeat> {
    Some(Repeat::even(every, offset))
}

pub(crate) fn design(across: Option<Repeat>, along: Option<Repeat>) -> Design {
    Design::repeating(across, along)
}

pub(crate) fn at(piece: &str, point: &str) -> PiecePoint {
    PiecePoint { piece: piece.into(), point: point.into() }
}

pub(crate) fn meet(a: &str, b: &str, axis: DesignAxis) -> MatchRule {
    MatchRule::Meet { a: at(a, "side"), b: at(b, "side"), axis }
}

pub(crate) fn stand(piece: &str, axis: DesignAxis, phase: f64) -> MatchRule {
    MatchRule::Stand { at: at(piece, "side"), axis, phase }
}

pub(crate) fn required(name: &str, rules: Vec<MatchRule>) -> Match {
    Match { name: name.into(), need: Need::Required, rules }
}

pub(crate) fn with_side(mut piece: Piece, x: f64, y: f64) -> Piece {
    piece.points.insert("side".into(), point(x, y));
    piece
}

pub(crate) fn matched(width: f64, layer: WayChoice, design: Design, matches: Vec<Match>) -> Job {
    let mut job = job(width, layer);
    main_cloth(&mut job).design = Some(design);
    job.fabrics[0].matching = Matching { matches, ..Matching::default() };
    job
}

pub(crate) fn tiny() -> Options {
    Options { budget: Budget::Work(6_000), threads: 1, ..Options::default() }
}

pub(crate) fn layout_with(options: &Options, job: &Job, pattern: &Pattern, known: &[Layout]) -> Layout {
    let plan = plan_cloth(job, pattern, "main", known, options, &Unheard).expect("the pieces fit");
    judge(plan.layout(), job, pattern);
    assert!(plan.layout().matches.iter().all(|m| m.residual <= 0.05));
    plan.layout().clone()
}

pub(crate) fn layout(job: &Job, pattern: &Pattern, known: &[Layout]) -> Layout {
    layout_with(&tiny(), job, pattern, known)
}

pub(crate) fn fault(job: &Job, pattern: &Pattern) -> PlanError {
    plan_cloth(job, pattern, "main", &[], &tiny(), &Unheard).expect_err("there is no answer")
}
