//! Darts: two legs that meet in a point inside and end on the edge.

use ellwand_geometry::{Point, distance};

use super::{FoundDart, Loose, Marks, OnPiece, on_outline};
use crate::words::Role;

/// A leg ends at most this far off the edge, mm.
const OFF: f64 = 2.0;

/// A dart is at least so long, mm: what is shorter is a notch.
const SHORTEST: f64 = 25.0;

pub(super) fn find(on: &OnPiece<'_>, marks: &mut Marks) {
    let free = |number: &usize, marks: &Marks| !marks.used.contains(number);
    for &(number, line) in &on.loose {
        if free(&number, marks)
            && let Some(dart) = of_one_line(on, line)
        {
            marks.used.push(number);
            marks.darts.push(dart);
        }
    }
    // Legs drawn one by one meet in their point.
    let legs: Vec<(usize, Point, Point)> = (on.loose.iter())
        .filter(|(number, line)| {
            free(number, marks) && may_be_dart(line) && line.is_straight && line.length >= SHORTEST
        })
        .filter_map(|(number, line)| {
            let [a, b] = line.ends();
            let at_edge = |p: Point| edge_off(on, p) <= OFF;
            match (at_edge(a), at_edge(b)) {
                (true, false) => Some((*number, a, b)),
                (false, true) => Some((*number, b, a)),
                _ => None,
            }
        })
        .collect();
    for (k, (number, foot, tip)) in legs.iter().enumerate() {
        for (other, other_foot, other_tip) in &legs[k + 1..] {
            if distance(*tip, *other_tip) < 1.0 && distance(*foot, *other_foot) > 3.0 {
                marks.used.extend([*number, *other]);
                marks.darts.push(FoundDart { legs: [*foot, *other_foot], tip: *tip, sides: None });
            }
        }
    }
}

fn edge_off(on: &OnPiece<'_>, p: Point) -> f64 {
    on.lines.iter().map(|outline| on_outline(outline, p).0).fold(f64::INFINITY, f64::min)
}

fn may_be_dart(line: &Loose) -> bool {
    matches!(line.role(), None | Some(Role::Dart | Role::Mark | Role::Inside | Role::Seam))
}

fn of_one_line(on: &OnPiece<'_>, line: &Loose) -> Option<FoundDart> {
    if !may_be_dart(line) || line.is_closed || line.corners.len() != 3 || line.flat.len() != 3 {
        return None;
    }
    let [foot, other] = line.ends();
    let tip = line.corners[1];
    let is_long = distance(foot, tip) >= SHORTEST && distance(other, tip) >= SHORTEST;
    let at_edge = edge_off(on, foot) <= OFF && edge_off(on, other) <= OFF;
    (is_long && at_edge && on.outline.is_over(tip)).then_some(FoundDart { legs: [foot, other], tip, sides: None })
}
