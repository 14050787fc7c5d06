//! What the copies of a piece are called on sheets and in tables: left and right, or a, b, c.

use std::fmt;

use ellwand_geometry::{Bounds, Point, Pose};

use crate::{Cut, Hands, Layout, RightSide, own_name};

/// The side of the body on which a copy is worn; the wearer's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum WornSide {
    /// The wearer's left.
    Left,
    /// The wearer's right.
    Right,
}

impl WornSide {
    /// "left" or "right".
    pub fn name(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// The name of one copy among the copies of its piece; writes as "left", "b" or "left b", and as nothing for a piece that is cut once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct CopyName {
    /// Where it is worn, for a pair of hands of which that is known.
    pub side: Option<WornSide>,
    /// Its place among the copies that share the side, from 0 for "a", when there are several.
    pub letter: Option<usize>,
}

impl fmt::Display for CopyName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.side, self.letter) {
            (None, None) => Ok(()),
            (Some(side), None) => f.write_str(side.name()),
            (None, Some(letter)) => f.write_str(&counting_letters(letter, 'a')),
            (Some(side), Some(letter)) => write!(f, "{} {}", side.name(), counting_letters(letter, 'a')),
        }
    }
}

/// Letters that count from 0: with `first` as 'a' they are a, b … z, aa, ab …; 'A' gives capitals.
///
/// ```
/// use ellwand_garment::counting_letters;
///
/// assert_eq!([0, 25, 26].map(|index| counting_letters(index, 'A')), ["A", "Z", "AA"]);
/// ```
pub fn counting_letters(index: usize, first: char) -> String {
    let mut text = String::new();
    let mut rest = index + 1;
    while rest > 0 {
        rest -= 1;
        text.insert(0, char::from(first as u8 + (rest % 26) as u8));
        rest /= 26;
    }
    text
}

impl Layout {
    /// What each cut is called beside the other copies of its piece, in the order of the cuts. `O(n²)` in the cuts.
    ///
    /// Copies in two hands are "left" and "right", by [`Cut::worn_side`], where that is known of each; copies that are alike, and hands whose
    /// side is not known, have letters; what is cut once has no name. A cloth of which both faces serve has no hands. Where others of them are cut from
    /// another piece of the cloth, their numbers tell the letters, so that each of all has a name of its own.
    ///
    /// The right side of lining is turned to the body, whatever is cut from it.
    pub fn copy_names(&self) -> Vec<CopyName> {
        let worn = |cut: &Cut| match (self.cloth.right_side, self.role == "lining") {
            (RightSide::Both, _) => None,
            (RightSide::One, false) => cut.worn_side_of(own_name(&cut.piece, &self.garments)),
            (RightSide::One, true) => cut.side_worn(own_name(&cut.piece, &self.garments), Turned::ToTheBody),
        };
        let copies: Vec<(&Cut, Option<WornSide>)> = self.cuts.iter().map(|cut| (cut, worn(cut))).collect();
        let name = |i: usize| self.name_among_all(copies[i]).unwrap_or_else(|| copy_name(i, &copies));
        (0..copies.len()).map(name).collect()
    }

    /// The name of a cut of which other copies are cut elsewhere; `None` of others.
    fn name_among_all(&self, (cut, side): (&Cut, Option<WornSide>)) -> Option<CopyName> {
        let asked = self.asked.iter().find(|asked| asked.piece == cut.piece)?;
        let side = side.filter(|_| asked.hands == Hands::Pair);
        let (before, alike) = match side {
            Some(_) => (cut.copy.saturating_sub(1) / 2, asked.count / 2),
            None => (cut.copy.saturating_sub(1), asked.count),
        };
        let is_in_part = asked.copies.len() < asked.count as usize;
        is_in_part.then(|| CopyName { side, letter: (alike > 1).then_some(before as usize) })
    }
}

