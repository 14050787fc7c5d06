//! Darts: a bust dart in the side seam, whose mouth is worked out from the pattern, and a waist dart inside a panel.

use kurbo::{Point, Vec2};

use crate::curve::turned;
use crate::piece::Dart;

/// The dart's mouth on the side seam, from below to above, and how the seam runs on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SideDart {
    /// Where the lower leg meets the seam.
    pub(crate) lower: Point,
    /// Where the upper leg meets the seam.
    pub(crate) upper: Point,
    /// Direction of the seam upwards at the lower leg; once the dart is closed it runs on into the seam above.
    pub(crate) up: Vec2,
}

impl SideDart {
    /// A dart of `width` mm towards `apex`, `below` mm under the underarm on a seam that leaves it along `down`.
    pub(crate) fn draft(underarm: Point, down: Vec2, below: f64, apex: Point, width: f64) -> Self {
        let upper = underarm + down.normalize() * below;
        let leg = upper - apex;
        let angle = -2.0 * (width / 2.0 / leg.length()).clamp(-0.5, 0.5).asin();
        let leg_turned = |by: f64| apex + turned(leg, by);
        let lower = leg_turned(angle);
        let up = turned(-down.normalize(), angle);
        Self { lower, upper, up }
    }
}

/// The dart `name` inside a panel, which takes up `taken_up` mm at `waist`, its middle, and ends upright above and below it at the heights `ends`,
/// the upper first. It is pressed towards the centre, left of it (common practice, no source).
pub(crate) fn waist_dart(name: &'static str, waist: Point, ends: (f64, f64), taken_up: f64) -> Dart {
    let half = Vec2::new(taken_up / 2.0, 0.0);
    Dart {
        name,
        legs: [waist - half, waist + half],
        tips: vec![Point::new(waist.x, ends.0), Point::new(waist.x, ends.1)],
        pressed: "left",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_legs_are_equal_and_the_mouth_as_wide_as_asked() {
        let apex = Point::new(110.0, 140.0);
        let dart = SideDart::draft(Point::new(260.0, 190.0), Vec2::new(-0.1, -1.0), 60.0, apex, 25.0);
        assert!(((dart.upper - apex).length() - (dart.lower - apex).length()).abs() < 1e-9);
        assert!((dart.upper.distance(dart.lower) - 25.0).abs() < 1e-9);
        assert!(dart.lower.y < dart.upper.y);
    }
}
