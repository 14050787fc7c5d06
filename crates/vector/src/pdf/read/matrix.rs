//! Transforms of the plane.

use ellwand_geometry::{Point, point};

/// Takes `(x, y)` to `(a x + c y + e, b x + d y + f)`, as `[a, b, c, d, e, f]` of PDF does (ISO 32000-1, 8.3.3).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Matrix(pub(super) [f64; 6]);

impl Matrix {
    pub(super) const SAME: Self = Self([1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

    /// This transform first, then `next`.
    pub(super) fn then(self, next: Self) -> Self {
        let [a, b, c, d, e, f] = self.0;
        let n = next.0;
        Self([
            a * n[0] + b * n[2],
            a * n[1] + b * n[3],
            c * n[0] + d * n[2],
            c * n[1] + d * n[3],
            e * n[0] + f * n[2] + n[4],
            e * n[1] + f * n[3] + n[5],
        ])
    }

    pub(super) fn shift(x: f64, y: f64) -> Self {
        Self([1.0, 0.0, 0.0, 1.0, x, y])
    }

    pub(super) fn apply(self, x: f64, y: f64) -> Point {
        let [a, b, c, d, e, f] = self.0;
        point(a * x + c * y + e, b * x + d * y + f)
    }

    /// How many times as long lengths become, on average over all directions.
    pub(super) fn scale(self) -> f64 {
        let [a, b, c, d, ..] = self.0;
        (a * d - b * c).abs().sqrt()
    }
}
