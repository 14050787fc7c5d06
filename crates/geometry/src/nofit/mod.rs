//! The no-fit region of two shapes: every displacement at which one overlaps the other.
//!
//! For shapes `A` and `B` in fixed poses the region is the set of `v` for which the interiors of `A` and `B + v` meet. It
//! equals the union, over the convex parts of both, of the open sums `int(Aᵢ) ⊕ -int(Bⱼ)`: given an overlap,
//! a small generic move takes its point off every cut between parts. The union is never formed. It is kept as a list of
//! convex clauses with the boundary that no clause covers, so that zero-width slots and single-point fits, which are legal
//! positions, survive, while a general polygon union would fill them in.
//!
//! A grid of cells over the region holds, for each cell, only the half-planes and the boundary segments that can matter
//! there. Whether a displacement overlaps, how deep, and which way leads out most shortly are then answered exactly in
//! near-constant time.

mod boundary;
mod cells;
mod cover;
mod division;

use std::sync::OnceLock;

use crate::convex::ConvexPart;
use crate::{Bounds, Point, point};
use boundary::Segment;
use cells::Cells;

/// Overlap shallower than this share of the region's size counts as touching: a few thousand times the rounding of `f64`.
const TOUCH_SHARE: f64 = 1e-10;

/// The no-fit region of an ordered pair of shapes.
#[derive(Debug, Clone)]
pub struct NoFitRegion {
    sums: Vec<Sum>,
    bounds: Bounds,
    /// How far the half-planes are drawn in, so that touching is not overlapping.
    touch: f64,
    edge: OnceLock<Edge>,
}

/// What tells overlap and depth. It takes most of the time of building a region, and a starting layout asks for blocked spans only,
/// so it is built when first asked for.
#[derive(Debug, Clone)]
struct Edge {
    segments: Vec<Segment>,
    cells: Cells,
}

/// The sum of a part of one shape and a part of the other, turned about.
#[derive(Debug, Clone)]
struct Sum {
    polygon: ConvexPart,
    bounds: Bounds,
}

/// The open inside of a sum as the half-planes of its edges, each drawn in by what counts as touching.
#[derive(Debug)]
pub(crate) struct Clause<'a> {
    pub(crate) planes: Vec<HalfPlane>,
    /// Corners and bounds as they were before.
    pub(crate) corners: &'a [Point],
    pub(crate) bounds: Bounds,
}

/// The half-plane `normal · v < offset`, with an outward unit normal.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HalfPlane {
    pub(crate) normal: Point,
    pub(crate) offset: f64,
}

impl HalfPlane {
    /// Signed distance of `v`, above zero outside.
    #[inline]
    pub(crate) fn distance(&self, v: Point) -> f64 {
        self.normal.x * v.x + self.normal.y * v.y - self.offset
    }
}

/// How deep a displacement lies in a no-fit region and the nearest way out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Escape {
    /// Least distance to move to be apart, mm.
    pub depth: f64,
    /// The nearest displacement at which the shapes only touch.
    pub to: Point,
}

impl NoFitRegion {
    /// The region of `v` for which `b + v` overlaps `a`.
    ///
    /// Time is about the square of the number of pairs of parts, the greater part of it at the first question other than
    /// [`NoFitRegion::blocked_along`].
    pub fn new(a: &[ConvexPart], b: &[ConvexPart]) -> Self {
        let negated: Vec<ConvexPart> = b.iter().map(|part| part.flipped(-1.0, -1.0)).collect();
        let sums = a.iter().flat_map(|p| negated.iter().map(|q| Sum::new(p.minkowski_sum(q))));
        let sums: Vec<Sum> = sums.collect();
        let bounds = Bounds::of(sums.iter().flat_map(|sum| [sum.bounds.min, sum.bounds.max]));
        let touch = TOUCH_SHARE * bounds.width().max(bounds.height());
        Self { sums: outermost(sums, touch), bounds, touch, edge: OnceLock::new() }
    }

    #[inline]
    fn edge(&self) -> &Edge {
        self.edge.get_or_init(|| {
            let clauses: Vec<Clause> = self.sums.iter().map(|sum| Clause::new(sum, self.touch)).collect();
            let segments = boundary::uncovered(&clauses);
            let cells = division::divided(&clauses, &segments, self.bounds, self.touch);
            Edge { segments, cells }
        })
    }

    /// Whether the shapes overlap at displacement `v`; touching is not overlapping.
    #[inline]
    pub fn overlaps(&self, v: Point) -> bool {
        self.edge().cells.overlaps(v)
    }

    /// Least distance to move from `v` to be apart; 0 exactly when the shapes do not overlap.
    #[inline]
    pub fn depth(&self, v: Point) -> f64 {
        self.depth_up_to(v, f64::INFINITY)
    }

