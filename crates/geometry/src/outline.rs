//! A simple closed outline, checked when it is made.
//!
//! An [`Outline`] is counter-clockwise, finite, has area, and does not cross or touch itself: later code never asks
//! again. [`Outline::new`] names every fault it finds instead of repairing silently.

use rstar::{AABB, RTree, RTreeObject};

use crate::{Bounds, Point, point};

/// What is wrong with a list of points that should be an outline. Indices count from 0 in the list as given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OutlineFault {
    /// Fewer than three distinct points.
    #[error("an outline needs at least three different points, this one has {distinct}")]
    TooFewPoints {
        /// Distinct points found.
        distinct: usize,
    },
    /// A coordinate is NaN or infinite.
    #[error("point {index} is not a pair of finite numbers")]
    NotFinite {
        /// The point's place in the list.
        index: usize,
    },
    /// Two edges cross or touch away from their common end.
    #[error(
        "the outline crosses or touches itself: edge {first} meets edge {second} near ({:.1}, {:.1})",
        at.x, at.y
    )]
    SelfCrossing {
        /// The earlier edge; edge `i` starts at point `i`.
        first: usize,
        /// The later edge.
        second: usize,
        /// Where they meet, mm.
        at: Point,
    },
    /// All points lie on one line.
    #[error("the outline encloses no area")]
    ZeroArea,
}

/// A simple polygon without holes, counter-clockwise, mm. The last point is not repeated.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    points: Vec<Point>,
}

impl Outline {
    /// Checks `points` and orients them counter-clockwise. Repeated neighbours and a repeated last point are dropped;
    /// they are the same outline.
    ///
    /// # Errors
    ///
    /// Every fault found; an outline with a non-finite point is not looked at further, and of very many crossings only
    /// the first are told.
    pub fn new(points: Vec<Point>) -> Result<Self, Vec<OutlineFault>> {
        let mut faults: Vec<OutlineFault> = (points.iter().enumerate())
            .filter(|(_, p)| !p.x.is_finite() || !p.y.is_finite())
            .map(|(index, _)| OutlineFault::NotFinite { index })
            .collect();
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut kept: Vec<(usize, Point)> = Vec::with_capacity(points.len());
        for (index, &p) in points.iter().enumerate() {
            if kept.last().is_none_or(|&(_, q)| q != p) {
                kept.push((index, p));
            }
        }
        while kept.len() > 1 && kept[0].1 == kept[kept.len() - 1].1 {
            kept.pop();
        }
        if kept.len() < 3 {
            return Err(vec![OutlineFault::TooFewPoints { distinct: kept.len() }]);
        }
        let ring: Vec<Point> = kept.iter().map(|&(_, p)| p).collect();
        if ring.iter().all(|&p| orientation(ring[0], ring[1], p) == 0.0) {
            return Err(vec![OutlineFault::ZeroArea]);
        }
        faults.extend(self_crossings(&ring).into_iter().map(|(a, b, at)| OutlineFault::SelfCrossing {
            first: kept[a].0,
            second: kept[b].0,
            at,
        }));
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut outline = Self { points: ring };
        if signed_area(&outline.points) < 0.0 {
            outline.points.reverse();
        }
        Ok(outline)
    }

    /// [`Outline::new`] from plain pairs, for tests and examples.
    ///
    /// # Errors
    ///
    /// As [`Outline::new`].
    pub fn from_pairs(pairs: &[(f64, f64)]) -> Result<Self, Vec<OutlineFault>> {
        Self::new(pairs.iter().map(|&(x, y)| point(x, y)).collect())
    }

    /// An upright rectangle with its low corner at the origin.
    ///
    /// # Errors
    ///
    /// When a side is not a finite number above zero.
    pub fn rectangle(width: f64, height: f64) -> Result<Self, Vec<OutlineFault>> {
        Self::from_pairs(&[(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)])
    }

    /// The corners, counter-clockwise.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The edges in order, each from its start to its end.
    pub fn edges(&self) -> impl ExactSizeIterator<Item = (Point, Point)> + '_ {
        let n = self.points.len();
        (0..n).map(move |i| (self.points[i], self.points[(i + 1) % n]))
    }

    /// Area, mm².
    pub fn area(&self) -> f64 {
        signed_area(&self.points)
    }

    /// The upright rectangle around it.
    pub fn bounds(&self) -> Bounds {
        Bounds::of(self.points.iter().copied())
    }

    /// The outline moved by `by`.
    pub fn translated(&self, by: Point) -> Self {
        Self { points: self.points.iter().map(|&p| p + by).collect() }
    }

    /// The outline under a rigid motion or a mirroring; the result is counter-clockwise again. The caller vouches that
    /// `map` keeps distances.
    pub fn map_rigid(&self, map: impl Fn(Point) -> Point) -> Self {
        let mut points: Vec<Point> = self.points.iter().map(|&p| map(p)).collect();
        if signed_area(&points) < 0.0 {
            points.reverse();
        }
        Self { points }
    }

    /// As a `geo` polygon, for that library's algorithms.
    pub fn to_polygon(&self) -> geo_types::Polygon<f64> {
        geo_types::Polygon::new(geo_types::LineString(self.points.clone()), Vec::new())
    }
}

/// Which side of the line from `a` to `b` the point `c` lies on: above zero to the left, below to the right, zero on it.
/// The sign is exact (Shewchuk's adaptive predicate, "Adaptive Precision Floating-Point Arithmetic and Fast Robust
/// Geometric Predicates", Discrete & Computational Geometry 18, 1997, through the `robust` crate).
pub fn orientation(a: Point, b: Point, c: Point) -> f64 {
    let exact = |p: Point| robust::Coord { x: p.x, y: p.y };
    robust::orient2d(exact(a), exact(b), exact(c))
}

