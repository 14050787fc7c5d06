//! A finished layout: the cloth and what is cut from it.

use ellwand_geometry::{Point, point};
use ellwand_vector::{Colour, Drawing, GroupKind};

use super::{Board, LETTERS, LayerNames, Of, On, StrokeLine};

/// One shape of a layout to be written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutToWrite<'a> {
    /// The piece.
    pub piece: &'a str,
    /// Which copy of it.
    pub copy: u32,
    /// The cutting line, without a repeated last point.
    pub outline: &'a [Point],
    /// Low and high end of the grainline.
    pub grainline: [Point; 2],
}

/// A layout as strokes on one sheet, mm, `x` across the cloth and `y` along it, as the record has it: the edges of the cloth, and every
/// cut with its grainline and name in a group of its own.
///
/// ```
/// use ellwand_drawing::layout_strokes;
/// assert_eq!(layout_strokes([1500.0, 2000.0], &[]).sheets[0].size, Some([1500.0, 2000.0]));
/// ```
pub fn layout_strokes([width, length]: [f64; 2], cuts: &[CutToWrite<'_>]) -> Drawing {
    let mut board = Board::new(LayerNames::Words, false);
    let group = board.group("cloth", GroupKind::Group);
    let of = Of { group, size: None, colour: Colour([120, 120, 120]) };
    let corners = [point(0.0, 0.0), point(width, 0.0), point(width, length), point(0.0, length)];
    board.add(StrokeLine::closed_polyline(&corners), On::Draw, &of);
    for cut in cuts.iter().filter(|cut| cut.outline.len() > 2) {
        let group = board.group(&format!("{} {}", cut.piece, cut.copy), GroupKind::Group);
        let of = Of { group, size: None, colour: Colour([0, 0, 0]) };
        board.add(StrokeLine::closed_polyline(cut.outline), On::Cut, &of);
        board.add(StrokeLine::polyline(&cut.grainline), On::Grain, &of);
        let [low, high] = cut.grainline;
        let at = low + (high - low) * 0.5 + point(LETTERS / 2.0, 0.0);
        board.text(cut.piece.to_owned(), at, On::Text, &of);
    }
    board.sheet.size = Some([width, length]);
    board.drawing.sheets = vec![board.sheet];
    board.drawing
}
