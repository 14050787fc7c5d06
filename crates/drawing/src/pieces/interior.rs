//! What every drawing of a piece by itself shows within its outline: grainline, centre line, notches, and its number and name.

use ellwand_garment::Piece;
use ellwand_geometry::{Bounds, Point, point};

use crate::boxes::TurnedBox;
use crate::clearing::Obstacle;
use crate::frame::Frame;
use crate::label::{self, Label, Surroundings, Wording};
use crate::marks::{Ink, LabelRecord, LabelSite, Mark, Sheet};
use crate::piece_marks::{GrainMark, Heads, Keep, NotchMark, interrupted};

/// The marks of a piece on their way to the paper.
pub(crate) struct Interior<'a> {
    piece: &'a Piece,
    /// The cutting line, paper mm.
    pub(crate) outline: Vec<Point>,
    grain: GrainMark,
    notches: Vec<NotchMark>,
    /// The centre line of a whole piece.
    axis: Option<[Point; 2]>,
}

/// A label in its place, and which of the ways to draw the grainline leaves it that room.
pub(crate) struct Placed {
    /// The label, if there is room for any.
    pub(crate) label: Option<Label>,
    grain: GrainMark,
}

impl<'a> Interior<'a> {
    /// The marks of `piece` laid on the page by `frame`.
    pub(crate) fn new(piece: &'a Piece, frame: &Frame) -> Self {
        let outline = frame.all(piece.outline.points());
        let bounds = Bounds::of(outline.iter().copied());
        let room = bounds.width().min(bounds.height());
        let [low, high] = piece.grainline.map(|p| frame.at(p));
        let notch = |n: &ellwand_garment::Notch| NotchMark::new(frame.at(n.at), frame.direction(n.inward), room);
        let axis = piece.fold.then(|| {
            let b = piece.outline.bounds();
            [frame.at(point(0.0, b.min.y)), frame.at(point(0.0, b.max.y))]
        });
        let notches = piece.notches.iter().map(notch).collect();
        Self { piece, outline, grain: GrainMark::line(low, high, Heads::Both), notches, axis }
    }

    /// What words keep away from, besides what `others` says.
    pub(crate) fn surroundings(&self, others: &Surroundings) -> Surroundings {
        self.around(&self.grain, others)
    }

    fn around(&self, grain: &GrainMark, others: &Surroundings) -> Surroundings {
        let mut around = Surroundings { turns_deg: vec![0.0, -90.0], ..Surroundings::default() };
        let (fixed, shaft) = grain.obstacles();
        around
            .fixed
            .extend(self.notches.iter().map(NotchMark::obstacle).chain(others.fixed.iter().copied()).chain(fixed));
        around.shafts.push(shaft);
        around.shafts.extend(self.axis.map(|[a, b]| Obstacle { a, b, reach: 0.5 }));
        around.shafts.extend(&others.shafts);
        around
    }

    /// Finds room for number and name, with all of `others` kept clear.
    pub(crate) fn place(&self, number: usize, others: &Surroundings) -> Placed {
        let grains = [self.grain.clone(), self.grain.shortened(Keep::High), self.grain.shortened(Keep::Low)];
        let ways = grains.each_ref().map(|grain| self.around(grain, others));
        let wording = Wording {
            number: number.to_string(),
            short_number: number.to_string(),
            name: self.piece.name.clone(),
            notes: Vec::new(),
        };
        match label::place(&wording, &self.outline, &ways) {
            Some((label, way)) => Placed { label: Some(label), grain: grains[way].clone() },
            None => Placed { label: None, grain: self.grain.clone() },
        }
    }

    /// Draws the marks and the label.
    pub(crate) fn draw(&self, placed: Placed, sheet: &mut Sheet) {
        let taken: Option<&TurnedBox> = placed.label.as_ref().map(|label| &label.frame);
        let marks = &mut sheet.marks;
        if let Some([a, b]) = self.axis {
            let parts = interrupted(a, b, taken);
            marks.extend(parts.into_iter().map(|[a, b]| Mark::stroke(a, b, Ink::FOLD_LINE)));
        }
        marks.extend(placed.grain.marks(taken));
        marks.extend(self.notches.iter().map(NotchMark::mark));
        let mut strokes: Vec<[Point; 2]> = self.notches.iter().map(NotchMark::stroke).collect();
        let Some(label) = placed.label else { return };
        crate::drawn::write_label(&label, marks);
        strokes.extend(placed.grain.strokes(Some(&label.frame)));
        sheet.labels.push(LabelRecord {
            piece: self.piece.name.clone(),
            frame: label.frame,
            lines: label.lines,
            outline: self.outline.clone(),
            strokes,
            site: LabelSite::Inside,
        });
    }
}
