//! How a piece lies on the cloth: which way its top points.

use ellwand_geometry::Pose;

/// How far a turn may be off an eighth of a circle and still be that eighth, degrees: rounding, over a grainline of a metre less than
/// a thousandth of a thread. A piece tilted on purpose is off by far more.
const ROUNDING_DEG: f64 = 1e-6;

/// Which way the top of a piece points on cloth that lies open, its cut end near the reader: where the high end of its grainline is, seen
/// from the low end. Mirroring does not change it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Lie {
    /// As drawn: away from the cut end.
    Up,
    /// On the bias, to the far end and the left selvage: turned by 45 degrees counter-clockwise.
    UpLeft,
    /// Crosswise, to the left selvage: turned by 90.
    Left,
    /// On the bias, turned by 135.
    DownLeft,
    /// To the cut end: turned by 180.
    Down,
    /// On the bias, turned by 225.
    DownRight,
    /// Crosswise, to the right selvage: turned by 270.
    Right,
    /// On the bias, turned by 315.
    UpRight,
    /// None of these: tilted off the grain.
    Tilted,
}

impl Lie {
    /// The lie of what is turned by `pose.turn_deg`, which may be any number of turns, after mirroring.
    ///
    /// ```
    /// use ellwand_garment::Lie;
    /// use ellwand_geometry::Pose;
    ///
    /// assert_eq!(Lie::of(&Pose::turned(270.0).mirrored()), Lie::Right);
    /// assert_eq!(Lie::of(&Pose::turned(-45.0)), Lie::UpRight);
    /// assert_eq!(Lie::of(&Pose::turned(0.5)), Lie::Tilted);
    /// ```
    pub fn of(pose: &Pose) -> Self {
        const EIGHTHS: [Lie; 8] =
            [Lie::Up, Lie::UpLeft, Lie::Left, Lie::DownLeft, Lie::Down, Lie::DownRight, Lie::Right, Lie::UpRight];
        let turn = pose.turn_deg.rem_euclid(360.0);
        let eighth = (turn / 45.0).round();
        // A turn that is no number is no eighth either.
        if (turn - 45.0 * eighth).abs() <= ROUNDING_DEG { EIGHTHS[eighth as usize % 8] } else { Self::Tilted }
    }

    /// Whether the grain runs along the warp, either way up.
    pub fn is_upright(self) -> bool {
        matches!(self, Self::Up | Self::Down)
    }

    /// Whether the grain runs from selvage to selvage.
    pub fn is_crosswise(self) -> bool {
        matches!(self, Self::Left | Self::Right)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_are_told_whatever_number_of_full_ones_they_hold() {
        let lie = |turn| Lie::of(&Pose::turned(turn));
        assert_eq!([0.0, 360.0, -0.0, 720.0 - 1e-9].map(lie), [Lie::Up; 4]);
        assert_eq!([90.0, -270.0].map(lie), [Lie::Left; 2]);
        assert_eq!([135.0, 225.0, 180.0 + 1e-9].map(lie), [Lie::DownLeft, Lie::DownRight, Lie::Down]);
        assert_eq!([1.0, 359.9, f64::NAN, f64::INFINITY].map(lie), [Lie::Tilted; 4]);
    }

    #[test]
    fn only_true_lies_are_upright_or_crosswise() {
        let of = |turn| Lie::of(&Pose::turned(turn));
        assert!(of(180.0).is_upright() && !of(180.0).is_crosswise());
        assert!(of(90.0).is_crosswise() && !of(90.0).is_upright());
        assert!(!of(45.0).is_upright() && !of(45.0).is_crosswise());
        assert!(!of(0.25).is_upright() && !of(90.25).is_crosswise());
    }
}
