//! The sides of an allowance that is turned up over what it lies against, and of others that do not run on into their neighbours.
//!
//! A hem or facing is folded back along its seam line and lies on the piece. Its sides must be the mirror image, about that
//! line, of the cutting line they come to lie on: drawn straight on, the hem of a tapered sleeve is too narrow to be turned up,
//! and that of a flared skirt too wide. So the cutting line as it stands without the allowance is followed inwards from the
//! fold line, down to the depth of the allowance, and mirrored.
//!
//! Along a curved seam line "mirrored" means: as far beyond the line as the original lies before it, at the same place of
//! it. [`Chart`] has coordinates for that.

use super::border::{JOIN_INSET_MM, JOIN_MM};
use super::mitre::Mitre;
use super::{direction, dot, outward_normal};
use crate::path::distance;
use crate::{Point, point};

/// A side may lean out by this much for each unit of depth: 60 degrees. What leans more cannot be folded back sensibly, and
/// the side goes on square.
pub(super) const MOST_LEAN_OUT: f64 = 1.732;

/// A cutting line that leans in by more than this for each unit of depth runs across the allowance rather than along its side:
/// it is the far side of a piece lower than its hem.
const MOST_LEAN_IN: f64 = 8.0;

/// Wiggles of the cutting line below this are not followed, mm.
const WIGGLE_MM: f64 = 0.01;

/// How far apart points are followed along a curved seam line, mm.
const STEP_MM: f64 = 2.0;

/// How far followed points may leave a straight side before they count, mm.
const STRAIGHT_MM: f64 = 0.005;

/// Where the two sides of an allowance come this near, it ends, mm.
const TIP_MM: f64 = 0.1;

/// A place by its distance along the seam line and from it, mm.
type Place = (f64, f64);

/// How the side of an allowance runs.
#[derive(Debug, Clone, Copy)]
pub(super) enum SideShape {
    /// As the mirror image of the cutting line it comes to lie on.
    Mirrored,
    /// Square to the seam line.
    Square,
    /// As the cutting line that comes to the seam line would run on beyond it.
    StraightOn,
    /// Beside a diagonal seam.
    Mitred(Mitre),
}

/// Where a side begins: the first edge of the cutting line that it lies against, the place on it, and the side so far.
struct Begin {
    first: usize,
    at: Point,
    side: Vec<Place>,
    /// How far it leads along the line, away from the stretch, for each unit inward.
    lean: f64,
}

/// Coordinates along a stretch of seam line, and off it. Before its start and beyond its end the line runs straight on.
pub(super) struct Chart {
    points: Vec<Point>,
    edges: Vec<usize>,
    /// Distance of each point from the first along the line.
    at: Vec<f64>,
    /// Where each point goes when the line is moved outward by 1 mm.
    out: Vec<Point>,
}

impl Chart {
    /// Of the points of a stretch with the piece on its left, and the edge that each segment comes from.
    pub(super) fn new(points: Vec<Point>, edges: Vec<usize>) -> Self {
        let mut at = vec![0.0];
        at.extend(points.windows(2).scan(0.0, |sum, w| {
            *sum += distance(w[0], w[1]);
            Some(*sum)
        }));
        let normals: Vec<Point> = points.windows(2).map(|w| outward_normal(w[0], w[1])).collect();
        // The two offset lines meet at sum / (1 + cos); a hairpin is blunted.
        let between = |m: Point, n: Point| (m + n) / (1.0 + dot(m, n)).max(0.5);
        let last = normals.len() - 1;
        // A curve bends on to its very end: its last chord leaves the tangent there as its first end leaves that of the joint.
        let at_end = |end: usize, beside: usize| {
            let (n, m) = (normals[end], between(normals[end], normals[beside]));
            if edges[end] == edges[beside] { n * 2.0 - m } else { n }
        };
        let mut out = vec![at_end(0, 1.min(last))];
        out.extend(normals.windows(2).map(|w| between(w[0], w[1])));
        out.push(at_end(last, last.saturating_sub(1)));
        Self { points, edges, at, out }
    }

    fn mirrored(&self) -> Self {
        let edges = self.edges.iter().rev().copied().collect();
        Self::new(self.points.iter().rev().map(|p| point(-p.x, p.y)).collect(), edges)
    }

    pub(super) fn length(&self) -> f64 {
        self.at[self.at.len() - 1]
    }

    /// Where segment `index` starts and ends along the line.
    pub(super) fn span(&self, index: usize) -> [f64; 2] {
        [self.at[index], self.at[index + 1]]
    }

    /// The segment that carries the place `s`.
    fn segment(&self, s: f64) -> usize {
        self.at[1..self.at.len() - 1].partition_point(|&at| at <= s)
    }

