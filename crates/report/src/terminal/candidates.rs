//! Candidates for the cloths of a job, on a terminal.

use std::fmt::Write as _;

use ellwand_garment::{Job, what_is_made};

use super::table::ruled_under_its_header;
use crate::{
    REMINDER,
    candidates::{ABOUT_THE_COLUMNS, Considered, about_the_width_table, remarks, table},
};

/// What is compared, a table for each part, what there is to say of single cloths, and the reminder.
pub fn candidates_text(job: &Job, considered: &[Considered]) -> String {
    let mut text = format!("{}: {}\n", job.name, what_is_made(&job.pattern, &job.view, &job.size));
    for one in considered {
        let _ = writeln!(text, "\n{}", ruled_under_its_header(&table(one, job.units)).trim_fmt());
        for row in remarks(one, job.units) {
            for said in &row.lines {
                let _ = writeln!(text, "{}: {said}", row.label);
            }
        }
    }
    let _ = writeln!(text, "\n{ABOUT_THE_COLUMNS}");
    if let Some(said) = about_the_width_table(considered) {
        let _ = writeln!(text, "{said}");
    }
    let _ = writeln!(text, "\n{REMINDER}");
    text
}
