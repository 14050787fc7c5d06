//! What of many convex clauses must be asked to know whether a point of a small rectangle lies in their union.
//!
//! The sums of neighbouring parts overlap widely: near the boundary of the union of two garment pieces most of the clauses that
//! reach into a rectangle lie, as far as the rectangle goes, within one other of them.

use super::HalfPlane;
use crate::{Bounds, Point, point};

/// The clauses that cover of one rectangle what all cover, larger ones first. Kept from one rectangle to the next for its memory.
#[derive(Debug, Default)]
pub(super) struct Cover {
    shares: Vec<Share>,
    planes: Vec<HalfPlane>,
    corners: Vec<Point>,
    clipped: Vec<Point>,
}

/// What one clause has of the rectangle: runs of `planes` and of `corners`.
#[derive(Debug, Clone, Copy)]
struct Share {
    area: f64,
    planes: (usize, usize),
    corners: (usize, usize),
}

impl Cover {
    /// Takes over clauses, each as the half-planes that cut `rect`. One that lies in another, but for
    /// `hair`, is left out, and so is one that has nothing of the rectangle.
    pub(super) fn fill<'p>(
        &mut self,
        rect: &Bounds,
        clauses: impl Iterator<Item = impl Iterator<Item = &'p HalfPlane>>,
        hair: f64,
    ) {
        self.shares.clear();
        self.planes.clear();
        self.corners.clear();
        for clause in clauses {
            let (planes, corners) = (self.planes.len(), self.corners.len());
            self.planes.extend(clause);
            self.corners.extend([rect.min, point(rect.max.x, rect.min.y), rect.max, point(rect.min.x, rect.max.y)]);
            for k in planes..self.planes.len() {
                self.clip(corners, self.planes[k]);
            }
            let area = area(&self.corners[corners..]);
            if area > 0.0 {
                let (planes, corners) = ((planes, self.planes.len()), (corners, self.corners.len()));
                self.shares.push(Share { area, planes, corners });
            }
        }
        // What holds another is larger.
        self.shares.sort_by(|a, b| b.area.total_cmp(&a.area));
        let mut kept = 0;
        for k in 0..self.shares.len() {
            let share = self.shares[k];
            if !self.shares[..kept].iter().any(|larger| self.holds(larger, &share, hair)) {
                self.shares[kept] = share;
                kept += 1;
            }
        }
        self.shares.truncate(kept);
    }

    /// Whether no clause has anything of the rectangle.
    pub(super) fn is_empty(&self) -> bool {
        self.shares.is_empty()
    }

    /// The half-planes of each clause kept.
    pub(super) fn clauses(&self) -> impl Iterator<Item = &[HalfPlane]> {
        self.shares.iter().map(|share| &self.planes[share.planes.0..share.planes.1])
    }

    /// Cuts the last polygon, which begins at `from`, down to its part in the half-plane.
    fn clip(&mut self, from: usize, plane: HalfPlane) {
        self.clipped.clear();
        let polygon = &self.corners[from..];
        for (k, &p) in polygon.iter().enumerate() {
            let q = polygon[(k + 1) % polygon.len()];
            let (dp, dq) = (plane.distance(p), plane.distance(q));
            if dp <= 0.0 {
                self.clipped.push(p);
            }
            if (dp < 0.0 && dq > 0.0) || (dp > 0.0 && dq < 0.0) {
                self.clipped.push(p + (q - p) * (dp / (dp - dq)));
            }
        }
        self.corners.truncate(from);
        self.corners.extend_from_slice(&self.clipped);
    }

    fn holds(&self, larger: &Share, share: &Share, hair: f64) -> bool {
        let corners = &self.corners[share.corners.0..share.corners.1];
        let planes = &self.planes[larger.planes.0..larger.planes.1];
        planes.iter().all(|plane| corners.iter().all(|&corner| plane.distance(corner) <= hair))
    }
}

fn area(polygon: &[Point]) -> f64 {
    // About one of its corners: the rectangle is small and may lie far from the origin.
    let Some((&about, rest)) = polygon.split_first() else { return 0.0 };
    let cross = |pair: &[Point]| {
        let (p, q) = (pair[0] - about, pair[1] - about);
        p.x * q.y - q.x * p.y
    };
    rest.windows(2).map(cross).sum::<f64>() / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The half-planes of an upright rectangle.
    fn upright(min: Point, max: Point) -> Vec<HalfPlane> {
        let plane = |x, y, offset| HalfPlane { normal: point(x, y), offset };
        vec![plane(-1.0, 0.0, -min.x), plane(1.0, 0.0, max.x), plane(0.0, -1.0, -min.y), plane(0.0, 1.0, max.y)]
    }

    fn kept(clauses: &[Vec<HalfPlane>]) -> Vec<Vec<f64>> {
        let rect = Bounds { min: point(100.0, 100.0), max: point(110.0, 110.0) };
        let mut cover = Cover::default();
        cover.fill(&rect, clauses.iter().map(|clause| clause.iter()), 1e-9);
        cover.clauses().map(|planes| planes.iter().map(|plane| plane.offset).collect()).collect()
    }

    #[test]
    fn what_lies_in_another_within_the_rectangle_is_left_out() {
        // The second is no part of the first, but what it has of the rectangle is.
        let wide = upright(point(100.0, 90.0), point(104.0, 120.0));
        let low = upright(point(101.0, 50.0), point(104.0, 105.0));
        assert_eq!(kept(&[low, wide.clone()]), kept(&[wide]));
    }

    #[test]
    fn what_overlaps_stays_and_what_is_elsewhere_goes() {
        let left = upright(point(90.0, 90.0), point(104.0, 120.0));
        let right = upright(point(103.0, 90.0), point(120.0, 120.0));
        let elsewhere = upright(point(120.0, 90.0), point(130.0, 120.0));
        let mut both = kept(&[elsewhere, left.clone(), right.clone()]);
        assert_eq!(both.len(), 2);
        both.sort_by(|a, b| a[0].total_cmp(&b[0]).reverse());
        assert_eq!(both, [&left, &right].map(|c| c.iter().map(|plane| plane.offset).collect::<Vec<_>>()));
    }

    #[test]
    fn of_equals_one_stays() {
        let clause = upright(point(102.0, 102.0), point(108.0, 108.0));
        assert_eq!(kept(&[clause.clone(), clause.clone(), clause]).len(), 1);
    }
}
