//! Convex hulls.

use ellwand_geometry::{Point, orientation, signed_area};

/// Corners of the convex hull of `points`, counter-clockwise (Andrew, "Another efficient algorithm for convex hulls in two dimensions",
/// Information Processing Letters 9, 1979).
pub(crate) fn corners(points: &[Point]) -> Vec<Point> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let chain = |points: &mut dyn Iterator<Item = Point>| {
        let mut hull: Vec<Point> = Vec::new();
        for p in points {
            while hull.len() >= 2 && orientation(hull[hull.len() - 2], hull[hull.len() - 1], p) <= 0.0 {
                hull.pop();
            }
            hull.push(p);
        }
        hull.pop();
        hull
    };
    let mut hull = chain(&mut sorted.iter().copied());
    hull.extend(chain(&mut sorted.iter().rev().copied()));
    hull
}

/// Area of the convex hull of `points`, mm².
pub(crate) fn area(points: &[Point]) -> f64 {
    signed_area(&corners(points))
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::point;

    #[test]
    fn the_hull_of_an_arrow_is_its_triangle() {
        let arrow = [point(0.0, 0.0), point(4.0, 2.0), point(0.0, 4.0), point(1.0, 2.0)];
        assert_eq!(super::area(&arrow), 8.0);
    }
}
