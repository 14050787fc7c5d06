//! The cutting line around a seam line: an outward offset in which every edge has its own depth.
//!
//! Each short segment of the seam line gets a band as deep as its edge's allowance, corners get the region between the
//! two offset lines, and the cutting line is the outer border of the union of all that with the piece itself. So curves
//! that bend inwards more tightly than their allowance, and allowances that run into each other, need no special care.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use i_overlay::float::overlay::{FloatOverlay, OverlayOptions};

use crate::path::{distance, nearest_on_segment};
use crate::{Flattened, Outline, OutlineFault, Point, orientation, point};

/// A corner's cutting lines run on until they meet, but no farther from the corner than this many times the deeper
/// allowance; beyond, the corner is cut off square to its bisector. It spares the long useless tips of collar points
/// and darts; corners wider than about 47 degrees are whole.
pub const MITRE_LIMIT: f64 = 2.5;

/// Where a deep allowance meets a shallow one, its corner is trimmed to the shallower cutting line, unless that would
/// cut away more than this many times the depth along the edge: then the two meet in a square step.
const TRIM_LIMIT: f64 = 4.0;

/// Points of the union nearer than this to a point of its parts, or to a straight line, are rounding noise, mm.
const NOISE_MM: f64 = 1e-7;

/// What lies beyond one edge of the seam line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EdgeAllowance {
    /// The edge lies on a fold: straight, nothing added, and nothing reaches across its line.
    Fold,
    /// Cloth of this depth, mm, measured square to the edge; 0 for a raw edge.
    Depth(f64),
}

impl EdgeAllowance {
    fn depth(self) -> f64 {
        match self {
            Self::Fold => 0.0,
            Self::Depth(depth) => depth,
        }
    }
}

/// Why no cutting line can be drawn. Edges count from 0.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OffsetFault {
    /// A depth is below zero or not a finite number.
    #[error("the allowance of edge {} is {depth} mm; it must be a finite length from 0 up", edge + 1)]
    BadDepth {
        /// Index of the edge.
        edge: usize,
        /// The depth given, mm.
        depth: f64,
    },
    /// Some edge has no allowance, or there are allowances for edges that do not exist.
    #[error("the outline has {edges} edges, but {allowances} allowances are given")]
    WrongCount {
        /// Edges of the outline.
        edges: usize,
        /// Allowances given.
        allowances: usize,
    },
    /// A fold edge bends.
    #[error("the fold edge {} is not straight: it leaves its chord by {by:.2} mm", edge + 1)]
    BentFold {
        /// Index of the edge.
        edge: usize,
        /// Largest distance from the straight line between its ends, mm.
        by: f64,
    },
    /// Part of the piece lies beyond the line of its fold edge.
    #[error(
        "the piece crosses the line of its fold edge {} by {by:.2} mm at ({:.1}, {:.1}) mm",
        edge + 1, at.x, at.y
    )]
    CrossesFold {
        /// Index of the fold edge.
        edge: usize,
        /// The point farthest beyond, mm.
        at: Point,
        /// How far, mm.
        by: f64,
    },
    /// The seam line is not a sound outline.
    #[error("the seam line is not sound: {0}")]
    SeamLine(OutlineFault),
    /// The cutting line came out unsound: a defect of this program.
    #[error("the cutting line came out unsound, which is a defect of this program: {0}")]
    Defect(OutlineFault),
}

/// The cutting line of a piece, with the seam line it was drawn around.
#[derive(Debug, Clone, PartialEq)]
pub struct CuttingLine {
    outline: Outline,
    seam: Flattened,
    allowances: Vec<EdgeAllowance>,
}

/// A point of the seam line carried out to the cutting line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarriedOut {
    /// The edge it belongs to.
    pub edge: usize,
    /// Where it was on the seam line, mm.
    pub on_seam: Point,
    /// Where it is on the cutting line, mm.
    pub at: Point,
    /// Unit vector into the piece, square to the edge.
    pub inward: Point,
}