    /// The point `t` outside the place `s` of the line; inside where `t` is below zero.
    fn place(&self, (s, t): Place) -> Point {
        let i = self.segment(s);
        let (a, b) = (self.points[i], self.points[i + 1]);
        if s <= 0.0 || s >= self.length() {
            let end = if s <= 0.0 { 0 } else { self.points.len() - 1 };
            return self.points[end] + direction(a, b) * (s - self.at[end]) + self.out[end] * t;
        }
        let share = (s - self.at[i]) / (self.at[i + 1] - self.at[i]);
        (a + self.out[i] * t) * (1.0 - share) + (b + self.out[i + 1] * t) * share
    }

    /// The place of the line a point inside lies before, and how far; the nearest of several.
    fn locate_inside(&self, p: Point) -> Option<Place> {
        let last = self.points.len() - 1;
        let mut found: Option<Place> = None;
        let mut offer = |s: f64, t: f64| {
            if t >= -1e-9 && found.is_none_or(|(_, nearest)| t < nearest) {
                found = Some((s, t));
            }
        };
        for i in 0..last {
            let (a, b) = (self.points[i], self.points[i + 1]);
            let (along, inward) = (direction(a, b), outward_normal(a, b) * -1.0);
            let t = dot(p - a, inward);
            let (from, to) = (a - self.out[i] * t, b - self.out[i + 1] * t);
            let (width, u) = (dot(to - from, along), dot(p - from, along));
            if i == 0 && u < 0.0 {
                offer(u, t);
            }
            if i + 1 == last && u > width {
                offer(self.length() + u - width, t);
            }
            if width > 0.0 && (-1e-9..=1.0 + 1e-9).contains(&(u / width)) {
                offer(self.at[i] + (u / width) * (self.at[i + 1] - self.at[i]), t);
            }
        }
        found
    }

    /// The mirror image of what `ring`, the cutting line without the allowance, does inward.
    fn mirrored_at_end(&self, depth: f64, ring: &[Point]) -> Option<Vec<Place>> {
        let n = ring.len();
        let Begin { first, at, mut side, .. } = self.begin_at_end(ring)?;
        let mut at = at;
        let finished = (0..n).find_map(|k| {
            let next = ring[(first + 1 + k) % n];
            let going = self.follow(at, next, depth, &mut side);
            at = next;
            (!going).then_some(())
        });
        let reached = side[side.len() - 1];
        if finished.is_none() || reached.1 < depth {
            side.push((reached.0, depth));
        }
        Some(straightened(side))
    }

    /// Where the cutting line without the allowance leaves the line at its end, inward.
    fn begin_at_end(&self, ring: &[Point]) -> Option<Begin> {
        let (n, last) = (ring.len(), self.points.len() - 1);
        let (from, end) = (self.points[last - 1], self.points[last]);
        let (along, inward) = (direction(from, end), outward_normal(from, end) * -1.0);
        let framed = |p: Point| point(dot(p - end, along), dot(p - end, inward));
        // Just inside the piece, beside the end of the line; from there along the line to where the cloth ends.
        let probe = (distance(from, end) / 2.0).min(0.05);
        let low = probe / 100.0;
        let crossing = |i: usize| {
            let (a, b) = (framed(ring[i]), framed(ring[(i + 1) % n]));
            let up = a.y <= low && b.y > low;
            let down = a.y > low && b.y <= low;
            (up || down).then(|| (a.x + (b.x - a.x) * ((low - a.y) / (b.y - a.y)), i, up))
        };
        let (_, first, up) = (0..n).filter_map(crossing).filter(|c| c.0 > -probe).min_by(|c, d| c.0.total_cmp(&d.0))?;
        if !up {
            return None;
        }
        let (a, b) = (framed(ring[first]), framed(ring[(first + 1) % n]));
        let start = if a.y < 0.0 { a.x + (b.x - a.x) * (a.y / (a.y - b.y)) } else { a.x };
        let lean = (b.x - a.x) / (b.y - a.y);
        Some(Begin { first, at: end + along * start, side: vec![(self.length() + start, 0.0)], lean })
    }

    /// The side of an allowance at the end of the stretch, from the line outward to `depth`, where `ring` is the cutting line without it.
    /// None where no such line begins at that end.
    pub(super) fn side_at_end(&self, shape: SideShape, depth: f64, ring: &[Point]) -> Option<Vec<Place>> {
        match shape {
            SideShape::Mirrored => self.mirrored_at_end(depth, ring),
            SideShape::Square => Some(square_at(self.begin_at_end(ring)?.side[0].0, depth)),
            SideShape::StraightOn => {
                let Begin { side, lean, .. } = self.begin_at_end(ring)?;
                let (s, _) = side[0];
                Some(vec![(s, 0.0), (s - lean.max(-MOST_LEAN_OUT) * depth, depth)])
            }
            SideShape::Mitred(mitre) => {
                Some(mitre.side().into_iter().map(|(beyond, t)| (self.length() + beyond, t)).collect())
            }
        }
    }

