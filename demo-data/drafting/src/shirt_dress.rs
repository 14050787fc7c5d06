//! The Pilot-house shirt-dress: yoke, pleated back, bust darts, set-in sleeves with plackets and cuffs, collar on a stand,
//! patch pockets with flaps, button bands and a belt. View B takes collar, cuffs and flaps from a contrast. Short sleeves and pockets in
//! the side seams are there to choose.

mod seams;

use kurbo::{CubicBez, Point, Vec2};

use crate::bodice::{Bodice, Fit, Half};
use crate::collar::{onto_shoulder, shirt_collar, stand};
use crate::curve::{
    bent_ruler, chain_length, cut_chain, cut_chain_at, hem_curve, hermite, left_of, moved, reversed, solve,
};
use crate::dart::SideDart;
use crate::piece::{Dart, Pen};
use crate::sleeve::{Cap, CapTask, FRONT_EASE_SHARE};
use crate::{Body, Choice, DeclaredLength, End, Girth, Grain, Pattern, Piece, small_parts};

/// Bodice wearing ease is 1 1/2 to 2 in ("Ease in Clothing", Costume text, Central Washington University); the rest is
/// ease of the design.
const FIT: Fit = Fit { bust_ease: 110.0, scye_drop: 20.0, shoulder_drop: 5.0, neck_ease: 2.0, width_share: 0.26 };
const HIP_EASE: f64 = 90.0;
/// Hem of a dress: 1 1/2 to 2 in ("How deep is that hem", American Sewing Guild, 2025).
const HEM: f64 = 40.0;
/// Finished width of the button bands; centre front runs along their middle. At least 3/4 of a button from centre to edge
/// (a home-sewing handbook): 15 mm serves buttons up to 20 mm.
const BAND: f64 = 30.0;
/// Pleat at centre back, half its depth.
const PLEAT: f64 = 30.0;
/// How far the yoke reaches down from the shoulder tip at the back, and over the shoulder in front.
const YOKE_BACK: f64 = 55.0;
const YOKE_FRONT: f64 = 30.0;
/// Width of the bust dart.
const DART: f64 = 25.0;
/// Finished depth of the cuff.
const CUFF: f64 = 65.0;
/// From the corner of the pocket to that of its flap, which is 2 mm wider to either side.
const FLAP_FROM_POCKET: Vec2 = Vec2::new(-2.0, 15.0);
/// Depth of each of the two pleats in which the sleeve goes into its cuff, and where they begin in front of the placket.
const SLEEVE_PLEAT: f64 = 28.0;
const PLEATS_FROM_PLACKET: [f64; 2] = [18.0, 60.0];
/// Half-way between the pleats.
const BETWEEN_PLEATS: f64 = f64::midpoint(PLEATS_FROM_PLACKET[0] + SLEEVE_PLEAT, PLEATS_FROM_PLACKET[1]);
/// Cap ease of a shirt sleeve: little, it is flat-felled or nearly so. It lies below the yoke, in front and at the back.
const CAP_EASE: f64 = 14.0;
const FRONT_CAP_EASE: f64 = FRONT_EASE_SHARE * CAP_EASE;
/// How far the cuff laps over itself at the placket.
const CUFF_LAP: f64 = 25.0;
/// Finished length of the short sleeve from the shoulder, as a share of the arm's, and how much narrower than the underarm it is at the
/// hem (design choice).
const SHORT_SLEEVE: f64 = 0.40;
const SHORT_TAPER: f64 = 24.0;
/// The opening of the pocket in the side seam: from so far below the waist, so long (design choice; a hand is about 10 cm wide).
const SIDE_POCKET: (f64, f64) = (25.0, 170.0);

