//! The cutting line at the mouth of a dart that is sewn, folded and pressed to one side.
//!
//! The seam line runs down one leg of the dart to its point and up the other. What lies between the legs is folded in two and, pressed
//! over one leg, comes to lie on the cloth beside it; its edge must end there where that cloth ends. So of the two halves of the wedge the
//! one beside that leg is the mirror image, about the leg, of the cloth it comes to lie on, and the other half, folded back over the first,
//! is the same cloth turned about the point until one leg lies on the other. Drawn straight across, or with the seam's allowance run round
//! the dart, there is too little cloth to be caught in the seam.
//!
//! The construction is that of drafting on paper: fold the dart, cut along the seam, unfold. (Common practice; no source.)

use super::border::{self, JOIN_MM};
use super::{EdgeAllowance, FoldEdge, MITRE_LIMIT, PressedDart, cross, direction, dot};
use crate::path::distance;
use crate::{Flattened, Point, point};

/// The cap at the mouth of a dart that leans along its seam is long; no longer than this many times its longer leg, from the point.
const LONGEST_CAP: f64 = 2.0;

/// A dart found in a seam line.
#[derive(Debug)]
pub(super) struct Mouth {
    /// The point of the dart.
    tip: Point,
    /// End of the leg it is pressed over.
    over: Point,
    /// End of the other leg.
    other: Point,
    /// The seam line of each leg: lengthened across, a leg has a bend, and what lies between it and the straight way is cloth.
    legs: [Vec<Point>; 2],
}

impl Mouth {
    /// The dart of which `pressed` speaks; `None` when the seam line has no legs that meet at its point.
    pub(super) fn find(seam: &Flattened, allowances: &[EdgeAllowance], pressed: &PressedDart) -> Option<Self> {
        let n = seam.points().len();
        let is_leg = |segment: usize| allowances[seam.edge_of()[segment % n]] == EdgeAllowance::Leg;
        let same = |a: Point, b: Point| distance(a, b) <= 1e-6;
        let tip = (0..n).find(|&k| same(seam.points()[k], pressed.tip) && is_leg(k) && is_leg(k + n - 1))?;
        let before = (0..n).take_while(|&k| is_leg(tip + n - 1 - k)).count();
        let after = (0..n).take_while(|&k| is_leg(tip + k)).count();
        if before + after >= n {
            return None;
        }
        let leg =
            |from: usize, count: usize| (0..=count).map(|k| seam.points()[(from + k) % n]).collect::<Vec<Point>>();
        let legs = [leg(tip + n - before, before), leg(tip, after)];
        let (first, last) = (legs[0][0], legs[1][after]);
        let (over, other) = match (same(first, pressed.over), same(last, pressed.over)) {
            (true, false) => (first, last),
            (false, true) => (last, first),
            _ => return None,
        };
        Some(Self { tip: seam.points()[tip], over, other, legs })
    }

    /// The border of a piece, drawn with nothing added to the legs, as it is cut: the wedge between the legs filled with what the folded
    /// dart needs.
    pub(super) fn pressed(&self, ring: Vec<Point>, deepest: f64, folds: &[FoldEdge]) -> Vec<Point> {
        let (to_over, to_other) = (direction(self.tip, self.over), direction(self.tip, self.other));
        let turn = cross(to_over, to_other).atan2(dot(to_over, to_other));
        let leg = distance(self.tip, self.over).max(distance(self.tip, self.other));
        let reach = LONGEST_CAP * leg + MITRE_LIMIT * deepest;
        let wedge = self.sector(0.0, turn, reach);
        let Some(body) = border::apart_from(&ring, &wedge) else { return ring };
        let cloth = folds.iter().fold(body.clone(), |cloth, fold| border::around(&cloth, &unfolded(&body, fold)));
        let Some(beside) = border::common(&cloth, &self.sector(-turn / 2.0, 0.0, reach)) else { return ring };
        let mirrored: Vec<Point> = beside.iter().rev().map(|&p| self.mirrored(p, to_over)).collect();
        let turned: Vec<Point> = beside.iter().map(|&p| self.turned(p, turn)).collect();
        let mut parts = vec![mirrored, turned];
        parts.extend(self.legs.iter().flat_map(|leg| border::simple_rings(leg.clone())));
        let short = distance(self.tip, self.over).min(distance(self.tip, self.other));
        parts.extend([0.0, turn / 2.0, turn].map(|angle| self.joint(rotated(to_over, angle), short)));
        border::within(folds, border::around(&body, &parts))
    }

    /// The triangle at the point of the dart between two angles from the leg it is pressed over, its far side `reach` away at least.
    fn sector(&self, from: f64, to: f64, reach: f64) -> Vec<Point> {
        let axis = direction(self.tip, self.over);
        let far = reach / ((to - from) / 2.0).cos().abs().max(0.1);
        let corner = |angle: f64| self.tip + rotated(axis, angle) * far;
        let (low, high) = (from.min(to), from.max(to));
        vec![self.tip, corner(low), corner(high)]
    }

    fn mirrored(&self, p: Point, axis: Point) -> Point {
        let d = p - self.tip;
        self.tip + axis * (2.0 * dot(d, axis)) - d
    }

    fn turned(&self, p: Point, angle: f64) -> Point {
        self.tip + rotated(p - self.tip, angle)
    }

    /// A sliver over the line at which two parts only touch.
    fn joint(&self, along: Point, length: f64) -> Vec<Point> {
        let aside = point(-along.y, along.x) * JOIN_MM;
        let (a, b) = (self.tip + along * (0.02 * length), self.tip + along * (0.5 * length));
        vec![a - aside, b - aside, b + aside, a + aside]
    }
}

/// The other half of a piece on the fold, and what joins it to this one.
fn unfolded(half: &[Point], fold: &FoldEdge) -> [Vec<Point>; 2] {
    let over = |p: &Point| *p - fold.outward * (2.0 * fold.beyond(*p));
    let joint = [border::over(fold.at, fold.to), border::over(fold.to, fold.at)].concat();
    [half.iter().rev().map(over).collect(), joint]
}

fn rotated(v: Point, angle: f64) -> Point {
    let (sin, cos) = angle.sin_cos();
    point(v.x * cos - v.y * sin, v.x * sin + v.y * cos)
}
