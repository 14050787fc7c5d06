//! Pieces that are picked from a drawing: each becomes the piece it would be if it were typed, before anything else is made of the pattern.
//!
//! The drawing is read and understood once ([`drawing`]). Every piece takes its outline, sides and marks from there in each size ([`entry`]);
//! what the pattern itself says of a piece goes before what the drawing shows.

mod drawing;
mod entry;
mod sides;

use std::ops::Range;

use ellwand_trace::{FoundPiece, LineKind, Remark, Understood};

use super::{
    drawing_format::{DrawingEntry, DrawnEntry},
    format::{CoordinateUnit, PatternFile, PieceEntry, SeamAllowance},
    picked_format::{DrawingFileEntry, OutlineWord, PickWord},
};
use crate::{
    Shelf,
    document::{At, Name},
    fault::PickedFault,
    findings::Findings,
    note::NoteKind,
};
pub(crate) use drawing::{grades_of, hints_of};
use entry::Picked;

/// Writes out every piece that is picked. One that cannot be is left as it is, with the fault noted.
pub(super) fn write_out(file: &mut PatternFile, shelf: Option<&dyn Shelf>, findings: &mut Findings) {
    let unit = file.coordinates.as_ref().map_or(CoordinateUnit::Mm, |unit| unit.value);
    let sizes = sizes_of(file);
    let Some(pieces) = &mut file.piece else { return };
    let picks = |piece: &At<PieceEntry>| piece.value.picked.pick.is_some();
    for piece in pieces.value.iter().filter(|piece| !picks(piece)) {
        note_strays(&piece.value, findings);
    }
    if !pieces.value.iter().any(picks) {
        return;
    }
    let Some(named) = &file.drawing else {
        for piece in pieces.value.iter().filter(|piece| picks(piece)) {
            let fault = PickedFault::NoDrawing { piece: name_of(&piece.value) };
            findings.add(&piece.value.picked.pick.as_ref().map_or(0..0, |pick| pick.span.clone()), fault);
        }
        return;
    };
    let entry = &named.value.0;
    let Some(understood) = drawing::understood(named, shelf, findings) else { return };
    let Some(sizes) = drawing::sizes(entry, &sizes, &understood, findings) else { return };
    let mut taken: Vec<(usize, String)> = Vec::new();
    let task = Task { understood: &understood, drawing: entry, unit, sizes: &sizes };
    for piece in &mut pieces.value {
        if let Some(pick) = piece.value.picked.pick.clone() {
            let before = findings.count();
            let name = name_of(&piece.value);
            if let Some(number) = task.write_out(&mut piece.value, &pick, findings) {
                match taken.iter().find(|(of, _)| *of == number) {
                    Some((_, other)) => {
                        // A lining may be cut from the outline of its shell.
                        let remark = format!("it is picked from the same outline as `{other}`");
                        findings.note(&pick.span, NoteKind::Picked { piece: name, remark });
                    }
                    None => taken.push((number, name)),
                }
            }
            if findings.count() > before {
                // Of a piece that cannot be picked nothing more is said.
                forget(&mut piece.value);
            }
        }
    }
}

/// Takes away what only makes sense on a piece that was picked.
fn forget(piece: &mut PieceEntry) {
    piece.drawing = DrawingEntry::default();
    (piece.fold_edge, piece.allowances, piece.corners) = (None, None, None);
    for cut in piece.cut.iter_mut().flat_map(|cut| &mut cut.value) {
        cut.value.on_fold = None;
    }
}

/// What the picking of a piece needs to know.
struct Task<'a> {
    understood: &'a Understood,
    drawing: &'a DrawingFileEntry,
    unit: CoordinateUnit,
    /// Every size of the pattern, and which of the drawing it is.
    sizes: &'a [PatternSize],
}

