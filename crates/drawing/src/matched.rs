//! Letters for what meets: each two points that are matched get one letter, the same on every drawing of the layout.

use std::collections::BTreeMap;

use ellwand_garment::{CopyName, Cut, CutPoint, Half, Layout, Seam, SeamSide, WornSide, counting_letters, own_name};
use ellwand_geometry::{Point, Pose};

use ellwand_geometry::distance;

/// The matches of a layout, lettered in their order of importance.
///
/// Every copy of a piece shows the design alike, so which copy meets which is free: the left one of a pair meets the left one here, and of a
/// whole piece the half that is worn on that side.
#[derive(Debug)]
pub(crate) struct Matched<'a> {
    layout: &'a Layout,
    /// What meets, in order.
    pairs: Vec<Pair>,
}

/// Two points that meet.
#[derive(Debug)]
struct Pair {
    /// In order.
    ends: [CutPoint; 2],
    /// Names of the points where they stand: of a whole piece that of the half in question.
    places: [String; 2],
    letter: usize,
    residual: f64,
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
        let names = layout.copy_names();
        let mut letters: BTreeMap<[CutPoint; 2], usize> = BTreeMap::new();
        let mut pairs = Vec::new();
        for found in &layout.matches {
            let Some(b) = &found.b else { continue };
            let b = on_the_side_of(&found.a, b, layout, &names);
            let places = [half_beside(&found.a, &b, layout, &names), half_beside(&b, &found.a, layout, &names)];
            let (ends, places) =
                if found.a <= b { ([found.a.clone(), b], places) } else { ([b, found.a.clone()], swapped(places)) };
            let next = letters.len();
            let letter = *letters.entry(ends.clone()).or_insert(next);
            pairs.push(Pair { ends, places, letter, residual: found.residual });
        }
        Self { layout, pairs }
    }

    /// The match points of a cut where they lie on the cloth, each place once.
    pub(crate) fn on(&self, cut: &Cut) -> Vec<MatchPoint> {
        let mut points = Vec::new();
        for found in self.layout.matches.iter().filter(|found| found.b.is_none() && is_on(cut, &found.a)) {
            if let Some(&at) = cut.points.get(&found.a.point) {
                points.push(MatchPoint { at, letters: Vec::new(), on_design: true });
            }
        }
        for pair in &self.pairs {
            let here = pair.ends.iter().zip(&pair.places).filter(|(end, _)| is_on(cut, end));
            let at = here.filter_map(|(_, place)| cut.points.get(place));
            points.extend(at.map(|&at| MatchPoint { at, letters: vec![pair.letter], on_design: false }));
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
        let mut letters: Vec<usize> = found.iter().map(|pair| pair.letter).collect();
        letters.sort_unstable();
        letters.dedup();
        Meeting { letters, residual: found.iter().map(|pair| pair.residual).fold(0.0, f64::max) }
    }

    /// Pairs of points that pass the test one way round or the other.
    fn pairs_where(&self, test: impl Fn(&CutPoint, &CutPoint) -> bool) -> impl Iterator<Item = &Pair> {
        self.pairs.iter().filter(move |Pair { ends: [a, b], .. }| test(a, b) || test(b, a))
    }
}

/// `b`, or the copy of its piece that is worn on the side of `a`, where it is known of both.
fn on_the_side_of(a: &CutPoint, b: &CutPoint, layout: &Layout, names: &[CopyName]) -> CutPoint {
    let named = |end: &CutPoint| layout.cuts.iter().zip(names).find(|(cut, _)| is_on(cut, end)).map(|(_, name)| *name);
    let (Some(one), Some(other)) = (named(a), named(b)) else { return b.clone() };
    if a.piece == b.piece || one.side.is_none() || other.side.is_none() || one.side == other.side {
        return b.clone();
    }
    let wanted = CopyName { side: one.side, ..other };
    let copies = layout.cuts.iter().zip(names).find(|(cut, name)| cut.piece == b.piece && **name == wanted);
    copies.map_or_else(|| b.clone(), |(cut, _)| CutPoint { copy: cut.copy, ..b.clone() })
}

