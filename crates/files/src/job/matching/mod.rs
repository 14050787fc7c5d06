//! What is matched on each cloth of a job: the seams of the pattern as the job orders them, and what it asks for besides.
//!
//! First it is settled how the pieces lie, since a piece on the bias or at a border lies so on every cloth; then what meets.
//! Whether the matches can be kept together is asked last, of the whole.

mod at_border;
mod placed;
mod seams;

use std::{collections::BTreeSet, ops::Range};

use ellwand_garment::{
    Design, DesignAxis, Drop, Fabric, LayerChoice, Match, MatchFault, MatchLimit, MatchRule, Need, Pattern, Piece,
    PiecePoint, View, phases,
};

use super::format::{FabricEntry, JobFile};
use crate::{
    document::{At, Name},
    fault::{DesignFault, Findings},
    nearest::nearest,
};

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

/// Fills in the matches of every fabric with a design, and sets the grain of the pieces that the job lays on the bias or
/// crosswise. `pattern` was read without a fault.
pub(super) fn convert(file: &JobFile, fabrics: &mut [Fabric], pattern: &mut Pattern, findings: &mut Findings) {
    let Some(view) = file.view.as_ref().and_then(|view| pattern.view(&view.value.0)).cloned() else { return };
    let listed = file.fabric.as_ref().map_or(&[][..], |fabrics| fabrics.value.0.as_slice());
    let entry_of = |role: &str| listed.iter().find(|(name, _)| name.value == role).map(|(_, entry)| &entry.value);
    for entry in listed.iter().filter_map(|(_, entry)| entry.value.matching.as_ref()) {
        seams::meet_where_asked(&entry.value, pattern);
    }
    let mut at_borders = Vec::new();
    for fabric in &*fabrics {
        let Some(entry) = entry_of(&fabric.role).and_then(|entry| entry.matching.as_ref()) else { continue };
        let Some(design) = &fabric.cloth.design else { continue };
        let lay = at_border::Laying { fabric, design, view: &view };
        lay.on_the_bias(&entry.value, pattern, findings);
        at_borders.push((fabric.role.clone(), lay.at_the_border(&entry.value, pattern, findings)));
    }
    for fabric in fabrics {
        let (Some(entry), Some(design)) = (entry_of(&fabric.role), &fabric.cloth.design) else { continue };
        let at_border = at_borders.iter().find(|(role, _)| *role == fabric.role).map_or(&[][..], |(_, found)| found);
        let case = Case { pattern, view: &view, fabric, design };
        fabric.matching.matches = matches(&case, entry, at_border, findings);
    }
}

/// One cloth with a design, and the pattern cut from it.
struct Case<'a> {
    pattern: &'a Pattern,
    view: &'a View,
    fabric: &'a Fabric,
    design: &'a Design,
}

impl<'a> Case<'a> {
    /// Whether a piece of this name is cut from this cloth.
    fn cuts(&self, piece: &str) -> bool {
        let cut = |piece: &Piece| piece.cuts.iter().any(|rule| rule.role == self.fabric.role);
        self.view.pieces.iter().any(|name| name == piece) && self.pattern.piece(piece).is_some_and(cut)
    }

    /// The piece a job names, which must be cut from this cloth.
    fn piece(&self, name: &At<Name>, findings: &mut Findings) -> Option<&'a Piece> {
        let Some(piece) = self.pattern.piece(&name.value.0) else {
            let known = self.pattern.pieces.iter().map(|piece| piece.name.as_str());
            findings.add(&name.span, unknown("piece", &name.value.0, known));
            return None;
        };
        if !self.cuts(&piece.name) {
            findings.add(&name.span, self.not_cut_here(&piece.name));
            return None;
        }
        Some(piece)
    }

    fn not_cut_here(&self, piece: &str) -> DesignFault {
        let (piece, view, role) = (piece.to_owned(), self.view.name.clone(), self.fabric.role.clone());
        DesignFault::NotCutHere { piece, view, role }
    }

    /// The point a job names.
    fn point(&self, piece: &At<Name>, point: &At<Name>, findings: &mut Findings) -> Option<PiecePoint> {
        let piece = self.piece(piece, findings)?;
        if !piece.points.contains_key(&point.value.0) {
            let of = format!("the piece `{}`", piece.name);
            findings
                .add(&point.span, unknown_mark(of, "point", &point.value.0, piece.points.keys().map(String::as_str)));
            return None;
        }
        Some(PiecePoint { piece: piece.name.clone(), point: point.value.0.clone() })
    }
}

/// A name that is none of `known`.
fn unknown<'k>(what: &'static str, name: &str, known: impl Iterator<Item = &'k str> + Clone) -> DesignFault {
    DesignFault::Unknown {
        what,
        name: name.to_owned(),
        meant: nearest(name, known.clone()).map(str::to_owned),
        known: known.map(str::to_owned).collect(),
    }
}

