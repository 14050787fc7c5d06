//! The Pilot-house shirt-dress: yoke, pleated back, bust darts, set-in sleeves with plackets and cuffs, collar on a stand,
//! patch pockets with flaps, button bands and a belt. View B takes collar, cuffs and flaps from a contrast.

use kurbo::{CubicBez, Point, Vec2};

use crate::bodice::{Bodice, Fit, Half};
use crate::collar::{onto_shoulder, shirt_collar, stand};
use crate::curve::{bent_ruler, chain_length, cut_chain, hermite, left_of, moved, quarter_turn, reversed, solve};
use crate::dart::SideDart;
use crate::piece::Pen;
use crate::sleeve::{Cap, CapTask};
use crate::{Body, End, Grain, Pattern, Piece, Seam, SeamSide, small_parts};

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
/// The sleeve pleats into the cuff: two of them, 28 mm each.
const SLEEVE_PLEATS: f64 = 56.0;
/// Cap ease of a shirt sleeve: little, it is flat-felled or nearly so.
const CAP_EASE: f64 = 14.0;

/// Drafts the dress for `body`.
pub(crate) fn draft(body: &Body) -> Pattern {
    let bodice = Bodice::draft(body, &FIT);
    let hem = -(body.waist_to_knee() + 20.0);
    let back_side = side_points(body, &bodice.back, -5.0, hem);
    let back_chain =
        bent_ruler(&[back_side[0], back_side[1], back_side[2], bodice.back.underarm], None, Some(Vec2::new(0.12, 1.0)));
    let upper_parts = UpperParts::cut(&bodice);

    let mut pieces = vec![
        front(body, &bodice, &upper_parts, hem, chain_length(&back_chain)),
        back(&bodice, &upper_parts, hem, &back_chain),
        yoke(&bodice, &upper_parts),
    ];
    let bottom = |p: &Piece| p.seam_length("front edge");
    let band = bottom(&pieces[0]);
    pieces.extend(sleeve(body, &bodice));
    pieces.extend(collar(&bodice));
    let strip = |name: &str, width: f64| small_parts::strip(name, width, band, ["hem", "front", "neck", "edge"]);
    pieces.push(button_band(strip("Button band", 2.0 * BAND).pair("main", 2), -hem));
    pieces.push(strip("Band stiffening", BAND).pair("interfacing", 2));
    pieces.extend(pockets());
    pieces.push(small_parts::belt("Belt", body.waist + 420.0, 80.0).same("main", 1));
    let contrast: Vec<Piece> = (pieces.iter())
        .filter(|p| ["Collar", "Cuff", "Pocket flap"].contains(&p.name.as_str()))
        .map(|p| small_parts::in_contrast(p.clone()))
        .collect();
    pieces.extend(contrast);
    Pattern {
        name: "Pilot-house shirt-dress",
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
        pieces,
        seams: seams(),
    }
}

/// What meets on cloth with a design. Cuffs and belt are cut along their length, so that their bars run the other way round the
/// body than those they are sewn to: nothing of them matches.
fn seams() -> Vec<Seam> {
    let centre_front = |piece, seam| {
        SeamSide::of(piece, [seam], ["centre front waist"]).centred("centre line low", "centre line high")
    };
    vec![
        Seam::new("centre front", "centre front", centre_front("Front", "front edge"))
            .sewn_to(centre_front("Button band", "front")),
        Seam::new("centre back", "centre back", SeamSide::of("Back", [], ["centre back waist"])),
        // The bust dart takes its share out above the waist, so that only what lies below it meets.
        Seam::new("side", "side", SeamSide::of("Front", ["side", "side above dart"], ["side low", "waist"]))
            .sewn_to(SeamSide::of("Back", ["side"], ["side low", "waist"])),
        small_parts::laid_on_front("pocket", "Pocket", "pocket corner"),
        small_parts::laid_on_front("pocket flap", "Pocket flap", "flap corner"),
        // The front notch meets, and the back falls where it will (common practice, no source); the middle of the sleeve stands
        // on the main bar.
        Seam::new(
            "sleeve",
            "sleeve",
            SeamSide::of("Sleeve", ["cap"], ["front armhole notch"]).centred("sleeve middle", "cap top"),
        )
        .sewn_to(SeamSide::of("Front", ["armhole"], ["front armhole notch"])),
        Seam::new("collar", "collar", SeamSide::of("Collar", ["collar seam"], ["centre back"])).sewn_to(SeamSide::of(
            "Collar stand",
            ["collar seam"],
            ["centre back top"],
        )),
        Seam::new("collar stand", "collar", SeamSide::of("Collar stand", ["neck"], ["centre back"]))
            .sewn_to(SeamSide::of("Yoke", ["neckline"], ["centre back neck"])),
        Seam::new("yoke", "yoke", SeamSide::of("Yoke", ["yoke seam"], ["centre back"])).sewn_to(SeamSide::of(
            "Back",
            ["yoke seam"],
            ["centre back yoke"],
        )),
        Seam::new("front yoke", "yoke", SeamSide::of("Yoke", ["front yoke seam"], ["front yoke at armhole"]))
            .sewn_to(SeamSide::of("Front", ["front yoke seam"], ["front yoke at armhole"])),
    ]
}

