//! What is matched on each cloth of a job: the seams of the pattern as the job orders them, and what it asks for besides.
//!
//! First it is settled how the pieces lie, since a piece on the bias or at a border lies so on every cloth; then what meets.
//! Whether the matches can be kept together is asked last, of the whole.

mod at_border;
mod case;
mod kept;
mod placed;
mod seams;

use std::{collections::BTreeSet, ops::Range};

use ellwand_garment::{DesignAxis, Drop, Fabric, Match, MatchLimit, MatchRule, Need, Pattern, PiecePoint};

use super::format::{FabricEntry, JobFile};
use crate::{
    document::{At, Name},
    fault::{DesignFault, FaultKind},
    findings::Findings,
};
use case::{Case, Wanted, unknown};
use kept::Settled;

/// What a wished match may cost; judged without the pattern.
pub(super) fn limit(entry: &FabricEntry, findings: &mut Findings) -> Option<MatchLimit> {
    let matching = entry.matching.as_ref()?;
    if !entry.design_given {
        findings.add(&matching.span, DesignFault::MatchingWithoutDesign);
    }
    let (length, money) = (&matching.value.limit, &matching.value.limit_cost);
    match (length, money) {
        (Some(_), Some(money)) => findings.add(&money.span, DesignFault::TwoLimits),
        (None, Some(money)) if !entry.price_given => findings.add(&money.span, DesignFault::LimitWithoutPrice),
        _ => {}
    }
    let of_length = length.as_ref().map(|length| MatchLimit::Length(length.value.mm()));
    of_length.or(money.as_ref().map(|money| MatchLimit::Money(money.value.amount())))
}

/// What a line that a point stands on is called, unless the job gives it a name.
pub(super) fn line_name(point: &str, piece: &str) -> String {
    format!("line at {point} of {piece}")
}

/// What a motif is called, unless the job gives it a name.
pub(super) fn motif_name(point: &str, piece: &str) -> String {
    format!("motif at {point} of {piece}")
}

/// What a piece at a border is called, unless the job gives it a name.
pub(super) fn border_name(piece: &str) -> String {
    format!("border on {piece}")
}

/// Where the job asks for the matches of one cloth.
pub(super) struct OfCloth {
    pub(super) role: String,
    pub(super) places: Vec<(String, Range<usize>)>,
}

/// Fills in the matches of every fabric with a design, and sets the grain of the pieces that the job lays on the bias or
/// crosswise. `pattern` was read without a fault. Tells where each match is asked for.
pub(super) fn convert(
    file: &JobFile,
    fabrics: &mut [Fabric],
    pattern: &mut Pattern,
    findings: &mut Findings,
) -> Vec<OfCloth> {
    let Some(view) = file.view.as_ref().and_then(|view| pattern.view(&view.value.0)).cloned() else {
        return Vec::new();
    };
    let listed = file.fabric.as_ref().map_or(&[][..], |fabrics| fabrics.value.0.as_slice());
    let entry_of = |role: &str| listed.iter().find(|(name, _)| name.value == role).map(|(_, entry)| &entry.value);
    for entry in listed.iter().filter_map(|(_, entry)| entry.value.matching.as_ref()) {
        seams::meet_where_asked(&entry.value, pattern);
    }
    let (mut at_borders, mut laid) = (Vec::new(), at_border::Laid::new());
    for fabric in &*fabrics {
        let Some(entry) = entry_of(&fabric.role).and_then(|entry| entry.matching.as_ref()) else { continue };
        let Some(design) = &fabric.cloth.design else { continue };
        let lay = at_border::Laying { fabric, design, view: &view };
        lay.on_the_bias(&entry.value, pattern, &mut laid, findings);
        at_borders.push((fabric.role.clone(), lay.at_the_border(&entry.value, pattern, &mut laid, findings)));
    }
    let mut all = Vec::new();
    for fabric in fabrics {
        let (Some(entry), Some(design)) = (entry_of(&fabric.role), &fabric.cloth.design) else { continue };
        let at_border = at_borders.iter().find(|(role, _)| *role == fabric.role).map_or(&[][..], |(_, found)| found);
        let case = Case { pattern, view: &view, fabric, design };
        let found = matches(&case, entry, at_border, file, findings);
        let named = found.kept.iter().filter_map(|of| Some((of.wanted.name.clone(), of.place.clone()?)));
        all.push(OfCloth { role: fabric.role.clone(), places: named.collect() });
        fabric.matching.matches = found.kept.into_iter().map(|of| of.wanted).collect();
        fabric.matching.given_up = found.given_up;
    }
    all
}