/// The name of the point of `whole` that `other` meets: on the half of a whole piece that is worn on the side of `other`.
fn half_beside(whole: &CutPoint, other: &CutPoint, layout: &Layout, names: &[CopyName]) -> String {
    let cut = |end: &CutPoint| layout.cuts.iter().zip(names).find(|(cut, _)| is_on(cut, end));
    let side = cut(other).and_then(|(_, name)| name.side);
    let (Some((cut, _)), Some(side)) = (cut(whole), side) else { return whole.point.clone() };
    let mirrored = Half::Other.name(&whole.point);
    let (Some(&drawn), Some(&beyond)) = (cut.points.get(&whole.point), cut.points.get(&mirrored)) else {
        return whole.point.clone();
    };
    // Seen from behind, as backs, yokes and collars are, the wearer's left is on the left; of a front it is on the right.
    let from_the_front =
        own_name(&cut.piece, &layout.garments).to_lowercase().split_whitespace().any(|word| word == "front");
    let on_the_left = from_the_front != (side == WornSide::Left);
    let upright = Pose::turned(-cut.turned_deg).apply_to_point(drawn - beyond);
    if (upright.x < 0.0) == on_the_left { whole.point.clone() } else { mirrored }
}

fn swapped<T>([a, b]: [T; 2]) -> [T; 2] {
    [b, a]
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
    fn a_whole_back_has_the_letter_of_each_front_on_the_half_of_its_side() {
        let layout = plaids::open_shirt();
        let matched = Matched::of(&layout);
        let names = layout.copy_names();
        let cut = |piece: &str| layout.cuts.iter().find(|cut| cut.piece == piece).unwrap();
        let back = cut("Back");
        for (front, name) in layout.cuts.iter().zip(&names).filter(|(cut, _)| cut.piece == "Front") {
            let side = name.side.unwrap();
            let at = front.points["side hem"];
            let on_front = matched.on(front).into_iter().find(|shown| distance(shown.at, at) < 0.1).unwrap();
            let shared: Vec<MatchPoint> =
                matched.on(back).into_iter().filter(|on_back| on_back.letters == on_front.letters).collect();
            assert_eq!(shared.len(), 1, "{on_front:?}");
            // The back lies upright, its right side up, as an onlooker behind the wearer sees it.
            assert_eq!(back.turned_deg, 0.0);
            let is_left = shared[0].at.x < back.outline.bounds().center().x;
            assert_eq!(is_left, side == WornSide::Left);
        }
    }

    #[test]
    fn the_left_one_of_a_pair_meets_the_left_one_whichever_copy_it_is() {
        let mut layout = plaids::open_shirt();
        // A sleeve as it is drawn has its front on the right: it is the right one.
        for cut in layout.cuts.iter_mut().filter(|cut| cut.piece == "Sleeve") {
            let up = Pose::turned(cut.turned_deg);
            let side = if cut.mirrored { -1.0 } else { 1.0 };
            let middle = cut.outline.bounds().center();
            let at = |x: f64| middle + up.apply_to_point(ellwand_geometry::point(side * x, 0.0));
            cut.points.extend([("front notch".into(), at(100.0)), ("back notch".into(), at(-100.0))]);
        }
        let (matched, names) = (Matched::of(&layout), layout.copy_names());
        let sides = |letter: usize| -> Vec<(&str, Option<WornSide>)> {
            let cuts = layout.cuts.iter().zip(&names);
            let with = cuts.filter(|(cut, _)| matched.on(cut).iter().any(|shown| shown.letters.contains(&letter)));
            with.map(|(cut, name)| (cut.piece.as_str(), name.side)).collect()
        };
        let met: Vec<_> =
            (0..matched.pairs.len()).map(sides).filter(|ends| ends.iter().any(|e| e.0 == "Sleeve")).collect();
        assert_eq!(met.len(), 2);
        for ends in met {
            assert!(ends.len() == 2 && ends[0].1.is_some() && ends[0].1 == ends[1].1, "{ends:?}");
        }
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