    /// As [`NoFitRegion::depth`], for a caller to whom anything above `most` is too much: then the answer may be infinite, which
    /// is quicker to tell.
    #[inline]
    pub fn depth_up_to(&self, v: Point, most: f64) -> f64 {
        let edge = self.edge();
        edge.cells.depth(v, most, &edge.segments)
    }

    /// The shortest way out at `v`, or `None` when the shapes do not overlap there.
    pub fn escape(&self, v: Point) -> Option<Escape> {
        let edge = self.edge();
        let to = edge.cells.nearest_point(v, &edge.segments)?;
        let d = to - v;
        Some(Escape { depth: (d.x * d.x + d.y * d.y).sqrt(), to })
    }

    /// The upright rectangle around the region.
    pub fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// The ends of the boundary segments: corners where one shape touches the other twice.
    pub fn corners(&self) -> impl ExactSizeIterator<Item = Point> + '_ {
        self.edge().segments.iter().map(|s| s.from)
    }

    /// The boundary, in stretches from one point to another: where the shapes touch and do not overlap. A stretch may be a single point.
    pub fn boundary(&self) -> impl ExactSizeIterator<Item = (Point, Point)> + '_ {
        self.edge().segments.iter().map(|s| (s.from, s.to()))
    }

    /// The spans of `y` at which `(x, y)` overlaps, one for each convex sum that the line meets; they may overlap each other.
    /// At an end that lies in no other span the shapes touch.
    pub fn blocked_along(&self, x: f64, spans: &mut Vec<(f64, f64)>) {
        spans.extend(self.sums.iter().filter_map(|sum| sum.span_at(x, self.touch)));
    }
}

/// The sums that lie in no other one: about half of those of two garment pieces.
fn outermost(mut sums: Vec<Sum>, touch: f64) -> Vec<Sum> {
    // What holds another has the larger bounds and so comes before it.
    let area = |sum: &Sum| sum.bounds.width() * sum.bounds.height();
    sums.sort_by(|a, b| area(b).total_cmp(&area(a)));
    let mut clauses: Vec<Clause> = Vec::new();
    let mut is_outermost = Vec::with_capacity(sums.len());
    for sum in &sums {
        let held = clauses.iter().any(|clause| clause.holds(sum, touch));
        if !held {
            clauses.push(Clause::new(sum, touch));
        }
        is_outermost.push(!held);
    }
    sums.into_iter().zip(is_outermost).filter_map(|(sum, outermost)| outermost.then_some(sum)).collect()
}

impl Sum {
    fn new(polygon: ConvexPart) -> Self {
        let bounds = Bounds::of(polygon.points().iter().copied());
        Self { polygon, bounds }
    }

    /// The open span of `y` inside on the line through `x`; none when the line goes in by no more than `touch`.
    fn span_at(&self, x: f64, touch: f64) -> Option<(f64, f64)> {
        if x <= self.bounds.min.x + touch || x >= self.bounds.max.x - touch {
            return None;
        }
        let corners = self.polygon.points();
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for (k, &p) in corners.iter().enumerate() {
            let q = corners[(k + 1) % corners.len()];
            if (p.x <= x) != (q.x <= x) {
                let y = p.y + (q.y - p.y) * ((x - p.x) / (q.x - p.x));
                (low, high) = (low.min(y), high.max(y));
            }
        }
        (low < high).then_some((low, high))
    }
}

impl<'a> Clause<'a> {
    fn new(sum: &'a Sum, touch: f64) -> Self {
        let corners = sum.polygon.points();
        let n = corners.len();
        let planes = (0..n)
            .map(|i| {
                let (p, q) = (corners[i], corners[(i + 1) % n]);
                let d = q - p;
                let length = (d.x * d.x + d.y * d.y).sqrt();
                let normal = point(d.y / length, -d.x / length);
                HalfPlane { normal, offset: normal.x * p.x + normal.y * p.y - touch }
            })
            .collect();
        Self { planes, corners, bounds: sum.bounds }
    }

    /// Whether `sum`, drawn in like this clause, lies in it. Rounding may push a corner that both share out by far less than a
    /// hundredth of `touch`.
    fn holds(&self, sum: &Sum, touch: f64) -> bool {
        let hair = 0.01 * touch;
        let corners = sum.polygon.points();
        sum.bounds.min.x >= self.bounds.min.x - hair
            && sum.bounds.min.y >= self.bounds.min.y - hair
            && sum.bounds.max.x <= self.bounds.max.x + hair
            && sum.bounds.max.y <= self.bounds.max.y + hair
            && self.planes.iter().all(|plane| corners.iter().all(|&corner| plane.distance(corner) <= touch + hair))
    }
}

#[cfg(test)]
mod tests;
