//! Pieces and layouts as strokes on named layers, for files that other programs read.
//!
//! A piece is written as it is drawn: the seam line with its curves, the cutting line around it, a half with its fold. Its sizes lie on each
//! other as the pattern draws them.

mod layout;
mod piece;

use ellwand_garment::{CutRule, Draft};
use ellwand_geometry::{EdgeShape, Point, distance, point};
use ellwand_vector::{Colour, Dot, Drawing, Group, GroupKind, Layer, Origin, Run, Sheet, Stroke, Style, Text, Unit};

pub use layout::{CutToWrite, layout_strokes};
pub(crate) use piece::{cut_words, in_its_frame};

/// A piece in the sizes to be written.
#[derive(Debug, Clone)]
pub struct PieceToWrite<'a> {
    /// What is cut from it.
    pub cuts: &'a [CutRule],
    /// Its draft in each size, with what the size is called; no name where there is only one.
    pub sizes: Vec<(Option<String>, &'a Draft)>,
}

/// How layers and groups are named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayerNames {
    /// In words: "cut", "seam", "grain", "notch", "draw", "fold", "mark", "level", "lengthen", "text"; with several sizes "34 cut". Sizes lie on
    /// each other.
    Words,
    /// By the numbers of ASTM D6673, as recalled: one block a piece and size, with its texts.
    Interchange,
}

/// What a stroke is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum On {
    Cut,
    Seam,
    Grain,
    Notch,
    Draw,
    Fold,
    Mark,
    Dart,
    Level,
    Lengthen,
    Text,
}

impl On {
    fn word(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Seam => "seam",
            Self::Grain => "grain",
            Self::Notch => "notch",
            Self::Draw => "draw",
            Self::Fold => "fold",
            Self::Mark => "mark",
            Self::Dart => "dart",
            Self::Level => "level",
            Self::Lengthen => "lengthen",
            Self::Text => "text",
        }
    }

    /// The layer of an interchange file (ASTM D6673, from memory). Levels and lines to lengthen at are internal lines there.
    fn number(self) -> &'static str {
        match self {
            Self::Cut => "1",
            Self::Seam => "14",
            Self::Grain => "7",
            Self::Notch => "4",
            Self::Draw | Self::Dart | Self::Level | Self::Lengthen => "8",
            Self::Fold => "6",
            Self::Mark => "13",
            Self::Text => "15",
        }
    }
}

/// Room between pieces, mm.
const BETWEEN: f64 = 30.0;

/// A row of pieces is about so wide, mm.
const ROW: f64 = 1500.0;

/// Letters, mm.
const LETTERS: f64 = 8.0;

