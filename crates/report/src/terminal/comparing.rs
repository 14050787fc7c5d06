//! Widths compared, on a terminal.

use std::fmt::Write as _;

use ellwand_garment::{Job, what_is_made};

use super::table::ruled_under_its_header;
use crate::{
    REMINDER,
    comparing::{Compared, remarks, table},
};

/// What is compared, the table, what there is to say of single widths, and the reminder.
pub fn comparing_text(job: &Job, compared: &[Compared]) -> String {
    let mut text = format!("{}: {}\n\n", job.name, what_is_made(&job.pattern, &job.view, &job.size));
    let _ = writeln!(text, "{}", ruled_under_its_header(&table(compared, job.units)).trim_fmt());
    for row in remarks(compared, job.units) {
        for said in &row.lines {
            let _ = writeln!(text, "{}: {said}", row.label);
        }
    }
    let _ = writeln!(text, "\n{REMINDER}");
    text
}
