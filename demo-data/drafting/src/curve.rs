//! Small tools of curve drafting: lengths along curves, cutting them, turning and mirroring them, and solving for a
//! measure. Everything in mm.

use kurbo::{Affine, CubicBez, ParamCurve, ParamCurveArclen, PathSeg, Point, Vec2};

/// Arc lengths are right to a thousandth of a millimetre.
const LENGTH_ACCURACY: f64 = 1e-3;

/// Length of one edge, mm.
pub(crate) fn length(seg: &impl ParamCurveArclen) -> f64 {
    seg.arclen(LENGTH_ACCURACY)
}

/// Length of a chain of edges, mm.
pub(crate) fn chain_length(chain: &[CubicBez]) -> f64 {
    chain.iter().map(length).sum()
}

/// The point `along` mm from the start of a chain; its end when the chain is shorter.
pub(crate) fn point_along(chain: &[PathSeg], along: f64) -> Point {
    let mut left = along;
    for seg in chain {
        let own = length(seg);
        if left <= own {
            return seg.eval(seg.inv_arclen(left.max(0.0), LENGTH_ACCURACY));
        }
        left -= own;
    }
    chain.last().map_or(Point::ORIGIN, ParamCurve::end)
}

/// A curve from `a` to `b` that leaves along `leave` and arrives along `arrive`. The lengths of the two vectors say how
/// strongly the curve is drawn that way.
pub(crate) fn hermite(a: Point, leave: Vec2, b: Point, arrive: Vec2) -> CubicBez {
    CubicBez::new(a, a + leave, b - arrive, b)
}

/// A straight edge as a curve.
pub(crate) fn straight(a: Point, b: Point) -> CubicBez {
    CubicBez::new(a, a.lerp(b, 1.0 / 3.0), a.lerp(b, 2.0 / 3.0), b)
}

/// A smooth chain through `points`; the tangent at an inner point runs between its neighbours, as with a bent ruler.
/// `leave` and `arrive` are directions at the two ends; without them the ends run freely.
pub(crate) fn bent_ruler(points: &[Point], leave: Option<Vec2>, arrive: Option<Vec2>) -> Vec<CubicBez> {
    let n = points.len();
    let tangent = |i: usize| -> Vec2 {
        let end = |fixed: Option<Vec2>, chord: Vec2| fixed.unwrap_or(chord).normalize();
        if i == 0 {
            end(leave, points[1] - points[0])
        } else if i == n - 1 {
            end(arrive, points[n - 1] - points[n - 2])
        } else {
            // Weighted so that the nearer neighbour counts more, which keeps short spans from bulging.
            let (before, after) = (points[i] - points[i - 1], points[i + 1] - points[i]);
            (before.normalize() * after.length() + after.normalize() * before.length()).normalize()
        }
    };
    (0..n - 1)
        .map(|i| {
            let reach = (points[i + 1] - points[i]).length() / 3.0;
            hermite(points[i], tangent(i) * reach, points[i + 1], tangent(i + 1) * reach)
        })
        .collect()
}

/// The hem from the centre to the side, square to both.
pub(crate) fn hem_curve(centre: Point, side: &CubicBez) -> CubicBez {
    let reach = (side.p0.x - centre.x) / 3.0;
    let square = quarter_turn(side.p1 - side.p0).normalize() * -reach;
    hermite(centre, Vec2::new(reach, 0.0), side.p0, square)
}

/// The parameter where `side` changes sign along `curve`; `side` must differ in sign at the two ends, otherwise the end
/// nearer to zero is returned.
pub(crate) fn crossing(curve: &CubicBez, side: impl Fn(Point) -> f64) -> f64 {
    solve(0.0, 1.0, |t| side(curve.eval(t)))
}

/// A cut this near to the end of a curve, as a share of its parameter, falls on the join with the next one, so that no
/// sliver is left; at the very ends of a chain it leaves this much.
const NEAR_END: f64 = 1e-3;

/// A chain of at least one curve, cut in two where `side` first loses the sign it has at the chain's start; just before
/// the chain's end when it keeps it. Neither part is empty.
pub(crate) fn cut_chain(chain: &[CubicBez], side: impl Fn(Point) -> f64) -> (Vec<CubicBez>, Vec<CubicBez>) {
    let first = chain.first().map_or(0.0, |c| side(c.p0)).signum();
    let cut = chain.iter().position(|c| side(c.p3).signum() != first);
    let (index, t) = match cut {
        Some(index) => (index, crossing(&chain[index], side)),
        None => (chain.len() - 1, 1.0),
    };
    cut_at(chain, index, t)
}

