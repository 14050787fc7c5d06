//! Sleeves of the blouse: a long one gathered into a cuff, and a puffed one gathered at the cap and into an armband.

use kurbo::{CubicBez, Point, Vec2};

use crate::bodice::{Bodice, Half};
use crate::curve::{bent_ruler, chain_length, hermite, solve};
use crate::piece::Pen;
use crate::sleeve::{Cap, CapTask, FRONT_EASE_SHARE};
use crate::{Body, End, Grain, Piece, small_parts};

/// Ease of the plain cap, and how much more than the armhole the puffed one has, gathered over the top between the notches (common
/// practice, no source).
pub(super) const CAP_EASE: f64 = 18.0;
pub(super) const PUFF: f64 = 90.0;
/// Gathered into the cuff, in all and between the opening and the underarm seam: evenly, so a quarter (design choice).
pub(super) const CUFF_GATHERS: f64 = 96.0;
pub(super) const GATHERS_BEHIND: f64 = CUFF_GATHERS / 4.0;
/// Gathered into the armband, on either half.
pub(super) const ARMBAND_GATHERS: f64 = 40.0;
/// Finished depth of cuff and armband.
const CUFF: f64 = 50.0;
const ARMBAND: f64 = 22.0;
/// How far the cuff laps over itself at the opening, and how long the opening is.
pub(super) const CUFF_LAP: f64 = 25.0;
const OPENING: f64 = 75.0;
/// How far the long sleeve blouses over its cuff.
const BLOUSES: f64 = 25.0;
/// From the underarm down to the seam of the armband.
const PUFF_BELOW_UNDERARM: f64 = 50.0;

/// Where the front notch sits, from the underarm; the sleeves have their own at the same distance.
pub(super) fn front_notch(half: &Half) -> f64 {
    0.42 * half.armhole_length()
}

pub(super) fn back_notch(half: &Half) -> f64 {
    0.44 * half.armhole_length()
}

/// The long sleeve with its opening and cuff, and the short one with its armband.
pub(super) fn draft(body: &Body, bodice: &Bodice) -> Vec<Piece> {
    let cuff_length = body.wrist + 45.0;
    let sleeve = long_sleeve(body, bodice, cuff_length);
    // The cuff is sewn on from the opening back to the underarm, and from there round the front to the opening again.
    let behind = distance_to_opening(&sleeve) - GATHERS_BEHIND;
    let cuff = |name: &str, depth: f64| {
        small_parts::strip(name, depth, cuff_length + CUFF_LAP, ["end", "sleeve", "lap", "edge"])
            .sized_by("bust")
            .grain(Grain::CrossAllowed)
            .notch("underarm", "sleeve", End::Start, behind)
            .notch("lap", "sleeve", End::Finish, CUFF_LAP)
    };
    let armband = body.upper_arm + 40.0;
    vec![
        sleeve,
        small_parts::strip("Sleeve opening lap", 40.0, 2.0 * OPENING, ["end", "seam", "other end", "edge"])
            .allowance(6.0)
            .any("main", 2),
        cuff("Cuff", 2.0 * CUFF).any("main", 2).ends("sleeve", "opening", "lap end"),
        cuff("Cuff interfacing", CUFF).any("interfacing", 2),
        puff_sleeve(body, bodice, armband),
        small_parts::strip("Armband", 2.0 * ARMBAND, armband, ["end", "sleeve", "other end", "edge"])
            .any("main", 2)
            .grain(Grain::CrossAllowed)
            .allowance(10.0)
            .sized_by("bust")
            .notch("middle", "sleeve", End::Start, armband / 2.0)
            .ends("sleeve", "back end", "front end"),
    ]
}

fn distance_to_opening(sleeve: &Piece) -> f64 {
    0.25 * sleeve.seam_length("cuff seam")
}

fn cap(body: &Body, bodice: &Bodice, ease: f64, height: f64) -> Cap {
    let (front, back) = (bodice.front.armhole_length(), bodice.back.armhole_length());
    Cap::draft(&CapTask {
        front_armhole: front,
        back_armhole: back,
        ease,
        height: height * (front + back),
        least_width: body.upper_arm + 60.0,
    })
}

