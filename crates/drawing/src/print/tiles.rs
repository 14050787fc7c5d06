//! A table of pieces cut into the pages of a home printer.

use ellwand_geometry::{Bounds, Point, point};

use crate::{
    lettering::Line,
    marks::{Ink, Mark},
    pdf::{Page, Pages, Part},
};

use super::{
    Ground, OnTable, PageFormat, PrintWords, PrintedPiece,
    cover::{MapPage, heading, map, squares},
    places::{Named, Places},
};

/// Lines are at most so wide, mm.
const LINE: f64 = 1.0;

/// Half the width of a joining mark, mm.
const DIAMOND: f64 = 4.0;

/// A first page with the test squares and a map, and a page for every part of the table in `needed`: columns from the left and rows from the
/// top, from 0.
///
/// `length` is the height of the table, mm.
///
/// # Panics
///
/// When a place on the table names a piece that is not in the list.
pub fn tile_pages(
    pieces: &[PrintedPiece],
    table: &[OnTable],
    length: f64,
    needed: &[[usize; 2]],
    format: PageFormat,
    words: &PrintWords,
) -> Pages {
    let laid: Vec<(Bounds, Mark)> =
        (table.iter()).flat_map(|on| pieces[on.piece].laid(on, length)).map(|mark| (mark.bounds(), mark)).collect();
    let named_pieces: Vec<Named<'_>> = (table.iter())
        .flat_map(|on| pieces[on.piece].named_laid(on, length))
        .map(|(name, outline)| Named { name, outline })
        .collect();
    let outlines: Vec<Vec<Point>> = table.iter().map(|on| pieces[on.piece].outline_laid(on, length)).collect();
    let mut order: Vec<[usize; 2]> = needed.to_vec();
    order.sort_by_key(|[column, row]| (*row, *column));
    let named: Vec<MapPage> = order.iter().map(|&at| MapPage { at, name: name(at) }).collect();
    let mut pages = vec![first_page(&named, pieces, &outlines, format, words)];
    pages.extend(order.iter().map(|&at| page(at, &laid, &named_pieces, &order, format, words)));
    Pages { title: words.title.clone(), pages }
}

/// "B3": the row as a letter, as rows are joined first, and the column as a number.
fn name([column, row]: [usize; 2]) -> String {
    let mut letters = String::new();
    let mut rest = row + 1;
    while rest > 0 {
        letters.insert(0, char::from(b'A' + ((rest - 1) % 26) as u8));
        rest = (rest - 1) / 26;
    }
    format!("{letters}{}", column + 1)
}

fn first_page(
    named: &[MapPage],
    pieces: &[PrintedPiece],
    outlines: &[Vec<Point>],
    format: PageFormat,
    words: &PrintWords,
) -> Page {
    let [width, height] = format.printable();
    let joined = if format.overlap > 0.0 {
        "Cut the left and the upper border off along the frame where a page has a neighbour there, and lay it on that page so that the diamonds meet."
    } else {
        "Cut all borders off along the frame, and butt the pages so that the half diamonds meet."
    };
    let count = format!("{} pages and this one. Rows are A, B, C … from the top.", named.len());
    let head = heading(words, &[count, joined.to_owned()], pieces, width, Ground::Paper);
    let squares = squares(width, Ground::Paper);
    let below = height - head.height - squares.height - 8.0;
    let beside = width - squares.width - 8.0;
    let room = [width, below.max(20.0)];
    let squares_high = squares.height;
    let mut marks: Vec<Mark> = Vec::new();
    let corner = point(format.margin, format.margin);
    let head_high = head.height;
    marks.extend(head.into_marks(corner));
    marks.extend(squares.into_marks(corner + point(0.0, head_high)));
    // Beside the squares where that leaves the map larger than below them.
    if beside * squares_high > room[0] * room[1] {
        let at = corner + point(width - beside, head_high);
        marks.extend(map(named, outlines, format.step(), [beside, squares_high]).into_marks(at));
    } else {
        let at = corner + point(0.0, head_high + squares_high + 6.0);
        marks.extend(map(named, outlines, format.step(), room).into_marks(at));
    }
    Page::on_paper(format.size, vec![Part { window: None, marks, role: None }])
}

fn page(
    at: [usize; 2],
    laid: &[(Bounds, Mark)],
    pieces: &[Named<'_>],
    order: &[[usize; 2]],
    format: PageFormat,
    words: &PrintWords,
) -> Page {
    let step = format.step();
    let printable = format.printable();
    let origin = point(at[0] as f64 * step[0], at[1] as f64 * step[1]);
    let corner = point(format.margin, format.margin);
    let by = corner - origin;
    let seen = Bounds::of([origin, origin + point(printable[0], printable[1])]);
    let marks: Vec<Mark> =
        laid.iter().filter(|(bounds, _)| bounds.overlaps(&seen)).map(|(_, mark)| mark.clone().shifted(by)).collect();
    let window = Bounds::of([corner, corner + point(printable[0], printable[1])]);
    let frame = Frame { at, corner, step, order, overlap: format.overlap };
    let mut places = Places::new(&marks, window);
    let around = frame.marks(&mut places).into_iter().chain(frame.label(words, window, &mut places));
    let mut around: Vec<Mark> = around.collect();
    around.extend(pieces.iter().filter_map(|piece| piece.again(by, &marks, &mut places)));
    let around = Part { window: Some(window.grown(DIAMOND)), marks: around, role: None };
    // A line along the border of a page shows in its whole width.
    let shown = window.grown(LINE.min(format.margin));
    Page::on_paper(format.size, vec![Part { window: Some(shown), marks, role: None }, around])
}

/// The lines along which a page is cut and joined.
struct Frame<'a> {
    at: [usize; 2],
    corner: Point,
    step: [f64; 2],
    order: &'a [[usize; 2]],
    overlap: f64,
}

