//! What stands on the first page: the test squares, what to do if they measure otherwise, the sizes, and a map of the pages.

use std::collections::BTreeSet;

use ellwand_geometry::{Bounds, Point, point};

use crate::{
    block::Block,
    lettering::{Line, Weight, wrap},
    marks::{Anchor, Closure, Ink, Mark},
    strokes::On,
};

use super::{Ground, PrintWords, PrintedPiece, key::Key};

/// The metric square, mm.
const METRIC: f64 = 100.0;
/// The square in inches: 4 in.
const INCHES: f64 = 4.0 * 25.4;

/// Both test squares in one corner, the larger around the smaller, with what to do; at most `width` mm wide.
pub(super) fn squares(width: f64, ground: Ground) -> Block {
    let mut block = Block::default();
    let fine = ground.ink(On::Draw, 0, 1);
    let square = |side: f64, at: f64| {
        let corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)].map(|(x, y)| point(at + x, at + y));
        Mark::area(corners.to_vec(), Ink { width: 0.2, ..fine })
    };
    block.marks.push(square(INCHES, 0.2));
    block.marks.push(square(METRIC, 0.2));
    let inner = [
        Line::bold("Measure before you cut", 10.0),
        Line::regular("inner square 100 mm (10 cm)", 9.0),
        Line::regular("outer square 4 in", 9.0),
    ];
    let advice = "If they measure otherwise, print again at 100 % (\"actual size\", not \"fit to page\"). If that does not help, the printer is off: \
                  use another, or a copy shop. Do not correct by eye.";
    let inner = inner.into_iter().chain(wrap(advice, 8.0, Weight::Regular, METRIC - 12.0));
    block.place(Block::of_lines(inner.collect()), 6.0, 8.0);
    block.width = (INCHES + 0.6).min(width);
    block.height = INCHES + 0.6;
    block
}

/// Title, what it is, and what the lines and marks of these pieces mean.
pub(super) fn heading(
    words: &PrintWords,
    how: &[String],
    pieces: &[PrintedPiece],
    width: f64,
    ground: Ground,
) -> Block {
    let mut lines = wrap(&words.title, 16.0, Weight::Bold, width);
    lines.extend(wrap(&words.about, 10.0, Weight::Regular, width));
    if !words.allowances.is_empty() {
        lines.extend(wrap(&words.allowances, 9.0, Weight::Bold, width));
    }
    lines.extend(how.iter().flat_map(|text| wrap(text, 9.0, Weight::Regular, width)));
    let mut block = Block::of_lines(lines);
    let count = words.sizes.len();
    let is_nested = count > 1;
    let of_size = |(k, name): (usize, &String)| {
        let sample = move |at: Point| vec![Mark::stroke(at, at + point(SAMPLE, 0.0), ground.ink(On::Cut, k, count))];
        (format!("size {name}"), Box::new(sample) as Sample)
    };
    let mut rows: Vec<(String, Sample)> =
        if is_nested { words.sizes.iter().enumerate().map(of_size).collect() } else { Vec::new() };
    let keys: BTreeSet<Key> = pieces.iter().flat_map(|piece| piece.keys.iter().copied()).collect();
    rows.extend(keys.into_iter().filter(|key| !(is_nested && *key == Key::Cut)).map(|key| {
        let sample = move |at: Point| key.sample(at, SAMPLE, ground);
        (key.words().to_owned(), Box::new(sample) as Sample)
    }));
    let (mut x, mut y) = (0.0, block.height + 2.0);
    for (said, sample) in rows {
        let line = Line::regular(said, 8.0);
        let wide = SAMPLE + 2.0 + line.width() + 5.0;
        if x > 0.0 && x + wide > width {
            (x, y) = (0.0, y + 5.0);
        }
        block.marks.extend(sample(point(x, y + 2.0)));
        block.marks.push(Mark::text(line, x + SAMPLE + 2.0, y + 3.0));
        x += wide;
    }
    block.width = width;
    block.height = y + 7.0;
    block
}

/// Samples of lines are so wide, mm.
const SAMPLE: f64 = 14.0;

/// Draws what a row of the key is about, from its left end on.
type Sample = Box<dyn Fn(Point) -> Vec<Mark>>;

/// A cell of the map.
pub(super) struct MapPage {
    /// Its column from the left and row from the top, from 0.
    pub(super) at: [usize; 2],
    pub(super) name: String,
}

/// Where each page lies: `cells` of `step` mm, and the outlines on them, drawn at most `room` large.
pub(super) fn map(pages: &[MapPage], outlines: &[Vec<Point>], step: [f64; 2], room: [f64; 2]) -> Block {
    let columns = pages.iter().map(|page| page.at[0] + 1).max().unwrap_or(1);
    let rows = pages.iter().map(|page| page.at[1] + 1).max().unwrap_or(1);
    let whole = [columns as f64 * step[0], rows as f64 * step[1]];
    let by = (room[0] / whole[0]).min(room[1] / whole[1]).min(0.25);
    let mut block = Block { width: whole[0] * by, height: whole[1] * by, marks: Vec::new() };
    let line = Ink { fill: None, cover: 1.0, stroke: Some(crate::marks::GREY), width: 0.15, dash: &[] };
    for outline in outlines {
        let points = outline.iter().map(|p| *p * by).collect();
        let ink = Ink { fill: Some(crate::marks::CLOTH), width: 0.25, stroke: Some(crate::marks::BLACK), ..line };
        block.marks.push(Mark::Shape { points, closure: Closure::Closed, ink });
    }
    for page in pages {
        let [x, y] = [page.at[0] as f64 * step[0] * by, page.at[1] as f64 * step[1] * by];
        let [w, h] = step.map(|side| side * by);
        let corners = vec![point(x, y), point(x + w, y), point(x + w, y + h), point(x, y + h)];
        block.marks.push(Mark::area(corners, line));
        let name = Line::bold(page.name.clone(), (h / 0.5).clamp(6.0, 11.0));
        let at = point(x + w / 2.0, y + h / 2.0 + name.baseline_drop());
        block.marks.push(Mark::Text { line: name, at, anchor: Anchor::Middle, turn_deg: 0.0 });
    }
    block
}

/// The corners of what a block takes up with `y` up, for packing it among the pieces.
pub(super) fn corners_of(block: &Block) -> Vec<Point> {
    let bounds = Bounds::of([point(0.0, -block.height), point(block.width, 0.0)]);
    vec![bounds.min, point(bounds.max.x, bounds.min.y), bounds.max, point(bounds.min.x, bounds.max.y)]
}