/// A size of the pattern.
struct PatternSize {
    name: Name,
    figure: Option<Name>,
    /// Its number in the drawing; none where the drawing does not have it.
    drawn: Option<usize>,
    span: Range<usize>,
}

impl Task<'_> {
    /// Writes a piece out, and tells the number of the piece of the drawing.
    fn write_out(&self, piece: &mut PieceEntry, pick: &At<PickWord>, findings: &mut Findings) -> Option<usize> {
        let name = name_of(piece);
        if let Some((key, span)) = drawn_keys(piece) {
            findings.add(&span, PickedFault::DrawnToo { piece: name.clone(), key });
            return None;
        }
        let found = self.find(pick, findings)?;
        let draws_both = matches!(found.drawn[0].kind, LineKind::Both { .. });
        if !draws_both && piece.seam_allowance.is_none() {
            piece.seam_allowance.clone_from(&self.drawing.seam_allowance);
        }
        let outline = self.drawing.outline.as_ref().map(|outline| outline.value);
        let is_cutting = match found.drawn[0].kind {
            LineKind::Cutting => true,
            LineKind::Unsaid => outline == Some(OutlineWord::Cutting),
            _ => false,
        };
        if is_cutting && piece.seam_allowance.is_none() {
            // What is cut is known; where it is sewn is not.
            let value = SeamAllowance::Included(super::format::Included::Included);
            piece.seam_allowance = Some(At { value, span: pick.span.clone(), sound: true });
            let remark = "its outline is its cutting line, and nothing tells how much of it is allowance; girths and matches are taken at the cutting line".to_owned();
            findings.note(&pick.span, NoteKind::Picked { piece: name.clone(), remark });
        }
        self.note_remarks(&name, found, &pick.span, findings);
        if !self.tells_its_line(piece, &name, found, pick, findings) {
            return None;
        }
        let before = findings.count();
        let sides = sides::named(piece, &name, found, pick, findings)?;
        let picked = Picked { piece, name: &name, pick, sides: &sides, unit: self.unit };
        // Drawn once for all sizes; a piece that is drawn in one size only is missing in the others.
        if found.drawn.len() == 1 && found.in_sizes.len() == self.understood.sizes.len() {
            let drawing = picked.entry(&found.drawn[0], findings);
            if findings.count() == before {
                piece.drawing = drawing;
            }
        } else {
            let drawn = self.in_sizes(&picked, found, findings);
            if findings.count() == before {
                piece.drawing = DrawingEntry::default();
                piece.drawn = drawn;
            }
        }
        if findings.count() == before {
            self.settle(piece, found);
        }
        Some(found.number)
    }

    /// Its drawing in every size of the pattern.
    fn in_sizes(
        &self,
        picked: &Picked<'_>,
        found: &FoundPiece,
        findings: &mut Findings,
    ) -> Option<At<Vec<At<DrawnEntry>>>> {
        let has = |size: &&PatternSize| size.drawn.and_then(|drawn| found.in_size(drawn)).is_some();
        let missing: Vec<String> =
            self.sizes.iter().filter(|size| !has(size)).map(|size| size.name.0.clone()).collect();
        if !missing.is_empty() {
            let known = found.in_sizes.iter().map(|&size| self.understood.sizes[size].name.to_string()).collect();
            let fault = PickedFault::NotInSize { piece: picked.name.to_owned(), missing, known };
            findings.add(&picked.pick.span, fault);
            return None;
        }
        let mut told = findings.of_the_same_file();
        let entries = self.sizes.iter().filter_map(|size| {
            let drawing = picked.entry(found.in_size(size.drawn?)?, &mut told);
            let at = |name: &Name| At { value: name.clone(), span: size.span.clone(), sound: true };
            let value = DrawnEntry { size: Some(at(&size.name)), figure: size.figure.as_ref().map(at), drawing };
            Some(At { value, span: picked.pick.span.clone(), sound: true })
        });
        let value = entries.collect();
        // What is wrong in several sizes alike is told once.
        findings.add_new(told);
        Some(At { value, span: picked.pick.span.clone(), sound: true })
    }

    /// The piece that is meant.
    fn find(&self, pick: &At<PickWord>, findings: &mut Findings) -> Option<&FoundPiece> {
        let pieces = &self.understood.pieces;
        let known = || {
            let called = |piece: &FoundPiece| {
                piece.names.first().cloned().unwrap_or_else(|| around(piece, self.understood.scaled))
            };
            pieces.iter().map(called).collect::<Vec<String>>()
        };
        match &pick.value {
            PickWord::Called(asked) => {
                let best: Vec<&FoundPiece> =
                    pieces.iter().filter(|piece| piece.names.first().is_some_and(|name| same(name, asked))).collect();
                let any: Vec<&FoundPiece> =
                    pieces.iter().filter(|piece| piece.names.iter().any(|name| same(name, asked))).collect();
                let found = if best.is_empty() { any } else { best };
                match found.as_slice() {
                    [only] => Some(only),
                    [] => {
                        findings.add(&pick.span, PickedFault::NoSuchPiece { asked: asked.clone(), known: known() });
                        None
                    }
                    several => {
                        let points = several.iter().map(|piece| around(piece, self.understood.scaled)).collect();
                        let fault = PickedFault::SeveralPieces { asked: asked.clone(), count: several.len(), points };
                        findings.add(&pick.span, fault);
                        None
                    }
                }
            }
            PickWord::Around(pair) => {
                let [x, y] = pair.0.map(|coordinate| coordinate.mm(self.unit.mm()));
                let at = ellwand_geometry::point(x, y) * self.understood.scaled;
                // The smallest that holds the point: a pocket may lie within a front.
                let holding = pieces.iter().filter(|piece| piece.holds(at));
                let found = holding.min_by(|a, b| a.area().total_cmp(&b.area()));
                if found.is_none() {
                    let asked = format!("around [{x}, {y}]");
                    findings.add(&pick.span, PickedFault::NoSuchPiece { asked, known: known() });
                }
                found
            }
        }
    }

    /// Whether it is known which line its outline is; noted if not.
    fn tells_its_line(
        &self,
        piece: &PieceEntry,
        name: &str,
        found: &FoundPiece,
        pick: &At<PickWord>,
        findings: &mut Findings,
    ) -> bool {
        let outline = self.drawing.outline.as_ref().map(|outline| outline.value);
        let kind = &found.drawn[0].kind;
        let same = |drawn: &ellwand_trace::Traced| std::mem::discriminant(&drawn.kind) == std::mem::discriminant(kind);
        if !found.drawn.iter().all(same) {
            findings.add(&pick.span, PickedFault::LinesDiffer { piece: name.to_owned() });
            return false;
        }
        let is_seam =
            matches!(kind, LineKind::Seam) || matches!(kind, LineKind::Unsaid) && outline == Some(OutlineWord::Seam);
        match (&piece.seam_allowance, kind) {
            (Some(allowance), _) if is_seam && !matches!(allowance.value, SeamAllowance::Depth(_)) => {
                findings.add(&allowance.span, PickedFault::SeamLine { piece: name.to_owned() });
                false
            }
            (Some(allowance), LineKind::Both { .. }) if !matches!(allowance.value, SeamAllowance::Depth(_)) => {
                findings.add(&allowance.span, PickedFault::SeamLine { piece: name.to_owned() });
                false
            }
            (Some(_), _) | (None, LineKind::Both { .. }) => true,
            (None, _) => {
                findings.add(&pick.span, PickedFault::WhichLine { piece: name.to_owned() });
                false
            }
        }
    }

    /// Keys that were taken into the drawing are done with.
    fn settle(&self, piece: &mut PieceEntry, found: &FoundPiece) {
        if matches!(found.drawn[0].kind, LineKind::Both { .. }) && piece.seam_allowance.is_none() {
            let zero = SeamAllowance::Depth(crate::Length::measured(0.0));
            let span = piece.picked.pick.as_ref().map_or(0..0, |pick| pick.span.clone());
            piece.seam_allowance = Some(At { value: zero, span, sound: true });
        }
        piece.allowances = None;
        piece.corners = None;
        piece.fold_edge = None;
    }

    fn note_remarks(&self, name: &str, found: &FoundPiece, span: &Range<usize>, findings: &mut Findings) {
        let is_confirmed =
            |remark: &Remark| matches!(remark, Remark::CutNotches { .. }) && self.drawing.cut_notches.is_some();
        for remark in found.remarks.iter().filter(|remark| !is_confirmed(remark)) {
            let tell = matches!(
                remark.plain(),
                Remark::Bridged { .. }
                    | Remark::CornersDiffer
                    | Remark::Doubled { .. }
                    | Remark::ParallelLines
                    | Remark::CuttingLineStrays { .. }
                    | Remark::UnevenAllowance { .. }
                    | Remark::MarksDiffer { .. }
                    | Remark::CutNotches { .. }
                    | Remark::SharedEdge { .. }
                    | Remark::SizesByOrder
                    | Remark::SizesUntold { .. }
                    | Remark::MoreLines { .. }
                    | Remark::NoSizeName { .. }
                    | Remark::NotInAllSizes { .. }
            );
            if tell {
                findings.note(span, NoteKind::Picked { piece: name.to_owned(), remark: remark.to_string() });
            }
        }
    }
}

