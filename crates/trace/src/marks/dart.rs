//! Darts: two legs that meet in a point inside and end on the edge.

use ellwand_geometry::{Point, distance, point};

use super::{FoundDart, Loose, Marks, OnPiece, on_outline};
use crate::{
    plane::Word,
    words::{Role, words_of},
};

/// A leg ends at most this far off the edge, mm.
const OFF: f64 = 2.0;

/// A dart is at least so long, mm: what is shorter is a notch.
const SHORTEST: f64 = 25.0;

pub(super) fn find(on: &OnPiece<'_>, marks: &mut Marks) {
    let free = |number: &usize, marks: &Marks| !marks.used.contains(number);
    for &(number, line) in &on.loose {
        if free(&number, marks)
            && let Some(dart) = of_one_line(on, line).or_else(|| inside(on, line))
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
                marks.darts.push(FoundDart {
                    legs: [*foot, *other_foot],
                    tip: *tip,
                    other_tip: None,
                    pressed: None,
                    sides: None,
                });
            }
        }
    }
}

/// A dart pointed at both ends: a closed line of four corners that is named so, or has words on how to press it.
fn inside(on: &OnPiece<'_>, line: &Loose) -> Option<FoundDart> {
    let corners = &line.corners;
    if !line.is_closed || corners.len() != 5 || line.flat.len() != 5 {
        return None;
    }
    let middle = line.middle();
    let named = line.role() == Some(Role::Dart);
    let said = on
        .near
        .iter()
        .any(|word| distance(word.at, middle) < 60.0 && words_of(&word.content).iter().any(|word| word == "dart"));
    let across = [distance(corners[0], corners[2]), distance(corners[1], corners[3])];
    let is_narrow = across[0].min(across[1]) < 0.5 * across[0].max(across[1]) && across[0].max(across[1]) >= SHORTEST;
    // The points are far apart, the widest places are near each other.
    let first = if across[0] > across[1] { 0 } else { 1 };
    let at = |k: usize| corners[(first + k) % 4];
    ((named || said) && is_narrow && on.outline.is_over(middle)).then(|| FoundDart {
        legs: [at(1), at(3)],
        tip: at(0),
        other_tip: Some(at(2)),
        pressed: None,
        sides: None,
    })
}

/// The way that words beside a dart say it is pressed: "press down".
pub(crate) fn pressed(dart: &FoundDart, words: &[&Word]) -> Option<Point> {
    let middle = dart.legs[0] + (dart.legs[1] - dart.legs[0]) * 0.5;
    let near = words.iter().filter(|word| {
        let off = [dart.tip, middle].map(|p| distance(word.at, p).min(distance(word.middle, p)));
        off[0].min(off[1]) < 40.0
    });
    near.filter_map(|word| {
        let said = words_of(&word.content);
        let has = |of: &str| said.iter().any(|word| word == of);
        let way = [
            ("down", point(0.0, -1.0)),
            ("up", point(0.0, 1.0)),
            ("left", point(-1.0, 0.0)),
            ("right", point(1.0, 0.0)),
        ];
        let found = way.into_iter().find(|(of, _)| has(of)).map(|(_, way)| way);
        found.filter(|_| has("press") || has("pressed")).map(|way| (distance(word.at, middle), way))
    })
    .min_by(|a, b| a.0.total_cmp(&b.0))
    .map(|(_, way)| way)
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
    (is_long && at_edge && on.outline.is_over(tip)).then_some(FoundDart {
        legs: [foot, other],
        tip,
        other_tip: None,
        pressed: None,
        sides: None,
    })
}
