//! A border as it comes out of a union, made a simple outline that keeps a hair's distance from itself.
//!
//! A union of parts that touch but for a rounding error leaves slits of no width, gaps closed all but a hair, and points that
//! lie on one another. Wherever a corner comes within [`HAIR_MM`] of an edge that does not meet it, the border is cut through
//! there: a slit or gap is filled, a fibre thinner than a hair is dropped. What is left keeps its distance by construction.

use rstar::{AABB, RTree, RTreeObject};

use crate::outline::signed_area;
use crate::path::distance;
use crate::{HAIR_MM, Outline, OutlineFault, Point, distance_to_segment};

/// Points of a union nearer than this to a point of its parts, or to a straight line, are rounding noise, mm.
pub(super) const NOISE_MM: f64 = 1e-7;

/// Puts the points of `ring` back onto the corners they came from, `NOISE_MM` away at most.
pub(super) fn back_onto(corners: impl Iterator<Item = Point>, ring: &mut [Point]) {
    let mut by_x: Vec<Point> = corners.collect();
    by_x.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    for p in ring {
        let start = by_x.partition_point(|c| c.x < p.x - NOISE_MM);
        let near = by_x[start..].iter().take_while(|c| c.x <= p.x + NOISE_MM);
        let nearest = near.map(|&c| (distance(c, *p), c)).min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((off, corner)) = nearest
            && off <= NOISE_MM
        {
            *p = corner;
        }
    }
}

/// The counter-clockwise ring without noise, slits and fibres; see the module.
pub(super) fn tidied(mut ring: Vec<Point>) -> Vec<Point> {
    loop {
        ring = without_superfluous(ring);
        let cuts = Cuts::of(&ring);
        if cuts.is_empty() {
            return ring;
        }
        ring = cuts.made(&ring);
    }
}

/// Without points that nearly coincide with their neighbour or lie in line with both.
fn without_superfluous(ring: Vec<Point>) -> Vec<Point> {
    let n = ring.len();
    let mut before: Vec<usize> = (0..n).map(|i| (i + n - 1) % n).collect();
    let mut after: Vec<usize> = (0..n).map(|i| (i + 1) % n).collect();
    let mut gone = vec![false; n];
    let mut left = n;
    // Each point is looked at once, and again when a neighbour goes.
    let mut to_see: Vec<usize> = (0..n).rev().collect();
    while let Some(i) = to_see.pop() {
        if gone[i] || left <= 3 {
            continue;
        }
        let (b, a) = (before[i], after[i]);
        let off = |p: usize, from: usize, to: usize| distance_to_segment(ring[p], ring[from], ring[to]);
        let drop = if distance(ring[i], ring[a]) <= HAIR_MM {
            // Of two that nearly coincide, the one farther out of line tells more.
            let beyond = after[a];
            if off(i, b, beyond) > off(a, b, beyond) { a } else { i }
        } else if off(i, b, a) <= NOISE_MM {
            i
        } else {
            continue;
        };
        let (b, a) = (before[drop], after[drop]);
        (after[b], before[a]) = (a, b);
        gone[drop] = true;
        left -= 1;
        to_see.extend([a, b]);
    }
    (0..n).filter(|&i| !gone[i]).map(|i| ring[i]).collect()
}

/// Where a ring comes within a hair of itself, and which of its points go.
struct Cuts {
    /// A corner, the edge it is near to (by its start), and whether the loop from the corner to that edge is given up.
    dropped: Vec<(usize, usize)>,
}

struct Side(usize, Point, Point);

impl RTreeObject for Side {
    type Envelope = AABB<[f64; 2]>;
    fn envelope(&self) -> Self::Envelope {
        AABB::from_corners([self.1.x, self.1.y], [self.2.x, self.2.y])
    }
}

impl Cuts {
    fn of(ring: &[Point]) -> Self {
        let n = ring.len();
        let tree = RTree::bulk_load((0..n).map(|j| Side(j, ring[j], ring[(j + 1) % n])).collect());
        let sums = Sums::of(ring);
        let mut dropped = Vec::new();
        for (i, &p) in ring.iter().enumerate() {
            let window = AABB::from_corners([p.x - HAIR_MM, p.y - HAIR_MM], [p.x + HAIR_MM, p.y + HAIR_MM]);
            for &Side(j, a, b) in tree.locate_in_envelope_intersecting(window) {
                let meets = j == i || (j + 1) % n == i;
                if meets || distance_to_segment(p, a, b) > HAIR_MM {
                    continue;
                }
                // One loop runs from the corner to the edge's start, the other from its end back to the corner.
                let (to_edge, from_edge) = (sums.loop_between(i, j), sums.loop_between((j + 1) % n, i));
                let (lost, first, count) = if to_edge.area >= from_edge.area {
                    (from_edge, (j + 1) % n, (i + n - j - 1) % n)
                } else {
                    (to_edge, (i + 1) % n, (j + n - i) % n)
                };
                // A loop that runs the other way round is a gap; one with the same sense is cloth, and only a fibre goes.
                if count > 0 && count + 3 <= n && lost.area <= HAIR_MM * lost.length {
                    dropped.push((first, count));
                }
            }
        }
        dropped.sort_by_key(|&(first, count)| (std::cmp::Reverse(count), first));
        Self { dropped }
    }

    fn is_empty(&self) -> bool {
        self.dropped.is_empty()
    }

