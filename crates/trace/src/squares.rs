//! What is no piece: frames of pages, boxes of words, and the test square by which a print is measured.

use ellwand_geometry::Point;

use crate::{
    outlines::{Closed, Sorted},
    plane::{Plane, Word},
    words::{CutWords, Role, is_instruction, length_in, words_of},
};

/// A square that says how large it is meant to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestSquare {
    /// How long its side is meant to be, mm.
    pub meant: f64,
    /// Its width and height as drawn, mm.
    pub drawn: [f64; 2],
    /// Its lower left corner, mm.
    pub at: Point,
}

impl TestSquare {
    /// By how much the drawing is to be enlarged for the square to be right.
    pub fn scale(&self) -> f64 {
        2.0 * self.meant / (self.drawn[0] + self.drawn[1])
    }

    /// By how much its width and its height differ, as a share.
    pub fn distortion(&self) -> f64 {
        (self.drawn[0] / self.drawn[1] - 1.0).abs()
    }
}

/// How far a page's frame lies from its border at most, mm.
const MARGIN: f64 = 45.0;

/// How far from a square its words may stand, mm.
const BESIDE: f64 = 25.0;

/// What is no piece.
#[derive(Debug, Default)]
pub(crate) struct NoPieces {
    /// Frames of pages.
    pub(crate) frames: Vec<Closed>,
    /// Boxes that hold words and nothing else.
    pub(crate) boxes: Vec<Closed>,
    /// Empty squares of a usual test size, without words that name it.
    pub(crate) squares: Vec<Closed>,
    /// The square that names its size.
    pub(crate) square: Option<TestSquare>,
}

/// Takes out what is no piece: frames of pages, test squares, and boxes of words.
pub(crate) fn take_out(sorted: &mut Sorted, plane: &Plane) -> NoPieces {
    let all = std::mem::take(&mut sorted.closed);
    let framing: Vec<bool> = all.iter().map(|line| is_frame(line, &all, plane)).collect();
    let mut framing = framing.into_iter();
    let (frames, closed): (Vec<Closed>, Vec<Closed>) =
        all.into_iter().partition(|_| framing.next().unwrap_or_default());
    sorted.closed = closed;
    let named: Vec<Option<TestSquare>> = sorted.closed.iter().map(|line| test_square(line, plane)).collect();
    let square = named.iter().flatten().max_by(|a, b| a.meant.total_cmp(&b.meant)).copied();
    let mut named = named.into_iter();
    sorted.closed.retain(|_| named.next().flatten().is_none());
    let kinds: Vec<Option<Empty>> = sorted.closed.iter().map(|line| empty_rectangle(line, sorted, plane)).collect();
    let mut found = NoPieces { frames, square, ..NoPieces::default() };
    let mut kept = Vec::new();
    for (line, kind) in std::mem::take(&mut sorted.closed).into_iter().zip(kinds) {
        match kind {
            Some(Empty::Words) => found.boxes.push(line),
            Some(Empty::Square) => found.squares.push(line),
            None => kept.push(line),
        }
    }
    sorted.closed = kept;
    found
}

/// What a rectangle is on which nothing is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Empty {
    /// A title, a table or a hint.
    Words,
    /// A square of a usual test size.
    Square,
}

/// Sides of usual test squares, mm: 1, 2 and 4 in, 5 and 10 cm.
const USUAL: [f64; 5] = [25.4, 50.0, 50.8, 100.0, 101.6];

/// What an upright rectangle is that no name of its own or around it tells to be a piece, on which nothing is drawn and no word says how it
/// is cut.
fn empty_rectangle(line: &Closed, sorted: &Sorted, plane: &Plane) -> Option<Empty> {
    let is_told = line.names.role.is_some() || line.names.block.is_some() || line.size.is_some();
    if is_told || !line.is_upright_rectangle() {
        return None;
    }
    let near = line.bounds.grown(1.0);
    let is_on = |p: &Point| near.contains(*p);
    let strokes = sorted.rest.iter().any(|chain| chain.line.flat().iter().any(is_on));
    let closed = sorted.closed.iter().any(|other| {
        other.strokes != line.strokes && other.bounds.overlaps(&near) && other.outline.points().iter().any(is_on)
    });
    let within_other =
        sorted.closed.iter().any(|other| other.strokes != line.strokes && other.is_over(line.bounds.center()));
    if strokes || closed || within_other || plane.dots.iter().any(|dot| is_on(&dot.at)) {
        return None;
    }
    let texts: Vec<&str> =
        plane.texts.iter().filter(|text| line.is_over(text.middle)).map(|text| text.content.as_str()).collect();
    if texts.iter().any(|text| !CutWords::all_of(text).is_empty()) {
        return None;
    }
    if texts.iter().any(|text| is_of_the_pattern(text)) {
        return Some(Empty::Words);
    }
    let (width, height) = (line.bounds.width(), line.bounds.height());
    let is_usual = |side: f64| USUAL.iter().any(|usual| (side - usual).abs() < 0.3);
    (texts.is_empty() && (width - height).abs() < 0.3 && is_usual(width)).then_some(Empty::Square)
}

