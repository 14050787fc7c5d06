//! A large drawing on the pages of a home printer: cut where the pages end, with a frame, joining marks and the place of each page on it.

use ellwand_geometry::{Bounds, EdgeShape, Point, point};

use crate::{Colour, Drawing, Layer, Origin, Run, Sheet, Stroke, Style, Text, pdf::run_points};

/// How a drawing is cut into pages. Lengths are mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tiling {
    /// Width and height of the paper.
    pub paper: [f64; 2],
    /// What stays empty along each border of the paper.
    pub margin: f64,
    /// How much of what one page shows its neighbour shows too.
    pub overlap: f64,
}

/// Why a drawing cannot be cut into pages.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TilingFault {
    /// Nothing is left of the page.
    #[error(
        "a page of {width} mm by {height} mm with {margin} mm margin and {overlap} mm overlap shows less than {least} mm of the drawing; take smaller ones"
    )]
    TooSmall {
        /// Width of the paper, mm.
        width: f64,
        /// Its height, mm.
        height: f64,
        /// The margin, mm.
        margin: f64,
        /// The overlap, mm.
        overlap: f64,
        /// The least a page must go on, mm.
        least: f64,
    },
    /// Too many pages.
    #[error("the drawing takes {pages} pages; at most {most} are written")]
    TooMany {
        /// How many.
        pages: f64,
        /// How many there may be.
        most: f64,
    },
}

/// A page goes on at least so far, mm.
const LEAST_STEP: f64 = 20.0;

/// So many pages at most.
const MOST_PAGES: f64 = 10_000.0;

/// Half a joining mark, mm.
const MARK: f64 = 3.0;

/// Height of the words on a page, mm.
const WORDS: f64 = 3.0;

impl Tiling {
    /// The width and height of what a page shows, and how far the next one goes on.
    fn measures(&self) -> ([f64; 2], [f64; 2]) {
        let shown = self.paper.map(|side| side - 2.0 * self.margin);
        (shown, shown.map(|side| side - self.overlap))
    }
}

/// Cuts each sheet of a drawing into pages, row after row from the top. Lines are cut just where a page ends, so that closed ones become
/// open; a text stands on the page on which it begins. Each page that is not empty gets a frame around what it shows, a joining mark in
/// the middle of each side and words such as "page 3, row 1, column 3", on a layer of their own; empty pages are left out.
///
/// # Errors
///
/// When next to nothing of the drawing fits on a page, or it takes more than 10 000 of them.
pub fn tiled(drawing: &Drawing, tiling: Tiling) -> Result<Drawing, TilingFault> {
    let (shown, step) = tiling.measures();
    let numbers = [tiling.margin, tiling.overlap].iter().all(|length| length.is_finite() && *length >= 0.0);
    if !numbers || step.iter().any(|side| !(side.is_finite() && *side >= LEAST_STEP)) {
        let [width, height] = tiling.paper;
        return Err(TilingFault::TooSmall {
            width,
            height,
            margin: tiling.margin,
            overlap: tiling.overlap,
            least: LEAST_STEP,
        });
    }
    let mut out = Drawing { sheets: Vec::new(), ..drawing.clone() };
    let layer = out.layers.len();
    out.layers.push(Layer { name: "page frame".to_owned(), is_shown: true });
    for sheet in &drawing.sheets {
        let Some((low, high)) = extent(sheet) else { continue };
        let count = |length: f64, k: usize| ((length - tiling.overlap - 1e-6) / step[k]).ceil().max(1.0);
        let (columns, rows) = (count(high.x - low.x, 0), count(high.y - low.y, 1));
        if columns * rows > MOST_PAGES {
            return Err(TilingFault::TooMany { pages: columns * rows, most: MOST_PAGES });
        }
        let grid = Grid { low, high, shown, step, size: [columns as usize, rows as usize], margin: tiling.margin };
        let texts = grid.texts(sheet);
        for row in 0..grid.size[1] {
            for column in 0..grid.size[0] {
                let at = row * grid.size[0] + column;
                let mut page = grid.page(sheet, column, row, &texts[at]);
                if page.strokes.is_empty() && page.texts.is_empty() && page.dots.is_empty() {
                    continue;
                }
                let number = out.sheets.len() + 1;
                page.size = Some(tiling.paper);
                decorate(&mut page, &tiling, layer, &format!("page {number}, row {}, column {}", row + 1, column + 1));
                out.sheets.push(page);
            }
        }
    }
    Ok(out)
}