    /// The ring without the points to drop: the longest loops first, and no loop that touches one already dropped, which is
    /// judged anew.
    fn made(&self, ring: &[Point]) -> Vec<Point> {
        let n = ring.len();
        let mut gone = vec![false; n];
        let mut left = n;
        for &(first, count) in &self.dropped {
            // The points beside the loop stay and meet there.
            let touched = (0..count + 2).any(|k| gone[(first + n - 1 + k) % n]);
            if touched || left < count + 3 {
                continue;
            }
            (0..count).for_each(|k| gone[(first + k) % n] = true);
            left -= count;
        }
        (0..n).filter(|&i| !gone[i]).map(|i| ring[i]).collect()
    }
}

/// Sums along a ring, for the area and length of any part of it closed straight.
struct Sums<'a> {
    ring: &'a [Point],
    crossed: Vec<f64>,
    length: Vec<f64>,
}

#[derive(Clone, Copy)]
struct Loop {
    area: f64,
    length: f64,
}

impl<'a> Sums<'a> {
    fn of(ring: &'a [Point]) -> Self {
        let n = ring.len();
        let (mut crossed, mut length) = (vec![0.0], vec![0.0]);
        for k in 0..2 * n {
            let (a, b) = (ring[k % n] - ring[0], ring[(k + 1) % n] - ring[0]);
            crossed.push(crossed[k] + a.x * b.y - a.y * b.x);
            length.push(length[k] + distance(a, b));
        }
        Self { ring, crossed, length }
    }

    /// The loop from point `from` on to point `to` and straight back.
    fn loop_between(&self, from: usize, to: usize) -> Loop {
        let n = self.ring.len();
        let end = from + (to + n - from) % n;
        let (a, b) = (self.ring[to] - self.ring[0], self.ring[from] - self.ring[0]);
        let crossed = self.crossed[end] - self.crossed[from] + a.x * b.y - a.y * b.x;
        Loop { area: crossed / 2.0, length: self.length[end] - self.length[from] + distance(a, b) }
    }
}

/// The outline of a tidied border. What still crosses itself does so by rounding, and encloses nothing there: it is cut through.
pub(super) fn outline_of(mut ring: Vec<Point>) -> Result<Outline, Vec<OutlineFault>> {
    loop {
        let faults = match Outline::new(ring.clone()) {
            Ok(outline) => return Ok(outline),
            Err(faults) => faults,
        };
        let OutlineFault::SelfCrossing { first, second, at } = faults[0] else { return Err(faults) };
        let loops = [
            std::iter::once(at).chain(ring[first + 1..=second].iter().copied()).collect::<Vec<_>>(),
            std::iter::once(at).chain(ring[second + 1..].iter().chain(&ring[..=first]).copied()).collect(),
        ];
        let kept = if signed_area(&loops[0]).abs() > signed_area(&loops[1]).abs() { 0 } else { 1 };
        let shortened = tidied(loops[kept].clone());
        // The part given up winds the other way round, or encloses nothing.
        if shortened.len() >= ring.len() || signed_area(&loops[1 - kept]) > HAIR_MM {
            return Err(faults);
        }
        ring = shortened;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::point;

    fn ring(pairs: &[(f64, f64)]) -> Vec<Point> {
        pairs.iter().map(|&(x, y)| point(x, y)).collect()
    }

    #[test]
    fn a_slit_of_no_width_is_filled() {
        let e = 1e-6;
        let slit =
            ring(&[(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (50.0 + e, 50.0), (50.0, 20.0), (50.0, 50.0), (0.0, 50.0)]);
        assert_eq!(tidied(slit), ring(&[(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)]));
    }

    #[test]
    fn a_gap_behind_a_mouth_closed_all_but_a_hair_is_filled() {
        let e = 2e-5;
        let bottle = ring(&[
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 50.0),
            (50.0 + e, 50.0),
            (70.0, 20.0),
            (30.0, 20.0),
            (50.0 - e, 50.0),
            (0.0, 50.0),
        ]);
        assert_eq!(tidied(bottle).len(), 4);
    }

    #[test]
    fn a_fibre_is_dropped_and_a_thin_strip_of_cloth_stays() {
        let strip = |width: f64| {
            ring(&[
                (0.0, 0.0),
                (100.0, 0.0),
                (100.0, 50.0),
                (50.0 + width, 50.0),
                (50.0 + width, 90.0),
                (50.0, 90.0),
                (50.0, 50.0),
                (0.0, 50.0),
            ])
        };
        assert_eq!(tidied(strip(5e-5)).len(), 4);
        assert_eq!(tidied(strip(0.5)).len(), 8);
    }

    /// A neck thinner than a hair between two bodies is left: neither is noise.
    #[test]
    fn a_neck_between_two_bodies_stays() {
        let e = 2e-5;
        let neck = ring(&[
            (0.0, 0.0),
            (40.0, 0.0),
            (50.0, 25.0 - e),
            (60.0, 0.0),
            (100.0, 0.0),
            (100.0, 50.0),
            (60.0, 50.0),
            (50.0, 25.0 + e),
            (40.0, 50.0),
            (0.0, 50.0),
        ]);
        assert_eq!(tidied(neck.clone()), neck);
    }

    #[test]
    fn points_in_line_and_twins_go() {
        let e = 3e-5;
        let noisy =
            ring(&[(0.0, 0.0), (50.0, 5e-8), (100.0, 0.0), (100.0, e), (100.0, 50.0), (0.0, 50.0), (0.0, 20.0)]);
        assert_eq!(tidied(noisy).len(), 4);
    }
}
