//! `ellwand fit JOB`: how the pieces suit the body: sizes, girths and ease, what was changed, and the seams walked.

use std::io::Write;

use ellwand_files::{Fit, OutputFolder, ReadJob};
use ellwand_report::fit_text;

use crate::{args::FitArgs, exit::Failure, fit_json::fit_json, input, progress::Show, settings, sheets::named_sheets};

/// Fits and prints.
pub(crate) fn run(args: &FitArgs, out: &mut impl Write) -> Result<(), Failure> {
    let show = if args.quiet { Show::Never } else { Show::OnStderr };
    let ReadJob { job, pattern, fit, .. } = input::read_job(&args.job, &settings::limits(&args.limits), show)?;
    let Fit { report, before, landmarks, sizes, .. } = &fit;
    let mut written = Vec::new();
    if let (Some(folder), Some(view)) = (&args.out, pattern.view(&job.view)) {
        let mut output = OutputFolder::new(folder).replacing("fit");
        let sheets = ellwand_drawing::fit_svg(&pattern, before, landmarks, view, job.units);
        for (name, drawing) in named_sheets("fit", sheets) {
            written.push(folder.join(&name));
            output.add(name, drawing);
        }
        output.write().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    }
    if args.json {
        writeln!(out, "{}", fit_json(&job, report))?;
    } else if !args.quiet {
        write!(out, "{}", fit_text(&job, &pattern, report, *sizes))?;
        if !written.is_empty() {
            let names: Vec<String> = written.iter().map(|file| file.display().to_string()).collect();
            writeln!(out, "\nWritten: {}", names.join(", "))?;
        }
    }
    Ok(())
}
