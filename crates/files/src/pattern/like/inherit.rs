//! What a piece takes over from the one it is like, and what its own keys replace.

use std::ops::Range;

use super::{
    super::{
        dart_format::DartEntry,
        drawing_format::{DrawingEntry, NotchEntry},
        format::{PieceEntry, SeamAllowance},
        like_format::{ChangeEntry, LikeKeys, MoveEntry},
    },
    Task, carry, join,
    outline::Outline,
    run,
    shift::{self, Which},
};
use crate::{
    document::{At, FromToml, Name, Named},
    fault::{DocumentFault, LikeTrouble},
    findings::Findings,
};

/// How many coordinates and marks a piece has in all its drawings together.
pub(super) fn count(piece: &PieceEntry) -> usize {
    let of = |drawing: &DrawingEntry| {
        let named = drawing.points.as_ref().map_or(0, |points| points.value.0.len());
        let heights = [&drawing.levels, &drawing.lines].into_iter().flatten().map(|heights| heights.value.0.len());
        drawing.edges.as_ref().map_or(0, |edges| edges.value.len())
            + drawing.notches.as_ref().map_or(0, |notches| notches.value.len())
            + drawing.darts.as_ref().map_or(0, |darts| darts.value.len())
            + named
            + heights.sum::<usize>()
    };
    let drawn = piece.drawn.iter().flat_map(|drawn| &drawn.value).map(|drawn| 1 + of(&drawn.value.drawing));
    of(&piece.drawing) + drawn.sum::<usize>()
}

/// The changes of a piece that it says, by their keys.
pub(super) fn changes(keys: &LikeKeys) -> Vec<(&'static str, &Range<usize>)> {
    let listed = [
        ("instead", keys.instead.as_ref().map(|at| &at.span)),
        ("move", keys.moves.as_ref().map(|at| &at.span)),
        ("change", keys.change.as_ref().map(|at| &at.span)),
        ("joined", keys.joined.as_ref().map(|at| &at.span)),
        ("without", keys.without.as_ref().map(|at| &at.span)),
    ];
    listed.into_iter().filter_map(|(key, span)| Some((key, span?))).collect()
}

/// The piece as it would be written without `like`; none when something is at fault.
pub(super) fn write_out(
    base: &PieceEntry,
    own: &PieceEntry,
    task: &Task<'_>,
    findings: &mut Findings,
) -> Option<PieceEntry> {
    let before = findings.count();
    let mut piece = PieceEntry {
        name: own.name.clone(),
        likeness: own.likeness.clone(),
        cut: own.cut.clone().or_else(|| base.cut.clone()),
        grain: own.grain.clone().or_else(|| base.grain.clone()),
        seam_allowance: own.seam_allowance.clone().or_else(|| base.seam_allowance.clone()),
        sized_by: own.sized_by.clone().or_else(|| base.sized_by.clone()),
        pieced: own.pieced.clone().or_else(|| base.pieced.clone()),
        join_allowance: own.join_allowance.clone().or_else(|| base.join_allowance.clone()),
        ..base.clone()
    };
    take_drawing(&mut piece, own);
    measured_keys(&mut piece, own);
    if let Some(drawn) = &mut piece.drawn
        && own.drawn.is_none()
    {
        drawn.span = task.place.clone();
        for at in &mut drawn.value {
            at.span = task.place.clone();
        }
    }
    let is_drawn = piece.shape.is_none();
    if !is_drawn {
        note_measured(own, task, findings);
        merge(&mut piece.drawing, &own.drawing);
        leave_out(&mut piece.drawing, own, task, findings);
    } else if piece.drawn.is_some() && own.drawn.is_none() {
        for at in piece.drawn.iter_mut().flat_map(|drawn| &mut drawn.value) {
            let mut of_size = findings.of_the_same_file();
            let (size, figure) = (at.value.size.as_ref(), at.value.figure.as_ref());
            let which = Which {
                size: size.map(|size| size.value.0.as_str()),
                figure: figure.map(|figure| figure.value.0.as_str()),
            };
            change_drawing(&mut at.value.drawing, own, which, task, &mut of_size);
            // What is wrong in several sizes alike is told once.
            findings.add_new(of_size);
        }
    } else if own.drawn.is_none() {
        change_drawing(&mut piece.drawing, own, Which { size: None, figure: None }, task, findings);
    }
    if is_drawn && own.drawn.is_some() {
        for (key, span) in changes(&own.likeness).into_iter().filter(|(key, _)| *key != "joined") {
            task.fault(span, LikeTrouble::DrawnAnew { key }, findings);
        }
    }
    if is_drawn {
        note_incomplete(&piece, task, findings);
    }
    if let Some(joined) = &own.likeness.joined {
        join::lay_on_fold(&mut piece, base, own, joined, task, findings);
    }
    (findings.count() == before).then_some(piece)
}

