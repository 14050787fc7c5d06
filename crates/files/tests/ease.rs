//! Ease that a job wishes for: what it comes to, and what is wrong with it, at its place.

mod slips;

use ellwand_files::{Faults, Limits, ReadJob, Source, parse_job};
use slips::only;

const PATTERN: &str = include_str!("sizes.pattern.toml");
const JOB: &str = include_str!("sizes.job.toml");

fn job(ease: &str) -> (String, Result<ReadJob, Faults>) {
    let text = JOB.replacen("\nunits", &format!("\nease = {{ {ease} }}\nunits"), 1);
    assert_ne!(text, JOB);
    let read = parse_job(&Source::new("ease.job.toml", text.as_str()), &Source::new("p", PATTERN), &Limits::default());
    (text, read)
}

fn refused(ease: &str, at: &str, help: &str) {
    let (text, read) = job(ease);
    only((text, read.expect_err("the job was taken")), at, help);
}

/// Hip 96 cm is the body of size 38: the finished hip is that and the ease, and the waist stays as it is.
#[test]
fn a_wish_is_read_and_reached() {
    let finished = |ease: &str| {
        let (_, read) = job(ease);
        let fit = read.unwrap_or_else(|faults| panic!("{faults}")).fit;
        let of = |name: &str| fit.report.levels.iter().find(|row| row.name == name).unwrap().clone();
        (of("hip"), of("waist"))
    };
    let (hip, waist) = finished("");
    let body = hip.finished - hip.own.expect("every size has a hip");
    let (wider, same) = finished("hip = \"7 cm\"");
    assert!((wider.finished - body - 70.0).abs() <= 0.1, "{} over {body}", wider.finished);
    assert!((same.finished - waist.finished).abs() <= 0.1);
    assert_eq!(wider.body, Some(body));
}

#[test]
fn what_is_wrong_with_a_wish_is_told_at_its_place() {
    refused("hips = \"7 cm\"", "hips", "did you mean `hip`?");
    refused(
        "hip = \"90 cm\"",
        "\"90 cm\"",
        "wish for an ease between, and let the rest out at a seam with `widen` in [alter]",
    );
    refused("hip = 7", "7 }", "write \"7 in\", \"7 cm\", \"7 mm\" or whichever it is");
}
