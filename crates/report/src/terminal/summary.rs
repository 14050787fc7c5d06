//! What a person takes to the shop, on a terminal: for each cloth its labelled lines, then the sum of it, and what became of the files.

use std::{
    ffi::OsStr,
    fmt::Write as _,
    path::{Path, PathBuf},
};

use ellwand_garment::{Job, Units, what_is_made};
use ellwand_planner::{ClothPlan, JobPlan};

use super::table::ruled_under_its_header;
use crate::{Detail, REMINDER, Row, cloth, money, remnants, supplies, together, what_to_buy};

/// Width of the labels: the longest is "room for improvement".
const LABEL: usize = 20;

/// Width that labels of notions may take before what is said of them no longer stands in one column.
const LONGEST_LABEL: usize = 36;

/// What became of the folder for drawings.
#[derive(Debug, Default)]
pub struct FilesWritten {
    /// The files of each cloth, in the order of the cloths; none when no folder was named.
    pub of_cloths: Vec<Vec<PathBuf>>,
    /// The files of remnants that fit and are not cut from.
    pub of_others: Vec<PathBuf>,
    /// The report of all cloths, for screen and printer.
    pub report: Vec<PathBuf>,
    /// The shopping list, for a phone and for other programs.
    pub shopping: Vec<PathBuf>,
    /// Letters of the report that no font at hand has.
    pub missing: Vec<char>,
    /// Files of an earlier plan that went.
    pub removed: Vec<PathBuf>,
    /// Files of an earlier plan that somebody has changed since.
    pub left: Vec<PathBuf>,
    /// Files that an earlier run was changing when it was ended.
    pub finished: Vec<PathBuf>,
}

/// The summary of a job. `notes` are about its fit; `files` says what was written.
pub fn summary(job: &Job, notes: &[String], plan: &JobPlan, files: &FilesWritten, detail: Detail) -> String {
    let mut text = format!("{}: {}\n", job.name, what_is_made(&job.pattern, &job.view, &job.size));
    for note in notes {
        let _ = writeln!(text, "Note: {note}.");
    }
    for (index, cloth) in plan.cloths.iter().enumerate() {
        let _ = write!(
            text,
            "\n{}",
            cloth_summary(cloth, job.units, files.of_cloths.get(index).map_or(&[], Vec::as_slice), detail)
        );
    }
    for table in plan.cloths.iter().filter_map(|cloth| together::table(cloth, job.units)) {
        let _ = writeln!(text, "\n{}\n{}", table.caption, ruled_under_its_header(&table).trim_fmt());
    }
    for stash in &plan.stashes {
        let rows = remnants::rows(stash, plan, job.units);
        let longest = rows.iter().map(|row| row.label.chars().count()).max().unwrap_or(0);
        let heading = format!("{}: remnants of {}", stash.role, stash.all_bought.layout().cloth.name);
        let _ = write!(text, "\n{heading}\n{}", labelled_lines(&rows, longest.clamp(LABEL, LONGEST_LABEL)));
    }
    if !files.of_others.is_empty() {
        let names: Vec<String> = files.of_others.iter().map(|file| file.display().to_string()).collect();
        let _ = writeln!(text, "  {:<LABEL$}  {}", "written", names.join(", "));
    }
    let beside = supplies::rows(plan, job.units);
    if !beside.is_empty() {
        let longest = beside.iter().map(|row| row.label.chars().count()).max().unwrap_or(0);
        let _ = write!(text, "\nnotions\n{}", labelled_lines(&beside, longest.clamp(LABEL, LONGEST_LABEL)));
    }
    if let Some(totals) = money::sum_of_several(plan) {
        let _ = writeln!(text, "\n{}", money::sum_lines(plan, &totals).join("\n"));
    }
    if let Some(said) = money::budget(plan) {
        let _ = writeln!(text, "{said}");
    }
    if !files.report.is_empty() {
        let names: Vec<String> = files.report.iter().map(|file| file.display().to_string()).collect();
        let _ = writeln!(text, "\nreport  {}", names.join(", "));
    }
    if !files.shopping.is_empty() && !plan.spending.is_empty() {
        let names: Vec<String> = files.shopping.iter().map(|file| file.display().to_string()).collect();
        let _ = writeln!(text, "shopping list  {}", names.join(", "));
    }
    if let Some(note) = missing_letters(files.missing.clone()) {
        let _ = writeln!(text, "Note: {note}.");
    }
    for (said, paths) in [
        ("Removed, no longer part of this plan", &files.removed),
        ("Left alone, not part of this plan but changed since it was written", &files.left),
        ("Finished first, left half done by an earlier run that was stopped", &files.finished),
    ] {
        for path in paths {
            let _ = writeln!(text, "\n{said}: {}", path.display());
        }
    }
    if files.of_cloths.is_empty() {
        let _ =
            writeln!(text, "\nNothing was drawn: add --out DIR to get the sheets to cut from, a set for each cloth.");
    }
    let _ = writeln!(text, "\n{REMINDER}");
    text
}

/// What is said of letters that no font at hand has; nothing where there are none.
///
/// ```
/// assert_eq!(ellwand_report::missing_letters(vec![]), None);
/// assert!(ellwand_report::missing_letters(vec!['布', 'x', '布']).unwrap().contains("\"x布\""));
/// ```
pub fn missing_letters(mut missing: Vec<char>) -> Option<String> {
    missing.sort_unstable();
    missing.dedup();
    let letters: String = missing.iter().collect();
    (!missing.is_empty()).then(|| {
        format!(
            "no font at hand has the letters \"{letters}\"; boxes stand in their places in the PDF. Name a font that has them with --font FILE"
        )
    })
}

/// The lines of one cloth: a heading and labelled lines below it.
fn cloth_summary(cloth: &ClothPlan, units: Units, files: &[PathBuf], detail: Detail) -> String {
    let mut rows = cloth::rows(cloth, units, detail);
    rows.extend(written(files));
    format!("{}\n{}", what_to_buy::which_cloth(cloth, units), labelled_lines(&rows, LABEL))
}

/// Labels in a column of this width; the lines of a row that go on have none.
fn labelled_lines(rows: &[Row], width: usize) -> String {
    let mut text = String::new();
    for row in rows {
        for (label, said) in std::iter::once(row.label.as_str()).chain(std::iter::repeat("")).zip(&row.lines) {
            let _ = writeln!(text, "  {label:<width$}  {said}");
        }
    }
    text
}

/// The files of a cloth; where there are several sheets to cut from, how many.
fn written(files: &[PathBuf]) -> Vec<Row> {
    let mut rows = Vec::new();
    let sheets: Vec<&PathBuf> = files.iter().filter(|file| is_sheet_to_cut_from(file)).collect();
    if let [first, _, ..] = sheets[..] {
        rows.push(Row::new("sheets", format!("{} to cut from, the first is {}", sheets.len(), first.display())));
    }
    if !files.is_empty() {
        let names: Vec<String> = files.iter().map(|file| file.display().to_string()).collect();
        rows.push(Row::new("written", names.join(", ")));
    }
    rows
}

/// Whether a file is a sheet of the cutting layout as it is drawn for any printer; those for printers without colour say the same again.
fn is_sheet_to_cut_from(file: &Path) -> bool {
    let name = file.file_name().map(OsStr::to_string_lossy).unwrap_or_default();
    name.ends_with(".svg") && (name.contains(".layout.") || name.contains(".layout-sheet-"))
}

#[cfg(test)]
mod tests;
