//! Letters for what meets: each two points that are matched get one letter, the same on every drawing of the layout.

use std::collections::BTreeMap;

use ellwand_garment::{Cut, CutPoint, Layout};
use ellwand_geometry::Point;

use crate::lettering::counting_letters;
use crate::piece_marks::distance;

/// The matches of a layout, lettered in their order of importance.
#[derive(Debug)]
pub(crate) struct Matched<'a> {
    layout: &'a Layout,
    /// The letter of each two points, as an index; the points in order.
    letters: BTreeMap<[&'a CutPoint; 2], usize>,
}

/// What a drawing shows at one place of a cut.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct MatchPoint {
    /// The place.
    pub(crate) at: Point,
    /// Letters shared with other points, in order; none when it meets no other.
    pub(crate) letters: Vec<usize>,
    /// Whether it stands at a set place of the design.
    pub(crate) on_design: bool,
}

/// Two points that meet.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Meeting {
    /// Their letters.
    pub(crate) letters: Vec<usize>,
    /// By how much they miss in the direction in which they miss most, mm.
    pub(crate) residual: f64,
}

/// Points of a cut nearer together than this share a mark, mm.
const SAME_PLACE: f64 = 0.05;

impl<'a> Matched<'a> {
    /// The matches of `layout`.
    pub(crate) fn of(layout: &'a Layout) -> Self {
        let mut letters = BTreeMap::new();
        for found in &layout.matches {
            if let Some(b) = &found.b {
                let next = letters.len();
                letters.entry(ordered(&found.a, b)).or_insert(next);
            }
        }
        Self { layout, letters }
    }

    /// The match points of a cut where they lie on the cloth, each place once.
    pub(crate) fn on(&self, cut: &Cut) -> Vec<MatchPoint> {
        let mut points = Vec::new();
        for found in &self.layout.matches {
            for end in std::iter::once(&found.a).chain(&found.b).filter(|end| is_on(cut, end)) {
                let Some(&at) = cut.points.get(&end.point) else { continue };
                let letter = found.b.as_ref().map(|b| self.letters[&ordered(&found.a, b)]);
                points.push(MatchPoint { at, letters: letter.into_iter().collect(), on_design: letter.is_none() });
            }
        }
        merged(points)
    }

    /// What is matched where `point` of `cut` meets `other_point` of `other`. When these two copies are not matched with each
    /// other, what each is matched with among the copies of the other's piece.
    pub(crate) fn meeting(&self, (cut, point): (&Cut, &str), (other, other_point): (&Cut, &str)) -> Meeting {
        let pairs =
            || self.layout.matches.iter().filter_map(|found| Some((&found.a, found.b.as_ref()?, found.residual)));
        let is = |end: &CutPoint, cut: &Cut, name: &str| is_on(cut, end) && end.point == name;
        let of = |end: &CutPoint, cut: &Cut, name: &str| end.piece == cut.piece && end.point == name;
        let mut meeting = Meeting::default();
        let either = |test: &dyn Fn(&CutPoint, &CutPoint) -> bool| {
            pairs().filter(|(a, b, _)| test(a, b) || test(b, a)).collect::<Vec<_>>()
        };
        let mut found = either(&|a, b| is(a, cut, point) && is(b, other, other_point));
        if found.is_empty() {
            found = either(&|a, b| {
                (is(a, cut, point) && of(b, other, other_point)) || (of(a, cut, point) && is(b, other, other_point))
            });
        }
        for (a, b, residual) in found {
            meeting.letters.push(self.letters[&ordered(a, b)]);
            meeting.residual = meeting.residual.max(residual);
        }
        meeting.letters.sort_unstable();
        meeting.letters.dedup();
        meeting
    }
}

/// Match points with each place once.
pub(crate) fn merged(points: Vec<MatchPoint>) -> Vec<MatchPoint> {
    let mut places: Vec<MatchPoint> = Vec::new();
    for point in points {
        match places.iter_mut().find(|known| distance(known.at, point.at) < SAME_PLACE) {
            Some(known) => {
                known.letters.extend(point.letters);
                known.letters.sort_unstable();
                known.letters.dedup();
                known.on_design |= point.on_design;
            }
            None => places.push(point),
        }
    }
    places
}

/// "A", or "A B" where several meet.
pub(crate) fn letters_text(letters: &[usize]) -> String {
    letters.iter().map(|&index| counting_letters(index, 'A')).collect::<Vec<_>>().join(" ")
}

fn is_on(cut: &Cut, end: &CutPoint) -> bool {
    cut.piece == end.piece && cut.copy == end.copy
}

fn ordered<'p>(a: &'p CutPoint, b: &'p CutPoint) -> [&'p CutPoint; 2] {
    if a <= b { [a, b] } else { [b, a] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plaids;

    #[test]
    fn both_directions_of_two_points_share_a_letter_and_every_letter_stands_at_two_points_or_more() {
        let layout = plaids::open_shirt();
        let matched = Matched::of(&layout);
        let pocket = layout.matches.iter().filter(|found| found.name == "pocket").count();
        assert_eq!(pocket, 4, "two pockets, two directions");
        let mut stands = BTreeMap::new();
        for letter in layout.cuts.iter().flat_map(|cut| matched.on(cut)).flat_map(|at| at.letters) {
            *stands.entry(letter).or_insert(0) += 1;
        }
        // Centre front, two sides, two pockets, two sleeves and the collar.
        assert_eq!(stands, (0..8).map(|letter| (letter, 2)).collect());
    }

    #[test]
    fn copies_that_are_not_matched_with_each_other_still_say_their_letters() {
        let layout = plaids::open_shirt();
        let matched = Matched::of(&layout);
        let cut = |piece: &str, copy| layout.cuts.iter().find(|cut| cut.piece == piece && cut.copy == copy).unwrap();
        let letters = |front, pocket| {
            let ends = ((cut("Front", front), "pocket corner"), (cut("Pocket", pocket), "upper corner"));
            matched.meeting(ends.0, ends.1).letters
        };
        assert_eq!((letters(1, 1).len(), letters(2, 2).len()), (1, 1));
        assert_eq!(letters(1, 2), [letters(1, 1), letters(2, 2)].concat());
    }

    #[test]
    fn points_at_one_place_share_a_mark() {
        let at = |x: f64, letters: &[usize], on_design| MatchPoint {
            at: ellwand_geometry::point(x, 0.0),
            letters: letters.to_vec(),
            on_design,
        };
        let places = merged(vec![at(0.0, &[3], false), at(9.0, &[], true), at(0.01, &[1, 3], true)]);
        assert_eq!(places, [at(0.0, &[1, 3], true), at(9.0, &[], true)]);
        assert_eq!(letters_text(&[0, 25, 26]), "A Z AA");
    }
}
