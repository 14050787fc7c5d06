//! Faults of input that is larger than one run should take.

use crate::Counted;

/// More of something than [`Limits`](crate::Limits) lets through.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("there are {count} {}, but the limit is {limit}", .counted.name())]
pub struct LimitFault {
    /// What is counted.
    pub counted: Counted,
    /// How many there are.
    pub count: usize,
    /// How many are let through.
    pub limit: usize,
}

impl LimitFault {
    pub(super) fn help(&self) -> String {
        let check = match self.counted {
            Counted::Edges | Counted::OutlinePoints | Counted::PatternPoints => "draw curves as curves, with few edges",
            Counted::Nesting => "check the brackets",
            Counted::NameCharacters => "give it a name that can be printed on the drawing",
            _ => "check that this is the file you meant",
        };
        format!("{check}; the limit can be raised if it really is this large")
    }
}

impl Counted {
    /// What is counted, in the plural.
    fn name(self) -> &'static str {
        match self {
            Self::Nesting => "lists and tables inside each other",
            Self::NameCharacters => "characters in this name",
            Self::Entries => "entries here",
            Self::Pieces => "pieces",
            Self::Sizes => "sizes",
            Self::Views => "views",
            Self::Edges => "edges",
            Self::OutlinePoints => "points in this outline, its curves drawn as short lines",
            Self::PatternPoints => "points in the outlines of all sizes, their curves drawn as short lines",
            Self::Garments => "garments",
            Self::Fabrics => "cloths",
            Self::Flaws => "flaws",
            Self::Remnants => "remnants",
        }
    }
}
