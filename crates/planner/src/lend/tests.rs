//! A poor layout of the job itself is replaced by that of a longer garment, and a price of matching by what a change found.

use ellwand_garment::{
    Cloth as GarmentCloth, CutRule, Fabric, Hands, Job, Length, Pattern, Piece, Units, Way, WayChoice,
};

use super::*;
use crate::{Options, Unheard, plan_job};

/// Three towels of this length, on cloth that takes `across` of them side by side.
fn towels(length: f64, across: f64) -> (Job, Pattern) {
    let corners = [(0.0, 0.0), (300.0, 0.0), (300.0, length), (0.0, length)];
    let towel = Piece::named("Towel").corners_mm(&corners).grainline_mm(150.0, 50.0, length - 50.0);
    let pattern = Pattern::named("Towels").piece(towel.cut(CutRule::count("main", 3, Hands::Any))).build().unwrap();
    let width = Length::mm(across * 320.0);
    let fabric = Fabric::of("main", GarmentCloth::named("linen", width)).ways(WayChoice::Only(Way::Open));
    let job = Job::of(&pattern, "Towels", Units::Centimetres).fabric(fabric).build().unwrap();
    (job, pattern)
}

fn planned((job, pattern): &(Job, Pattern)) -> JobPlan {
    plan_job(job, pattern, &["main".to_owned()], &Options::default(), &Unheard).unwrap()
}

fn length(plan: &JobPlan) -> f64 {
    plan.cloths[0].layout().length
}

#[test]
fn a_layout_of_a_longer_piece_serves_the_job_itself_where_that_was_laid_poorly() {
    let (own, longer) = (towels(500.0, 3.0), towels(525.0, 3.0));
    let (good, mut long) = (planned(&own), planned(&longer));
    // As long as a poor search may leave it.
    let mut poor = good;
    poor.cloths[0].plan.layout.length = 1_700.0;
    lend(&mut [
        Answered { case: Case { job: &own.0, pattern: &own.1 }, plan: &mut poor },
        Answered { case: Case { job: &longer.0, pattern: &longer.1 }, plan: &mut long },
    ]);
    assert!(length(&poor) <= length(&long), "{} against {}", length(&poor), length(&long));
    assert_eq!(poor.cloths[0].layout().purchase.length, length(&poor), "what is bought follows");
}

#[test]
fn what_does_not_serve_is_not_taken() {
    let (own, other) = (towels(500.0, 2.0), towels(500.0, 3.0));
    let (mut narrow, mut wide) = (planned(&own), planned(&other));
    let before = (length(&narrow), length(&wide));
    assert!(before.1 < before.0);
    lend(&mut [
        Answered { case: Case { job: &own.0, pattern: &own.1 }, plan: &mut narrow },
        Answered { case: Case { job: &other.0, pattern: &other.1 }, plan: &mut wide },
    ]);
    assert_eq!((length(&narrow), length(&wide)), before);
}
