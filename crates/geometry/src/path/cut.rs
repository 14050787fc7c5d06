//! An edge cut where it crosses a level line or at a point of it, curves kept as curves.

use kurbo::common::solve_itp;
use kurbo::{CubicBez, ParamCurve, ParamCurveExtrema, ParamCurveNearest};

use super::{Arc, EdgeShape};
use crate::{Point, point};

/// A part of an arc shorter than this is none, mm.
const NO_PART_MM: f64 = 1e-6;

/// Parameters this near to an end of a curve are its end.
const NO_SHARE: f64 = 1e-9;

/// A straight edge may lean by this much, mm, and be upright: its parts have the `x` of its start.
const UPRIGHT_MM: f64 = 1e-9;

/// A part of an edge on one side of a level line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgePart {
    /// Its start, mm.
    pub from: Point,
    /// How it gets to its end.
    pub shape: EdgeShape,
    /// Its end, mm.
    pub to: Point,
    /// A height within the part, mm: it tells on which side of the line it lies.
    pub middle_y: f64,
}

/// The parts of the edge from `from` to `to`, cut wherever it crosses the height `at`; one that only touches it stays whole. Cuts
/// lie at that height to the bit.
///
/// ```
/// use ellwand_geometry::{EdgeShape, cut_at_height, point};
///
/// let parts = cut_at_height(point(0.0, 0.0), EdgeShape::Arc { through: point(50.0, 50.0) }, point(100.0, 0.0), 30.0);
/// assert_eq!(parts.len(), 3);
/// assert!((parts[1].from.x - 10.0).abs() < 1e-9 && parts[1].from.y == 30.0);
/// ```
pub fn cut_at_height(from: Point, shape: EdgeShape, to: Point, at: f64) -> Vec<EdgePart> {
    match shape {
        EdgeShape::Straight => cut_straight(from, to, at),
        EdgeShape::Cubic { first, second } => cut_cubic([from, first, second, to], at),
        EdgeShape::Arc { through } => match Arc::through(from, through, to) {
            Some(arc) => cut_arc(&arc, from, to, at),
            None => cut_straight(from, to, at),
        },
    }
}

/// The two parts of the edge from `from` to `to` before and after its place nearest to `at`, and that place; `None` where it is an end.
///
/// ```
/// use ellwand_geometry::{EdgeShape, cut_at_point, point};
///
/// let [before, after] = cut_at_point(point(0.0, 0.0), EdgeShape::Straight, point(100.0, 0.0), point(30.0, 1.0)).unwrap();
/// assert_eq!((before.to, after.from, after.to), (point(30.0, 0.0), point(30.0, 0.0), point(100.0, 0.0)));
/// assert_eq!(cut_at_point(point(0.0, 0.0), EdgeShape::Straight, point(100.0, 0.0), point(-5.0, 0.0)), None);
/// ```
pub fn cut_at_point(from: Point, shape: EdgeShape, to: Point, at: Point) -> Option<[EdgePart; 2]> {
    let arc = match shape {
        EdgeShape::Arc { through } => Arc::through(from, through, to),
        _ => None,
    };
    if let Some(arc) = arc {
        let angle = (at.y - arc.center.y).atan2(at.x - arc.center.x);
        let share = ((angle - arc.start) * arc.sweep.signum()).rem_euclid(std::f64::consts::TAU) / arc.sweep.abs();
        let inside = (share.min(1.0 - share)) * arc.sweep.abs() * arc.radius > NO_PART_MM;
        let part = |from: Point, a: f64, b: f64, to: Point| {
            let through = arc.at((a + b) / 2.0);
            EdgePart { from, shape: EdgeShape::Arc { through }, to, middle_y: through.y }
        };
        return inside.then(|| [part(from, 0.0, share, arc.at(share)), part(arc.at(share), share, 1.0, to)]);
    }
    let [p0, p3, near] = [from, to, at].map(|p| kurbo::Point::new(p.x, p.y));
    let (first, second) = match shape {
        EdgeShape::Cubic { first, second } => (first, second),
        _ => (from + (to - from) / 3.0, to - (to - from) / 3.0),
    };
    let curve = CubicBez::new(p0, kurbo::Point::new(first.x, first.y), kurbo::Point::new(second.x, second.y), p3);
    let share = if shape == EdgeShape::Straight {
        let along = to - from;
        ((at.x - from.x) * along.x + (at.y - from.y) * along.y) / (along.x * along.x + along.y * along.y)
    } else {
        curve.nearest(near, 1e-6).t
    };
    if !(NO_SHARE..=1.0 - NO_SHARE).contains(&share) {
        return None;
    }
    let place = if shape == EdgeShape::Straight {
        from + (to - from) * share
    } else {
        let there = curve.eval(share);
        point(there.x, there.y)
    };
    let part = |from: Point, a: f64, b: f64, to: Point| {
        let part = curve.subsegment(a..b);
        let [first, second] = [part.p1, part.p2].map(|p| point(p.x, p.y));
        let shape = if shape == EdgeShape::Straight { shape } else { EdgeShape::Cubic { first, second } };
        EdgePart { from, shape, to, middle_y: part.eval(0.5).y }
    };
    Some([part(from, 0.0, share, place), part(place, share, 1.0, to)])
}

