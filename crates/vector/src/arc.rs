//! The circle of an arc that is known by three points.

use ellwand_geometry::{EdgeShape, Point, point};

use crate::Run;

/// A circular arc by its centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Arc {
    pub(crate) centre: Point,
    pub(crate) radius: f64,
    /// The angle of its start, radians.
    pub(crate) from: f64,
    /// The angle it spans, radians, counter-clockwise for a positive one; never a full turn.
    pub(crate) sweep: f64,
}

impl Arc {
    /// The arc through three points; none where they lie on a line, or where it ends at its start.
    pub(crate) fn through(start: Point, through: Point, end: Point) -> Option<Self> {
        let sweep = sweep(start, through, end)?;
        let (x, y) = (end.x - start.x, end.y - start.y);
        // Half the chord by the tangent of half the angle: how far the centre is to the left of the chord's middle.
        let left = 0.5 / (sweep / 2.0).tan();
        let centre = point((start.x + end.x) / 2.0 - y * left, (start.y + end.y) / 2.0 + x * left);
        let radius = x.hypot(y) / 2.0 / (sweep / 2.0).sin().abs();
        let from = (start.y - centre.y).atan2(start.x - centre.x);
        radius.is_finite().then_some(Self { centre, radius, from, sweep })
    }

    /// The point after a share of the arc.
    pub(crate) fn at(&self, share: f64) -> Point {
        let angle = self.from + self.sweep * share;
        point(self.centre.x + self.radius * angle.cos(), self.centre.y + self.radius * angle.sin())
    }

    /// Its points that are farthest to the right, top, left and bottom on the circle.
    pub(crate) fn extremes(&self) -> impl Iterator<Item = Point> + use<> {
        let arc = *self;
        let quarter = std::f64::consts::FRAC_PI_2;
        let (low, high) = (arc.from.min(arc.from + arc.sweep), arc.from.max(arc.from + arc.sweep));
        let first = (low / quarter - 1e-9).ceil() as i64;
        let last = (high / quarter + 1e-9).floor() as i64;
        (first..=last).map(move |quarters| arc.at((quarters as f64 * quarter - arc.from) / arc.sweep))
    }
}

/// The angle that an arc through three points spans, radians; see [`Arc::sweep`].
///
/// By the theorem of the inscribed angle: seen from the point between, the ends are half the rest of the turn apart.
fn sweep(start: Point, through: Point, end: Point) -> Option<f64> {
    let (ax, ay) = (start.x - through.x, start.y - through.y);
    let (bx, by) = (end.x - through.x, end.y - through.y);
    let cross = ax * by - ay * bx;
    let dot = ax * bx + ay * by;
    // From the far end of the arc the start is to the left of it where it runs clockwise.
    let sweep = 2.0 * cross.abs().atan2(-dot);
    let is_round = cross.abs() > 1e-14 * (ax.hypot(ay) * bx.hypot(by)) && (start.x != end.x || start.y != end.y);
    is_round.then_some(if cross > 0.0 { -sweep } else { sweep })
}

/// How far an arc leaves its chord to the right, for half the chord: the tangent of a quarter of the angle it spans (DXF, group 42).
pub(crate) fn bulge(start: Point, through: Point, end: Point) -> Option<f64> {
    Some((sweep(start, through, end)? / 4.0).tan())
}

/// An arc is split so that no part spans more than this, radians; the cubic of such a part is 4e-7 of the radius off at most.
const WIDEST_PART: f64 = std::f64::consts::FRAC_PI_6;

/// The arc through a point as cubics, whose control points lie on its tangents, `4/3 tan(a/4)` radii away for a part that spans the angle
/// `a`; a straight run where the three points lie on a line.
pub(crate) fn as_cubics(from: Point, through: Point, to: Point) -> Vec<Run> {
    let Some(arc) = Arc::through(from, through, to) else {
        return vec![Run { shape: EdgeShape::Straight, to }];
    };
    let parts = (arc.sweep.abs() / WIDEST_PART).ceil().max(1.0);
    let reach = 4.0 / 3.0 * (arc.sweep / parts / 4.0).tan() * arc.radius;
    let tangent = |share: f64| {
        let angle = arc.from + arc.sweep * share;
        point(-angle.sin(), angle.cos()) * reach
    };
    let mut here = from;
    let part = |k: usize| {
        let (start, end) = ((k - 1) as f64 / parts, k as f64 / parts);
        let next = if k == parts as usize { to } else { arc.at(end) };
        let shape = EdgeShape::Cubic { first: here + tangent(start), second: next - tangent(end) };
        here = next;
        Run { shape, to: next }
    };
    (1..=parts as usize).map(part).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_points_make_an_arc() {
        let near = |a: f64, b: f64| (a - b).abs() < 1e-12;
        let left = Arc::through(point(10.0, 0.0), point(0.0, 10.0), point(-10.0, 0.0)).unwrap();
        assert!(near(left.radius, 10.0) && near(left.sweep, std::f64::consts::PI) && left.centre.y.abs() < 1e-12);
        let right = Arc::through(point(-10.0, 0.0), point(0.0, 10.0), point(10.0, 0.0)).unwrap();
        assert!(near(right.sweep, -std::f64::consts::PI));
        let long = Arc::through(point(10.0, 0.0), point(-10.0, 0.0), point(0.0, -10.0)).unwrap();
        assert!(near(long.sweep, 1.5 * std::f64::consts::PI) && near(long.centre.x, 0.0) && near(long.centre.y, 0.0));
        assert_eq!(long.extremes().count(), 4);
        let low = long.extremes().map(|at| at.y).fold(f64::MAX, f64::min);
        assert!(near(low, -10.0));
        assert_eq!(Arc::through(point(0.0, 0.0), point(1.0, 1.0), point(2.0, 2.0)), None);
        assert_eq!(
            bulge(point(0.0, 0.0), point(5.0, -5.0), point(10.0, 0.0)),
            Some((std::f64::consts::FRAC_PI_4).tan())
        );
        assert!(bulge(point(0.0, 0.0), point(5.0, 5.0), point(10.0, 0.0)).unwrap() < 0.0);
    }
}