/// The way a piece is drawn is its own when it says one.
fn take_drawing(piece: &mut PieceEntry, own: &PieceEntry) {
    let measured = piece.shape.is_some();
    if own.shape.is_some() {
        if !measured {
            piece.drawing = DrawingEntry::default();
        }
        (piece.shape, piece.drawn) = (own.shape.clone(), None);
    } else if own.drawn.is_some() {
        piece.drawn = own.drawn.clone();
        piece.drawing = own.drawing.clone();
        piece.shape = None;
    } else if own.drawing.edges.is_some() || own.drawing.start.is_some() {
        piece.shape = None;
    }
    if measured && piece.shape.is_none() {
        (piece.grain_along, piece.fold_edge, piece.allowances, piece.corners) = (None, None, None, None);
    }
}

/// Keys of a measured piece: sides are told one by one.
fn measured_keys(piece: &mut PieceEntry, own: &PieceEntry) {
    piece.grain_along = own.grain_along.clone().or_else(|| piece.grain_along.take());
    piece.fold_edge = own.fold_edge.clone().or_else(|| piece.fold_edge.take());
    merge_named(&mut piece.allowances, &own.allowances);
    merge_named(&mut piece.corners, &own.corners);
}

/// Notes changes of edges on a measured piece.
fn note_measured(own: &PieceEntry, task: &Task<'_>, findings: &mut Findings) {
    for (key, span) in changes(&own.likeness).into_iter().filter(|(key, _)| !matches!(*key, "joined" | "without")) {
        task.fault(span, LikeTrouble::Measured { key }, findings);
    }
}

/// A piece that has become a drawn one needs what a drawn one needs.
fn note_incomplete(piece: &PieceEntry, task: &Task<'_>, findings: &mut Findings) {
    let of = "a piece without a measured `shape`";
    let mut missing = |key: &'static str, expected: &'static str| {
        findings.add(task.place, DocumentFault::MissingKey { key, of, expected });
    };
    if piece.seam_allowance.is_none() {
        missing("seam_allowance", SeamAllowance::EXPECTED);
    }
    if piece.drawn.is_none() {
        if piece.drawing.grainline.is_none() {
            missing("grainline", <Vec<At<crate::document::Pair>>>::EXPECTED);
        }
        if piece.drawing.start.is_none() {
            missing("start", crate::document::Pair::EXPECTED);
        }
        if piece.drawing.edges.is_none() {
            missing("edges", <Vec<At<crate::document::Pair>>>::EXPECTED);
        }
    }
}

/// Everything that is other on one drawing.
fn change_drawing(
    drawing: &mut DrawingEntry,
    own: &PieceEntry,
    which: Which<'_>,
    task: &Task<'_>,
    findings: &mut Findings,
) -> Option<()> {
    let keys = &own.likeness;
    stand_at(drawing, task.place);
    if own.drawing.edges.is_some() {
        drawing.edges = own.drawing.edges.clone();
    }
    if own.drawing.start.is_some() {
        drawing.start = own.drawing.start.clone();
    }
    let drawn = drawing.clone();
    if let Some(was) = Outline::of(&drawn, task.unit) {
        let mut outline = was.clone();
        for at in keys.instead.iter().flat_map(|entries| &entries.value) {
            run::replace(&mut outline, at, &drawn, task, findings)?;
        }
        let mut moves = Vec::new();
        for at in keys.moves.iter().flat_map(|entries| &entries.value) {
            if shift::is_for(&at.value, which, task, findings)? {
                shift::corners(&mut outline, at, task, findings)?;
                moves.push(at);
            }
        }
        note_moved_and_given(&moves, &own.drawing, task, findings)?;
        if keys.instead.is_some() || keys.moves.is_some() {
            carry::along(drawing, &was, &outline, task.unit);
            shift::marks(drawing, &drawn, &moves, task, findings)?;
        }
        for at in keys.change.iter().flat_map(|entries| &entries.value) {
            change_edge(&mut outline, at, task, findings)?;
        }
        outline.put_into(drawing, task.place, task.unit);
    }
    merge(drawing, &own.drawing);
    leave_out(drawing, own, task, findings);
    Some(())
}

/// Notes marks that a piece moves and also places itself; none when there are some.
fn note_moved_and_given(
    moves: &[&At<MoveEntry>],
    own: &DrawingEntry,
    task: &Task<'_>,
    findings: &mut Findings,
) -> Option<()> {
    let moved = moves.iter().flat_map(|at| &at.value.points).flat_map(|points| &points.value);
    let given: Vec<&At<Name>> = moved.filter(|name| carry::mark(own, &name.value.0).is_some()).collect();
    for name in &given {
        task.fault(&name.span, LikeTrouble::MovedAndGiven { name: name.value.0.clone() }, findings);
    }
    given.is_empty().then_some(())
}

