//! Places along one edge, told as a share of the way along it: the parameter of a curve, the share of the length of a line or an arc.

use kurbo::{CubicBez, ParamCurve, ParamCurveNearest};

use super::{Arc, EdgeShape};
use crate::{Point, point};

/// How near the share of a curve is found, mm.
const NEAR_MM: f64 = 1e-6;

/// The share of the edge from `from` to `to` whose place is nearest to `p`: from 0 at its start to 1 at its end.
///
/// ```
/// use ellwand_geometry::{EdgeShape, nearest_share, point};
///
/// let share = nearest_share(point(0.0, 0.0), EdgeShape::Straight, point(100.0, 0.0), point(30.0, 4.0));
/// assert_eq!(share, 0.3);
/// ```
pub fn nearest_share(from: Point, shape: EdgeShape, to: Point, p: Point) -> f64 {
    match shape {
        EdgeShape::Cubic { first, second } => {
            let [p0, p1, p2, p3, near] = [from, first, second, to, p].map(|p| kurbo::Point::new(p.x, p.y));
            CubicBez::new(p0, p1, p2, p3).nearest(near, NEAR_MM).t
        }
        EdgeShape::Arc { through } => match Arc::through(from, through, to) {
            Some(arc) => {
                let angle = (p.y - arc.center.y).atan2(p.x - arc.center.x);
                let turned = ((angle - arc.start) * arc.sweep.signum()).rem_euclid(std::f64::consts::TAU);
                // Beyond its end the nearer of both ends counts.
                let beyond = turned - arc.sweep.abs();
                let share = turned / arc.sweep.abs();
                if beyond > (std::f64::consts::TAU - arc.sweep.abs()) / 2.0 { 0.0 } else { share.min(1.0) }
            }
            None => share_of_line(from, to, p),
        },
        EdgeShape::Straight => share_of_line(from, to, p),
    }
}

/// The place of a share of the edge from `from` to `to`; its ends to the bit.
///
/// ```
/// use ellwand_geometry::{EdgeShape, place_at_share, point};
///
/// let place = place_at_share(point(0.0, 0.0), EdgeShape::Arc { through: point(50.0, 50.0) }, point(100.0, 0.0), 0.5);
/// assert!((place - point(50.0, 50.0)).x.abs() < 1e-9 && (place.y - 50.0).abs() < 1e-9);
/// ```
pub fn place_at_share(from: Point, shape: EdgeShape, to: Point, share: f64) -> Point {
    if share <= 0.0 {
        return from;
    }
    if share >= 1.0 {
        return to;
    }
    match shape {
        EdgeShape::Cubic { first, second } => {
            let [p0, p1, p2, p3] = [from, first, second, to].map(|p| kurbo::Point::new(p.x, p.y));
            let place = CubicBez::new(p0, p1, p2, p3).eval(share);
            point(place.x, place.y)
        }
        EdgeShape::Arc { through } => match Arc::through(from, through, to) {
            Some(arc) => arc.at(share),
            None => from + (to - from) * share,
        },
        EdgeShape::Straight => from + (to - from) * share,
    }
}

fn share_of_line(from: Point, to: Point, p: Point) -> f64 {
    let along = to - from;
    let length = along.x * along.x + along.y * along.y;
    if length == 0.0 {
        return 1.0;
    }
    (((p.x - from.x) * along.x + (p.y - from.y) * along.y) / length).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_of_an_edge_has_the_share_it_was_made_from() {
        let (from, to) = (point(3.0, -7.0), point(90.0, 40.0));
        let shapes = [
            EdgeShape::Straight,
            EdgeShape::Cubic { first: point(40.0, -30.0), second: point(95.0, 0.0) },
            EdgeShape::Arc { through: point(30.0, 60.0) },
            EdgeShape::Arc { through: point(80.0, -40.0) },
        ];
        for shape in shapes {
            for step in 0..=20 {
                let share = f64::from(step) / 20.0;
                let place = place_at_share(from, shape, to, share);
                let found = nearest_share(from, shape, to, place);
                assert!((found - share).abs() < 1e-6, "{shape:?}: {share} came back as {found}");
            }
        }
    }

    #[test]
    fn beyond_an_end_that_end_is_nearest() {
        let (from, to) = (point(0.0, 0.0), point(100.0, 0.0));
        for shape in [EdgeShape::Straight, EdgeShape::Arc { through: point(50.0, 20.0) }] {
            assert_eq!(nearest_share(from, shape, to, point(-10.0, -3.0)), 0.0, "{shape:?}");
            assert_eq!(nearest_share(from, shape, to, point(110.0, -3.0)), 1.0, "{shape:?}");
        }
        // An arc that is none is the line between its ends.
        let flat = EdgeShape::Arc { through: point(50.0, 0.0) };
        assert_eq!(nearest_share(from, flat, to, point(25.0, 1.0)), 0.25);
        assert_eq!(place_at_share(from, flat, to, 0.25), point(25.0, 0.0));
    }
}
