//! `ellwand check JOB|PATTERN`: every fault at once; the pieces drawn and recorded on request.

use std::{ffi::OsStr, io::Write, path::Path};

use ellwand_files::{Limits, OutputFolder, Places, ReadJob, ReadPattern};
use ellwand_garment::{Job, Pattern, TOGETHER, Units, View, size_words};
use ellwand_planner::{check_job, roles};
use ellwand_report::hem_notes;

use crate::{args::CheckArgs, exit::Failure, input, progress::Show, settings, sheets::named_sheets};

/// What was checked.
struct Checked {
    /// The job, and where it says things.
    job: Option<(Job, Places)>,
    pattern: Pattern,
    /// Units to show the pieces in: those of the job, or of the pattern alone.
    units: Units,
}

/// Checks the file and prints what it holds.
pub(crate) fn run(args: &CheckArgs, out: &mut impl Write) -> Result<(), Failure> {
    let limits = settings::limits(&args.limits);
    let checked = read(args, &limits)?;
    if let Some((job, places)) = &checked.job {
        let faults = match roles(job, &checked.pattern, &[]) {
            Ok(roles) => check_job(job, &checked.pattern, &roles),
            Err(faults) => faults,
        };
        if !faults.is_empty() {
            return Err(input::plan_failure(&args.file, &faults, places, job.units));
        }
    }
    let written = write_files(args, &checked)?;
    if !args.quiet {
        say(args, &checked, out)?;
        if !written.is_empty() {
            writeln!(out, "\nWritten: {}", written.join(", "))?;
        }
    }
    Ok(())
}

/// A file whose name ends in `.pattern.toml` is a pattern, one in `.json` a record of pieces, anything else a job.
fn read(args: &CheckArgs, limits: &Limits) -> Result<Checked, Failure> {
    let show = if args.quiet { Show::Never } else { Show::OnStderr };
    let name = args.file.file_name().map(OsStr::to_string_lossy).unwrap_or_default();
    if name.ends_with(".pattern.toml") || name.to_lowercase().ends_with(".json") {
        let ReadPattern { pattern, units, .. } = input::read_pattern(&args.file, limits, show)?;
        return Ok(Checked { job: None, pattern, units });
    }
    let ReadJob { job, pattern, places, .. } = input::read_job(&args.file, limits, show)?;
    let units = job.units;
    Ok(Checked { job: Some((job, places)), pattern, units })
}

impl Checked {
    /// The record of the pieces: those that the job cuts, or all of the pattern.
    fn record(&self) -> String {
        let view = self.job.as_ref().and_then(|(job, _)| self.pattern.view(&job.view));
        view.map_or_else(
            || ellwand_files::pieces_record(&self.pattern),
            |view| ellwand_files::view_record(&self.pattern, view),
        )
    }

    /// The views meant: that of the job, or all of the pattern.
    fn views(&self) -> impl Iterator<Item = &View> {
        self.pattern.views.iter().filter(|view| self.job.as_ref().is_none_or(|(job, _)| job.view == view.name))
    }
}

/// Writes what is asked for, and tells the names of the files.
fn write_files(args: &CheckArgs, checked: &Checked) -> Result<Vec<String>, Failure> {
    let mut written = Vec::new();
    let not_written = |fault: ellwand_files::OutputFault| Failure::NotWritten(fault.to_string());
    if let Some(folder) = &args.out {
        let mut output = OutputFolder::new(folder).replacing("check");
        for (index, view) in checked.views().enumerate() {
            let sheets = ellwand_drawing::pieces_svg(&checked.pattern, view, checked.units);
            for (name, sheet) in named_sheets(&format!("pieces-{}", index + 1), sheets) {
                written.push(folder.join(&name).display().to_string());
                output.add(name, sheet);
            }
        }
        output.write().map_err(not_written)?;
    }
    if let Some(file) = &args.json {
        let folder = file.parent().unwrap_or(Path::new(""));
        let mut output = OutputFolder::new(folder);
        let name = file.file_name().map(OsStr::to_string_lossy).unwrap_or_default();
        output.add(name.into_owned(), checked.record());
        output.write().map_err(not_written)?;
        written.push(file.display().to_string());
    }
    Ok(written)
}

/// One line a piece: what is cut from what.
fn say(args: &CheckArgs, checked: &Checked, out: &mut impl Write) -> Result<(), Failure> {
    writeln!(out, "{}: no errors found", args.file.display())?;
    for view in checked.views() {
        let title = if view.title.is_empty() { String::new() } else { format!(": {}", view.title) };
        let what = match view.name.as_str() {
            TOGETHER => String::new(),
            name => format!(", view {name}{title}"),
        };
        writeln!(out, "\n{}, {}{what}", checked.pattern.name, size_words(&checked.pattern.size))?;
        for name in &view.pieces {
            let Some(piece) = checked.pattern.piece(name) else { continue };
            let cuts: Vec<String> = (piece.cuts.iter())
                .map(|rule| {
                    let fold = if rule.on_fold { " on the fold" } else { "" };
                    format!("{} of {}{fold}", rule.count, rule.role)
                })
                .collect();
            writeln!(out, "  {name}: cut {}", cuts.join(", "))?;
        }
        for note in hem_notes(&checked.pattern, view, checked.units) {
            writeln!(out, "Note: {note}.")?;
        }
    }
    Ok(())
}
