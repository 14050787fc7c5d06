//! Candidates for the cloths of a job, on a terminal.

use std::fmt::Write as _;

use ellwand_garment::{Job, Units, what_is_made};

use super::table::ruled_under_its_header;
use crate::{
    REMINDER,
    candidates::{ABOUT_THE_COLUMNS, Considered, about_the_width_table, remarks, table},
};

/// What is compared, a table for each part in each way that the garment may be made, what there is to say of single cloths, and the reminder. A way is
/// told by its words, such as "view B, pocket welt"; the job as it stands has none.
pub fn candidates_text(job: &Job, compared: &[(String, Vec<Considered>)]) -> String {
    let mut text = format!("{}: {}\n", job.name, what_is_made(&job.pattern, &job.view, &job.size));
    for (way, considered) in compared {
        if !way.is_empty() {
            let _ = writeln!(text, "\n{way}");
        }
        text.push_str(&tables(considered, job.units));
    }
    text.push_str(&about(compared.iter().map(|(_, considered)| considered.as_slice())));
    let _ = writeln!(text, "\n{REMINDER}");
    text
}

/// The same of a job that is planned already: the tables and what their columns mean.
pub fn considered_text(considered: &[Considered], units: Units) -> String {
    tables(considered, units).trim_start().to_owned() + &about([considered].into_iter())
}

fn tables(considered: &[Considered], units: Units) -> String {
    let mut text = String::new();
    for one in considered {
        let _ = writeln!(text, "\n{}", ruled_under_its_header(&table(one, units)).trim_fmt());
        for row in remarks(one, units) {
            for said in &row.lines {
                let _ = writeln!(text, "{}: {said}", row.label);
            }
        }
    }
    text
}

/// What the columns mean.
fn about<'c>(mut all: impl Iterator<Item = &'c [Considered]>) -> String {
    let mut text = format!("\n{ABOUT_THE_COLUMNS}\n");
    if let Some(said) = all.find_map(about_the_width_table) {
        let _ = writeln!(text, "{said}");
    }
    text
}
