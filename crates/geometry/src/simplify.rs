//! A simpler outline around a given one: fewer corners, never smaller, never farther away than a tolerance.
//!
//! Corners are taken away one at a time, going round: an inward corner is bridged; an edge between two outward corners is
//! dropped and its neighbours run on until they meet. Each step is tried against the original outline before it is made,
//! so errors do not add up.

use std::collections::BTreeSet;

use crate::path::{distance, nearest_on_segment};
use crate::{Bounds, Outline, Point, orientation, point};

/// An outline of fewer corners that contains `outline` entirely, and of which no point is farther than `tolerance` mm
/// from it; every corner of `outline` is within `tolerance` of the new border too.
///
/// Containment is exact: no corner is left outside by rounding. A tolerance that is not above zero changes nothing.
/// Cost grows with the square of the number of corners or a little more: a few milliseconds for 150.
///
/// ```
/// use ellwand_geometry::{Outline, simplify_outward};
///
/// let circle: Vec<(f64, f64)> =
///     (0..100).map(|i| (f64::from(i) * 0.062_831_853).sin_cos()).map(|(y, x)| (80.0 * x, 80.0 * y)).collect();
/// let circle = Outline::from_pairs(&circle).unwrap();
/// let simple = simplify_outward(&circle, 0.5);
/// assert!(simple.points().len() < 35 && simple.area() >= circle.area());
/// ```
pub fn simplify_outward(outline: &Outline, tolerance: f64) -> Outline {
    if tolerance.is_nan() || tolerance <= 0.0 {
        return outline.clone();
    }
    let mut around = Surrounding::of(outline, tolerance);
    while around.points.len() > 3 && around.take_one_away() {}
    // Every step keeps the outline sound; were one not to, the original still keeps the promise.
    Outline::new(around.points.iter().map(|corner| corner.at).collect()).unwrap_or_else(|_| outline.clone())
}

/// A corner of the simpler outline and what the edge that starts at it stands for.
#[derive(Debug, Clone, Copy)]
struct Corner {
    at: Point,
    /// Never used twice, so that a step tried before is recognised.
    id: usize,
    /// The edge stands for the original border from this corner …
    from: usize,
    /// … to this one, counted round the outline and past its end.
    to: usize,
}

/// One way to have a corner less, in indices of the corners.
#[derive(Debug, Clone, Copy)]
enum Step {
    /// Bridge the inward corner.
    Bridge(usize),
    /// Drop the edge that starts here; its neighbours meet at the point.
    Drop(usize, Point),
}

struct Surrounding<'a> {
    original: &'a [Point],
    tolerance: f64,
    points: Vec<Corner>,
    next_id: usize,
    /// Steps that failed, by the identities of the corners involved; they would fail again.
    refused: BTreeSet<[usize; 4]>,
}

impl<'a> Surrounding<'a> {
    fn of(outline: &'a Outline, tolerance: f64) -> Self {
        let original = outline.points();
        let points = (original.iter().enumerate()).map(|(i, &at)| Corner { at, id: i, from: i, to: i + 1 }).collect();
        Self { original, tolerance, points, next_id: original.len(), refused: BTreeSet::new() }
    }

    fn corner(&self, index: usize) -> &Corner {
        &self.points[index % self.points.len()]
    }

    fn at(&self, index: usize) -> Point {
        self.corner(index).at
    }

    /// The corners a step depends on: two before and two after, or three for a bridge.
    fn key(&self, step: &Step) -> [usize; 4] {
        let n = self.points.len();
        let id = |index: usize| self.corner(index).id;
        match *step {
            Step::Bridge(v) => [id(v + n - 1), id(v), id(v + 1), usize::MAX],
            Step::Drop(b, _) => [id(b + n - 1), id(b), id(b + 1), id(b + 2)],
        }
    }

    /// Makes the first step round the outline that passes; `false` when none does.
    ///
    /// Going round in order lets each edge grow as long as the tolerance allows before the next begins. Taking the
    /// smallest step first would leave edges of equal length, often just too long to be joined once more.
    fn take_one_away(&mut self) -> bool {
        let n = self.points.len();
        for v in 0..n {
            let (a, b, c, d) = (self.at(v + n - 1), self.at(v), self.at(v + 1), self.at(v + 2));
            let step = if orientation(a, b, c) <= 0.0 {
                Step::Bridge(v)
            } else if let Some(tip) = meeting_beyond(a, b, c, d) {
                Step::Drop(v, tip)
            } else {
                continue;
            };
            let key = self.key(&step);
            if self.refused.contains(&key) {
                continue;
            }
            let made = match step {
                Step::Bridge(v) => self.bridge(v),
                Step::Drop(b, tip) => self.drop_edge(b, tip),
            };
            if made {
                return true;
            }
            self.refused.insert(key);
        }
        false
    }

