//! The parts added around a seam line: a band for each segment, what lies between bands at outward corners, and allowances
//! that are turned up.
//!
//! Allowances are added from the shallowest to the deepest, since a deeper one is turned up over what the shallower ones and
//! the piece make together. Edges of one depth that run on into each other are turned up as one.

use super::border;
use super::tidy::tidied;
use super::turned_up::{Chart, MOST_LEAN_OUT, square_at};
use super::{EdgeAllowance, FoldEdge, MITRE_LIMIT, cross, direction, dot, outward_normal};
use crate::path::distance;
use crate::{Flattened, Point, orientation};

/// A piece has a handful of different depths. Of one with more than this, several are added at once, and do not see each other: time
/// stays in proportion to the number of edges.
const MOST_LAYERS: usize = 64;

/// The tidied ring of the cutting line around `seam`.
pub(super) fn cutting_ring(seam: &Flattened, allowances: &[EdgeAllowance], folds: &[FoldEdge]) -> Vec<Point> {
    let layers = Layers { seam, allowances };
    let mut depths: Vec<f64> = allowances.iter().map(|a| a.depth()).filter(|&depth| depth > 0.0).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup();
    let mut ring = tidied(seam.points().to_vec());
    for layer in depths.chunks(depths.len().div_ceil(MOST_LAYERS).max(1)) {
        let parts: Vec<Vec<Point>> = layer.iter().flat_map(|&depth| layers.parts(depth, &ring)).collect();
        ring = border::around(&ring, &parts);
    }
    border::within(folds, ring)
}

struct Layers<'a> {
    seam: &'a Flattened,
    allowances: &'a [EdgeAllowance],
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

    /// The runs of a depth.
    fn runs(&self, depth: f64) -> Vec<Run> {
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
        runs.retain(|run| self.of(run.first) == EdgeAllowance::Depth(depth));
        runs
    }

    /// What allowances of one depth add to `ring`, which has all shallower ones.
    fn parts(&self, depth: f64, ring: &[Point]) -> Vec<Vec<Point>> {
        let n = self.len();
        let mut parts = Vec::new();
        // Segments whose bands are plain, and corners whose deeper side is turned up.
        let (mut plain, mut turned) = (vec![false; n], vec![false; n]);
        for run in self.runs(depth) {
            let points: Vec<Point> = (0..=run.count).map(|k| self.seam.points()[(run.first + k) % n]).collect();
            let (start, end) = (run.first, (run.first + run.count) % n);
            let edges: Vec<usize> = (0..run.count).map(|k| self.seam.edge_of()[(run.first + k) % n]).collect();
            let chart = Chart::new(points, edges);
            let over = |corner: usize| !run.closed && self.is_turned_up(corner, depth);
            let start_side = over(start).then(|| chart.side_at_start(depth, ring)).flatten();
            let end_side = over(end).then(|| chart.side_at_end(depth, ring)).flatten();
            (turned[start], turned[end]) = (turned[start] || start_side.is_some(), turned[end] || end_side.is_some());
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
            let inside_run = of_last == of_next;
            let wanted = if inside_run { plain[last] && plain[next] } else { !turned[next] };
            if wanted && [of_last, of_next].contains(&EdgeAllowance::Depth(depth)) {
                parts.extend(self.corner(next).filling(of_last, of_next, depth));
            }
        }
        parts
    }

    /// Whether the allowance of this depth is deeper than its neighbour's across the corner, and can be folded back there.
    fn is_turned_up(&self, corner: usize, depth: f64) -> bool {
        let last = (corner + self.len() - 1) % self.len();
        let is_deeper =
            [self.of(last), self.of(corner)].iter().any(|of| matches!(of, EdgeAllowance::Depth(d) if *d < depth));
        // A leg of a dart is sewn shut before anything is turned up.
        let corner = self.corner(corner);
        is_deeper && corner.outward_turn && !corner.is_blunt()
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

    /// What an outward corner adds to the bands of one layer; inward corners need nothing, since the bands overlap.
    fn filling(&self, last: EdgeAllowance, next: EdgeAllowance, depth: f64) -> Option<Vec<Point>> {
        use EdgeAllowance::{Depth, Fold, Leg};
        if !self.outward_turn {
            return None;
        }
        match (last, next) {
            (Fold | Leg, Fold | Leg) => None,
            (Depth(_), Fold | Leg) => self.mitred([depth, 0.0]),
            (Fold | Leg, Depth(_)) => self.mitred([0.0, depth]),
            (Depth(d1), Depth(d2)) if d1 == d2 => self.mitred([depth, depth]),
            // The deeper allowance, which is not turned up here, ends square; the shallower one was drawn before.
            (Depth(d1), Depth(d2)) if d1.max(d2) == depth => Some(self.step([d1, d2])),
            (Depth(_), Depth(_)) if self.is_blunt() => None,
            // The shallower one runs on to the line about which the deeper one will be turned up.
            (Depth(d1), Depth(_)) if d1 == depth => self.mitred([depth, 0.0]),
            _ => self.mitred([0.0, depth]),
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
        let (sin, cos) = (cross(t1, t2), dot(t1, t2));
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
