//! The Deckhand jacket, test data for a band of yardage: boxy, drop-shouldered, with lapels, two-piece sleeves, patch
//! pockets and a back vent.
//!
//! About 10 in of ease at the bust, a hip that finishes within a couple of inches of the bust, and 2 3/4 yd of plain
//! 60 in cloth for a bust of 50 in: common practice, no source.

use kurbo::{CubicBez, Point, Vec2};

use crate::bodice::{Bodice, Fit, Half};
use crate::curve::{bent_ruler, chain_length};
use crate::jacket::{Heights, hem_from};
use crate::lapel::{self, Lapel, Style, upper_back};
use crate::piece::Pen;
use crate::sleeve::{Cap, CapTask};
use crate::two_piece_sleeve::{self, Armhole, Below, Layer, OnArmhole, Sleeves};
use crate::{Body, Choice, DeclaredLength, End, Girth, Pattern, Piece, Seam, SeamSide, small_parts};

const FIT: Fit = Fit { bust_ease: 254.0, scye_drop: 62.0, shoulder_drop: 68.0, neck_ease: 8.0, width_share: 0.42 };
/// Nape to hem: 29 1/2 in.
const LENGTH: f64 = 750.0;
/// Hem of a jacket: 1 1/2 to 2 in ("How deep is that hem", American Sewing Guild, 2025).
const HEM: f64 = 51.0;
const STYLE: Style = Style { extension: 28.0, turn: 20.0, lapel: 105.0, notch: 46.0, collar: 92.0, facing: 130.0 };
/// The vent's width and height, its upper end slanted.
const VENT: (f64, f64) = (55.0, 230.0);
/// A flat cap of a drop shoulder takes little ease.
const CAP_EASE: f64 = 12.0;

/// Drafts the jacket for `body`.
pub(crate) fn draft(body: &Body) -> Pattern {
    let bodice = Bodice::draft(body, &FIT);
    let (back, front) = (&bodice.back, &bodice.front);
    let hem = body.back_length - LENGTH;
    let lapel = Lapel::draft(front, &STYLE);
    let foot = Point::new(-STYLE.extension, hem - 8.0);
    let front_side = side(front, hem);
    let front_hem = hem_from(foot, front_side[0].p0, -4.0);
    let notches = OnArmhole { front: 0.38 * front.armhole_length(), back: 0.42 * back.armhole_length() };

    let pen = Pen::at(foot)
        .curve("hem", front_hem)
        .with("hem", HEM)
        .curves("side", &front_side)
        .curves("armhole", &front.armhole)
        .line("shoulder", front.neck);
    let front_piece = Piece::new("Front", lapel.draw(pen, foot))
        .pair("main", 2)
        .notch("front armhole", "armhole", End::Start, notches.front)
        .notch("waist", "side", End::Finish, chain_length(&front_side[1..]))
        .point_on("front armhole notch", "armhole", End::Start, notches.front)
        .point_on("side low", "side", End::Start, 0.0)
        .point_on("side high", "side", End::Finish, 0.0)
        .point("centre front waist", Point::ORIGIN)
        .point("centre front low", Point::new(0.0, 0.8 * hem))
        .ends("shoulder", "shoulder", "shoulder at neck")
        .point_on("lapel notch", "gorge", End::Finish, 0.0)
        .point_on("front foot", "front edge", End::Finish, 0.0)
        .point("breast pocket corner", Point::new(115.0, 0.55 * front.tip.y))
        .point("pocket corner", Point::new(95.0, -40.0));
    let front_piece = lapel.rolled(front_piece);
    let (front_length, back_length) = (front.armhole_length(), back.armhole_length());
    let cap = Cap::draft(&CapTask {
        front_armhole: front_length,
        back_armhole: back_length,
        ease: CAP_EASE,
        height: 0.20 * (front_length + back_length),
        least_width: body.upper_arm + 90.0,
    });
    let below = Below {
        length: body.arm_length + 25.0 - FIT.shoulder_drop,
        elbow: 0.57 * body.arm_length - FIT.shoulder_drop,
        hem_girth: body.wrist + 190.0,
        hem: HEM,
    };
    let begins = OnArmhole { front: 0.0, back: 0.0 };
    let sleeves = two_piece_sleeve::draft(Layer::Shell, &cap, &below, &notches, &begins);
    let seams = seams(&sleeves);
    let heights = Heights::of(&bodice, body.hip_depth, hem, &STYLE);
    let halves = sleeves.marked(front_piece, back_piece(back, hem, &notches), &begins);
    let mut pieces = Vec::from(halves.map(|p| heights.mark(p)));
    pieces.extend(sleeves.pieces.map(|p| p.pair("main", 2)));
    pieces.extend(lapel.collars(chain_length(&[back.neckline])));
    pieces.push(heights.mark(lapel.facing(front, &[front_hem], HEM)).pair("interfacing", 2));
    // Unlined, so the upper back is faced down to the shoulder blades and the pockets are lined with their own cloth.
    pieces.push(upper_back("Back facing", back, &back.armhole[1..], -45.0).any("main", 1));
    pieces.push(small_parts::round_pocket("Patch pocket", 205.0, 230.0, 45.0).any("main", 4));
    pieces.push(small_parts::round_pocket("Breast pocket", 125.0, 145.0, 35.0).any("main", 1));

    Pattern {
        name: "Deckhand jacket",
        kind: "jacket",
        choose_by: "bust",
        roles: vec![
            ("main", "coating, heavy wool, canvas or double cloth"),
            ("interfacing", "medium fusible interfacing, for collars and facings"),
        ],
        views: vec![(
            "A",
            "Oversized unlined jacket with patch pockets and a back vent",
            vec![
                "Front",
                "Back",
                "Upper sleeve",
                "Under sleeve",
                "Upper collar",
                "Under collar",
                "Front facing",
                "Back facing",
                "Patch pocket",
                "Breast pocket",
            ],
        )],
        choices: vec![
            Choice { name: "pocket", groups: vec![("patch", vec!["Patch pocket"]), ("none", vec![])] },
            Choice { name: "breast pocket", groups: vec![("patch", vec!["Breast pocket"]), ("none", vec![])] },
        ],
        pieces,
        seams,
        girths: (Girth::all_round(["bust", "waist", "hip"], &["Front", "Back"]).into_iter())
            .map(|girth| girth.from("Front", "centre front waist").from("Back", "centre back waist"))
            .collect(),
        lengths: vec![
            DeclaredLength::new("back length", [("Back", "centre back", 1), ("Back", "vent", 1)]),
            DeclaredLength::new("sleeve seam", [("Upper sleeve", "front sleeve seam", 1)]),
            DeclaredLength::new("hem sweep", [("Front", "hem", 2), ("Back", "hem", 2)]),
        ],
    }
}

