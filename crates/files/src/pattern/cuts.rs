//! What a piece is cut from: roles, counts and hands, and the limit on how many cuts one cloth may hold.

use std::ops::Range;

use ellwand_garment::{CutRule, Hands, Pattern, View};

use super::{
    duplicates::note_duplicates,
    format::{CutEntry, HandsWord, PieceEntry},
};
use crate::{
    document::{At, Name},
    fault::PatternFault,
    findings::Findings,
    nearest::nearest,
};

/// The cut rules of one piece; entries at fault are left out.
pub(super) fn convert(piece: &PieceEntry, listed_roles: Option<&[String]>, findings: &mut Findings) -> Vec<CutRule> {
    let Some(cut) = &piece.cut else { return Vec::new() };
    let name = piece.name.as_ref().map_or("without a name", |name| name.value.0.as_str());
    if cut.value.is_empty() && cut.sound {
        findings.add(&cut.span, PatternFault::NoCuts { piece: name.to_owned() });
    }
    let from: Vec<&At<Name>> = cut.value.iter().filter_map(|entry| entry.value.from.as_ref()).collect();
    note_duplicates("role of this piece", &from, findings);
    if let Some(known) = listed_roles {
        for role in from.iter().filter(|role| !known.contains(&role.value.0)) {
            let meant = nearest(&role.value.0, known.iter().map(String::as_str)).map(str::to_owned);
            let role_name = role.value.0.clone();
            findings.add(&role.span, PatternFault::UnknownRole { role: role_name, meant, known: known.to_vec() });
        }
    }
    let symmetric = has_fold_edge(piece);
    cut.value.iter().filter_map(|entry| convert_entry(&entry.value, name, symmetric, findings)).collect()
}

/// Whether an edge or side is marked as the fold, in every size, so that the unfolded piece is its own mirror image.
fn has_fold_edge(piece: &PieceEntry) -> bool {
    match &piece.drawn {
        Some(drawn) => drawn.value.iter().all(|drawn| drawn.value.drawing.has_fold_edge()),
        None => piece.fold_edge.is_some() || piece.drawing.has_fold_edge(),
    }
}

fn convert_entry(entry: &CutEntry, piece: &str, symmetric: bool, findings: &mut Findings) -> Option<CutRule> {
    let on_fold = entry.on_fold.as_ref().filter(|on_fold| on_fold.value);
    if let Some(on_fold) = on_fold
        && !symmetric
    {
        findings.add(&on_fold.span, PatternFault::NoFoldEdge { piece: piece.to_owned() });
    }
    if let (Some(_), Some(hands)) = (on_fold, &entry.hands)
        && hands.value != HandsWord::Any
    {
        findings.add(&hands.span, PatternFault::HandsOnFold);
    }
    let count = entry.count.as_ref()?;
    let number = count.value.0;
    if number == 0 {
        findings.add(&count.span, PatternFault::CountZero);
        return None;
    }
    let limit = findings.limits().cuts_per_cloth;
    if number > limit {
        findings.add(&count.span, PatternFault::TooManyCuts { count: number, limit });
        return None;
    }
    let hands = match &entry.hands {
        Some(hands) => {
            if hands.value == HandsWord::Pair && number % 2 == 1 && on_fold.is_none() {
                findings.add(&hands.span, PatternFault::OddPair { count: number });
            }
            hands.value.into()
        }
        None if symmetric => Hands::Any,
        None if number % 2 == 0 => Hands::Pair,
        None => Hands::Same,
    };
    Some(CutRule {
        role: entry.from.as_ref()?.value.0.clone(),
        count: u32::try_from(number).unwrap_or(u32::MAX),
        on_fold: on_fold.is_some(),
        hands,
        grain: entry.grain.as_ref().map(|grain| grain.value.into()),
    })
}

/// Notes each cloth from which a view cuts more than the limit.
pub(crate) fn note_too_many(pattern: &Pattern, view: &View, span: &Range<usize>, findings: &mut Findings) {
    let limit = findings.limits().cuts_per_cloth;
    for role in pattern.roles(view) {
        let count: u64 = pattern.cut_orders(view, role).iter().map(|order| u64::from(order.rule.count)).sum();
        if count > limit {
            findings.add(span, PatternFault::TooManyCuts { count, limit });
        }
    }
}