fn copy_name(index: usize, cuts: &[(&Cut, Option<WornSide>)]) -> CopyName {
    let (cut, side) = cuts[index];
    let copies = || cuts.iter().enumerate().filter(|(_, (other, _))| other.piece == cut.piece);
    if copies().count() < 2 {
        return CopyName::default();
    }
    let in_two_hands = copies().any(|(_, (c, _))| c.mirrored) && copies().any(|(_, (c, _))| !c.mirrored);
    let sided = in_two_hands && copies().all(|(_, (_, side))| side.is_some());
    let alike = || copies().filter(|(_, (_, other))| !sided || *other == side);
    let letter = (alike().count() > 1).then(|| alike().filter(|(i, _)| *i < index).count());
    CopyName { side: side.filter(|_| sided), letter }
}

/// A piece narrower than this may lie across the centre or be turned back there, as bands are, so its centre points tell no side, mm.
const REACHES_ROUND: f64 = 130.0;
/// Points nearer to the middle of a piece than this share of its width tell no side.
const TELLING: f64 = 0.1;

/// Where the right side of a piece is turned in the garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Turned {
    /// To an onlooker.
    Outward,
    /// To the body of the wearer.
    ToTheBody,
}

/// Whether a word is in a text.
fn has(text: &str, word: &str) -> bool {
    text.split(|c: char| !c.is_alphanumeric()).any(|w| w == word)
}

impl Cut {
    /// On which side of the body this copy is worn, where the names of its points tell.
    ///
    /// The right side of cloth lies up on the table and outside on the body, so a cut shows there what an onlooker sees. As drawn, a front
    /// with its centre front on the left of the drawing is the wearer's *left* one, a back with its centre back on the left the *right*
    /// one; a copy that is `mirrored`, its printed side down, is the other. In this order:
    ///
    /// 1. points called "centre front …" or "centre back …", on a piece wide enough not to reach round the centre;
    /// 2. points of the front and points of the back, as sleeves and side panels have;
    /// 3. points of the side, on a piece called a front or a back;
    /// 4. points of the front, on a piece called a front, as facings have.
    ///
    /// The right side of facings and linings is turned to the body, so a cut shows there what the wearer would see from within: of a facing that
    /// is drawn like its front, the copy as drawn is worn on the other side. An under sleeve lies on the inside of the arm, where the front of
    /// the body is on the other hand of an onlooker: so the under sleeve that goes with an upper sleeve of the same drawing is its mirror
    /// image, too. An under collar is seen from outside when the collar stands up.
    ///
    /// Nothing is told of a piece that is its own mirror image, and of bags and of what goes under another: those may be turned either way.
    pub fn worn_side(&self) -> Option<WornSide> {
        self.worn_side_of(&self.piece)
    }

    /// The same of a piece that its own pattern calls `name`.
    fn worn_side_of(&self, name: &str) -> Option<WornSide> {
        let lower = name.to_lowercase();
        let is_within = ["facing", "lining", "inner"].iter().any(|word| has(&lower, word));
        self.side_worn(name, if is_within { Turned::ToTheBody } else { Turned::Outward })
    }

