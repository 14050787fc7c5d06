//! Mirror images among the cuts of a layout: pieces that look the same turned over, and pairs cut with one stroke of the
//! shears through both layers of a fold.

use ellwand_geometry::{Bounds, Point, point};

use crate::{Cut, Fold, Layout};

/// How far two places may lie apart and still be the same on cloth, mm.
const SAME_PLACE: f64 = 0.1;

impl Cut {
    /// Whether the paper pattern lies printed side down and that makes a difference. A piece that is its own mirror image,
    /// notches included, is traced the same either way and never lies face down.
    pub fn lies_face_down(&self) -> bool {
        self.mirrored && !self.is_own_mirror_image()
    }

    /// Whether turning the paper over about its grain leaves the cutting line and the notches where they are, to a tenth of a
    /// millimetre. `O(n²)` in the corners.
    pub fn is_own_mirror_image(&self) -> bool {
        let [low, high] = self.grainline;
        let along = high - low;
        let length = along.x.hypot(along.y);
        if length == 0.0 {
            return false;
        }
        let across = point(-along.y / length, along.x / length);
        let offset = |p: Point| (p.x - low.x) * across.x + (p.y - low.y) * across.y;
        let corners = self.outline.points();
        let (least, most) = corners
            .iter()
            .map(|&p| offset(p))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), d| (least.min(d), most.max(d)));
        let axis = (least + most) / 2.0;
        let over = |p: Point| p - across * (2.0 * (offset(p) - axis));
        let notches: Vec<Point> = self.notches.iter().map(|n| n.at).collect();
        let same = |points: &[Point]| points.iter().all(|&p| points.iter().any(|&q| near(over(p), q)));
        same(corners) && same(&notches)
    }

    /// Whether `other` is the same piece where this one comes to lie in the other layer of `fold`, so that both are cut at once through
    /// two layers. `O(n²)` in the corners.
    pub fn is_twin_across(&self, other: &Self, fold: Fold) -> bool {
        if self.piece != other.piece || self.outline.points().len() != other.outline.points().len() {
            return false;
        }
        let (own, others) = (self.outline.bounds(), other.outline.bounds());
        let over = |p: Point| fold.image(p, own.center());
        let turned = Bounds::of([over(own.min), over(own.max)]);
        near(turned.min, others.min)
            && near(turned.max, others.max)
            && self.outline.points().iter().all(|&p| other.outline.points().iter().any(|&q| near(over(p), q)))
    }
}

impl Layout {
    /// Whether any cut needs both layers of a fold: it lies on the fold, or its twin lies across it. Cloth of which no cut does
    /// may as well lie open.
    pub fn uses_fold(&self) -> bool {
        !self.lay.is_open() && self.cut_at_once().iter().any(|cuts| cuts.is_folded())
    }

