//! Runs of edges that others take the place of.

use ellwand_geometry::{EdgeShape, Point, point};

use super::{
    super::{
        drawing_format::DrawingEntry,
        like_format::{InsteadEntry, NewEdgeEntry},
    },
    Task, carry,
    outline::{Line, Outline, own_place, place},
};
use crate::{
    document::{At, Name, Pair},
    fault::{DocumentFault, LikeTrouble},
    findings::Findings,
};

/// Puts the new edges into the place of the run; nothing when something is at fault. `drawing` is that of the other piece.
pub(super) fn replace(
    outline: &mut Outline,
    at: &At<InsteadEntry>,
    drawing: &DrawingEntry,
    task: &Task<'_>,
    findings: &mut Findings,
) -> Option<()> {
    let (of, edges) = (at.value.of.as_ref()?, at.value.edges.as_ref()?);
    let count = of.value.len();
    let first = find(outline, &of.value, task, findings)?;
    // The outline starts with the run, so that nothing goes round its end.
    outline.start = outline.corner(first);
    outline.edges.rotate_left(first);
    let end = outline.edges[count - 1].to;
    if edges.value.is_empty() {
        task.fault(&edges.span, LikeTrouble::NothingInstead, findings);
        return None;
    }
    let last = edges.value.len() - 1;
    let drawn: Vec<Option<Line>> = (edges.value.iter().enumerate())
        .map(|(k, edge)| new_edge(edge, (k == last).then_some(end), drawing, task, findings))
        .collect();
    let drawn: Vec<Line> = drawn.into_iter().collect::<Option<_>>()?;
    if count == outline.edges.len()
        && let Some(end) = drawn.last()
    {
        outline.start = end.to;
    }
    outline.edges.splice(..count, drawn);
    Some(())
}

/// The number of the first edge of the run.
fn find(outline: &Outline, of: &[At<Name>], task: &Task<'_>, findings: &mut Findings) -> Option<usize> {
    let known = outline.names();
    for name in of {
        if outline.find(&name.value.0).is_none() {
            return task.unknown("edge", name, known, findings);
        }
    }
    let count = outline.edges.len();
    let runs = |from: usize| {
        of.len() <= count
            && of.iter().enumerate().all(|(k, name)| outline.edges[(from + k) % count].name() == name.value.0)
    };
    let Some(first) = of.first() else {
        task.fault(task.place, LikeTrouble::NothingInstead, findings);
        return None;
    };
    let found = (0..count).find(|&from| runs(from));
    if found.is_none() {
        let names = of.iter().map(|name| name.value.0.clone()).collect();
        task.fault(&first.span, LikeTrouble::NotARun { of: names, order: known }, findings);
    }
    found
}

/// A new edge; the last of its run may end where the run did.
fn new_edge(
    at: &At<NewEdgeEntry>,
    end: Option<Point>,
    drawing: &DrawingEntry,
    task: &Task<'_>,
    findings: &mut Findings,
) -> Option<Line> {
    let entry = &at.value;
    let from = match &entry.counted_from {
        None => point(0.0, 0.0),
        Some(name) => match carry::mark(drawing, &name.value.0) {
            Some(pair) => place(pair, task.unit),
            None => return task.unknown("notch or point", name, carry::marks(drawing), findings),
        },
    };
    let mut there = |pair: &At<Pair>| own_place(pair, task.unit, findings).map(|p| from + p);
    let to = match (&entry.to, end) {
        (Some(to), _) => there(to)?,
        (None, Some(end)) => end,
        (None, None) => {
            task.fault(&at.span, LikeTrouble::NoEnd, findings);
            return None;
        }
    };
    let shape = match (&entry.curve, &entry.arc) {
        (Some(curve), None) => {
            let [first, second] = curve.value.as_slice() else {
                let found = format!("a list of {}", curve.value.len());
                let expected = "the two control points of a curve, such as [[0, 40], [30, 90]]";
                findings.add(&curve.span, DocumentFault::WrongKind { found, expected, meant: None });
                return None;
            };
            EdgeShape::Cubic { first: there(first)?, second: there(second)? }
        }
        (None, Some(arc)) => EdgeShape::Arc { through: there(arc)? },
        (None, None) => EdgeShape::Straight,
        (Some(curve), Some(_)) => {
            let choices = vec!["curve".to_owned(), "arc".to_owned()];
            findings.add(&curve.span, DocumentFault::NotExactlyOne { of: "an edge", choices, found: 2 });
            return None;
        }
    };
    let entry = At { value: entry.as_edge(), span: at.span.clone(), sound: at.sound };
    Some(Line { entry, to, shape, was: None })
}