/// Pieces as strokes on one sheet, mm: side by side in rows, the sizes of each on one another; a test square of 100 mm first.
///
/// ```
/// use ellwand_drawing::{LayerNames, PieceToWrite, pieces_strokes};
/// assert_eq!(pieces_strokes("Apron", &[], LayerNames::Words).sheets.len(), 1);
/// ```
pub fn pieces_strokes(pattern: &str, pieces: &[PieceToWrite<'_>], names: LayerNames) -> Drawing {
    let mut board = Board::new(names, pieces.iter().map(|piece| piece.sizes.len()).max().unwrap_or(0) > 1);
    match names {
        LayerNames::Words => board.square(),
        LayerNames::Interchange => {
            board.style_texts(pattern, pieces);
        }
    }
    for piece in pieces {
        board.piece(piece);
    }
    board.finished()
}

/// A sheet on which pieces are drawn.
struct Board {
    names: LayerNames,
    /// What each stroke is on.
    on: Vec<On>,
    has_sizes: bool,
    drawing: Drawing,
    sheet: Sheet,
    /// Where the next piece goes, and how high its row is.
    next: Point,
    row: f64,
    widest: f64,
}

impl Board {
    fn new(names: LayerNames, has_sizes: bool) -> Self {
        Self {
            names,
            on: Vec::new(),
            has_sizes,
            drawing: Drawing { unit: Unit::Said { mm: 1.0 }, ..Drawing::default() },
            sheet: Sheet::default(),
            next: point(BETWEEN, 0.0),
            row: 0.0,
            widest: 0.0,
        }
    }

    /// The number of a layer, made when it is first needed.
    fn layer(&mut self, on: On, size: Option<&str>) -> usize {
        let name = match (self.names, size) {
            (LayerNames::Interchange, _) => on.number().to_owned(),
            (LayerNames::Words, Some(size)) if self.has_sizes => format!("{size} {}", on.word()),
            (LayerNames::Words, _) => on.word().to_owned(),
        };
        let layers = &mut self.drawing.layers;
        layers.iter().position(|layer| layer.name == name).unwrap_or_else(|| {
            layers.push(Layer { name, is_shown: true });
            layers.len() - 1
        })
    }

    fn group(&mut self, name: &str, kind: GroupKind) -> usize {
        self.drawing.groups.push(Group { name: Some(name.to_owned()), within: None, is_shown: true, kind });
        self.drawing.groups.len() - 1
    }

    fn add(&mut self, line: StrokeLine, on: On, of: &Of<'_>) {
        let layer = self.layer(on, of.size);
        let (colour, dash) = match on {
            On::Cut => (of.colour, Vec::new()),
            On::Seam => (of.colour, vec![6.0, 3.0]),
            On::Fold => (Colour([0, 90, 160]), vec![12.0, 3.0, 2.0, 3.0]),
            On::Level | On::Lengthen => (Colour([120, 120, 120]), vec![2.0, 2.0]),
            _ => (Colour([60, 60, 60]), Vec::new()),
        };
        let width = if on == On::Cut { 0.5 } else { 0.3 };
        self.on.push(on);
        self.sheet.strokes.push(Stroke {
            start: line.start,
            runs: line.runs,
            closed: line.closed,
            style: Style { line: Some(colour), width, dash, fill: None },
            origin: Origin { layer: Some(layer), group: Some(of.group), id: None },
        });
    }

    fn text(&mut self, content: String, at: Point, on: On, of: &Of<'_>) {
        let layer = self.layer(on, of.size);
        let length = 0.5 * LETTERS * content.chars().count() as f64;
        let origin = Origin { layer: Some(layer), group: Some(of.group), id: None };
        self.sheet.texts.push(Text { content, at, height: LETTERS, turned: 0.0, length, origin });
    }

    fn dot(&mut self, at: Point, on: On, of: &Of<'_>) {
        let layer = self.layer(on, of.size);
        let origin = Origin { layer: Some(layer), group: Some(of.group), id: None };
        self.sheet.dots.push(Dot { at, lift: None, thickness: None, turned: None, origin });
    }

    /// A square that proves the scale of a print.
    fn square(&mut self) {
        let at = self.room(100.0, 100.0);
        let group = self.group("test square", GroupKind::Group);
        let of = Of { group, size: None, colour: Colour([0, 0, 0]) };
        let corners = [point(0.0, -100.0), point(100.0, -100.0), point(100.0, 0.0), point(0.0, 0.0)];
        self.add(StrokeLine::closed_polyline(&corners.map(|p| p + at)), On::Draw, &of);
        self.text("test square 10 cm".to_owned(), at + point(8.0, -55.0), On::Text, &of);
    }

    fn style_texts(&mut self, pattern: &str, pieces: &[PieceToWrite<'_>]) {
        let first = pieces.first().and_then(|piece| piece.sizes.first());
        let size = first.and_then(|(size, _)| size.clone()).unwrap_or_else(|| "one".to_owned());
        let layer = self.layer(On::Cut, None);
        let lines = [format!("STYLE NAME: {pattern}"), format!("SAMPLE SIZE: {size}"), "UNITS: METRIC".to_owned()];
        for (k, content) in lines.into_iter().enumerate() {
            let length = 0.5 * LETTERS * content.chars().count() as f64;
            let origin = Origin { layer: Some(layer), ..Origin::default() };
            let at = point(0.0, 20.0 + 12.0 * k as f64);
            self.sheet.texts.push(Text { content, at, height: LETTERS, turned: 0.0, length, origin });
        }
    }

    /// The sheet with everything on it, moved so that nothing lies off it.
    fn finished(mut self) -> Drawing {
        let low = self.next.y - self.row - BETWEEN;
        let up = |p: Point| point(p.x, p.y - low);
        for stroke in &mut self.sheet.strokes {
            *stroke = moved(stroke, up);
        }
        self.sheet.texts.iter_mut().for_each(|text| text.at = up(text.at));
        self.sheet.dots.iter_mut().for_each(|dot| dot.at = up(dot.at));
        // Interchange files know no paper.
        self.sheet.size = (self.names == LayerNames::Words).then_some([self.widest + BETWEEN, BETWEEN - low]);
        self.drawing.sheets = vec![self.sheet];
        self.drawing
    }

    /// Room for something so wide and high: its upper left corner.
    fn room(&mut self, width: f64, height: f64) -> Point {
        if self.next.x > BETWEEN && self.next.x + width > ROW {
            self.next = point(BETWEEN, self.next.y - self.row - BETWEEN);
            self.row = 0.0;
        }
        let at = self.next;
        self.next.x += width + BETWEEN;
        self.row = self.row.max(height);
        self.widest = self.widest.max(self.next.x);
        at
    }
}

fn moved(stroke: &Stroke, to: impl Fn(Point) -> Point) -> Stroke {
    let runs = stroke.runs.iter().map(|run| Run {
        to: to(run.to),
        shape: match run.shape {
            EdgeShape::Straight => EdgeShape::Straight,
            EdgeShape::Cubic { first, second } => EdgeShape::Cubic { first: to(first), second: to(second) },
            EdgeShape::Arc { through } => EdgeShape::Arc { through: to(through) },
        },
    });
    Stroke { start: to(stroke.start), runs: runs.collect(), ..stroke.clone() }
}

/// What a stroke belongs to.
struct Of<'a> {
    group: usize,
    size: Option<&'a str>,
    colour: Colour,
}

/// A line about to become a stroke.
struct StrokeLine {
    start: Point,
    runs: Vec<Run>,
    closed: bool,
}

impl StrokeLine {
    fn polyline(points: &[Point]) -> Self {
        let runs = points[1..].iter().map(|&to| Run { shape: EdgeShape::Straight, to }).collect();
        Self { start: points[0], runs, closed: false }
    }

    fn closed_polyline(points: &[Point]) -> Self {
        let mut line = Self::polyline(points);
        line.closed = true;
        if distance(points[0], points[points.len() - 1]) > 0.0 {
            line.runs.push(Run { shape: EdgeShape::Straight, to: points[0] });
        }
        line
    }
}
