//! Match points on a drawing: a ring with its letter beside it, and a diamond for what stands on the design itself.

use ellwand_geometry::{Point, point};

use crate::clearing::{Clearing, Obstacle, Region};
use crate::label::{self, EDGE_MARGIN, Label, PIECE_CELLS};
use crate::lettering::Line;
use crate::marks::{Ink, Mark};
use crate::matched::{MatchPoint, letters_text};

/// Radius of a ring, paper mm.
pub(crate) const RING: f64 = 0.85;
/// From the middle of a diamond to its corners, paper mm; it fits into a ring.
const DIAMOND: f64 = 0.72;
/// Size of letters, points; no other words have it.
const LETTER: f64 = 7.0;
/// Size of letters on a sheet to cut from, points; no other words have it.
const LARGE_LETTER: f64 = 8.2;

/// A match point on paper.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct MatchMark {
    /// Its exact place.
    pub(crate) at: Point,
    /// Its letters, with what else is said there; none for the design itself.
    pub(crate) line: Option<Line>,
    /// Whether it stands on the design.
    pub(crate) on_design: bool,
}

impl MatchMark {
    /// The mark of `shown`, at `at` on the paper.
    pub(crate) fn new(shown: &MatchPoint, at: Point) -> Self {
        let line = (!shown.letters.is_empty()).then(|| Line::bold(letters_text(&shown.letters), LETTER));
        Self { at, line, on_design: shown.on_design }
    }

    /// With letters for a sheet to cut from.
    pub(crate) fn large(self) -> Self {
        Self { line: self.line.map(|line| Line { points: LARGE_LETTER, ..line }), ..self }
    }

    /// The mark of two points that miss each other by `residual` mm.
    pub(crate) fn missing(self, residual: f64) -> Self {
        let say = |line: Line| Line { text: format!("{} {residual:.1} mm off", line.text), ..line };
        Self { line: self.line.map(say), ..self }
    }

    /// The ring, the diamond, or both.
    pub(crate) fn marks(&self) -> Vec<Mark> {
        let mut marks = Vec::new();
        if self.line.is_some() {
            let rimmed = [Ink::RING.rim(), Ink::RING];
            marks.extend(rimmed.map(|ink| Mark::Ring { at: self.at, radius: RING, ink }));
        }
        if self.on_design {
            let corners = [(0.0, -DIAMOND), (DIAMOND, 0.0), (0.0, DIAMOND), (-DIAMOND, 0.0)];
            marks.push(Mark::area(corners.map(|(x, y)| self.at + point(x, y)).to_vec(), Ink::DIAMOND));
        }
        marks
    }

    /// What words keep away from.
    pub(crate) fn obstacle(&self) -> Obstacle {
        Obstacle { a: self.at, b: self.at, reach: RING + 0.35 }
    }
}

/// A label for the letters of each mark, inside `outline`, as near to it as the rest allows; nothing where there is no room.
pub(crate) fn letter_labels(marks: &[MatchMark], outline: &[Point], others: &[Obstacle]) -> Vec<Option<Label>> {
    let mut taken: Vec<Obstacle> = others.iter().copied().chain(marks.iter().map(MatchMark::obstacle)).collect();
    let region = Region { outline, holes: &[], margin: EDGE_MARGIN, most_cells: PIECE_CELLS };
    let mut place = |mark: &MatchMark| {
        let lines = vec![mark.line.clone()?];
        let (width, height) = label::size(&lines);
        let frame = Clearing::new(region, &taken, &[0.0]).nearest(width, height, mark.at)?;
        taken.extend(Obstacle::around(&frame, 0.2));
        Some(Label { frame, lines })
    };
    marks.iter().map(&mut place).collect()
}
