//! Whether two outlines overlap, by how much and where; how far apart they are; whether a point lies in one.
//!
//! This is for judging a finished layout. It goes through general polygon overlay on a 64 bit grid and shares no code
//! with the no-fit regions a search works with, so that a mistake in one shows up in the other.

use geo::coordinate_position::{CoordPos, CoordinatePosition};
use geo::{Distance, Euclidean, InteriorPoint};
use geo_types::{LineString, Polygon};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::overlay::FloatOverlay;

use crate::outline::signed_area;
use crate::{Outline, Point, point};

/// A common region no larger than this is touching, not overlapping, mm²: a tenth of a millimetre square.
pub const TOUCHING_AREA_MM2: f64 = 0.01;

/// A common region no thicker than this is touching, not overlapping, mm. Rounding of positions stays a thousand times
/// below; a thread of cloth is a hundred times thicker.
pub const TOUCHING_THICKNESS_MM: f64 = 0.001;

/// Proof that two outlines overlap: their largest common region.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OverlapWitness {
    /// Area of the region, mm².
    pub area: f64,
    /// How thick the region is on average, mm: twice its area over its perimeter, which is the width of a long sliver.
    pub thickness: f64,
    /// A point inside it, mm.
    pub at: Point,
}

/// The largest region two outlines have in common, unless they only touch: see [`TOUCHING_AREA_MM2`] and
/// [`TOUCHING_THICKNESS_MM`]. Both bounds must be passed by one connected region.
///
/// Cost grows as `n log n` with the number of points, plus the crossings.
///
/// ```
/// use ellwand_geometry::{Outline, interiors_overlap, point};
///
/// let a = Outline::rectangle(100.0, 50.0).unwrap();
/// assert!(interiors_overlap(&a, &a.translated(point(100.0, 0.0))).is_none());
/// let witness = interiors_overlap(&a, &a.translated(point(98.0, 0.0))).unwrap();
/// assert!((witness.area - 100.0).abs() < 1e-9);
/// ```
pub fn interiors_overlap(a: &Outline, b: &Outline) -> Option<OverlapWitness> {
    if !a.bounds().overlaps(&b.bounds()) {
        return None;
    }
    common_regions(a, b)
        .into_iter()
        .filter_map(|rings| witness(&rings))
        .filter(|w| w.area > TOUCHING_AREA_MM2 && w.thickness > TOUCHING_THICKNESS_MM)
        .max_by(|v, w| v.area.total_cmp(&w.area))
}

/// The regions common to both outlines, each as its outer ring and its holes.
fn common_regions(a: &Outline, b: &Outline) -> Vec<Vec<Vec<Point>>> {
    let pairs = |outline: &Outline| outline.points().iter().map(|p| [p.x, p.y]).collect::<Vec<_>>();
    let regions = FloatOverlay::<[f64; 2], i64>::from_subj_and_clip(&pairs(a), &pairs(b))
        .overlay(OverlayRule::Intersect, FillRule::NonZero);
    let ring = |ring: Vec<[f64; 2]>| ring.into_iter().map(|[x, y]| point(x, y)).collect();
    regions.into_iter().map(|region| region.into_iter().map(ring).collect()).collect()
}

fn witness(rings: &[Vec<Point>]) -> Option<OverlapWitness> {
    let area: f64 = rings.iter().filter(|ring| !ring.is_empty()).map(|ring| signed_area(ring)).sum();
    let perimeter: f64 = (rings.iter())
        .flat_map(|ring| (0..ring.len()).map(move |i| ring[(i + 1) % ring.len()] - ring[i]))
        .map(|side| side.x.hypot(side.y))
        .sum();
    let mut rings = rings.iter().map(|ring| LineString(ring.clone()));
    let at = Polygon::new(rings.next()?, rings.collect()).interior_point()?;
    Some(OverlapWitness { area, thickness: 2.0 * area / perimeter, at: at.0 })
}

/// The largest region of `a` below `y = up_to` that lies outside `b`, unless what sticks out is no more than touching: as [`interiors_overlap`].
///
/// ```
/// use ellwand_geometry::{Outline, point, sticks_out};
///
/// let cloth = Outline::rectangle(300.0, 200.0).unwrap();
/// let piece = Outline::rectangle(100.0, 50.0).unwrap();
/// assert!(sticks_out(&piece.translated(point(200.0, 150.0)), &cloth, 200.0).is_none());
/// let witness = sticks_out(&piece.translated(point(201.0, 170.0)), &cloth, 200.0).unwrap();
/// assert!((witness.area - 30.0).abs() < 1e-6);
/// ```
pub fn sticks_out(a: &Outline, b: &Outline, up_to: f64) -> Option<OverlapWitness> {
    let pairs = |outline: &Outline| outline.points().iter().map(|p| [p.x, p.y]).collect::<Vec<_>>();
    let bounds = a.bounds();
    let mut allowed = vec![pairs(b)];
    if bounds.max.y > up_to {
        let (left, right, top) = (bounds.min.x - 1.0, bounds.max.x + 1.0, bounds.max.y + 1.0);
        allowed.push(vec![[left, up_to], [right, up_to], [right, top], [left, top]]);
    }
    let regions = FloatOverlay::<[f64; 2], i64>::from_subj_and_clip(&pairs(a), &allowed)
        .overlay(OverlayRule::Difference, FillRule::NonZero);
    let ring = |ring: Vec<[f64; 2]>| ring.into_iter().map(|[x, y]| point(x, y)).collect();
    (regions.into_iter())
        .map(|region| region.into_iter().map(ring).collect::<Vec<Vec<Point>>>())
        .filter_map(|rings| witness(&rings))
        .filter(|w| w.area > TOUCHING_AREA_MM2 && w.thickness > TOUCHING_THICKNESS_MM)
        .max_by(|v, w| v.area.total_cmp(&w.area))
}

