//! Remnants: what fits is found and lies inside, what cannot fit is told with its proof, and what was not found with what it lacks.

mod common;

use common::{folded_rectangle, job, pattern, piece, rectangle};
use ellwand_garment::{Hands, Job, Pattern, Question, Remnant, Selvages, Way, WayChoice, check};
use ellwand_geometry::{Outline, interiors_overlap, pockets};
use ellwand_planner::{Options, RemnantPlan, Unheard, Verdict, WhyNot, plan_job, plan_remnant};

fn outline(corners: &[(f64, f64)]) -> Outline {
    Outline::from_pairs(corners).unwrap()
}

fn told(job: &Job, pattern: &Pattern, remnant: &Remnant) -> RemnantPlan {
    let plan = plan_remnant(job, pattern, "main", remnant, &[], &common::little(), &Unheard).unwrap();
    if let Verdict::Fits(fitting) = &plan.verdict {
        let layout = &fitting.layout;
        let question = Question::of(job, pattern, "main", layout.way).unwrap().on(plan.fabric.clone());
        assert_eq!(check::check(layout, &question), vec![]);
        // No cut lies where the search was told that there is no cloth.
        for cut in &layout.cuts {
            assert!(pockets(&remnant.outline).iter().all(|pocket| interiors_overlap(&cut.outline, pocket).is_none()));
            assert!(cut.outline.bounds().max.y <= remnant.length() + 1e-3);
        }
    }
    plan
}

/// Two pieces, and one place for each in a hook.
fn two_arms() -> (Pattern, Remnant) {
    let pieces = vec![rectangle("Long", 100.0, 400.0, 1), rectangle("Wide", 300.0, 100.0, 1)];
    let hook = outline(&[(0.0, 0.0), (400.0, 0.0), (400.0, 100.0), (100.0, 100.0), (100.0, 400.0), (0.0, 400.0)]);
    (pattern(pieces), Remnant::within("hook", &hook))
}

#[test]
fn what_just_fits_a_hook_is_found_there() {
    let (pattern, remnant) = two_arms();
    let plan = told(&job(1000.0, WayChoice::Only(Way::Open)), &pattern, &remnant);
    assert!(matches!(plan.verdict, Verdict::Fits(_)), "{:?}", plan.verdict);
}

#[test]
fn a_flaw_in_the_only_place_of_a_piece_leaves_it_no_room() {
    let (pattern, mut remnant) = two_arms();
    remnant.flaws = vec![Outline::rectangle(2.0, 2.0).unwrap().translated(ellwand_geometry::point(50.0, 350.0))];
    let plan = told(&job(1000.0, WayChoice::Only(Way::Open)), &pattern, &remnant);
    let expected = WhyNot::NoRoom { pieces: vec!["Long".into()], all: false, needs: None };
    assert_eq!(plan.verdict, Verdict::CannotFit(expected));
}

#[test]
fn what_cannot_fit_is_told_with_its_proof() {
    let job = job(1000.0, WayChoice::Only(Way::Open));
    let square = |side: f64, count| pattern(vec![rectangle("Square", side, side, count)]);
    let triangle = Remnant::within("corner", &outline(&[(0.0, 0.0), (400.0, 0.0), (0.0, 400.0)]));
    let verdict = |pattern: &Pattern, remnant: &Remnant| told(&job, pattern, remnant).verdict;
    let no_room = Verdict::CannotFit(WhyNot::NoRoom { pieces: vec!["Square".into()], all: true, needs: None });
    assert_eq!(verdict(&square(201.0, 1), &triangle), no_room);
    assert!(matches!(verdict(&square(200.0, 1), &triangle), Verdict::Fits(_)));
    assert!(matches!(
        verdict(&square(150.0, 4), &triangle),
        Verdict::CannotFit(WhyNot::Area { pieces, cloth }) if pieces == 90_000.0 && (cloth - 80_000.0).abs() < 1e-6
    ));
    // Two squares that would have to stand one above the other.
    let strip = Remnant::within("strip", &Outline::rectangle(299.0, 399.0).unwrap());
    assert!(
        matches!(verdict(&square(200.0, 2), &strip), Verdict::CannotFit(WhyNot::TooShort(bound)) if bound.length >= 400.0)
    );
    // Selvages count.
    let mut narrow = Remnant::within("narrow", &Outline::rectangle(205.0, 300.0).unwrap());
    let mut with_selvage = job.clone();
    with_selvage.fabrics[0].cloth.selvage = 10.0;
    assert!(matches!(told(&with_selvage, &square(200.0, 1), &narrow).verdict, Verdict::Fits(_)));
    narrow.selvages = Selvages::Left;
    assert_eq!(told(&with_selvage, &square(200.0, 1), &narrow).verdict, no_room);
}

