//! Collars: a shirt collar on a stand, and a notched collar cut in one with its stand.
//!
//! The frame of each half: centre back on the fold at `x = 0`, the neck seam below. Shapes and heights are choices of the
//! design; that the neck seam has the length of the neckline is not.

use kurbo::{Affine, CubicBez, Point, Vec2};

use crate::curve::{direction, hermite, length, quarter_turn, solve};
use crate::piece::Pen;

/// Height of the stand at centre back and at centre front, mm.
const STAND_BACK: f64 = 34.0;
const STAND_FRONT: f64 = 29.0;
/// How steeply the stand rises at centre front, degrees.
const STAND_RISE_DEG: f64 = 10.0;
/// Height of the shirt collar at centre back; more than the stand, so that it covers the seam.
const FALL: f64 = 47.0;

/// The stand: its outline and the length of its upper edge from centre back to centre front.
pub(crate) struct Stand {
    pub(crate) pen: Pen,
    pub(crate) upper: f64,
}

/// A stand for a neckline of `neck` mm from centre back to centre front, with a rounded end `lap` mm beyond.
pub(crate) fn stand(neck: f64, lap: f64) -> Stand {
    let onward = direction(STAND_RISE_DEG);
    let lower = |x: f64| hermite(Point::ORIGIN, Vec2::new(0.5 * x, 0.0), Point::new(x, 0.055 * x), onward * (0.35 * x));
    let x = solve(0.5 * neck, neck, |x| length(&lower(x)) - neck);
    let neck_seam = lower(x);
    let up = quarter_turn(onward);
    let upper_front = neck_seam.p3 + up * STAND_FRONT;
    let end = neck_seam.p3 + onward * lap;
    let round = hermite(end, up * (0.8 * STAND_FRONT), upper_front, onward * (-0.9 * lap));
    let upper = hermite(upper_front, onward * (-0.35 * x), Point::new(0.0, STAND_BACK), Vec2::new(-0.5 * x, 0.0));
    let pen = Pen::at(Point::ORIGIN)
        .curve("neck", neck_seam)
        .line("lap", end)
        .curve("end", round)
        .curve("collar seam", upper)
        .fold("centre back", Point::ORIGIN);
    Stand { pen, upper: length(&upper) }
}

/// The seam of a collar to its stand, `seam` mm long from centre back.
fn collar_seam(seam: f64) -> CubicBez {
    let lower = |x: f64| {
        hermite(Point::new(0.0, 16.0), Vec2::new(0.5 * x, 0.0), Point::new(x, 0.0), direction(-10.0) * (0.35 * x))
    };
    lower(solve(0.5 * seam, seam, |x| length(&lower(x)) - seam))
}

/// The collar for a stand with an upper edge of `seam` mm: its seam bends the other way, so that it falls over the stand.
pub(crate) fn shirt_collar(seam: f64) -> Pen {
    let curve = collar_seam(seam);
    let x = curve.p3.x;
    let point = Point::new(x + 22.0, 68.0);
    let back = Point::new(0.0, 16.0 + FALL);
    let outer = hermite(point, Vec2::new(-0.35 * x, -9.0), back, Vec2::new(-0.45 * x, 0.0));
    Pen::at(curve.p0)
        .curve("collar seam", curve)
        .line("point", point)
        .curve("outer edge", outer)
        .fold("centre back", curve.p0)
}

/// A collar like [`shirt_collar`] that ends in a round instead of a point.
pub(crate) fn round_collar(seam: f64) -> Pen {
    let curve = collar_seam(seam);
    let x = curve.p3.x;
    let back = Point::new(0.0, 16.0 + FALL);
    let round = Point::new(x - 22.0, 67.0);
    let end = hermite(curve.p3, Vec2::new(24.0, 12.0), round, Vec2::new(-40.0, 0.0));
    let outer = hermite(round, Vec2::new(-0.3 * x, 0.0), back, Vec2::new(-0.35 * x, 0.0));
    Pen::at(curve.p0)
        .curve("collar seam", curve)
        .curve("end", end)
        .curve("outer edge", outer)
        .fold("centre back", curve.p0)
}

/// A collar in one with its stand, for a jacket with lapels.
#[derive(Debug, Clone, Copy)]
pub(crate) struct NotchedCollar {
    /// Neck seam from centre back to the notch.
    pub(crate) seam: f64,
    /// Height at centre back, stand and fall together.
    pub(crate) depth: f64,
    /// Length of the front edge, from the notch to the collar point.
    pub(crate) front_edge: f64,
}

/// Whether a collar is the one seen or the one beneath.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layer {
    /// A little larger, so that the seam rolls under.
    Upper,
    /// As drafted.
    Under,
}

impl NotchedCollar {
    /// The half from centre back; the centre back is a fold for the upper collar and a seam for the under collar.
    pub(crate) fn pen(&self, layer: Layer) -> Pen {
        let roll = match layer {
            Layer::Upper => 3.0,
            Layer::Under => 0.0,
        };
        // The seam curves up towards the front: the collar lies flat where the lapel turns.
        let seam_curve = |x: f64| -> CubicBez {
            hermite(Point::ORIGIN, Vec2::new(0.45 * x, 0.0), Point::new(x, 0.13 * x), direction(20.0) * (0.33 * x))
        };
        let x = solve(0.5 * self.seam, self.seam, |x| length(&seam_curve(x)) - self.seam);
        let seam = seam_curve(x);
        let along = direction(62.0);
        let point = seam.p3 + along * (self.front_edge + roll);
        let back = Point::new(0.0, self.depth + roll);
        let outer = hermite(point, Vec2::new(-0.36 * x, -0.03 * x), back, Vec2::new(-0.40 * x, 0.0));
        let pen = Pen::at(seam.p0).curve("neck", seam).line("front edge", point).curve("outer edge", outer);
        match layer {
            Layer::Upper => pen.fold("centre back", seam.p0),
            Layer::Under => pen.line("centre back", seam.p0),
        }
    }
}

/// The motion that lays the front's shoulder strip against the back's shoulder: `front` and `back` are neck point and
/// tip of the same seam; the strip comes to lie on the far side of it.
pub(crate) fn onto_shoulder(front: (Point, Point), back: (Point, Point)) -> Affine {
    let (u, v) = ((front.1 - front.0).normalize(), (back.1 - back.0).normalize());
    let (m, n) = (quarter_turn(u), quarter_turn(v));
    let turn = Affine::new([
        v.x * u.x - n.x * m.x,
        v.y * u.x - n.y * m.x,
        v.x * u.y - n.x * m.y,
        v.y * u.y - n.y * m.y,
        0.0,
        0.0,
    ]);
    Affine::translate(back.0.to_vec2()) * turn * Affine::translate(-front.0.to_vec2())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shoulder_strip_lands_beyond_the_seam() {
        let front = (Point::new(70.0, 400.0), Point::new(170.0, 360.0));
        let back = (Point::new(72.0, 437.0), Point::new(172.0, 397.0));
        let map = onto_shoulder(front, back);
        assert!((map * front.0).distance(back.0) < 1e-9);
        assert!((map * front.1).distance(back.1) < 1e-9);
        let below = map * Point::new(120.0, 360.0);
        assert!(crate::curve::left_of(below, back.0, back.1) > 0.0);
    }
}
