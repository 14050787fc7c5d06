//! Why a job cannot be made in some other way: with another cloth, or with something changed.

use ellwand_garment::Units;
use ellwand_planner::PlanError;

use crate::misfit::{reasons, verdict};

/// Why it cannot be.
#[derive(Debug, Clone, PartialEq)]
pub enum Impossible {
    /// What the files say then makes no job: each fault as a sentence, with what would be right.
    Unread(Vec<String>),
    /// There is a job, and it cannot be planned.
    Unplanned(Vec<PlanError>),
}

impl Impossible {
    /// In a word or two, for a table.
    pub(crate) fn verdict(&self) -> &'static str {
        match self {
            Self::Unplanned(faults) => faults.first().map_or("not possible", verdict),
            Self::Unread(_) => "not possible",
        }
    }

    /// Each reason in a sentence, for people who measure in `units`.
    pub fn reasons(&self, units: Units) -> Vec<String> {
        match self {
            Self::Unplanned(faults) => faults.iter().flat_map(|fault| reasons(fault, units)).collect(),
            Self::Unread(faults) => faults.clone(),
        }
    }
}

impl From<Vec<PlanError>> for Impossible {
    fn from(faults: Vec<PlanError>) -> Self {
        Self::Unplanned(faults)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_read_and_what_cannot_be_planned_both_say_why() {
        let unread = Impossible::Unread(vec!["the strip is too short; use wider cloth".into()]);
        assert_eq!((unread.verdict(), unread.reasons(Units::Inches).len()), ("not possible", 1));
        let unplanned = Impossible::from(vec![PlanError::UnevenFold { role: "main".into() }]);
        assert_eq!(unplanned.verdict(), "not possible");
        assert!(unplanned.reasons(Units::Inches)[0].contains("uneven"));
    }
}
