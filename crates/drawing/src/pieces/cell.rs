//! One piece on a sheet of pieces: cutting line, seam line and marks, its measures, and a caption under it.

use ellwand_garment::{Half, Piece, PieceEdge, Units, counting_letters, format_length};
use ellwand_geometry::{Bounds, Point, distance, distance_to_segment, point};

use crate::boxes::TurnedBox;
use crate::clearing::{Clearing, Obstacle, Region};
use crate::frame::{Frame, Run};
use crate::label::{self, EDGE_MARGIN, Label, PIECE_CELLS, Surroundings};
use crate::lettering::{Line, Weight, wrap};
use crate::marks::{Anchor, Ink, Mark, Sheet};
use crate::paper::ARMS_LENGTH;
use crate::piece_marks::interrupted;

use super::Shown;
use super::interior::Interior;
use super::pages::Extent;
use super::set::Cell;
use super::words::{allowances, darts, instruction, taken_up_words};

/// Room for the height of a piece at its left, paper mm.
const SIZE_LANE: f64 = 5.6;
/// Least width of a caption.
const CAPTION: f64 = 36.0;
/// A letter or an amount stands no farther than this from its place, paper mm.
const NEAR_PLACE: f64 = 5.0;
/// Room under a piece for its width.
const WIDTH_LANE: f64 = 6.2;

/// A piece with its caption, measured at one scale.
pub(super) struct PieceCell<'a> {
    shown: &'a Shown<'a>,
    scale: f64,
    units: Units,
    width: f64,
    caption: Vec<Line>,
}

impl<'a> PieceCell<'a> {
    pub(super) fn new(shown: &'a Shown<'a>, scale: f64, units: Units) -> Self {
        let Shown { number, piece, ref taken_up } = *shown;
        let b = piece.outline.bounds();
        let size = Line::regular(format_length(b.width(), units), ARMS_LENGTH).width();
        let width = SIZE_LANE + (b.width() / scale).max(size).max(CAPTION - SIZE_LANE);
        let mut caption = wrap(&format!("{number}  {}", piece.name), 9.0, Weight::Bold, width);
        let letters: Vec<String> = letters(piece).map(|(letter, name, _)| format!("{letter} {name}")).collect();
        let told =
            [Some(instruction(piece)), allowances(piece, units)].into_iter().chain(darts(piece, units)).flatten();
        let told = told.chain(taken_up.iter().map(|taken| taken_up_words(taken, units)));
        let told = told.chain((!letters.is_empty()).then(|| letters.join(", ")));
        told.for_each(|text| caption.extend(wrap(&text, ARMS_LENGTH, Weight::Regular, width)));
        Self { shown, scale, units, width, caption }
    }

    fn draw_piece(&self, frame: &Frame, sheet: &mut Sheet) {
        let piece = self.shown.piece;
        let interior = Interior::new(piece, frame);
        let mut others = Surroundings::default();
        let sewn: Vec<[Point; 2]> = (sewn_lines(piece).iter())
            .flat_map(|line| line.windows(2))
            .map(|w| [w[0], w[1]].map(|p| frame.at(p)))
            .collect();
        others.shafts.extend(sewn.iter().map(|&[a, b]| Obstacle { a, b, reach: 0.35 }));
        let points: Vec<Point> = placements(piece).map(|(_, p)| frame.at(p)).collect();
        others.fixed.extend(points.iter().map(|&p| Obstacle { a: p, b: p, reach: 1.2 }));
        let taken: Vec<Mark> = self.shown.taken_up.iter().flat_map(|taken| taken.marks(piece, frame)).collect();
        others.fixed.extend(taken.iter().flat_map(lines_of).map(|[a, b]| Obstacle { a, b, reach: 0.4 }));
        let amounts = self.shown.taken_up.iter();
        let amounts = amounts.filter_map(|taken| Some((format_length(taken.amount, self.units), taken.middle(frame)?)));
        let letters = letters(piece).map(|(letter, _, at)| (letter, frame.at(at)));
        let giving_way = Surroundings { fixed: others.fixed.clone(), ..Surroundings::default() };
        let small = Small {
            outline: &interior.outline,
            clear: interior.surroundings(&others).everything(),
            crossing: interior.surroundings(&giving_way).everything(),
        };
        let lettered = small.place(amounts, Vec::new());
        let lettered = small.place(letters, lettered);
        others.fixed.extend(lettered.iter().flat_map(|l| Obstacle::around(&l.frame, 0.2)));
        let placed = interior.place(self.shown.number, &others);
        let marks = &mut sheet.marks;
        marks.push(Mark::area(interior.outline.clone(), Ink::PIECE));
        // Where words stand on it the seam line gives way.
        let words: Vec<&TurnedBox> = lettered.iter().chain(&placed.label).map(|label| &label.frame).collect();
        let stretches = sewn.iter().flat_map(|&line| {
            words.iter().fold(vec![line], |parts, word| {
                parts.into_iter().flat_map(|[a, b]| interrupted(a, b, Some(word))).collect()
            })
        });
        marks.extend(joined(stretches).into_iter().map(|line| Mark::path(line, Ink::SEWN)));
        for &p in &points {
            let arms = [(point(1.0, 0.0)), point(0.0, 1.0)].map(|v| [p - v * 0.9, p + v * 0.9]);
            marks.push(Mark::Strokes { lines: arms.to_vec(), ink: Ink::TICK });
        }
        marks.extend(taken);
        for letter in &lettered {
            crate::drawn::write_label(letter, marks);
        }
        interior.draw(placed, sheet);
    }
}