/// The band with its marks: centre front runs along the middle of the half that is seen.
fn button_band(band: Piece, waist: f64) -> Piece {
    let (seam, middle) = (2.0 * BAND, 1.5 * BAND);
    band.point("centre front waist", Point::new(seam, waist))
        .point("centre line low", Point::new(middle, 0.0))
        .point("centre line high", Point::new(middle, waist))
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
        "Cuff stiffening",
        collar,
        "Collar stand",
        "Button band",
        "Band stiffening",
        "Pocket",
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

/// The hem from the centre to the side, square to both.
fn hem_curve(centre: Point, side: &CubicBez) -> CubicBez {
    let reach = (side.p0.x - centre.x) / 3.0;
    let square = quarter_turn(side.p1 - side.p0).normalize() * -reach;
    hermite(centre, Vec2::new(reach, 0.0), side.p0, square)
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
        .line("dart", dart.cap)
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
        .point("dart point", apex)
        .point("dart lower leg", dart.lower)
        .point("dart upper leg", dart.upper)
        .point("centre front waist", Point::new(edge, -DART))
        .point("centre front neck", top)
        .point("centre line low", Point::new(0.0, hem - DART))
        .point("centre line high", Point::new(0.0, -DART))
        .point_on("front yoke at armhole", "armhole", End::Finish, 0.0)
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
        .point("centre back yoke", Point::new(-PLEAT, yoke_level))
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
        .point_on("front yoke at armhole", "front yoke seam", End::Start, 0.0)
}

fn sleeve(body: &Body, bodice: &Bodice) -> Vec<Piece> {
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
    let width = (cuff_length + SLEEVE_PLEATS).min(cap.width() - 20.0);
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
    let sleeve = Piece::new("Sleeve", pen).pair("main", 2);
    let whole = sleeve.seam_length("cap");
    let (at_front, at_back) = (front_notch(&bodice.front), back_notch(&bodice.back));
    let sleeve = sleeve
        .notch("front armhole", "cap", End::Start, at_front)
        .notch("shoulder", "cap", End::Start, chain_length(&cap.front))
        .notch("back armhole", "cap", End::Start, whole - at_back)
        .notch("back armhole, second", "cap", End::Start, whole - at_back - 10.0)
        .notch("placket", "cuff seam", End::Start, width / 4.0)
        .point_on("front armhole notch", "cap", End::Start, at_front)
        .point_on("back armhole notch", "cap", End::Start, whole - at_back)
        .point_on("side high", "front underarm seam", End::Finish, 0.0)
        .point("sleeve middle", Point::ORIGIN)
        .point("cap top", cap.top);
    let cuff =
        |name: &str, depth: f64| small_parts::strip(name, depth, cuff_length + 25.0, ["end", "sleeve", "lap", "edge"]);
    vec![
        sleeve,
        small_parts::placket("Sleeve placket").pair("main", 2),
        cuff("Cuff", 2.0 * CUFF).any("main", 2).grain(Grain::CrossAllowed).notch("lap", "sleeve", End::Finish, 25.0),
        cuff("Cuff stiffening", CUFF).any("interfacing", 2).grain(Grain::CrossAllowed),
    ]
}

fn collar(bodice: &Bodice) -> Vec<Piece> {
    let stand = stand(bodice.half_neckline(), BAND / 2.0);
    vec![
        Piece::new("Collar", shirt_collar(stand.upper))
            .any("main", 2)
            .any("interfacing", 1)
            .allowance(10.0)
            .grain_at(0.3)
            .point_on("centre back", "collar seam", End::Start, 0.0),
        Piece::new("Collar stand", stand.pen)
            .any("main", 2)
            .any("interfacing", 1)
            .allowance(10.0)
            .grain_at(0.12)
            .notch("centre front", "neck", End::Start, bodice.half_neckline())
            .notch("shoulder", "neck", End::Start, chain_length(&[bodice.back.neckline]))
            .point_on("centre back", "neck", End::Start, 0.0)
            .point_on("centre back top", "collar seam", End::Finish, 0.0),
    ]
}

fn pockets() -> Vec<Piece> {
    vec![
        small_parts::pointed_pocket("Pocket", 125.0, 135.0, 15.0).any("main", 2),
        small_parts::pointed_flap("Pocket flap", 129.0, 52.0, 14.0).any("main", 4).any("interfacing", 2),
    ]
}