    /// The fold on which a cut lies, where it is cut on one: the lengthwise fold of its section that is nearest to its middle.
    pub fn fold_under(&self, cut: &Cut) -> Option<Fold> {
        if !cut.on_fold {
            return None;
        }
        let middle = cut.outline.bounds().center().x;
        let off = |fold: &Fold| fold.lengthwise().map_or(f64::INFINITY, |at| (at - middle).abs());
        let folds = self.lay.section_of(&cut.outline).folds.iter().copied();
        folds.filter(|fold| fold.lengthwise().is_some()).min_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// The fold through both layers of which two cuts are cut at once; `None` when they are not.
    pub fn fold_between(&self, one: &Cut, other: &Cut) -> Option<Fold> {
        let section = self.lay.section_of(&one.outline);
        section.folds.iter().copied().find(|&fold| one.is_twin_across(other, fold))
    }
}

/// Whether two places are the same on cloth.
fn near(p: Point, q: Point) -> bool {
    (p.x - q.x).abs() <= SAME_PLACE && (p.y - q.y).abs() <= SAME_PLACE
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use ellwand_geometry::Pose;

    const MIDDLE: Fold = Fold::Lengthwise { at: 500.0 };

    #[test]
    fn a_yoke_is_its_own_mirror_image_until_a_notch_makes_a_side() {
        let mut yoke = sample::cut(&sample::yoke(), 2, 1, Pose::turned(180.0).mirrored(), (500.0, 300.0));
        assert!(yoke.is_own_mirror_image() && !yoke.lies_face_down());
        let notch = crate::Notch { name: String::new(), at: yoke.outline.points()[0], inward: point(0.0, 1.0) };
        yoke.notches.push(notch);
        assert!(!yoke.is_own_mirror_image() && yoke.lies_face_down());
    }

    #[test]
    fn a_piece_is_its_own_mirror_image_however_it_lies() {
        let corner = |x: f64, y: f64| crate::Notch { name: String::new(), at: point(x, y), inward: point(0.0, 1.0) };
        let mut yoke = sample::yoke();
        // Off its middle, as a grainline may be drawn, and notched alike on both sides.
        yoke.grainline = [point(35.0, 20.0), point(35.0, 80.0)];
        yoke.notches = vec![corner(-110.0, 50.0), corner(110.0, 50.0)];
        let mut lopsided = yoke.clone();
        lopsided.notches[1].at.y = 50.3;
        // The same again when it is turned by half a turn, and yet no mirror image.
        let mut turning = yoke.clone();
        turning.notches.clear();
        let corners = [(-120.0, 0.0), (80.0, 0.0), (120.0, 100.0), (-80.0, 100.0)];
        turning.outline = ellwand_geometry::Outline::from_pairs(&corners).unwrap();
        for turn in [0.0, 30.0, 90.0, 145.0, 180.0, 215.0, 270.0] {
            for pose in [Pose::turned(turn), Pose::turned(turn).mirrored()] {
                for at in [(0.0, 0.0), (510.0, 300.0)] {
                    let lies = |piece| sample::cut(piece, 2, 1, pose, at).is_own_mirror_image();
                    assert!(lies(&yoke), "{pose:?}");
                    assert!(!lies(&lopsided) && !lies(&turning), "{pose:?}");
                }
            }
        }
        let mut pointless = sample::cut(&yoke, 2, 1, Pose::AS_DRAWN, (0.0, 0.0));
        pointless.grainline = [point(0.0, 0.0); 2];
        assert!(!pointless.is_own_mirror_image());
    }

    #[test]
    fn twins_are_the_same_piece_at_the_mirror_place_corner_by_corner() {
        let lies = |pose, x: f64, y: f64| sample::cut(&sample::panel(), 1, 1, pose, (x, y));
        let left = lies(Pose::AS_DRAWN, 10.0, 0.0);
        let right = lies(Pose::AS_DRAWN.mirrored(), 990.0, 0.0);
        assert!(left.is_twin_across(&right, MIDDLE) && right.is_twin_across(&left, MIDDLE));
        assert!(!left.is_twin_across(&right, Fold::Lengthwise { at: 500.2 }));
        // In the same place, but upside down.
        let turned = lies(Pose::turned(180.0), 990.0, 300.0);
        assert!(!left.is_twin_across(&turned, MIDDLE));
        let mut other = right.clone();
        other.piece = "Back panel".into();
        assert!(!left.is_twin_across(&other, MIDDLE));
    }

    #[test]
    fn a_whole_piece_that_happens_to_lie_across_the_fold_does_not_use_it() {
        let mut folded = sample::folded_layout();
        folded.cuts.retain(|cut| cut.on_fold);
        folded.cuts[0].on_fold = false;
        assert!(!folded.uses_fold());
    }

    #[test]
    fn a_panel_has_a_face() {
        let lies = |pose| sample::cut(&sample::panel(), 1, 1, pose, (300.0, 0.0));
        assert!(lies(Pose::AS_DRAWN.mirrored()).lies_face_down());
        assert!(!lies(Pose::AS_DRAWN).lies_face_down());
        assert!(!lies(Pose::AS_DRAWN).is_own_mirror_image());
    }

    #[test]
    fn the_fold_is_used_by_pairs_and_by_pieces_on_it() {
        let mut folded = sample::folded_layout();
        assert!(folded.uses_fold());
        folded.cuts.retain(|cut| !cut.on_fold);
        assert!(folded.uses_fold(), "the panels are twins");
        folded.cuts.retain(|cut| cut.copy == 1);
        assert!(!folded.uses_fold());
        assert!(!sample::open_layout().uses_fold());
    }
}
