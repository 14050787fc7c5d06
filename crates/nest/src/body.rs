//! A shape in one turn, simplified outwards: what the search moves.

use ellwand_geometry::{Bounds, Outline};

use crate::Regions;
use crate::clearance::{Detail, cleared_parts, is_simplified};
use crate::flip::Flip;
use crate::hull;

/// A shape in one turn.
#[derive(Debug)]
pub(crate) struct Body {
    /// What the shared regions know the body in each flip by.
    pub(crate) flipped: [usize; 4],
    pub(crate) outline: Outline,
    /// Bounds of the shape itself, which must stay in the strip.
    pub(crate) bounds: Bounds,
    /// Bounds with the clearance that keeps pieces apart.
    pub(crate) reach: Bounds,
    /// Square root of the area of the hull, the measure of how much room it takes.
    pub(crate) size: f64,
}

impl Body {
    pub(crate) fn new(outline: Outline, gap: f64, detail: Detail, shared: &Regions) -> Self {
        let parts = cleared_parts(&outline, gap, detail);
        Self {
            bounds: outline.bounds(),
            reach: Bounds::of(parts.iter().flat_map(|part| part.points().iter().copied())),
            size: hull::area(outline.points()).sqrt(),
            flipped: Flip::ALL.map(|flip| shared.shape(parts.iter().map(|part| flip.apply_to_part(part)).collect())),
            outline,
        }
    }

    /// Whether it is searched as something larger than it is.
    pub(crate) fn is_simplified(&self) -> bool {
        is_simplified(&self.outline)
    }
}
