//! The Slipway blouse: bust darts in the side seams, waist darts inside front and back, a hem curved up at the sides and faced, button
//! bands, a round collar on a stand. Long sleeves are gathered into cuffs, short ones are puffed: gathered at the cap and into an armband.
//! Without its collar the stand is a band collar.

mod seams;
mod sleeve;

use kurbo::{CubicBez, Point, Vec2};

use crate::bodice::{Bodice, Fit, Half};
use crate::collar::{round_collar, stand};
use crate::curve::{bent_ruler, chain_length, cut_chain, cut_chain_at, hem_curve, reversed, solve};
use crate::dart::{SideDart, waist_dart};
use crate::piece::{Dart, Pen};
use crate::{Body, Choice, DeclaredLength, End, Girth, GirthPart, Pattern, Piece, small_parts};

/// More than the 1 1/2 to 2 in of a bodice ("Ease in Clothing", Costume text, Central Washington University), since it is worn over
/// something and raised arms must not lift it (design choice).
const FIT: Fit = Fit { bust_ease: 90.0, scye_drop: 12.0, shoulder_drop: 0.0, neck_ease: 2.0, width_share: 0.26 };
const WAIST_EASE: f64 = 100.0;
const HIP_EASE: f64 = 80.0;
/// From the hip level down to the hem at the centre, and how much higher the hem lies at the side (design choice).
const BELOW_HIP: f64 = 80.0;
const HEM_RISES: f64 = 45.0;
/// Finished depth of the hem facing, seam allowance at the hem, and what is turned under at the facing's inner edge. A shaped facing takes a
/// curve that a deep hem cannot (common practice, no source).
const HEM_FACING: f64 = 35.0;
const HEM_SEAM: f64 = 10.0;
const TURNED_UNDER: f64 = 6.0;
/// Finished width of the button bands; centre front runs along their middle. At least 3/4 of a button from centre to edge
/// (a home-sewing handbook): 15 mm serves buttons up to 20 mm.
const BAND: f64 = 30.0;
/// Width of the bust dart. It ends so far short of the bust point, and the waist dart so far below it (common practice, no source: about
/// an inch).
const BUST_DART: f64 = 25.0;
const SHORT_OF_BUST: f64 = 25.0;
/// What each side seam takes in at the waist at most; the darts take the rest.
const SIDE_TAKES: f64 = 16.0;
/// Least and most that a waist dart takes up.
const WAIST_DART: (f64, f64) = (10.0, 36.0);

/// Drafts the blouse for `body`.
pub(crate) fn draft(body: &Body) -> Pattern {
    let bodice = Bodice::draft(body, &FIT);
    let hem = -(body.hip_depth + BELOW_HIP);
    let (back_side, back_dart) = side_and_dart(body, &bodice.back, -5.0, hem);
    let back_chain =
        bent_ruler(&[back_side[0], back_side[1], back_side[2], bodice.back.underarm], None, Some(Vec2::new(0.10, 1.0)));
    let heights = Heights::of(body, &bodice);
    let shape = FrontShape::of(body, &bodice, hem, chain_length(&back_chain));
    let front = shape.front(&bodice.front);
    let band = front.seam_length("front edge");
    let strip = |name: &str, width: f64| {
        let strip = small_parts::strip(name, width, band, ["hem", "front", "neck", "edge"]);
        heights.mark(strip, BUST_DART, hem - BUST_DART)
    };
    let stand = stand(bodice.half_neckline(), BAND / 2.0);
    let back_neck = chain_length(&[bodice.back.neckline]);
    let mut pieces = vec![
        heights.mark(front, BUST_DART, 0.0),
        heights.mark(back(&bodice, hem, &back_chain, back_dart), 0.0, 0.0),
        hem_facing("Front hem facing", &shape.side, Point::new(BAND / 2.0, hem - BUST_DART)).pair("main", 2),
        back_hem_facing(&back_chain, hem).any("main", 1),
        small_parts::button_band(strip("Button band", 2.0 * BAND).pair("main", 2), BAND, -hem),
        strip("Button band interfacing", BAND).pair("interfacing", 2),
    ];
    pieces.extend([
        Piece::new("Collar", round_collar(stand.upper))
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
            .notch("shoulder", "neck", End::Start, back_neck)
            .sized_by("bust")
            .point_on("centre back", "neck", End::Start, 0.0)
            .point_on("front edge", "neck", End::Start, bodice.half_neckline() - BAND / 2.0)
            .ends("collar seam", "collar end", "centre back top"),
    ]);
    pieces.extend(sleeve::draft(body, &bodice));
    Pattern {
        name: "Slipway blouse",
        kind: "dress",
        choose_by: "bust",
        roles: vec![
            ("main", "lawn, shirting, gingham or soft linen"),
            ("interfacing", "light fusible interfacing, its glue on one side"),
        ],
        views: vec![(
            "A",
            "Darted blouse with a faced curved hem",
            vec![
                "Front",
                "Back",
                "Front hem facing",
                "Back hem facing",
                "Button band",
                "Button band interfacing",
                "Collar",
                "Collar stand",
                "Sleeve",
                "Sleeve opening lap",
                "Cuff",
                "Cuff interfacing",
            ],
        )],
        choices: vec![
            Choice {
                name: "sleeve",
                groups: vec![
                    ("long", vec!["Sleeve", "Sleeve opening lap", "Cuff", "Cuff interfacing"]),
                    ("puff", vec!["Puff sleeve", "Armband"]),
                ],
            },
            Choice { name: "collar", groups: vec![("round", vec!["Collar"]), ("band", vec![])] },
        ],
        pieces,
        seams: seams::seams(),
        girths: girths(),
        lengths: vec![
            DeclaredLength::new("back length", [("Back", "centre back", 1)]),
            DeclaredLength::new("sleeve seam", [("Sleeve", "front underarm seam", 1)]),
            DeclaredLength::new("hem sweep", [("Front", "hem", 2), ("Back", "hem", 2)]),
        ],
    }
}