impl Cell for PieceCell<'_> {
    fn extent(&self) -> Extent {
        let high = self.shown.piece.outline.bounds().height();
        let height = (high / self.scale).max(Line::regular(format_length(high, self.units), ARMS_LENGTH).width());
        let below = WIDTH_LANE + self.caption.iter().map(Line::height).sum::<f64>() + 3.5;
        Extent { width: self.width, above: height, below }
    }

    fn draw(&self, corner: Point, above: f64, sheet: &mut Sheet) {
        let b = self.shown.piece.outline.bounds();
        let floor = corner.y + above;
        let origin = point(corner.x + SIZE_LANE - b.min.x / self.scale, floor + b.min.y / self.scale);
        let frame = Frame { run: Run::Up, origin, scale: self.scale };
        self.draw_piece(&frame, sheet);
        size_lines(&frame, b, self.units, &mut sheet.marks);
        write_column(&self.caption, point(corner.x, floor + WIDTH_LANE), &mut sheet.marks);
    }
}

/// Lines one under the other, left sides flush, from their upper left corner.
pub(crate) fn write_column(lines: &[Line], corner: Point, marks: &mut Vec<Mark>) {
    let mut y = corner.y;
    for line in lines {
        marks.push(Mark::text(line.clone(), corner.x, y + line.height() / 2.0 + line.baseline_drop()));
        y += line.height();
    }
}

/// Points nearer than this to the seam line or the cutting line name places of a seam, which notches mark where they are needed, mm.
const ON_SEAM: f64 = 2.0;

/// The named points that a person needs on the table: those inside the piece, where something is placed or begins.
fn placements(piece: &Piece) -> impl Iterator<Item = (&str, Point)> {
    let seams = piece.edges.iter().flat_map(|edge| edge.line.windows(2)).map(|w| (w[0], w[1]));
    let lines: Vec<(Point, Point)> = seams.chain(piece.outline.edges()).collect();
    let is_inside = move |p: Point| lines.iter().all(|&(a, b)| distance_to_segment(p, a, b) > ON_SEAM);
    piece.points.iter().map(|(name, &at)| (name.as_str(), at)).filter(move |&(_, at)| is_inside(at))
}

/// Those points, each with its letter: a, b … z, aa …
fn letters(piece: &Piece) -> impl Iterator<Item = (String, &str, Point)> {
    // The other half of an unfolded piece mirrors the one that is lettered.
    let drawn = placements(piece).filter(|(name, _)| piece.half_of(name) == Half::Drawn);
    drawn.enumerate().map(|(i, (name, at))| (counting_letters(i, 'a'), name, at))
}