/// Whether a text speaks of the whole pattern and not of a piece: allowances, prints, measures of the body.
fn is_of_the_pattern(text: &str) -> bool {
    const WHOLE: [&str; 16] = [
        "allowance",
        "allowances",
        "pattern",
        "page",
        "pages",
        "print",
        "printed",
        "scale",
        "test",
        "legend",
        "key",
        "copyright",
        "design",
        "designed",
        "version",
        "sheet",
    ];
    const BODY: [&str; 5] = ["bust", "waist", "hip", "hips", "height"];
    let words = words_of(text);
    let has = |known: &[&str]| words.iter().any(|word| known.contains(&word.as_str()));
    let number = words.iter().any(|word| word.starts_with(|letter: char| letter.is_ascii_digit()));
    has(&WHOLE) || has(&BODY) && number || words.first().is_some_and(|word| word == "sizes")
}

fn is_frame(line: &Closed, all: &[Closed], plane: &Plane) -> bool {
    if !line.is_upright_rectangle() {
        return false;
    }
    let sheet = &plane.sheets[plane.strokes[line.strokes[0]].sheet];
    let Some([width, height]) = sheet.size else { return false };
    let (low, high) = (line.bounds.min - sheet.at, line.bounds.max - sheet.at);
    let margins = [low.x, low.y, width - high.x, height - high.y];
    margins.iter().all(|margin| (-1.0..=MARGIN).contains(margin))
        && line.outline.area() > 0.6 * width * height
        && (margins.iter().all(|margin| *margin < 1.0) || !has_words_of_a_piece(line, all, plane))
}

/// Whether a text in it, and in no smaller outline within it, says how it is cut.
fn has_words_of_a_piece(line: &Closed, all: &[Closed], plane: &Plane) -> bool {
    let is_nearer = |other: &Closed, at: Point| other.outline.area() < 0.9 * line.outline.area() && other.is_over(at);
    plane.texts.iter().any(|text| {
        line.is_over(text.middle)
            && !CutWords::all_of(&text.content).is_empty()
            && ![text.at, text.middle].iter().any(|at| all.iter().any(|other| is_nearer(other, *at)))
    })
}

fn test_square(line: &Closed, plane: &Plane) -> Option<TestSquare> {
    let (width, height) = (line.bounds.width(), line.bounds.height());
    let is_line_of_piece = matches!(line.names.role, Some(Role::Cutting | Role::Seam));
    if !line.is_upright_rectangle() || (width / height - 1.0).abs() > 0.1 || is_line_of_piece {
        return None;
    }
    let near = line.bounds.grown(BESIDE);
    let texts: Vec<&Word> = plane.texts.iter().filter(|text| near.contains(text.middle)).collect();
    let inside = || texts.iter().filter(|text| line.is_over(text.middle));
    if inside().any(|text| !CutWords::all_of(&text.content).is_empty()) {
        return None;
    }
    // Its words may stand in several lines. "Square" alone may be a pocket.
    let says = |known: &[&str]| {
        texts.iter().any(|text| words_of(&text.content).iter().any(|word| known.contains(&word.as_str())))
    };
    let is_test = says(&["test", "scale", "check", "calibration"]);
    let is_square = is_test || says(&["square"]);
    let fits = |ratio: f64| (0.97..1.03).contains(&ratio);
    let said = texts.iter().filter_map(|text| {
        let meant = length_in(&text.content)?;
        let ratio = 0.5 * (width + height) / meant;
        // Pixels at 72, 90 and 96 an inch, and prints in another unit.
        let pixels = [0.75, 0.8, 0.9375, 1.0 / 0.75].into_iter().any(|unit| fits(ratio * unit));
        let alone = line.is_over(text.middle) && is_instruction(&text.content);
        let is_meant =
            is_test && (0.02..50.0).contains(&ratio) || is_square && fits(ratio) || alone && (fits(ratio) || pixels);
        is_meant.then_some(meant)
    });
    let meant = said.max_by(|a, b| a.total_cmp(b))?;
    Some(TestSquare { meant, drawn: [width, height], at: line.bounds.min })
}
