//! Boxes in rows, the highest first: what every packing here is held against, and where its search begins.
//!
//! A *shelf* is a row that is as high as its first box; a box goes on the first shelf, or on the last, where there is room beside the others, and
//! else a shelf is added on top (first-fit and next-fit by decreasing height: E. G. Coffman, M. R. Garey, D. S. Johnson and R. E. Tarjan,
//! "Performance bounds for level-oriented two-dimensional packing algorithms", SIAM Journal on Computing 9, 1980). Which way boxes are
//! turned, which shelves are tried and where they may begin each have a few answers, and all are tried.

use ellwand_geometry::{Bounds, point};
use ellwand_nest::fits_across;

use super::fault::fits;
use super::plan::turned;
use super::{OnPaper, PaperShape};

/// How boxes are turned, where the paper leaves the choice.
#[derive(Debug, Clone, Copy)]
enum Turn {
    AsDrawn,
    /// Wider than high.
    Lying,
    /// Higher than wide.
    Standing,
}

/// Which shelves a box may go on.
#[derive(Debug, Clone, Copy)]
enum Shelves {
    All,
    Last,
}

/// Where a box or a shelf begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Begin {
    /// Right beside what lies before it.
    Anywhere,
    /// At the next border of a page, where it then reaches over fewer borders; pages so wide and high.
    AtBorder([f64; 2]),
}

/// A rectangle of paper; as long as need be where the length is infinite.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    pub(super) width: f64,
    pub(super) length: f64,
    pub(super) gap: f64,
}

/// Every way of laying the boxes of shapes on shelves in rooms, as many rooms one after the other as it takes. The shapes must fit.
pub(super) fn all(shapes: &[PaperShape], room: Room, begin: Begin) -> Vec<Vec<OnPaper>> {
    let turns = [Turn::AsDrawn, Turn::Lying, Turn::Standing];
    let ways = turns.into_iter().flat_map(|turn| [(turn, Shelves::All), (turn, Shelves::Last)]);
    ways.map(|(turn, shelves)| laid(shapes, room, turn, shelves, begin)).collect()
}

/// A shape's box in the turn it is laid in.
struct Boxed {
    shape: usize,
    quarter_turns: u8,
    bounds: Bounds,
}

impl Boxed {
    fn new(shape: usize, shapes: &[PaperShape], room: Room, turn: Turn) -> Self {
        let in_turn = |quarter_turns: u8| {
            let corners = shapes[shape].outline.points().iter();
            let bounds = Bounds::of(corners.map(|&p| turned(quarter_turns).apply_to_point(p)));
            Self { shape, quarter_turns, bounds }
        };
        let [drawn, quarter] = [0, 1].map(in_turn);
        let drawn_is_wider = drawn.bounds.width() >= drawn.bounds.height();
        let keeps = match turn {
            Turn::AsDrawn => true,
            Turn::Lying => drawn_is_wider,
            Turn::Standing => !drawn_is_wider,
        };
        let (wanted, other) = if keeps { (drawn, quarter) } else { (quarter, drawn) };
        let (width, height) = (wanted.bounds.width(), wanted.bounds.height());
        if fits(width, height, [room.width, room.length]) { wanted } else { other }
    }
}

struct Shelf {
    sheet: usize,
    y: f64,
    height: f64,
    /// Where the boxes on it end.
    x: f64,
}

fn laid(shapes: &[PaperShape], room: Room, turn: Turn, tried: Shelves, begin: Begin) -> Vec<OnPaper> {
    let mut boxes: Vec<Boxed> = (0..shapes.len()).map(|shape| Boxed::new(shape, shapes, room, turn)).collect();
    boxes.sort_by(|a, b| b.bounds.height().total_cmp(&a.bounds.height()).then(a.shape.cmp(&b.shape)));
    let mut shelves: Vec<Shelf> = Vec::new();
    let mut placed: Vec<OnPaper> = Vec::with_capacity(boxes.len());
    for Boxed { shape, quarter_turns, bounds } in boxes {
        let (width, height) = (bounds.width(), bounds.height());
        let beside = |shelf: &Shelf| begin.beside(0, shelf.x + room.gap, width, |x| fits_across(x + width, room.width));
        let first = match tried {
            Shelves::All => 0,
            Shelves::Last => shelves.len().saturating_sub(1),
        };
        let with_room = (first..shelves.len()).find_map(|k| Some((k, beside(&shelves[k])?)));
        let (on, x) = with_room.unwrap_or_else(|| {
            shelves.push(next_shelf(&shelves, room, height, begin));
            (shelves.len() - 1, 0.0)
        });
        let shelf = &mut shelves[on];
        shelf.x = x + width;
        placed.push(OnPaper { shape, sheet: shelf.sheet, quarter_turns, at: point(x, shelf.y) - bounds.min });
    }
    placed.sort_by_key(|lies| lies.shape);
    placed
}