impl CuttingLine {
    /// Draws the cutting line around `seam`, with one allowance for each edge of the path it was flattened from.
    ///
    /// Where two edges meet in an outward corner, their cutting lines run on to where they cross, whatever their
    /// depths; see [`MITRE_LIMIT`] for sharp corners. Where the deeper of the two would stick out beyond the other's
    /// cutting line it is trimmed to it; edges that meet almost in line but differ in depth meet in a square step. A
    /// gap between allowances that has closed on itself is cut through: the outline has no hole.
    ///
    /// The result contains the seam line, a fold edge stays on its line, and with one depth `d` everywhere every point
    /// of the result lies `d` or more from the seam line and at most `sqrt(MITRE_LIMIT² + 1) d` from it.
    ///
    /// # Errors
    ///
    /// Every fault found.
    ///
    /// ```
    /// use ellwand_geometry::{CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, Path, point};
    ///
    /// let edge = |x, y| Edge { name: String::new(), to: point(x, y), shape: EdgeShape::Straight };
    /// let sides = vec![edge(120.0, 0.0), edge(120.0, 140.0), edge(0.0, 140.0), edge(0.0, 0.0)];
    /// let pocket = Path::new(point(0.0, 0.0), sides).unwrap();
    /// let (seam, hem) = (EdgeAllowance::Depth(15.0), EdgeAllowance::Depth(30.0));
    /// let cut = CuttingLine::around(pocket.flatten(FLATNESS_MM), &[seam, seam, hem, seam]).unwrap();
    /// assert_eq!(cut.outline().area(), (120.0 + 30.0) * (140.0 + 45.0));
    /// let notch = cut.carry_out(point(60.0, 140.0));
    /// assert_eq!((notch.at, notch.inward), (point(60.0, 170.0), point(0.0, -1.0)));
    /// ```
    pub fn around(seam: Flattened, allowances: &[EdgeAllowance]) -> Result<Self, Vec<OffsetFault>> {
        let mut faults: Vec<OffsetFault> = (allowances.iter().enumerate())
            .filter(|(_, a)| !(a.depth().is_finite() && a.depth() >= 0.0))
            .map(|(edge, a)| OffsetFault::BadDepth { edge, depth: a.depth() })
            .collect();
        let edges = seam.edge_of().iter().max().map_or(0, |&last| last + 1);
        if edges != allowances.len() {
            faults.push(OffsetFault::WrongCount { edges, allowances: allowances.len() });
        }
        if let Err(unsound) = seam.outline() {
            faults.extend(unsound.into_iter().map(OffsetFault::SeamLine));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let folds = fold_lines(&seam, allowances)?;
        let outline = without_pinches(Parts::of(&seam, allowances, &folds).border(&folds))
            .map_err(|unsound| unsound.into_iter().map(OffsetFault::Defect).collect::<Vec<_>>())?;
        Ok(Self { outline, seam, allowances: allowances.to_vec() })
    }

    /// The cutting line, counter-clockwise.
    pub fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The seam line.
    pub fn seam(&self) -> &Flattened {
        &self.seam
    }

    /// Carries the point of the seam line nearest to `p` out to the cutting line, square to its edge. On a fold or a
    /// raw edge it stays where it is, unless the allowance of another edge covers it.
    pub fn carry_out(&self, p: Point) -> CarriedOut {
        let nearest = self.seam.nearest(p);
        let (a, b) = self.seam.segment(nearest.segment);
        let outward = outward_normal(a, b);
        let on_border = |(a, b)| distance(nearest.at, nearest_on_segment(nearest.at, a, b)) <= NOISE_MM;
        let at = if self.outline.edges().any(on_border) {
            nearest.at
        } else {
            // The band is part of the piece, so the first crossing is its depth away or more; less only where it is
            // trimmed.
            let depth = self.allowances[nearest.edge].depth();
            nearest.at + outward * self.first_crossing(nearest.at, outward).unwrap_or(depth)
        };
        CarriedOut { edge: nearest.edge, on_seam: nearest.at, at, inward: point(-outward.x, -outward.y) }
    }

    /// How far from `from` in the direction `towards` the cutting line is crossed first, mm.
    fn first_crossing(&self, from: Point, towards: Point) -> Option<f64> {
        (self.outline.edges())
            .filter_map(|(a, b)| {
                let (along, to_a) = (b - a, a - from);
                let across = cross(towards, along);
                if across == 0.0 {
                    return None;
                }
                let (reach, share) = (cross(to_a, along) / across, cross(to_a, towards) / across);
                (reach > NOISE_MM && (-1e-9..=1.0 + 1e-9).contains(&share)).then_some(reach)
            })
            .min_by(f64::total_cmp)
    }
}

/// A half-plane: the points that lie no farther in the direction `outward` than `at`.
#[derive(Debug, Clone, Copy)]
struct HalfPlane {
    at: Point,
    outward: Point,
}

impl HalfPlane {
    /// How far `p` lies beyond the border; below zero inside.
    fn beyond(&self, p: Point) -> f64 {
        dot(p - self.at, self.outward)
    }

