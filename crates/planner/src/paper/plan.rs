//! What is put on paper, and where it lies.

use ellwand_geometry::{Outline, Placement, Point, Pose};

/// What is put on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct PaperShape {
    /// What it is called in a message.
    pub name: String,
    /// An outline that holds everything printed of it, cutting line and labels, mm, `y` up.
    pub outline: Outline,
}

/// Where a shape lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnPaper {
    /// Index of the shape.
    pub shape: usize,
    /// The sheet it lies on, from 0; on a roll or on tiles always 0.
    pub sheet: usize,
    /// So many quarter turns, 0 to 3, it is turned counter-clockwise about its own origin ...
    pub quarter_turns: u8,
    /// ... and then moved by this, mm: from the lower left corner of the sheet, the roll or the table.
    pub at: Point,
}

impl OnPaper {
    /// The whole motion of the shape on its sheet. Coordinates are turned without rounding.
    pub fn placement(&self) -> Placement {
        Placement { pose: turned(self.quarter_turns), at: self.at }
    }

    /// The outline of the shape where it lies on its sheet, mm.
    ///
    /// # Panics
    ///
    /// When it is the place of other shapes.
    pub fn outline(&self, shapes: &[PaperShape]) -> Outline {
        self.placement().apply(&shapes[self.shape].outline)
    }
}

/// The pose of so many quarter turns.
pub(super) fn turned(quarter_turns: u8) -> Pose {
    Pose::turned(90.0 * f64::from(quarter_turns))
}

/// Every shape, each exactly once, on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct PaperPlan {
    /// Where the shapes lie, in their order.
    pub placed: Vec<OnPaper>,
    /// Sheets used, or pages of a table that carry something; of a roll 1, and 0 where there is nothing to print.
    pub sheets: usize,
    /// Length used of the roll or of the table of tiles, mm; of sheets their length.
    pub length: f64,
    /// Width of the roll, of the table of tiles or of the sheets, mm.
    pub width: f64,
}

/// How far up what lies there reaches, mm; 0 of nothing.
pub(super) fn length_of(placed: &[OnPaper], shapes: &[PaperShape]) -> f64 {
    placed.iter().map(|lies| lies.outline(shapes).bounds().max.y).fold(0.0, f64::max)
}

/// How many rectangles of paper the shapes would fill without waste, rounded up: there cannot be fewer. Rounding errors are no rectangle.
pub(super) fn filled(shapes: &[PaperShape], [width, height]: [f64; 2]) -> usize {
    let area: f64 = shapes.iter().map(|shape| shape.outline.area()).sum();
    let rectangles = (area / (width * height) - 1e-9).ceil() as usize;
    if shapes.is_empty() { 0 } else { rectangles.max(1) }
}
