//! The boundary of a union of open convex clauses: the parts of their edges that no clause covers.

use super::Clause;
use crate::{Bounds, Point};

/// A piece of the boundary.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Segment {
    pub(crate) from: Point,
    /// `to - from`.
    pub(crate) along: Point,
    /// `1 / |along|²`, or 0 for a single point.
    pub(crate) inverse_length_sq: f64,
}

impl Segment {
    pub(crate) fn new(from: Point, to: Point) -> Self {
        let along = to - from;
        let length_sq = along.x * along.x + along.y * along.y;
        Self { from, along, inverse_length_sq: if length_sq > 0.0 { 1.0 / length_sq } else { 0.0 } }
    }

    #[inline]
    pub(crate) fn nearest(&self, v: Point) -> Point {
        let w = v - self.from;
        let t = ((w.x * self.along.x + w.y * self.along.y) * self.inverse_length_sq).clamp(0.0, 1.0);
        self.from + self.along * t
    }

    #[inline]
    pub(crate) fn distance_sq(&self, v: Point) -> f64 {
        let d = self.nearest(v) - v;
        d.x * d.x + d.y * d.y
    }

    /// Whether some point of the segment may lie in the closed rectangle; decided by their shadows along the axes and square to the
    /// segment, so rounding is all that can mislead.
    pub(crate) fn meets(&self, rect: &Bounds) -> bool {
        let to = self.to();
        let apart = self.from.x.max(to.x) < rect.min.x
            || self.from.x.min(to.x) > rect.max.x
            || self.from.y.max(to.y) < rect.min.y
            || self.from.y.min(to.y) > rect.max.y;
        if apart {
            return false;
        }
        let (middle, half) = (rect.center() - self.from, (rect.max - rect.min) / 2.0);
        let off = self.along.x * middle.y - self.along.y * middle.x;
        off.abs() <= (self.along.x * half.y).abs() + (self.along.y * half.x).abs()
    }

    pub(super) fn to(&self) -> Point {
        self.from + self.along
    }
}

/// Every maximal stretch of a clause's edge that lies in no clause's open inside; equal stretches once.
pub(crate) fn uncovered(clauses: &[Clause<'_>]) -> Vec<Segment> {
    let mut segments: Vec<Segment> = Vec::new();
    let mut covered = Covered::default();
    // Most edges are swallowed by one or two clauses, and mostly by those that swallowed an edge just before: these come first.
    let mut order: Vec<(Bounds, usize)> = clauses.iter().map(|clause| clause.bounds).zip(0..).collect();
    for (index, clause) in clauses.iter().enumerate() {
        let n = clause.corners.len();
        for i in 0..n {
            let (p, q) = (clause.corners[i], clause.corners[(i + 1) % n]);
            let edge = Bounds::of([p, q]);
            covered.clear();
            let mut swallower = None;
            for (rank, (bounds, other)) in order.iter().enumerate() {
                if meet(&edge, bounds)
                    && *other != index
                    && let Some(span) = covered_share(p, q, &clauses[*other])
                    && covered.add(span)
                {
                    swallower = Some(rank);
                    break;
                }
            }
            match swallower {
                Some(rank) => order[..=rank].rotate_right(1),
                None => covered.gaps(|from, to| push_new(&mut segments, p + (q - p) * from, p + (q - p) * to)),
            }
        }
    }
    segments
}

/// The covered shares of one edge: sorted spans of 0 to 1 that do not meet.
#[derive(Default)]
struct Covered {
    spans: Vec<(f64, f64)>,
}

impl Covered {
    fn clear(&mut self) {
        self.spans.clear();
    }

    /// Adds a span and says whether the whole edge is covered now.
    fn add(&mut self, mut span: (f64, f64)) -> bool {
        let from = self.spans.partition_point(|s| s.1 < span.0);
        let to = self.spans.partition_point(|s| s.0 <= span.1);
        if from < to {
            span = (span.0.min(self.spans[from].0), span.1.max(self.spans[to - 1].1));
        }
        self.spans.splice(from..to, [span]);
        self.spans[0] == (0.0, 1.0)
    }

    /// Calls `visit` with each stretch between the spans.
    fn gaps(&self, mut visit: impl FnMut(f64, f64)) {
        let mut reached = 0.0;
        for &(from, to) in &self.spans {
            if from > reached {
                visit(reached, from);
            }
            reached = to;
        }
        if reached < 1.0 {
            visit(reached, 1.0);
        }
    }
}

/// Whether the two closed rectangles meet. All four comparisons at once: which of them fails cannot be foretold.
#[inline]
fn meet(a: &Bounds, b: &Bounds) -> bool {
    (a.min.x <= b.max.x) & (b.min.x <= a.max.x) & (a.min.y <= b.max.y) & (b.min.y <= a.max.y)
}

/// The share of the edge from `p` to `q`, as fractions of its length, inside the open `clause`.
fn covered_share(p: Point, q: Point, clause: &Clause) -> Option<(f64, f64)> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for plane in &clause.planes {
        let (dp, dq) = (plane.distance(p), plane.distance(q));
        if dp >= 0.0 && dq >= 0.0 {
            return None;
        }
        if dp >= 0.0 {
            from = from.max(dp / (dp - dq));
        } else if dq >= 0.0 {
            to = to.min(dp / (dp - dq));
        }
        if from >= to {
            return None;
        }
    }
    Some((from, to))
}

/// Adds a stretch unless one that covers it is already there, and drops those it covers.
fn push_new(segments: &mut Vec<Segment>, from: Point, to: Point) {
    let new = Segment::new(from, to);
    let size = 1.0 + from.x.abs().max(from.y.abs()).max(to.x.abs()).max(to.y.abs());
    let near_sq = (1e-11 * size) * (1e-11 * size);
    if segments.iter().any(|s| s.distance_sq(from) <= near_sq && s.distance_sq(to) <= near_sq) {
        return;
    }
    segments.retain(|s| new.distance_sq(s.from) > near_sq || new.distance_sq(s.to()) > near_sq);
    segments.push(new);
}
