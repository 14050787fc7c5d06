//! Sleeves: the cap that fits an armhole, cut in one, or in two pieces with a bent elbow.
//!
//! The frame: `x` from the middle of the cap towards the front, `y` up from the level of the underarm. Shares and
//! constants are common practice, no source.

use kurbo::{Affine, CubicBez, Point, Vec2};

use crate::curve::{chain_length, hermite, solve};

/// Share of a cap's ease that lies in front of its top.
pub(crate) const FRONT_EASE_SHARE: f64 = 0.45;

/// The cap, walked from the front underarm over the top to the back underarm.
#[derive(Debug, Clone)]
pub(crate) struct Cap {
    /// Highest point, at `x = 0`.
    pub(crate) top: Point,
    /// From the front underarm to the top.
    pub(crate) front: Vec<CubicBez>,
    /// From the top to the back underarm.
    pub(crate) back: Vec<CubicBez>,
}

/// What a cap must fit, mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CapTask {
    pub(crate) front_armhole: f64,
    pub(crate) back_armhole: f64,
    /// How much longer the cap is than the armhole; eased in over the top.
    pub(crate) ease: f64,
    /// Wanted height; lowered where the arm would not fit.
    pub(crate) height: f64,
    /// Least width of the sleeve at the underarm.
    pub(crate) least_width: f64,
}

impl Cap {
    /// The cap whose two halves have exactly the lengths asked for. A higher cap is a narrower sleeve, so the height is
    /// lowered until the arm fits.
    pub(crate) fn draft(task: &CapTask) -> Self {
        let at = |height: f64| {
            let front = task.front_armhole + FRONT_EASE_SHARE * task.ease;
            let back = task.back_armhole + (1.0 - FRONT_EASE_SHARE) * task.ease;
            let front_width = solve(20.0, front, |w| chain_length(&front_half(w, height)) - front);
            let back_width = solve(20.0, back, |w| chain_length(&back_half(w, height)) - back);
            Self {
                top: Point::new(0.0, height),
                front: front_half(front_width, height),
                back: back_half(back_width, height),
            }
        };
        let cap = at(task.height);
        if cap.width() >= task.least_width {
            return cap;
        }
        at(solve(30.0, task.height, |h| at(h).width() - task.least_width))
    }

    pub(crate) fn front_underarm(&self) -> Point {
        self.front[0].p0
    }

    pub(crate) fn back_underarm(&self) -> Point {
        self.back[self.back.len() - 1].p3
    }

    pub(crate) fn width(&self) -> f64 {
        self.front_underarm().x - self.back_underarm().x
    }

    /// Front and back together, from the front underarm.
    pub(crate) fn whole(&self) -> Vec<CubicBez> {
        self.front.iter().chain(&self.back).copied().collect()
    }
}

/// From (width, 0) to (0, height): hollowed well near the underarm, round over the top.
fn front_half(width: f64, height: f64) -> Vec<CubicBez> {
    cap_half(width, height, &HalfShape { turn: Vec2::new(0.50, 0.47), lean: 0.60, hollow: 0.40, round: 0.52 })
}

/// From (0, height) to (-width, 0): flatter near the underarm, fuller over the shoulder blade.
fn back_half(width: f64, height: f64) -> Vec<CubicBez> {
    let mirrored =
        cap_half(width, height, &HalfShape { turn: Vec2::new(0.56, 0.47), lean: 0.80, hollow: 0.30, round: 0.62 });
    let mirror = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
    crate::curve::reversed(&crate::curve::moved(&mirrored, mirror))
}

/// Proportions of one half of a cap.
struct HalfShape {
    /// Where hollow turns into round, as shares of width and height.
    turn: Vec2,
    /// How steeply the curve runs there: 1 is the slope of the straight line from underarm to top, less is steeper.
    lean: f64,
    /// Pull of the hollow at the underarm, as a share of the width.
    hollow: f64,
    /// Pull of the round at the top, as a share of the width to the turn.
    round: f64,
}

fn cap_half(width: f64, height: f64, shape: &HalfShape) -> Vec<CubicBez> {
    let turn = Point::new(shape.turn.x * width, shape.turn.y * height);
    let along = Vec2::new(-shape.lean * width, height).normalize();
    let underarm = Point::new(width, 0.0);
    let top = Point::new(0.0, height);
    vec![
        hermite(underarm, Vec2::new(-shape.hollow * width, 0.0), turn, along * (0.40 * turn.y)),
        hermite(turn, along * (0.45 * (height - turn.y)), top, Vec2::new(-shape.round * turn.x, 0.0)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    const TASK: CapTask =
        CapTask { front_armhole: 215.0, back_armhole: 235.0, ease: 30.0, height: 140.0, least_width: 300.0 };

    #[test]
    fn the_cap_has_the_length_asked_for() {
        let cap = Cap::draft(&TASK);
        assert!((chain_length(&cap.whole()) - 480.0).abs() < 0.01);
        assert!(cap.back_underarm().x < -cap.front_underarm().x, "the back is the wider half");
    }

    #[test]
    fn a_stout_arm_lowers_the_cap() {
        let cap = Cap::draft(&CapTask { least_width: 400.0, ..TASK });
        assert!(cap.top.y < 140.0);
        assert!((cap.width() - 400.0).abs() < 0.1);
        assert!((chain_length(&cap.whole()) - 480.0).abs() < 0.01);
    }
}
