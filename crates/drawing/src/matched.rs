//! Letters for what meets: each two points that are matched get one letter, the same on every drawing of the layout.

use std::collections::BTreeMap;

use ellwand_garment::{Cut, CutPoint, Layout, Seam, SeamSide};
use ellwand_geometry::Point;

use crate::lettering::counting_letters;
use ellwand_geometry::distance;

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

    /// Whether something is matched at the points where the pieces of a seam meet.
    pub(crate) fn speaks_of(&self, seam: &Seam) -> bool {
        let is = |end: &CutPoint, side: &SeamSide| end.piece == side.piece && side.meets.first() == Some(&end.point);
        let other = seam.b.as_ref().unwrap_or(&seam.a);
        self.pairs_where(|a, b| is(a, &seam.a) && is(b, other)).next().is_some()
    }

    /// Whether two points of two cuts are matched with each other.
    pub(crate) fn pairs(&self, one: (&Cut, &str), other: (&Cut, &str)) -> bool {
        self.pairs_where(|a, b| is_at(a, one) && is_at(b, other)).next().is_some()
    }

    /// What is matched where a point of a cut meets one of another. When these two copies are not matched with each other,
    /// what each is matched with among the copies of the other's piece.
    pub(crate) fn meeting(&self, one: (&Cut, &str), other: (&Cut, &str)) -> Meeting {
        let like = |end: &CutPoint, (cut, point): (&Cut, &str)| end.piece == cut.piece && end.point == point;
        let mut found: Vec<_> = self.pairs_where(|a, b| is_at(a, one) && is_at(b, other)).collect();
        if found.is_empty() {
            let either =
                |a: &CutPoint, b: &CutPoint| (is_at(a, one) && like(b, other)) || (like(a, one) && is_at(b, other));
            found = self.pairs_where(either).collect();
        }
        let mut letters: Vec<usize> = found.iter().map(|(ends, _)| self.letters[ends]).collect();
        letters.sort_unstable();
        letters.dedup();
        Meeting { letters, residual: found.iter().map(|(_, residual)| *residual).fold(0.0, f64::max) }
    }

    /// Pairs of points, in order, that pass the test one way round or the other, with how far they miss.
    fn pairs_where(
        &self,
        test: impl Fn(&CutPoint, &CutPoint) -> bool,
    ) -> impl Iterator<Item = ([&'a CutPoint; 2], f64)> {
        let pairs = self.layout.matches.iter().filter_map(|found| Some((&found.a, found.b.as_ref()?, found.residual)));
        pairs.filter(move |(a, b, _)| test(a, b) || test(b, a)).map(|(a, b, residual)| (ordered(a, b), residual))
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

fn is_at(end: &CutPoint, (cut, point): (&Cut, &str)) -> bool {
    is_on(cut, end) && end.point == point
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
