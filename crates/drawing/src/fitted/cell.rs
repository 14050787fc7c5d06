//! One piece on a fit sheet: what it is over what it was, with a signed figure at each level and edge that changed.

use ellwand_garment::{Units, format_difference};
use ellwand_geometry::{Bounds, Point, point};

use crate::clearing::Obstacle;
use crate::frame::{Frame, Run};
use crate::hatch::inside_spans;
use crate::label::Surroundings;
use crate::lettering::{Line, Weight, phrases, wrap, wrap_phrases};
use crate::marks::{Ink, Mark, Sheet};
use crate::paper::ARMS_LENGTH;
use crate::pieces::cell::write_column;
use crate::pieces::interior::Interior;
use crate::pieces::pages::Extent;
use crate::pieces::set::Cell;

use super::callout::{Callout, Lanes, Placed, place_all};
use super::change::{Change, dart_line};

/// Least width of a caption, paper mm.
const CAPTION: f64 = 40.0;
/// How far the line of a lengthening reaches beyond the piece, paper mm.
const OVERHANG: f64 = 1.2;

/// A piece with its figures and caption, measured at one scale.
pub(super) struct FitCell<'a> {
    change: &'a Change<'a>,
    scale: f64,
    width: f64,
    lanes: Lanes,
    /// Its figures, the cell's left end of the line it stands on being the origin.
    placed: Vec<Placed>,
    caption: Vec<Line>,
}

impl<'a> FitCell<'a> {
    pub(super) fn new(change: &'a Change<'a>, scale: f64, units: Units) -> Self {
        let callouts = callouts(change, units);
        let lanes = Lanes::for_all(&callouts);
        let b = change.bounds();
        let width = (lanes.left + b.width() / scale + lanes.right).max(CAPTION);
        let mut cell = Self { change, scale, width, lanes, placed: Vec::new(), caption: Vec::new() };
        let frame = cell.frame();
        let room = Bounds { min: point(0.0, -lanes.below - b.height() / scale - lanes.above), max: point(width, 0.0) };
        let outlines = [frame.all(change.piece.outline.points()), frame.all(&change.was)];
        let on_page = |callout: Callout| {
            let outward = frame.direction(callout.outward);
            Callout { at: frame.at(callout.at), outward, ..callout }
        };
        let callouts = callouts.into_iter().map(on_page).collect();
        let (placed, homeless) = place_all(callouts, room, &outlines[0], &outlines[1]);
        cell.placed = placed;
        let head = format!("{}  {}", change.number, change.piece.name);
        cell.caption = wrap(&head, 9.0, Weight::Bold, width);
        let sentences = change.told.iter().cloned().chain(homeless.into_iter().map(|callout| callout.sentence));
        for sentence in sentences {
            cell.caption.extend(wrap_phrases(&phrases(&sentence), ARMS_LENGTH, Weight::Regular, width));
        }
        cell
    }

    /// On the page, with the left end of the line it stands on as origin.
    fn frame(&self) -> Frame {
        let b = self.change.bounds();
        let origin = point(self.lanes.left - b.min.x / self.scale, b.min.y / self.scale - self.lanes.below);
        Frame { run: Run::Up, origin, scale: self.scale }
    }

    fn height(&self) -> f64 {
        self.lanes.above + self.change.bounds().height() / self.scale + self.lanes.below
    }
}

impl Cell for FitCell<'_> {
    fn extent(&self) -> Extent {
        let below = 1.0 + self.caption.iter().map(Line::height).sum::<f64>() + 4.0;
        Extent { width: self.width, above: self.height(), below }
    }

    fn draw(&self, corner: Point, above: f64, sheet: &mut Sheet) {
        let stand = point(corner.x, corner.y + above);
        let local = self.frame();
        let frame = Frame { origin: local.origin + stand, ..local };
        let change = self.change;
        let piece = change.piece;
        let interior = Interior::new(piece, &frame);
        let was = frame.all(&change.was);
        let mut others = Surroundings::default();
        let segments = |ring: &[Point], reach: f64| -> Vec<Obstacle> {
            (0..ring.len()).map(|i| Obstacle { a: ring[i], b: ring[(i + 1) % ring.len()], reach }).collect()
        };
        others.fixed.extend(segments(&was, 0.4));
        sheet.marks.push(Mark::area(was, Ink::BEFORE));
        sheet.marks.push(Mark::area(interior.outline.clone(), Ink::AFTER));
        let mut line = |points: Vec<Point>, ink: Ink| {
            others.fixed.extend(points.windows(2).map(|w| Obstacle { a: w[0], b: w[1], reach: 0.5 }));
            sheet.marks.push(Mark::path(points, ink));
        };
        change.darts_were.iter().for_each(|dart| line(frame.all(dart), Ink::BEFORE));
        piece.darts.iter().for_each(|dart| line(frame.all(&dart_line(dart)), Ink::SEWN));
        for (height, _) in &change.levels {
            if let Some([from, to]) = across(change, *height) {
                line([from, to].map(|p| frame.at(p)).to_vec(), Ink::LEVEL);
            }
        }
        for &(height, by) in &change.lengthened {
            // Where it was spread, both sides of the cut; where it was shortened, the line itself.
            let heights = std::iter::once(height).chain((by > 0.0).then_some(height - by));
            for [from, to] in heights.filter_map(|height| across(change, height)) {
                let out = point(OVERHANG, 0.0);
                line(vec![frame.at(from) - out, frame.at(to) + out], Ink::LENGTHENED);
            }
        }
        let placed = interior.place(change.number, &others);
        interior.draw(placed, sheet);
        for figure in &self.placed {
            figure.draw(stand, &mut sheet.marks);
        }
        write_column(&self.caption, stand + point(0.0, 1.0), &mut sheet.marks);
    }
}

/// The outermost ends of the piece at a height.
fn across(change: &Change<'_>, height: f64) -> Option<[Point; 2]> {
    let spans = inside_spans(change.piece.outline.points(), height);
    let (from, to) = (spans.first()?.0, spans.last()?.1);
    Some([point(from, height), point(to, height)])
}

/// What there is to say around the piece, in its own frame: levels at the right end of their line, lengthenings at the left end of theirs.
fn callouts(change: &Change<'_>, units: Units) -> Vec<Callout> {
    let mut callouts = Vec::new();
    for (height, said) in &change.levels {
        if let Some([_, to]) = across(change, *height) {
            callouts.push(Callout::new(to, point(1.0, 0.0), std::slice::from_ref(said), said.clone()));
        }
    }
    for &(height, by) in &change.lengthened {
        let done = if by > 0.0 { "lengthened" } else { "shortened" };
        let by = format_difference(by, units);
        if let Some([from, _]) = across(change, height) {
            // Beyond the end of the drawn line.
            let words = [done.to_owned(), by.clone()];
            callouts.push(Callout::new(from, point(-1.0, 0.0), &words, format!("{done} {by}")));
        }
    }
    for edge in &change.edges {
        let sentence = format!("{} {}", edge.name, edge.figures.join(", ")).trim().to_owned();
        callouts.push(Callout::new(edge.at, edge.outward, &edge.figures, sentence));
    }
    callouts
}