/// Five discs fit a square whose side is `2 + 2 √2` of their radius and no smaller one (known since M. Goldberg, "The packing of equal circles in a
/// square", Mathematics Magazine 43, 1970); no argument of the bounds says so.
#[test]
fn what_was_not_found_is_told_with_what_it_lacks() {
    let corner = |i: u32| {
        let angle = f64::from(i) * std::f64::consts::TAU / 32.0;
        (50.0 + 50.0 * angle.cos(), 50.0 + 50.0 * angle.sin())
    };
    let disc = outline(&(0..32).map(corner).collect::<Vec<_>>());
    let pattern = pattern(vec![piece("Disc", disc, 5, Hands::Any)]);
    let square = |side: f64| Remnant::within("square", &Outline::rectangle(side, side).unwrap());
    let job = job(1000.0, WayChoice::Only(Way::Open));
    assert!(matches!(told(&job, &pattern, &square(246.0)).verdict, Verdict::Fits(_)));
    let Verdict::NotFound { more: Some(more) } = told(&job, &pattern, &square(236.0)).verdict else { panic!("no way") };
    assert!(more > 0.0 && more < 60.0, "{more}");
}

#[test]
fn a_piece_on_the_fold_lies_on_that_of_the_remnant() {
    let pattern = pattern(vec![folded_rectangle("Yoke", 200.0, 150.0, 1)]);
    let remnant = Remnant::within("end", &Outline::rectangle(220.0, 160.0).unwrap());
    let plan = told(&job(1000.0, WayChoice::Only(Way::CentreFold)), &pattern, &remnant);
    assert!(matches!(&plan.verdict, Verdict::Fits(plan) if plan.layout.uses_fold()), "{:?}", plan.verdict);
}

#[test]
fn of_remnants_that_take_everything_the_smallest_is_cut_and_nothing_is_bought() {
    let (pattern, hook) = two_arms();
    let mut job = job(1000.0, WayChoice::Only(Way::Open));
    let large = Remnant::within("large", &Outline::rectangle(900.0, 900.0).unwrap());
    let small = Remnant::within("small", &Outline::rectangle(60.0, 900.0).unwrap());
    job.fabrics[0].remnants = vec![large, hook.clone(), small];
    let plan = |job: &Job| plan_job(job, &pattern, &["main".into()], &common::little(), &Unheard).unwrap();
    let planned = plan(&job);
    assert!(matches!(&planned.cloths[..], [cloth] if cloth.layout().cloth.remnant.as_ref() == Some(&hook)));
    assert!(planned.cloths[0].layout().purchase.is_at_home() && planned.bill().lines().is_empty());
    assert_eq!(planned.fitting_besides().map(|(remnant, _)| remnant.name.as_str()).collect::<Vec<_>>(), ["large"]);
    // The same on one thread.
    let one = Options { threads: 1, ..common::little() };
    assert_eq!(
        plan_job(&job, &pattern, &["main".into()], &one, &Unheard).unwrap().cloths[0].layout().cuts,
        planned.cloths[0].layout().cuts
    );
    // Where none does, the shop has it, and each remnant is told.
    job.fabrics[0].remnants.remove(0);
    job.fabrics[0].remnants.remove(0);
    let planned = plan(&job);
    assert!(planned.cloths[0].layout().cloth.remnant.is_none() && planned.stashes[0].remnants.len() == 1);
}
