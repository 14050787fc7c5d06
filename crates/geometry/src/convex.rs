//! Convex parts of an outline, and the Minkowski sum of two of them.
//!
//! The parts come from ear clipping followed by the merging of Hertel and Mehlhorn ("Fast triangulation of simple polygons",
//! FCT 1983), which leaves at most four times the fewest parts possible. No point is added, and orientation is decided exactly.

use crate::{Outline, Point, orientation, point};

/// A convex polygon, counter-clockwise, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct ConvexPart {
    points: Vec<Point>,
}

impl ConvexPart {
    /// A part from its corners. The caller vouches that they are convex and counter-clockwise, with no three on a line.
    pub fn around(points: Vec<Point>) -> Self {
        debug_assert!(points.len() >= 3, "a convex part has at least three corners");
        Self { points }
    }

    /// The corners, counter-clockwise.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The part with every coordinate multiplied by `sx` or `sy`, each +1 or -1.
    pub fn flipped(&self, sx: f64, sy: f64) -> Self {
        let mut points: Vec<Point> = self.points.iter().map(|p| point(p.x * sx, p.y * sy)).collect();
        if sx * sy < 0.0 {
            points.reverse();
        }
        Self { points }
    }

    /// All sums of a point of `self` and a point of `other`. Linear in the number of corners: the edges of both are
    /// merged by direction (de Berg, Cheong, van Kreveld & Overmars, "Computational Geometry", 3rd ed., section 13.3).
    pub fn minkowski_sum(&self, other: &Self) -> Self {
        let (p, q) = (lowest_first(&self.points), lowest_first(&other.points));
        let (n, m) = (p.len(), q.len());
        let mut points = Vec::with_capacity(n + m);
        let (mut i, mut j) = (0, 0);
        while i < n || j < m {
            points.push(p[i % n] + q[j % m]);
            let u = p[(i + 1) % n] - p[i % n];
            let v = q[(j + 1) % m] - q[j % m];
            let turn = u.x * v.y - u.y * v.x;
            if i >= n {
                j += 1;
            } else if j >= m {
                i += 1;
            } else {
                if turn >= 0.0 {
                    i += 1;
                }
                if turn <= 0.0 {
                    j += 1;
                }
            }
        }
        Self { points }
    }
}

/// The same cycle starting at its lowest, then leftmost, corner.
fn lowest_first(points: &[Point]) -> Vec<Point> {
    let start = (0..points.len())
        .min_by(|&a, &b| points[a].y.total_cmp(&points[b].y).then(points[a].x.total_cmp(&points[b].x)))
        .unwrap_or(0);
    points[start..].iter().chain(&points[..start]).copied().collect()
}

/// Cuts `outline` into convex parts that cover it without overlapping. `O(n²)` for usual shapes.
pub fn convex_parts(outline: &Outline) -> Vec<ConvexPart> {
    let ring = without_straight_corners(outline.points());
    let mut parts = ear_clip(&ring);
    merge(&ring, &mut parts);
    parts.into_iter().map(|part| ConvexPart { points: part.into_iter().map(|i| ring[i]).collect() }).collect()
}

/// Drops corners that lie exactly on the line through their neighbours.
fn without_straight_corners(ring: &[Point]) -> Vec<Point> {
    let n = ring.len();
    (0..n).filter(|&i| orientation(ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]) != 0.0).map(|i| ring[i]).collect()
}

/// Triangles as index cycles.
fn ear_clip(ring: &[Point]) -> Vec<Vec<usize>> {
    let mut left: Vec<usize> = (0..ring.len()).collect();
    let mut triangles = Vec::with_capacity(ring.len().saturating_sub(2));
    while left.len() > 3 {
        let n = left.len();
        // Of all ears take the one with the shortest new diagonal: fewer slivers, fewer parts after merging.
        let ear = (0..n)
            .filter(|&k| is_ear(ring, &left, k))
            .min_by(|&a, &b| diagonal_sq(ring, &left, a).total_cmp(&diagonal_sq(ring, &left, b)))
            // Rounding leaves no ear only where what is left is a line: any corner will do.
            .unwrap_or(0);
        let (a, b, c) = (left[(ear + n - 1) % n], left[ear], left[(ear + 1) % n]);
        if orientation(ring[a], ring[b], ring[c]) > 0.0 {
            triangles.push(vec![a, b, c]);
        }
        left.remove(ear);
    }
    if orientation(ring[left[0]], ring[left[1]], ring[left[2]]) > 0.0 {
        triangles.push(left);
    }
    triangles
}

fn diagonal_sq(ring: &[Point], left: &[usize], k: usize) -> f64 {
    let n = left.len();
    let d = ring[left[(k + 1) % n]] - ring[left[(k + n - 1) % n]];
    d.x * d.x + d.y * d.y
}