/// Drafts the dress for `body`.
pub(crate) fn draft(body: &Body) -> Pattern {
    let bodice = Bodice::draft(body, &FIT);
    let hem = -(body.waist_to_knee() + 20.0);
    let back_side = side_points(body, &bodice.back, -5.0, hem);
    let back_chain =
        bent_ruler(&[back_side[0], back_side[1], back_side[2], bodice.back.underarm], None, Some(Vec2::new(0.12, 1.0)));
    let upper_parts = UpperParts::cut(&bodice);
    let heights = Heights::of(body, &bodice, hem);

    let front = front(body, &bodice, &upper_parts, hem, chain_length(&back_chain));
    let band = front.seam_length("front edge");
    let mut pieces = vec![
        heights.mark(front, DART),
        heights.mark(back(&bodice, &upper_parts, hem, &back_chain), 0.0),
        yoke(&bodice, &upper_parts).sized_by("bust"),
    ];
    pieces.extend(sleeves(body, &bodice, &upper_parts));
    pieces.extend(collar(&bodice, &upper_parts));
    let strip = |name: &str, width: f64| {
        let strip = small_parts::strip(name, width, band, ["hem", "front", "neck", "edge"]);
        strip.sized_by("bust").across([], heights.lines.map(|(name, y)| (name, y - hem)))
    };
    pieces.push(small_parts::button_band(strip("Button band", 2.0 * BAND).pair("main", 2), BAND, -hem));
    pieces.push(strip("Button band interfacing", BAND).pair("interfacing", 2));
    pieces.extend(pockets());
    pieces.push(side_pocket(&back_chain, body.hip_depth));
    pieces.push(small_parts::belt("Belt", body.waist + 420.0, 40.0).same("main", 1).sized_by("waist"));
    let contrast: Vec<Piece> = (pieces.iter())
        .filter(|p| ["Collar", "Cuff", "Pocket flap"].contains(&p.name.as_str()))
        .map(|p| small_parts::in_contrast(p.clone()))
        .collect();
    pieces.extend(contrast);
    Pattern {
        name: "Pilot-house shirt-dress",
        kind: "dress",
        choose_by: "bust",
        roles: vec![
            ("main", "shirting, chambray, brushed cotton or light twill"),
            ("contrast", "shirting of the same weight"),
            ("interfacing", "light woven interfacing"),
        ],
        views: vec![
            ("A", "Shirt-dress in one cloth", view(["Collar", "Cuff", "Pocket flap"])),
            (
                "B",
                "Collar, cuffs and pocket flaps in a contrast",
                view(["Contrast collar", "Contrast cuff", "Contrast pocket flap"]),
            ),
        ],
        choices: choices(),
        pieces,
        seams: seams::seams(),
        girths: girths(),
        lengths: vec![
            DeclaredLength::new("back length", [("Yoke", "centre back", 1), ("Back", "centre back", 1)]),
            DeclaredLength::new("sleeve seam", [("Sleeve", "front underarm seam", 1)]),
            DeclaredLength::new("short sleeve seam", [("Short sleeve", "front underarm seam", 1)]),
            DeclaredLength::new("hem sweep", [("Front", "hem", 2), ("Back", "hem", 2)]),
        ],
    }
}

fn choices() -> Vec<Choice> {
    vec![
        Choice {
            name: "pocket",
            groups: vec![
                ("patch", vec!["Patch pocket", "Pocket flap", "Contrast pocket flap"]),
                ("side seam", vec!["In-seam pocket bag"]),
                ("none", vec![]),
            ],
        },
        Choice {
            name: "sleeve",
            groups: vec![
                ("long", vec!["Sleeve", "Sleeve placket", "Cuff", "Contrast cuff", "Cuff interfacing"]),
                ("short", vec!["Short sleeve"]),
            ],
        },
    ]
}

/// Round the body go both fronts and the back; the pleat is not worn, and the bands make up the rest to centre front.
fn girths() -> Vec<Girth> {
    (Girth::all_round(["bust", "waist", "hip"], &["Front", "Back"]).into_iter())
        .map(|girth| girth.less(2.0 * PLEAT - BAND))
        .collect()
}

