//! Corners of an outline, marks and darts that lie elsewhere.
//!
//! The control points of a curve go along with the end they belong to, so that an edge leaves a moved corner in the direction it had; the
//! point that an arc passes through goes half the way of both ends together.

use std::ops::Range;

use ellwand_geometry::{EdgeShape, Point, point};

use super::{
    super::{dart_format::DartEntry, drawing_format::DrawingEntry, like_format::MoveEntry},
    Task, carry,
    outline::{Outline, own_place, place, set},
};
use crate::{
    document::{At, Name, Pair},
    fault::LikeTrouble,
    findings::Findings,
};

/// A drawing, and which one it is.
#[derive(Clone, Copy)]
pub(super) struct Which<'a> {
    /// Its size; none of a piece that is drawn once.
    pub(super) size: Option<&'a str>,
    /// Its figure type, where it is said.
    pub(super) figure: Option<&'a str>,
}

/// Whether an entry is for this drawing; none when it is at fault.
pub(super) fn is_for(entry: &MoveEntry, which: Which<'_>, task: &Task<'_>, findings: &mut Findings) -> Option<bool> {
    let of_some = [entry.sizes.as_ref().map(|sizes| &sizes.span), entry.figure.as_ref().map(|figure| &figure.span)];
    let Some(size) = which.size else {
        if let Some(span) = of_some.into_iter().flatten().next() {
            task.fault(span, LikeTrouble::DrawnOnce, findings);
            return None;
        }
        return Some(true);
    };
    let before = findings.count();
    for name in entry.sizes.iter().flat_map(|sizes| &sizes.value) {
        if !task.sizes.iter().any(|(known, _)| *known == name.value.0) {
            let mut known: Vec<String> = task.sizes.iter().map(|(name, _)| name.clone()).collect();
            known.sort();
            known.dedup();
            task.fault(&name.span, LikeTrouble::UnknownSize { size: name.value.0.clone(), known }, findings);
        }
    }
    if let Some(figure) = &entry.figure {
        let known: Vec<String> = task.sizes.iter().filter_map(|(_, figure)| figure.clone()).collect();
        if !known.contains(&figure.value.0) {
            return task.unknown("figure type", figure, known, findings);
        }
    }
    if findings.count() > before {
        return None;
    }
    let in_size = entry.sizes.as_ref().is_none_or(|sizes| sizes.value.iter().any(|name| name.value.0 == size));
    // A drawing without a figure type is that of the only one.
    let figure_of =
        |size: &str| task.sizes.iter().find(|(name, _)| name == size).and_then(|(_, figure)| figure.clone());
    let figure = which.figure.map(str::to_owned).or_else(|| figure_of(size));
    Some(in_size && entry.figure.as_ref().is_none_or(|wanted| figure.as_ref() == Some(&wanted.value.0)))
}

/// Moves the corners that an entry names.
pub(super) fn corners(
    outline: &mut Outline,
    at: &At<MoveEntry>,
    task: &Task<'_>,
    findings: &mut Findings,
) -> Option<()> {
    let entry = &at.value;
    let by = own_place(entry.by.as_ref()?, task.unit, findings)?;
    let names = [&entry.edges, &entry.points, &entry.darts, &entry.dart_points];
    if names.iter().all(|names| names.as_ref().is_none_or(|names| names.value.is_empty()))
        && entry.corners.as_ref().is_none_or(|corners| corners.value.is_empty())
    {
        task.fault(&at.span, LikeTrouble::MovesNothing, findings);
        return None;
    }
    let count = outline.edges.len();
    // Of the corners each is where the edge of its number ends.
    let mut moved = vec![false; count];
    for name in entry.edges.iter().flat_map(|edges| &edges.value) {
        if outline.find(&name.value.0).is_none() {
            return task.unknown("edge", name, outline.names(), findings);
        }
        for edge in (0..count).filter(|&edge| outline.edges[edge].name() == name.value.0) {
            (moved[edge], moved[(edge + count - 1) % count]) = (true, true);
        }
    }
    for corner in entry.corners.iter().flat_map(|corners| &corners.value) {
        for end in find_corners(outline, corner, task, findings)? {
            moved[end] = true;
        }
    }
    shift(outline, &moved, by, &at.span);
    Some(())
}

/// The corners where edges of two names meet: most often one.
fn find_corners(
    outline: &Outline,
    corner: &At<Vec<At<Name>>>,
    task: &Task<'_>,
    findings: &mut Findings,
) -> Option<Vec<usize>> {
    let [first, second] = corner.value.as_slice() else {
        task.fault(&corner.span, LikeTrouble::NotTwoEdges { found: corner.value.len() }, findings);
        return None;
    };
    for name in [first, second] {
        if outline.find(&name.value.0).is_none() {
            return task.unknown("edge", name, outline.names(), findings);
        }
    }
    let count = outline.edges.len();
    let name = |edge: usize| outline.edges[edge % count].name();
    let pair = [first.value.0.as_str(), second.value.0.as_str()];
    let meet = |ends: &usize| {
        let found = [name(*ends), name(*ends + 1)];
        found == pair || found == [pair[1], pair[0]]
    };
    let found: Vec<usize> = (0..count).filter(meet).collect();
    if found.is_empty() {
        let edge = outline.find(pair[0]).unwrap_or(0);
        let beside = [edge + count - 1, edge + 1].map(|edge| name(edge).to_owned());
        let beside = beside.into_iter().filter(|name| !name.is_empty()).collect();
        let (first, second) = (pair[0].to_owned(), pair[1].to_owned());
        task.fault(&corner.span, LikeTrouble::NoCorner { first, second, beside }, findings);
        return None;
    }
    Some(found)
}