/// The corners of what is drawn on a sheet, or of the sheet itself; none of an empty one that has no size.
fn extent(sheet: &Sheet) -> Option<(Point, Point)> {
    if let Some([width, height]) = sheet.size {
        return Some((point(0.0, 0.0), point(width, height)));
    }
    let strokes = sheet
        .strokes
        .iter()
        .flat_map(|stroke| std::iter::once(stroke.start).chain(stroke.runs.iter().flat_map(run_points)));
    let points: Vec<Point> = strokes
        .chain(sheet.texts.iter().map(|text| text.at))
        .chain(sheet.dots.iter().map(|dot| dot.at))
        .filter(|p| p.x.is_finite() && p.y.is_finite())
        .collect();
    (!points.is_empty()).then(|| Bounds::of(points)).map(|bounds| (bounds.min, bounds.max))
}

/// Where pages lie on a sheet.
struct Grid {
    low: Point,
    high: Point,
    shown: [f64; 2],
    step: [f64; 2],
    /// Columns and rows.
    size: [usize; 2],
    margin: f64,
}

impl Grid {
    /// The lower left corner of what a page shows.
    fn corner(&self, column: usize, row: usize) -> Point {
        let left = self.low.x + column as f64 * self.step[0];
        let top = self.high.y - row as f64 * self.step[1];
        point(left, top - self.shown[1])
    }

    /// The column and row that a place belongs to.
    fn cell(&self, at: Point) -> usize {
        let of = |length: f64, k: usize| ((length / self.step[k]).floor().max(0.0) as usize).min(self.size[k] - 1);
        of(self.high.y - at.y, 1) * self.size[0] + of(at.x - self.low.x, 0)
    }

    /// The texts of each page, by their numbers.
    fn texts(&self, sheet: &Sheet) -> Vec<Vec<usize>> {
        let mut of = vec![Vec::new(); self.size[0] * self.size[1]];
        for (number, text) in sheet.texts.iter().enumerate() {
            of[self.cell(text.at)].push(number);
        }
        of
    }

    fn page(&self, sheet: &Sheet, column: usize, row: usize, texts: &[usize]) -> Sheet {
        let low = self.corner(column, row);
        let high = low + point(self.shown[0], self.shown[1]);
        let by = point(self.margin, self.margin) - low;
        let strokes = sheet.strokes.iter().flat_map(|stroke| stroke.within(low, high));
        let strokes = strokes.map(|stroke| moved(stroke, by)).collect();
        let texts = texts.iter().map(|&number| {
            let text = &sheet.texts[number];
            Text { at: text.at + by, ..text.clone() }
        });
        let here = row * self.size[0] + column;
        let dots = sheet.dots.iter().filter(|dot| self.cell(dot.at) == here);
        let dots = dots.map(|dot| crate::Dot { at: dot.at + by, ..dot.clone() }).collect();
        Sheet { size: None, strokes, texts: texts.collect(), dots }
    }
}

fn moved(mut stroke: Stroke, by: Point) -> Stroke {
    stroke.start = stroke.start + by;
    for run in &mut stroke.runs {
        run.to = run.to + by;
        run.shape = match run.shape {
            EdgeShape::Straight => EdgeShape::Straight,
            EdgeShape::Cubic { first, second } => EdgeShape::Cubic { first: first + by, second: second + by },
            EdgeShape::Arc { through } => EdgeShape::Arc { through: through + by },
        };
    }
    stroke
}

