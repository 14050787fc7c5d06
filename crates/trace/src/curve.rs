//! Open lines of straight parts, curves and arcs: as curves of the curve library, as short lines, their tangents and lengths.

use ellwand_geometry::{EdgeShape, Point, distance, place_at_share, point};
use ellwand_vector::{Run, Stroke};
use kurbo::{BezPath, PathEl};

use crate::outlines::nearest_of_segment;

/// How far short lines may lie off the curve they stand for, mm.
pub(crate) const FLATNESS: f64 = 0.05;

/// An open or closed line on the table.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    pub(crate) start: Point,
    pub(crate) runs: Vec<Run>,
}

impl Line {
    pub(crate) fn of(stroke: &Stroke) -> Self {
        Self { start: stroke.start, runs: stroke.runs.clone() }
    }

    pub(crate) fn end(&self) -> Point {
        self.runs.last().map_or(self.start, |run| run.to)
    }

    /// Where run `k` starts.
    pub(crate) fn from(&self, k: usize) -> Point {
        if k == 0 { self.start } else { self.runs[k - 1].to }
    }

    /// The same the other way round.
    pub(crate) fn reversed(&self) -> Self {
        let runs = (0..self.runs.len()).rev().map(|k| {
            let shape = match self.runs[k].shape {
                EdgeShape::Cubic { first, second } => EdgeShape::Cubic { first: second, second: first },
                other => other,
            };
            Run { shape, to: self.from(k) }
        });
        Self { start: self.end(), runs: runs.collect() }
    }

    /// Every point moved.
    pub(crate) fn map(&self, to: impl Fn(Point) -> Point) -> Self {
        let runs = self.runs.iter().map(|run| Run { shape: run.shape.map(&to), to: to(run.to) });
        Self { start: to(self.start), runs: runs.collect() }
    }

    /// Without runs of no length and without points in the middle of a straight line: each stays within a hair of the line that takes its
    /// place. A file of a million points is asked about a few thousand times: what says nothing goes first.
    pub(crate) fn without_needless_points(&self) -> Self {
        /// How far a point may lie off the line that takes its place, mm.
        const HAIR: f64 = 0.003;
        /// So many points at most give way to one line.
        const MOST: usize = 64;
        let mut runs: Vec<Run> = Vec::new();
        let mut from = self.start;
        let mut before = self.start;
        let mut skipped: Vec<Point> = Vec::new();
        for run in &self.runs {
            if run.shape == EdgeShape::Straight && distance(from, run.to) < 1e-4 {
                continue;
            }
            let both_straight = run.shape == EdgeShape::Straight
                && runs.last().is_some_and(|last: &Run| last.shape == EdgeShape::Straight);
            let on = |p: &Point| distance(*p, nearest_of_segment(*p, before, run.to)) < HAIR;
            let ahead = (run.to.x - from.x) * (from.x - before.x) + (run.to.y - from.y) * (from.y - before.y) > 0.0;
            if both_straight && ahead && skipped.len() < MOST && on(&from) && skipped.iter().all(on) {
                skipped.push(from);
                runs.last_mut().expect("there is one").to = run.to;
            } else {
                before = from;
                skipped.clear();
                runs.push(*run);
            }
            from = run.to;
        }
        Self { start: self.start, runs }
    }

    /// As short lines, both ends included.
    pub(crate) fn flat(&self) -> Vec<Point> {
        let mut points = vec![self.start];
        for k in 0..self.runs.len() {
            flatten(self.from(k), self.runs[k], &mut points);
        }
        points
    }

    pub(crate) fn length(&self) -> f64 {
        length_of(&self.flat())
    }

    /// So many places along each run, ends included; they lie on the curve itself.
    pub(crate) fn samples(&self, each: usize) -> Vec<Point> {
        let mut places = vec![self.start];
        for k in 0..self.runs.len() {
            let (from, run) = (self.from(k), self.runs[k]);
            places.extend((1..=each).map(|n| place_at_share(from, run.shape, run.to, n as f64 / each as f64)));
        }
        places
    }

    /// Direction at the start of run `k`, of length 1; none of a run without length.
    pub(crate) fn leaves(&self, k: usize) -> Option<Point> {
        let from = self.from(k);
        let run = self.runs[k];
        let towards = match run.shape {
            EdgeShape::Straight => run.to,
            EdgeShape::Cubic { first, second } => {
                [first, second, run.to].into_iter().find(|p| distance(*p, from) > 1e-6).unwrap_or(run.to)
            }
            EdgeShape::Arc { .. } => {
                let mut points = vec![from];
                flatten(from, run, &mut points);
                // Half a chord further on: the tangent at the start.
                return tangent_of_arc(&points, 0);
            }
        };
        unit(towards - from)
    }