    /// The same of a cut whose right side is turned outward or to the body.
    fn side_worn(&self, name: &str, turned: Turned) -> Option<WornSide> {
        let name = name.to_lowercase();
        let is_sleeve = has(&name, "sleeve") || has(&name, "undersleeve");
        let is_either_way = has(&name, "bag") || has(&name, "under") && !is_sleeve && !has(&name, "collar");
        if is_either_way || self.is_own_mirror_image() {
            return None;
        }
        let upright = |p: Point| Pose::turned(-self.turned_deg).apply_to_point(p - self.grainline[0]);
        let bounds = Bounds::of(self.outline.points().iter().map(|&p| upright(p)));
        // How far to the right the points of a kind stand on average, as seen by an onlooker; nothing where that is about the middle.
        let right_of_middle = |is_it: &dyn Fn(&str) -> bool| {
            let at = self.points.iter().filter(|(name, _)| is_it(&name.to_lowercase()));
            let all: Vec<f64> = at.map(|(_, &p)| upright(p).x - bounds.center().x).collect();
            let mean = all.iter().sum::<f64>() / all.len() as f64;
            (mean.abs() > TELLING * bounds.width()).then_some(mean)
        };
        let starts = |text: &'static str| right_of_middle(&|name: &str| name.starts_with(text));
        let on = |word: &'static str| right_of_middle(&|name: &str| has(name, word));
        // The way to the front of the body, above zero to the onlooker's right.
        let forward = if bounds.width() >= REACHES_ROUND
            && let Some(forward) = starts("centre front").or(starts("centre back").map(|at| -at))
        {
            Some(forward)
        } else if let (Some(front), Some(back)) = (on("front"), on("back")) {
            ((front > 0.0) != (back > 0.0)).then_some(front)
        } else {
            match (has(&name, "front"), has(&name, "back")) {
                (true, false) => on("side").map(|at| -at).or(on("front")),
                (false, true) => on("side"),
                _ => None,
            }
        };
        // Seen from the wearer's left, the front of the body is on the onlooker's left.
        let side = forward.map(|forward| if forward < 0.0 { WornSide::Left } else { WornSide::Right });
        let inside_the_arm = has(&name, "sleeve") && has(&name, "under") || has(&name, "undersleeve");
        let is_seen_from_outside = turned == Turned::Outward;
        // Seen from within and inside the arm, it is as it was.
        if inside_the_arm == is_seen_from_outside { side.map(WornSide::other) } else { side }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Hands, Piece, sample};
    use ellwand_geometry::point;

    /// A panel 200 mm wide with these points, at heights of their own.
    fn panel(name: &str, points: &[(&str, f64)]) -> Piece {
        let mut panel = Piece { name: name.into(), ..sample::panel() };
        panel.points = points.iter().map(|&(name, x)| (name.to_owned(), point(x, 40.0))).collect();
        panel
    }

    fn side(piece: &Piece, pose: Pose) -> Option<WornSide> {
        sample::cut(piece, 1, 1, pose, (400.0, 300.0)).worn_side()
    }

    #[test]
    fn a_front_with_its_centre_on_the_left_is_the_wearers_left_and_a_back_the_right() {
        let front = panel("Front", &[("centre front waist", 0.0), ("side low", 200.0)]);
        let back = panel("Back", &[("centre back neck", 0.0), ("side low", 200.0)]);
        for turn in [0.0, 90.0, 135.0, 180.0, 359.0] {
            assert_eq!(side(&front, Pose::turned(turn)), Some(WornSide::Left));
            assert_eq!(side(&back, Pose::turned(turn)), Some(WornSide::Right));
            assert_eq!(side(&front, Pose::turned(turn).mirrored()), Some(WornSide::Right));
            assert_eq!(side(&back, Pose::turned(turn).mirrored()), Some(WornSide::Left));
        }
    }

    #[test]
    fn sleeves_and_side_pieces_are_told_by_front_back_and_side() {
        let sleeve = panel("Sleeve", &[("back notch", 10.0), ("front notch", 190.0)]);
        assert_eq!(side(&sleeve, Pose::AS_DRAWN), Some(WornSide::Right));
        // Its front seam is on the same hand of the drawing: as drawn it belongs to the other arm.
        for name in ["Under sleeve", "Undersleeve"] {
            let under = panel(name, &[("back notch", 10.0), ("front notch", 190.0)]);
            assert_eq!(side(&under, Pose::AS_DRAWN), Some(WornSide::Left));
        }
        let side_back = panel("Side back", &[("side low", 200.0)]);
        assert_eq!(side(&side_back, Pose::AS_DRAWN), Some(WornSide::Right));
        let side_front = panel("Side front", &[("side low", 200.0)]);
        assert_eq!(side(&side_front, Pose::AS_DRAWN), Some(WornSide::Left));
    }

    #[test]
    fn what_does_not_tell_its_side_has_none() {
        let cases: [(&str, &[(&str, f64)]); 5] = [
            ("Placket", &[]),
            ("Front pocket bag", &[("side low", 200.0)]),
            ("Under band", &[("centre back", 0.0)]),
            ("Front", &[("centre front", 101.0)]),
            ("Sleeve", &[("back notch", 10.0), ("front notch", 20.0)]),
        ];
        for (name, points) in cases {
            assert_eq!(side(&panel(name, points), Pose::AS_DRAWN), None, "{name}");
        }
    }

