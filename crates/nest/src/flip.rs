//! Mirroring and half turns: the poses that only flip the signs of coordinates.

use ellwand_geometry::{Bounds, ConvexPart, Point, Pose, point};

/// Signs that multiply `x` and `y`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Flip {
    pub(crate) x: bool,
    pub(crate) y: bool,
}

impl Flip {
    pub(crate) const NONE: Self = Self { x: false, y: false };
    pub(crate) const ACROSS: Self = Self { x: true, y: false };
    pub(crate) const HALF_TURN: Self = Self { x: true, y: true };
    /// Each flip at its index.
    pub(crate) const ALL: [Self; 4] = [Self::NONE, Self::ACROSS, Self { x: false, y: true }, Self::HALF_TURN];

    /// The turn, from 0 up to 180 degrees, and the flip after it that together are the pose. Turning a mirrored shape is mirroring the
    /// shape turned the other way.
    pub(crate) fn of(pose: Pose) -> (f64, Self) {
        let turn = (if pose.mirrored { -pose.turn_deg } else { pose.turn_deg }).rem_euclid(360.0);
        let (turn, half) = if turn >= 180.0 { (turn - 180.0, Self::HALF_TURN) } else { (turn, Self::NONE) };
        (turn, half.then(if pose.mirrored { Self::ACROSS } else { Self::NONE }))
    }

    #[inline]
    pub(crate) fn then(self, other: Self) -> Self {
        Self { x: self.x != other.x, y: self.y != other.y }
    }

    #[inline]
    pub(crate) fn index(self) -> usize {
        usize::from(self.x) + 2 * usize::from(self.y)
    }

    #[inline]
    pub(crate) fn apply(self, p: Point) -> Point {
        point(if self.x { -p.x } else { p.x }, if self.y { -p.y } else { p.y })
    }

    pub(crate) fn apply_to_part(self, part: &ConvexPart) -> ConvexPart {
        part.flipped(if self.x { -1.0 } else { 1.0 }, if self.y { -1.0 } else { 1.0 })
    }

    pub(crate) fn apply_to_bounds(self, b: Bounds) -> Bounds {
        Bounds::of([self.apply(b.min), self.apply(b.max)])
    }
}