    /// Direction at the end of run `k`, of length 1.
    pub(crate) fn arrives(&self, k: usize) -> Option<Point> {
        let one = Self { start: self.from(k), runs: vec![self.runs[k]] }.reversed();
        one.leaves(0).map(|direction| direction * -1.0)
    }
}

fn tangent_of_arc(points: &[Point], at: usize) -> Option<Point> {
    let chord = unit(*points.get(at + 1)? - points[at])?;
    let Some(next) = points.get(at + 2) else { return Some(chord) };
    let turn = angle_between(chord, unit(*next - points[at + 1])?);
    Some(turned(chord, -turn / 2.0))
}

/// Of length 1; none of nothing.
pub(crate) fn unit(v: Point) -> Option<Point> {
    let length = v.x.hypot(v.y);
    (length > 1e-9).then(|| v * (1.0 / length))
}

pub(crate) fn turned(v: Point, by: f64) -> Point {
    let (sin, cos) = by.sin_cos();
    point(v.x * cos - v.y * sin, v.x * sin + v.y * cos)
}

/// How far `b` is turned from `a`, radians, left is positive.
pub(crate) fn angle_between(a: Point, b: Point) -> f64 {
    (a.x * b.y - a.y * b.x).atan2(a.x * b.x + a.y * b.y)
}

pub(crate) fn length_of(points: &[Point]) -> f64 {
    points.windows(2).map(|pair| distance(pair[0], pair[1])).sum()
}

/// Adds the points of a run but its first.
pub(crate) fn flatten(from: Point, run: Run, points: &mut Vec<Point>) {
    let of = |p: Point| kurbo::Point::new(p.x, p.y);
    match run.shape {
        EdgeShape::Straight => points.push(run.to),
        EdgeShape::Cubic { first, second } => {
            let mut path = BezPath::new();
            path.move_to(of(from));
            path.curve_to(of(first), of(second), of(run.to));
            // The last point is the end as it was given, not what rounding made of it.
            kurbo::flatten(path, FLATNESS, |element| {
                if let PathEl::LineTo(p) = element {
                    let p = point(p.x, p.y);
                    if distance(p, run.to) > 1e-6 {
                        points.push(p);
                    }
                }
            });
            points.push(run.to);
        }
        EdgeShape::Arc { through } => arc_points(from, through, run.to, points),
    }
}

/// Points of the circular arc from `a` through `b` to `c`, but the first; of a straight one its end.
fn arc_points(a: Point, b: Point, c: Point, points: &mut Vec<Point>) {
    let Some((centre, radius)) = circle(a, b, c) else {
        points.push(c);
        return;
    };
    let angle = |p: Point| (p.y - centre.y).atan2(p.x - centre.x);
    let (from, mid, to) = (angle(a), angle(b), angle(c));
    let full = std::f64::consts::TAU;
    let (to_mid, to_end) = ((mid - from).rem_euclid(full), (to - from).rem_euclid(full));
    let sweep = if to_mid <= to_end { to_end } else { to_end - full };
    let step = 2.0 * (1.0 - (FLATNESS / radius).min(0.5)).acos();
    let count = (sweep.abs() / step).ceil().clamp(1.0, 10_000.0);
    for k in 1..count as usize {
        let (sin, cos) = (from + sweep * k as f64 / count).sin_cos();
        points.push(point(centre.x + radius * cos, centre.y + radius * sin));
    }
    points.push(c);
}

/// The circle through three points; none where they are in line.
pub(crate) fn circle(a: Point, b: Point, c: Point) -> Option<(Point, f64)> {
    let (ab, ac) = (b - a, c - a);
    let d = 2.0 * (ab.x * ac.y - ab.y * ac.x);
    if d.abs() < 1e-9 * (1.0 + ab.x.hypot(ab.y) * ac.x.hypot(ac.y)) {
        return None;
    }
    let (ab2, ac2) = (ab.x * ab.x + ab.y * ab.y, ac.x * ac.x + ac.y * ac.y);
    let centre = point(a.x + (ac.y * ab2 - ab.y * ac2) / d, a.y + (ab.x * ac2 - ac.x * ab2) / d);
    Some((centre, distance(centre, a)))
}
