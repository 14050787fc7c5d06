//! A part of the sheet composed on its own and moved into place: the title, the key, a figure.

use ellwand_geometry::{Point, point};

use crate::lettering::Line;
use crate::marks::Mark;

/// Marks within a rectangle whose upper left corner is the origin, paper mm.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Block {
    /// Width.
    pub(crate) width: f64,
    /// Height.
    pub(crate) height: f64,
    /// The marks.
    pub(crate) marks: Vec<Mark>,
}

impl Block {
    /// Lines of text one under the other, left sides flush.
    pub(crate) fn of_lines(lines: Vec<Line>) -> Self {
        let mut block = Self::default();
        for line in lines {
            block.add_line(line, 0.0);
        }
        block
    }

    /// Adds a line of text below what is there, `indent` from the left.
    pub(crate) fn add_line(&mut self, line: Line, indent: f64) {
        let baseline = self.height + line.height() / 2.0 + line.baseline_drop();
        self.width = self.width.max(indent + line.width());
        self.height += line.height();
        self.marks.push(Mark::text(line, indent, baseline));
    }

    /// Lays `other` into this block with its corner at (`x`, `y`), growing as needed.
    pub(crate) fn place(&mut self, other: Self, x: f64, y: f64) {
        self.width = self.width.max(x + other.width);
        self.height = self.height.max(y + other.height);
        self.marks.extend(other.into_marks(point(x, y)));
    }

    /// The marks with the block's corner at `corner`.
    pub(crate) fn into_marks(self, corner: Point) -> impl Iterator<Item = Mark> {
        self.marks.into_iter().map(move |m| m.shifted(corner))
    }
}
