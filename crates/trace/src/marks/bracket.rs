//! "Place on fold": a bracket along an edge, a line on a layer of that name, or the mirror line of an interchange file.

use ellwand_geometry::{Point, distance};

use super::{Grain, Loose, Marks, OnPiece, direction_at, on_outline};
use crate::{
    curve::{angle_between, unit},
    words::Role,
};

/// The ends of a bracket lie at most this far off the edge they point at, mm.
const OFF: f64 = 4.0;

/// A bracket is at least so long, mm: a collar stand is as high as that.
const SHORTEST: f64 = 12.0;

pub(super) fn find(on: &OnPiece<'_>, marks: &mut Marks) {
    for &(number, line) in &on.loose {
        let named = line.role() == Some(Role::Fold);
        if named {
            let part = line.longest_part();
            // A line to fold along lies inside; only one that lies on an edge, or points at it, says that the edge lies on the fold.
            if distance(part[0], part[1]) > 1.0 && !on_edge(on, part) && !points_at_edge(on, number, part) {
                continue;
            }
            marks.used.push(number);
            // Of a bracket in several strokes the longest counts.
            let longer = |known: &([Point; 2], &str)| distance(known.0[0], known.0[1]) < distance(part[0], part[1]);
            if distance(part[0], part[1]) > 1.0 && marks.fold.as_ref().is_none_or(longer) {
                marks.fold = Some((part, "it is named so"));
            }
        } else if line.is_told_by_looks()
            && let Some(base) = bracket(on, line)
        {
            marks.used.push(number);
            marks.fold.get_or_insert((base, "a bracket points at it"));
            // A bracket is the grainline too where there is no other: the fold runs along the grain.
            marks.grain.get_or_insert(Grain { ends: base, heads: [true; 2] });
            for &(other, head) in &on.loose {
                let near = |end: &Point| head.flat.iter().any(|p| distance(*p, *end) < 1.5);
                if other != number && head.length < 25.0 && line.ends().iter().any(near) {
                    marks.used.push(other);
                }
            }
        }
    }
}

/// Whether a line lies on an edge of the piece.
fn on_edge(on: &OnPiece<'_>, [a, b]: [Point; 2]) -> bool {
    let middle = a + (b - a) * 0.5;
    on.lines.iter().any(|outline| [a, middle, b].into_iter().all(|p| on_outline(outline, p).0 < 2.5))
}

/// Whether short lines of the same name lead from its ends to an edge, as the arms of a bracket do.
fn points_at_edge(on: &OnPiece<'_>, number: usize, part: [Point; 2]) -> bool {
    part.iter().all(|end| {
        on.loose.iter().filter(|(other, arm)| *other != number && arm.role() == Some(Role::Fold)).any(|(_, arm)| {
            let reaches = arm.corners.iter().any(|p| on.lines.iter().any(|outline| on_outline(outline, *p).0 < OFF));
            reaches && arm.corners.iter().any(|p| distance(*p, *end) < 1.5)
        })
    })
}

/// The base of a bracket whose two ends point at one edge.
fn bracket(on: &OnPiece<'_>, line: &Loose) -> Option<[Point; 2]> {
    let corners = &line.corners;
    if line.is_closed || corners.len() != 4 || line.flat.len() != 4 {
        return None;
    }
    let parts: Vec<Point> = corners.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let lengths: Vec<f64> = corners.windows(2).map(|pair| distance(pair[0], pair[1])).collect();
    let square = |a: Point, b: Point| angle_between(a, b).sin().abs() > 0.9;
    let turns_same_way = angle_between(parts[0], parts[1]) * angle_between(parts[1], parts[2]) > 0.0;
    let is_bracket = lengths[0] < 40.0
        && lengths[2] < 40.0
        && lengths[1] > SHORTEST
        && lengths[1] > 1.5 * lengths[0].max(lengths[2])
        && square(parts[0], parts[1])
        && square(parts[1], parts[2])
        && turns_same_way;
    let base = unit(parts[1])?;
    let at_edge = |end: Point| {
        let (off, _) = on_outline(on.outline, end);
        off < OFF && angle_between(direction_at(on.outline, end), base).sin().abs() < 0.05
    };
    (is_bracket && at_edge(corners[0]) && at_edge(corners[3])).then(|| [corners[1], corners[2]])
}
