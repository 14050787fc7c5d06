//! Each case has the answer of a plan of it, and what is alike is planned once.

use std::sync::atomic::{AtomicUsize, Ordering};

use ellwand_garment::{Cloth as GarmentCloth, CutRule, Fabric, Hands, Length, Piece, Units, Way, WayChoice};

use super::*;
use crate::{Budget, Event, Stage, Unheard, plan_job};

fn pattern() -> Pattern {
    let piece = |name: &str, role: &str, height: f64| {
        let corners = [(0.0, 0.0), (300.0, 0.0), (260.0, height), (40.0, height)];
        let piece = Piece::named(name).corners_mm(&corners).grainline_mm(150.0, 20.0, 180.0);
        piece.cut(CutRule::count(role, 3, Hands::Any))
    };
    let pattern = Pattern::named("Bag").piece(piece("Side", "main", 400.0)).piece(piece("Pocket", "lining", 200.0));
    pattern.build().unwrap()
}

fn job(pattern: &Pattern, width: f64) -> Job {
    let fabric = |role, width| {
        Fabric::of(role, GarmentCloth::named("canvas", Length::mm(width))).ways(WayChoice::Only(Way::Open))
    };
    let job = Job::of(pattern, "Bag", Units::Centimetres).fabric(fabric("main", width));
    job.fabric(fabric("lining", 700.0)).build().unwrap()
}

fn options() -> Options {
    Options { budget: Budget::Work(4_000), ..Options::default() }
}

/// Counts searches.
#[derive(Default)]
struct Count(AtomicUsize);

impl Progress for Count {
    fn stage(&self, _: &Stage) {
        self.0.fetch_add(1, Ordering::Relaxed);
    }
    fn event(&self, _: &Event) {}
}

#[test]
fn each_case_is_answered_as_a_plan_of_it_and_what_is_alike_is_searched_once() {
    let pattern = pattern();
    let jobs = [700.0, 900.0, 100.0].map(|width| job(&pattern, width));
    let cases = jobs.each_ref().map(|job| Case { job, pattern: &pattern });
    let searches = |cases: &[Case<'_>], chosen: &[String]| {
        let count = Count::default();
        (plan_cases(cases, chosen, &options(), &count).unwrap(), count.0.into_inner())
    };
    let (answers, all) = searches(&cases, &[]);
    let (first, second) = (searches(&cases[..1], &[]).1, searches(&cases[1..2], &["main".to_owned()]).1);
    assert_eq!(all, first + second, "two cloths of the first, and the main cloth of the second");
    assert!(first > second && second > 0);
    for (job, answer) in jobs.iter().zip(&answers).take(2) {
        let roles = roles(job, &pattern, &[]).unwrap();
        let alone = plan_job(job, &pattern, &roles, &options(), &Unheard).unwrap();
        let lengths = |plan: &JobPlan| -> Vec<f64> { plan.cloths.iter().map(|cloth| cloth.layout().length).collect() };
        assert_eq!(lengths(answer.as_ref().unwrap()), lengths(&alone));
    }
    assert!(matches!(answers[2].as_ref().unwrap_err()[..], [PlanError::TooNarrow(_)]), "{:?}", answers[2]);
}

#[test]
fn of_some_cloths_the_others_are_left_out() {
    let pattern = pattern();
    let job = job(&pattern, 700.0);
    let answers =
        plan_cases(&[Case { job: &job, pattern: &pattern }], &["lining".to_owned()], &options(), &Unheard).unwrap();
    let planned: Vec<&str> =
        answers[0].as_ref().unwrap().cloths.iter().map(|cloth| cloth.fabric.role.as_str()).collect();
    assert_eq!(planned, ["lining"]);
}