/// A chain of at least one curve, cut in two `along` mm from its start. Neither part is empty.
pub(crate) fn cut_chain_at(chain: &[CubicBez], along: f64) -> (Vec<CubicBez>, Vec<CubicBez>) {
    let mut left = along.max(0.0);
    for (index, curve) in chain.iter().enumerate() {
        let own = length(curve);
        if left < own {
            return cut_at(chain, index, curve.inv_arclen(left, LENGTH_ACCURACY));
        }
        left -= own;
    }
    cut_at(chain, chain.len() - 1, 1.0)
}

fn cut_at(chain: &[CubicBez], index: usize, t: f64) -> (Vec<CubicBez>, Vec<CubicBez>) {
    let join = match t {
        t if t < NEAR_END && index > 0 => Some(index),
        t if t > 1.0 - NEAR_END && index + 1 < chain.len() => Some(index + 1),
        _ => None,
    };
    if let Some(join) = join {
        return (chain[..join].to_vec(), chain[join..].to_vec());
    }
    let t = t.clamp(NEAR_END, 1.0 - NEAR_END);
    let mut before = chain[..index].to_vec();
    before.push(chain[index].subsegment(0.0..t));
    let mut after = vec![chain[index].subsegment(t..1.0)];
    after.extend_from_slice(&chain[index + 1..]);
    (before, after)
}

/// The same chain walked the other way.
pub(crate) fn reversed(chain: &[CubicBez]) -> Vec<CubicBez> {
    chain.iter().rev().map(|c| CubicBez::new(c.p3, c.p2, c.p1, c.p0)).collect()
}

/// The chain under a motion.
pub(crate) fn moved(chain: &[CubicBez], motion: Affine) -> Vec<CubicBez> {
    chain.iter().map(|&c| motion * c).collect()
}

/// The mirroring about the upright line at `x`.
pub(crate) fn mirror_at(x: f64) -> Affine {
    Affine::new([-1.0, 0.0, 0.0, 1.0, 2.0 * x, 0.0])
}

/// The unit vector at `deg` degrees from the x axis, counter-clockwise.
pub(crate) fn direction(deg: f64) -> Vec2 {
    Vec2::from_angle(deg.to_radians())
}

/// The vector turned a quarter turn counter-clockwise.
pub(crate) fn quarter_turn(v: Vec2) -> Vec2 {
    Vec2::new(-v.y, v.x)
}

/// The vector turned by `angle` radians, counter-clockwise.
pub(crate) fn turned(v: Vec2, angle: f64) -> Vec2 {
    let (sin, cos) = angle.sin_cos();
    Vec2::new(cos * v.x - sin * v.y, sin * v.x + cos * v.y)
}

/// How far `p` lies to the left of the line from `a` to `b`, mm.
pub(crate) fn left_of(p: Point, a: Point, b: Point) -> f64 {
    (b - a).normalize().cross(p - a)
}

/// The value between `low` and `high` where `f` passes zero, by halving; the better end when `f` does not change sign.
pub(crate) fn solve(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (at_low, at_high) = (f(low), f(high));
    if at_low.signum() == at_high.signum() {
        return if at_low.abs() <= at_high.abs() { low } else { high };
    }
    let (mut a, mut b) = (low, high);
    for _ in 0..60 {
        let middle = f64::midpoint(a, b);
        if f(middle).signum() == at_low.signum() { a = middle } else { b = middle }
    }
    f64::midpoint(a, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_circle_has_its_length() {
        let k = 0.552_284_75 * 100.0;
        let arc = hermite(Point::new(100.0, 0.0), Vec2::new(0.0, k), Point::new(0.0, 100.0), Vec2::new(-k, 0.0));
        assert!((length(&arc) - 157.08).abs() < 0.1);
    }

    #[test]
    fn cutting_keeps_the_length() {
        let chain = bent_ruler(&[Point::new(0.0, 0.0), Point::new(50.0, 80.0), Point::new(20.0, 200.0)], None, None);
        let (low, high) = cut_chain_at(&chain, 70.0);
        assert!((chain_length(&low) - 70.0).abs() < 0.01);
        assert!((chain_length(&low) + chain_length(&high) - chain_length(&chain)).abs() < 0.01);
        let (low, high) = cut_chain(&chain, |p| p.y - 120.0);
        assert!((low[low.len() - 1].p3.y - 120.0).abs() < 1e-6);
        assert!((high[0].p0.y - 120.0).abs() < 1e-6);
    }

    #[test]
    fn solving_finds_a_root() {
        assert!((solve(0.0, 10.0, |x| x * x - 2.0) - 2f64.sqrt()).abs() < 1e-9);
    }
}
