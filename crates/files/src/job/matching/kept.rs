//! Which matches can be kept together. What is required must be; a wish that contradicts what is required, or a wish of more importance, is
//! given up, and said so.

use std::ops::Range;

use ellwand_garment::{LayerChoice, Match, MatchFault, Need, phases};

use super::case::{Case, Wanted};
use crate::{
    fault::DesignFault,
    findings::Findings,
    note::{NoteKind, WhyGivenUp},
};

/// Where a job speaks of the matches of one cloth.
pub(super) struct Spans<'a> {
    /// Of all of them.
    pub(super) all: &'a Range<usize>,
    /// Of how the cloth lies.
    pub(super) layer: &'a Range<usize>,
}

/// The matches of a cloth, settled.
#[derive(Default)]
pub(super) struct Settled {
    /// Those that are kept, the most important first.
    pub(super) kept: Vec<Wanted>,
    /// Names of the wishes that are given up.
    pub(super) given_up: Vec<String>,
}

/// Settles which of `matches`, the most important first, are kept.
pub(super) fn settle(case: &Case, matches: Vec<Wanted>, spans: Spans<'_>, findings: &mut Findings) -> Settled {
    let is_wish = |of: &Wanted| of.wanted.need == Need::Wished;
    let note = |of: &Wanted, why: WhyGivenUp, findings: &mut Findings| {
        let name = of.wanted.name.clone();
        findings.note(of.place.as_ref().unwrap_or(spans.all), NoteKind::WishGivenUp { name, why });
    };
    if !case.design.mirrors_across() && case.fabric.layer == LayerChoice::Fold && !matches.is_empty() {
        if !matches.iter().all(is_wish) {
            findings.add(spans.layer, DesignFault::UnevenOnFold);
            return Settled { kept: matches, given_up: Vec::new() };
        }
        matches.iter().for_each(|of| note(of, WhyGivenUp::UnevenOnFold, findings));
        return Settled { kept: Vec::new(), given_up: matches.into_iter().map(|of| of.wanted.name).collect() };
    }
    // Whether a wish can be kept is asked with everything required and the wishes before it.
    let mut keep: Vec<bool> = matches.iter().map(|of| !is_wish(of)).collect();
    let together = |keep: &[bool]| -> Vec<Match> {
        matches.iter().zip(keep).filter(|(_, keep)| **keep).map(|(of, _)| of.wanted.clone()).collect()
    };
    let faults = |keep: &[bool]| -> Vec<MatchFault> {
        let alone = matches.iter().zip(keep).filter(|(_, keep)| **keep).filter_map(|(of, _)| of.fault.clone());
        let of_all = phases(case.pattern, &case.fabric.role, &together(keep), case.design).err().unwrap_or_default();
        alone.chain(of_all).collect()
    };
    let of_required = faults(&keep);
    for fault in of_required {
        let least = least_needed(case, &matches, &fault);
        findings.add(place(&matches, &fault).unwrap_or(spans.all), DesignFault::Impossible { fault, least });
    }
    // Most often all can be.
    if faults(&vec![true; matches.len()]).is_empty() {
        return Settled { kept: matches, given_up: Vec::new() };
    }
    for wish in (0..matches.len()).filter(|&k| is_wish(&matches[k])) {
        keep[wish] = true;
        if let Some(fault) = faults(&keep).into_iter().next() {
            keep[wish] = false;
            note(&matches[wish], WhyGivenUp::Matches(fault), findings);
        }
    }
    let mut settled = Settled::default();
    for (of, keep) in matches.into_iter().zip(keep) {
        if keep {
            settled.kept.push(of);
        } else {
            settled.given_up.push(of.wanted.name);
        }
    }
    settled
}

/// Where the job asks by name for the least important of the matches at fault.
fn place<'m>(matches: &'m [Wanted], fault: &MatchFault) -> Option<&'m Range<usize>> {
    let at_fault = matches.iter().rev().filter(|of| fault.names().contains(&of.wanted.name));
    at_fault.filter_map(|of| of.place.as_ref()).next()
}

/// The seam at fault that comes last in order of importance.
fn least_needed(case: &Case, matches: &[Wanted], fault: &MatchFault) -> Option<String> {
    let is_seam = |name: &String| case.pattern.seams.iter().any(|seam| seam.name == *name);
    let mut at_fault = matches.iter().rev().map(|of| &of.wanted.name).filter(|name| fault.names().contains(name));
    at_fault.find(|name| is_seam(name)).cloned()
}
