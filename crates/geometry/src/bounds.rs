//! The upright bounding rectangle of a set of points.

use crate::{Point, point};

/// An upright rectangle given by its lowest and highest corner, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Lowest `x` and lowest `y`.
    pub min: Point,
    /// Highest `x` and highest `y`.
    pub max: Point,
}

impl Bounds {
    /// The smallest rectangle around `points`.
    ///
    /// # Panics
    ///
    /// When `points` is empty: no rectangle encloses nothing.
    pub fn of(points: impl IntoIterator<Item = Point>) -> Self {
        let mut points = points.into_iter();
        let first = points.next().expect("bounds of at least one point");
        points.fold(Self { min: first, max: first }, |b, p| Self {
            min: point(b.min.x.min(p.x), b.min.y.min(p.y)),
            max: point(b.max.x.max(p.x), b.max.y.max(p.y)),
        })
    }

    /// Extent across, mm.
    pub fn width(&self) -> f64 {
        self.max.x - self.min.x
    }

    /// Extent along, mm.
    pub fn height(&self) -> f64 {
        self.max.y - self.min.y
    }

    /// The middle of the rectangle.
    pub fn center(&self) -> Point {
        (self.min + self.max) / 2.0
    }

    /// The rectangle grown by `by` mm on every side.
    pub fn grown(&self, by: f64) -> Self {
        Self { min: self.min - point(by, by), max: self.max + point(by, by) }
    }

    /// Whether the interiors of the two rectangles meet; touching sides do not count.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.min.x < other.max.x && other.min.x < self.max.x && self.min.y < other.max.y && other.min.y < self.max.y
    }

    /// Whether `p` lies in the closed rectangle.
    pub fn contains(&self, p: Point) -> bool {
        p.x >= self.min.x && p.x <= self.max.x && p.y >= self.min.y && p.y <= self.max.y
    }
}
