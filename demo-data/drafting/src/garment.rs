//! The garments the program can draft.

use crate::{Body, Pattern, shirt_dress, skirt};

/// One of the demo garments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Garment {
    /// A panelled cord skirt.
    Skirt,
    /// A shirt-dress with collar, cuffs, pockets and a belt.
    ShirtDress,
}

impl Garment {
    /// Every garment.
    pub const ALL: [Self; 2] = [Self::Skirt, Self::ShirtDress];

    /// Where its pattern file lies below the folder of the demo data.
    pub fn path(self) -> &'static str {
        match self {
            Self::Skirt => "skirt/ferry-skirt.pattern.toml",
            Self::ShirtDress => "shirt-dress/pilot-house.pattern.toml",
        }
    }

    /// The body file the checked-in pattern is drafted for, below the folder of the demo data.
    pub fn body_path(self) -> &'static str {
        match self {
            Self::Skirt | Self::ShirtDress => "bodies/landing-38.toml",
        }
    }

    /// The garment for `body`.
    pub fn draft(self, body: &Body) -> Pattern {
        match self {
            Self::Skirt => skirt::draft(body),
            Self::ShirtDress => shirt_dress::draft(body),
        }
    }
}
