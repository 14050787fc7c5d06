//! The parts added around a seam line: a band for each segment, what lies between bands at outward corners, and allowances
//! that are turned up.
//!
//! Allowances are added from the shallowest to the deepest, since a deeper one is turned up over what the shallower ones and
//! the piece make together; those that are to be mirrored or square whatever their depth come after all others. Edges of one depth
//! that run on into each other are turned up as one.

use super::border;
use super::mitre::Mitre;
use super::tidy::tidied;
use super::turned_up::{Chart, MOST_LEAN_OUT, SideShape, square_at};
use super::{CornerShape, EdgeAllowance, FoldEdge, MITRE_LIMIT, cross, direction, dot, outward_normal};
use std::cmp::Ordering;
use std::collections::BTreeSet;
use std::f64::consts::FRAC_1_SQRT_2;

use crate::path::distance;
use crate::{Flattened, Point, orientation};

/// A piece has a handful of different depths. Of one with more than this, several are added at once, and do not see each other: time
/// stays in proportion to the number of edges.
const MOST_LAYERS: usize = 64;

/// The tidied ring of the cutting line around `seam`.
pub(super) fn cutting_ring(
    seam: &Flattened,
    allowances: &[EdgeAllowance],
    drawn: &[usize],
    folds: &[FoldEdge],
) -> Vec<Point> {
    let layers = Layers { seam, allowances, drawn };
    let mut added: Vec<Layer> =
        allowances.iter().filter_map(|&a| Layer::of(a)).filter(|layer| layer.depth > 0.0).collect();
    added.sort_by(Layer::order);
    added.dedup();
    let mut ring = tidied(seam.points().to_vec());
    for together in added.chunks(added.len().div_ceil(MOST_LAYERS).max(1)) {
        let parts: Vec<Vec<Point>> = together.iter().flat_map(|&layer| layers.parts(layer, &ring)).collect();
        ring = border::around(&ring, &parts);
    }
    border::within(folds, ring)
}

/// The first part of every drawn edge that is to be mitred and has no end at which that can be done.
pub(super) fn edges_without_mitre(seam: &Flattened, allowances: &[EdgeAllowance], drawn: &[usize]) -> Vec<usize> {
    let layers = Layers { seam, allowances, drawn };
    let n = seam.points().len();
    let meeting = (0..n).filter(|&next| layers.joint(next) == Joint::Mitre);
    let mitred: BTreeSet<usize> =
        meeting.flat_map(|next| [layers.drawn(next), layers.drawn((next + n - 1) % n)]).collect();
    let asks = |edge: &usize| allowances[*edge].corner() == Some(CornerShape::Mitred);
    let mut told = BTreeSet::new();
    (0..allowances.len())
        .filter(asks)
        .filter(|&edge| !mitred.contains(&drawn[edge]) && told.insert(drawn[edge]))
        .collect()
}

/// When an allowance is added: after all that it is turned up over.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Layer {
    /// Turned up over its neighbours however deep they are.
    above_all: bool,
    depth: f64,
}

impl Layer {
    /// None of a fold and of a leg, which have no allowance.
    fn of(allowance: EdgeAllowance) -> Option<Self> {
        let above_all =
            allowance.depth() > 0.0 && matches!(allowance.corner(), Some(CornerShape::Mirrored | CornerShape::Square));
        match allowance {
            EdgeAllowance::Fold | EdgeAllowance::Leg => None,
            EdgeAllowance::Depth(depth) | EdgeAllowance::Cornered { depth, .. } => Some(Self { above_all, depth }),
        }
    }

    fn order(&self, other: &Self) -> Ordering {
        self.above_all.cmp(&other.above_all).then(self.depth.total_cmp(&other.depth))
    }
}

/// How the allowances of two edges meet at their corner.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Joint {
    /// The one that is added later has a side of this shape, beyond the cutting line of the other.
    Sided(Side),
    /// Both run on until they meet.
    Together,
    /// The later one ends square to its line at the corner: the edges are nearly in line, or the corner is an inward one.
    Step,
    /// In a diagonal seam.
    Mitre,
}

