//! Cutting a polygon along a straight line.

use ellwand_geometry::{Bounds, Point, point};

/// The part of a polygon left of `x = at`. A polygon that leaves and comes back keeps the stretch between on the line.
///
/// Method: I. E. Sutherland and G. W. Hodgman, "Reentrant polygon clipping", Communications of the ACM 17 (1974), for
/// one line, <https://doi.org/10.1145/360767.360802>.
pub(crate) fn left_of(polygon: &[Point], at: f64) -> Vec<Point> {
    let mut kept = Vec::new();
    for (i, &a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        if a.x <= at {
            kept.push(a);
        }
        if (a.x < at && b.x > at) || (a.x > at && b.x < at) {
            kept.push(point(at, a.y + (b.y - a.y) * (at - a.x) / (b.x - a.x)));
        }
    }
    kept.dedup();
    kept
}

/// The part of a polygon right of `x = at`; as [`left_of`].
pub(crate) fn right_of(polygon: &[Point], at: f64) -> Vec<Point> {
    let over = |p: &Point| point(-p.x, p.y);
    let turned: Vec<Point> = polygon.iter().map(over).collect();
    left_of(&turned, -at).iter().map(over).collect()
}

/// The part of a polygon within bounds, of which any may be infinite; as [`left_of`].
pub(crate) fn to(polygon: &[Point], bounds: &Bounds) -> Vec<Point> {
    let (low, high) = (bounds.min, bounds.max);
    let mut kept = polygon.to_vec();
    let mut cut = |at: f64, part: fn(&[Point], f64) -> Vec<Point>| {
        if at.is_finite() {
            kept = part(&kept, at);
        }
    };
    cut(high.x, left_of);
    cut(low.x, right_of);
    cut(high.y, below);
    cut(low.y, above);
    kept
}

/// What of a segment lies within bounds; none where nothing does.
pub(crate) fn segment_to([a, b]: [Point; 2], bounds: &Bounds) -> Option<[Point; 2]> {
    let along = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let axes = [(a.x, along.x, bounds.min.x, bounds.max.x), (a.y, along.y, bounds.min.y, bounds.max.y)];
    for (start, step, low, high) in axes {
        if step == 0.0 {
            if start < low || start > high {
                return None;
            }
            continue;
        }
        let ends = [(low - start) / step, (high - start) / step];
        from = from.max(ends[0].min(ends[1]));
        to = to.min(ends[0].max(ends[1]));
    }
    (from < to).then(|| [a + along * from, a + along * to])
}

/// The part of a polygon above `y = at`; as [`left_of`].
pub(crate) fn above(polygon: &[Point], at: f64) -> Vec<Point> {
    let quarter = |p: &Point| point(-p.y, p.x);
    let turned: Vec<Point> = polygon.iter().map(quarter).collect();
    left_of(&turned, -at).iter().map(|p| point(p.y, -p.x)).collect()
}

/// The part of a polygon below `y = at`; as [`left_of`].
pub(crate) fn below(polygon: &[Point], at: f64) -> Vec<Point> {
    let quarter = |p: &Point| point(p.y, -p.x);
    let turned: Vec<Point> = polygon.iter().map(quarter).collect();
    left_of(&turned, at).iter().map(|p| point(-p.y, p.x)).collect()
}

/// The part of a polygon within a convex counter-clockwise one; as [`left_of`], for each of its sides. `O(nm)`.
pub(crate) fn within(polygon: &[Point], convex: &[Point]) -> Vec<Point> {
    let mut kept = polygon.to_vec();
    for (i, &from) in convex.iter().enumerate() {
        let along = convex[(i + 1) % convex.len()] - from;
        let inside = |p: Point| along.x * (p.y - from.y) - along.y * (p.x - from.x);
        let whole = std::mem::take(&mut kept);
        for (i, &a) in whole.iter().enumerate() {
            let b = whole[(i + 1) % whole.len()];
            let (at_a, at_b) = (inside(a), inside(b));
            if at_a >= 0.0 {
                kept.push(a);
            }
            if (at_a > 0.0 && at_b < 0.0) || (at_a < 0.0 && at_b > 0.0) {
                kept.push(a + (b - a) * (at_a / (at_a - at_b)));
            }
        }
        kept.dedup();
    }
    kept
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::signed_area;

    use super::*;

    #[test]
    fn the_parts_of_a_triangle_have_the_areas_of_similar_triangles() {
        let triangle = [(0.0, 0.0), (8.0, 0.0), (0.0, 8.0)].map(|(x, y)| point(x, y));
        assert_eq!(signed_area(&left_of(&triangle, 4.0)), 32.0 - 8.0);
        assert_eq!(signed_area(&above(&triangle, 4.0)), 8.0);
        assert_eq!(above(&triangle, 9.0), []);
        assert_eq!(signed_area(&below(&triangle, 4.0)), 32.0 - 8.0);
        assert_eq!(signed_area(&right_of(&triangle, 4.0)), 8.0);
        let strip = Bounds { min: point(4.0, f64::NEG_INFINITY), max: point(f64::INFINITY, 2.0) };
        assert_eq!(signed_area(&to(&triangle, &strip)), 8.0 - 2.0);
        assert_eq!(segment_to([point(0.0, 1.0), point(9.0, 1.0)], &strip), Some([point(4.0, 1.0), point(9.0, 1.0)]));
        assert_eq!(segment_to([point(0.0, 3.0), point(9.0, 3.0)], &strip), None);
    }

    #[test]
    fn a_diamond_in_the_corner_of_a_square_is_cut_to_a_quarter() {
        let square = [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)].map(|(x, y)| point(x, y));
        let diamond = [(2.0, 0.0), (0.0, 2.0), (-2.0, 0.0), (0.0, -2.0)].map(|(x, y)| point(x, y));
        assert_eq!(signed_area(&within(&square, &diamond)), 2.0);
        let beyond = diamond.map(|p| p - point(5.0, 5.0));
        assert_eq!(signed_area(&within(&square, &beyond)), 0.0);
    }
}
