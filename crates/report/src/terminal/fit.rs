//! A fit on a terminal.

use std::fmt::Write as _;

use ellwand_garment::{FitReport, Job, Pattern};

use super::table::ruled_under_its_header;
use crate::{Row, cautions::fit_notes, fit, seams};

/// The whole report, under a heading, on a pattern that is drawn in `sizes` sizes.
pub fn fit_text(heading: &str, job: &Job, pattern: &Pattern, report: &FitReport, sizes: usize) -> String {
    let units = job.units;
    let mut text = format!("{heading}: {}\n", fit::what_is_made(job, pattern, report));
    let line = |text: &mut String, row: &Row| {
        let _ = writeln!(text, "{}: {}", row.label, row.lines.join(", "));
    };
    if let Some(suggestion) = fit::suggestion(report, units) {
        let _ = writeln!(text, "\n{}", suggestion.because);
        for near in &suggestion.nearest {
            text.push_str("  ");
            line(&mut text, near);
        }
        for tie in &suggestion.just_as_near {
            let _ = writeln!(text, "{tie}");
        }
    }
    if let Some(girths) = fit::girths(report, units) {
        let _ = writeln!(text, "\n{}", ruled_under_its_header(&girths).trim_fmt());
    }
    let lengths = fit::lengths(report, units);
    if !lengths.is_empty() {
        text.push('\n');
    }
    for length in &lengths {
        line(&mut text, length);
    }
    if !report.alterations.is_empty() {
        let _ = writeln!(text, "\nAltered:");
        for done in &report.alterations {
            let _ = writeln!(text, "  {done}");
        }
    }
    if let Some(walked) = seams::table(report, units) {
        let _ = writeln!(text, "\n{}", ruled_under_its_header(&walked).trim_fmt());
    }
    if sizes == 1 {
        text.push('\n');
    }
    for missing in fit::what_is_missing(report, sizes) {
        let _ = writeln!(text, "{missing}");
    }
    for note in fit_notes(report, units) {
        let _ = writeln!(text, "Note: {note}.");
    }
    text
}