/// The shape of the side of an allowance that does not run on into its neighbour.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Side {
    Mirrored,
    Square,
    StraightOn,
}

struct Layers<'a> {
    seam: &'a Flattened,
    allowances: &'a [EdgeAllowance],
    /// For each edge the edge of the drawing that it is a part of.
    drawn: &'a [usize],
}

/// Segments of one depth that follow one another without a corner.
struct Run {
    first: usize,
    count: usize,
    /// Whether it goes all the way round.
    closed: bool,
}

impl Layers<'_> {
    fn len(&self) -> usize {
        self.seam.points().len()
    }

    fn of(&self, segment: usize) -> EdgeAllowance {
        self.allowances[self.seam.edge_of()[segment]]
    }

    /// The edge of the drawing that a segment belongs to.
    fn drawn(&self, segment: usize) -> usize {
        self.drawn[self.seam.edge_of()[segment]]
    }

    /// The corner at the start of the segment `next`.
    fn corner(&self, next: usize) -> Corner {
        let last = (next + self.len() - 1) % self.len();
        let ((from, v), (_, to)) = (self.seam.segment(last), self.seam.segment(next));
        Corner {
            v,
            along: [direction(from, v), direction(v, to)],
            outward: [outward_normal(from, v), outward_normal(v, to)],
            outward_turn: orientation(from, v, to) > 0.0,
        }
    }

    /// Whether the segment `next` goes on what the one before it began.
    fn goes_on(&self, next: usize) -> bool {
        let last = (next + self.len() - 1) % self.len();
        let one_edge = self.seam.edge_of()[last] == self.seam.edge_of()[next];
        one_edge || self.of(last) == self.of(next) && self.corner(next).is_blunt()
    }

    /// The runs of a layer.
    fn runs(&self, layer: Layer) -> Vec<Run> {
        self.all_runs().into_iter().filter(|run| Layer::of(self.of(run.first)) == Some(layer)).collect()
    }

    fn all_runs(&self) -> Vec<Run> {
        let n = self.len();
        let Some(begin) = (0..n).find(|&i| !self.goes_on(i)) else {
            return vec![Run { first: 0, count: n, closed: true }];
        };
        let mut runs: Vec<Run> = Vec::new();
        for i in (begin..begin + n).map(|i| i % n) {
            match runs.last_mut() {
                Some(run) if self.goes_on(i) => run.count += 1,
                _ => runs.push(Run { first: i, count: 1, closed: false }),
            }
        }
        runs
    }

    /// What the allowances of one layer add to `ring`, which has all before.
    fn parts(&self, layer: Layer, ring: &[Point]) -> Vec<Vec<Point>> {
        let (n, depth) = (self.len(), layer.depth);
        let mut parts = Vec::new();
        // Segments whose bands are plain, and corners at which a side was drawn.
        let (mut plain, mut sided) = (vec![false; n], vec![false; n]);
        for run in self.runs(layer) {
            let points: Vec<Point> = (0..=run.count).map(|k| self.seam.points()[(run.first + k) % n]).collect();
            let (start, end) = (run.first, (run.first + run.count) % n);
            let edges: Vec<usize> = (0..run.count).map(|k| self.seam.edge_of()[(run.first + k) % n]).collect();
            let chart = Chart::new(points, edges);
            let shape = |corner: usize| if run.closed { None } else { self.side(corner, layer) };
            let start_side = shape(start).and_then(|shape| chart.side_at_start(shape, depth, ring));
            let end_side = shape(end).and_then(|shape| chart.side_at_end(shape, depth, ring));
            (sided[start], sided[end]) = (sided[start] || start_side.is_some(), sided[end] || end_side.is_some());
            let mut clear = 0.0..=chart.length();
            if start_side.is_some() || end_side.is_some() {
                let start_side = start_side.unwrap_or_else(|| square_at(0.0, depth));
                let end_side = end_side.unwrap_or_else(|| square_at(chart.length(), depth));
                let innermost = |side: &[(f64, f64)], pick: fn(f64, f64) -> f64| {
                    side.iter().map(|&(s, _)| s).reduce(pick).unwrap_or(0.0)
                };
                clear = innermost(&start_side, f64::max)..=innermost(&end_side, f64::min);
                if let Some(between) = chart.between(&start_side, &end_side, depth) {
                    parts.extend(border::simple_rings(between));
                }
            }
            for k in 0..run.count {
                let [from, to] = chart.span(k);
                plain[(run.first + k) % n] = clear.contains(&from) && clear.contains(&to);
            }
        }
        for segment in (0..n).filter(|&segment| plain[segment]) {
            let (a, b) = self.seam.segment(segment);
            let out = outward_normal(a, b) * depth;
            let [back, front] = border::over(a, b);
            parts.push(vec![a, a + out, b + out, b, back, front]);
        }
        for next in 0..n {
            let last = (next + n - 1) % n;
            let (of_last, of_next) = (self.of(last), self.of(next));
            let inside_run = self.goes_on(next);
            let wanted = if inside_run { plain[last] && plain[next] } else { !sided[next] };
            if wanted && [of_last, of_next].map(Layer::of).contains(&Some(layer)) {
                parts.extend(self.corner(next).filling(of_last, of_next, self.joint(next), layer));
            }
        }
        parts
    }

    /// How the allowances meet at the start of the segment `next`.
    fn joint(&self, next: usize) -> Joint {
        let last = (next + self.len() - 1) % self.len();
        let (of_last, of_next) = (self.of(last), self.of(next));
        let corner = self.corner(next);
        // A leg of a dart is sewn shut before anything is turned up.
        let (Some(a), Some(b)) = (Layer::of(of_last), Layer::of(of_next)) else { return Joint::Together };
        let both = |shape| of_last.corner() == Some(shape) && of_next.corner() == Some(shape);
        let two_edges = self.drawn(last) != self.drawn(next);
        if two_edges && both(CornerShape::Mitred) && corner.can_be_mitred() && a.depth > 0.0 && b.depth > 0.0 {
            return Joint::Mitre;
        }
        let (later, earlier) = match a.order(&b) {
            Ordering::Greater => (of_last, of_next),
            Ordering::Less => (of_next, of_last),
            Ordering::Equal => return Joint::Together,
        };
        match (later.corner(), earlier.corner()) {
            _ if !corner.outward_turn || corner.is_blunt() => Joint::Step,
            (Some(CornerShape::Square), _) => Joint::Sided(Side::Square),
            (Some(CornerShape::Mirrored), _) => Joint::Sided(Side::Mirrored),
            (Some(CornerShape::StraightOn), _) | (_, Some(CornerShape::StraightOn)) => Joint::Sided(Side::StraightOn),
            _ => Joint::Sided(Side::Mirrored),
        }
    }

    /// The side with which the allowances of a layer end at the start of the segment `corner`; none where they run on.
    fn side(&self, corner: usize, layer: Layer) -> Option<SideShape> {
        let last = (corner + self.len() - 1) % self.len();
        let layers = [last, corner].map(|segment| Layer::of(self.of(segment)));
        let is_later = layers.iter().flatten().any(|other| other.order(&layer).is_lt());
        match self.joint(corner) {
            Joint::Sided(Side::Mirrored) if is_later => Some(SideShape::Mirrored),
            Joint::Sided(Side::Square) if is_later => Some(SideShape::Square),
            Joint::Sided(Side::StraightOn) if is_later => Some(SideShape::StraightOn),
            Joint::Mitre => {
                let other = layers.iter().flatten().find(|&&other| other != layer).map_or(layer.depth, |of| of.depth);
                Some(SideShape::Mitred(Mitre { turn: self.corner(corner).turn(), depth: layer.depth, other }))
            }
            _ => None,
        }
    }
}