/// Draws the frame, the joining marks and the words.
fn decorate(page: &mut Sheet, tiling: &Tiling, layer: usize, words: &str) {
    let [width, height] = tiling.paper;
    let margin = tiling.margin;
    let origin = Origin { layer: Some(layer), ..Origin::default() };
    let style = Style { line: Some(Colour([120; 3])), width: 0.1, ..Style::default() };
    let ring = |corners: [Point; 4]| Stroke {
        start: corners[0],
        runs: [1, 2, 3, 0].map(|k| Run { shape: EdgeShape::Straight, to: corners[k] }).to_vec(),
        closed: true,
        style: style.clone(),
        origin: origin.clone(),
    };
    page.strokes.push(ring([
        point(margin, margin),
        point(width - margin, margin),
        point(width - margin, height - margin),
        point(margin, height - margin),
    ]));
    // In the middle of the strip that neighbours share, so that the marks lie on each other when they are joined.
    let inset = margin + tiling.overlap / 2.0;
    for at in [
        point(inset, height / 2.0),
        point(width - inset, height / 2.0),
        point(width / 2.0, inset),
        point(width / 2.0, height - inset),
    ] {
        let arms = [point(-MARK, 0.0), point(0.0, -MARK), point(MARK, 0.0), point(0.0, MARK)];
        page.strokes.push(ring(arms.map(|arm| at + arm)));
    }
    let below = if margin >= 2.0 * WORDS { margin - 1.5 * WORDS } else { margin + 0.5 * WORDS };
    page.texts.push(Text {
        content: words.to_owned(),
        at: point(margin + WORDS, below),
        height: WORDS,
        turned: 0.0,
        length: words.chars().count() as f64 * WORDS / 2.0,
        origin,
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    const A4: [f64; 2] = [210.0, 297.0];

    fn square(side: f64, at: Point) -> Stroke {
        let corners = [at, at + point(side, 0.0), at + point(side, side), at + point(0.0, side)];
        Stroke {
            start: corners[0],
            runs: [1, 2, 3, 0].map(|k| Run { shape: EdgeShape::Straight, to: corners[k] }).to_vec(),
            closed: true,
            style: Style { line: Some(Colour([0; 3])), width: 0.3, ..Style::default() },
            origin: Origin::default(),
        }
    }

    fn on_sheet(size: [f64; 2], strokes: Vec<Stroke>) -> Drawing {
        Drawing { sheets: vec![Sheet { size: Some(size), strokes, ..Sheet::default() }], ..Drawing::default() }
    }

    #[test]
    fn a_square_over_four_pages_is_cut_at_their_windows() {
        // Pages show 190 by 277 and go on by 180 by 267.
        let drawing = on_sheet([370.0, 544.0], vec![square(100.0, point(130.0, 220.0))]);
        let cut = tiled(&drawing, Tiling { paper: A4, margin: 10.0, overlap: 10.0 }).unwrap();
        assert_eq!(cut.sheets.len(), 4);
        let words: Vec<&str> = cut.sheets.iter().map(|page| page.texts[0].content.as_str()).collect();
        assert_eq!(words[1], "page 2, row 1, column 2");
        // The upper left page shows x up to 190 and y down to 267: a corner of the square.
        let part = &cut.sheets[0].strokes[0];
        assert!(!part.closed);
        let ends = [part.start, part.end()].map(|p| ((p.x * 1e6).round() / 1e6, (p.y * 1e6).round() / 1e6));
        assert!(ends.contains(&(200.0, 63.0)) && ends.contains(&(140.0, 10.0)), "{ends:?}");
    }

    #[test]
    fn empty_pages_are_left_out_and_texts_stand_where_they_begin() {
        let mut drawing =
            on_sheet([760.0, 277.0], vec![square(50.0, point(20.0, 20.0)), square(50.0, point(600.0, 20.0))]);
        drawing.sheets[0].texts.push(Text {
            content: "long words".to_owned(),
            at: point(185.0, 200.0),
            height: 5.0,
            turned: 0.0,
            length: 25.0,
            origin: Origin::default(),
        });
        let cut = tiled(&drawing, Tiling { paper: A4, margin: 10.0, overlap: 0.0 }).unwrap();
        let words: Vec<&str> =
            cut.sheets.iter().flat_map(|page| page.texts.iter().map(|text| text.content.as_str())).collect();
        assert_eq!(words, ["long words", "page 1, row 1, column 1", "page 2, row 1, column 4"]);
    }

    #[test]
    fn paper_without_room_is_refused() {
        let drawing = on_sheet([370.0, 544.0], Vec::new());
        let fault = tiled(&drawing, Tiling { paper: [50.0, 80.0], margin: 10.0, overlap: 15.0 }).unwrap_err();
        assert!(matches!(fault, TilingFault::TooSmall { .. }), "{fault}");
    }
}