fn long_sleeve(body: &Body, bodice: &Bodice, cuff_length: f64) -> Piece {
    let cap = cap(body, bodice, CAP_EASE, 0.30);
    let hem = cap.top.y - (body.arm_length + BLOUSES - CUFF);
    let middle = f64::midpoint(cap.front_underarm().x, cap.back_underarm().x);
    // Longer over the elbow side, shorter in front.
    let hem_line = |width: f64| {
        let at = |share: f64, y: f64| Point::new(middle + share * width, hem + y);
        bent_ruler(&[at(-0.5, 0.0), at(-0.25, -9.0), at(0.25, 5.0), at(0.5, 0.0)], None, None)
    };
    let wanted = cuff_length + CUFF_GATHERS;
    let hem_line = hem_line(solve(0.8 * wanted, wanted, |width| chain_length(&hem_line(width)) - wanted));
    let (low_back, low_front) = (hem_line[0].p0, hem_line[2].p3);
    let seam = |from: Point, to: Point| hermite(from, Vec2::new(0.0, 90.0), to, (to - from) * 0.33);
    let pen = Pen::at(low_back)
        .curves("cuff seam", &hem_line)
        .curve("front underarm seam", seam(low_front, cap.front_underarm()))
        .curves("cap", &cap.whole())
        .curve("back underarm seam", {
            let up = seam(low_back, cap.back_underarm());
            CubicBez::new(up.p3, up.p2, up.p1, up.p0)
        });
    let sleeve = with_cap_marks(Piece::new("Sleeve", pen), &cap, bodice);
    let behind = distance_to_opening(&sleeve);
    let foot = sleeve.on_seam("cuff seam", End::Start, behind);
    sleeve
        .notch("opening", "cuff seam", End::Start, behind)
        .point("end of opening", foot + Vec2::new(0.0, OPENING))
        .across([], [("sleeve", 0.5 * hem)])
}

fn puff_sleeve(body: &Body, bodice: &Bodice, armband: f64) -> Piece {
    let cap = cap(body, bodice, PUFF, 0.34);
    let middle = f64::midpoint(cap.front_underarm().x, cap.back_underarm().x);
    let half = armband / 2.0 + ARMBAND_GATHERS;
    let low = Point::new(middle, -PUFF_BELOW_UNDERARM);
    let (back, front) = (low - Vec2::new(half, 0.0), low + Vec2::new(half, 0.0));
    let pen = Pen::at(back)
        .line("armband seam", front)
        .line("front underarm seam", cap.front_underarm())
        .curves("cap", &cap.whole())
        .line("back underarm seam", back);
    with_cap_marks(Piece::new("Puff sleeve", pen), &cap, bodice)
        .notch("middle", "armband seam", End::Start, half)
        .across([], [("sleeve", -0.5 * PUFF_BELOW_UNDERARM)])
}

/// The notches and points that both sleeves share.
fn with_cap_marks(sleeve: Piece, cap: &Cap, bodice: &Bodice) -> Piece {
    let whole = sleeve.seam_length("cap");
    let (at_front, at_back) = (front_notch(&bodice.front), back_notch(&bodice.back));
    sleeve
        .pair("main", 2)
        .sized_by("bust")
        .notch("front armhole", "cap", End::Start, at_front)
        .notch("shoulder", "cap", End::Start, chain_length(&cap.front))
        .notch("back armhole", "cap", End::Start, whole - at_back)
        .notch("back armhole, second", "cap", End::Start, whole - at_back - 10.0)
        .point_on("front armhole notch", "cap", End::Start, at_front)
        .point_on("back armhole notch", "cap", End::Start, whole - at_back)
        .ends("front underarm seam", "front low", "side high")
        .ends("back underarm seam", "underarm, back", "back low")
        .point("sleeve middle", Point::ORIGIN)
        .point("cap top", cap.top)
}

/// What of a cap's `ease` lies in front of its top; it is all between the notches.
pub(super) fn in_front(ease: f64) -> f64 {
    FRONT_EASE_SHARE * ease
}