/// Levels of the body, and lines between them to lengthen or shorten at, in the frame of the back.
struct Heights {
    levels: [(&'static str, f64); 3],
    lines: [(&'static str, f64); 2],
}

impl Heights {
    fn of(body: &Body, bodice: &Bodice, hem: f64) -> Self {
        Self {
            levels: [("bust", bodice.bust_level()), ("waist", 0.0), ("hip", -body.hip_depth)],
            // The upper one lies below the bust dart.
            lines: [("bodice", 0.4 * bodice.back.underarm.y), ("skirt", f64::midpoint(-body.hip_depth, hem))],
        }
    }

    /// Puts them on a piece in which all that lies below the bust dart is `dart` mm lower.
    fn mark(&self, piece: Piece, dart: f64) -> Piece {
        let below = |(name, y)| (name, if name == "bust" { y } else { y - dart });
        piece.across(self.levels.map(below), self.lines.map(below))
    }
}

fn view(seen: [&'static str; 3]) -> Vec<&'static str> {
    let [collar, cuff, flap] = seen;
    vec![
        "Front",
        "Back",
        "Yoke",
        "Sleeve",
        "Sleeve placket",
        cuff,
        "Cuff interfacing",
        collar,
        "Collar stand",
        "Button band",
        "Button band interfacing",
        "Patch pocket",
        flap,
        "Belt",
    ]
}

/// Hem, hip and waist of a side seam. `wider` is what this half has more than a quarter.
fn side_points(body: &Body, half: &Half, wider: f64, hem: f64) -> [Point; 3] {
    let hip = (body.hip + HIP_EASE) / 4.0 + wider;
    let waist = (half.underarm.x - 20.0).max((body.waist + 120.0) / 4.0 + wider).min(half.underarm.x + 10.0);
    [
        Point::new(hip.max(half.underarm.x) + 30.0, hem + 9.0),
        Point::new(hip.max(waist), -body.hip_depth),
        Point::new(waist, 0.0),
    ]
}

/// The armholes and necklines where the yoke takes its share.
struct UpperParts {
    back_armhole: (Vec<CubicBez>, Vec<CubicBez>),
    front_armhole: (Vec<CubicBez>, Vec<CubicBez>),
    /// Neckline parts, from the neck point on.
    front_neckline: (Vec<CubicBez>, Vec<CubicBez>),
}

impl UpperParts {
    fn cut(bodice: &Bodice) -> Self {
        let (back, front) = (&bodice.back, &bodice.front);
        let yoke_level = back.tip.y - YOKE_BACK;
        let strip = |p: Point| left_of(p, front.neck, front.tip) + YOKE_FRONT;
        Self {
            back_armhole: cut_chain(&back.armhole, |p| p.y - yoke_level),
            front_armhole: cut_chain(&front.armhole, strip),
            front_neckline: cut_chain(&[front.neckline], strip),
        }
    }
}

fn front(body: &Body, bodice: &Bodice, parts: &UpperParts, hem: f64, back_side: f64) -> Piece {
    let half = &bodice.front;
    let [low, hip, waist] = side_points(body, half, 5.0, hem).map(|p| p - Vec2::new(0.0, DART));
    let bust_level = body.back_length - body.scye_depth() - 42.0;
    let apex = Point::new(body.bust / 10.0 + 25.0, bust_level);
    let dart = SideDart::draft(half.underarm, Vec2::new(-0.06, -1.0), FIT.scye_drop + 45.0, apex, DART);
    let above = half.underarm.distance(dart.upper);
    let chain = |y: f64| bent_ruler(&[Point::new(low.x, y), hip, waist, dart.lower], None, Some(dart.up));
    // The front seam below and above the dart together is as long as the back's.
    let y = solve(low.y - 40.0, low.y + 40.0, |y| chain_length(&chain(y)) + above - back_side);
    let side = chain(y);
    let edge = BAND / 2.0;
    let (neckline, _) = cut_chain(&parts.front_neckline.1, |p| p.x - edge);
    let corner = Point::new(edge, hem - DART);
    let strip_end = parts.front_neckline.1[0].p0;
    let pen = Pen::at(corner)
        .curve("hem", hem_curve(corner, &side[0]))
        .with("hem", HEM)
        .curves("side", &side)
        .line("dart", dart.upper)
        .line("side above dart", half.underarm)
        .curves("armhole", &parts.front_armhole.0)
        .line("front yoke seam", strip_end)
        .curves("neckline", &neckline)
        .line("front edge", corner);
    let notch = front_notch(half);
    let front = Piece::new("Front", pen).pair("main", 2);
    let top = front.on_seam("neckline", End::Finish, 0.0);
    let pocket = Point::new(half.tip.x * 0.38, bust_level + 15.0);
    front
        .notch("front armhole", "armhole", End::Start, notch)
        .notch("waist", "side", End::Finish, side_above_waist(&side))
        .point_on("front armhole notch", "armhole", End::Start, notch)
        .point_on("side low", "side", End::Start, 0.0)
        .point("side high", half.underarm)
        .dart(Dart { name: "bust dart", legs: [dart.lower, dart.upper], tips: vec![apex], pressed: "down" })
        .point("centre front waist", Point::new(edge, -DART))
        .point("centre front neck", top)
        .point("centre line low", Point::new(0.0, hem - DART))
        .point("centre line high", Point::new(0.0, -DART))
        .ends("front yoke seam", "front yoke at armhole", "front yoke at neck")
        .point("pocket corner", pocket)
        .point("flap corner", pocket + FLAP_FROM_POCKET)
}

/// From the waist point, the last but one of the chain, to its end.
fn side_above_waist(side: &[CubicBez]) -> f64 {
    side.last().map_or(0.0, |last| chain_length(&[*last]))
}

/// Where the front notch sits, from the underarm; the sleeve has its own at the same distance.
fn front_notch(half: &Half) -> f64 {
    0.42 * half.armhole_length()
}

fn back_notch(half: &Half) -> f64 {
    0.44 * half.armhole_length()
}

fn back(bodice: &Bodice, parts: &UpperParts, hem: f64, side: &[CubicBez]) -> Piece {
    let half = &bodice.back;
    let corner = Point::new(-PLEAT, hem);
    let yoke_level = half.tip.y - YOKE_BACK;
    let pen = Pen::at(corner)
        .curve("hem", hem_curve(corner, &side[0]))
        .with("hem", HEM)
        .curves("side", side)
        .curves("armhole", &parts.back_armhole.0)
        .line("yoke seam", Point::new(-PLEAT, yoke_level))
        .fold("centre back", corner);
    let notch = back_notch(half);
    Piece::new("Back", pen)
        .any("main", 1)
        .grain_at(0.3)
        .double_notch("back armhole", "armhole", End::Start, notch)
        .notch("waist", "side", End::Finish, side_above_waist(side))
        .notch("pleat", "yoke seam", End::Finish, PLEAT)
        .point_on("back armhole notch", "armhole", End::Start, notch)
        .point_on("side low", "side", End::Start, 0.0)
        .point("side high", half.underarm)
        .point("centre back waist", Point::new(-PLEAT, 0.0))
        .ends("yoke seam", "back yoke at armhole", "centre back yoke")
        .point_on("opening high", "side", End::Finish, side_above_waist(side) + SIDE_POCKET.0)
        .point_on("opening low", "side", End::Finish, side_above_waist(side) + SIDE_POCKET.0 + SIDE_POCKET.1)
}

/// The yoke: the back above the yoke line, with a strip of the front joined on over the shoulder.
fn yoke(bodice: &Bodice, parts: &UpperParts) -> Piece {
    let (back, front) = (&bodice.back, &bodice.front);
    let onto = onto_shoulder((front.neck, front.tip), (back.neck, back.tip));
    let armhole_strip = reversed(&moved(&parts.front_armhole.1, onto));
    let neck_strip = reversed(&moved(&parts.front_neckline.0, onto));
    let corner = Point::new(0.0, back.tip.y - YOKE_BACK);
    let at_armhole = parts.back_armhole.1[0].p0;
    let pen = Pen::at(corner)
        .line("yoke seam", at_armhole)
        .curves("armhole", &parts.back_armhole.1)
        .curves("armhole", &armhole_strip)
        .line("front yoke seam", neck_strip[0].p0)
        .curves("neckline", &neck_strip)
        .curve("neckline", back.neckline)
        .fold("centre back", corner);
    let shoulder = chain_length(&parts.back_armhole.1);
    Piece::new("Yoke", pen)
        .any("main", 2)
        .grain_at(0.25)
        .notch("shoulder", "armhole", End::Start, shoulder)
        .notch("shoulder at neck", "neckline", End::Start, chain_length(&neck_strip))
        .point("centre back", corner)
        .point("centre back neck", back.centre_neck)
        .ends("front yoke seam", "front yoke at armhole", "front yoke at neck")
        .point_on("back yoke at armhole", "armhole", End::Start, 0.0)
}

/// The long sleeve with placket and cuff, and the short one from the same cap.
fn sleeves(body: &Body, bodice: &Bodice, parts: &UpperParts) -> Vec<Piece> {
    let (front, back) = (bodice.front.armhole_length(), bodice.back.armhole_length());
    let cap = Cap::draft(&CapTask {
        front_armhole: front,
        back_armhole: back,
        ease: CAP_EASE,
        height: 0.28 * (front + back),
        least_width: body.upper_arm + 70.0,
    });
    // 10 mm longer than the arm, so that it bends; the cuff makes up the rest. The dropped shoulder shortens it.
    let hem = cap.top.y - (body.arm_length + 10.0 - CUFF - FIT.shoulder_drop);
    let cuff_length = body.wrist + 65.0;
    let width = (cuff_length + 2.0 * SLEEVE_PLEAT).min(cap.width() - 20.0);
    let middle = f64::midpoint(cap.front_underarm().x, cap.back_underarm().x);
    let (low_back, low_front) = (Point::new(middle - width / 2.0, hem), Point::new(middle + width / 2.0, hem));
    // Longer over the elbow side, shorter in front.
    let hem_line = bent_ruler(
        &[
            low_back,
            Point::new(middle - width / 4.0, hem - 7.0),
            Point::new(middle + width / 4.0, hem + 5.0),
            low_front,
        ],
        None,
        None,
    );
    let seam = |from: Point, to: Point| hermite(from, Vec2::new(0.0, 90.0), to, (to - from) * 0.33);
    let pen = Pen::at(low_back)
        .curves("cuff seam", &hem_line)
        .curve("front underarm seam", seam(low_front, cap.front_underarm()))
        .curves("cap", &cap.whole())
        .curve("back underarm seam", {
            let up = seam(low_back, cap.back_underarm());
            CubicBez::new(up.p3, up.p2, up.p1, up.p0)
        });
    let behind = width / 4.0;
    let sleeve = with_cap_marks(Piece::new("Sleeve", pen), &cap, bodice, parts)
        .notch("placket", "cuff seam", End::Start, behind)
        .notch("first pleat", "cuff seam", End::Start, behind + PLEATS_FROM_PLACKET[0])
        .notch("first pleat, laid to", "cuff seam", End::Start, behind + PLEATS_FROM_PLACKET[0] + SLEEVE_PLEAT)
        .notch("second pleat", "cuff seam", End::Start, behind + PLEATS_FROM_PLACKET[1])
        .notch("second pleat, laid to", "cuff seam", End::Start, behind + PLEATS_FROM_PLACKET[1] + SLEEVE_PLEAT)
        .point_on("between pleats", "cuff seam", End::Start, behind + BETWEEN_PLEATS)
        .across([], [("sleeve", 0.5 * hem)]);
    let cuff = |name: &str, depth: f64| {
        small_parts::strip(name, depth, cuff_length + CUFF_LAP, ["end", "sleeve", "lap", "edge"])
            .sized_by("bust")
            .grain(Grain::CrossAllowed)
            .notch("underarm", "sleeve", End::Start, behind)
            .notch("lap", "sleeve", End::Finish, CUFF_LAP)
    };
    vec![
        sleeve,
        small_parts::placket("Sleeve placket").pair("main", 2),
        cuff("Cuff", 2.0 * CUFF).any("main", 2).ends("sleeve", "placket", "lap end").point_on(
            "between pleats",
            "sleeve",
            End::Finish,
            CUFF_LAP + BETWEEN_PLEATS - SLEEVE_PLEAT,
        ),
        cuff("Cuff interfacing", CUFF).any("interfacing", 2),
        short_sleeve(body, bodice, parts, &cap),
    ]
}

fn short_sleeve(body: &Body, bodice: &Bodice, parts: &UpperParts, cap: &Cap) -> Piece {
    let hem = cap.top.y - (SHORT_SLEEVE * body.arm_length - FIT.shoulder_drop);
    let (front, back) = (cap.front_underarm(), cap.back_underarm());
    let low_back = Point::new(back.x + SHORT_TAPER / 2.0, hem);
    let pen = Pen::at(low_back)
        .line("hem", Point::new(front.x - SHORT_TAPER / 2.0, hem))
        .with("hem", 25.0)
        .line("front underarm seam", front)
        .curves("cap", &cap.whole())
        .line("back underarm seam", low_back);
    with_cap_marks(Piece::new("Short sleeve", pen), cap, bodice, parts).across([], [("sleeve", 0.5 * hem)])
}

/// The notches and points that both sleeves share.
fn with_cap_marks(sleeve: Piece, cap: &Cap, bodice: &Bodice, parts: &UpperParts) -> Piece {
    let whole = sleeve.seam_length("cap");
    let (at_front, at_back) = (front_notch(&bodice.front), back_notch(&bodice.back));
    let shoulder = chain_length(&cap.front);
    let over_yoke = [&parts.front_armhole.1, &parts.back_armhole.1].map(|chain| chain_length(chain));
    sleeve
        .pair("main", 2)
        .sized_by("bust")
        .notch("front armhole", "cap", End::Start, at_front)
        .notch("shoulder", "cap", End::Start, shoulder)
        .notch("back armhole", "cap", End::Start, whole - at_back)
        .notch("back armhole, second", "cap", End::Start, whole - at_back - 10.0)
        .point_on("front armhole notch", "cap", End::Start, at_front)
        .point_on("front yoke at armhole", "cap", End::Start, shoulder - over_yoke[0])
        .point_on("back yoke at armhole", "cap", End::Start, shoulder + over_yoke[1])
        .point_on("back armhole notch", "cap", End::Start, whole - at_back)
        .ends("front underarm seam", "front low", "side high")
        .ends("back underarm seam", "underarm, back", "back low")
        .point("sleeve middle", Point::ORIGIN)
        .point("cap top", cap.top)
}

/// The bag of a pocket in the side seam, four times alike: a hand deep, its straight edge the side seam of the back.
fn side_pocket(side: &[CubicBez], hip_depth: f64) -> Piece {
    let from_hem = chain_length(side) - side_above_waist(side) - SIDE_POCKET.0 - SIDE_POCKET.1;
    let (_, above) = cut_chain_at(side, from_hem - 30.0);
    let (mouth, _) = cut_chain_at(&above, SIDE_POCKET.1 + 60.0);
    let (low, high) = (mouth[0].p0, mouth[mouth.len() - 1].p3);
    let bag = bent_ruler(
        &[
            high,
            Point::new(high.x - 130.0, high.y - 70.0),
            Point::new(high.x - 150.0, low.y - 30.0),
            low - Vec2::new(70.0, 75.0),
            low,
        ],
        Some(Vec2::new(-1.0, -0.1)),
        Some(Vec2::new(1.0, 0.35)),
    );
    Piece::new("In-seam pocket bag", Pen::at(low).curves("side", &mouth).curves("bag", &bag))
        .pair("main", 4)
        .across([("waist", 0.0), ("hip", -hip_depth)], [])
        .point_on("opening low", "side", End::Start, 30.0)
        .point_on("opening high", "side", End::Start, 30.0 + SIDE_POCKET.1)
}

fn collar(bodice: &Bodice, parts: &UpperParts) -> Vec<Piece> {
    let to_front_yoke = chain_length(&[bodice.back.neckline]) + chain_length(&parts.front_neckline.0);
    let stand = stand(bodice.half_neckline(), BAND / 2.0);
    vec![
        Piece::new("Collar", shirt_collar(stand.upper))
            .any("main", 2)
            .any("interfacing", 1)
            .allowance(10.0)
            .grain_at(0.3)
            .sized_by("bust")
            .ends("collar seam", "centre back", "collar end"),
        Piece::new("Collar stand", stand.pen)
            .any("main", 2)
            .any("interfacing", 1)
            .allowance(10.0)
            .grain_at(0.12)
            .notch("centre front", "neck", End::Start, bodice.half_neckline())
            .notch("shoulder", "neck", End::Start, chain_length(&[bodice.back.neckline]))
            .sized_by("bust")
            .point_on("centre back", "neck", End::Start, 0.0)
            .point_on("front yoke", "neck", End::Start, to_front_yoke)
            .point_on("front edge", "neck", End::Start, bodice.half_neckline() - BAND / 2.0)
            .ends("collar seam", "collar end", "centre back top"),
    ]
}

fn pockets() -> Vec<Piece> {
    vec![
        small_parts::pointed_pocket("Patch pocket", 125.0, 135.0, 15.0).any("main", 2),
        small_parts::pointed_flap("Pocket flap", 129.0, 52.0, 14.0).any("main", 4).any("interfacing", 2),
    ]
}
