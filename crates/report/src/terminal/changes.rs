//! What changes would save or cost, on a terminal.

use std::fmt::Write as _;

use ellwand_garment::Units;
use ellwand_planner::JobPlan;

use super::table::ruled_under_its_header;
use crate::changes::{Weighed, impossible, next_steps, table};

/// The way to the next step of the shop, a table of the changes, and what cannot be changed.
pub fn changes_text(own: &JobPlan, weighed: &[Weighed], units: Units) -> String {
    let mut text = String::new();
    for row in next_steps(own, units) {
        for said in &row.lines {
            let _ = writeln!(text, "{}: {said}", row.label);
        }
    }
    if let Some(table) = table(own, weighed, units) {
        let _ = writeln!(text, "\n{}", ruled_under_its_header(&table).trim_fmt());
    }
    for row in impossible(weighed, units) {
        for said in &row.lines {
            let _ = writeln!(text, "{}: {said}", row.label);
        }
    }
    text
}
