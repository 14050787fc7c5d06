//! What is said of a width beside others, and which faults another width might mend.

use super::*;

use ellwand_garment::{Cloth as GarmentCloth, CutRule, Fabric, Hands, Length, Piece, Units};

use crate::{Budget, Unheard, plan_cloth};

fn pattern(pieces: &[&str]) -> Pattern {
    let piece = |name: &&str| {
        let corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0)];
        let piece = Piece::named(*name).corners_mm(&corners).grainline_mm(100.0, 50.0, 250.0);
        piece.cut(CutRule::count("main", 2, Hands::Any))
    };
    pieces.iter().map(piece).fold(Pattern::named("Bag"), |pattern, piece| pattern.piece(piece)).build().unwrap()
}

fn job(pattern: &Pattern) -> Job {
    let cloth = GarmentCloth::named("canvas", Length::mm(900.0)).selvage(Length::mm(10.0));
    Job::of(pattern, "Bag in canvas", Units::Centimetres).fabric(Fabric::of("main", cloth)).build().unwrap()
}

fn options() -> Options {
    Options { budget: Budget::Work(20_000), ..Options::default() }
}

/// Two widths of a comparison; the wider lengthened by `longer` before it is asked for a shorter one on the narrower.
fn told(longer: f64, of_narrower: &[&str]) -> Option<f64> {
    let (pattern, narrow) = (pattern(&["Side", "Base"]), self::pattern(of_narrower));
    let job = job(&pattern);
    let roles = ["main".to_owned()];
    let compared = compare_widths(&self::job(&narrow), &narrow, &roles, &[450.0, 500.0], &options(), &Unheard);
    let narrower = compared.unwrap().remove(0);
    let wide = on_width(&job, "main", 900.0);
    let mut plan = plan_cloth(&wide, &pattern, "main", &[], &options(), &Unheard).unwrap();
    plan.plan.layout.length = narrower[0].answer.as_ref().map_or(0.0, |plan| plan.layout().length) + longer;
    shorter_on(&wide, &pattern, "main", &Ok(plan), &narrower)
}

#[test]
fn a_narrower_width_whose_layout_is_shorter_and_serves_is_named() {
    // Of the two the shorter; of two as short the narrower.
    assert_eq!(told(10.0, &["Side", "Base"]), Some(450.0));
    assert_eq!(told(0.6, &["Side", "Base"]), Some(450.0));
    // Half a millimetre is not worth telling, and nothing shorter is.
    assert_eq!(told(0.4, &["Side", "Base"]), None);
    assert_eq!(told(-100.0, &["Side", "Base"]), None);
    // A layout without the base serves nobody who needs one.
    assert_eq!(told(10.0, &["Side"]), None);
}

#[test]
fn widths_are_told_narrow_to_wide_each_once_and_the_wider_is_not_longer() {
    let pattern = pattern(&["Side", "Base"]);
    let roles = ["main".to_owned()];
    let compared =
        compare_widths(&job(&pattern), &pattern, &roles, &[900.0, 150.0, 450.0, 900.0], &options(), &Unheard).unwrap();
    let told: Vec<(f64, Option<f64>)> = (compared[0].iter())
        .map(|plan| (plan.width, plan.answer.as_ref().ok().map(|plan| plan.layout().length.round())))
        .collect();
    assert_eq!(told, [(150.0, None), (450.0, Some(600.0)), (900.0, Some(300.0))]);
    assert!(compared[0].iter().all(|plan| plan.shorter_on.is_none()));
}

#[test]
fn a_fault_that_no_width_mends_ends_the_comparison() {
    let pattern = pattern(&["Side", "Base"]);
    let compared = |role: &str| {
        compare_widths(&job(&pattern), &pattern, &[role.to_owned()], &[450.0, 900.0], &options(), &Unheard)
    };
    assert!(compared("main").is_ok());
    assert!(compared("lining").is_err(), "there is no such cloth");
}

#[test]
fn cloth_of_another_width_shrinks_across_like_the_jobs_own() {
    let pattern = pattern(&["Side"]);
    let mut job = job(&pattern);
    let mut lining = job.fabrics[0].clone();
    lining.role = "lining".into();
    job.fabrics.push(lining);
    job.fabrics[0].shrinkage.across = 0.1;
    let wide = on_width(&job, "main", 1500.0);
    assert_eq!((wide.fabrics[0].cloth.width, wide.fabrics[1].cloth.width), (1350.0, 900.0));
}