fn cut_straight(from: Point, to: Point, at: f64) -> Vec<EdgePart> {
    let part =
        |from: Point, to: Point| EdgePart { from, shape: EdgeShape::Straight, to, middle_y: (from.y + to.y) / 2.0 };
    if (from.y - at) * (to.y - at) >= 0.0 {
        return vec![part(from, to)];
    }
    let across = to.x - from.x;
    let x = if across.abs() <= UPRIGHT_MM { from.x } else { from.x + across * ((at - from.y) / (to.y - from.y)) };
    vec![part(from, point(x, at)), part(point(x, at), to)]
}

fn cut_cubic(points: [Point; 4], at: f64) -> Vec<EdgePart> {
    let [p0, p1, p2, p3] = points.map(|p| kurbo::Point::new(p.x, p.y));
    let curve = CubicBez::new(p0, p1, p2, p3);
    let above = |t: f64| curve.eval(t).y - at;
    // Between its turning points a curve rises or falls throughout, and crosses once or not at all. Where it only touches the
    // line, or begins on it, nothing is crossed.
    let mut turns = vec![0.0, 1.0];
    turns.extend(curve.extrema());
    turns.retain(|&t| above(t) != 0.0);
    turns.sort_by(f64::total_cmp);
    let crossing = |span: &[f64]| {
        let (a, b) = (span[0], span[1]);
        let (low, high) = (above(a), above(b));
        let rising = if low < 0.0 { 1.0 } else { -1.0 };
        (low * high < 0.0)
            .then(|| solve_itp(|t| rising * above(t), a, b, 1e-15, 1, 0.2 / (b - a), rising * low, rising * high))
    };
    let mut cuts: Vec<f64> = turns.windows(2).filter_map(crossing).collect();
    cuts.retain(|t| (NO_SHARE..=1.0 - NO_SHARE).contains(t));
    cuts.push(1.0);
    let mut parts = Vec::new();
    let (mut begun, mut from) = (0.0, points[0]);
    for t in cuts {
        let part = curve.subsegment(begun..t);
        let to = if t == 1.0 { points[3] } else { point(part.p3.x, at) };
        let [first, second] = [part.p1, part.p2].map(|p| point(p.x, p.y));
        let middle_y = part.eval(0.5).y;
        parts.push(EdgePart { from, shape: EdgeShape::Cubic { first, second }, to, middle_y });
        (begun, from) = (t, to);
    }
    parts
}

