//! One change of a job at a time: which are worth asking about, and the answer to each.

use std::path::Path;

use ellwand_files::{Change, ReadJob, ReadOptions};
use ellwand_garment::{Job, LayerChoice, Nap, Pattern, Units, format_length};
use ellwand_planner::{Case, Options, Progress, plan_cases};
use ellwand_report::Weighed;

use crate::{exit::Failure, input};

/// By how much a length is changed: an inch, or 2.5 cm, mm.
fn a_little(units: Units) -> f64 {
    match units {
        Units::Inches => 25.4,
        Units::Centimetres => 25.0,
    }
}

/// What a person may think of changing in a job, each with its words.
fn proposed(read: &ReadJob) -> Vec<(String, Change)> {
    let ReadJob { job, alternatives, .. } = read;
    let mut all = Vec::new();
    for line in &alternatives.lines {
        let by = a_little(job.units);
        for (by, way) in [(-by, "shorter"), (by, "longer")] {
            all.push((
                format!("{} {way} at \"{line}\"", format_length(by.abs(), job.units)),
                Change::Lengthened { line: line.clone(), by },
            ));
        }
    }
    for option in &alternatives.options {
        all.extend(option.others.iter().map(|choice| {
            let change = Change::Choice { option: option.name.clone(), choice: choice.clone() };
            (format!("{}: {choice} instead of {}", option.name, option.taken), change)
        }));
    }
    all.extend(alternatives.next_sizes.iter().map(|size| (format!("size {size}"), Change::Size(size.clone()))));
    for fabric in &job.fabrics {
        let role = fabric.role.clone();
        if fabric.cloth.nap == Nap::With {
            let said = format!("{role}: tops either way, the nap not heeded");
            all.push((said, Change::Nap { role: role.clone(), nap: Nap::Without }));
        }
        if fabric.layer == LayerChoice::Fold {
            all.push((format!("{role}: laid open"), Change::Layer { role: role.clone(), layer: LayerChoice::Open }));
        }
        for degrees in [1.0, 2.0].into_iter().filter(|degrees| fabric.cloth.off_grain_deg < *degrees) {
            let said = format!("{role}: up to {degrees} degrees off the grain").replace("1 degrees", "1 degree");
            all.push((said, Change::OffGrain { role: role.clone(), degrees }));
        }
    }
    all
}

/// Every change that can be read, answered as a plan of the changed job is; of its cloths those that are `chosen`, or all.
pub(crate) fn weighed(
    path: &Path,
    read: &ReadJob,
    reading: ReadOptions,
    (options, chosen): (&Options, &[String]),
    progress: &dyn Progress,
) -> Result<Vec<Weighed>, Failure> {
    let mut changed: Vec<(String, Job, Pattern)> = Vec::new();
    for (what, change) in proposed(read) {
        // What cannot be written in the job, such as a piece shortened to nothing, is no change to think of.
        if let Ok(other) = input::read_changed_job(path, reading, &[change]) {
            changed.push((what, other.job, other.pattern));
        }
    }
    let cases: Vec<Case<'_>> = changed.iter().map(|(_, job, pattern)| Case { job, pattern }).collect();
    let answers = plan_cases(&cases, chosen, options, progress)
        .map_err(|fault| input::plan_failure(path, &[fault], &read.places, read.job.units))?;
    Ok(changed.into_iter().zip(answers).map(|((what, ..), answer)| Weighed { what, answer }).collect())
}