    /// The part of a convex polygon within the half-plane.
    fn clip(&self, polygon: &[Point]) -> Vec<Point> {
        let mut kept = Vec::with_capacity(polygon.len() + 1);
        for (i, &p) in polygon.iter().enumerate() {
            let q = polygon[(i + 1) % polygon.len()];
            let (beyond_p, beyond_q) = (self.beyond(p), self.beyond(q));
            if beyond_p <= 0.0 {
                kept.push(p);
            }
            if (beyond_p < 0.0 && beyond_q > 0.0) || (beyond_p > 0.0 && beyond_q < 0.0) {
                // The same order of ends for both polygons that share this side, so that they still share it.
                let ((a, beyond_a), (b, beyond_b)) = if (p.x, p.y) < (q.x, q.y) {
                    ((p, beyond_p), (q, beyond_q))
                } else {
                    ((q, beyond_q), (p, beyond_p))
                };
                kept.push(a + (b - a) * (beyond_a / (beyond_a - beyond_b)));
            }
        }
        kept
    }
}

/// The half-planes the piece must keep to, one for each fold edge.
fn fold_lines(seam: &Flattened, allowances: &[EdgeAllowance]) -> Result<Vec<HalfPlane>, Vec<OffsetFault>> {
    let mut lines = Vec::new();
    let mut faults = Vec::new();
    for edge in (0..allowances.len()).filter(|&e| allowances[e] == EdgeAllowance::Fold) {
        let segments: Vec<usize> = (0..seam.points().len()).filter(|&s| seam.edge_of()[s] == edge).collect();
        // An edge's segments follow each other, but may pass the end of the list.
        let before = |&&s: &&usize| seam.edge_of()[(s + seam.points().len() - 1) % seam.points().len()] != edge;
        let (Some(&first), count) = (segments.iter().find(before), segments.len()) else { continue };
        let a = seam.points()[first];
        let b = seam.points()[(first + count) % seam.points().len()];
        let line = HalfPlane { at: a, outward: outward_normal(a, b) };
        let bent = segments.iter().map(|&s| line.beyond(seam.points()[s]).abs()).fold(0.0, f64::max);
        if bent > 1e-6 {
            faults.push(OffsetFault::BentFold { edge, by: bent });
            continue;
        }
        let farthest = seam.points().iter().copied().max_by(|&p, &q| line.beyond(p).total_cmp(&line.beyond(q)));
        match farthest {
            Some(at) if line.beyond(at) > 1e-6 => {
                faults.push(OffsetFault::CrossesFold { edge, at, by: line.beyond(at) });
            }
            _ => lines.push(line),
        }
    }
    if faults.is_empty() { Ok(lines) } else { Err(faults) }
}

/// The convex parts added around the seam line, counter-clockwise, and the seam line itself.
struct Parts {
    seam: Vec<Point>,
    /// The band of each segment; empty where nothing is added.
    bands: Vec<Vec<Point>>,
    /// What is added at the start of each segment; empty where nothing is.
    corners: Vec<Vec<Point>>,
}

/// One end of an edge where its bands must keep behind the neighbour's cutting line.
struct Trim {
    /// The segment at the corner.
    segment: usize,
    /// Whether the edge runs on from the corner or comes to it.
    way: Way,
    /// How far along the edge the trimming may reach, mm.
    reach: f64,
    line: HalfPlane,
}

/// Which way an edge runs, seen from a corner.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    From,
    Towards,
}

impl Parts {
    fn of(seam: &Flattened, allowances: &[EdgeAllowance], folds: &[HalfPlane]) -> Self {
        let n = seam.points().len();
        let depth = |segment: usize| allowances[seam.edge_of()[segment]].depth();
        let bands = (0..n)
            .map(|segment| {
                let (a, b) = seam.segment(segment);
                let out = outward_normal(a, b) * depth(segment);
                if depth(segment) > 0.0 { vec![a, a + out, b + out, b] } else { Vec::new() }
            })
            .collect();
        let mut parts = Self { seam: seam.points().to_vec(), bands, corners: vec![Vec::new(); n] };
        let mut trims = Vec::new();
        for next in 0..n {
            let last = (next + n - 1) % n;
            if depth(last) > 0.0 || depth(next) > 0.0 {
                let (corner, trim) = corner(seam, last, next, depth(last), depth(next));
                parts.corners[next] = corner;
                trims.extend(trim);
            }
        }
        for trim in trims {
            parts.trim(seam, &trim);
        }
        for fold in folds {
            for part in parts.bands.iter_mut().chain(&mut parts.corners) {
                *part = fold.clip(part);
            }
        }
        parts
    }