fn cut_arc(arc: &Arc, from: Point, to: Point, at: f64) -> Vec<EdgePart> {
    let reach = (at - arc.center.y) / arc.radius;
    let mut cuts: Vec<f64> = Vec::new();
    if reach.abs() < 1.0 {
        let up = reach.asin();
        let full = std::f64::consts::TAU;
        let share = |angle: f64| {
            let turned = (angle - arc.start) * arc.sweep.signum();
            turned.rem_euclid(full) / arc.sweep.abs()
        };
        cuts.extend([up, std::f64::consts::PI - up].map(share));
        cuts.retain(|t| t.min(1.0 - t) * arc.sweep.abs() * arc.radius > NO_PART_MM);
        cuts.sort_by(f64::total_cmp);
    }
    cuts.push(1.0);
    let mut parts = Vec::new();
    let (mut begun, mut start) = (0.0, from);
    for t in cuts {
        let end = if t == 1.0 { to } else { point(arc.at(t).x, at) };
        let through = arc.at((begun + t) / 2.0);
        parts.push(EdgePart { from: start, shape: EdgeShape::Arc { through }, to: end, middle_y: through.y });
        (begun, start) = (t, end);
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::cases;
    use proptest::prelude::*;

    fn whole(from: (f64, f64), shape: EdgeShape, to: (f64, f64), at: f64) -> usize {
        cut_at_height(point(from.0, from.1), shape, point(to.0, to.1), at).len()
    }

    #[test]
    fn an_edge_that_touches_the_line_stays_whole() {
        assert_eq!(whole((0.0, 0.0), EdgeShape::Straight, (10.0, 5.0), 5.0), 1);
        let arch = EdgeShape::Cubic { first: point(0.0, 40.0), second: point(100.0, 40.0) };
        assert_eq!(whole((0.0, 0.0), arch, (100.0, 0.0), 30.0), 1);
        assert_eq!(whole((0.0, 0.0), arch, (100.0, 0.0), 0.0), 1);
        assert_eq!(whole((0.0, 0.0), EdgeShape::Arc { through: point(50.0, 50.0) }, (100.0, 0.0), 50.0), 1);
    }

    /// A raised parabola: its cubic term is rounding only.
    #[test]
    fn a_curve_that_is_nearly_of_second_degree_is_cut_where_it_crosses() {
        let (third, parts) = (1.0 / 3.0, |t: f64| 400.0 * t * (1.0 - t));
        let shape = EdgeShape::Cubic {
            first: point(100.0 * third, 400.0 * third),
            second: point(200.0 * third, 400.0 * third),
        };
        let cut = cut_at_height(point(0.0, 0.0), shape, point(100.0, 0.0), parts(0.2));
        assert_eq!(cut.len(), 3);
        assert!((cut[0].to.x - 20.0).abs() < 1e-9 && (cut[1].to.x - 80.0).abs() < 1e-9);
    }

    proptest! {
        #![proptest_config(cases(200))]

        /// Against the curve sampled finely: every part keeps to its side, and together they are the edge.
        #[test]
        fn parts_keep_to_their_side_and_are_the_edge(
            c in prop::array::uniform8(-300.0..300.0f64), at in -200.0..200.0f64, straightened in any::<bool>(),
        ) {
            let p: Vec<Point> = c.chunks(2).map(|c| point(c[0], c[1])).collect();
            let shape = if straightened {
                EdgeShape::Arc { through: p[1] }
            } else {
                EdgeShape::Cubic { first: p[1], second: p[2] }
            };
            let parts = cut_at_height(p[0], shape, p[3], at);
            prop_assert_eq!((parts[0].from, parts[parts.len() - 1].to), (p[0], p[3]));
            prop_assert!(parts.windows(2).all(|w| w[0].to == w[1].from && w[0].to.y == at));
            prop_assert!(parts.windows(2).all(|w| (w[0].middle_y > at) != (w[1].middle_y > at)));
            let samples = |from: Point, shape: EdgeShape, to: Point| {
                let mut points = Vec::new();
                match shape {
                    EdgeShape::Cubic { first, second } => super::super::flatten_cubic(from, first, second, to, 0.01, &mut points),
                    EdgeShape::Arc { through } => super::super::flatten_arc(from, through, to, 0.01, &mut points),
                    EdgeShape::Straight => 0,
                };
                points
            };
            let line: Vec<Point> = samples(p[0], shape, p[3]);
            for part in &parts {
                for q in samples(part.from, part.shape, part.to) {
                    let side = (q.y - at) * (part.middle_y - at);
                    prop_assert!(side >= 0.0 || (q.y - at).abs() < 0.03, "{q:?} of {part:?}");
                    let off = line.windows(2).map(|w| crate::distance_to_segment(q, w[0], w[1]));
                    let off = off.fold(crate::distance_to_segment(q, line[line.len() - 1], p[3]), f64::min);
                    prop_assert!(off < 0.03, "{off}");
                }
            }
        }
    }
}
