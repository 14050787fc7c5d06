//! Along or across: what an argument about spans means by lengthwise and sideways.

use ellwand_geometry::{Bounds, Outline, point};

/// Which way spans run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Run {
    /// Along the strip.
    Along,
    /// Across the strip.
    Across,
}

impl Run {
    /// The other one.
    pub(super) fn other(self) -> Self {
        match self {
            Self::Along => Self::Across,
            Self::Across => Self::Along,
        }
    }

    /// Extent sideways.
    pub(super) fn width(self, bounds: Bounds) -> f64 {
        match self {
            Self::Along => bounds.width(),
            Self::Across => bounds.height(),
        }
    }

    /// The outline laid so that the run goes along `x`.
    pub(super) fn laid(self, outline: &Outline) -> Outline {
        match self {
            Self::Along => outline.map_rigid(|p| point(p.y, p.x)),
            Self::Across => outline.clone(),
        }
    }

    /// The bounds laid so that the run goes along `x`.
    pub(super) fn laid_bounds(self, bounds: Bounds) -> Bounds {
        match self {
            Self::Along => Bounds::of([bounds.min, bounds.max].map(|p| point(p.y, p.x))),
            Self::Across => bounds,
        }
    }
}
