//! How a cut lies: the rigid motion that takes the piece of the record to the cut of the layout, found from grainlines and corners.

use crate::record::{Cut, PieceRecord, Place};

/// A motion that keeps every distance: `matrix * place + shift`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Motion {
    pub(crate) matrix: [[f64; 2]; 2],
    shift: Place,
}

impl Motion {
    /// Where a place comes to lie.
    pub(crate) fn apply(&self, [x, y]: Place) -> Place {
        [0, 1].map(|row| self.matrix[row][0] * x + self.matrix[row][1] * y + self.shift[row])
    }

    /// The motion that takes one grainline to the other, after turning the piece over if `mirrored`.
    fn between(piece: [Place; 2], cut: [Place; 2], mirrored: bool) -> Self {
        let flip = if mirrored { -1.0 } else { 1.0 };
        let way = |[low, high]: [Place; 2], flip: f64| (high[1] - low[1]).atan2(flip * (high[0] - low[0]));
        let (sin, cos) = (way(cut, 1.0) - way(piece, flip)).sin_cos();
        let matrix = [[flip * cos, -sin], [flip * sin, cos]];
        let turned = Self { matrix, shift: [0.0, 0.0] }.apply(piece[0]);
        Self { matrix, shift: [cut[0][0] - turned[0], cut[0][1] - turned[1]] }
    }

    /// Its turn in degrees after the flip, 0 to 360.
    pub(crate) fn turn_deg(&self) -> f64 {
        (-self.matrix[0][1]).atan2(self.matrix[1][1]).to_degrees().rem_euclid(360.0)
    }
}

/// How far two places lie apart.
pub(crate) fn apart(a: Place, b: Place) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// The motion from a piece to a cut, and by how much the worst corner, grainline end or named point misses, mm; infinite when corners are missing.
pub(crate) fn fit(piece: &PieceRecord, cut: &Cut, mirrored: bool) -> (Motion, f64) {
    let motion = Motion::between(piece.grainline, cut.grainline, mirrored);
    let mut corners: Vec<Place> = piece.outline.iter().map(|&corner| motion.apply(corner)).collect();
    if mirrored {
        corners.reverse();
    }
    let mut worst = same_ring(&corners, &cut.outline);
    for (end, of_piece) in cut.grainline.iter().zip(piece.grainline) {
        worst = worst.max(apart(*end, motion.apply(of_piece)));
    }
    if piece.points.len() != cut.points.len() {
        worst = f64::INFINITY;
    }
    for (name, &at) in &piece.points {
        worst = worst.max(cut.points.get(name).map_or(f64::INFINITY, |&place| apart(place, motion.apply(at))));
    }
    (motion, worst)
}

/// By how much two rings of corners differ at worst, wherever each begins; infinite when they have not as many.
pub(crate) fn same_ring(one: &[Place], other: &[Place]) -> f64 {
    if one.len() != other.len() || one.is_empty() {
        return f64::INFINITY;
    }
    let begins = (0..other.len()).filter(|&k| apart(one[0], other[k]) < 1.0);
    let from =
        |begin: usize| (0..one.len()).map(|k| apart(one[k], other[(begin + k) % other.len()])).fold(0.0, f64::max);
    begins.map(from).fold(f64::INFINITY, f64::min)
}