/// What is sewn to what.
fn seams(sleeves: &Sleeves) -> Vec<Seam> {
    let mut seams = vec![
        Seam::new(
            "centre front",
            "centre front",
            SeamSide::of("Front", ["front edge"], ["centre front waist"])
                .centred("centre front low", "centre front waist"),
        ),
        Seam::new(
            "centre back",
            "centre back",
            SeamSide::of("Back", ["centre back"], ["centre back waist"])
                .centred("centre back waist", "centre back neck"),
        ),
        Seam::new("side", "side", SeamSide::of("Front", ["side"], ["side low", "waist", "side high"]))
            .sewn_to(SeamSide::of("Back", ["side"], ["side low", "waist", "side high"])),
        small_parts::laid_on_front("pocket", "Patch pocket", "pocket corner"),
        small_parts::laid_on_front("breast pocket", "Breast pocket", "breast pocket corner"),
    ];
    seams.extend(sleeves.seams(&Armhole { front: "Front", side: None, back: "Back" }, CAP_EASE));
    seams.extend(lapel::seams());
    seams
}

/// The side seam from the hem up, all but straight; the hem is 8 mm narrower than the bust on each edge, so the hip
/// finishes within a couple of inches of it.
fn side(half: &Half, hem: f64) -> Vec<CubicBez> {
    let top = half.underarm;
    bent_ruler(
        &[Point::new(top.x - 8.0, hem), Point::new(top.x - 6.0, 0.0), top],
        Some(Vec2::new(0.0, 1.0)),
        Some(Vec2::new(0.03, 1.0)),
    )
}

fn back_piece(back: &Half, hem: f64, notches: &OnArmhole) -> Piece {
    let side = side(back, hem);
    let low = Point::new(-VENT.0, hem);
    let vent_top = Point::new(0.0, hem + VENT.1);
    let pen = Pen::at(low)
        .curve("hem", hem_from(low, side[0].p0, 0.0))
        .with("hem", HEM)
        .curves("side", &side)
        .curves("armhole", &back.armhole)
        .line("shoulder", back.neck)
        .curve("neckline", back.neckline)
        .line("centre back", vent_top)
        .line("vent top", Point::new(-VENT.0, vent_top.y - 25.0))
        .line("vent", low);
    Piece::new("Back", pen)
        .pair("main", 2)
        .double_notch("back armhole", "armhole", End::Start, notches.back)
        .notch("waist", "side", End::Finish, chain_length(&side[1..]))
        .point_on("back armhole notch", "armhole", End::Start, notches.back)
        .point_on("side low", "side", End::Start, 0.0)
        .point_on("side high", "side", End::Finish, 0.0)
        .ends("shoulder", "shoulder", "shoulder at neck")
        .point("centre back neck", back.centre_neck)
        .point("centre back waist", Point::ORIGIN)
}
