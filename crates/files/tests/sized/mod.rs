//! A pattern in several sizes and a job for it, and what is said of them with a slip.
#![allow(dead_code, reason = "each test file uses its own part")]

use ellwand_files::{Limits, Source, parse_job, parse_pattern};

use crate::passage::changed;

pub(crate) const PATTERN: &str = include_str!("../sizes.pattern.toml");
pub(crate) const JOB: &str = include_str!("../sizes.job.toml");

/// The faults of the pattern with one passage changed, as printed, without the name of the file and the line, which must be the one in
/// which `at` first stands after the change.
pub(crate) fn pattern(from: &str, to: &str, at: &str) -> String {
    let text = changed(PATTERN, from, to);
    let faults = parse_pattern(&Source::new("p", &text), &Limits::default()).expect_err("the pattern was taken");
    told(&text, &faults.to_string(), "p", at)
}

/// The same of the job, with more tables.
pub(crate) fn job(from: &str, to: &str, tables: &str, at: &str) -> String {
    let text = changed(&changed(JOB, from, to), "[fabric.main]", &format!("{tables}\n[fabric.main]"));
    let faults = parse_job(&Source::new("j", &text), &Source::new("p", PATTERN), &Limits::default());
    told(&text, &faults.expect_err("the job was taken").to_string(), "j", at)
}

/// The same of a job for size 38.
pub(crate) fn altered(tables: &str, at: &str) -> String {
    job("size = \"38\"", "size = \"38\"", tables, at)
}

pub(crate) fn told(text: &str, faults: &str, file: &str, at: &str) -> String {
    let start = text.find(at).unwrap_or_else(|| panic!("`{at}` is nowhere"));
    let line_start = text[..start].rfind('\n').map_or(0, |end| end + 1);
    let (line, column) = (text[..start].matches('\n').count() + 1, text[line_start..start].chars().count() + 1);
    let place = format!("{file}:{line}:{column}: error: ");
    faults.strip_prefix(&place).unwrap_or_else(|| panic!("not at {place}: {faults}")).to_owned()
}

/// The line of the pattern in which a passage first stands.
pub(crate) fn line_of(at: &str) -> usize {
    line_after("", at)
}

/// The line in which it first stands after another.
pub(crate) fn line_after(before: &str, at: &str) -> usize {
    let from = PATTERN.find(before).unwrap();
    PATTERN[..from + PATTERN[from..].find(at).unwrap()].matches('\n').count() + 1
}
