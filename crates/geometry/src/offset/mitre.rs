//! The side of an allowance that meets its neighbour's in a diagonal seam once both are turned up.
//!
//! Turned up, the inner edges of both cross at a point, and the seam runs from the corner to there. Unfolded, each allowance ends at the
//! mirror image of that line about its own seam line, with a little beyond to sew it with. At a right angle, whatever the depths, both
//! images are one straight line; at sharper corners the allowance ends where the lines that are a little beyond cross. (Geometry of the
//! fold; how much to leave is common practice, no source.)

use super::MITRE_ALLOWANCE;

/// A cosine of less is that of a right angle, but for rounding.
const RIGHT_ANGLE: f64 = 1e-9;

/// Two edges that meet in an outward corner, seen from the one whose allowance is drawn.
#[derive(Debug, Clone, Copy)]
pub(super) struct Mitre {
    /// Sine and cosine of the turn from one edge to the other.
    pub(super) turn: (f64, f64),
    /// Depth of the allowance, mm.
    pub(super) depth: f64,
    /// Depth of the other's, mm.
    pub(super) other: f64,
}

impl Mitre {
    /// The side from the seam line outward: distances along the line, beyond the corner, and from it.
    pub(super) fn side(self) -> Vec<(f64, f64)> {
        let Self { turn: (sin, cos), depth, other } = self;
        let allowance = MITRE_ALLOWANCE.min(depth.min(other) / 2.0);
        let inset = self.inset();
        let begin = allowance * (inset / depth).hypot(1.0);
        let end = (begin - inset, depth);
        // The other's line, in the same coordinates: a point of it and its direction outward.
        let across = Self { turn: self.turn, depth: other, other: depth }.inset();
        let aside = allowance * (across / other).hypot(1.0);
        let (at, way) = ((-cos * aside, sin * aside), (across * cos + other * sin, other * cos - across * sin));
        let crossing = at.0 - way.0 * (at.1 / way.1);
        // At a right angle both lines are one.
        if cos >= -RIGHT_ANGLE || crossing >= begin {
            return vec![(begin, 0.0), end];
        }
        // Own line `(begin - inset u, depth u)` and the other's cross at this share of the depth.
        let determinant = depth * way.0 + inset * way.1;
        let share = ((begin - at.0) * way.1 + at.1 * way.0) / determinant;
        vec![(crossing, 0.0), (begin - inset * share, depth * share), end]
    }

    /// How far before the corner, along the edge, the inner edges of the two allowances cross once they are turned up.
    ///
    /// With the turn `φ` that is `(other - depth cos φ) / sin φ`.
    fn inset(self) -> f64 {
        let (sin, cos) = self.turn;
        (self.other - self.depth * cos) / sin
    }
}