    /// Follows one edge of the cutting line; `false` when the depth is reached or the line cannot be followed farther.
    fn follow(&self, from: Point, to: Point, depth: f64, side: &mut Vec<Place>) -> bool {
        // Along one straight segment the mirror image of a straight line is straight.
        let steps = if self.points.len() == 2 { 1.0 } else { (distance(from, to) / STEP_MM).ceil().max(1.0) };
        for step in 1..=steps as usize {
            let p = from + (to - from) * (step as f64 / steps);
            let (s_was, t_was) = side[side.len() - 1];
            let Some((s, t)) = self.locate_inside(p) else { return false };
            let (by_s, by_t) = (s - s_was, t - t_was);
            if by_t <= 0.0 || by_s > MOST_LEAN_OUT * by_t || -by_s > MOST_LEAN_IN * by_t {
                if by_s.abs().max(by_t.abs()) <= WIGGLE_MM {
                    continue;
                }
                return false;
            }
            if t >= depth {
                side.push((s_was + by_s * ((depth - t_was) / by_t), depth));
                return false;
            }
            side.push((s, t));
        }
        true
    }

    /// As [`Self::side_at_end`], at the start.
    pub(super) fn side_at_start(&self, shape: SideShape, depth: f64, ring: &[Point]) -> Option<Vec<Place>> {
        let ring: Vec<Point> = ring.iter().rev().map(|p| point(-p.x, p.y)).collect();
        let side = self.mirrored().side_at_end(shape, depth, &ring)?;
        Some(side.into_iter().map(|(s, t)| (self.length() - s, t)).collect())
    }

    /// The allowance between two sides, counter-clockwise; it may cross itself where the line bends inwards more tightly than
    /// the depth. None where the sides leave nothing.
    pub(super) fn between(&self, start: &[Place], end: &[Place], depth: f64) -> Option<Vec<Point>> {
        let reach = reach_of(start, end, depth);
        if reach < JOIN_MM {
            return None;
        }
        let below = |side: &[Place]| -> Vec<Place> {
            let kept = side.iter().copied().take_while(|&(_, t)| t < reach);
            kept.chain([(at_depth(side, reach), reach)]).collect()
        };
        let (start, end) = (below(start), below(end));
        let inner = |from: f64, to: f64| {
            let range = self.at.partition_point(move |&at| at <= from)..self.at.partition_point(move |&at| at < to);
            self.at.get(range).unwrap_or(&[])
        };
        let (from, to) = (start[start.len() - 1].0, end[end.len() - 1].0);
        let mut ring: Vec<Place> = start.clone();
        ring.extend(inner(from, to).iter().map(|&s| (s, reach)));
        ring.extend(end.iter().rev());
        // Back along the line, a little inside the piece.
        let middle = (start[0].0 + end[0].0) / 2.0;
        let right = (end[0].0.min(at_depth(&end, JOIN_MM)) - JOIN_INSET_MM).max(middle);
        let left = (start[0].0.max(at_depth(&start, JOIN_MM)) + JOIN_INSET_MM).min(middle);
        ring.push((right, -JOIN_MM));
        ring.extend(inner(left, right).iter().rev().map(|&s| (s, -JOIN_MM)));
        ring.push((left, -JOIN_MM));
        Some(ring.into_iter().map(|place| self.place(place)).collect())
    }
}

/// A side with no mirror image: square to the line.
pub(super) fn square_at(s: f64, depth: f64) -> Vec<Place> {
    vec![(s, 0.0), (s, depth)]
}

/// Where a side has got to at a depth.
fn at_depth(side: &[Place], t: f64) -> f64 {
    let i = side.partition_point(|&(_, at)| at < t).clamp(1, side.len() - 1);
    let ((s0, t0), (s1, t1)) = (side[i - 1], side[i]);
    if t1 > t0 { s0 + (s1 - s0) * ((t - t0) / (t1 - t0)).clamp(0.0, 1.0) } else { s1 }
}

/// The depth at which two sides meet, or the whole depth.
fn reach_of(start: &[Place], end: &[Place], depth: f64) -> f64 {
    let mut depths: Vec<f64> = start.iter().chain(end).map(|&(_, t)| t).collect();
    depths.sort_by(f64::total_cmp);
    let width = |t: f64| at_depth(end, t) - at_depth(start, t) - TIP_MM;
    let mut last = 0.0;
    if width(0.0) <= 0.0 {
        return 0.0;
    }
    for t in depths {
        let (before, here) = (width(last), width(t));
        if here <= 0.0 {
            return last + (t - last) * (before / (before - here));
        }
        last = t;
    }
    depth
}

/// A side without the points that hardly leave the line between their neighbours.
fn straightened(side: Vec<Place>) -> Vec<Place> {
    let as_point = |(s, t): Place| point(s, t);
    let mut kept: Vec<Place> = Vec::with_capacity(side.len());
    let mut begun = 0;
    for (i, &place) in side.iter().enumerate() {
        let after = side.get(i + 1);
        let keep = kept.is_empty()
            || after.is_none_or(|&after| {
                let (a, b) = (as_point(side[begun]), as_point(after));
                side[begun + 1..=i].iter().any(|&p| crate::distance_to_segment(as_point(p), a, b) > STRAIGHT_MM)
            });
        if keep {
            kept.push(place);
            begun = i;
        }
    }
    kept
}
