//! How far pages go on, and which lines that run off one page go on at another.

mod links;
mod steps;

use std::collections::BTreeMap;

use ellwand_geometry::{Bounds, Point, distance, point};
use ellwand_vector::{Drawing, Stroke};

use super::{along, decor::Decor};
use crate::{
    curve::Line,
    outlines::{Look, look_of_style},
};
pub(super) use links::{Links, neighbours, shown_twice};
pub(super) use steps::steps;

/// Ends so near to a border run off the page there, and lines so near to each other are one, mm.
pub(super) const NEAR: f64 = 0.5;

/// Lines that are one run in directions that differ by no more, radians.
const TURN: f64 = 0.35;

/// Corners so near to each other are one, mm.
const SAME: f64 = 0.1;

/// So many lines of a border are looked at.
const MOST_LINES: usize = 400;

/// What is drawn on pages, as short lines.
pub(super) struct Pages {
    lines: Vec<Vec<Flat>>,
    /// The box around all of it.
    around: Bounds,
}

struct Flat {
    points: Vec<Point>,
    /// Ends of its runs.
    corners: Vec<Point>,
    look: usize,
    closed: bool,
}

/// A line that crosses a seam.
#[derive(Debug, Clone, Copy)]
struct Crossing {
    /// Where along the seam.
    at: f64,
    /// How far it goes along the seam for each mm across it.
    slope: f64,
    look: usize,
}

/// A way in which pages may go on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    /// Where the seam at the low side of a page lies on it, mm.
    pub(super) low: f64,
    /// How far it goes on, mm.
    pub(super) length: f64,
    /// What lies beyond is cut away: the lowest and highest coordinate of what pages show.
    shown: [f64; 2],
}

impl Step {
    /// How much of what a page shows its neighbour shows too, mm.
    pub(super) fn overlap(&self) -> f64 {
        self.shown[1] - self.shown[0] - self.length
    }
}

/// How a stroke looks, and its layer: lines that go on are alike.
pub(super) fn kind_of(drawing: &Drawing, stroke: &Stroke) -> (Look, Option<String>) {
    (look_of_style(&stroke.style), drawing.layer_of(&stroke.origin).map(str::to_owned))
}

impl Pages {
    pub(super) fn of(drawing: &Drawing, members: &[usize], decor: &Decor) -> Self {
        let mut looks: BTreeMap<(Look, Option<String>), usize> = BTreeMap::new();
        let mut lines = Vec::new();
        for &page in members {
            let mut of_page = Vec::new();
            for (number, stroke) in drawing.sheets[page].strokes.iter().enumerate() {
                let line = Line::of(stroke);
                let points = line.flat();
                let is_sound = points.len() > 1 && points.iter().all(|p| p.x.is_finite() && p.y.is_finite());
                if !decor.has_stroke(page, number) && is_sound {
                    let next = looks.len();
                    let look = *looks.entry(kind_of(drawing, stroke)).or_insert(next);
                    let corners = std::iter::once(line.start).chain(line.runs.iter().map(|run| run.to)).collect();
                    of_page.push(Flat { points, corners, look, closed: stroke.closed });
                }
            }
            lines.push(of_page);
        }
        let points: Vec<Point> = lines.iter().flatten().flat_map(|line: &Flat| &line.points).copied().collect();
        let around = Bounds::of(if points.is_empty() { vec![point(0.0, 0.0)] } else { points });
        Self { lines, around }
    }

