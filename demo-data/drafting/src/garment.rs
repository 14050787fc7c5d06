//! The garments the program can draft.

use crate::{Body, GradedPattern, Pattern, Size, blouse, grading, jacket, oversized_jacket, shirt_dress, skirt};

/// One of the demo garments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Garment {
    /// A panelled cord skirt.
    Skirt,
    /// A shirt-dress with collar, cuffs, pockets and a belt.
    ShirtDress,
    /// A darted blouse with a faced curved hem and gathered sleeves.
    Blouse,
    /// A lined jacket with side panels and two-piece sleeves.
    Jacket,
    /// A boxy jacket, test data for a band of yardage.
    OversizedJacket,
}

impl Garment {
    /// Every garment.
    pub const ALL: [Self; 5] = [Self::Skirt, Self::ShirtDress, Self::Blouse, Self::Jacket, Self::OversizedJacket];

    /// Where its pattern file lies below the folder of the demo data.
    pub fn path(self) -> &'static str {
        match self {
            Self::Skirt => "skirt/ferry-skirt.pattern.toml",
            Self::ShirtDress => "shirt-dress/pilot-house.pattern.toml",
            Self::Blouse => "blouse/slipway.pattern.toml",
            Self::Jacket => "jacket/harbour-watch.pattern.toml",
            Self::OversizedJacket => "oversized-jacket/deckhand.pattern.toml",
        }
    }

    /// The body file that the sizes of the checked-in pattern are stepped from, below the folder of the demo data.
    pub fn body_path(self) -> &'static str {
        match self {
            Self::Skirt | Self::ShirtDress | Self::Blouse | Self::Jacket => "bodies/landing-38.toml",
            Self::OversizedJacket => "bodies/deckhand-50.toml",
        }
    }

    /// The garment for `body`.
    pub fn draft(self, body: &Body) -> Pattern {
        match self {
            Self::Skirt => skirt::draft(body),
            Self::ShirtDress => shirt_dress::draft(body),
            Self::Blouse => blouse::draft(body),
            Self::Jacket => jacket::draft(body),
            Self::OversizedJacket => oversized_jacket::draft(body),
        }
    }

    /// The sizes it is made in, stepped from `base`.
    pub fn sizes(self, base: &Body) -> Vec<Size> {
        match self {
            Self::Skirt | Self::ShirtDress | Self::Blouse | Self::Jacket => grading::sizes(base, &grading::FINE),
            Self::OversizedJacket => grading::sizes(base, &grading::FULL),
        }
    }

    /// The garment in all its sizes, each drafted for its own body.
    pub fn draft_sizes(self, base: &Body) -> GradedPattern {
        let drafted = |size: Size| {
            let draft = self.draft(&size.body);
            (size, draft)
        };
        GradedPattern { sizes: self.sizes(base).into_iter().map(drafted).collect() }
    }
}