/// The least distance between two outlines as filled regions, mm: 0 when they touch, overlap, or one contains the
/// other.
pub fn outline_distance(a: &Outline, b: &Outline) -> f64 {
    Euclidean.distance(&a.to_polygon(), &b.to_polygon())
}

/// Whether `p` lies in the outline or exactly on its border; decided without rounding.
pub fn contains_point(outline: &Outline, p: Point) -> bool {
    outline.to_polygon().coordinate_position(&p) != CoordPos::Outside
}

/// The area of `a` that lies outside `b`, mm².
pub fn area_outside(a: &Outline, b: &Outline) -> f64 {
    let pairs = |outline: &Outline| outline.points().iter().map(|p| [p.x, p.y]).collect::<Vec<_>>();
    let regions = FloatOverlay::<[f64; 2], i64>::from_subj_and_clip(&pairs(a), &pairs(b))
        .overlay(OverlayRule::Difference, FillRule::NonZero);
    let area = |ring: &Vec<[f64; 2]>| signed_area(&ring.iter().map(|&[x, y]| point(x, y)).collect::<Vec<_>>());
    regions.iter().flatten().filter(|ring| ring.len() >= 3).map(area).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Placement, Pose};
    use proptest::prelude::*;

    fn hook() -> Outline {
        Outline::from_pairs(&[(0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (40.0, 60.0), (40.0, 20.0), (0.0, 20.0)]).unwrap()
    }

    #[test]
    fn hooks_nested_into_each_other_touch_only() {
        let other = Placement::new(Pose::turned(180.0), 40.0, 80.0).apply(&hook());
        assert!(hook().bounds().overlaps(&other.bounds()));
        assert_eq!(interiors_overlap(&hook(), &other), None);
        assert_eq!(outline_distance(&hook(), &other), 0.0);
    }

    #[test]
    fn equal_outlines_overlap_entirely() {
        let w = interiors_overlap(&hook(), &hook()).unwrap();
        assert!((w.area - hook().area()).abs() < 1e-9);
        assert!(contains_point(&hook(), w.at));
    }

    #[test]
    fn a_long_sliver_counts_by_its_thickness() {
        let strip = Outline::rectangle(2000.0, 50.0).unwrap();
        assert_eq!(interiors_overlap(&strip, &strip.translated(point(0.0, 49.9992))), None);
        let w = interiors_overlap(&strip, &strip.translated(point(0.0, 49.998))).unwrap();
        assert!((w.thickness - 0.002).abs() < 1e-6, "{w:?}");
    }

    #[test]
    fn a_tiny_corner_overlap_counts_by_its_area() {
        let square = Outline::rectangle(50.0, 50.0).unwrap();
        assert_eq!(interiors_overlap(&square, &square.translated(point(49.95, 49.9))), None);
        assert!(interiors_overlap(&square, &square.translated(point(49.8, 49.9))).is_some());
    }

    #[test]
    fn the_gap_between_outlines_is_measured_across_it() {
        let square = Outline::rectangle(50.0, 50.0).unwrap();
        assert_eq!(outline_distance(&square, &square.translated(point(53.0, 54.0))), 5.0);
        let inside = Outline::rectangle(10.0, 10.0).unwrap().translated(point(20.0, 20.0));
        assert_eq!(outline_distance(&square, &inside), 0.0);
    }

    #[test]
    fn the_border_belongs_to_an_outline() {
        assert!(contains_point(&hook(), point(40.0, 40.0)));
        assert!(contains_point(&hook(), point(50.0, 40.0)));
        assert!(!contains_point(&hook(), point(20.0, 40.0)));
    }

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        /// Against the closed form for two upright rectangles.
        #[test]
        fn rectangles_overlap_by_the_product_of_their_overlaps(
            w in 1.0..200.0f64, h in 1.0..200.0f64, dx in -250.0..250.0f64, dy in -250.0..250.0f64,
        ) {
            let a = Outline::rectangle(w, h).unwrap();
            let b = Outline::rectangle(100.0, 80.0).unwrap().translated(point(dx, dy));
            let across = (w.min(dx + 100.0) - dx.max(0.0)).max(0.0);
            let along = (h.min(dy + 80.0) - dy.max(0.0)).max(0.0);
            let area = across * along;
            match interiors_overlap(&a, &b) {
                Some(witness) => prop_assert!((witness.area - area).abs() < 1e-6),
                None => prop_assert!(area <= TOUCHING_AREA_MM2 || across.min(along) <= 2.0 * TOUCHING_THICKNESS_MM),
            }
            let apart = (dx - w).max(-dx - 100.0).max(0.0).hypot((dy - h).max(-dy - 80.0).max(0.0));
            prop_assert!((outline_distance(&a, &b) - apart).abs() < 1e-9);
            prop_assert!((area_outside(&a, &b) - (w * h - area)).abs() < 1e-6);
        }
    }
}
