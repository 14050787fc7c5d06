//! What two rings have in common, summed over pairs of triangles in rational numbers.

use num_rational::BigRational;

use crate::{Point, Triangle, side, triangles};

/// What two rings have in common.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Common {
    /// The area, mm²; summed exactly, rounded once.
    pub area: f64,
    /// The greatest mean thickness of a part common to two triangles, mm: twice its area over its perimeter.
    pub thickness: f64,
}

impl Common {
    /// Whether this is an overlap to a person with scissors: more than a thousandth of a millimetre thick, and more than a tenth
    /// of a millimetre square.
    pub fn is_overlap(&self) -> bool {
        self.thickness > 0.001 && self.area > 0.01
    }
}

/// A simple ring cut into triangles, to be compared with others.
#[derive(Debug, Clone)]
pub struct Shape {
    triangles: Vec<Triangle>,
}

impl Shape {
    /// The shape of a ring, whichever way it runs.
    ///
    /// # Panics
    ///
    /// When the ring is not simple.
    pub fn of(ring: &[Point]) -> Self {
        Self { triangles: triangles(ring) }
    }

    /// What two shapes have in common; touching counts nothing.
    pub fn common(&self, other: &Self) -> Common {
        let mut twice_whole = BigRational::from_integer(0.into());
        let mut thickness: f64 = 0.0;
        for s in &self.triangles {
            for t in other.triangles.iter().filter(|t| !apart(s, t)) {
                let part = clipped(s, t);
                let twice = twice_area(&part);
                let perimeter: f64 = (0..part.len()).map(|i| length(&part[i], &part[(i + 1) % part.len()])).sum();
                if perimeter > 0.0 {
                    thickness = thickness.max(float(&twice) / perimeter);
                }
                twice_whole += twice;
            }
        }
        Common { area: float(&twice_whole) / 2.0, thickness }
    }
}

/// What two simple rings have in common.
///
/// # Panics
///
/// When a ring is not simple.
pub fn common(a: &[Point], b: &[Point]) -> Common {
    Shape::of(a).common(&Shape::of(b))
}

/// Whether the interiors of two triangles are apart: then an upright rectangle or the line of some side of one has the other
/// beyond it. Exact.
fn apart(s: &Triangle, t: &Triangle) -> bool {
    let span = |t: &Triangle, part: fn(&Point) -> f64| {
        let [a, b, c] = [part(&t[0]), part(&t[1]), part(&t[2])];
        (a.min(b).min(c), a.max(b).max(c))
    };
    let parted = |part: fn(&Point) -> f64| {
        let ((low, high), (other_low, other_high)) = (span(s, part), span(t, part));
        high <= other_low || other_high <= low
    };
    let beyond = |s: &Triangle, t: &Triangle| (0..3).any(|i| t.iter().all(|&p| side(s[i], s[(i + 1) % 3], p) <= 0.0));
    parted(|p| p.0) || parted(|p| p.1) || beyond(s, t) || beyond(t, s)
}

type Exact = [BigRational; 2];

fn exact((x, y): Point) -> Exact {
    [x, y].map(|v| BigRational::from_float(v).expect("a finite coordinate"))
}

fn float(v: &BigRational) -> f64 {
    // Both parts may be far beyond what a float holds; their leading bits are what counts.
    let shift = v.numer().bits().max(v.denom().bits()).saturating_sub(900);
    let [numer, denom] = [v.numer(), v.denom()].map(|part| (part >> shift).to_string().parse().unwrap_or(f64::NAN));
    numer / denom
}

fn turn(a: &Exact, b: &Exact, c: &Exact) -> BigRational {
    (&b[0] - &a[0]) * (&c[1] - &a[1]) - (&b[1] - &a[1]) * (&c[0] - &a[0])
}

fn length(a: &Exact, b: &Exact) -> f64 {
    let [dx, dy] = [0, 1].map(|k| float(&(&b[k] - &a[k])));
    dx.hypot(dy)
}

fn twice_area(ring: &[Exact]) -> BigRational {
    let zero = BigRational::from_integer(0.into());
    (1..ring.len().saturating_sub(1)).fold(zero, |sum, i| sum + turn(&ring[0], &ring[i], &ring[i + 1]))
}

/// The part of one triangle within the other (Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM
/// 17(1), 1974, DOI 10.1145/360767.360802).
fn clipped(s: &Triangle, t: &Triangle) -> Vec<Exact> {
    let zero = BigRational::from_integer(0.into());
    let window = t.map(exact);
    let mut ring: Vec<Exact> = s.iter().copied().map(exact).collect();
    for k in 0..3 {
        let (a, b) = (&window[k], &window[(k + 1) % 3]);
        let sides: Vec<BigRational> = ring.iter().map(|p| turn(a, b, p)).collect();
        let mut kept = Vec::with_capacity(ring.len() + 1);
        for i in 0..ring.len() {
            let j = (i + 1) % ring.len();
            if sides[i] >= zero {
                kept.push(ring[i].clone());
            }
            if (sides[i] > zero && sides[j] < zero) || (sides[i] < zero && sides[j] > zero) {
                let share = &sides[i] / (&sides[i] - &sides[j]);
                kept.push([0, 1].map(|c| &ring[i][c] + (&ring[j][c] - &ring[i][c]) * &share));
            }
        }
        ring = kept;
    }
    ring
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::area;

    #[test]
    fn rings_that_touch_have_nothing_in_common() {
        let square = [(0.1, 0.1), (10.3, 0.1), (10.3, 10.7), (0.1, 10.7)];
        let beside = square.map(|(x, y)| (x + (10.3 - 0.1), y + 3.0));
        assert!(common(&square, &beside).area < 1e-12);
        assert!(!common(&square, &beside).is_overlap());
    }

    #[test]
    fn a_ring_has_itself_in_common_with_itself() {
        let hook = [(0.0, 0.0), (60.1, 0.3), (60.0, 60.0), (40.0, 60.0), (40.7, 20.0), (0.0, 20.0)];
        let with_itself = common(&hook, &hook);
        assert!((with_itself.area - area(&hook)).abs() < 1e-9 && with_itself.is_overlap());
    }

    #[test]
    fn a_sliver_is_no_overlap_and_a_corner_is() {
        let square = [(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)];
        let moved = |dx: f64, dy: f64| square.map(|(x, y)| (x + dx, y + dy));
        assert!(!common(&square, &moved(0.0, 49.9995)).is_overlap());
        let corner = common(&square, &moved(49.0, 48.0));
        assert_eq!(corner.area, 2.0);
        assert!(corner.is_overlap());
    }
}
