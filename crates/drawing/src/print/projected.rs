//! One page for a projector: thick lines on a white or black ground, a grid and a square to set the projector by.

use ellwand_garment::Units;
use ellwand_geometry::{Bounds, Point, point};

use crate::{
    lettering::Line,
    marks::{Anchor, Ink, Mark},
    pdf::{Page, Pages, Part},
};

use super::{Ground, OnTable, PrintWords, PrintedPiece};

/// Which way round a page is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Mirrored {
    /// As it is drawn.
    #[default]
    No,
    /// Left and right changed, for projectors that turn the picture round.
    Yes,
}

/// How a page is projected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Projection {
    /// White or black.
    pub ground: Ground,
    /// Which way round.
    pub mirrored: Mirrored,
    /// What the square and the grid are measured in.
    pub units: Units,
}

/// Left free around the pieces, mm.
const BORDER: f64 = 30.0;

/// The square to set the projector by, and the grid.
struct Measures {
    /// Side of the square, mm.
    square: f64,
    /// From one line of the grid to the next, mm.
    grid: f64,
    square_words: &'static str,
    grid_words: &'static str,
}

impl Measures {
    fn of(units: Units) -> Self {
        match units {
            Units::Inches => Self { square: 101.6, grid: 25.4, square_words: "4 in", grid_words: "1 in" },
            Units::Centimetres => Self { square: 100.0, grid: 50.0, square_words: "10 cm", grid_words: "5 cm" },
        }
    }
}

/// The side of the square on a projected page, as people say it.
///
/// ```
/// use ellwand_drawing::print::projected_square;
/// assert_eq!(projected_square(ellwand_garment::Units::Inches), "4 in");
/// ```
pub fn projected_square(units: Units) -> &'static str {
    Measures::of(units).square_words
}

/// Lines of the grid, fainter than anything of a pattern.
const GRID_ON_WHITE: Ink = Ink { fill: None, cover: 1.0, stroke: Some("#c9d3dc"), width: 0.4, dash: &[] };
const GRID_ON_BLACK: Ink = Ink { stroke: Some("#3c464e"), ..GRID_ON_WHITE };

/// All pieces on one page, on a table of `size` mm.
///
/// # Panics
///
/// When a place on the table names a piece that is not in the list.
pub fn projector_page(
    pieces: &[PrintedPiece],
    table: &[OnTable],
    size: [f64; 2],
    projection: Projection,
    words: &PrintWords,
) -> Pages {
    let measures = Measures::of(projection.units);
    let side = measures.square;
    let head = side + 25.0;
    let [width, height] = [size[0] + 2.0 * BORDER, size[1] + 2.0 * BORDER + head];
    let corner = point(BORDER, BORDER + head);
    let ground = projection.ground;
    let mut marks = vec![background(ground, width, height)];
    marks.push(Mark::Strokes {
        lines: grid(width, height, measures.grid),
        ink: if ground == Ground::Black { GRID_ON_BLACK } else { GRID_ON_WHITE },
    });
    let square = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)].map(|(x, y)| point(BORDER + x, BORDER + y));
    marks.push(Mark::area(square.to_vec(), ground.ink(crate::strokes::On::Cut, 0, 1)));
    let says = [
        (Line::bold(words.title.clone(), 40.0), 18.0),
        (Line::regular(words.about.clone(), 26.0), 36.0),
        (
            Line::regular(
                format!("Set the projector until the square measures {} on every side,", measures.square_words),
                24.0,
            ),
            62.0,
        ),
        (Line::regular(format!("and the grid {} from line to line.", measures.grid_words), 24.0), 76.0),
    ];
    for (line, down) in says {
        let at = point(BORDER + side + 15.0, BORDER + down);
        marks.push(Mark::Text { line, at, anchor: Anchor::Start, turn_deg: 0.0 });
    }
    marks.extend(table.iter().flat_map(|on| pieces[on.piece].laid(on, size[1])).map(|mark| mark.shifted(corner)));
    let parts = vec![Part { window: Some(Bounds::of([point(0.0, 0.0), point(width, height)])), marks, role: None }];
    let turn = if projection.mirrored == Mirrored::Yes { crate::pdf::Turn::Mirrored } else { crate::pdf::Turn::None };
    let page = Page { width, height, parts, ink: ground.letters(), turn };
    Pages { title: words.title.clone(), pages: vec![page] }
}

fn background(ground: Ground, width: f64, height: f64) -> Mark {
    let colour = if ground == Ground::Black { "#000000" } else { "#ffffff" };
    let ink = Ink { fill: Some(colour), cover: 1.0, stroke: None, width: 0.0, dash: &[] };
    Mark::area(vec![point(0.0, 0.0), point(width, 0.0), point(width, height), point(0.0, height)], ink)
}

fn grid(width: f64, height: f64, step: f64) -> Vec<[Point; 2]> {
    let count = |side: f64| (side / step).floor() as usize;
    let upright = (0..=count(width)).map(|k| k as f64 * step).map(|x| [point(x, 0.0), point(x, height)]);
    let level = (0..=count(height)).map(|k| k as f64 * step).map(|y| [point(0.0, y), point(width, y)]);
    upright.chain(level).collect()
}
