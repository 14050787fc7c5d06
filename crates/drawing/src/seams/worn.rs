//! A cut as the garment shows it: seen from outside, its grain upright, out to its seam lines.
//!
//! The right side of cloth lies up on the table and outside on the body, so a cut is only turned back and never mirrored: a
//! mirrored copy is the other hand already.

use ellwand_garment::{Cut, Piece};
use ellwand_geometry::{Bounds, Placement, Point, Pose, point};

/// A cut with its way from the cloth to the garment. Its frame on the garment is that of its piece, mirrored if the cut is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Worn<'a> {
    pub(super) cut: &'a Cut,
    pub(super) piece: &'a Piece,
    /// From the frame of the piece to the cloth.
    placement: Placement,
}

impl<'a> Worn<'a> {
    /// `cut`, which is one of `piece`.
    pub(super) fn new(cut: &'a Cut, piece: &'a Piece) -> Self {
        let pose = cut.pose();
        let at = cut.grainline[0] - pose.apply_to_point(piece.grainline[0]);
        Self { cut, piece, placement: Placement { pose, at } }
    }

    /// A place of the cloth as a place of the garment.
    pub(super) fn on_garment(&self, cloth: Point) -> Point {
        Pose::turned(-self.cut.turned_deg).apply_to_point(cloth - self.placement.at)
    }

    /// The reverse of [`Worn::on_garment`].
    pub(super) fn on_cloth(&self, garment: Point) -> Point {
        Pose::turned(self.cut.turned_deg).apply_to_point(garment) + self.placement.at
    }

    /// The seam line; the cutting line of a piece without one.
    pub(super) fn seam_line(&self) -> Vec<Point> {
        let mut ring: Vec<Point> = self.piece.edges.iter().flat_map(|edge| &edge.line).copied().collect();
        ring.dedup();
        if ring.first() == ring.last() {
            ring.pop();
        }
        if ring.len() < 3 {
            ring = self.piece.outline.points().to_vec();
        }
        let pose = Pose { mirrored: self.cut.mirrored, turn_deg: 0.0 };
        ring.into_iter().map(|p| pose.apply_to_point(p)).collect()
    }

    /// Where a named point lies on the garment.
    pub(super) fn point(&self, name: &str) -> Option<Point> {
        self.cut.points.get(name).map(|&at| self.on_garment(at))
    }

    /// The halves of a piece on the fold, or the cut as it is.
    pub(super) fn halves(&self) -> impl Iterator<Item = Half<'a>> + use<'a> {
        let worn = *self;
        let drawn = std::iter::once(Half { worn, other: false });
        drawn.chain(worn.piece.fold.then_some(Half { worn, other: true }))
    }
}

/// A cut, or half of one on the fold: the points of a whole piece stand for their mirror images too.
#[derive(Debug, Clone, Copy)]
pub(super) struct Half<'a> {
    pub(super) worn: Worn<'a>,
    /// Whether it is the half that the pattern does not draw.
    other: bool,
}

/// What lies nearer to a line than this lies on it, mm.
pub(super) const ON_LINE: f64 = 1.0;

impl Half<'_> {
    /// Where a named point lies on the garment.
    pub(super) fn point(&self, name: &str) -> Option<Point> {
        let at = self.worn.point(name)?;
        Some(if self.other { point(-at.x, at.y) } else { at })
    }

    /// Whether it is a mirror image of the piece as drawn.
    pub(super) fn is_mirrored(&self) -> bool {
        if self.worn.piece.fold { self.other } else { self.worn.cut.mirrored }
    }

    /// From `at` to the middle of its body.
    pub(super) fn body_from(&self, at: Point) -> Point {
        Bounds::of(self.worn.seam_line()).center() - at
    }

    /// Whether it is a whole piece and a point at `at` lies on one of its halves.
    pub(super) fn is_half_at(&self, at: Point) -> bool {
        self.worn.piece.fold && at.x.abs() >= ON_LINE
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plaids;
    use ellwand_geometry::distance;

    #[test]
    fn a_cut_is_turned_back_and_its_points_stand_on_its_seam_line_or_inside() {
        let (layout, pattern) = (plaids::open_shirt(), plaids::shirt());
        for cut in &layout.cuts {
            let worn = Worn::new(cut, pattern.piece(&cut.piece).unwrap());
            let [low, high] = cut.grainline.map(|p| worn.on_garment(p));
            assert!((low.x - high.x).abs() < 1e-9 && low.y < high.y, "{} {} stands upright", cut.piece, cut.copy);
            for (name, &at) in &worn.piece.points {
                let side = if cut.mirrored { -1.0 } else { 1.0 };
                assert!(distance(worn.point(name).unwrap(), point(side * at.x, at.y)) < 1e-9);
            }
            let there_and_back = worn.on_cloth(worn.on_garment(point(123.0, 456.0)));
            assert!(distance(there_and_back, point(123.0, 456.0)) < 1e-9);
        }
    }

    #[test]
    fn bars_lean_one_way_on_a_piece_on_the_bias_and_the_other_on_its_mirrored_copy() {
        let layout = plaids::open_shirt();
        let leans = |turned_deg, mirrored| {
            let mut cut = layout.cuts[0].clone();
            (cut.turned_deg, cut.mirrored) = (turned_deg, mirrored);
            let pattern = plaids::shirt();
            let worn = Worn::new(&cut, &pattern.pieces[0]);
            let along_a_level_bar = worn.on_garment(point(1.0, 0.0)) - worn.on_garment(point(0.0, 0.0));
            along_a_level_bar.y.atan2(along_a_level_bar.x).to_degrees()
        };
        assert!((leans(45.0, false) + 45.0).abs() < 1e-9 && (leans(315.0, true) - 45.0).abs() < 1e-9);
    }

    #[test]
    fn seam_lines_lie_an_allowance_inside_the_cut() {
        let (layout, pattern) = (plaids::open_shirt(), plaids::shirt());
        for cut in &layout.cuts {
            let worn = Worn::new(cut, pattern.piece(&cut.piece).unwrap());
            let (seam, cutting) = (
                Bounds::of(worn.seam_line().into_iter().map(|p| worn.on_cloth(p))),
                Bounds::of(cut.outline.points().iter().copied()),
            );
            assert!(seam.min.x > cutting.min.x + 11.9 && seam.max.y < cutting.max.y - 11.9, "{}", cut.piece);
        }
    }
}