/// The lines to sew along: the seam line where it is not the cutting line, with the legs of darts, and darts inside the piece.
fn sewn_lines(piece: &Piece) -> Vec<Vec<Point>> {
    let sewn = |edge: &&PieceEdge| edge.allowance.is_none_or(|depth| depth > 0.0);
    let mut lines: Vec<Vec<Point>> = piece.edges.iter().filter(sewn).map(|edge| edge.line.clone()).collect();
    for dart in &piece.darts {
        if let [low, high] = dart.tips[..] {
            let [one, other] = dart.legs;
            lines.push(vec![low, one, high, other, low]);
        }
    }
    lines
}

/// Segments that follow one another as lines, so that dashes run on.
fn joined(segments: impl Iterator<Item = [Point; 2]>) -> Vec<Vec<Point>> {
    let mut lines: Vec<Vec<Point>> = Vec::new();
    for [a, b] in segments {
        match lines.last_mut().filter(|line| line.last() == Some(&a)) {
            Some(line) => line.push(b),
            None => lines.push(vec![a, b]),
        }
    }
    lines
}

/// Letters and amounts beside their places within a piece.
struct Small<'a> {
    outline: &'a [Point],
    /// What they keep clear of.
    clear: Vec<Obstacle>,
    /// The same without the seam line, which gives way where there is no other room.
    crossing: Vec<Obstacle>,
}

impl Small<'_> {
    /// Places each of `words` near its place, in addition to those `placed`. The caption says what finds no room there.
    fn place(&self, words: impl Iterator<Item = (String, Point)>, mut placed: Vec<Label>) -> Vec<Label> {
        for (word, at) in words {
            let lines = vec![Line::regular(word, ARMS_LENGTH)];
            let (width, height) = label::size(&lines);
            let region = Region { outline: self.outline, holes: &[], margin: EDGE_MARGIN, most_cells: PIECE_CELLS };
            let near = |obstacles: &Vec<Obstacle>| {
                let mut obstacles = obstacles.clone();
                obstacles.extend(placed.iter().flat_map(|l| Obstacle::around(&l.frame, 0.1)));
                let found = Clearing::new(region, &obstacles, &[0.0]).nearest(width, height, at);
                found.filter(|frame| distance(frame.center, at) <= NEAR_PLACE + width / 2.0)
            };
            let found = near(&self.clear).or_else(|| near(&self.crossing));
            placed.extend(found.map(|frame| Label { frame, lines }));
        }
        placed
    }
}

/// The straight lines of a mark.
fn lines_of(mark: &Mark) -> Vec<[Point; 2]> {
    match mark {
        Mark::Shape { points, .. } => points.windows(2).map(|w| [w[0], w[1]]).collect(),
        Mark::Strokes { lines, .. } => lines.clone(),
        Mark::Tint(_) | Mark::Ring { .. } | Mark::Text { .. } => Vec::new(),
    }
}

/// Width under the piece and height at its left, with end ticks.
fn size_lines(frame: &Frame, b: Bounds, units: Units, marks: &mut Vec<Mark>) {
    let [low, high] = [b.min, b.max].map(|p| frame.at(p));
    let y = low.y + 1.4;
    let x = low.x - 1.4;
    let tick = 0.7;
    let lines = vec![
        [point(low.x, y), point(high.x, y)],
        [point(low.x, y - tick), point(low.x, y + tick)],
        [point(high.x, y - tick), point(high.x, y + tick)],
        [point(x, low.y), point(x, high.y)],
        [point(x - tick, low.y), point(x + tick, low.y)],
        [point(x - tick, high.y), point(x + tick, high.y)],
    ];
    marks.push(Mark::Strokes { lines, ink: Ink::TICK });
    let across = Line::regular(format_length(b.width(), units), ARMS_LENGTH);
    let middle = (low.x + high.x) / 2.0;
    let half = across.width() / 2.0;
    let at = point(middle.max(low.x - SIZE_LANE + half), y + 1.4 + across.baseline_drop());
    marks.push(Mark::Text { line: across, at, anchor: Anchor::Middle, turn_deg: 0.0 });
    let along = Line::regular(format_length(b.height(), units), ARMS_LENGTH);
    // Of a flat piece it reaches above it, and not into the width.
    let middle = ((low.y + high.y) / 2.0).min(low.y - along.width() / 2.0);
    let at = point(x - 1.4 + along.baseline_drop() - 0.4, middle);
    marks.push(Mark::Text { line: along, at, anchor: Anchor::Middle, turn_deg: -90.0 });
}
