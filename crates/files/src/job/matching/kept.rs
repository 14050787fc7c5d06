//! Which matches can be kept together. What is required must be; a wish that contradicts what is required, or a wish of more importance, is
//! given up, and said so.

use std::ops::Range;

use ellwand_garment::{CentreOn, DesignAxis, Match, MatchFault, MatchRule, Need, phases};

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
    pub(super) layout: &'a Range<usize>,
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
    if !case.design.mirrors_across() && case.fabric.ways.is_centre_fold() && !matches.is_empty() {
        if !matches.iter().all(is_wish) {
            findings.add(spans.layout, DesignFault::UnevenOnFold);
            return Settled { kept: matches, given_up: Vec::new() };
        }
        matches.iter().for_each(|of| note(of, WhyGivenUp::UnevenOnFold, findings));
        return Settled { kept: Vec::new(), given_up: matches.into_iter().map(|of| of.wanted.name).collect() };
    }
    let matches = about_an_axis(case, matches);
    // Whether a wish can be kept is asked with everything required and the wishes before it.
    let mut keep: Vec<bool> = matches.iter().map(|of| !is_wish(of)).collect();
    let together = |keep: &[bool]| -> Vec<Match> {
        matches.iter().zip(keep).filter(|(_, keep)| **keep).map(|(of, _)| of.wanted.clone()).collect()
    };
    let faults = |keep: &[bool]| -> Vec<MatchFault> {
        let alone = matches.iter().zip(keep).filter(|(_, keep)| **keep).filter_map(|(of, _)| of.fault.clone());
        let of_all = phases(case.pattern, &case.fabric.role, &together(keep), case.design).err().unwrap_or_default();
        let mut found: Vec<MatchFault> = Vec::new();
        for fault in alone.chain(of_all) {
            if !found.contains(&fault) {
                found.push(fault);
            }
        }
        found
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

/// The matches, with what none of them says but a round of them asks for: a round of seams that shows its pieces both as they are and mirrored
/// does so about a bar or about a gap, as the centre lines of the cloth stand.
///
/// It is said by every seam that meets in points, since each such round has one: so it is said as long as the round is there, whatever is given
/// up, a centre line that sets it too.
fn about_an_axis(case: &Case, mut matches: Vec<Wanted>) -> Vec<Wanted> {
    let faults = |rules: &dyn Fn(&Match) -> Vec<MatchRule>, matches: &[Wanted]| {
        let asked: Vec<Match> =
            matches.iter().map(|of| Match { rules: rules(&of.wanted), ..of.wanted.clone() }).collect();
        phases(case.pattern, &case.fabric.role, &asked, case.design).err().unwrap_or_default()
    };
    let mut said: Vec<MatchRule> = Vec::new();
    let meets_in_points = |of: &Match| of.rules.iter().any(|rule| matches!(rule, MatchRule::Chevron { .. }));
    for _ in 0..matches.len() {
        let unset = |of: &Match| -> Vec<MatchRule> {
            let kept = |rule: &&MatchRule| !rule.stands_on(DesignAxis::Across) || rule.meeting().is_some();
            of.rules.iter().filter(|rule| kept(rule) || said.contains(rule)).cloned().collect()
        };
        let open = faults(&unset, &matches).into_iter().find_map(|fault| match fault {
            MatchFault::AxisOpen { at, phases, .. } => Some((at, phases)),
            _ => None,
        });
        let Some((at, mut both)) = open else { break };
        if case.design.fold_on == CentreOn::Midway {
            both.reverse();
        }
        let stands = both.map(|phase| MatchRule::Stand { at: at.clone(), axis: DesignAxis::Across, phase });
        // What centre lines and the like set may leave only the other.
        let is_possible = |stands: &MatchRule| {
            let with = |of: &Match| [&of.rules[..], std::slice::from_ref(stands)].concat();
            let rules = |of: &Match| if meets_in_points(of) { with(of) } else { of.rules.clone() };
            faults(&rules, &matches).is_empty()
        };
        let [first, second] = stands;
        let stands = if !is_possible(&first) && is_possible(&second) { second } else { first };
        let in_points = matches.iter_mut().filter(|of| meets_in_points(&of.wanted));
        in_points.for_each(|of| of.wanted.rules.push(stands.clone()));
        said.push(stands);
    }
    matches
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