/// Round the body go both fronts, the back and the button bands, which are folded in half and lie one over the other.
fn girths() -> Vec<Girth> {
    let band = GirthPart { piece: "Button band", times: 2, from: None };
    (Girth::all_round(["bust", "waist", "hip"], &["Front", "Back"]).into_iter())
        .map(|mut girth| {
            girth.parts.push(band.clone());
            girth.less(3.0 * BAND)
        })
        .collect()
}

/// Levels of the body, and lines to lengthen or shorten at, in the frame of the back.
struct Heights {
    levels: [(&'static str, f64); 3],
    lines: [(&'static str, f64); 2],
}

impl Heights {
    fn of(body: &Body, bodice: &Bodice) -> Self {
        Self {
            levels: [("bust", bodice.bust_level()), ("waist", 0.0), ("hip", -body.hip_depth)],
            // The upper one lies below the bust dart, the lower one below the waist darts.
            lines: [("bodice", 0.35 * bodice.back.underarm.y), ("body", 15.0 - body.hip_depth)],
        }
    }

    /// Puts them on a piece in which all that lies below the bust dart is `dart` mm lower, and whose own zero lies at `zero`.
    fn mark(&self, piece: Piece, dart: f64, zero: f64) -> Piece {
        let own = |(name, y)| (name, if name == "bust" { y } else { y - dart } - zero);
        piece.across(self.levels.map(own), self.lines.map(own))
    }
}

/// Hem, hip and waist of a side seam, and what the waist dart takes up. `wider` is what this half has more than a quarter.
fn side_and_dart(body: &Body, half: &Half, wider: f64, hem: f64) -> ([Point; 3], f64) {
    let hip = (body.hip + HIP_EASE) / 4.0 + wider;
    let wanted = (body.waist + WAIST_EASE) / 4.0 + wider;
    // With the least dart the seam may have to go outward.
    let waist = (half.underarm.x - SIDE_TAKES).max(wanted + WAIST_DART.0);
    let taken_up = (waist - wanted).min(WAIST_DART.1);
    let hip_at = Point::new(hip.max(waist - 10.0), -body.hip_depth);
    ([Point::new(hip_at.x + 4.0, hem + HEM_RISES), hip_at, Point::new(waist, 0.0)], taken_up)
}

/// The lines of the front.
struct FrontShape {
    side: Vec<CubicBez>,
    corner: Point,
    bust_dart: Dart,
    waist_dart: Dart,
    above_dart: f64,
}

impl FrontShape {
    fn of(body: &Body, bodice: &Bodice, hem: f64, back_side: f64) -> Self {
        let half = &bodice.front;
        let (side, taken_up) = side_and_dart(body, half, 5.0, hem);
        let [low, hip, waist] = side.map(|p| p - Vec2::new(0.0, BUST_DART));
        let bust_point = Point::new(body.bust / 10.0 + 5.0, body.back_length - body.scye_depth() - 42.0);
        let tip = bust_point + Vec2::new(SHORT_OF_BUST, 2.0);
        let dart = SideDart::draft(half.underarm, Vec2::new(-0.06, -1.0), FIT.scye_drop + 50.0, tip, BUST_DART);
        let above_dart = half.underarm.distance(dart.upper);
        let chain = |y: f64| bent_ruler(&[Point::new(low.x, y), hip, waist, dart.lower], None, Some(dart.up));
        // The front seam below and above the dart together is as long as the back's.
        // It stays below the hip.
        let reach = 0.6 * (hip.y - low.y);
        let y = solve(low.y - reach, low.y + reach, |y| chain_length(&chain(y)) + above_dart - back_side);
        let ends = (bust_point.y - SHORT_OF_BUST, -0.75 * body.hip_depth - BUST_DART);
        Self {
            side: chain(y),
            corner: Point::new(BAND / 2.0, hem - BUST_DART),
            bust_dart: Dart { name: "bust dart", legs: [dart.lower, dart.upper], tips: vec![tip], pressed: "down" },
            waist_dart: waist_dart("waist dart", Point::new(bust_point.x, -BUST_DART), ends, taken_up),
            above_dart,
        }
    }

    fn front(&self, half: &Half) -> Piece {
        let (neckline, _) = cut_chain(&[half.neckline], |p| p.x - self.corner.x);
        let [.., upper] = self.bust_dart.legs;
        let pen = Pen::at(self.corner)
            .curve("hem", hem_curve(self.corner, &self.side[0]))
            .with("hem", HEM_SEAM)
            .curves("side", &self.side)
            .line("dart", upper)
            .line("side above dart", half.underarm)
            .curves("armhole", &half.armhole)
            .line("shoulder", half.neck)
            .curves("neckline", &neckline)
            .line("front edge", self.corner);
        let notch = sleeve::front_notch(half);
        let front = Piece::new("Front", pen).pair("main", 2);
        let top = front.on_seam("neckline", End::Finish, 0.0);
        let waist = chain_length(&self.side[2..]);
        front
            .notch("front armhole", "armhole", End::Start, notch)
            .notch("waist", "side", End::Finish, waist)
            .point_on("front armhole notch", "armhole", End::Start, notch)
            .point_on("side low", "side", End::Start, 0.0)
            .point_on("side high", "side above dart", End::Start, self.above_dart)
            .dart(self.bust_dart.clone())
            .dart(self.waist_dart.clone())
            .ends("shoulder", "shoulder", "shoulder at neck")
            .point("centre front waist", Point::new(self.corner.x, -BUST_DART))
            .point("centre front neck", top)
            .point("front foot", self.corner)
            .point("centre line low", Point::new(0.0, self.corner.y))
            .point("centre line high", Point::new(0.0, -BUST_DART))
    }
}

fn back(bodice: &Bodice, hem: f64, side: &[CubicBez], taken_up: f64) -> Piece {
    let half = &bodice.back;
    let corner = Point::new(0.0, hem);
    let pen = Pen::at(corner)
        .curve("hem", hem_curve(corner, &side[0]))
        .with("hem", HEM_SEAM)
        .curves("side", side)
        .curves("armhole", &half.armhole)
        .line("shoulder", half.neck)
        .curve("neckline", half.neckline)
        .fold("centre back", corner);
    let notch = sleeve::back_notch(half);
    // Up to the level of the underarm and a hand above the hem (common practice, no source).
    let ends = (half.underarm.y - 30.0, hem + BELOW_HIP + 30.0);
    let middle = 0.46 * (side[2].p0.x - taken_up / 2.0);
    Piece::new("Back", pen)
        .any("main", 1)
        .grain_at(0.25)
        .double_notch("back armhole", "armhole", End::Start, notch)
        .notch("waist", "side", End::Finish, chain_length(&side[2..]))
        .point_on("back armhole notch", "armhole", End::Start, notch)
        .point_on("side low", "side", End::Start, 0.0)
        .point_on("side high", "side", End::Finish, 0.0)
        .dart(waist_dart("waist dart", Point::new(middle, 0.0), ends, taken_up))
        .ends("shoulder", "shoulder", "shoulder at neck")
        .point("centre back neck", half.centre_neck)
        .point("centre back waist", Point::ORIGIN)
        .point("centre back low", corner)
}

/// The lower edge, the first of the side seam, and the inner edge of a hem facing whose hem starts at `corner`.
fn facing_lines(side: &[CubicBez], corner: Point) -> (CubicBez, Vec<CubicBez>, CubicBez) {
    let (under, beyond) = cut_chain_at(side, HEM_FACING);
    let inner = hem_curve(corner + Vec2::new(0.0, HEM_FACING), &beyond[0]);
    (hem_curve(corner, &side[0]), under, inner)
}

fn facing_pen(side: &[CubicBez], corner: Point) -> Pen {
    let (hem, side, inner) = facing_lines(side, corner);
    Pen::at(corner)
        .curve("hem", hem)
        .with("hem", HEM_SEAM)
        .curves("side", &side)
        .curves("inner edge", &reversed(&[inner]))
        .with("inner edge", TURNED_UNDER)
}

fn hem_facing(name: &str, side: &[CubicBez], corner: Point) -> Piece {
    let pen = facing_pen(side, corner).line("front edge", corner);
    faced(Piece::new(name, pen)).point("front foot", corner).point_on("front inner", "front edge", End::Start, 0.0)
}

fn back_hem_facing(side: &[CubicBez], hem: f64) -> Piece {
    let corner = Point::new(0.0, hem);
    let pen = facing_pen(side, corner).fold("centre back", corner);
    faced(Piece::new("Back hem facing", pen).grain_at(0.3)).point("centre back low", corner)
}

fn faced(piece: Piece) -> Piece {
    piece.grain(crate::Grain::CrossAllowed).sized_by("hip").ends("side", "side low", "side inner")
}