/// Name, allowance and corner of the edges of a name, and whether they lie on the fold.
fn change_edge(outline: &mut Outline, at: &At<ChangeEntry>, task: &Task<'_>, findings: &mut Findings) -> Option<()> {
    let change = &at.value;
    let edge = change.edge.as_ref()?;
    if outline.find(&edge.value.0).is_none() {
        return task.unknown("edge", edge, outline.names(), findings);
    }
    for line in outline.edges.iter_mut().filter(|line| line.name() == edge.value.0) {
        let entry = &mut line.entry;
        entry.span = at.span.clone();
        let of = &mut entry.value;
        if change.fold.as_ref().is_some_and(|fold| fold.value) {
            (of.allowance, of.corner) = (None, None);
        }
        of.name = change.name.clone().or_else(|| of.name.take());
        of.allowance = change.allowance.clone().or_else(|| of.allowance.take());
        of.corner = change.corner.clone().or_else(|| of.corner.take());
        of.fold = change.fold.clone().or_else(|| of.fold.take());
    }
    Some(())
}

/// What is taken over stands where the piece says what it is like.
fn stand_at(drawing: &mut DrawingEntry, place: &Range<usize>) {
    fn each<T>(list: &mut Option<At<Vec<At<T>>>>, place: &Range<usize>) {
        for at in list.iter_mut().flat_map(|list| &mut list.value) {
            at.span = place.clone();
        }
    }
    if let Some(grainline) = &mut drawing.grainline {
        grainline.span = place.clone();
    }
    each(&mut drawing.edges, place);
    each(&mut drawing.notches, place);
    each(&mut drawing.darts, place);
    for notch in drawing.notches.iter_mut().flat_map(|notches| &mut notches.value) {
        notch.value.at.iter_mut().for_each(|at| at.span = place.clone());
    }
    for heights in [&mut drawing.levels, &mut drawing.lines].into_iter().flatten() {
        heights.span = place.clone();
        heights.value.0.iter_mut().for_each(|(_, height)| height.span = place.clone());
    }
}

/// The keys of a drawing that a piece says itself, name by name.
fn merge(drawing: &mut DrawingEntry, own: &DrawingEntry) {
    if own.grainline.is_some() {
        drawing.grainline = own.grainline.clone();
    }
    merge_listed(&mut drawing.notches, &own.notches, |notch: &NotchEntry| notch.name.as_ref());
    merge_listed(&mut drawing.darts, &own.darts, |dart: &DartEntry| dart.name.as_ref());
    merge_named(&mut drawing.points, &own.points);
    merge_named(&mut drawing.levels, &own.levels);
    merge_named(&mut drawing.lines, &own.lines);
}

/// Entries of a name that was there take its place; all others are added.
fn merge_named<T: Clone>(into: &mut Option<At<Named<T>>>, own: &Option<At<Named<T>>>) {
    let Some(own) = own else { return };
    match into {
        None => *into = Some(own.clone()),
        Some(into) => {
            into.value.0.retain(|(name, _)| !own.value.names().any(|of| of == name.value));
            into.value.0.extend(own.value.0.iter().cloned());
        }
    }
}

fn merge_listed<T: Clone>(
    into: &mut Option<At<Vec<At<T>>>>,
    own: &Option<At<Vec<At<T>>>>,
    name: impl Fn(&T) -> Option<&At<Name>>,
) {
    let Some(own) = own else { return };
    let is_called = |entry: &T, of: &At<Name>| name(entry).is_some_and(|name| name.value == of.value);
    match into {
        None => *into = Some(own.clone()),
        Some(into) => {
            into.value.retain(|at| {
                let called = |of: &At<T>| name(&at.value).is_some_and(|name| is_called(&of.value, name));
                !own.value.iter().any(called)
            });
            into.value.extend(own.value.iter().cloned());
        }
    }
}

/// Takes away what the piece does not have.
fn leave_out(drawing: &mut DrawingEntry, own: &PieceEntry, task: &Task<'_>, findings: &mut Findings) {
    fn named<T>(of: &mut Option<At<Named<T>>>, name: &str, known: &mut Vec<String>) -> bool {
        let Some(of) = of else { return false };
        known.extend(of.value.names().map(str::to_owned));
        let before = of.value.0.len();
        of.value.0.retain(|(known, _)| known.value != name);
        of.value.0.len() < before
    }
    for name in own.likeness.without.iter().flat_map(|names| &names.value) {
        let mut known = carry::marks(drawing);
        let mut found = named(&mut drawing.points, &name.value.0, &mut Vec::new());
        found |= named(&mut drawing.levels, &name.value.0, &mut known);
        found |= named(&mut drawing.lines, &name.value.0, &mut known);
        let is_called = |of: &Option<At<Name>>| of.as_ref().is_some_and(|of| of.value == name.value);
        if let Some(notches) = &mut drawing.notches {
            let before = notches.value.len();
            notches.value.retain(|notch| !is_called(&notch.value.name));
            found |= notches.value.len() < before;
        }
        if let Some(darts) = &mut drawing.darts {
            known.extend(darts.value.iter().filter_map(|dart| Some(dart.value.name.as_ref()?.value.0.clone())));
            let before = darts.value.len();
            darts.value.retain(|dart| !is_called(&dart.value.name));
            found |= darts.value.len() < before;
        }
        if !found {
            let _: Option<()> = task.unknown("notch, point, dart, level or line", name, known, findings);
        }
    }
}
