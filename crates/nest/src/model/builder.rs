//! From the items of a problem to bodies and stances.

use ellwand_geometry::{Placement, Pose};

use super::ModelItem;
use crate::body::Body;
use crate::clearance::Detail;
use crate::fits::{Slack, same_turn};
use crate::flip::Flip;
use crate::positions::{mirrored, nearest};
use crate::stance::Stance;
use crate::tilts::Tilts;
use crate::{AllowedPose, Axis, Item, NestError, Problem, Regions};

pub(super) struct Builder<'p> {
    problem: &'p Problem,
    detail: Detail,
    shared: &'p Regions,
    slack: Slack,
    pub(super) bodies: Vec<Body>,
    /// The shape and the turn of each body.
    known: Vec<(usize, f64)>,
}

/// Which of an item's two halves a stance shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Face {
    /// The shape that is placed.
    Placed,
    /// Its mirror image.
    Twin,
}

impl Face {
    /// Those that an item may show: whichever of two twins lies left of the axis is the one moved.
    pub(crate) fn of(item: &Item) -> &'static [Self] {
        if item.has_twin() { &[Self::Placed, Self::Twin] } else { &[Self::Placed] }
    }

    /// What makes the face of the placed shape.
    pub(crate) fn flip(self) -> Flip {
        match self {
            Self::Placed => Flip::NONE,
            Self::Twin => Flip::ACROSS,
        }
    }

    /// The positions across at which the face shows when the placed shape has one of those of `allowed`.
    pub(crate) fn positions(self, allowed: &AllowedPose) -> Axis {
        match (self, allowed.twin) {
            (Self::Twin, Some(axis)) => mirrored(allowed.x, axis),
            _ => allowed.x,
        }
    }

    /// Lowest and highest `x` that the face may reach in a pose.
    pub(crate) fn room_across(self, problem: &Problem, allowed: &AllowedPose) -> (f64, f64) {
        let (mut left, mut right) = (problem.left, problem.right);
        if let Some(axis) = allowed.twin {
            // The twin of what stands at x reaches as far right of the axis as x does left of it, and the two keep the gap.
            right = right.min(axis - problem.gap / 2.0);
            left = left.max(2.0 * axis - problem.right);
        }
        // The span is that of the placed shape: where its twin is shown, the mirror image of the span.
        let span = allowed.within.map(|(from, to)| match (self, allowed.twin) {
            (Self::Twin, Some(axis)) => (2.0 * axis - to, 2.0 * axis - from),
            _ => (from, to),
        });
        span.map_or((left, right), |(from, to)| (left.max(from), right.min(to)))
    }
}

impl<'p> Builder<'p> {
    pub(super) fn new(problem: &'p Problem, detail: Detail, shared: &'p Regions) -> Self {
        Self { problem, detail, shared, slack: Slack::of(problem), bodies: Vec::new(), known: Vec::new() }
    }

    /// An item in its poses, each turned further by those of `tilts` that it allows. As the shape sees them, tilts of poses that show its
    /// other face go the other way, so that one body serves both.
    pub(super) fn item(&mut self, index: usize, tilts: &Tilts) -> Result<ModelItem, NestError> {
        let item = &self.problem.items[index];
        let mut stances: Vec<Stance> = Vec::new();
        let mut short_by = f64::INFINITY;
        let poses = |tilt: f64| item.poses.iter().enumerate().map(move |(pose, allowed)| (tilt, pose, allowed));
        for (tilt, pose, allowed) in tilts.of(index).iter().flat_map(|&tilt| poses(tilt)) {
            if tilt.abs() > allowed.tilt || tilts.pose(index).is_some_and(|only| only != pose) {
                continue;
            }
            let turn = if allowed.pose.mirrored { 0.0 - tilt } else { tilt };
            for &face in Face::of(item) {
                match self.stance(item, (pose, turn), allowed, face) {
                    Ok(stance) => stances.push(stance),
                    Err(short) => short_by = short_by.min(short),
                }
            }
        }
        if stances.is_empty() {
            let narrow_enough = short_by <= self.slack.place;
            return Err(if narrow_enough {
                NestError::NoPosition { item: index }
            } else {
                NestError::TooWide { item: index, short_by }
            });
        }
        let outline = &self.problem.shapes[item.shape];
        let copies = if item.has_twin() { 2.0 } else { 1.0 };
        let size = self.bodies[stances[0].body].size;
        Ok(ModelItem { stances, area: outline.area() * copies, size, kind: index })
    }

    /// The stance of a pose turned further, or what the strip, or the pose's span of it, is too narrow by for it.
    fn stance(
        &mut self,
        item: &Item,
        (pose, turn): (usize, f64),
        allowed: &AllowedPose,
        face: Face,
    ) -> Result<Stance, f64> {
        let (body, flip) = self.body(item.shape, Pose { turn_deg: allowed.pose.turn_deg + turn, ..allowed.pose });
        let flip = flip.then(face.flip());
        let bounds = flip.apply_to_bounds(self.bodies[body].bounds);
        let (left, right) = face.room_across(self.problem, allowed);
        let range = (left - bounds.min.x, right - bounds.max.x);
        let short = range.0 - range.1;
        let x = face.positions(allowed);
        // A piece exactly as wide as the strip, or as its span, fits.
        let x_range = if short > 0.0 && short <= self.slack.place { (range.1, range.1) } else { range };
        if x_range.0 > x_range.1 || nearest(x, x_range, x_range.0, self.slack.place).is_none() {
            return Err(short);
        }
        let (y, twin, shows_twin) = (allowed.y, allowed.twin, face == Face::Twin);
        Ok(Stance { body, flip, bounds, x, y, x_range, pose, shows_twin, twin, turn, slack: self.slack })
    }

    /// The body and flip that show `shape` in `pose`.
    fn body(&mut self, shape: usize, pose: Pose) -> (usize, Flip) {
        let (turn, flip) = Flip::of(pose);
        let is_known = |known: &(usize, f64)| known.0 == shape && same_turn(known.1, turn);
        let body = self.known.iter().position(is_known).unwrap_or_else(|| {
            let turned = Placement::new(Pose::turned(turn), 0.0, 0.0).apply(&self.problem.shapes[shape]);
            self.bodies.push(Body::new(turned, self.problem.gap, self.detail, self.shared));
            self.known.push((shape, turn));
            self.bodies.len() - 1
        });
        (body, flip)
    }
}
