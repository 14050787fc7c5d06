//! Letters and amounts beside their places within a piece, so that each is taken for its own.

use ellwand_geometry::{Point, distance, point};

use crate::boxes::{TurnedBox, turned};
use crate::clearing::{Clearing, Obstacle, Region};
use crate::label::{self, EDGE_MARGIN, Label, PIECE_CELLS};
use crate::lettering::Line;
use crate::measures::gap;
use crate::paper::ARMS_LENGTH;

/// A word stands no farther than this from its place, paper mm.
const NEAR_PLACE: f64 = 5.0;
/// With a leader it may stand so far off, paper mm.
const FAR_PLACE: [f64; 3] = [6.0, 9.0, 13.0];
/// A word is nearer to its own cross than to any other by this, paper mm.
const OWN: f64 = 0.6;
/// A leader ends so far before the middle of a cross, paper mm.
const BEFORE_CROSS: f64 = 0.5;

/// A word in its place.
pub(super) struct Note {
    pub(super) label: Label,
    /// From the word to its place, where that is not right beside it.
    pub(super) leader: Option<[Point; 2]>,
}

/// Room for words in a piece.
pub(super) struct Small<'a> {
    pub(super) outline: &'a [Point],
    /// What they keep clear of.
    pub(super) clear: Vec<Obstacle>,
    /// The same without the seam line, which gives way where there is no other room.
    pub(super) crossing: Vec<Obstacle>,
}

impl Small<'_> {
    /// Places each of `words` near its place, where `crosses` are places that it must not be taken to speak of. The caption says what finds no room.
    pub(super) fn place(&self, words: impl Iterator<Item = (String, Point)>, crosses: &[Point]) -> Vec<Note> {
        self.place_after(&[], words, crosses)
    }

    /// The same beside those that are `placed`.
    pub(super) fn place_after(
        &self,
        placed: &[Note],
        words: impl Iterator<Item = (String, Point)>,
        crosses: &[Point],
    ) -> Vec<Note> {
        let mut notes: Vec<Note> = Vec::new();
        for (word, at) in words {
            let lines = vec![Line::regular(word, ARMS_LENGTH)];
            let found = [&self.clear, &self.crossing].into_iter().find_map(|obstacles| {
                let mut obstacles = obstacles.clone();
                for note in placed.iter().chain(&notes) {
                    obstacles.extend(Obstacle::around(&note.label.frame, 0.1));
                    obstacles.extend(note.leader.map(|[a, b]| Obstacle { a, b, reach: 0.2 }));
                }
                self.find(&lines, at, &obstacles, crosses)
            });
            notes.extend(found.map(|(frame, leader)| Note { label: Label { frame, lines }, leader }));
        }
        notes
    }

    fn find(
        &self,
        lines: &[Line],
        at: Point,
        obstacles: &[Obstacle],
        crosses: &[Point],
    ) -> Option<(TurnedBox, Option<[Point; 2]>)> {
        let (width, height) = label::size(lines);
        let region = Region { outline: self.outline, holes: &[], margin: EDGE_MARGIN, most_cells: PIECE_CELLS };
        let clearing = Clearing::new(region, obstacles, &[0.0]);
        let is_own = |frame: &TurnedBox| {
            crosses
                .iter()
                .filter(|cross| distance(**cross, at) > 1e-9)
                .all(|cross| gap(frame, at) + OWN < gap(frame, *cross))
        };
        let around = |away: f64| (0..12).map(move |k| turned(point(away, 0.0), 30.0 * f64::from(k)));
        let near = std::iter::once(point(0.0, 0.0)).chain(around(2.0)).chain(around(4.0));
        let nearest = |by: Point| clearing.nearest(width, height, at + by);
        let beside = near
            .filter_map(nearest)
            .find(|frame| distance(frame.center, at) <= NEAR_PLACE + width / 2.0 && is_own(frame));
        if let Some(frame) = beside {
            return Some((frame, None));
        }
        // No amount has a cross to lead to.
        if !crosses.contains(&at) {
            return None;
        }
        FAR_PLACE.into_iter().flat_map(around).filter_map(nearest).find_map(|frame| {
            let way = at - frame.center;
            let end = at - way * (BEFORE_CROSS / distance(at, frame.center));
            let start = crate::piece_marks::interrupted(frame.center, end, Some(&frame)).last().map(|s| s[0])?;
            let leads_past = crosses.iter().any(|cross| {
                distance(*cross, at) > 1e-9 && ellwand_geometry::distance_to_segment(*cross, start, end) < 1.2
            });
            let across =
                obstacles.iter().filter(|o| o.a != o.b).any(|o| crate::measures::crosses([start, end], [o.a, o.b]));
            (!leads_past && !across).then_some((frame, Some([start, end])))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(side: f64) -> Vec<Point> {
        [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)].map(|(x, y)| point(x, y)).to_vec()
    }

    /// Five crosses as near to each other as corners of pockets are: each letter is nearest to its own, or has a leader to it.
    #[test]
    fn a_letter_is_never_nearer_to_another_cross_than_its_own() {
        let outline = square(60.0);
        let crosses: Vec<Point> =
            [(30.0, 20.0), (30.0, 22.4), (31.5, 24.6), (29.0, 26.0), (45.0, 25.0)].map(|(x, y)| point(x, y)).to_vec();
        let obstacles: Vec<Obstacle> = crosses.iter().map(|&p| Obstacle { a: p, b: p, reach: 1.2 }).collect();
        let small = Small { outline: &outline, clear: obstacles.clone(), crossing: obstacles };
        let words = crosses.iter().enumerate().map(|(i, &at)| (char::from(b'a' + i as u8).to_string(), at));
        let notes = small.place(words, &crosses);
        assert_eq!(notes.len(), crosses.len());
        for (note, own) in notes.iter().zip(&crosses) {
            let others = || crosses.iter().filter(|cross| *cross != own);
            match note.leader {
                Some([_, end]) => assert!(others().all(|cross| distance(end, *own) < distance(end, *cross))),
                None => assert!(others().all(|cross| gap(&note.label.frame, *own) < gap(&note.label.frame, *cross))),
            }
        }
        for (i, one) in notes.iter().enumerate() {
            assert!(notes[i + 1..].iter().all(|other| !one.label.frame.overlaps(&other.label.frame)));
        }
    }
}
