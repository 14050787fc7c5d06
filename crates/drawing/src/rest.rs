//! The distances that find no room in their pieces, as a list below the key or on a sheet of its own: with it the sheets of a layout say of every
//! piece where it lies.

use ellwand_garment::Units;

use crate::block::Block;
use crate::folded::Shown;
use crate::key;
use crate::lettering::{Weight, wrap, wrap_within};
use crate::measures::Measured;
use crate::paper::ARMS_LENGTH;

/// A piece that does not say all of where it lies.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Untold {
    /// Number and copies.
    number: String,
    /// Name of the piece.
    piece: String,
    /// Which side of the paper is up and which way its top points; on folded cloth in how many layers, too.
    lies: String,
    /// Where it lies.
    measured: Measured,
}

impl Untold {
    pub(crate) fn of(shown: &Shown, measured: Measured) -> Self {
        Self { number: shown.wording.number.clone(), piece: shown.piece.clone(), lies: shown.lies.clone(), measured }
    }

    /// By the number of the piece, then by its copies.
    fn order(&self) -> (usize, &str) {
        let digits = self.number.find(|c: char| !c.is_ascii_digit()).unwrap_or(self.number.len());
        let (number, copies) = self.number.split_at(digits);
        (number.parse().unwrap_or(usize::MAX), copies)
    }

    fn row(&self, units: Units, place: ListAt) -> Block {
        let mut lines =
            wrap_within(&format!("{}  {}", self.number, self.piece), ARMS_LENGTH, Weight::Bold, key::COLUMN, 3);
        let lies = (place == ListAt::Alone).then(|| self.lies.clone());
        let said = lies.into_iter().chain(self.measured.phrases(units));
        lines.extend(
            said.collect::<Vec<_>>().iter().flat_map(|said| wrap(said, ARMS_LENGTH, Weight::Regular, key::COLUMN)),
        );
        Block { width: key::COLUMN, ..Block::of_lines(lines) }
    }
}

/// Where a list stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ListAt {
    /// Below the drawing of its pieces, which shows how they lie.
    BelowDrawing,
    /// On a sheet of its own, where it says that too.
    Alone,
}

/// What the list is called.
pub(crate) const HEADING: &str = "Where the other pieces lie";
/// Where its distances begin.
pub(crate) const MEASURED: &str = "Measured from the low end of the grainline, towards the hem of the piece.";

/// The list in as many columns as `width` holds.
pub(crate) fn rows(untold: &[Untold], units: Units, place: ListAt, width: f64) -> Block {
    let mut untold: Vec<&Untold> = untold.iter().collect();
    untold.sort_by(|a, b| a.order().cmp(&b.order()));
    let rows: Vec<Block> = untold.into_iter().map(|untold| untold.row(units, place)).collect();
    key::arranged(&rows, width)
}

/// The same below a drawing or its key, under a heading.
pub(crate) fn block(untold: &[Untold], units: Units, width: f64) -> Block {
    let heading = wrap(HEADING, 10.0, Weight::Bold, width);
    let measured = wrap(MEASURED, ARMS_LENGTH, Weight::Regular, width);
    let mut block = Block::of_lines(heading.into_iter().chain(measured).collect());
    let below = block.height + 1.0;
    block.place(rows(untold, units, ListAt::BelowDrawing, width), 0.0, below);
    block
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::Mark;
    use ellwand_garment::MeasuredFrom;

    /// Alone there is no drawing that shows which side is up and where the top points.
    #[test]
    fn a_list_of_its_own_says_how_each_piece_lies() {
        let untold = Untold {
            number: "3 b".into(),
            piece: "Pocket".into(),
            lies: "face down, top down".into(),
            measured: Measured { from: MeasuredFrom::LeftEdge, toward: -1.0, ends: [50.0; 2], from_cut_end: 120.0 },
        };
        let said = |place| -> Vec<String> {
            let block = rows(std::slice::from_ref(&untold), Units::Centimetres, place, 200.0);
            let text = |mark: Mark| if let Mark::Text { line, .. } = mark { Some(line.text) } else { None };
            block.marks.into_iter().filter_map(text).collect()
        };
        let distances = ["3 b Pocket", "5 cm to left edge", "12 cm to cut end"];
        assert_eq!(said(ListAt::BelowDrawing), distances);
        assert_eq!(said(ListAt::Alone), [distances[0], "face down, top down", distances[1], distances[2]]);
    }
}
