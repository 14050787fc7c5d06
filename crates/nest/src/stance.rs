//! One way an item may lie, and where it may stand in it.

use ellwand_geometry::{Bounds, Point, point};

use crate::Axis;
use crate::fits::Slack;
use crate::flip::Flip;
use crate::phase::{Phases, followed};
use crate::positions::{first_from, nearest, stride};

/// A flipped body and the positions allowed to it.
#[derive(Debug, Clone)]
pub(crate) struct Stance {
    pub(crate) body: usize,
    pub(crate) flip: Flip,
    pub(crate) bounds: Bounds,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
    pub(crate) x_range: (f64, f64),
    /// The item's pose this stands for, and whether the placed shape is the twin of what the stance shows.
    pub(crate) pose: usize,
    pub(crate) shows_twin: bool,
    /// The axis across which what the stance shows has its mirror image, if it has one.
    pub(crate) twin: Option<f64>,
    /// How far the placed shape is turned beyond the pose, degrees.
    pub(crate) turn: f64,
    pub(crate) slack: Slack,
}

/// A body at a place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stand {
    pub(crate) body: usize,
    pub(crate) flip: Flip,
    pub(crate) at: Point,
}

impl Stance {
    /// Lowest and highest `y` of the origin in a strip of `length`.
    #[inline]
    pub(crate) fn y_range(&self, length: f64) -> (f64, f64) {
        (-self.bounds.min.y, length - self.bounds.max.y)
    }

    /// Lowest and highest `x` of the origin.
    #[inline]
    pub(crate) fn x_range(&self) -> (f64, f64) {
        self.x_range
    }

    /// Where the origin of the placed shape stands across when that of what the stance shows stands at `x`; and the other way round.
    pub(crate) fn seen_placed(&self, x: f64) -> f64 {
        match self.twin {
            Some(axis) if self.shows_twin => 2.0 * axis - x,
            _ => x,
        }
    }

    /// The allowed position nearest to `at` in a strip of `length`; `None` when there is none.
    #[inline]
    pub(crate) fn nearest(&self, at: Point, length: f64, phases: &Phases) -> Option<Point> {
        let x = nearest(phases.settle(self.x), self.x_range, at.x, self.slack.place)?;
        Some(point(x, nearest(phases.settle(self.y), self.y_range(length), at.y, self.slack.place)?))
    }

    /// The allowed position that a move from `at` by `away` leads to. On a lattice a move of some size that way goes to the next
    /// position at least.
    #[inline]
    pub(crate) fn moved(&self, at: Point, away: Point, length: f64, phases: &Phases) -> Option<Point> {
        let x = at.x + stride(phases.settle(self.x), away.x);
        let y = at.y + stride(phases.settle(self.y), away.y);
        self.nearest(point(x, y), length, phases)
    }

    /// Distance between neighbouring positions across and along; 0 where they are free or fixed.
    pub(crate) fn steps(&self, phases: &Phases) -> Point {
        let step = |axis| match phases.settle(axis) {
            Axis::Lattice { step, .. } => step,
            _ => 0.0,
        };
        point(step(self.x), step(self.y))
    }

    /// The lowest allowed `y` of the origin at or above `y`, however long the strip.
    pub(crate) fn at_or_above(&self, y: f64, phases: &Phases) -> Option<f64> {
        match phases.settle(self.y) {
            Axis::Fixed(fixed) => (fixed >= y - self.slack.place).then_some(fixed),
            other => first_from(other, y, 0.0),
        }
    }

    /// What the phase is when an item stands at `at`, if the stance follows it.
    pub(crate) fn phase_at(&self, index: usize, at: Point) -> Option<f64> {
        let (sense, origin, position) = match (followed(self.x, index), followed(self.y, index)) {
            (Some((sense, origin)), _) => (sense, origin, at.x),
            (None, Some((sense, origin))) => (sense, origin, at.y),
            (None, None) => return None,
        };
        Some(sense.sign() * (position - origin))
    }

    /// How the positions change when the phase grows by 1, if they follow it.
    pub(crate) fn drift(&self, index: usize) -> Option<Point> {
        let sign = |axis| followed(axis, index).map_or(0.0, |(sense, _)| sense.sign());
        let drift = point(sign(self.x), sign(self.y));
        (drift.x != 0.0 || drift.y != 0.0).then_some(drift)
    }
}