    fn bridge(&mut self, v: usize) -> bool {
        let n = self.points.len();
        let before = (v + n - 1) % n;
        let (a, b, c) = (self.at(before), self.at(v), self.at(v + 1));
        let (from, to) = (self.points[before].from, self.span_end(before, v));
        let near = |&p: &Point| distance(p, nearest_on_segment(p, a, c)) <= self.tolerance;
        let free =
            (0..n).filter(|&i| i != before && i != v && i != (v + 1) % n).all(|i| !in_triangle(self.at(i), a, c, b));
        if !free || !self.originals(from, to).all(|p| near(&p)) || !self.keeps_near(a, c) {
            return false;
        }
        self.points[before].to = to;
        self.points[before].id = self.next_id;
        self.next_id += 1;
        self.points.remove(v);
        true
    }

    fn drop_edge(&mut self, b: usize, tip: Point) -> bool {
        let n = self.points.len();
        let (before, after) = ((b + n - 1) % n, (b + 1) % n);
        let (p, q) = (self.at(b), self.at(after));
        let (a, d) = (self.at(before), self.at(after + 1));
        let free = (0..n).filter(|&i| i != b && i != after).all(|i| !in_triangle(self.at(i), p, tip, q))
            && (0..n)
                .filter(|&i| i != before && i != b && i != after)
                .all(|i| !meet(p, tip, self.at(i), self.at(i + 1)) && !meet(tip, q, self.at(i), self.at(i + 1)));
        if !free || !self.keeps_near(p, tip) || !self.keeps_near(tip, q) {
            return false;
        }
        let to_first = |p: Point| distance(p, nearest_on_segment(p, a, tip));
        let to_second = |p: Point| distance(p, nearest_on_segment(p, tip, d));
        let Corner { from, to, .. } = self.points[b];
        if !self.originals(from, to).all(|p| to_first(p).min(to_second(p)) <= self.tolerance) {
            return false;
        }
        // The dropped edge's share of the original border goes to the neighbours.
        let ring = self.original;
        let split =
            (from..to).find(|&i| to_second(ring[i % ring.len()]) < to_first(ring[i % ring.len()])).unwrap_or(to);
        self.points[before].to = self.points[before].from + span(self.points[before].from, split, ring.len());
        let end = self.points[after].to;
        let from = split % ring.len();
        self.points[after] = Corner { at: tip, id: self.next_id, from, to: from + span(from, end, ring.len()) };
        self.points[before].id = self.next_id + 1;
        self.next_id += 2;
        self.points.remove(b);
        true
    }

    /// The end of the original border that the edges from `before` on and from `v` on stand for together.
    fn span_end(&self, before: usize, v: usize) -> usize {
        let start = self.points[before].from;
        start + span(start, self.points[v].to, self.original.len())
    }

    /// The original corners counted from `from` to `to`, both included.
    fn originals(&self, from: usize, to: usize) -> impl Iterator<Item = Point> + '_ {
        (from..=to).map(|i| self.original[i % self.original.len()])
    }

    /// Whether no point of the segment is farther than the tolerance from the original border. A distance changes no
    /// faster than one moves, so a stretch of length `l` stays below the mean of its ends' distances plus `l / 2`.
    fn keeps_near(&self, a: Point, b: Point) -> bool {
        let far = |p: Point| {
            let n = self.original.len();
            (0..n)
                .map(|i| distance(p, nearest_on_segment(p, self.original[i], self.original[(i + 1) % n])))
                .fold(f64::INFINITY, f64::min)
        };
        let mut stretches = vec![(a, far(a), b, far(b))];
        while let Some((a, far_a, b, far_b)) = stretches.pop() {
            let length = distance(a, b);
            if far_a > self.tolerance || far_b > self.tolerance {
                return false;
            }
            if (far_a + far_b + length) / 2.0 > self.tolerance {
                if length < self.tolerance / 64.0 {
                    return false;
                }
                let middle = (a + b) / 2.0;
                let far_middle = far(middle);
                stretches.push((a, far_a, middle, far_middle));
                stretches.push((middle, far_middle, b, far_b));
            }
        }
        true
    }
}

