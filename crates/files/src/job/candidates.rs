//! Other cloths that a part may be made of.

use ellwand_garment::Fabric;

use super::{fabric, format::JobFile, units_of};
use crate::{fault::JobFault, findings::Findings};

/// The cloths that one part may be made of besides its own.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidates {
    /// The part.
    pub role: String,
    /// Each of them, in the order of the job. What is matched on a design is known once it takes the place of the part's own cloth
    /// ([`Change::Candidate`](super::Change)).
    pub cloths: Vec<Fabric>,
}

/// The candidates of every part that has some, each judged as a cloth by itself.
pub(super) fn convert(file: &JobFile, findings: &mut Findings) -> Vec<Candidates> {
    let currency = file.currency.as_ref().map(|currency| currency.value.0.clone());
    let mut all = Vec::new();
    for (role, entry) in file.fabric.iter().flat_map(|fabrics| &fabrics.value.0) {
        let Some(listed) = &entry.value.candidate else { continue };
        let mut cloths = Vec::new();
        for candidate in &listed.value {
            if let Some(nested) = &candidate.value.candidate {
                findings.add(&nested.span, JobFault::CandidateOfACandidate { role: role.value.clone() });
            }
            cloths.extend(fabric::convert(&role.value, &candidate.value, units_of(file), &currency, findings));
        }
        all.push(Candidates { role: role.value.clone(), cloths });
    }
    all
}