/// Moves corners, and what bends the edges between them.
fn shift(outline: &mut Outline, moved: &[bool], by: Point, span: &Range<usize>) {
    let count = outline.edges.len();
    let none = point(0.0, 0.0);
    for (edge, line) in outline.edges.iter_mut().enumerate() {
        let of = |corner: usize| if moved[corner] { by } else { none };
        let (start, end) = (of((edge + count - 1) % count), of(edge));
        if start == none && end == none {
            continue;
        }
        line.to = line.to + end;
        line.shape = match line.shape {
            EdgeShape::Straight => EdgeShape::Straight,
            EdgeShape::Cubic { first, second } => EdgeShape::Cubic { first: first + start, second: second + end },
            EdgeShape::Arc { through } => EdgeShape::Arc { through: through + (start + end) / 2.0 },
        };
        line.entry.span = span.clone();
    }
    if moved[count - 1] {
        outline.start = outline.start + by;
    }
}

/// Moves the marks and darts that the entries name, from where they are in `drawn`, that of the other piece.
pub(super) fn marks(
    drawing: &mut DrawingEntry,
    drawn: &DrawingEntry,
    entries: &[&At<MoveEntry>],
    task: &Task<'_>,
    findings: &mut Findings,
) -> Option<()> {
    let unit = task.unit;
    for at in entries {
        // What is named moves by what is said and not with the outline.
        each_named(drawing, drawn, &at.value, task, findings, |to, from| set(to, place(from, unit), unit))?;
    }
    for at in entries {
        let by = own_place(at.value.by.as_ref()?, unit, findings)?;
        each_named(drawing, drawn, &at.value, task, findings, |to, _| set(to, place(to, unit) + by, unit))?;
    }
    Some(())
}

/// Visits every place that an entry names, and the same place of the other piece.
fn each_named(
    drawing: &mut DrawingEntry,
    drawn: &DrawingEntry,
    entry: &MoveEntry,
    task: &Task<'_>,
    findings: &mut Findings,
    mut visit: impl FnMut(&mut At<Pair>, &At<Pair>),
) -> Option<()> {
    for name in entry.points.iter().flat_map(|points| &points.value) {
        if carry::mark(drawn, &name.value.0).is_none() {
            return task.unknown("notch or point", name, carry::marks(drawn), findings);
        }
        let notches = drawing.notches.iter_mut().flat_map(|notches| &mut notches.value);
        for (to, from) in notches.zip(drawn.notches.iter().flat_map(|notches| &notches.value)) {
            let called = to.value.name.as_ref().is_some_and(|of| of.value == name.value);
            if let (true, Some(to), Some(from)) = (called, &mut to.value.at, &from.value.at) {
                visit(to, from);
            }
        }
        let points = drawing.points.iter_mut().flat_map(|points| &mut points.value.0);
        for ((of, to), (_, from)) in points.zip(drawn.points.iter().flat_map(|points| &points.value.0)) {
            if of.value == name.value.0 {
                visit(to, from);
            }
        }
    }
    let whole = entry.darts.iter().flat_map(|darts| &darts.value).map(|name| (name, true));
    let points = entry.dart_points.iter().flat_map(|darts| &darts.value).map(|name| (name, false));
    for (name, is_whole) in whole.chain(points) {
        let called = |of: &At<DartEntry>| of.value.name.as_ref().is_some_and(|of| of.value == name.value);
        let (Some(from), Some(dart)) = (
            drawn.darts.iter().flat_map(|darts| &darts.value).find(|dart| called(dart)),
            drawing.darts.iter_mut().flat_map(|darts| &mut darts.value).find(|dart| called(dart)),
        ) else {
            let darts = drawn.darts.iter().flat_map(|darts| &darts.value);
            let known = darts.filter_map(|dart| Some(dart.value.name.as_ref()?.value.0.clone())).collect();
            return task.unknown("dart", name, known, findings);
        };
        if let (Some(to), Some(from)) = (&mut dart.value.point, &from.value.point) {
            visit(to, from);
        }
        let legs = [(&mut dart.value.points, &from.value.points), (&mut dart.value.legs, &from.value.legs)];
        for (to, from) in legs.into_iter().take(if is_whole { 2 } else { 1 }) {
            let from = from.iter().flat_map(|list| &list.value);
            to.iter_mut().flat_map(|list| &mut list.value).zip(from).for_each(|(to, from)| visit(to, from));
        }
    }
    Some(())
}
