//! Why a job cannot be planned, each reason at the place of its files that is to blame, with what would be right.

use ellwand_files::{FaultKind, Places};
use ellwand_garment::{MatchFault, QuestionFault, Units};
use ellwand_planner::PlanError;

use crate::{
    misfit_text::{remedy, what},
    told::Told,
};

/// What is to be told of one refusal.
pub(crate) fn told(fault: &PlanError, places: &Places, units: Units) -> Vec<Told> {
    let here = |place, remedy: Option<&str>| vec![Told::refusal(place, fault.to_string(), remedy.map(str::to_owned))];
    match fault {
        PlanError::TooNarrow(misfits) => (misfits.iter())
            .map(|misfit| Told::refusal(places.width(&misfit.role), what(misfit, units), Some(remedy(misfit, units))))
            .collect(),
        PlanError::Unmatchable { role, faults } => {
            faults.iter().map(|fault| unmatchable(fault, role, places)).collect()
        }
        PlanError::NoPose { role, .. } => {
            here(places.layer(role), Some("write layer = \"open\", or let the grain of the piece run straight"))
        }
        // These say themselves what would be right.
        PlanError::UnevenFold { role }
        | PlanError::BorderOnFold { role, .. }
        | PlanError::FoldOffPhase { role, .. } => here(places.layer(role), None),
        PlanError::NoPlaceOnDesign { role, .. } | PlanError::NoCommonPhase { role } => {
            here(places.matching(role), None)
        }
        PlanError::Question(QuestionFault::NothingToCut { role, .. }) => {
            let name = format!("--fabric {role}");
            vec![Told::of_named(name, fault.to_string(), Some("name a cloth that the view is cut from".into()))]
        }
        PlanError::Question(QuestionFault::NoSuchRole { role }) => {
            let table = format!("add a table [fabric.{role}] with its width and nap");
            here(places.view(), Some(&table))
        }
        PlanError::Question(QuestionFault::NoSuchView { .. }) => {
            here(places.view(), Some("name a view of the pattern"))
        }
        _ => here(places.view(), None),
    }
}

/// A match that cannot be kept, where the job asks for it.
fn unmatchable(fault: &MatchFault, role: &str, places: &Places) -> Told {
    let place = fault.names().last().map_or_else(|| places.matching(role), |name| places.matched(role, name));
    let kind = FaultKind::from(ellwand_files::DesignFault::Impossible { fault: fault.clone(), least: None });
    Told::refusal(place, fault.to_string(), Some(kind.help()))
}
