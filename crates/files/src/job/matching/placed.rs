//! What a job places on the design itself, and pairs of points it adds to the seams of the pattern.

use std::ops::Range;

use ellwand_garment::{DesignAxis, Match, MatchRule, Need, PiecePoint};

use super::{
    case::{Case, Wanted},
    line_name, motif_name,
};
use crate::{
    document::{At, Name},
    fault::DesignFault,
    findings::Findings,
    job::matching_format::{
        AddEntry, LineEntry, LineOn, LineWord, MatchingEntry, MotifEntry, NeedWord, PiecePointEntry,
    },
};

/// Points that stand on a line or in the middle of a motif. What is at fault is left out.
pub(super) fn stands(case: &Case, entry: &MatchingEntry, findings: &mut Findings) -> Vec<Wanted> {
    let lines = entry.lines.iter().flat_map(|lines| &lines.value);
    let mut matches: Vec<Wanted> = lines.filter_map(|entry| on_line(case, entry, findings)).collect();
    let motifs = entry.motifs.iter().flat_map(|motifs| &motifs.value);
    matches.extend(motifs.filter_map(|entry| on_motif(case, entry, findings)));
    matches
}

/// Pairs of points that meet. What is at fault is left out.
pub(super) fn pairs(case: &Case, entry: &MatchingEntry, findings: &mut Findings) -> Vec<Wanted> {
    let added = entry.add.iter().flat_map(|added| &added.value);
    added.filter_map(|entry| meet(case, entry, findings)).collect()
}

fn on_line(case: &Case, entry: &At<LineEntry>, findings: &mut Findings) -> Option<Wanted> {
    let (span, entry) = (&entry.span, &entry.value);
    let at = case.point(entry.piece.as_ref()?, entry.point.as_ref()?, findings)?;
    let name = named(&entry.name, || line_name(&at.point, &at.piece));
    has_repeats(case, &name, &[DesignAxis::Along], span, findings)?;
    let repeat = case.design.along.as_ref()?;
    let phase = match entry.on.as_ref()?.value {
        LineOn::Word(LineWord::Bar) => 0.0,
        LineOn::Word(LineWord::Midway) => repeat.every / 2.0,
        LineOn::Above(length) => repeat.within(length.mm() * (1.0 - case.fabric.shrinkage.along)),
    };
    let rules = vec![MatchRule::Stand { at, axis: DesignAxis::Along, phase }];
    Some(Wanted::new(Match { name, need: need(&entry.need), rules }, Some(span.clone())))
}

fn on_motif(case: &Case, entry: &At<MotifEntry>, findings: &mut Findings) -> Option<Wanted> {
    let (span, entry) = (&entry.span, &entry.value);
    let at = case.point(entry.piece.as_ref()?, entry.point.as_ref()?, findings)?;
    let name = named(&entry.name, || motif_name(&at.point, &at.piece));
    let both = [DesignAxis::Across, DesignAxis::Along];
    has_repeats(case, &name, &both, span, findings)?;
    let rules = both.map(|axis| MatchRule::Stand { at: at.clone(), axis, phase: 0.0 });
    let wanted = Match { name, need: need(&entry.need), rules: rules.into() };
    Some(Wanted::new(wanted, Some(span.clone())))
}

fn meet(case: &Case, entry: &At<AddEntry>, findings: &mut Findings) -> Option<Wanted> {
    let (span, entry) = (&entry.span, &entry.value);
    let a = point(case, entry.a.as_ref()?, findings);
    let b = point(case, entry.b.as_ref()?, findings);
    let (a, b, name) = (a?, b?, entry.name.as_ref()?.value.0.clone());
    let axis = entry.axis.as_ref()?;
    has_repeats(case, &name, axis.value.axes(), &axis.span, findings)?;
    let rules = axis.value.axes().iter().map(|&axis| MatchRule::Meet { a: a.clone(), b: b.clone(), axis });
    let wanted = Match { name, need: need(&entry.need), rules: rules.collect() };
    Some(Wanted::new(wanted, Some(span.clone())))
}

fn point(case: &Case, entry: &At<PiecePointEntry>, findings: &mut Findings) -> Option<PiecePoint> {
    case.point(entry.value.piece.as_ref()?, entry.value.point.as_ref()?, findings)
}

/// Nothing when the design is alike everywhere in one of the directions.
fn has_repeats(
    case: &Case,
    name: &str,
    axes: &[DesignAxis],
    span: &Range<usize>,
    findings: &mut Findings,
) -> Option<()> {
    if let Some(axis) = axes.iter().find(|&&axis| case.design.repeat(axis).is_none()) {
        findings.add(span, DesignFault::NoRepeat { name: name.to_owned(), axis: axis.name() });
        return None;
    }
    Some(())
}

fn named(given: &Option<At<Name>>, otherwise: impl FnOnce() -> String) -> String {
    given.as_ref().map_or_else(otherwise, |name| name.value.0.clone())
}

fn need(word: &Option<At<NeedWord>>) -> Need {
    word.as_ref().map_or(Need::Required, |word| word.value.into())
}
