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
use crate::{AllowedPose, Item, NestError, Problem, Regions};

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
enum Face {
    /// The shape that is placed.
    Placed,
    /// Its mirror image.
    Twin,
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
        // Whichever of two twins lies left of the axis is the one moved.
        let faces: &[Face] = if item.twin.is_some() { &[Face::Placed, Face::Twin] } else { &[Face::Placed] };
        let poses = |tilt: f64| item.poses.iter().enumerate().map(move |(pose, allowed)| (tilt, pose, allowed));
        for (tilt, pose, allowed) in tilts.of(index).iter().flat_map(|&tilt| poses(tilt)) {
            if tilt.abs() > allowed.tilt || tilts.pose(index).is_some_and(|only| only != pose) {
                continue;
            }
            let turn = if allowed.pose.mirrored { 0.0 - tilt } else { tilt };
            for &face in faces {
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
        let copies = if item.twin.is_some() { 2.0 } else { 1.0 };
        let size = self.bodies[stances[0].body].size;
        Ok(ModelItem { stances, twin: item.twin, area: outline.area() * copies, size, kind: index })
    }

    /// The stance of a pose turned further, or what the strip is too narrow by for it.
    fn stance(
        &mut self,
        item: &Item,
        (pose, turn): (usize, f64),
        allowed: &AllowedPose,
        face: Face,
    ) -> Result<Stance, f64> {
        let (body, flip) = self.body(item.shape, Pose { turn_deg: allowed.pose.turn_deg + turn, ..allowed.pose });
        let flip = flip.then(if face == Face::Twin { Flip::ACROSS } else { Flip::NONE });
        let bounds = flip.apply_to_bounds(self.bodies[body].bounds);
        let (mut left, mut right) = (self.problem.left, self.problem.right);
        if let Some(axis) = item.twin {
            // The twin of what stands at x reaches as far right of the axis as x does left of it, and the two keep the gap.
            right = right.min(axis - self.problem.gap / 2.0);
            left = left.max(2.0 * axis - self.problem.right);
        }
        let range = (left - bounds.min.x, right - bounds.max.x);
        let short = range.0 - range.1;
        let x = match (allowed.x, item.twin) {
            (x, Some(axis)) if face == Face::Twin => mirrored(x, axis),
            (x, _) => x,
        };
        // A piece exactly as wide as the strip fits.
        let x_range = if short > 0.0 && short <= self.slack.place { (range.1, range.1) } else { range };
        if x_range.0 > x_range.1 || nearest(x, x_range, x_range.0, self.slack.place).is_none() {
            return Err(short);
        }
        let shows_twin = face == Face::Twin;
        Ok(Stance { body, flip, bounds, x, y: allowed.y, x_range, pose, shows_twin, turn, slack: self.slack })
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