/// Two segments that meet, in the order of the outline.
struct Corner {
    v: Point,
    along: [Point; 2],
    outward: [Point; 2],
    outward_turn: bool,
}

impl Corner {
    /// Whether the two are so nearly in line that a side of one, mirrored, would lean out too far.
    fn is_blunt(&self) -> bool {
        // In line by less than 30 degrees: the tangent of the other 60.
        let steepest = MOST_LEAN_OUT / MOST_LEAN_OUT.hypot(1.0);
        dot(self.along[0], self.along[1]) > steepest
    }

    /// Whether two allowances can meet here in a diagonal seam: below 45 degrees it is too thick to sew.
    fn can_be_mitred(&self) -> bool {
        self.outward_turn && !self.is_blunt() && dot(self.along[0], self.along[1]) >= -FRAC_1_SQRT_2 - 1e-9
    }

    /// Sine and cosine of the turn from the first to the second.
    fn turn(&self) -> (f64, f64) {
        (cross(self.along[0], self.along[1]), dot(self.along[0], self.along[1]))
    }

    /// What an outward corner adds to the bands of one layer; inward corners need nothing, since the bands overlap.
    fn filling(&self, last: EdgeAllowance, next: EdgeAllowance, joint: Joint, layer: Layer) -> Option<Vec<Point>> {
        if !self.outward_turn || joint == Joint::Mitre {
            return None;
        }
        let depth = layer.depth;
        match (Layer::of(last), Layer::of(next)) {
            (None, None) => None,
            (Some(_), None) => self.mitred([depth, 0.0]),
            (None, Some(_)) => self.mitred([0.0, depth]),
            (Some(a), Some(b)) if a == b => self.mitred([depth, depth]),
            (Some(a), Some(b)) => {
                let is_later = if a == layer { b.order(&a).is_lt() } else { a.order(&b).is_lt() };
                if is_later {
                    // Not turned up here, it ends square; the other was drawn before.
                    return Some(self.step([a.depth, b.depth]));
                }
                // The earlier one runs on to the line about which the later one will be turned up.
                let depths = if a == layer { [depth, 0.0] } else { [0.0, depth] };
                if self.is_blunt() { None } else { self.mitred(depths) }
            }
        }
    }

