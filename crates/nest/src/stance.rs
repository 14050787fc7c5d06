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

    /// As [`Stance::at_or_above`], whatever the phases, of anything that a judge may let pass.
    pub(crate) fn ever_at_or_above(&self, y: f64) -> Option<f64> {
        first_from(self.y, y, self.slack.conceded)
    }

    /// The lowest `x` of the origin at or right of `x` that some phases allow and a judge may let pass, if the strip has one.
    pub(crate) fn ever_at_or_right_of(&self, x: f64) -> Option<f64> {
        let conceded = self.slack.conceded;
        first_from(self.x, x.max(self.x_range.0), conceded).filter(|&x| x <= self.x_range.1 + conceded)
    }

    /// Whether the origins of both may have the same positions.
    pub(crate) fn same_positions(&self, other: &Self) -> bool {
        (self.x, self.y, self.x_range) == (other.x, other.y, other.x_range)
    }

    /// The one `x` the origin may have, if it is fixed.
    pub(crate) fn tied_to(&self) -> Option<f64> {
        match self.x {
            Axis::Fixed(x) => Some(x),
            _ => None,
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
