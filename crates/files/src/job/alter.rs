//! What the alterations of a job name: lines, seams, edges and pieces, each of which the pattern must have. Asked before anything is
//! fitted, so that it is told with all else that is wrong.

use std::ops::Range;

use ellwand_garment::{Draft, FitFault, SeamSide, Sized};

use super::fit_format::{AllowanceEntry, AlterEntry, LengthenEntry, WidenEntry};
use crate::{
    document::{At, Name},
    findings::Findings,
};

/// Notes every name that is not in the pattern, which was read without a fault.
pub(super) fn note_unknown(entry: &AlterEntry, pattern: &Sized, findings: &mut Findings) {
    // The marks of a piece have the same names in all of its sizes.
    let drafts: Vec<&Draft> = pattern.pieces.iter().filter_map(|piece| piece.drafts.first()).collect();
    for at in entry.lengthen.iter().flat_map(|listed| &listed.value) {
        note_all(line(&at.value, &drafts), &at.span, findings);
    }
    for at in entry.widen.iter().flat_map(|listed| &listed.value) {
        note_all(seam(&at.value, pattern), &at.span, findings);
    }
    for at in entry.allowances.iter().flat_map(|listed| &listed.value) {
        note_all(edge(&at.value, &drafts), &at.span, findings);
    }
}

fn note_all(faults: impl IntoIterator<Item = FitFault>, span: &Range<usize>, findings: &mut Findings) {
    faults.into_iter().for_each(|fault| findings.add(span, fault));
}

fn line(entry: &LengthenEntry, drafts: &[&Draft]) -> Vec<FitFault> {
    let Some(Name(line)) = entry.line.as_ref().map(|line| &line.value) else { return Vec::new() };
    let unknown = |piece: Option<&Draft>, known: Vec<String>| FitFault::UnknownLine {
        piece: piece.map(|piece| piece.name.clone()),
        line: line.clone(),
        known,
    };
    let Some(only) = entry.pieces.as_ref().filter(|only| !only.value.is_empty()) else {
        let known = once_each(drafts.iter().flat_map(|draft| draft.lines.keys()));
        return if known.contains(line) { Vec::new() } else { vec![unknown(None, known)] };
    };
    let of_piece = |name: &At<Name>| match piece(name, drafts) {
        Ok(draft) if draft.lines.contains_key(line) => None,
        Ok(draft) => Some(unknown(Some(draft), draft.lines.keys().cloned().collect())),
        Err(fault) => Some(fault),
    };
    only.value.iter().filter_map(of_piece).collect()
}

fn seam(entry: &WidenEntry, pattern: &Sized) -> Option<FitFault> {
    let Name(name) = &entry.seam.as_ref()?.value;
    let has_edges = |side: &SeamSide| !side.edges.is_empty();
    let with_edges = pattern.seams.iter().filter(|seam| std::iter::once(&seam.a).chain(&seam.b).all(has_edges));
    let known: Vec<String> = with_edges.map(|seam| seam.name.clone()).collect();
    (!known.contains(name)).then(|| FitFault::UnknownSeam { seam: name.clone(), known })
}

fn edge(entry: &AllowanceEntry, drafts: &[&Draft]) -> Option<FitFault> {
    let Name(name) = &entry.edge.as_ref()?.value;
    let of_piece = match entry.piece.as_ref().map(|name| piece(name, drafts)) {
        Some(Ok(draft)) => Some(draft),
        Some(Err(fault)) => return Some(fault),
        None => None,
    };
    let among: Vec<&Draft> = of_piece.map_or_else(|| drafts.to_vec(), |draft| vec![draft]);
    let edges = among.into_iter().flat_map(|draft| &draft.edges).map(|edge| &edge.name);
    let known = once_each(edges.filter(|name| !name.is_empty()));
    let piece = of_piece.map(|draft| draft.name.clone());
    (!known.contains(name)).then(|| FitFault::UnknownEdge { piece, edge: name.clone(), known })
}

fn piece<'d>(name: &At<Name>, drafts: &[&'d Draft]) -> Result<&'d Draft, FitFault> {
    let Name(piece) = &name.value;
    drafts.iter().copied().find(|draft| draft.name == *piece).ok_or_else(|| FitFault::UnknownPiece {
        piece: piece.clone(),
        known: drafts.iter().map(|draft| draft.name.clone()).collect(),
    })
}

/// Sorted, each once.
fn once_each<'n>(names: impl Iterator<Item = &'n String>) -> Vec<String> {
    let mut names: Vec<String> = names.cloned().collect();
    names.sort();
    names.dedup();
    names
}
