//! A finished layout: the cloth and what is cut from it.

use ellwand_garment::Layout;
use ellwand_geometry::point;
use ellwand_vector::{Colour, Drawing, GroupKind};

use super::{Board, LETTERS, LayerNames, Of, On, StrokeLine};

/// A layout as strokes on one sheet, mm, `x` across the cloth and `y` along it, as the record has it: the edges of the cloth on the layer
/// "cloth", every cut with its grainline and name in a group of its own.
pub fn layout_strokes(layout: &Layout) -> Drawing {
    let mut board = Board::new(LayerNames::Words, false);
    let (width, length) = (layout.cloth.width, layout.length);
    let group = board.group("cloth", GroupKind::Group);
    let of = Of { group, size: None, colour: Colour([120, 120, 120]) };
    let corners = [point(0.0, 0.0), point(width, 0.0), point(width, length), point(0.0, length)];
    board.add(StrokeLine::closed_polyline(&corners), On::Draw, &of);
    for cut in &layout.cuts {
        let name = cut.piece.clone();
        let group = board.group(&format!("{name} {}", cut.copy), GroupKind::Group);
        let of = Of { group, size: None, colour: Colour([0, 0, 0]) };
        board.add(StrokeLine::closed_polyline(cut.outline.points()), On::Cut, &of);
        board.add(StrokeLine::polyline(&cut.grainline), On::Grain, &of);
        let at = cut.grainline[0] + (cut.grainline[1] - cut.grainline[0]) * 0.5 + point(LETTERS / 2.0, 0.0);
        board.text(name, at, On::Text, &of);
    }
    board.flat(width, length)
}

impl Board {
    /// The sheet as it is, of a given size.
    fn flat(mut self, width: f64, length: f64) -> Drawing {
        self.sheet.size = Some([width, length]);
        self.drawing.sheets = vec![self.sheet];
        self.drawing
    }
}