    fn names(piece: &Piece, hands: &[bool]) -> Vec<String> {
        let mut layout = sample::open_layout();
        let pose = |&mirrored: &bool| Pose { mirrored, ..Pose::AS_DRAWN };
        layout.cuts = (hands.iter().enumerate())
            .map(|(i, mirrored)| sample::cut(piece, 1, i as u32 + 1, pose(mirrored), (300.0 * i as f64, 0.0)))
            .collect();
        layout.copy_names().iter().map(CopyName::to_string).collect()
    }

    #[test]
    fn a_pair_of_hands_has_sides_and_plain_copies_have_letters() {
        let front = panel("Front", &[("centre front waist", 0.0)]);
        assert_eq!(names(&front, &[false, true]), ["left", "right"]);
        assert_eq!(names(&front, &[true, false]), ["right", "left"]);
        assert_eq!(names(&front, &[false, true, false, true]), ["left a", "right a", "left b", "right b"]);
        assert_eq!(names(&front, &[false]), [""], "cut once");
        assert_eq!(names(&front, &[false, false]), ["a", "b"], "one hand only");
        assert_eq!(names(&panel("Placket", &[]), &[false, true]), ["a", "b"]);
        assert_eq!(names(&sample::yoke(), &[false, true, false, false]), ["a", "b", "c", "d"]);
        assert_eq!([25, 26, 27].map(|index| counting_letters(index, 'a')), ["z", "aa", "ab"]);
    }

    /// A facing is sewn to its front right sides together and turned in: drawn like the front, the copy as drawn goes to the other one.
    #[test]
    fn what_is_turned_to_the_body_is_worn_on_the_other_side_than_the_same_drawing_outside() {
        let facing = [("front foot", 0.0), ("facing low", 150.0)];
        let lining = [("side low", 200.0)];
        for pose in [Pose::AS_DRAWN, Pose::turned(180.0).mirrored()] {
            let of = |name: &str, points: &[(&str, f64)]| side(&panel(name, points), pose).unwrap();
            let front = of("Front", &[("centre front waist", 0.0)]);
            assert_eq!(of("Front facing", &facing), front.other());
            assert_eq!(of("Front lining", &lining), of("Front", &lining).other());
            assert_eq!(of("Front lining", &lining), front.other());
            let sleeve = [("back notch", 10.0), ("front notch", 190.0)];
            assert_eq!(of("Sleeve lining", &sleeve), of("Sleeve", &sleeve).other());
            assert_eq!(of("Under sleeve lining", &sleeve), of("Under sleeve", &sleeve).other());
        }
    }

    #[test]
    fn an_under_collar_is_seen_from_outside_like_a_back() {
        let half = |name: &str| side(&panel(name, &[("centre back", 0.0)]), Pose::AS_DRAWN);
        assert_eq!((half("Back"), half("Under collar")), (Some(WornSide::Right), Some(WornSide::Right)));
    }

    #[test]
    fn cloth_without_a_right_side_has_no_hands_and_what_is_cut_from_lining_is_turned_to_the_body() {
        let front = panel("Front", &[("centre front waist", 0.0)]);
        assert_eq!(front.cuts[0].hands, Hands::Pair);
        let mut layout = sample::open_layout();
        layout.cuts = [Pose::AS_DRAWN, Pose::AS_DRAWN.mirrored()]
            .map(|pose| sample::cut(&front, 1, 1, pose, (300.0, 0.0)))
            .to_vec();
        let told = |layout: &Layout| layout.copy_names().iter().map(CopyName::to_string).collect::<Vec<_>>();
        assert_eq!(told(&layout), ["left", "right"]);
        layout.role = "lining".into();
        assert_eq!(told(&layout), ["right", "left"]);
        layout.role = "main".into();
        layout.cloth.right_side = RightSide::Both;
        assert_eq!(told(&layout), ["a", "b"]);
    }
}
