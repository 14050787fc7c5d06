//! How a shape lies on the cloth: mirrored or not, turned, and moved to its place.

use crate::{Outline, Point, point};

/// A turn and a mirroring, without a place.
///
/// The shape is mirrored first (`x` becomes `-x`, so the grain stays upright) and turned afterwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// Whether the shape shows its other face.
    pub mirrored: bool,
    /// Turn in degrees, counter-clockwise, after mirroring.
    pub turn_deg: f64,
}

impl Pose {
    /// The shape as drawn.
    pub const AS_DRAWN: Self = Self { mirrored: false, turn_deg: 0.0 };

    /// Turned by `turn_deg` degrees and not mirrored.
    pub const fn turned(turn_deg: f64) -> Self {
        Self { mirrored: false, turn_deg }
    }

    /// The same turn with the other face up.
    pub const fn mirrored(self) -> Self {
        Self { mirrored: !self.mirrored, turn_deg: self.turn_deg }
    }

    /// Where `p` goes. Multiples of 90 degrees are exact.
    pub fn apply_to_point(&self, p: Point) -> Point {
        let p = if self.mirrored { point(-p.x, p.y) } else { p };
        let (sin, cos) = sin_cos_deg(self.turn_deg);
        point(cos * p.x - sin * p.y, sin * p.x + cos * p.y)
    }
}

/// Sine and cosine of an angle in degrees; multiples of 90 give exactly 0 and ±1.
fn sin_cos_deg(deg: f64) -> (f64, f64) {
    let turn = deg.rem_euclid(360.0);
    if turn == 0.0 {
        (0.0, 1.0)
    } else if turn == 90.0 {
        (1.0, 0.0)
    } else if turn == 180.0 {
        (0.0, -1.0)
    } else if turn == 270.0 {
        (-1.0, 0.0)
    } else {
        turn.to_radians().sin_cos()
    }
}

/// A pose and the displacement that follows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    /// Mirroring and turn about the shape's own origin.
    pub pose: Pose,
    /// Where the shape's own origin lands, mm.
    pub at: Point,
}

impl Placement {
    /// A pose moved so that the shape's origin lands on (`x`, `y`).
    pub const fn new(pose: Pose, x: f64, y: f64) -> Self {
        Self { pose, at: point(x, y) }
    }

    /// Where `p`, in the shape's own frame, lands on the cloth.
    pub fn apply_to_point(&self, p: Point) -> Point {
        self.pose.apply_to_point(p) + self.at
    }

    /// The outline as it lies on the cloth, still counter-clockwise.
    pub fn apply(&self, outline: &Outline) -> Outline {
        outline.map_rigid(|p| self.apply_to_point(p))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quarter_turns_are_exact() {
        let p = point(3.0, 7.0);
        assert_eq!(Pose::turned(90.0).apply_to_point(p), point(-7.0, 3.0));
        assert_eq!(Pose::turned(180.0).apply_to_point(p), point(-3.0, -7.0));
        assert_eq!(Pose::turned(-90.0).apply_to_point(p), point(7.0, -3.0));
    }

    #[test]
    fn mirroring_comes_before_the_turn() {
        let pose = Pose::turned(90.0).mirrored();
        assert_eq!(pose.apply_to_point(point(3.0, 7.0)), point(-7.0, -3.0));
    }
}
