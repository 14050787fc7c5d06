//! What changes would save or cost, on a terminal.

use std::fmt::Write as _;

use ellwand_garment::Units;
use ellwand_planner::JobPlan;

use super::table::ruled_under_its_header;
use crate::changes::{Weighed, impossible, next_steps, told};

/// The way to the next step of the shop, a table of the changes, and what cannot be changed.
pub fn changes_text(own: &JobPlan, weighed: &[Weighed], units: Units) -> String {
    let mut text = String::new();
    for row in next_steps(own, units) {
        for said in &row.lines {
            let _ = writeln!(text, "{}: {said}", row.label);
        }
    }
    let told = told(own, weighed, units);
    for table in &told.tables {
        let _ = writeln!(text, "\n{}\n{}", table.caption, ruled_under_its_header(table).trim_fmt());
    }
    for said in &told.sentences {
        let _ = writeln!(text, "{said}");
    }
    for row in impossible(weighed, units) {
        for said in &row.lines {
            let _ = writeln!(text, "{}: {said}", row.label);
        }
    }
    text
}
