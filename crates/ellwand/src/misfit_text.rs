//! Why a cloth cannot be planned, in the job's units, with what would do.

use ellwand_garment::{Rounding, Units, format_length, write_length};
use ellwand_planner::{CutThrough, Misfit, PlanError, Remedy};

/// The verdict on a cloth that cannot be planned, in a word or two for a table.
pub(crate) fn verdict(fault: &PlanError) -> &'static str {
    match fault {
        PlanError::TooNarrow(_) => "too narrow",
        _ => "not possible",
    }
}

/// What is wrong, in one sentence a fault.
pub(crate) fn reason(fault: &PlanError, units: Units) -> String {
    match fault {
        PlanError::TooNarrow(misfits) => {
            let said: Vec<String> = misfits.iter().map(|misfit| what(misfit, units)).collect();
            said.join("; ")
        }
        other => other.to_string(),
    }
}

/// What is wrong with one piece.
pub(crate) fn what(misfit: &Misfit, units: Units) -> String {
    let say = |mm: f64| format_length(mm, units);
    let offer = match misfit.cut_through {
        CutThrough::OneLayer => "usable width",
        CutThrough::BothLayers => "usable width on each side of the fold",
    };
    format!(
        "\"{}\" is {} across, even turned as its grain allows, but the cloth \"{}\" has only {} of {offer}: {} too narrow",
        misfit.piece,
        say(misfit.needs),
        misfit.role,
        say(misfit.offers),
        write_length(misfit.short_by(), units, Rounding::Up),
    )
}

/// What would be right.
pub(crate) fn remedy(misfit: &Misfit, units: Units) -> String {
    let width = write_length(misfit.width_that_would_do, units, Rounding::Up);
    let mut ways = vec![format!("use cloth at least {width} wide")];
    for remedy in &misfit.remedies {
        ways.push(match remedy {
            Remedy::OpenLayer => "lay the cloth open (layer = \"open\")".into(),
            Remedy::AllowCrossGrain => "let the piece lie across the grain (grain = \"cross allowed\")".into(),
        });
    }
    ways.join(", or ")
}