    /// Trims the bands of one edge, and the corners between them, from the edge's end to the first band that keeps
    /// behind the line by itself. A curve that bends back across the line, or sticks out too far along, is left as it
    /// is.
    fn trim(&mut self, seam: &Flattened, trim: &Trim) {
        let n = self.bands.len();
        let step = if trim.way == Way::From { 1 } else { n - 1 };
        let sticks_out = |part: &[Point]| part.iter().any(|&p| trim.line.beyond(p) > NOISE_MM);
        let (mut segment, mut walked, mut stretch) = (trim.segment, 0.0, Vec::new());
        while sticks_out(&self.bands[segment]) {
            let (a, b) = seam.segment(segment);
            let other_edge = seam.edge_of()[segment] != seam.edge_of()[trim.segment];
            if other_edge || walked > trim.reach || sticks_out(&[a, b]) {
                return;
            }
            stretch.push(segment);
            walked += distance(a, b);
            segment = (segment + step) % n;
        }
        for segment in stretch {
            self.bands[segment] = trim.line.clip(&self.bands[segment]);
            let corner = if trim.way == Way::From { (segment + 1) % n } else { segment };
            self.corners[corner] = trim.line.clip(&self.corners[corner]);
        }
    }

    /// The outer border of the union.
    fn border(&self, folds: &[HalfPlane]) -> Vec<Point> {
        let parts = || std::iter::once(&self.seam).chain(&self.bands).chain(&self.corners).filter(|p| p.len() >= 3);
        let contours: Vec<Vec<[f64; 2]>> = parts().map(|part| part.iter().map(|p| [p.x, p.y]).collect()).collect();
        // The 64 bit engine's grid is finer than the spacing of `f64` over a piece. Its OGC shapes have an outer ring
        // that does not touch itself.
        let options = OverlayOptions::<f64, i64>::ogc();
        let shapes = FloatOverlay::<[f64; 2], i64>::from_subj_custom(&contours, options, Solver::default())
            .overlay(OverlayRule::Subject, FillRule::NonZero);
        let area = |ring: &Vec<Point>| crate::outline::signed_area(ring).abs();
        let border = (shapes.into_iter().filter_map(|shape| shape.into_iter().next()))
            .map(|ring| ring.into_iter().map(|[x, y]| point(x, y)).collect::<Vec<_>>())
            .filter(|ring| ring.len() >= 3)
            .max_by(|a, b| area(a).total_cmp(&area(b)))
            .unwrap_or_default();
        let corners: Vec<Point> = parts().flatten().copied().collect();
        without_noise(border, &corners, folds)
    }
}

/// What an outward corner adds, and what is trimmed there. Inward corners need neither: the bands overlap.
///
/// With the turn `θ` from direction `t1` to `t2`, the offset lines cross at `v + s t1 + d1 n1 = v - u t2 + d2 n2`,
/// where `s = (d2 - d1 cos θ) / sin θ` and `u = (d1 - d2 cos θ) / sin θ`.
fn corner(seam: &Flattened, last: usize, next: usize, depth_last: f64, depth_next: f64) -> (Vec<Point>, Option<Trim>) {
    let (from, v) = seam.segment(last);
    let (_, to) = seam.segment(next);
    if orientation(from, v, to) <= 0.0 {
        return (Vec::new(), None);
    }
    let (t1, n1, n2) = (direction(from, v), outward_normal(from, v), outward_normal(v, to));
    let t2 = direction(v, to);
    let (sin, cos) = (cross(t1, t2), dot(t1, t2));
    let (a, b) = (v + n1 * depth_last, v + n2 * depth_next);
    // 1 - cos over sin, written so that a slight turn keeps its digits.
    let half_turn = sin / (1.0 + cos);
    let beyond_last = (depth_next - depth_last) / sin + depth_last * half_turn;
    let beyond_next = (depth_last - depth_next) / sin + depth_next * half_turn;
    if beyond_last >= 0.0 && beyond_next >= 0.0 && beyond_last.is_finite() {
        let tip = a + t1 * beyond_last;
        let limit = MITRE_LIMIT * depth_last.max(depth_next);
        let reach = distance(v, tip);
        let square = HalfPlane { at: v + (tip - v) * (limit / reach), outward: tip - v };
        let whole = vec![v, a, tip, b];
        return (if reach > limit { square.clip(&whole) } else { whole }, None);
    }
    // The deeper allowance sticks out beyond the other's cutting line, by `cut` along its edge.
    let (cut, depth, segment, way, line) = if beyond_last < 0.0 {
        (-beyond_last, depth_last, last, Way::Towards, HalfPlane { at: b, outward: n2 })
    } else {
        (-beyond_next, depth_next, next, Way::From, HalfPlane { at: a, outward: n1 })
    };
    if cut.is_finite() && cut <= TRIM_LIMIT * depth {
        (line.clip(&[v, a, b]), Some(Trim { segment, way, reach: 2.0 * cut + depth, line }))
    } else {
        (vec![v, a, b], None)
    }
}

