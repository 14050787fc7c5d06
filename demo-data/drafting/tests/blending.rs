//! Garments to measure against garments drafted directly for the same body: how near blending sizes comes to drafting.

use std::path::Path;

use ellwand_demo_drafting::{Body, Garment};
use ellwand_files::{Limits, Source, parse_job, parse_pattern};
use ellwand_garment::Pattern;
use ellwand_geometry::{Outline, Point, distance_to_segment};

fn base() -> Body {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../bodies/landing-38.toml");
    Body::from_toml(&std::fs::read_to_string(path).expect("the body")).expect("a body")
}

/// The garment of the checked-in sizes made to measure for `body`.
fn to_measure(garment: Garment, body: &Body, view: &str, roles: &[&str]) -> Pattern {
    let fabrics: String = roles
        .iter()
        .map(|role| format!("[fabric.{role}]\nname = \"cloth\"\nwidth = \"150 cm\"\nnap = \"without\"\n"))
        .collect();
    let job = format!(
        "format = \"ellwand-job-1\"\nname = \"Blend\"\npattern = \"p\"\nview = \"{view}\"\nunits = \"cm\"\nsize = \"to measure\"\n\
         figure = \"regular\"\n[body]\nbust = \"{} mm\"\nwaist = \"{} mm\"\nhip = \"{} mm\"\n{fabrics}",
        body.bust, body.waist, body.hip
    );
    let text = garment.draft_sizes(&base()).to_toml();
    let read = parse_job(&Source::new("blend.job.toml", &job), &Source::new("p", &text), &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}")).pattern
}

fn direct(garment: Garment, body: &Body) -> Pattern {
    let text = garment.draft(body).to_toml(body);
    parse_pattern(&Source::new("direct.pattern.toml", &text), &Limits::default())
        .unwrap_or_else(|faults| panic!("{faults}"))
        .pattern
}

/// The greatest distance of a corner of one outline from the other, both ways, their middles laid together; mm.
fn apart(one: &Outline, other: &Outline) -> f64 {
    let shift = one.bounds().center() - other.bounds().center();
    let other = other.translated(shift);
    let from =
        |p: Point, to: &Outline| to.edges().map(|(a, b)| distance_to_segment(p, a, b)).fold(f64::INFINITY, f64::min);
    let most = |a: &Outline, b: &Outline| a.points().iter().map(|&p| from(p, b)).fold(0.0, f64::max);
    most(one, &other).max(most(&other, one))
}

/// `a` and `share` of the way to `b`, measure by measure.
fn between(a: &Body, b: &Body, share: f64) -> Body {
    let mix = |of: fn(&Body) -> f64| of(a) + (of(b) - of(a)) * share;
    Body {
        size: "to measure".into(),
        height: mix(|b| b.height),
        bust: mix(|b| b.bust),
        waist: mix(|b| b.waist),
        hip: mix(|b| b.hip),
        neck: mix(|b| b.neck),
        back_length: mix(|b| b.back_length),
        shoulder: mix(|b| b.shoulder),
        arm_length: mix(|b| b.arm_length),
        upper_arm: mix(|b| b.upper_arm),
        wrist: mix(|b| b.wrist),
        hip_depth: mix(|b| b.hip_depth),
    }
}

/// Every piece of the view: its name and how far blend and draft lie apart.
fn distances(garment: Garment, body: &Body, view: &str, roles: &[&str]) -> Vec<(String, f64)> {
    let (blended, drafted) = (to_measure(garment, body, view, roles), direct(garment, body));
    let pieces = &blended.view(view).expect("the view").pieces;
    let both = pieces.iter().filter_map(|name| Some((name, blended.piece(name)?, drafted.piece(name)?)));
    both.map(|(name, blend, draft)| (name.clone(), apart(&blend.outline, &draft.outline))).collect()
}

const DRESS: (Garment, &str, &[&str]) = (Garment::ShirtDress, "A", &["main", "interfacing"]);
const SKIRT: (Garment, &str, &[&str]) = (Garment::Skirt, "A", &["main", "lining", "interfacing"]);
const BLOUSE: (Garment, &str, &[&str]) = (Garment::Blouse, "A", &["main", "interfacing"]);
const JACKET: (Garment, &str, &[&str]) = (Garment::Jacket, "A", &["main", "lining", "interfacing", "canvas"]);

#[track_caller]
fn within(limit: f64, body: &Body, (garment, view, roles): (Garment, &str, &[&str])) {
    let found = distances(garment, body, view, roles);
    assert!(found.len() >= 8, "{found:?}");
    assert!(found.iter().all(|(_, mm)| *mm <= limit), "{garment:?}: {found:?}");
}

#[test]
fn half_way_between_two_sizes_a_blend_is_a_draft_to_a_fraction_of_a_millimetre() {
    let sizes = Garment::ShirtDress.sizes(&base());
    let body = between(&sizes[2].body, &sizes[3].body, 0.5);
    within(0.2, &body, DRESS);
    // The side of its hem facing is short, so that the tenth of a millimetre to which files are drawn turns the corner there.
    within(0.4, &body, BLOUSE);
    within(0.2, &body, JACKET);
    within(0.2, &body, SKIRT);
}

#[test]
fn with_a_larger_hip_a_blend_comes_near_a_draft() {
    // The bust and waist of 38 and the hip of 42: blends pass from one size to the other, a draft bends only where its rules say.
    let sizes = Garment::ShirtDress.sizes(&base());
    let body = Body { hip: sizes[4].body.hip, ..sizes[2].body.clone() };
    within(4.1, &body, DRESS);
    within(6.5, &body, SKIRT);
    within(6.5, &body, BLOUSE);
    within(6.6, &body, JACKET);
}