/// Notes what is wrong with the matches where no fit came about: all but what depends on how the pieces come out of it. `chosen` is the
/// pattern in its first size, read without a fault.
pub(super) fn note_without_fit(file: &JobFile, fabrics: &mut [Fabric], chosen: &Pattern, findings: &mut Findings) {
    let mut found = findings.of_the_same_file();
    convert(file, fabrics, &mut chosen.clone(), &mut found);
    let depends_on_fit = |kind: &FaultKind| {
        matches!(kind, FaultKind::Design(DesignFault::Impossible { .. } | DesignFault::CurvedAtBorder { .. }))
    };
    findings.add_new(found.without(depends_on_fit));
}

/// The matches of one cloth: those that are kept and those given up.
fn matches(
    case: &Case,
    entry: &FabricEntry,
    at_border: &[at_border::AtBorder],
    file: &JobFile,
    findings: &mut Findings,
) -> Settled {
    let before = findings.count();
    let Some(span) = entry.matching.as_ref().map(|at| &at.span).or(entry.design.as_ref().map(|at| &at.span)) else {
        return Settled::default();
    };
    let asked = entry.matching.as_ref().map(|at| &at.value);
    let orders = seams::Orders::read(case, asked, findings);
    let mut matches = orders.at_border(case, at_border);
    matches.extend(asked.into_iter().flat_map(|asked| placed::stands(case, asked, findings)));
    matches.extend(orders.matches(case, at_border));
    matches.extend(asked.into_iter().flat_map(|asked| placed::pairs(case, asked, findings)));
    if case.design.drop == Drop::Half {
        matches.iter_mut().for_each(|of| meet_both_ways(&mut of.wanted));
    }
    note_taken_names(&matches, span, findings);
    if let Some(asked) = asked {
        let names: Vec<&At<Name>> = asked.rank.iter().flat_map(|rank| &rank.value).collect();
        rank(case, &names, &mut matches, findings);
        let wished = matches.iter().find(|of| of.wanted.need == Need::Wished);
        if let (Some(of), None, None) = (wished, &asked.limit, &asked.limit_cost) {
            let place = asked.wish.as_ref().map_or(span, |wish| &wish.span);
            findings.add(place, DesignFault::NoLimit { name: of.wanted.name.clone() });
        }
    }
    if let Some(units) = &file.units {
        orders.note_beside_border(case, at_border, units.value.into(), findings);
    }
    if findings.count() > before {
        return Settled { kept: matches, given_up: Vec::new() };
    }
    let layout = entry.layout.as_ref().map(|layout| &layout.span);
    kept::settle(case, matches, kept::Spans { all: span, layout: layout.unwrap_or(span) }, findings)
}

/// On a half-drop design what meets in one direction only shows another column half a repeat off, so it meets in both.
fn meet_both_ways(wanted: &mut Match) {
    let meets: Vec<(PiecePoint, PiecePoint)> = (wanted.rules.iter())
        .filter_map(|rule| match rule {
            MatchRule::Meet { a, b, .. } => Some((a.clone(), b.clone())),
            _ => None,
        })
        .collect();
    // Bars that meet in points across meet along as well.
    let in_points = wanted.rules.iter().filter_map(|rule| match rule {
        MatchRule::Chevron { a, b } => Some((a.clone(), b.clone())),
        _ => None,
    });
    let meets: Vec<(PiecePoint, PiecePoint)> = meets.into_iter().chain(in_points).collect();
    for (a, b) in meets {
        let in_points = wanted.rules.contains(&MatchRule::Chevron { a: a.clone(), b: b.clone() });
        let axes: &[DesignAxis] =
            if in_points { &[DesignAxis::Along] } else { &[DesignAxis::Across, DesignAxis::Along] };
        for &axis in axes {
            let rule = MatchRule::Meet { a: a.clone(), b: b.clone(), axis };
            if !wanted.rules.contains(&rule) {
                wanted.rules.push(rule);
            }
        }
    }
}

/// Matches are told apart by their names.
fn note_taken_names(matches: &[Wanted], span: &Range<usize>, findings: &mut Findings) {
    let mut told = BTreeSet::new();
    for of in matches.iter().filter(|of| !told.insert(of.wanted.name.as_str())) {
        findings.add(of.place.as_ref().unwrap_or(span), DesignFault::NameTaken { name: of.wanted.name.clone() });
    }
}

/// Moves what the job ranks to the front, in its order.
fn rank(case: &Case, names: &[&At<Name>], matches: &mut [Wanted], findings: &mut Findings) {
    for name in names {
        let known = || {
            let seams = case.pattern.seams.iter().map(|seam| seam.name.as_str());
            seams.chain(matches.iter().map(|of| of.wanted.name.as_str()))
        };
        if !known().any(|known| known == name.value.0) {
            findings.add(&name.span, unknown("seam", &name.value.0, known()));
        }
    }
    for of in &mut *matches {
        if let (None, Some(name)) = (&of.place, names.iter().find(|name| name.value.0 == of.wanted.name)) {
            of.place = Some(name.span.clone());
        }
    }
    matches.sort_by_key(|of| names.iter().position(|name| name.value.0 == of.wanted.name).unwrap_or(names.len()));
}
