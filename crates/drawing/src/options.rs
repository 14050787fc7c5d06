//! What the caller may choose about a drawing.

use ellwand_garment::{Leftover, Units};

/// How to draw a layout.
#[derive(Debug, Clone, PartialEq)]
pub struct Options {
    /// Units of the rulers and of every length in the text.
    pub units: Units,
    /// Whether folded cloth is drawn folded.
    pub spread: Spread,
    /// Width of the cloth as the shop sells it, mm, where washing makes it narrower than the layout's; told beside that.
    pub bought_width: Option<f64>,
    /// How a design of the cloth is drawn.
    pub colours: Colours,
    /// Rectangles that are left once everything is cut, to be drawn lightly.
    pub left: Vec<Leftover>,
}

impl Options {
    /// Lengths in `units`, the cloth drawn as it is cut.
    pub const fn new(units: Units) -> Self {
        Self { units, spread: Spread::AsCut, bought_width: None, colours: Colours::OfTheCloth, left: Vec::new() }
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

/// How a design of the cloth is drawn. Cloth without one looks the same either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colours {
    /// Every bar in its colour, pale.
    OfTheCloth,
    /// For printers and copiers without colour: the middle of each dominant bar as a fine line on white, and letters of what meets in boxes.
    BlackAndWhite,
}
