//! What the caller may choose about a drawing.

use ellwand_garment::Units;

/// How to draw a layout.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Options {
    /// Units of the rulers and of every length in the text.
    pub units: Units,
    /// Whether folded cloth is drawn folded.
    pub spread: Spread,
}

impl Options {
    /// Lengths in `units`, the cloth drawn as it is cut.
    pub const fn new(units: Units) -> Self {
        Self { units, spread: Spread::AsCut }
    }
}

/// How folded cloth is shown. An open layer looks the same either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// As it lies on the table while it is cut: folded first, then opened for single pieces.
    AsCut,
    /// Opened out flat, right side up, with every cut of both layers.
    Flat,
}
