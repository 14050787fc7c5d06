//! A judge of rings of points for tests: brute force and exact arithmetic, sharing nothing with the crates it judges.
//!
//! A ring is a list of points in mm, the last joined to the first. Whether edges cross is decided by exact predicates; how much
//! two rings have in common is summed over triangles in rational numbers, so no rounding and no polygon overlay is in it.
//! Everything takes time with the square of the number of points.
//!
//! ```
//! use ellwand_judge::{clearance, common};
//!
//! let square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)];
//! assert_eq!(clearance(&square), 10.0);
//! let beside = square.map(|(x, y)| (x + 9.0, y + 3.0));
//! assert_eq!(common(&square, &beside).area, 7.0);
//! ```

mod common;
mod triangles;

pub use common::{Common, Shape, common};
pub use triangles::{Triangle, triangles};

/// A point, mm.
pub type Point = (f64, f64);

/// Which side of the way from `a` to `b` the point `c` lies on: above zero to the left. The sign is exact.
pub fn side(a: Point, b: Point, c: Point) -> f64 {
    let coord = |(x, y): Point| robust::Coord { x, y };
    robust::orient2d(coord(a), coord(b), coord(c))
}

/// The edges of a ring, each with its start.
pub fn edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    (0..ring.len()).map(|i| (ring[i], ring[(i + 1) % ring.len()]))
}

/// Area by the shoelace formula, above zero for a counter-clockwise ring, mm².
pub fn area(ring: &[Point]) -> f64 {
    let (x, y) = ring[0];
    edges(ring).map(|(a, b)| (a.0 - x) * (b.1 - y) - (b.0 - x) * (a.1 - y)).sum::<f64>() / 2.0
}

/// Whether two closed segments have a point in common; exact.
pub fn meet((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let parted = |s: f64, t: f64| (s > 0.0 && t > 0.0) || (s < 0.0 && t < 0.0);
    let apart = |a: f64, b: f64, c: f64, d: f64| a.max(b) < c.min(d) || c.max(d) < a.min(b);
    !(apart(a.0, b.0, c.0, d.0)
        || apart(a.1, b.1, c.1, d.1)
        || parted(side(a, b, c), side(a, b, d))
        || parted(side(c, d, a), side(c, d, b)))
}

/// Distance of a point from a segment, mm.
pub fn distance_to_segment(p: Point, (a, b): (Point, Point)) -> f64 {
    let (along, to_p) = ((b.0 - a.0, b.1 - a.1), (p.0 - a.0, p.1 - a.1));
    let square = along.0 * along.0 + along.1 * along.1;
    let share = if square == 0.0 { 0.0 } else { (to_p.0 * along.0 + to_p.1 * along.1) / square };
    let share = share.clamp(0.0, 1.0);
    (to_p.0 - along.0 * share).hypot(to_p.1 - along.1 * share)
}

/// Distance of a point from the border of a ring, mm.
pub fn distance_to_border(p: Point, ring: &[Point]) -> f64 {
    edges(ring).map(|edge| distance_to_segment(p, edge)).fold(f64::INFINITY, f64::min)
}

/// Whether a point lies in the ring or on its border; exact.
pub fn covers(ring: &[Point], p: Point) -> bool {
    if edges(ring).any(|(a, b)| meet((a, b), (p, p))) {
        return true;
    }
    let crossings = edges(ring).filter(|&(a, b)| {
        let (low, high) = if a.1 < b.1 { (a, b) } else { (b, a) };
        low.1 <= p.1 && p.1 < high.1 && side(low, high, p) > 0.0
    });
    crossings.count() % 2 == 1
}

/// The least distance between a corner and an edge that does not meet it, mm; 0 when edges cross, or fold back on their
/// neighbour. A ring is simple exactly when it is above zero.
pub fn clearance(ring: &[Point]) -> f64 {
    let n = ring.len();
    let all: Vec<(Point, Point)> = edges(ring).collect();
    let mut least = f64::INFINITY;
    for i in 0..n {
        for j in 0..n {
            let neighbours = j == i || (j + 1) % n == i || (i + 1) % n == j;
            if !neighbours && i < j && meet(all[i], all[j]) {
                return 0.0;
            }
            if j != i && (j + 1) % n != i {
                least = least.min(distance_to_segment(ring[i], all[j]));
            }
        }
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOOK: [Point; 6] = [(0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (40.0, 60.0), (40.0, 20.0), (0.0, 20.0)];

    #[test]
    fn a_crossing_ring_has_no_clearance() {
        assert_eq!(clearance(&[(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)]), 0.0);
        let slit = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 4.0), (2.0, 1.0), (2.0, 4.0), (0.0, 4.0)];
        assert_eq!(clearance(&slit), 0.0);
        assert_eq!(clearance(&HOOK), 20.0);
    }

    #[test]
    fn what_a_hook_covers() {
        assert!(covers(&HOOK, (50.0, 40.0)) && covers(&HOOK, (40.0, 40.0)));
        assert!(!covers(&HOOK, (20.0, 40.0)) && !covers(&HOOK, (39.999_999, 40.0)));
        assert_eq!(area(&HOOK), 2000.0);
        assert_eq!(distance_to_border((20.0, 30.0), &HOOK), 10.0);
    }
}
