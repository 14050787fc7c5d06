//! One shape of a finished layout.

use std::collections::BTreeMap;

use ellwand_geometry::{Outline, Point, Pose};

/// One shape cut from the cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// Name of the piece.
    pub piece: String,
    /// Number of the piece on the drawing, from 1.
    pub number: usize,
    /// Which copy of the piece, from 1.
    pub copy: u32,
    /// Whether the piece lies with its printed side down, a mirror image.
    pub mirrored: bool,
    /// Turn of the piece after mirroring, degrees counter-clockwise, in 0 to 360.
    pub turned_deg: f64,
    /// Whether it is cut on the fold of the cloth (its axis lies on the fold line).
    pub on_fold: bool,
    /// The exact cutting line, counter-clockwise.
    pub outline: Outline,
    /// Low and high end of the grainline of the piece, where they lie on the cloth.
    pub grainline: [Point; 2],
    /// Notches: place and inward unit vector.
    pub notches: Vec<crate::Notch>,
    /// Named points.
    pub points: BTreeMap<String, Point>,
}

impl Cut {
    /// How the piece was turned and mirrored before it was put in its place.
    pub fn pose(&self) -> Pose {
        Pose { mirrored: self.mirrored, turn_deg: self.turned_deg }
    }
}
