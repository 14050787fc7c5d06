//! Along or across: what an argument about spans means by lengthwise and sideways.

use ellwand_geometry::{Outline, point};

use crate::stance::Stance;

/// Which way spans run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Run {
    /// Along the strip.
    Along,
    /// Across the strip.
    Across,
}

impl Run {
    /// Extent of a stance sideways.
    pub(super) fn width(self, stance: &Stance) -> f64 {
        match self {
            Self::Along => stance.bounds.width(),
            Self::Across => stance.bounds.height(),
        }
    }

    /// The outline laid so that the run goes along `x`.
    pub(super) fn laid(self, outline: &Outline) -> Outline {
        match self {
            Self::Along => outline.map_rigid(|p| point(p.y, p.x)),
            Self::Across => outline.clone(),
        }
    }

    /// Where the low side of a stance may lie sideways in a strip of `length`.
    pub(super) fn sides(self, stance: &Stance, length: f64) -> (f64, f64) {
        match self {
            Self::Along => {
                let (low, high) = stance.tied_to().map_or(stance.x_range(), |x| (x, x));
                (low + stance.bounds.min.x, high + stance.bounds.min.x)
            }
            Self::Across => (0.0, (length - stance.bounds.height()).max(0.0)),
        }
    }
}
