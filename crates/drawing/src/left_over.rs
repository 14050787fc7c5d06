//! Rectangles that are left of the cloth: a light broken line around each, and its size where that has room.

use ellwand_garment::{Leftover, Rounding, Units, write_length};
use ellwand_geometry::{Bounds, Point, point};

use crate::frame::Frame;
use crate::lettering::Line;
use crate::marks::{Anchor, Ink, Mark};

/// From the cut to the line within, paper mm: the line of a cut is never drawn over.
const INSET: f64 = 0.7;
/// Size of the words, points.
const WORDS: f64 = 8.0;

/// A rectangle that is left, of which a picture may show a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shown {
    /// What of it the picture shows.
    pub(crate) seen: Bounds,
    /// All of it, across and along, mm.
    whole: [f64; 2],
}

impl Shown {
    /// A rectangle that is shown whole.
    pub(crate) fn of(left: &Leftover) -> Self {
        let low = point(left.from_left, left.from_cut_end);
        let seen = Bounds { min: low, max: point(low.x + left.across, low.y + left.along) };
        Self { seen, whole: [left.across, left.along] }
    }

    /// The same in a picture that shows the cloth between two heights only; none where it lies outside.
    pub(crate) fn between(&self, from: f64, to: f64) -> Option<Self> {
        let Bounds { min, max } = self.seen;
        let seen = Bounds { min: point(min.x, min.y.max(from)), max: point(max.x, max.y.min(to)) };
        (seen.height() > 0.0).then_some(Self { seen, ..*self })
    }
}

/// A rectangle and its words.
pub(crate) fn marks(left: &Shown, frame: &Frame, units: Units) -> Vec<Mark> {
    let corners: Vec<Point> = corners(&left.seen, INSET * frame.scale);
    if corners.is_empty() {
        return Vec::new();
    }
    let outline = Mark::area(frame.all(&corners), Ink::LEFT_OVER);
    let words = words(left, frame, units).map(|(line, at)| {
        let at = point(at.x, at.y + line.baseline_drop());
        Mark::Text { line, at, anchor: Anchor::Middle, turn_deg: 0.0 }
    });
    std::iter::once(outline).chain(words).collect()
}

/// What the words take, on the page.
pub(crate) fn taken(left: &Shown, frame: &Frame, units: Units) -> Option<Vec<Point>> {
    let (line, at) = words(left, frame, units)?;
    let (w, h) = (line.width() / 2.0 + 0.5, line.height() / 2.0 + 0.3);
    Some([(-w, -h), (w, -h), (w, h), (-w, h)].map(|(x, y)| at + point(x, y)).to_vec())
}

fn corners(left: &Bounds, inset: f64) -> Vec<Point> {
    let (low, high) = (left.min + point(inset, inset), left.max - point(inset, inset));
    if low.x >= high.x || low.y >= high.y {
        return Vec::new();
    }
    vec![low, point(high.x, low.y), high, point(low.x, high.y)]
}

/// The size of all of it in the middle, where that has room.
fn words(left: &Shown, frame: &Frame, units: Units) -> Option<(Line, Point)> {
    let say = |mm: f64| write_length(mm, units, Rounding::Down);
    let line = Line::regular(format!("left: {} x {}", say(left.whole[0]), say(left.whole[1])), WORDS);
    let corners = corners(&left.seen, INSET * frame.scale);
    if corners.is_empty() {
        return None;
    }
    let on_page = Bounds::of(frame.all(&corners));
    let has_room = line.width() + 1.0 <= on_page.width() && line.height() <= on_page.height();
    has_room.then(|| (line, on_page.center()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Run;

    #[test]
    fn what_is_smaller_than_its_own_line_has_neither_line_nor_words() {
        let frame = Frame { run: Run::Up, origin: point(0.0, 0.0), scale: 15.0 };
        let left = |across: f64| Shown::of(&Leftover { from_left: 50.0, from_cut_end: 50.0, across, along: 600.0 });
        let narrow = left(2.0 * INSET * frame.scale);
        assert!(marks(&narrow, &frame, Units::Inches).is_empty() && taken(&narrow, &frame, Units::Inches).is_none());
        let wide = left(900.0);
        assert!(marks(&wide, &frame, Units::Inches).len() == 2 && taken(&wide, &frame, Units::Inches).is_some());
        // Where the picture ends before it does, its words are those of all of it.
        let part = wide.between(0.0, 400.0).unwrap();
        assert_eq!(part.seen.max.y, 400.0);
        let said = |left: &Shown| words(left, &frame, Units::Centimetres).map(|(line, _)| line.text);
        assert!(said(&part).is_some() && said(&part) == said(&wide));
        assert_eq!(wide.between(700.0, 900.0), None);
    }
}
