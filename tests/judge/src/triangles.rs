//! A ring cut into triangles, ear by ear.

use crate::{Point, area, side};

/// Three corners, counter-clockwise.
pub type Triangle = [Point; 3];

/// The triangles of a simple ring, whichever way it runs: an ear, a corner whose neighbours see each other, is cut off until
/// three corners are left. Decided by exact predicates.
///
/// # Panics
///
/// When the ring is not simple, so that some corner is no ear.
pub fn triangles(ring: &[Point]) -> Vec<Triangle> {
    let mut left: Vec<Point> = ring.to_vec();
    if area(&left) < 0.0 {
        left.reverse();
    }
    let mut found = Vec::with_capacity(ring.len());
    while left.len() > 3 {
        let n = left.len();
        let at = |i: usize| left[i % n];
        let ear = (0..n).find(|&i| {
            let (a, b, c) = (at(i + n - 1), at(i), at(i + 1));
            let turn = side(a, b, c);
            if turn <= 0.0 {
                return turn == 0.0;
            }
            let others = (i + 2..i + n - 1).map(at).filter(|&p| p != a && p != b && p != c);
            !others.into_iter().any(|p| side(a, b, p) >= 0.0 && side(b, c, p) >= 0.0 && side(c, a, p) >= 0.0)
        });
        let ear = ear.expect("a simple ring has an ear");
        let triangle = [at(ear + n - 1), at(ear), at(ear + 1)];
        if side(triangle[0], triangle[1], triangle[2]) > 0.0 {
            found.push(triangle);
        }
        left.remove(ear);
    }
    if side(left[0], left[1], left[2]) > 0.0 {
        found.push([left[0], left[1], left[2]]);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn triangles_cover_the_ring_once() {
        let ring =
            [(0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (40.0, 60.0), (40.0, 20.0), (20.0, 50.0), (0.0, 20.0), (0.0, 10.0)];
        let sum: f64 = triangles(&ring).iter().map(|t| area(t)).sum();
        assert!((sum - area(&ring)).abs() < 1e-9);
        let backwards: Vec<Point> = ring.into_iter().rev().collect();
        assert_eq!(triangles(&backwards).iter().map(|t| area(t)).sum::<f64>(), sum);
    }
}
