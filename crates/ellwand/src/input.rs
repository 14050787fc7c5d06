//! Reading what the user named, and telling every fault at its place.

use std::{io::IsTerminal, path::Path};

use ellwand_files::{FaultKind, Faults, JobAndPattern, Limits, PatternFault};
use ellwand_garment::{Pattern, Units};
use ellwand_planner::PlanError;
use miette::{GraphicalReportHandler, GraphicalTheme};

use crate::{
    exit::Failure,
    misfit_text::{reason, remedy, what},
};

/// Reads a job and its pattern.
pub(crate) fn read_job(path: &Path, limits: &Limits) -> Result<JobAndPattern, Failure> {
    ellwand_files::read_job(path, limits).map_err(|faults| fault_text(&faults))
}

/// Reads a pattern alone.
pub(crate) fn read_pattern(path: &Path, limits: &Limits) -> Result<Pattern, Failure> {
    ellwand_files::read_pattern(path, limits).map_err(|faults| fault_text(&faults))
}

/// Every fault: with its source line drawn on a terminal, one line a fault in a pipe.
fn fault_text(faults: &Faults) -> Failure {
    let mut text = if std::io::stderr().is_terminal() { drawn(faults) } else { faults.to_string() };
    if faults.iter().any(|fault| matches!(fault.kind(), FaultKind::Pattern(PatternFault::TooManyCuts { .. }))) {
        text.push_str("\n--max-cuts N raises the limit on the cuts from one cloth");
    }
    Failure::Input(text)
}

/// Every fault with its source line; plain where drawing fails.
fn drawn(faults: &Faults) -> String {
    let handler = GraphicalReportHandler::new_themed(GraphicalTheme::unicode());
    let mut text = String::new();
    for fault in faults {
        if handler.render_report(&mut text, fault).is_err() {
            return faults.to_string();
        }
    }
    if faults.omitted() > 0 {
        text.push_str(&format!("and {} more\n", faults.omitted()));
    }
    text
}

/// Why the job at `path` cannot be planned: each fault on a line of its own, at the width of its cloth where that is the
/// matter.
pub(crate) fn plan_failure(path: &Path, faults: &[PlanError], units: Units, limits: &Limits) -> Failure {
    let mut lines = Vec::new();
    for fault in faults {
        match fault {
            PlanError::TooNarrow(misfits) => lines.extend(misfits.iter().map(|misfit| {
                let place = ellwand_files::width_place(path, &misfit.role, limits);
                let place = place.map(|(line, column)| format!("{line}:{column}:")).unwrap_or_default();
                format!("{}:{place} {}; {}", path.display(), what(misfit, units), remedy(misfit, units))
            })),
            other => lines.push(format!("{}: {}", path.display(), reason(other, units))),
        }
    }
    let text = lines.join("\n");
    if faults.iter().all(PlanError::is_of_the_question) { Failure::Input(text) } else { Failure::Bug(text) }
}
