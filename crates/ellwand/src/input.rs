//! Reading what the user named, and reporting every fault and note at its place.

use std::{
    io::{self, Write as _},
    path::Path,
};

use ellwand_files::{
    Change, DesignFault, FaultKind, Faults, JobFault, LaidCloth, Limits, Note, PatternFault, Places, ReadJob,
    ReadOptions, ReadPattern,
};
use ellwand_garment::Units;
use ellwand_planner::PlanError;
use ellwand_report::Impossible;

use crate::{
    exit::Failure,
    progress::Show,
    refusal,
    told::{self, Told},
};

/// Reads a job and its pattern; notes go to standard error.
pub(crate) fn read_job(path: &Path, options: impl Into<ReadOptions>, notes: Show) -> Result<ReadJob, Failure> {
    let options = options.into();
    let read = ellwand_files::read_job(path, options).map_err(|faults| {
        let on_fold = |kind: &FaultKind| {
            matches!(kind, FaultKind::Design(DesignFault::UnevenOnFold | DesignFault::OffGrainOnFold { .. }))
        };
        match failure(&faults) {
            Failure::Input(text) if options.ways.is_some() && faults.iter().any(|fault| on_fold(fault.kind())) => {
                Failure::Input(format!(
                    "{text}\nhelp: --layout centre-fold lays every cloth on the fold, whatever the job says"
                ))
            }
            failure => failure,
        }
    })?;
    tell(&read.notes, notes);
    Ok(read)
}

/// Reads a job for a table of all sizes: where it names none it is read in the first one.
pub(crate) fn read_job_in_any_size(path: &Path, options: ReadOptions, notes: Show) -> Result<ReadJob, Failure> {
    let Err(faults) = ellwand_files::read_job(path, options) else {
        return read_job(path, options, notes);
    };
    let first = faults.iter().find_map(|fault| match fault.kind() {
        FaultKind::Job(JobFault::NoSize { known }) => known.first(),
        _ => None,
    });
    let Some(first) = first else { return Err(failure(&faults)) };
    let in_figure = first.strip_suffix(')').and_then(|label| label.split_once(" ("));
    let changes = match in_figure {
        Some((size, figure)) => vec![Change::Figure(figure.to_owned()), Change::Size(size.to_owned())],
        None => vec![Change::Size(first.clone())],
    };
    let read = read_changed_job(path, options, &changes)?;
    tell(&read.notes, notes);
    Ok(read)
}

/// Reads a job with some things changed; its notes were given with those of the job itself.
pub(crate) fn read_changed_job(path: &Path, options: ReadOptions, changes: &[Change]) -> Result<ReadJob, Failure> {
    ellwand_files::read_changed_job(path, options, changes).map_err(|faults| failure(&faults))
}

/// The same of a job that is only thought of: what its files then say may make none, and that is an answer too.
pub(crate) fn read_thought_of(path: &Path, options: ReadOptions, changes: &[Change]) -> Result<ReadJob, Impossible> {
    ellwand_files::read_changed_job(path, options, changes).map_err(|faults| {
        let mut said: Vec<String> = faults.iter().map(|fault| format!("{fault}; {}", fault.kind().help())).collect();
        if faults.omitted() > 0 {
            said.push(format!("and {} more", faults.omitted()));
        }
        Impossible::Unread(said)
    })
}

/// Reads a pattern alone; notes go to standard error.
pub(crate) fn read_pattern(path: &Path, limits: &Limits, notes: Show) -> Result<ReadPattern, Failure> {
    let read = ellwand_files::read_pattern(path, limits).map_err(|faults| failure(&faults))?;
    tell(&read.notes, notes);
    Ok(read)
}

/// Reads the record of a layout.
pub(crate) fn read_layout(path: &Path, limits: &Limits) -> Result<LaidCloth, Failure> {
    ellwand_files::read_layout(path, limits).map_err(|faults| failure(&faults))
}

fn tell(notes: &[Note], show: Show) {
    if show == Show::OnStderr && !notes.is_empty() {
        let notes: Vec<Told> = notes.iter().map(Told::of_note).collect();
        // A closed standard error is no reason not to plan.
        let _ = writeln!(io::stderr(), "{}", told::text(&notes).trim_end());
    }
}

pub(crate) fn failure(faults: &Faults) -> Failure {
    let all: Vec<Told> = faults.iter().map(Told::of_fault).collect();
    let mut text = told::text(&all).trim_end().to_owned();
    if faults.omitted() > 0 {
        text.push_str(&format!("\nand {} more", faults.omitted()));
    }
    if faults.iter().any(|fault| matches!(fault.kind(), FaultKind::Pattern(PatternFault::TooManyCuts { .. }))) {
        text.push_str("\nhelp: --max-cuts N raises the limit on the cuts from one cloth");
    }
    if faults.iter().any(|fault| matches!(fault.kind(), FaultKind::Limit(_))) {
        text.push_str("\nhelp: --raise-limits N lets files be N times as large");
    }
    Failure::Input(text)
}

/// Why the job at `path` cannot be planned.
pub(crate) fn plan_failure(path: &Path, faults: &[PlanError], places: &Places, units: Units) -> Failure {
    if let Some(bug) = faults.iter().find(|fault| !fault.is_of_the_question()) {
        return Failure::Bug(format!("{}: error: {bug}", path.display()));
    }
    let all: Vec<Told> = faults.iter().flat_map(|fault| refusal::told(fault, places, units)).collect();
    Failure::Input(told::text(&all))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_checker_refuses_is_a_fault_of_the_program_and_all_else_of_the_job() {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/apron/ticking.job.toml");
        let places = read_job(&path, &Limits::default(), Show::Never).expect("a sound job").places;
        let failure =
            |faults: &[PlanError]| plan_failure(Path::new("ticking.job.toml"), faults, &places, Units::Inches);
        let refused =
            PlanError::Bug { role: "main".into(), seed: 7, faults: vec!["\"Front\" lies on \"Back\"".into()] };
        let uneven = PlanError::UnevenFold { role: "main".into() };
        let Failure::Bug(said) = failure(&[uneven.clone(), refused]) else { panic!("taken for a fault of the job") };
        assert!(said.contains("\"Front\" lies on \"Back\"") && said.contains('7'), "{said}");
        let Failure::Input(said) = failure(&[uneven]) else { panic!("taken for a fault of the program") };
        assert!(said.contains("ticking.job.toml:") && said.contains("uneven"), "{said}");
    }
}