/// An empty shelf of a height, on the first sheet that has room for it above its shelves.
fn next_shelf(shelves: &[Shelf], room: Room, height: f64, begin: Begin) -> Shelf {
    let sheets = shelves.iter().map(|shelf| shelf.sheet + 1).max().unwrap_or(0);
    let above = |sheet: usize| {
        let top = shelves.iter().filter(|shelf| shelf.sheet == sheet).map(|shelf| shelf.y + shelf.height);
        let top = top.fold(0.0, f64::max) + room.gap;
        let y = begin.beside(1, top, height, |y| fits_across(y + height, room.length))?;
        Some(Shelf { sheet, y, height, x: 0.0 })
    };
    (0..sheets).find_map(above).unwrap_or(Shelf { sheet: sheets, y: 0.0, height, x: 0.0 })
}

impl Begin {
    /// Where on an axis what is so long begins at `free` or later, if it has room there.
    fn beside(self, axis: usize, free: f64, length: f64, has_room: impl Fn(f64) -> bool) -> Option<f64> {
        if let Self::AtBorder(step) = self {
            let step = step[axis];
            let borders = |from: f64| ((from + length) / step).ceil() - (from / step).floor();
            let border = (free / step).ceil() * step;
            if borders(border) < borders(free) && has_room(border) {
                return Some(border);
            }
        }
        has_room(free).then_some(free)
    }
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::Outline;

    use super::*;

    /// Boxes, each with its lower left corner away from its origin.
    fn boxes(sizes: &[(f64, f64)]) -> Vec<PaperShape> {
        let boxed = |&(width, height): &(f64, f64)| {
            let outline = Outline::rectangle(width, height).unwrap().translated(point(-7.0, 11.0));
            PaperShape { name: format!("{width} by {height}"), outline }
        };
        sizes.iter().map(boxed).collect()
    }

    /// Sheet and lower left corner of each.
    fn corners(shapes: &[PaperShape], placed: &[OnPaper]) -> Vec<(usize, f64, f64)> {
        let corner = |lies: &OnPaper| (lies.sheet, lies.outline(shapes).bounds().min);
        placed.iter().map(corner).map(|(sheet, min)| (sheet, min.x, min.y)).collect()
    }

    #[test]
    fn the_highest_stands_first_and_a_small_one_finds_room_on_a_lower_shelf() {
        let shapes = boxes(&[(20.0, 30.0), (50.0, 60.0), (60.0, 50.0), (30.0, 20.0)]);
        let room = Room { width: 100.0, length: f64::INFINITY, gap: 2.0 };
        let on_all = laid(&shapes, room, Turn::AsDrawn, Shelves::All, Begin::Anywhere);
        let expected = [(0, 52.0, 0.0), (0, 0.0, 0.0), (0, 0.0, 62.0), (0, 62.0, 62.0)];
        assert_eq!(corners(&shapes, &on_all), expected);
        let on_last = laid(&shapes, room, Turn::AsDrawn, Shelves::Last, Begin::Anywhere);
        let expected = [(0, 62.0, 62.0), (0, 0.0, 0.0), (0, 0.0, 62.0), (0, 0.0, 114.0)];
        assert_eq!(corners(&shapes, &on_last), expected);
    }

    #[test]
    fn shelves_go_on_the_first_sheet_with_room_above_the_others() {
        let shapes = boxes(&[(90.0, 60.0), (90.0, 50.0), (90.0, 30.0)]);
        let room = Room { width: 100.0, length: 100.0, gap: 5.0 };
        let placed = laid(&shapes, room, Turn::AsDrawn, Shelves::All, Begin::Anywhere);
        assert_eq!(corners(&shapes, &placed), [(0, 0.0, 0.0), (1, 0.0, 0.0), (0, 0.0, 65.0)]);
    }

    #[test]
    fn boxes_are_turned_as_wished_or_as_they_fit() {
        let shapes = boxes(&[(30.0, 80.0), (80.0, 30.0), (120.0, 40.0)]);
        let room = Room { width: 100.0, length: f64::INFINITY, gap: 0.0 };
        for (turn, turns) in [(Turn::AsDrawn, [0, 0, 1]), (Turn::Lying, [1, 0, 1]), (Turn::Standing, [0, 1, 1])] {
            let placed = laid(&shapes, room, turn, Shelves::All, Begin::Anywhere);
            assert_eq!(placed.iter().map(|lies| lies.quarter_turns).collect::<Vec<_>>(), turns, "{turn:?}");
        }
    }

    #[test]
    fn a_box_begins_at_the_border_of_a_page_where_it_then_lies_on_fewer() {
        let shapes = boxes(&[(60.0, 90.0), (70.0, 80.0), (150.0, 60.0)]);
        let room = Room { width: 300.0, length: f64::INFINITY, gap: 3.0 };
        let placed = laid(&shapes, room, Turn::AsDrawn, Shelves::Last, Begin::AtBorder([100.0, 100.0]));
        // The third has no room beside the second, and its shelf begins with a page.
        assert_eq!(corners(&shapes, &placed), [(0, 0.0, 0.0), (0, 100.0, 0.0), (0, 0.0, 100.0)]);
    }
}
