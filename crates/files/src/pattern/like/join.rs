//! A half that is joined to its mirror image: the edge at which it is joined lies on the fold of the piece, which is cut whole.

use super::{
    super::{
        drawing_format::DrawingEntry,
        format::{CutEntry, HandsWord, PieceEntry},
    },
    Task,
};
use crate::{
    document::{At, Count, Name},
    fault::LikeTrouble,
    findings::Findings,
};

/// Lays the edge at which a half is joined on the fold, in every drawing, and halves the copies unless the piece says how many.
pub(super) fn lay_on_fold(
    piece: &mut PieceEntry,
    base: &PieceEntry,
    own: &PieceEntry,
    joined: &At<Name>,
    task: &Task<'_>,
    findings: &mut Findings,
) {
    if piece.shape.is_some() {
        if let Some(fold) = &piece.fold_edge {
            task.fault(&joined.span, LikeTrouble::OnFoldAlready { edge: fold.value.0.clone() }, findings);
        }
        if let Some(allowances) = &mut piece.allowances {
            allowances.value.0.retain(|(name, _)| name.value != joined.value.0);
        }
        if let Some(corners) = &mut piece.corners {
            corners.value.0.retain(|(name, _)| name.value != joined.value.0);
        }
        piece.fold_edge = Some(joined.clone());
    }
    let drawn = piece.drawn.iter_mut().flat_map(|drawn| &mut drawn.value).map(|drawn| &mut drawn.value.drawing);
    let once = std::iter::once(&mut piece.drawing).filter(|drawing| drawing.edges.is_some());
    for drawing in drawn.chain(once) {
        let mut of_size = findings.of_the_same_file();
        lay_edge(drawing, joined, task, &mut of_size);
        findings.add_new(of_size);
    }
    if own.cut.is_none() {
        for at in piece.cut.iter_mut().flat_map(|cut| &mut cut.value) {
            if !halve(&mut at.value) {
                let like = base.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default();
                task.fault(&joined.span, LikeTrouble::HowMany { like }, findings);
                return;
            }
        }
    }
}

fn lay_edge(drawing: &mut DrawingEntry, joined: &At<Name>, task: &Task<'_>, findings: &mut Findings) {
    let Some(edges) = &mut drawing.edges else { return };
    let name = |name: &Option<At<Name>>| name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default();
    let known: Vec<String> =
        edges.value.iter().map(|edge| name(&edge.value.name)).filter(|name| !name.is_empty()).collect();
    if let Some(fold) = edges.value.iter().find(|edge| edge.value.fold.as_ref().is_some_and(|fold| fold.value)) {
        let edge = name(&fold.value.name);
        task.fault(&joined.span, LikeTrouble::OnFoldAlready { edge }, findings);
        return;
    }
    if !known.contains(&joined.value.0) {
        let _: Option<()> = task.unknown("edge", joined, known, findings);
        return;
    }
    for edge in edges.value.iter_mut().filter(|edge| name(&edge.value.name) == joined.value.0) {
        edge.span = joined.span.clone();
        edge.value.fold = Some(At { value: true, span: joined.span.clone(), sound: true });
        (edge.value.allowance, edge.value.corner) = (None, None);
    }
}

/// A pair of halves is one whole. Whether they are pairs.
fn halve(cut: &mut CutEntry) -> bool {
    let pairs = cut.hands.as_ref().is_none_or(|hands| hands.value == HandsWord::Pair);
    let Some(count) = &mut cut.count else { return true };
    if !pairs || count.value.0 % 2 == 1 || cut.on_fold.as_ref().is_some_and(|on_fold| on_fold.value) {
        return false;
    }
    count.value = Count(count.value.0 / 2);
    cut.hands = None;
    true
}