/// How many corners lie from `start` on to the one with the number of `end`, round an outline of `n`; `n` when they are
/// the same.
fn span(start: usize, end: usize, n: usize) -> usize {
    match (end + n - start % n) % n {
        0 => n,
        steps => steps,
    }
}

/// Where the edge from `a` to `b`, run on, meets the edge from `c` to `d`, run back; none unless both corners turn
/// outward and by less than half a turn together. The point is outside both corners beyond doubt of rounding.
fn meeting_beyond(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    if orientation(b, c, d) <= 0.0 {
        return None;
    }
    let (u, v, between) = (b - a, d - c, c - b);
    let across = u.x * v.y - u.y * v.x;
    if across <= 0.0 {
        return None;
    }
    let share = (between.x * v.y - between.y * v.x) / across;
    let mut tip = b + u * share;
    let outward = point(between.y, -between.x) / distance(b, c);
    let mut nudge = 1e-12;
    while orientation(a, tip, b) < 0.0 || orientation(tip, d, c) < 0.0 {
        if nudge > 1e-6 {
            return None;
        }
        tip = tip + outward * nudge;
        nudge *= 2.0;
    }
    (tip.x.is_finite() && tip.y.is_finite()).then_some(tip)
}

/// Whether `p` lies in the closed triangle `a`, `b`, `c`, whichever way it turns.
fn in_triangle(p: Point, a: Point, b: Point, c: Point) -> bool {
    if !Bounds::of([a, b, c]).contains(p) {
        return false;
    }
    let sides = [orientation(a, b, p), orientation(b, c, p), orientation(c, a, p)];
    sides.iter().all(|&side| side >= 0.0) || sides.iter().all(|&side| side <= 0.0)
}