    fn open_ends(&self, page: usize) -> impl Iterator<Item = Point> + '_ {
        let open = self.lines[page].iter().filter(|line| !line.closed);
        open.flat_map(|line| [line.points[0], line.points[line.points.len() - 1]])
    }

    /// Corners in a strip, but not those at its very borders, where pages are cut: the place along it first, in that order.
    fn corners(&self, page: usize, axis: usize, [low, high]: [f64; 2]) -> Vec<[f64; 2]> {
        let inside = |p: &&Point| (low + 2.0 * SAME..=high - 2.0 * SAME).contains(&along(**p, axis));
        let corners = self.lines[page].iter().flat_map(|line| &line.corners).filter(inside);
        let mut corners: Vec<[f64; 2]> = corners.map(|p| [along(*p, 1 - axis), along(*p, axis)]).collect();
        corners.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        corners.dedup_by(|a, b| distance(point(a[0], a[1]), point(b[0], b[1])) <= SAME);
        corners.truncate(2 * MOST_LINES);
        corners
    }

    /// The lines of a page that cross the line on which the coordinate `axis` is `bound`, or end just there.
    fn crossings(&self, page: usize, axis: usize, bound: f64) -> Vec<Crossing> {
        let mut found = Vec::new();
        for line in &self.lines[page] {
            let first = found.len();
            let slope_of = |a: Point, b: Point| {
                let (across, up) = (along(b, axis) - along(a, axis), along(b, 1 - axis) - along(a, 1 - axis));
                (across.abs() > 0.1 * up.abs().max(1e-9)).then(|| up / across)
            };
            for pair in line.points.windows(2) {
                let (a, b) = (pair[0], pair[1]);
                if (along(a, axis) < bound) != (along(b, axis) < bound) {
                    let share = (bound - along(a, axis)) / (along(b, axis) - along(a, axis));
                    let at = along(a + (b - a) * share, 1 - axis);
                    let slope = slope_of(a, b).unwrap_or(f64::MAX);
                    found.push(Crossing { at, slope, look: line.look });
                }
            }
            if line.closed {
                continue;
            }
            let last = line.points.len() - 1;
            for (end, before) in [(0, 1), (last, last - 1)] {
                let (p, q) = (line.points[end], line.points[before]);
                let off = bound - along(p, axis);
                if off.abs() > NEAR {
                    continue;
                }
                let Some(slope) = slope_of(q, p) else { continue };
                let at = along(p, 1 - axis) + slope * off;
                if !found[first..].iter().any(|other: &Crossing| (other.at - at).abs() < 2.0 * NEAR) {
                    found.push(Crossing { at, slope, look: line.look });
                }
            }
        }
        found.sort_by(|a, b| a.at.total_cmp(&b.at));
        found.truncate(MOST_LINES);
        found
    }
}

/// The crossings of two sides that are one line, one with one, the nearest first along the seam.
fn matches(a: &[Crossing], b: &[Crossing]) -> Vec<(usize, usize)> {
    let mut taken = vec![false; b.len()];
    let mut pairs = Vec::new();
    let mut first = 0;
    for (k, one) in a.iter().enumerate() {
        while first < b.len() && b[first].at < one.at - NEAR {
            first += 1;
        }
        let near = (first..b.len()).take_while(|&other| b[other].at <= one.at + NEAR);
        let fits = |other: &usize| {
            let (x, y) = (one.slope.atan(), b[*other].slope.atan());
            let turn = (x - y).abs();
            !taken[*other] && b[*other].look == one.look && turn.min(std::f64::consts::PI - turn) <= TURN
        };
        let best = near.filter(fits).min_by(|x, y| (b[*x].at - one.at).abs().total_cmp(&(b[*y].at - one.at).abs()));
        if let Some(other) = best {
            taken[other] = true;
            pairs.push((k, other));
        }
    }
    pairs
}

/// The corners of one page that are those of another which lies about `by` further on: how far it does by each of them. Both are in order
/// along the seam.
fn shared(a: &[[f64; 2]], b: &[[f64; 2]], by: f64) -> Vec<f64> {
    let mut first = 0;
    let mut found = Vec::new();
    for [at, across] in a {
        while first < b.len() && b[first][0] < at - SAME {
            first += 1;
        }
        let near = b[first..].iter().take_while(|other| other[0] <= at + SAME);
        let off = near.map(|other| across - other[1]).filter(|off| (off - by).abs() <= SAME);
        found.extend(off.min_by(|x, y| (x - by).abs().total_cmp(&(y - by).abs())));
    }
    found.truncate(b.len());
    found
}

/// How many open lines end at a border.
fn ends(content: &Pages, page: usize, axis: usize, bound: f64) -> usize {
    let is_there = |line: &&Flat| !line.closed;
    let lines = content.lines[page].iter().filter(is_there);
    let ends = lines.flat_map(|line| {
        let last = line.points.len() - 1;
        [(line.points[0], line.points[1]), (line.points[last], line.points[last - 1])]
    });
    ends.filter(|(end, before)| {
        let off = (along(*end, axis) - bound).abs();
        let across = (along(*end, axis) - along(*before, axis)).abs();
        off <= NEAR && across > 0.1 * distance(*end, *before)
    })
    .count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_go_on_once_each_and_only_where_they_are_alike() {
        let line = |at: f64, slope: f64, look: usize| Crossing { at, slope, look };
        let a = [line(10.0, 0.0, 0), line(10.2, 0.0, 0), line(50.0, 1.0, 0), line(80.0, 0.0, 1)];
        let b = [line(10.1, 0.0, 0), line(50.0, -1.0, 0), line(80.0, 0.0, 0)];
        assert_eq!(matches(&a, &b), [(0, 0)]);
    }
}
