//! `ellwand fit JOB`: how the pieces suit the body: sizes, girths and ease, what was changed, and the seams walked.

use std::io::Write;

use ellwand_files::{Fit, OutputFolder, ReadJob};

use crate::{
    args::FitArgs,
    exit::Failure,
    fit_text::{fit_json, fit_text},
    input,
    progress::Show,
    settings,
};

/// Fits and prints.
pub(crate) fn run(args: &FitArgs, out: &mut impl Write) -> Result<(), Failure> {
    let show = if args.quiet { Show::Never } else { Show::OnStderr };
    let ReadJob { job, pattern, fit, .. } = input::read_job(&args.job, &settings::limits(&args.limits), show)?;
    let Fit { report, before, sizes } = &fit;
    if let (Some(folder), Some(view)) = (&args.out, pattern.view(&job.view)) {
        let mut output = OutputFolder::new(folder).replacing("fit");
        let drawing = ellwand_drawing::fitted_pieces_svg(&pattern, before, view, job.units);
        output.add("fit.svg".to_owned(), drawing);
        output.write().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    }
    if args.json {
        writeln!(out, "{}", fit_json(&job, report))?;
    } else if !args.quiet {
        write!(out, "{}", fit_text(&job, &pattern, report, *sizes))?;
        if let Some(folder) = &args.out {
            writeln!(out, "\nWritten: {}", folder.join("fit.svg").display())?;
        }
    }
    Ok(())
}