fn is_ear(ring: &[Point], left: &[usize], k: usize) -> bool {
    let n = left.len();
    let (ia, ib, ic) = (left[(k + n - 1) % n], left[k], left[(k + 1) % n]);
    let (a, b, c) = (ring[ia], ring[ib], ring[ic]);
    if orientation(a, b, c) <= 0.0 {
        return false;
    }
    left.iter().all(|&i| {
        let p = ring[i];
        i == ia
            || i == ib
            || i == ic
            || orientation(a, b, p) < 0.0
            || orientation(b, c, p) < 0.0
            || orientation(c, a, p) < 0.0
    })
}

/// Removes diagonals whose removal leaves both ends convex, longest diagonal first.
fn merge(ring: &[Point], parts: &mut Vec<Vec<usize>>) {
    let n = ring.len();
    let mut diagonals: Vec<(usize, usize)> = Vec::new();
    for part in parts.iter() {
        for (k, &a) in part.iter().enumerate() {
            let b = part[(k + 1) % part.len()];
            let on_outline = b == (a + 1) % n || a == (b + 1) % n;
            if !on_outline && a < b {
                diagonals.push((a, b));
            }
        }
    }
    let length_sq = |&(a, b): &(usize, usize)| {
        let d = ring[b] - ring[a];
        d.x * d.x + d.y * d.y
    };
    diagonals.sort_by(|p, q| length_sq(q).total_cmp(&length_sq(p)).then(p.cmp(q)));
    for (a, b) in diagonals {
        let find = |from: usize, to: usize| {
            parts.iter().position(|part| (0..part.len()).any(|k| part[k] == from && part[(k + 1) % part.len()] == to))
        };
        let (Some(first), Some(second)) = (find(a, b), find(b, a)) else { continue };
        let joined = join(&parts[first], &parts[second], a, b);
        let convex_at = |v: usize| {
            let m = joined.len();
            let k = joined.iter().position(|&i| i == v).unwrap_or(0);
            orientation(ring[joined[(k + m - 1) % m]], ring[v], ring[joined[(k + 1) % m]]) >= 0.0
        };
        if convex_at(a) && convex_at(b) {
            parts[first] = joined;
            parts.swap_remove(second);
        }
    }
}

/// The cycle around two parts that share the edge `a`–`b` (`first` runs it from `a` to `b`, `second` back).
fn join(first: &[usize], second: &[usize], a: usize, b: usize) -> Vec<usize> {
    let from = |part: &[usize], start: usize| -> Vec<usize> {
        let k = part.iter().position(|&i| i == start).unwrap_or(0);
        part[k..].iter().chain(&part[..k]).copied().collect()
    };
    // first: b … a (without the edge a→b); second: a … b.
    let mut joined = from(first, b);
    let tail = from(second, a);
    joined.extend_from_slice(&tail[1..tail.len() - 1]);
    joined
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(part: &ConvexPart) -> f64 {
        Outline::new(part.points.clone()).unwrap().area()
    }

    #[test]
    fn a_convex_outline_is_one_part() {
        let hexagon =
            Outline::from_pairs(&[(0.0, 0.0), (2.0, -1.0), (4.0, 0.0), (4.0, 3.0), (2.0, 4.0), (0.0, 3.0)]).unwrap();
        assert_eq!(convex_parts(&hexagon).len(), 1);
    }

    #[test]
    fn an_l_shape_is_two_parts_of_the_same_area() {
        let ell =
            Outline::from_pairs(&[(0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 4.0), (0.0, 4.0)]).unwrap();
        let parts = convex_parts(&ell);
        assert_eq!(parts.len(), 2);
        assert_eq!(parts.iter().map(area).sum::<f64>(), ell.area());
    }

    #[test]
    fn the_sum_of_a_square_and_a_diamond_is_an_octagon() {
        let square = &convex_parts(&Outline::rectangle(2.0, 2.0).unwrap())[0];
        let diamond = Outline::from_pairs(&[(0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)]).unwrap();
        let sum = square.minkowski_sum(&convex_parts(&diamond)[0]);
        assert_eq!(sum.points().len(), 8);
        // Area of a sum: both areas and twice the mixed area; by hand 4 + 2 + 8.
        assert!((area(&sum) - 14.0).abs() < 1e-12);
    }

    #[test]
    fn parallel_edges_join_into_one() {
        let square = &convex_parts(&Outline::rectangle(2.0, 2.0).unwrap())[0];
        let sum = square.minkowski_sum(square);
        assert_eq!(sum.points(), &[point(0.0, 0.0), point(4.0, 0.0), point(4.0, 4.0), point(0.0, 4.0)]);
    }
}