impl Frame<'_> {
    fn has(&self, column: Option<usize>, row: Option<usize>) -> bool {
        column.zip(row).is_some_and(|(column, row)| self.order.contains(&[column, row]))
    }

    /// The borders towards neighbours, each with a diamond in its middle that the neighbour shows too.
    fn marks(&self, places: &mut Places) -> Vec<Mark> {
        let [column, row] = self.at;
        let [w, h] = self.step;
        let fine = Ground::Paper.rule();
        let dashed = Ink { dash: &[2.0, 2.0], ..fine };
        let c = self.corner;
        let (left, right) = (c.x, c.x + w);
        let (top, bottom) = (c.y, c.y + h);
        let sides = [
            (self.has(column.checked_sub(1), Some(row)), [point(left, top), point(left, bottom)], Kind::Cut),
            (self.has(Some(column), row.checked_sub(1)), [point(left, top), point(right, top)], Kind::Cut),
            (self.has(Some(column + 1), Some(row)), [point(right, top), point(right, bottom)], Kind::Lay),
            (self.has(Some(column), Some(row + 1)), [point(left, bottom), point(right, bottom)], Kind::Lay),
        ];
        let mut marks = Vec::new();
        for (joined, [a, b], kind) in sides {
            let is_cut = kind == Kind::Cut || self.overlap == 0.0;
            if !joined {
                continue;
            }
            marks.push(Mark::stroke(a, b, if is_cut { fine } else { dashed }));
            let middle = a + (b - a) * 0.5;
            let diamond = [(0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)];
            let corners = diamond.map(|(x, y)| middle + point(x, y) * DIAMOND).to_vec();
            marks.push(Mark::area(corners, Ink { width: 0.25, ..fine }));
            let tag = Line::regular(self.border_name(a.x == b.x, kind), 6.0);
            // Beside the border, the nearer to the diamond the better.
            let (along, aside) =
                if a.x == b.x { (point(0.0, 1.0), point(1.0, 0.0)) } else { (point(1.0, 0.0), point(0.0, 1.0)) };
            let half = point(tag.width() / 2.0 + 0.8, tag.height() / 2.0 + 0.3);
            let off = |center: Point, side: f64| center + aside * (side * (half.x * aside.x + half.y * aside.y));
            let steps = (0..24).flat_map(|k| [f64::from(k), -f64::from(k)]);
            let centers = steps.flat_map(|k| {
                let beside = DIAMOND + 0.5 + half.x * along.x + half.y * along.y;
                let center = middle + along * (k * 4.0 + if k < 0.0 { -beside } else { beside });
                [1.0, -1.0].map(|side| off(center, side))
            });
            let centers = centers.collect();
            marks.extend(places.said(vec![(tag, centers)]));
        }
        marks
    }

    /// "A1|A2": the two pages that meet at a border.
    fn border_name(&self, is_upright: bool, kind: Kind) -> String {
        let [column, row] = self.at;
        let other = match (is_upright, kind) {
            (true, Kind::Cut) => [column - 1, row],
            (true, Kind::Lay) => [column + 1, row],
            (false, Kind::Cut) => [column, row - 1],
            (false, Kind::Lay) => [column, row + 1],
        };
        let (first, second) = if kind == Kind::Cut { (other, self.at) } else { (self.at, other) };
        format!("{} | {}", name(first), name(second))
    }

    /// The name of the page and the title, or the name alone, near its upper left corner, where it stands on no line.
    fn label(&self, words: &PrintWords, window: Bounds, places: &mut Places) -> Vec<Mark> {
        let called = name(self.at);
        let lines = [format!("{called}   {}", words.title), called];
        let all = lines.map(|text| {
            let line = Line::bold(text, 9.0);
            let first = self.corner + point(DIAMOND + 2.0 + line.width() / 2.0, 2.0 + line.height() / 2.0);
            let steps = |room: f64| (room / 6.0).max(0.0) as usize;
            let columns = steps(window.max.x - 3.0 - line.width() / 2.0 - first.x);
            let rows = steps(window.max.y - 3.0 - line.height() / 2.0 - first.y);
            let centers = (0..=rows).flat_map(|row| (0..=columns).map(move |column| point(column as f64, row as f64)));
            let centers = centers.map(|by| first + by * 6.0).collect();
            (line, centers)
        });
        places.said(all.into())
    }
}

/// What is done at a border.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// The page is cut off there.
    Cut,
    /// The next page is laid on there.
    Lay,
}
