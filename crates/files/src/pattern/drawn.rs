//! A piece drawn with points and curves.

use ellwand_garment::DraftEdge;
use ellwand_geometry::{EdgeAllowance, EdgeShape, Point};

use super::{
    drawing_format::{DrawingEntry, EdgeEntry},
    format::{SeamAllowance, Within},
    marks::{self, Outlined},
    outline::{Drawn, PieceFrame},
    within,
};
use crate::{
    document::{At, Pair},
    fault::{DocumentFault, PatternFault},
    findings::Findings,
};

/// The drawing of a piece, once or in one size; none when some part of it is missing or at fault. `whole` is the allowance of
/// every edge without its own.
pub(super) fn draw(
    entry: &DrawingEntry,
    whole: Option<SeamAllowance>,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Option<Drawn> {
    let grainline = entry.grainline.as_ref().and_then(|line| grainline(line, frame, findings));
    let start = entry.start.as_ref().and_then(|start| frame.place(start, findings));
    let marks = marks::read(entry, frame, findings);
    let entries = entry.edges.as_ref()?;
    let edges: Vec<Option<DraftEdge>> = (entries.value.iter().enumerate())
        .map(|(number, edge)| draw_edge(edge, number, whole, frame, findings))
        .collect();
    let folds = folds_are_possible(&entries.value, frame, findings);
    if !entries.sound || !folds {
        return None;
    }
    let mut outline = Outlined {
        start: start?,
        edges: edges.into_iter().collect::<Option<_>>()?,
        edge_places: entries.value.iter().map(|edge| edge.span.clone()).collect(),
        grainline: grainline?,
        grainline_place: entry.grainline.as_ref()?.span.clone(),
        cutting: None,
    };
    let mut marks = marks?;
    if matches!(whole, Some(SeamAllowance::Within(_))) {
        within::move_in(&mut outline, &mut marks, entry, frame, findings)?;
    }
    outline.with(marks, entry, whole, frame, findings)
}

/// The two ends of a grainline, different points.
pub(super) fn grainline(
    line: &At<Vec<At<Pair>>>,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Option<[Point; 2]> {
    let ends = exactly_two(line, "the low and the high end, such as [[100, 50], [100, 500]]", frame, findings)?;
    if ends[0] == ends[1] {
        findings.add(&line.span, PatternFault::GrainlineWithoutLength { piece: frame.name.to_owned() });
        return None;
    }
    Some(ends)
}

fn exactly_two(
    list: &At<Vec<At<Pair>>>,
    expected: &'static str,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Option<[Point; 2]> {
    if !list.sound {
        return None;
    }
    let [first, second] = list.value.as_slice() else {
        let found = format!("a list of {}", list.value.len());
        findings.add(&list.span, DocumentFault::WrongKind { found, expected, meant: None });
        return None;
    };
    Some([frame.place(first, findings)?, frame.place(second, findings)?])
}

fn draw_edge(
    edge: &At<EdgeEntry>,
    number: usize,
    whole: Option<SeamAllowance>,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Option<DraftEdge> {
    let entry = &edge.value;
    let shape = match (&entry.curve, &entry.arc) {
        (Some(curve), Some(_)) => {
            let choices = vec!["curve".to_owned(), "arc".to_owned()];
            findings.add(&curve.span, DocumentFault::NotExactlyOne { of: "an edge", choices, found: 2 });
            None
        }
        (Some(curve), None) => {
            exactly_two(curve, "the two control points of a curve, such as [[0, 40], [30, 90]]", frame, findings)
                .map(|[first, second]| EdgeShape::Cubic { first, second })
        }
        (None, Some(arc)) => frame.place(arc, findings).map(|through| EdgeShape::Arc { through }),
        (None, None) => Some(EdgeShape::Straight),
    };
    let on_fold = entry.fold.as_ref().is_some_and(|fold| fold.value);
    let allowance = match (on_fold, &entry.allowance, whole) {
        (true, given, _) => {
            if let Some(given) = given {
                findings.add(&given.span, PatternFault::AllowanceOnFold);
            }
            EdgeAllowance::Fold
        }
        (false, Some(own), Some(SeamAllowance::Included(_))) => {
            findings.add(&own.span, PatternFault::AllowanceTwice);
            EdgeAllowance::Depth(0.0)
        }
        (false, Some(own), _) => EdgeAllowance::Depth(own.value.mm()),
        (false, None, Some(SeamAllowance::Depth(depth) | SeamAllowance::Within(Within(depth)))) => {
            EdgeAllowance::Depth(depth.mm())
        }
        (false, None, _) => EdgeAllowance::Depth(0.0),
    };
    let allowance = match &entry.corner {
        None => allowance,
        Some(corner) if on_fold || matches!(whole, Some(SeamAllowance::Included(_))) => {
            findings.add(&corner.span, PatternFault::CornerWithoutAllowance);
            allowance
        }
        Some(corner) => allowance.with_corner(corner.value.into()),
    };
    let to = entry.to.as_ref().and_then(|to| frame.place(to, findings));
    let name = entry.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default();
    Some(DraftEdge { name, to: to?, shape: shape?, allowance, drawn: number })
}

/// Whether a fold edge is straight, and there is at most one.
fn folds_are_possible(edges: &[At<EdgeEntry>], frame: &PieceFrame<'_>, findings: &mut Findings) -> bool {
    let before = findings.count();
    let folds: Vec<&At<EdgeEntry>> =
        edges.iter().filter(|edge| edge.value.fold.as_ref().is_some_and(|fold| fold.value)).collect();
    for fold in &folds {
        if fold.value.curve.is_some() || fold.value.arc.is_some() {
            let name = fold.value.name.as_ref().map(|name| name.value.0.clone());
            findings.add(&fold.span, PatternFault::CurvedFold { name });
        }
    }
    if let Some(second) = folds.get(1) {
        let (piece, found) = (frame.name.to_owned(), folds.len());
        findings.add(&second.span, PatternFault::ManyFoldEdges { piece, found });
    }
    findings.count() == before
}
