//! What a piece is cut from: roles, counts and hands, and the limit on how many cuts one cloth may hold.

use std::ops::Range;

use ellwand_garment::{CutRule, Hands, Pattern, View};

use super::{
    duplicates::note_duplicates,
    format::{CutEntry, HandsWord, PieceEntry},
    shape_format::ShapeEntry,
};
use crate::{
    document::{At, Count, FromTable, FromToml, Name},
    fault::{DocumentFault, PatternFault},
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
    let shape = piece.shape.as_ref().map(|shape| &shape.value);
    cut.value.iter().filter_map(|entry| convert_entry(entry, name, (shape, symmetric), findings)).collect()
}

/// Whether an edge or side is marked as the fold, in every size, so that the unfolded piece is its own mirror image.
fn has_fold_edge(piece: &PieceEntry) -> bool {
    match &piece.drawn {
        Some(drawn) => drawn.value.iter().all(|drawn| drawn.value.drawing.has_fold_edge()),
        None => piece.fold_edge.is_some() || piece.drawing.has_fold_edge(),
    }
}

/// One rule of a piece that has a measured shape, or none, and is its own mirror image or not.
fn convert_entry(
    At { value: entry, span, sound }: &At<CutEntry>,
    piece: &str,
    (shape, symmetric): (Option<&ShapeEntry>, bool),
    findings: &mut Findings,
) -> Option<CutRule> {
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
    let counting = shape.filter(|shape| shape.counts());
    if entry.count.is_none() && counting.is_none() && *sound {
        let (of, expected) = (CutEntry::WHAT, Count::EXPECTED);
        findings.add(span, DocumentFault::MissingKey { key: "count", of, expected });
    }
    let (of_what, span) = match &entry.count {
        Some(count) => (count.value.0, &count.span),
        None => (counting.map(|_| 1)?, span),
    };
    if of_what == 0 {
        findings.add(span, PatternFault::CountZero);
        return None;
    }
    let number = of_what.saturating_mul(counting.map_or(1, ShapeEntry::panels));
    if number == 0 {
        // Panels of none are told where they stand.
        return None;
    }
    let limit = findings.limits().cuts_per_cloth;
    if number > limit {
        findings.add(span, PatternFault::TooManyCuts { count: number, limit });
        return None;
    }
    let hands = match &entry.hands {
        Some(hands) => {
            if hands.value == HandsWord::Pair && number % 2 == 1 && on_fold.is_none() {
                findings.add(&hands.span, PatternFault::OddPair { count: number });
            }
            hands.value.into()
        }
        // Panels and strips are their own mirror images.
        None if symmetric || counting.is_some() => Hands::Any,
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