/// Area of a ring of points by the shoelace formula, above zero when it runs counter-clockwise; 0 of fewer than three points. It
/// is taken about the first point, to keep digits far from the origin.
///
/// ```
/// use ellwand_geometry::{point, signed_area};
///
/// let clockwise = [point(0.0, 0.0), point(0.0, 4.0), point(3.0, 4.0)];
/// assert_eq!(signed_area(&clockwise), -6.0);
/// ```
pub fn signed_area(points: &[Point]) -> f64 {
    let Some(&o) = points.first() else { return 0.0 };
    let twice: f64 = points.windows(2).map(|w| (w[0].x - o.x) * (w[1].y - o.y) - (w[1].x - o.x) * (w[0].y - o.y)).sum();
    twice / 2.0
}

/// An outline with this many crossings is a scribble: `n` edges can cross `n²/2` times, and nobody reads such a list.
const MOST_CROSSINGS: usize = 1000;

/// Edge pairs that meet where they should not, with a point of each meeting, up to about [`MOST_CROSSINGS`] of them.
/// `O((n + k) log n)` for outlines of usual shape.
fn self_crossings(ring: &[Point]) -> Vec<(usize, usize, Point)> {
    struct Edge(usize, Point, Point);
    impl RTreeObject for Edge {
        type Envelope = AABB<[f64; 2]>;
        fn envelope(&self) -> Self::Envelope {
            AABB::from_corners([self.1.x, self.1.y], [self.2.x, self.2.y])
        }
    }
    let n = ring.len();
    let tree = RTree::bulk_load((0..n).map(|i| Edge(i, ring[i], ring[(i + 1) % n])).collect());
    let mut found = Vec::new();
    for i in 0..n {
        if found.len() >= MOST_CROSSINGS {
            break;
        }
        let (a, b) = (ring[i], ring[(i + 1) % n]);
        let window = AABB::from_corners([a.x, a.y], [b.x, b.y]);
        for &Edge(j, c, d) in tree.locate_in_envelope_intersecting(window) {
            if j <= i {
                continue;
            }
            let neighbours = j == i + 1 || (i == 0 && j == n - 1);
            let meeting = if neighbours {
                // Neighbours share one end; they may not fold back along each other.
                let (before, shared, after) = if j == i + 1 { (a, b, d) } else { (c, a, b) };
                let back = (before - shared).x * (after - shared).x + (before - shared).y * (after - shared).y;
                (back > 0.0 && orientation(before, shared, after) == 0.0).then_some(shared)
            } else {
                meeting_point(a, b, c, d)
            };
            if let Some(at) = meeting {
                found.push((i, j, at));
            }
        }
    }
    found.sort_by_key(|&(i, j, _)| (i, j));
    found
}

/// A common point of two closed segments, decided exactly and located in floating point.
fn meeting_point(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (abc, abd) = (orientation(a, b, c), orientation(a, b, d));
    let (cda, cdb) = (orientation(c, d, a), orientation(c, d, b));
    let within = |p: Point, q: Point, r: Point| Bounds::of([p, q]).contains(r);
    for (side, p, q, r) in [(abc, a, b, c), (abd, a, b, d), (cda, c, d, a), (cdb, c, d, b)] {
        if side == 0.0 && within(p, q, r) {
            return Some(r);
        }
    }
    let apart = |s: f64, t: f64| s == 0.0 || t == 0.0 || (s > 0.0) == (t > 0.0);
    if apart(abc, abd) || apart(cda, cdb) {
        return None;
    }
    let (u, v, w) = (b - a, d - c, c - a);
    let t = (w.x * v.y - w.y * v.x) / (u.x * v.y - u.y * v.x);
    Some(a + u * t)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clockwise_input_comes_out_counter_clockwise() {
        let outline = Outline::from_pairs(&[(0.0, 0.0), (0.0, 4.0), (3.0, 4.0), (3.0, 0.0)]).unwrap();
        assert_eq!(outline.area(), 12.0);
    }

    #[test]
    fn a_bow_tie_names_both_edges_and_the_place() {
        let faults = Outline::from_pairs(&[(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)]).unwrap_err();
        assert_eq!(faults, vec![OutlineFault::SelfCrossing { first: 0, second: 2, at: point(2.0, 2.0) }]);
    }

    #[test]
    fn a_spike_is_a_fault() {
        let faults = Outline::from_pairs(&[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (4.0, 9.0), (4.0, 4.0), (0.0, 4.0)]);
        assert!(matches!(faults.unwrap_err()[0], OutlineFault::SelfCrossing { .. }));
    }

    #[test]
    fn a_touching_corner_is_a_fault() {
        let faults = Outline::from_pairs(&[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)]).unwrap_err();
        assert!(matches!(faults[0], OutlineFault::SelfCrossing { .. }));
    }

    #[test]
    fn every_bad_number_is_named() {
        let faults = Outline::from_pairs(&[(0.0, f64::NAN), (4.0, 0.0), (f64::INFINITY, 4.0)]).unwrap_err();
        assert_eq!(faults, vec![OutlineFault::NotFinite { index: 0 }, OutlineFault::NotFinite { index: 2 }]);
    }

    #[test]
    fn points_on_a_line_enclose_nothing() {
        let faults = Outline::from_pairs(&[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)]).unwrap_err();
        assert_eq!(faults, vec![OutlineFault::ZeroArea]);
    }

    #[test]
    fn a_repeated_last_point_is_the_same_outline() {
        let open = Outline::from_pairs(&[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0)]).unwrap();
        let closed = Outline::from_pairs(&[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 0.0)]).unwrap();
        assert_eq!(open, closed);
    }
}
