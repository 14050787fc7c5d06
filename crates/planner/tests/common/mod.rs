//! Small garments for the planner's tests.
#![allow(dead_code, reason = "each test file uses its own part")]

pub(crate) mod designs;

use std::collections::BTreeMap;

use ellwand_garment::{
    Cloth, CutRule, Fabric, GrainRule, Hands, Job, Layout, Nap, Pattern, Piece, Question, RightSide, Shrinkage, Units,
    View, WayChoice, check,
};
use ellwand_geometry::{Outline, point};
use ellwand_planner::{Budget, ClothPlan, Options, PlanError, Unheard, plan_cloth};

pub(crate) const INCH: f64 = 25.4;
pub(crate) const YARD: f64 = 914.4;

/// A piece with a convex `outline`, its grainline upright through the mean of its corners, along half of what lies inside there.
pub(crate) fn piece(name: &str, outline: Outline, count: u32, hands: Hands) -> Piece {
    let corners = outline.points();
    let x = corners.iter().map(|p| p.x).sum::<f64>() / corners.len() as f64;
    let crossings = outline.edges().filter(|(a, b)| (a.x - x) * (b.x - x) <= 0.0 && a.x != b.x);
    let heights: Vec<f64> = crossings.map(|(a, b)| a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x)).collect();
    let (low, high) =
        (heights.iter().copied().fold(f64::INFINITY, f64::min), heights.iter().copied().fold(0.0, f64::max));
    let grainline = [0.25, 0.75].map(|share| point(x, low + share * (high - low)));
    Piece {
        name: name.into(),
        outline,
        grainline,
        edges: Vec::new(),
        fold: false,
        grain: GrainRule::Straight,
        notches: Vec::new(),
        points: BTreeMap::new(),
        darts: Vec::new(),
        cuts: vec![CutRule { role: "main".into(), count, on_fold: false, hands, grain: None }],
        strips: None,
    }
}

/// An upright rectangle, `width` across and `height` along, any hand.
pub(crate) fn rectangle(name: &str, width: f64, height: f64, count: u32) -> Piece {
    piece(name, Outline::rectangle(width, height).expect("a rectangle"), count, Hands::Any)
}

/// A rectangle cut on the fold, given whole, symmetric about `x = 0`.
pub(crate) fn folded_rectangle(name: &str, width: f64, height: f64, count: u32) -> Piece {
    let half = width / 2.0;
    let outline =
        Outline::from_pairs(&[(-half, 0.0), (half, 0.0), (half, height), (-half, height)]).expect("a rectangle");
    let mut piece = piece(name, outline, count, Hands::Any);
    piece.fold = true;
    piece.cuts[0].on_fold = true;
    piece
}

/// The pattern of `pieces`, all in view A.
pub(crate) fn pattern(pieces: Vec<Piece>) -> Pattern {
    let view = View { name: "A".into(), title: String::new(), pieces: pieces.iter().map(|p| p.name.clone()).collect() };
    Pattern {
        name: "Test garment".into(),
        size: "one".into(),
        pieces,
        views: vec![view],
        seams: Vec::new(),
        garments: Vec::new(),
    }
}

/// A job for view A on plain cloth of `width` mm without selvage, sold by the eighth of a yard.
pub(crate) fn job(width: f64, ways: WayChoice) -> Job {
    let cloth = Cloth {
        name: "plain cloth".into(),
        width,
        selvage: 0.0,
        nap: Nap::Without,
        right_side: RightSide::One,
        off_grain_deg: 0.0,
        piece_gap: 0.0,
        flaws: Vec::new(),
        on_hand: None,
        design: None,
        remnant: None,
    };
    let fabric = Fabric {
        role: "main".into(),
        cloth,
        ways,
        price: None,
        currency: None,
        sold_by: YARD / 8.0,
        shrinkage: Shrinkage::default(),
        straighten_ends: 0.0,
        matching: Default::default(),
        remnants: Vec::new(),
    };
    Job {
        name: "Test job".into(),
        pattern: "Test garment".into(),
        view: "A".into(),
        size: "one".into(),
        units: Units::Inches,
        fabrics: vec![fabric],
        spending: Default::default(),
    }
}

/// Work small enough for a test and large enough to move pieces.
pub(crate) fn little() -> Options {
    Options { budget: Budget::Work(50_000), ..Options::default() }
}

/// Plans the main cloth and has the result judged once more from outside.
pub(crate) fn plan(job: &Job, pattern: &Pattern) -> Result<ClothPlan, PlanError> {
    plan_with(&little(), job, pattern)
}

/// As [`plan`], with other options.
pub(crate) fn plan_with(options: &Options, job: &Job, pattern: &Pattern) -> Result<ClothPlan, PlanError> {
    let plan = plan_cloth(job, pattern, "main", &[], options, &Unheard)?;
    judge(plan.layout(), job, pattern);
    Ok(plan)
}

/// The garment's checker on a finished layout.
pub(crate) fn judge(layout: &Layout, job: &Job, pattern: &Pattern) {
    let question = Question::of(job, pattern, &layout.role, layout.way).expect("the job and pattern belong together");
    let faults = check::check(layout, &question);
    assert!(faults.is_empty(), "{faults:?}");
}

pub(crate) fn main_cloth(job: &mut Job) -> &mut Cloth {
    &mut job.fabrics[0].cloth
}
