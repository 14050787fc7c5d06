//! Candidates for the cloths of a job, on a terminal.

use std::fmt::Write as _;

use ellwand_garment::{Job, size_words};

use super::table::ruled_under_its_header;
use crate::{
    REMINDER,
    candidates::{ABOUT_THE_COLUMNS, Considered, about_the_width_table, remarks, table},
};

/// What is compared, a table for each part in each way that the garment may be made, what there is to say of single cloths, and the reminder. A way is
/// told by its words, such as "view B, pocket welt"; the job as it stands has none.
pub fn candidates_text(job: &Job, compared: &[(String, Vec<Considered>)]) -> String {
    let mut text = format!("{}: {}, view {}, {}\n", job.name, job.pattern, job.view, size_words(&job.size));
    for (way, considered) in compared {
        if !way.is_empty() {
            let _ = writeln!(text, "\n{way}");
        }
        for one in considered {
            let _ = writeln!(text, "\n{}", ruled_under_its_header(&table(one, job.units)).trim_fmt());
            for row in remarks(one, job.units) {
                for said in &row.lines {
                    let _ = writeln!(text, "{}: {said}", row.label);
                }
            }
        }
    }
    let _ = writeln!(text, "\n{ABOUT_THE_COLUMNS}");
    if let Some(said) = compared.iter().find_map(|(_, considered)| about_the_width_table(considered)) {
        let _ = writeln!(text, "{said}");
    }
    let _ = writeln!(text, "\n{REMINDER}");
    text
}
