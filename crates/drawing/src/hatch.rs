//! Hatching a polygon with parallel lines, drawn out so that every printer and viewer shows it.

use ellwand_geometry::Point;

use crate::boxes::turned;

/// Where the line at height `y` lies inside the polygon: pairs of `x`, in order.
pub(crate) fn inside_spans(polygon: &[Point], y: f64) -> Vec<(f64, f64)> {
    let mut crossings: Vec<f64> = Vec::new();
    for (i, &a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        if (a.y <= y) != (b.y <= y) {
            crossings.push(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
        }
    }
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Whether a place lies inside a polygon.
pub(crate) fn is_inside(polygon: &[Point], p: Point) -> bool {
    inside_spans(polygon, p.y).iter().any(|&(from, to)| from <= p.x && p.x <= to)
}

/// Whether a segment crosses the edge of a polygon.
pub(crate) fn is_crossed(polygon: &[Point], [a, b]: [Point; 2]) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    let meets = |c: Point, d: Point| side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
    (0..polygon.len()).any(|i| meets(polygon[i], polygon[(i + 1) % polygon.len()]))
}

/// Lines that hatch `polygon`, `spacing` apart, falling at `deg` on the page.
pub(crate) fn lines(polygon: &[Point], spacing: f64, deg: f64) -> Vec<[Point; 2]> {
    let local: Vec<Point> = polygon.iter().map(|&p| turned(p, -deg)).collect();
    let low = local.iter().fold(f64::INFINITY, |m, p| m.min(p.y));
    let high = local.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.y));
    let first = (low / spacing).floor() as i64 + 1;
    let last = (high / spacing).ceil() as i64 - 1;
    (first..=last)
        .flat_map(|row| {
            let y = row as f64 * spacing;
            inside_spans(&local, y).into_iter().map(move |(from, to)| {
                [ellwand_geometry::point(from, y), ellwand_geometry::point(to, y)].map(|p| turned(p, deg))
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_geometry::point;

    #[test]
    fn hatching_a_square_covers_its_area() {
        let square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)].map(|(x, y)| point(x, y));
        let total: f64 = lines(&square, 0.1, 45.0).iter().map(|[a, b]| (b.x - a.x).hypot(b.y - a.y)).sum();
        assert!((total * 0.1 - 100.0).abs() < 0.5, "length times spacing is the area: {total}");
    }
}