/// Whether two segments have a point in common.
fn meet(a: Point, b: Point, c: Point, d: Point) -> bool {
    let (abc, abd) = (orientation(a, b, c), orientation(a, b, d));
    let (cda, cdb) = (orientation(c, d, a), orientation(c, d, b));
    let parted = |s: f64, t: f64| (s > 0.0 && t > 0.0) || (s < 0.0 && t < 0.0);
    if parted(abc, abd) || parted(cda, cdb) {
        return false;
    }
    let overlap = |a: f64, b: f64, c: f64, d: f64| a.min(b) <= c.max(d) && c.min(d) <= a.max(b);
    overlap(a.x, b.x, c.x, d.x) && overlap(a.y, b.y, c.y, d.y)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Edge, EdgeShape, FLATNESS_MM, Path, area_outside, contains_point};
    use proptest::prelude::*;

    fn to_border(p: Point, outline: &Outline) -> f64 {
        outline.edges().map(|(a, b)| distance(p, nearest_on_segment(p, a, b))).fold(f64::INFINITY, f64::min)
    }

    fn assert_promise(outline: &Outline, simple: &Outline, tolerance: f64) -> Result<(), TestCaseError> {
        prop_assert!(simple.points().len() <= outline.points().len());
        Outline::new(simple.points().to_vec()).map_err(|faults| TestCaseError::fail(format!("{faults:?}")))?;
        prop_assert!(area_outside(outline, simple) < 1e-9);
        for &p in outline.points() {
            prop_assert!(contains_point(simple, p), "{p:?} is outside");
            prop_assert!(to_border(p, simple) <= tolerance + 1e-9);
        }
        for (a, b) in simple.edges() {
            for i in 0..50 {
                let p = a + (b - a) * (f64::from(i) / 50.0);
                let off = to_border(p, outline);
                prop_assert!(off <= tolerance + 1e-9, "{off} at {p:?}");
            }
        }
        Ok(())
    }

    /// A bodice front with a hooked armhole, a scooped neck and a shaped side.
    fn bodice() -> Outline {
        let cubic = |x, y, first: (f64, f64), second: (f64, f64)| Edge {
            name: String::new(),
            to: point(x, y),
            shape: EdgeShape::Cubic { first: point(first.0, first.1), second: point(second.0, second.1) },
        };
        let straight = |x, y| Edge { name: String::new(), to: point(x, y), shape: EdgeShape::Straight };
        let edges = vec![
            straight(240.0, 10.0),
            cubic(265.0, 260.0, (205.0, 90.0), (230.0, 190.0)),
            cubic(200.0, 470.0, (180.0, 262.0), (185.0, 380.0)),
            straight(90.0, 505.0),
            cubic(0.0, 410.0, (85.0, 440.0), (55.0, 410.0)),
            straight(0.0, 0.0),
        ];
        Path::new(point(0.0, 0.0), edges).unwrap().flatten(0.02).outline().unwrap()
    }

    #[test]
    fn a_garment_piece_of_many_points_comes_down_to_few() {
        let piece = bodice();
        assert!(piece.points().len() > 120, "{}", piece.points().len());
        let simple = simplify_outward(&piece, 0.3);
        assert_promise(&piece, &simple, 0.3).unwrap();
        assert!((15..=40).contains(&simple.points().len()), "{}", simple.points().len());
        assert!(simple.area() < 1.002 * piece.area());
    }

    #[test]
    fn corners_that_matter_stay() {
        let square = Outline::rectangle(100.0, 60.0).unwrap();
        assert_eq!(simplify_outward(&square, 1.0), square);
        assert_eq!(simplify_outward(&bodice(), 0.0), bodice());
        assert_eq!(simplify_outward(&bodice(), f64::NAN), bodice());
    }

    #[test]
    fn a_bulb_behind_a_narrow_mouth_is_not_covered() {
        let pairs = [
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 100.0),
            (50.2, 100.0),
            (50.2, 80.0),
            (70.0, 50.0),
            (30.0, 50.0),
            (49.8, 80.0),
            (49.8, 100.0),
            (0.0, 100.0),
        ];
        let outline = Outline::from_pairs(&pairs).unwrap();
        let simple = simplify_outward(&outline, 1.0);
        assert!(!contains_point(&simple, point(50.0, 60.0)));
        assert_promise(&outline, &simple, 1.0).unwrap();
    }

    #[test]
    fn a_staircase_becomes_a_slope() {
        let step = |i: u8| f64::from(i) / 8.0;
        let mut pairs: Vec<(f64, f64)> =
            (0..32).flat_map(|i| [(2.0 * step(i), step(i)), (2.0 * step(i), step(i + 1))]).collect();
        pairs.push((20.0, 4.0));
        pairs.push((20.0, -5.0));
        pairs.push((0.0, -5.0));
        let outline = Outline::from_pairs(&pairs).unwrap();
        let simple = simplify_outward(&outline, 0.3);
        assert_promise(&outline, &simple, 0.3).unwrap();
        assert!(simple.points().len() <= 6, "{}", simple.points().len());
    }

    proptest! {
        #![proptest_config(crate::testing::cases(120))]

        #[test]
        fn ragged_outlines_are_contained_and_kept_near(
            radii in prop::collection::vec(20.0..200.0f64, 3..60), smooth in 0.0..1.0f64, exponent in -1.5..1.5f64,
        ) {
            let n = radii.len();
            let pairs: Vec<(f64, f64)> = (0..n)
                .map(|i| {
                    let r = 100.0 * smooth + (1.0 - smooth) * radii[i];
                    let (sin, cos) = (std::f64::consts::TAU * i as f64 / n as f64).sin_cos();
                    (r * cos, r * sin)
                })
                .collect();
            let outline = Outline::from_pairs(&pairs).unwrap();
            let tolerance = 10f64.powf(exponent);
            let simple = simplify_outward(&outline, tolerance);
            assert_promise(&outline, &simple, tolerance)?;
        }

        #[test]
        fn curved_pieces_are_contained_and_kept_near(
            bulges in prop::collection::vec((-0.4..0.4f64, -0.4..0.4f64), 3..7), exponent in -1.0..1.0f64,
        ) {
            let n = bulges.len();
            let at = |i: usize| {
                let (sin, cos) = (std::f64::consts::TAU * i as f64 / n as f64).sin_cos();
                point(150.0 * cos, 150.0 * sin)
            };
            let edges = (0..n)
                .map(|i| {
                    let (a, along) = (at(i), at((i + 1) % n) - at(i));
                    let square = point(along.y, -along.x);
                    let shape = EdgeShape::Cubic {
                        first: a + along / 3.0 + square * bulges[i].0,
                        second: a + along * (2.0 / 3.0) + square * bulges[i].1,
                    };
                    Edge { name: String::new(), to: at((i + 1) % n), shape }
                })
                .collect();
            let flat = Path::new(at(0), edges).unwrap().flatten(FLATNESS_MM);
            prop_assume!(flat.outline().is_ok());
            let outline = flat.outline().unwrap();
            let tolerance = 10f64.powf(exponent);
            let simple = simplify_outward(&outline, tolerance);
            assert_promise(&outline, &simple, tolerance)?;
        }
    }
}
