//! Names for the sides of a picked outline, and what the pattern says of them by name.

use ellwand_trace::{FoundPiece, Remark};

use super::super::{corner_format::CornerWord, format::PieceEntry, picked_format::PickWord};
use crate::{
    Length,
    document::{At, Name},
    fault::PickedFault,
    findings::Findings,
};

/// What is said of the sides of a piece, one entry a side.
pub(super) struct Sides {
    pub(super) names: Vec<String>,
    pub(super) allowances: Vec<Option<At<Length>>>,
    pub(super) corners: Vec<Option<At<CornerWord>>>,
    /// The sides on the fold.
    pub(super) folds: Vec<usize>,
}

/// The sides with their names; none when one is at fault.
pub(super) fn named(
    piece: &PieceEntry,
    name: &str,
    found: &FoundPiece,
    pick: &At<PickWord>,
    findings: &mut Findings,
) -> Option<Sides> {
    let before = findings.count();
    let count = found.drawn[0].sides.len();
    let mut names: Vec<Option<String>> = vec![None; count];
    for (called, numbers) in piece.picked.sides.iter().flat_map(|sides| &sides.value.0) {
        for &number in &numbers.value.0 {
            let slot = usize::try_from(number).ok().and_then(|number| names.get_mut(number.checked_sub(1)?));
            match slot {
                None => findings.add(&numbers.span, PickedFault::NoSuchSide { piece: name.to_owned(), number, count }),
                Some(Some(_)) => findings.add(&numbers.span, PickedFault::SideTwice { piece: name.to_owned(), number }),
                Some(slot) => *slot = Some(called.value.clone()),
            }
        }
    }
    let names: Vec<String> =
        names.into_iter().enumerate().map(|(k, name)| name.unwrap_or_else(|| format!("side {}", k + 1))).collect();
    let mut of = |at: &At<String>| -> Vec<usize> {
        let sides: Vec<usize> = (0..count).filter(|&k| names[k] == at.value).collect();
        if sides.is_empty() {
            let mut known = names.clone();
            known.dedup();
            findings.add(&at.span, PickedFault::UnknownSide { piece: name.to_owned(), found: at.value.clone(), known });
        }
        sides
    };
    let mut allowances: Vec<Option<At<Length>>> = vec![None; count];
    for (side, depth) in piece.allowances.iter().flat_map(|given| &given.value.0) {
        of(side).into_iter().for_each(|k| allowances[k] = Some(depth.clone()));
    }
    let mut corners: Vec<Option<At<CornerWord>>> = vec![None; count];
    for (side, corner) in piece.corners.iter().flat_map(|given| &given.value.0) {
        of(side).into_iter().for_each(|k| corners[k] = Some(corner.clone()));
    }
    let folds = match &piece.fold_edge {
        Some(At { value: Name(fold), span, .. }) => of(&At { value: fold.clone(), span: span.clone(), sound: true }),
        None => {
            // A side that only words speak of is a guess, and changes what is cut.
            let guessed =
                found.remarks.iter().any(|remark| matches!(remark, Remark::FoldBySide { .. } | Remark::NoFoldSide));
            let fold = found.drawn[0].fold;
            if guessed && cuts_on_fold(piece) {
                let likely = fold.map(|side| names[side].clone());
                findings.add(&pick.span, PickedFault::WhichFold { piece: name.to_owned(), likely });
            }
            fold.filter(|_| !guessed).into_iter().collect()
        }
    };
    (findings.count() == before).then_some(Sides { names, allowances, corners, folds })
}

/// Whether the pattern cuts it on the fold, or does not say.
fn cuts_on_fold(piece: &PieceEntry) -> bool {
    piece.cut.iter().flat_map(|cut| &cut.value).any(|cut| cut.value.on_fold.as_ref().is_some_and(|fold| fold.value))
}
