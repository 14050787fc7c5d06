//! How the pieces of a layout lie, and no more: what it takes to lay them so again, on other cloth or in another size.

use ellwand_geometry::{Bounds, Point};

use crate::{Layout, Way};

/// How pieces lie on flat cloth, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrangement {
    /// The way in which the cloth lay.
    pub way: Way,
    /// Its width from edge to edge, washed.
    pub width: f64,
    /// Width of each selvage.
    pub selvage: f64,
    /// Where it would be folded down the middle.
    pub fold: f64,
    /// Length used from the cut end.
    pub length: f64,
    /// Every shape cut.
    pub lying: Vec<Lying>,
}

/// How one piece lies.
#[derive(Debug, Clone, PartialEq)]
pub struct Lying {
    /// Name of the piece.
    pub piece: String,
    /// Whether it lies with its printed side down.
    pub mirrored: bool,
    /// Its turn after mirroring, degrees counter-clockwise.
    pub turned_deg: f64,
    /// Low and high end of its grainline on the cloth.
    pub grainline: [Point; 2],
    /// The box around its cutting line.
    pub bounds: Bounds,
}

impl Arrangement {
    /// How the pieces of `layout` lie.
    pub fn of(layout: &Layout) -> Self {
        let lying = layout.cuts.iter().map(|cut| Lying {
            piece: cut.piece.clone(),
            mirrored: cut.mirrored,
            turned_deg: cut.turned_deg,
            grainline: cut.grainline,
            bounds: cut.outline.bounds(),
        });
        Self {
            way: layout.way,
            width: layout.cloth.width,
            selvage: layout.cloth.selvage,
            fold: layout.cloth.centre_fold(),
            length: layout.length,
            lying: lying.collect(),
        }
    }
}
