//! `ellwand fit JOB`: how the pieces suit the body: sizes, girths and ease, what was changed, and the seams walked.

use std::io::Write;

use ellwand_files::{Fit, OutputFolder, ReadJob};
use ellwand_garment::{Job, Pattern};
use ellwand_report::fit_text;

use crate::{args::FitArgs, exit::Failure, fit_json, input, progress::Show, settings, sheets::named_sheets};

/// One garment with its fit.
pub(crate) struct Fitted<'a> {
    /// What it is called, where there are several.
    pub(crate) name: Option<&'a str>,
    pub(crate) job: &'a Job,
    pub(crate) pattern: &'a Pattern,
    pub(crate) fit: &'a Fit,
}

impl<'a> Fitted<'a> {
    /// Each garment of a job.
    pub(crate) fn all(read: &'a ReadJob) -> Vec<Self> {
        if read.garments.is_empty() {
            return vec![Self { name: None, job: &read.job, pattern: &read.pattern, fit: &read.fit }];
        }
        let of_garment = |of: &'a ellwand_files::FittedGarment| Self {
            name: Some(&of.name),
            job: &of.job,
            pattern: &of.pattern,
            fit: &of.fit,
        };
        read.garments.iter().map(of_garment).collect()
    }
}

/// Fits and prints.
pub(crate) fn run(args: &FitArgs, out: &mut impl Write) -> Result<(), Failure> {
    let show = if args.quiet { Show::Never } else { Show::OnStderr };
    let read = input::read_job(&args.job, &settings::limits(&args.limits), show)?;
    let all = Fitted::all(&read);
    let mut written = Vec::new();
    if let Some(folder) = &args.out {
        let mut output = OutputFolder::new(folder).replacing("fit");
        for (number, Fitted { name, job, pattern, fit }) in (1..).zip(&all) {
            let Some(view) = pattern.view(&job.view) else { continue };
            let stem = if name.is_some() { format!("fit-{number}") } else { "fit".to_owned() };
            let sheets = ellwand_drawing::fit_svg(pattern, &fit.before, &fit.landmarks, view, job.units);
            for (name, drawing) in named_sheets(&stem, sheets) {
                written.push(folder.join(&name));
                output.add(name, drawing);
            }
        }
        output.write().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    }
    if args.json {
        writeln!(out, "{}", fit_json::of_job(&read.job, &all))?;
    } else if !args.quiet {
        for (number, Fitted { name, job, pattern, fit }) in all.iter().enumerate() {
            let space = if number == 0 { "" } else { "\n" };
            let heading = name.map_or_else(|| job.name.clone(), |name| format!("{}, {name}", job.name));
            write!(out, "{space}{}", fit_text(&heading, job, pattern, &fit.report, fit.sizes))?;
        }
        if !written.is_empty() {
            let names: Vec<String> = written.iter().map(|file| file.display().to_string()).collect();
            writeln!(out, "\nWritten: {}", names.join(", "))?;
        }
    }
    Ok(())
}
