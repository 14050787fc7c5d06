//! The upper body: neckline, shoulder and armhole of back and front.
//!
//! The frame of each half: `x` from the centre line towards the side, `y` up from the waist. The method is the usual
//! proportional draft: widths and depths are shares of the bust and neck girth plus constants. Those shares are common
//! practice, no source, unless a source is named.

use kurbo::{CubicBez, Point, Vec2};

use crate::Body;
use crate::curve::{chain_length, direction, hermite, quarter_turn};

/// How a garment sits on the body, mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fit {
    /// Added to the bust girth.
    pub(crate) bust_ease: f64,
    /// How far the armhole is cut below the body's own.
    pub(crate) scye_drop: f64,
    /// How far the shoulder seam runs past the shoulder bone.
    pub(crate) shoulder_drop: f64,
    /// How much wider the neck is cut on each side.
    pub(crate) neck_ease: f64,
    /// Share of a half's ease that widens the back and the chest; the rest goes under the arm.
    pub(crate) width_share: f64,
}

/// Back or front above the waist.
#[derive(Debug, Clone)]
pub(crate) struct Half {
    /// Nape, or pit of the neck.
    pub(crate) centre_neck: Point,
    /// Where the shoulder meets the neck.
    pub(crate) neck: Point,
    /// Where the shoulder meets the armhole.
    pub(crate) tip: Point,
    /// Where the side meets the armhole.
    pub(crate) underarm: Point,
    /// From underarm to tip.
    pub(crate) armhole: Vec<CubicBez>,
    /// From neck point to centre.
    pub(crate) neckline: CubicBez,
}

impl Half {
    /// Length of the armhole, mm.
    pub(crate) fn armhole_length(&self) -> f64 {
        chain_length(&self.armhole)
    }
}

/// Both halves, in frames that share the waist and armhole levels.
#[derive(Debug, Clone)]
pub(crate) struct Bodice {
    pub(crate) back: Half,
    pub(crate) front: Half,
}

/// What sets back and front apart.
struct Shape {
    centre_neck: Point,
    neck: Point,
    slope_deg: f64,
    hollow_x: f64,
    /// Height of the hollow as a share of the armhole's.
    hollow_share: f64,
    side_x: f64,
    /// How full the curve runs into the corner of the armhole: the front is scooped deeper.
    scoop: f64,
}

impl Bodice {
    pub(crate) fn draft(body: &Body, fit: &Fit) -> Self {
        let scye = body.back_length - body.scye_depth() - fit.scye_drop;
        let quarter = (body.bust + fit.bust_ease) / 4.0;
        let share = fit.width_share * fit.bust_ease / 2.0;
        // Neck width a fifth of the neck girth; the nape lies 22 mm below the neck points.
        let neck_width = body.neck / 5.0 - 2.0 + fit.neck_ease;
        let back_neck = Point::new(neck_width, body.back_length + 22.0);
        // The front neck point is lower: the slope of the neck, seen from the side, brings it forward.
        let front_neck = Point::new(neck_width - 2.0, back_neck.y - 14.0);
        let front_depth = body.neck / 5.0 + 6.0 + fit.neck_ease;
        let back = half(
            &Shape {
                centre_neck: Point::new(0.0, body.back_length),
                neck: back_neck,
                slope_deg: 18.0,
                hollow_x: body.bust / 8.0 + 56.0 + share,
                hollow_share: 0.46,
                side_x: quarter - 5.0,
                scoop: 0.56,
            },
            scye,
            body.shoulder + fit.shoulder_drop,
        );
        let front = half(
            &Shape {
                centre_neck: Point::new(0.0, front_neck.y - front_depth),
                neck: front_neck,
                slope_deg: 22.0,
                hollow_x: body.bust / 8.0 + 46.0 + 0.8 * share,
                hollow_share: 0.36,
                side_x: quarter + 5.0,
                scoop: 0.66,
            },
            scye,
            body.shoulder + fit.shoulder_drop,
        );
        Self { back, front }
    }

    /// Where the bust is measured on back and front: just below the underarm, so that every piece there goes all the way through.
    pub(crate) fn bust_level(&self) -> f64 {
        self.back.underarm.y - 20.0
    }

    /// The garment's neckline from centre back to centre front, mm.
    pub(crate) fn half_neckline(&self) -> f64 {
        chain_length(&[self.back.neckline, self.front.neckline])
    }
}

fn half(shape: &Shape, scye: f64, shoulder: f64) -> Half {
    let along_shoulder = direction(-shape.slope_deg);
    let tip = shape.neck + along_shoulder * shoulder;
    let underarm = Point::new(shape.side_x, scye);
    // The hollow never lies outside the shoulder tip, nor so near the side that the armhole has no floor.
    let hollow_x = shape.hollow_x.min(tip.x - 4.0).min(underarm.x - 45.0);
    let hollow = Point::new(hollow_x, scye + shape.hollow_share * (tip.y - scye));
    // The armhole meets the shoulder seam at a right angle, so that front and back run into each other smoothly.
    let square_to_shoulder = quarter_turn(along_shoulder);
    let floor = hermite(
        underarm,
        Vec2::new(-shape.scoop * (underarm.x - hollow.x), 0.0),
        hollow,
        Vec2::new(0.0, shape.scoop * (hollow.y - scye)),
    );
    let rise = tip.y - hollow.y;
    let upper = hermite(hollow, Vec2::new(0.0, 0.4 * rise), tip, square_to_shoulder * (0.3 * rise));
    let fall = shape.neck.y - shape.centre_neck.y;
    let neckline = hermite(
        shape.neck,
        square_to_shoulder * (-0.5 * fall),
        shape.centre_neck,
        Vec2::new(-0.55 * shape.neck.x, 0.0),
    );
    Half { centre_neck: shape.centre_neck, neck: shape.neck, tip, underarm, armhole: vec![floor, upper], neckline }
}