fn same(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

fn around(piece: &FoundPiece, scaled: f64) -> String {
    let at = piece.inside * (1.0 / scaled);
    format!("[{:.1}, {:.1}]", at.x, at.y)
}

fn name_of(piece: &PieceEntry) -> String {
    piece.name.as_ref().map_or_else(|| "without a name".to_owned(), |name| name.value.0.clone())
}

/// Every size of the pattern with its place.
fn sizes_of(file: &PatternFile) -> Vec<(Name, Option<Name>, Range<usize>)> {
    let listed = file.size.iter().flat_map(|sizes| &sizes.value);
    let named = listed.filter_map(|size| {
        let figure = size.value.figure.as_ref().map(|figure| figure.value.clone());
        let name = size.value.name.as_ref()?;
        Some((name.value.clone(), figure, name.span.clone()))
    });
    let only =
        file.sizes.iter().flat_map(|sizes| &sizes.value).map(|size| (size.value.clone(), None, size.span.clone()));
    named.chain(only).collect()
}

/// Keys of a picked piece on one that is not.
fn note_strays(piece: &PieceEntry, findings: &mut Findings) {
    let keys = [
        ("sides", piece.picked.sides.as_ref().map(|at| &at.span)),
        ("pressed", piece.picked.pressed.as_ref().map(|at| &at.span)),
    ];
    for (key, span) in keys {
        if let Some(span) = span {
            findings.add(span, PickedFault::NotPicked { piece: name_of(piece), key });
        }
    }
}

/// Keys that draw a piece in another way.
fn drawn_keys(piece: &PieceEntry) -> Option<(&'static str, Range<usize>)> {
    let keys = [
        ("start", piece.drawing.start.as_ref().map(|at| &at.span)),
        ("edges", piece.drawing.edges.as_ref().map(|at| &at.span)),
        ("shape", piece.shape.as_ref().map(|at| &at.span)),
        ("drawn", piece.drawn.as_ref().map(|at| &at.span)),
        ("like", piece.likeness.like.as_ref().map(|at| &at.span)),
        ("grain_along", piece.grain_along.as_ref().map(|at| &at.span)),
        ("darts", piece.drawing.darts.as_ref().map(|at| &at.span)),
    ];
    keys.into_iter().find_map(|(key, span)| Some((key, span?.clone())))
}
