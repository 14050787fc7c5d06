//! The least width and height of a shape over an interval of turns.
//!
//! While a shape turns, its extent in a direction is that of two corners of its convex hull, the distance between them times the cosine of
//! their angle to the direction: concave as long as the two stay the same, and they change only where an edge of the hull is square to the
//! direction. So the least extent of an interval is at one of its ends or where an edge of the hull lies level or upright.

use ellwand_geometry::{Outline, Point, Pose, point};

use crate::AllowedPose;
use crate::hull;

pub(crate) use Way::{Across, Along};

/// The direction of an extent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// The width.
    Across,
    /// The height.
    Along,
}

/// The least width that `shape` takes of the strip in a pose, turned as far as it may be, in mm.
///
/// ```
/// use ellwand_geometry::{Outline, Placement, Pose};
/// use ellwand_nest::{AllowedPose, least_width};
///
/// let upright = Outline::rectangle(100.0, 300.0).unwrap();
/// let slanted = Placement::new(Pose::turned(0.5), 0.0, 0.0).apply(&upright);
/// let allowed = AllowedPose::anywhere(Pose::AS_DRAWN).tilting(2.0);
/// assert!((least_width(&slanted, &allowed) - 100.0).abs() < 1e-9);
/// ```
pub fn least_width(shape: &Outline, allowed: &AllowedPose) -> f64 {
    least_extent(shape, allowed, Across)
}

/// The least extent of `shape` in a pose, turned as far as it may be.
pub(crate) fn least_extent(shape: &Outline, allowed: &AllowedPose, way: Way) -> f64 {
    extent(shape.points(), allowed.pose, least_extent_turn(shape, allowed, way), way)
}

/// The turn beyond the pose at which the extent is least; of equals the first from the pose itself to the ends and between.
pub(crate) fn least_extent_turn(shape: &Outline, allowed: &AllowedPose, way: Way) -> f64 {
    if allowed.tilt == 0.0 {
        return 0.0;
    }
    let hull = hull::corners(shape.points());
    let mut best = (extent(&hull, allowed.pose, 0.0, way), 0.0);
    let between = (0..hull.len()).filter_map(|k| {
        let edge = allowed.pose.apply_to_point(hull[(k + 1) % hull.len()] - hull[k]);
        // From the edge to the direction square to the extent, either way along it.
        let off = match way {
            Across => edge.x.atan2(edge.y),
            Along => -edge.y.atan2(edge.x),
        };
        let off = off.to_degrees();
        [off, off - 180.0, off + 180.0].into_iter().find(|turn| turn.abs() < allowed.tilt)
    });
    for turn in [-allowed.tilt, allowed.tilt].into_iter().chain(between) {
        let wide = extent(&hull, allowed.pose, turn, way);
        if wide < best.0 {
            best = (wide, turn);
        }
    }
    best.1
}

fn extent(points: &[Point], pose: Pose, turn: f64, way: Way) -> f64 {
    let pose = Pose { turn_deg: pose.turn_deg + turn, ..pose };
    let (mut low, mut high) = (point(f64::INFINITY, f64::INFINITY), point(f64::NEG_INFINITY, f64::NEG_INFINITY));
    for &p in points {
        let p = pose.apply_to_point(p);
        (low, high) = (point(low.x.min(p.x), low.y.min(p.y)), point(high.x.max(p.x), high.y.max(p.y)));
    }
    match way {
        Across => high.x - low.x,
        Along => high.y - low.y,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Random;

    /// Against every tenth of a degree.
    #[test]
    fn no_turn_between_is_narrower_or_lower() {
        let mut random = Random::new(11, 0);
        for _ in 0..300 {
            let corners =
                (0..3 + random.below(6)).map(|_| point(random.between(0.0, 300.0), random.between(0.0, 500.0)));
            let corners: Vec<Point> = corners.collect();
            let Ok(shape) = Outline::new(hull::corners(&corners)) else { continue };
            let pose = Pose { mirrored: random.below(2) == 0, turn_deg: random.below(8) as f64 * 45.0 };
            let allowed = AllowedPose::anywhere(pose).tilting(random.between(0.0, 45.0));
            for way in [Across, Along] {
                let least = least_extent(&shape, &allowed, way);
                assert!(least_extent_turn(&shape, &allowed, way).abs() <= allowed.tilt);
                for k in -20..=20 {
                    let there = extent(shape.points(), pose, allowed.tilt * f64::from(k) / 20.0, way);
                    assert!(least <= there + 1e-9, "{way:?}: {least} above {there} at {k}");
                }
            }
        }
    }

    #[test]
    fn a_slanted_edge_is_laid_level_within_the_interval_only() {
        let slanted =
            |deg: f64| Outline::rectangle(900.0, 300.0).unwrap().map_rigid(|p| Pose::turned(deg).apply_to_point(p));
        let allowed = |tilt: f64| AllowedPose::anywhere(Pose::turned(180.0)).tilting(tilt);
        assert!((least_extent(&slanted(0.5), &allowed(1.0), Along) - 300.0).abs() < 1e-9);
        assert!((least_extent_turn(&slanted(0.5), &allowed(1.0), Along) + 0.5).abs() < 1e-9);
        assert!(least_extent(&slanted(1.5), &allowed(1.0), Along) > 307.0);
        assert_eq!(least_extent_turn(&slanted(0.5), &allowed(0.0), Along), 0.0);
    }
}