/// Puts points back onto the corners and fold lines they came from and drops those that rounding left between.
fn without_noise(mut ring: Vec<Point>, corners: &[Point], folds: &[HalfPlane]) -> Vec<Point> {
    let mut by_x: Vec<Point> = corners.to_vec();
    by_x.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    for p in &mut ring {
        let start = by_x.partition_point(|c| c.x < p.x - NOISE_MM);
        let near = by_x[start..].iter().take_while(|c| c.x <= p.x + NOISE_MM);
        if let Some(&corner) = near
            .filter(|&&c| distance(c, *p) <= NOISE_MM)
            .min_by(|&&c, &&d| distance(c, *p).total_cmp(&distance(d, *p)))
        {
            *p = corner;
        }
        for fold in folds {
            let beyond = fold.beyond(*p);
            if beyond.abs() <= NOISE_MM {
                *p = *p - fold.outward * beyond;
            }
        }
    }
    loop {
        let n = ring.len();
        let superfluous = (0..n).find(|&i| {
            let (before, after) = (ring[(i + n - 1) % n], ring[(i + 1) % n]);
            distance(ring[i], after) <= NOISE_MM
                || distance(ring[i], nearest_on_segment(ring[i], before, after)) <= NOISE_MM
                || distance(after, nearest_on_segment(after, before, ring[i])) <= NOISE_MM
        });
        match superfluous {
            Some(i) if n > 3 => {
                ring.remove(i);
            }
            _ => return ring,
        }
    }
}

/// The outline of a border that may touch itself where a gap has closed but for a rounding error: what the pinch
/// encloses is filled in.
fn without_pinches(mut ring: Vec<Point>) -> Result<Outline, Vec<OutlineFault>> {
    loop {
        let faults = match Outline::new(ring.clone()) {
            Ok(outline) => return Ok(outline),
            Err(faults) => faults,
        };
        let OutlineFault::SelfCrossing { first, second, at } = faults[0] else { return Err(faults) };
        let loops = [
            std::iter::once(at).chain(ring[first + 1..=second].iter().copied()).collect::<Vec<_>>(),
            std::iter::once(at).chain(ring[second + 1..].iter().chain(&ring[..=first]).copied()).collect(),
        ];
        let area = |ring: &[Point]| crate::outline::signed_area(ring).abs();
        let kept = if area(&loops[0]) > area(&loops[1]) { 0 } else { 1 };
        let [shortened, other] = [&loops[kept], &loops[1 - kept]].map(|l| without_noise(l.clone(), &[], &[]));
        // A border crosses itself by rounding only: the part given up winds the other way round, or encloses nothing.
        if shortened.len() >= ring.len() || crate::outline::signed_area(&other) > NOISE_MM {
            return Err(faults);
        }
        ring = shortened;
    }
}

fn direction(a: Point, b: Point) -> Point {
    (b - a) / distance(a, b)
}

/// Square to the way from `a` to `b`, to its right: out of a counter-clockwise outline.
fn outward_normal(a: Point, b: Point) -> Point {
    let along = direction(a, b);
    point(along.y, -along.x)
}

fn cross(a: Point, b: Point) -> f64 {
    a.x * b.y - a.y * b.x
}

fn dot(a: Point, b: Point) -> f64 {
    a.x * b.x + a.y * b.y
}

#[cfg(test)]
mod tests;