    fn step(&self, depths: [f64; 2]) -> Vec<Point> {
        vec![self.v, self.v + self.outward[0] * depths[0], self.v + self.outward[1] * depths[1]]
    }

    /// The region between the two offset lines, up to where they cross or to the limit. None where one of them runs across the
    /// other's band, and nothing is missing.
    ///
    /// With the turn `θ` from direction `t1` to `t2`, the offset lines cross at `v + d1 n1 + s t1`,
    /// where `s = (d2 - d1 cos θ) / sin θ`.
    fn mitred(&self, depths: [f64; 2]) -> Option<Vec<Point>> {
        let ([t1, t2], [n1, n2], v) = (self.along, self.outward, self.v);
        let (sin, cos) = self.turn();
        let ends = [v + n1 * depths[0], v + n2 * depths[1]];
        // 1 - cos over sin, written so that a slight turn keeps its digits.
        let half_turn = sin / (1.0 + cos);
        let beyond = [
            (depths[1] - depths[0]) / sin + depths[0] * half_turn,
            (depths[0] - depths[1]) / sin + depths[1] * half_turn,
        ];
        if beyond[0] < 0.0 || beyond[1] < 0.0 {
            return None;
        }
        let tip = ends[0] + t1 * beyond[0];
        let limit = MITRE_LIMIT * depths[0].max(depths[1]);
        let reach = distance(v, tip);
        if reach <= limit {
            return Some(vec![v, ends[0], tip, ends[1]]);
        }
        // Cut off square to the way to the tip, which for a hairpin is farther away than can be said.
        let towards = if reach.is_finite() { (tip - v) / reach } else { direction(t2, t1) };
        let until = |end: Point, along: Point| {
            let missing = limit - dot(end - v, towards);
            end + along * (missing / dot(along, towards)).max(0.0)
        };
        Some(vec![v, ends[0], until(ends[0], t1), until(ends[1], t2 * -1.0), ends[1]])
    }
}
