//! The distances that find no room in their pieces, as a list below the key or on a sheet of its own: with it the sheets of a layout say of every
//! piece where it lies.

use ellwand_garment::Units;

use crate::block::Block;
use crate::folded::Shown;
use crate::key;
use crate::lettering::{Line, Weight, wrap, wrap_within};
use crate::measures::Measured;
use crate::paper::ARMS_LENGTH;

/// A piece that does not say all of where it lies.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Untold {
    /// Number and copies.
    number: String,
    /// Name of the piece.
    piece: String,
    /// Where it lies.
    measured: Measured,
}

impl Untold {
    pub(crate) fn of(shown: &Shown, measured: Measured) -> Self {
        Self { number: shown.wording.number.clone(), piece: shown.piece.clone(), measured }
    }

    /// By the number of the piece, then by its copies.
    fn order(&self) -> (usize, &str) {
        let digits = self.number.find(|c: char| !c.is_ascii_digit()).unwrap_or(self.number.len());
        let (number, copies) = self.number.split_at(digits);
        (number.parse().unwrap_or(usize::MAX), copies)
    }

    fn row(&self, units: Units) -> Block {
        let mut lines =
            wrap_within(&format!("{}  {}", self.number, self.piece), ARMS_LENGTH, Weight::Bold, key::COLUMN, 3);
        let distances = self.measured.phrases(units);
        lines.extend(distances.iter().flat_map(|said| wrap(said, ARMS_LENGTH, Weight::Regular, key::COLUMN)));
        Block { width: key::COLUMN, ..Block::of_lines(lines) }
    }
}

/// What the list is called.
pub(crate) const HEADING: &str = "Where the other pieces lie";
/// Where its distances begin.
pub(crate) const MEASURED: &str = "Measured from the low end of the grainline, towards the hem of the piece.";

/// The list in as many columns as `width` holds.
pub(crate) fn rows(untold: &[Untold], units: Units, width: f64) -> Block {
    let mut untold: Vec<&Untold> = untold.iter().collect();
    untold.sort_by(|a, b| a.order().cmp(&b.order()));
    let rows: Vec<Block> = untold.into_iter().map(|untold| untold.row(units)).collect();
    key::arranged(&rows, width)
}

/// The same under a heading.
pub(crate) fn block(untold: &[Untold], units: Units, width: f64) -> Block {
    let mut block = Block::of_lines(vec![Line::bold(HEADING, 10.0), Line::regular(MEASURED, ARMS_LENGTH)]);
    let below = block.height + 1.0;
    block.place(rows(untold, units, width), 0.0, below);
    block
}
