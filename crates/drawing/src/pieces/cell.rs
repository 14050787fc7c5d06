//! One piece on a sheet of pieces: cutting line, seam line and marks, its measures, and a caption under it.

use ellwand_garment::{GrainRule, Piece, PieceEdge, Units, format_length};
use ellwand_geometry::{Bounds, Point, point};

use crate::boxes::TurnedBox;
use crate::clearing::Obstacle;
use crate::frame::{Frame, Run};
use crate::label::{Label, Surroundings};
use crate::lettering::{Line, Weight, phrases, wrap, wrap_phrases};
use crate::marks::{Anchor, Ink, Mark, Sheet};
use crate::paper::ARMS_LENGTH;
use crate::piece_marks::interrupted;

use super::Shown;
use super::beside::Small;
use super::interior::Interior;
use super::pages::Extent;
use super::placements::letters;
use super::set::Cell;
use super::words::{allowances, corners, darts, instruction, taken_up_words};

/// Room for the height of a piece at its left, paper mm.
const SIZE_LANE: f64 = 5.6;
/// Least width of a caption.
const CAPTION: f64 = 36.0;
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
        let Shown { number, piece, ref taken_up, .. } = *shown;
        let b = piece.outline.bounds();
        let size = Line::regular(format_length(b.width(), units), ARMS_LENGTH).width();
        let width = SIZE_LANE + (b.width() / scale).max(size).max(CAPTION - SIZE_LANE);
        let mut caption = wrap(&format!("{number}  {}", piece.name), 9.0, Weight::Bold, width);
        let letters: Vec<String> = letters(shown).map(|(letter, name, _)| format!("{letter} {name}")).collect();
        let told =
            [Some(instruction(piece)), allowances(piece, units)].into_iter().chain(darts(piece, units)).flatten();
        let told = told.chain(corners(piece, units));
        let told = told.chain(taken_up.iter().map(|taken| taken_up_words(taken, units)));
        let told = told.chain((!letters.is_empty()).then(|| letters.join(", ")));
        told.for_each(|text| caption.extend(wrap_phrases(&phrases(&text), ARMS_LENGTH, Weight::Regular, width)));
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
        let points: Vec<Point> = self.shown.placements.iter().map(|(_, p)| frame.at(*p)).collect();
        others.fixed.extend(points.iter().map(|&p| Obstacle { a: p, b: p, reach: 1.2 }));
        let taken: Vec<Mark> = self.shown.taken_up.iter().flat_map(|taken| taken.marks(piece, frame)).collect();
        let rolls: Vec<[Point; 2]> = self.shown.roll_lines.iter().map(|line| line.map(|p| frame.at(p))).collect();
        others.shafts.extend(rolls.iter().map(|&[a, b]| Obstacle { a, b, reach: 0.4 }));
        others.fixed.extend(taken.iter().flat_map(lines_of).map(|[a, b]| Obstacle { a, b, reach: 0.4 }));
        let amounts = self.shown.taken_up.iter();
        let amounts = amounts.filter_map(|taken| Some((format_length(taken.amount, self.units), taken.middle(frame)?)));
        let letters = letters(self.shown).map(|(letter, _, at)| (letter, frame.at(at)));
        let [low, high] = piece.grainline.map(|p| frame.at(p));
        // The line of a bias piece lies at 45 degrees to the selvage; its arrow alone would be taken for the grain.
        let bias = (piece.grain == GrainRule::Bias).then(|| ("bias".to_owned(), low + (high - low) * 0.5));
        let giving_way = Surroundings { fixed: others.fixed.clone(), ..Surroundings::default() };
        let small = Small {
            outline: &interior.outline,
            clear: interior.surroundings(&others).everything(),
            crossing: interior.surroundings(&giving_way).everything(),
        };
        let mut notes = small.place(amounts, &[]);
        notes.extend(small.place_after(&notes, bias.into_iter(), &[]));
        let named = rolls.iter().map(|[a, b]| ("roll line".to_owned(), *a + (*b - *a) * 0.5));
        notes.extend(small.place_after(&notes, named, &[]));
        notes.extend(small.place_after(&notes, letters, &points));
        let lettered: Vec<Label> = notes.iter().map(|note| note.label.clone()).collect();
        others.fixed.extend(lettered.iter().flat_map(|l| Obstacle::around(&l.frame, 0.2)));
        others.fixed.extend(notes.iter().filter_map(|note| note.leader).map(|[a, b]| Obstacle { a, b, reach: 0.3 }));
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
        for &[a, b] in &rolls {
            let parts = words.iter().fold(vec![[a, b]], |parts, word| {
                parts.into_iter().flat_map(|[a, b]| interrupted(a, b, Some(word))).collect()
            });
            marks.extend(parts.into_iter().map(|[a, b]| Mark::stroke(a, b, Ink::FOLD_LINE)));
        }
        for &p in &points {
            let arms = [(point(1.0, 0.0)), point(0.0, 1.0)].map(|v| [p - v * 0.9, p + v * 0.9]);
            marks.push(Mark::Strokes { lines: arms.to_vec(), ink: Ink::TICK });
        }
        marks.extend(taken);
        for note in &notes {
            marks.extend(note.leader.map(|[a, b]| Mark::stroke(a, b, Ink::FINE)));
            crate::drawn::write_label(&note.label, marks);
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
