//! A job that is ended early, and one of several cloths that is not: every cloth gets its fair share before any gets more, and what one is
//! given takes nothing from the others.

mod common;

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use common::{job, judge, pattern, piece};
use ellwand_garment::{CutRule, Hands, Job, Layout, Pattern, Way, WayChoice};
use ellwand_geometry::Outline;
use ellwand_planner::{Budget, Ended, Options, Progress, Stage, Unheard, plan_cloth, plan_job};

const ROLES: [&str; 3] = ["main", "lining", "contrast"];

/// The work of a search; a first look takes a fortieth of it.
const WORK: u64 = 400_000;

/// Leaning pieces that the start lays badly, from three cloths of several widths.
fn garment() -> (Job, Pattern) {
    let mut pieces = Vec::new();
    for role in ROLES {
        for (n, (width, height, lean)) in
            [(310.0, 420.0, 90.0), (250.0, 380.0, -70.0), (190.0, 300.0, 60.0), (140.0, 220.0, -40.0)]
                .into_iter()
                .enumerate()
        {
            let outline = [(0.0, 0.0), (width, 0.0), (lean + 0.4 * width, height), (lean, 0.9 * height)];
            let outline = Outline::from_pairs(&outline).expect("a convex quadrangle");
            let mut piece = piece(&format!("{role} {n}"), outline, 4, Hands::Pair);
            piece.cuts = vec![CutRule { role: role.into(), count: 4, on_fold: false, hands: Hands::Pair, grain: None }];
            pieces.push(piece);
        }
    }
    let mut job = job(1000.0, WayChoice::Only(Way::Open));
    for (role, width) in [("lining", 1100.0), ("contrast", 900.0)] {
        let mut fabric = job.fabrics[0].clone();
        fabric.role = role.into();
        fabric.cloth.width = width;
        job.fabrics.push(fabric);
    }
    (job, pattern(pieces))
}

fn roles() -> Vec<String> {
    ROLES.map(str::to_owned).to_vec()
}

fn options() -> Options {
    Options { budget: Budget::Work(WORK), threads: 1, ..Options::default() }
}

/// Says stop as soon as some cloth is searched for the second time: every cloth is looked at by then, and the first is searched in earnest.
#[derive(Default)]
struct StopsAtTheFirstMainSearch {
    stages: AtomicUsize,
    has_left_the_first: AtomicBool,
    stops: AtomicBool,
}

impl Progress for StopsAtTheFirstMainSearch {
    fn stage(&self, stage: &Stage) {
        self.stages.fetch_add(1, Ordering::SeqCst);
        if stage.role != ROLES[0] {
            self.has_left_the_first.store(true, Ordering::SeqCst);
        } else if self.has_left_the_first.load(Ordering::SeqCst) {
            self.stops.store(true, Ordering::SeqCst);
        }
    }

    fn should_stop(&self) -> bool {
        self.stops.load(Ordering::SeqCst)
    }
}

/// A layout without the seconds its search took.
fn timeless(layout: &Layout) -> Layout {
    let mut layout = layout.clone();
    layout.search.seconds = 0.0;
    layout
}

#[test]
fn every_cloth_has_its_first_look_when_the_first_search_is_ended() {
    let (job, pattern) = garment();
    let stops = StopsAtTheFirstMainSearch::default();
    let plan = plan_job(&job, &pattern, &roles(), &options(), &stops).expect("the pieces fit");
    assert!(stops.should_stop(), "{} searches", stops.stages.load(Ordering::SeqCst));
    let mut better = 0;
    for (cloth, role) in plan.cloths.iter().zip(ROLES) {
        let layout = cloth.layout();
        judge(layout, &job, &pattern);
        assert_eq!((layout.role.as_str(), cloth.plan.ended), (role, Ended::Stopped));
        // What a first look finds by itself.
        let look = Options { budget: Budget::Work(WORK / 40), ..options() };
        let look = plan_cloth(&job, &pattern, role, &[], &look, &Unheard).expect("the pieces fit");
        assert!(layout.length <= look.layout().length + 1e-9, "{role}: {} and {}", layout.length, look.layout().length);
        if look.layout().length < look.layout().search.start_length - 1.0 {
            assert!(layout.length < layout.search.start_length - 1.0, "{role} was left with its start");
            better += 1;
        }
    }
    assert_eq!(better, ROLES.len(), "a first look finds something on every one of these");
}

#[test]
fn a_cloth_is_planned_alike_alone_and_among_others() {
    let (job, pattern) = garment();
    let options = Options { budget: Budget::Work(20_000), ..options() };
    let together = plan_job(&job, &pattern, &roles(), &options, &Unheard).expect("the pieces fit");
    for (cloth, role) in together.cloths.iter().zip(roles()) {
        let alone = plan_job(&job, &pattern, &[role], &options, &Unheard).expect("the pieces fit");
        assert_eq!(timeless(alone.cloths[0].layout()), timeless(cloth.layout()));
    }
}

/// A caller's slip, and no fault of the program.
#[test]
fn a_time_without_a_clock_is_refused_as_such() {
    let (job, pattern) = garment();
    let time = Budget::Time(std::time::Duration::from_secs(1));
    let options = Options { budget: time, clock: ellwand_planner::Clock::NONE, ..options() };
    let refused = plan_cloth(&job, &pattern, "main", &[], &options, &Unheard).expect_err("no clock");
    assert_eq!(refused, ellwand_planner::PlanError::NoClock);
}