/// A name that is none of `known`, which belong to something.
fn unknown_mark<'k>(
    of: String,
    what: &'static str,
    name: &str,
    known: impl Iterator<Item = &'k str> + Clone,
) -> DesignFault {
    DesignFault::UnknownMark {
        of,
        what,
        name: name.to_owned(),
        meant: nearest(name, known.clone()).map(str::to_owned),
        known: known.map(str::to_owned).collect(),
    }
}

/// The matches of one cloth, the most important first, if they can be kept together.
fn matches(case: &Case, entry: &FabricEntry, at_border: &[at_border::AtBorder], findings: &mut Findings) -> Vec<Match> {
    let before = findings.count();
    let Some(span) = entry.matching.as_ref().map(|at| &at.span).or(entry.design.as_ref().map(|at| &at.span)) else {
        return Vec::new();
    };
    let asked = entry.matching.as_ref().map(|at| &at.value);
    let orders = seams::Orders::read(case, asked, findings);
    let mut matches = orders.at_border(case, at_border);
    matches.extend(asked.into_iter().flat_map(|asked| placed::stands(case, asked, findings)));
    matches.extend(orders.matches(case, at_border));
    matches.extend(asked.into_iter().flat_map(|asked| placed::pairs(case, asked, findings)));
    if case.design.drop == Drop::Half {
        matches.iter_mut().for_each(meet_both_ways);
    }
    note_taken_names(&matches, span, findings);
    if let Some(asked) = asked {
        let names: Vec<&At<Name>> = asked.rank.iter().flat_map(|rank| &rank.value).collect();
        rank(case, &names, &mut matches, findings);
        let wished = matches.iter().find(|wanted| wanted.need == Need::Wished);
        if let (Some(wished), None, None) = (wished, &asked.limit, &asked.limit_cost) {
            let place = asked.wish.as_ref().map_or(span, |wish| &wish.span);
            findings.add(place, DesignFault::NoLimit { name: wished.name.clone() });
        }
    }
    if !case.design.mirrors_across() && case.fabric.layer == LayerChoice::Fold && !matches.is_empty() {
        findings.add(entry.layer.as_ref().map_or(span, |layer| &layer.span), DesignFault::UnevenOnFold);
    }
    if findings.count() == before
        && let Err(faults) = phases(case.pattern, &case.fabric.role, &matches, case.design)
    {
        for fault in faults {
            let least = least_needed(case, &matches, &fault);
            findings.add(span, DesignFault::Impossible { fault, least });
        }
    }
    matches
}

/// On a half-drop design what meets in one direction only shows another column half a repeat off, so it meets in both.
fn meet_both_ways(wanted: &mut Match) {
    let meets: Vec<(PiecePoint, PiecePoint)> = (wanted.rules.iter())
        .filter_map(|rule| match rule {
            MatchRule::Meet { a, b, .. } => Some((a.clone(), b.clone())),
            _ => None,
        })
        .collect();
    for (a, b) in meets {
        for axis in [DesignAxis::Across, DesignAxis::Along] {
            let rule = MatchRule::Meet { a: a.clone(), b: b.clone(), axis };
            if !wanted.rules.contains(&rule) {
                wanted.rules.push(rule);
            }
        }
    }
}

/// Matches are told apart by their names.
fn note_taken_names(matches: &[Match], span: &Range<usize>, findings: &mut Findings) {
    let mut told = BTreeSet::new();
    for wanted in matches.iter().filter(|wanted| !told.insert(wanted.name.as_str())) {
        findings.add(span, DesignFault::NameTaken { name: wanted.name.clone() });
    }
}

/// Moves what the job ranks to the front, in its order.
fn rank(case: &Case, names: &[&At<Name>], matches: &mut [Match], findings: &mut Findings) {
    for name in names {
        let known = || {
            let seams = case.pattern.seams.iter().map(|seam| seam.name.as_str());
            seams.chain(matches.iter().map(|wanted| wanted.name.as_str()))
        };
        if !known().any(|known| known == name.value.0) {
            findings.add(&name.span, unknown("seam", &name.value.0, known()));
        }
    }
    matches.sort_by_key(|wanted| names.iter().position(|name| name.value.0 == wanted.name).unwrap_or(names.len()));
}

/// The seam at fault that comes last in order of importance.
fn least_needed(case: &Case, matches: &[Match], fault: &MatchFault) -> Option<String> {
    let is_seam = |name: &String| case.pattern.seams.iter().any(|seam| seam.name == *name);
    let mut at_fault = matches.iter().rev().map(|wanted| &wanted.name).filter(|name| fault.names().contains(name));
    at_fault.find(|name| is_seam(name)).cloned()
}
