//! The Harbour-watch jacket: single- or double-breasted fronts with notched lapels, or a shawl collar; side panels, a shaped centre back,
//! two-piece sleeves, patch pockets with flaps or bands, or welt pockets, full lining.
//!
//! The side panel is drawn in a frame of the whole half body: `x` from centre back to centre front.

mod front;
mod seams;
mod shawl;

use kurbo::{CubicBez, Point, Vec2};

use self::front::{FRONT_DART, Fronts, STYLE};
use crate::bodice::{Bodice, Fit, Half};
use crate::curve::{bent_ruler, chain_length, cut_chain, hermite, mirror_at, moved, reversed};
use crate::lapel::{Style, back_facing, back_lining, upper_back};
use crate::piece::Pen;
use crate::sleeve::{Cap, CapTask};
use crate::two_piece_sleeve::{self, Below, Layer, OnArmhole};
use crate::{Body, Choice, DeclaredLength, End, Girth, Pattern, Piece, small_parts};

/// Common practice, no source: a jacket carries 4 to 5 in over the bust when it is worn over a blouse.
const FIT: Fit = Fit { bust_ease: 125.0, scye_drop: 22.0, shoulder_drop: 6.0, neck_ease: 5.0, width_share: 0.27 };
const WAIST_EASE: f64 = 150.0;
const HIP_EASE: f64 = 100.0;
/// Hem of a jacket: 1 1/2 to 2 in ("How deep is that hem", American Sewing Guild, 2025).
const HEM: f64 = 42.0;
/// Ease of a tailored cap, shrunk in over the top (common practice, no source).
const CAP_EASE: f64 = 34.0;
/// The lining's cap has less: it is not shrunk in.
const LINING_CAP_EASE: f64 = 16.0;
/// Width and depth of the patch pocket, and how deep the band is that may be its mouth (design choice).
const POCKET_SIZE: (f64, f64) = (152.0, 170.0);
const POCKET_BAND: f64 = 30.0;
/// What of the lining is other than of the patch pocket: its mouth lies lower.
const POCKET_LINING: [&str; 3] = [
    "grainline = [[76, 21.3], [76, 120.7]]",
    "move = [{ edges = [\"mouth\"], by = [0, -28] }]",
    "change = [{ edge = \"mouth\", allowance = \"10 mm\" }]",
];
/// Diameter of the buttons on the sleeve, three on each.
const SLEEVE_BUTTON: f64 = 15.0;
/// Length and finished width of the welt that may take the place of the patch pocket (design choice).
const WELT: (f64, f64) = (140.0, 22.0);
/// What the centre back seam takes in at the waist and at the hem.
const CENTRE_BACK: (f64, f64) = (12.0, 8.0);

/// A seam between two panels, on the back or the front: it leaves the armhole at `top` and is the same curve, mirrored,
/// on both panels.
struct PanelSeam {
    /// The body's edge, from the hem up.
    edge: Vec<CubicBez>,
    /// Armhole from the underarm to the seam, and from the seam to the shoulder.
    armhole: (Vec<CubicBez>, Vec<CubicBez>),
}

impl PanelSeam {
    /// The seam that starts `share` of the way from the hollow of the armhole to its end at the side.
    fn draft(half: &Half, share: f64, shape: &SeamShape) -> Self {
        let hollow = half.armhole[0].p3;
        let x = hollow.x + share * (half.underarm.x - hollow.x);
        let (low, mut high) = cut_chain(&half.armhole[..1], |p| p.x - x);
        high.push(half.armhole[1]);
        let top = high[0].p0;
        let edge = bent_ruler(
            &[
                Point::new(top.x + shape.at_hem, shape.hem),
                Point::new(top.x + shape.at_hip, -shape.hip_depth),
                Point::new(top.x - shape.at_waist, 0.0),
                top,
            ],
            None,
            Some(Vec2::new(0.06, 1.0)),
        );
        Self { edge, armhole: (low, high) }
    }

    fn top(&self) -> Point {
        self.armhole.1[0].p0
    }

    /// The neighbour's edge: the same, mirrored about the upright through the top.
    fn mirrored(&self) -> Vec<CubicBez> {
        moved(&self.edge, mirror_at(self.top().x))
    }
}

/// How far a panel seam stands out from the upright through its top; positive is wider.
struct SeamShape {
    at_waist: f64,
    at_hip: f64,
    at_hem: f64,
    hip_depth: f64,
    hem: f64,
}

/// Drafts the jacket for `body`.
pub(crate) fn draft(body: &Body) -> Pattern {
    let bodice = Bodice::draft(body, &FIT);
    let (back, front) = (&bodice.back, &bodice.front);
    let hem = -(body.hip_depth + 45.0);
    let around = back.underarm.x + front.underarm.x;
    // Four edges, the centre back and the front dart share what goes in at the waist; the edges and the centre back what goes out at the hip.
    let in_waist = (around - CENTRE_BACK.0 - FRONT_DART.0 - (body.waist + WAIST_EASE) / 2.0) / 4.0;
    let out_hip = ((body.hip + HIP_EASE) / 2.0 - (around - CENTRE_BACK.1)) / 4.0;
    let shape = SeamShape {
        at_waist: in_waist.clamp(-8.0, 17.0),
        at_hip: out_hip.clamp(-8.0, 20.0),
        at_hem: 1.15 * out_hip.clamp(-8.0, 20.0),
        hip_depth: body.hip_depth,
        hem,
    };
    let back_seam = PanelSeam::draft(back, 0.10, &shape);
    let front_seam = PanelSeam::draft(front, 0.42, &shape);
    let foot = Point::new(-STYLE.extension, hem - 12.0);
    let front_hem = hem_from(foot, front_seam.edge[0].p0, -6.0);

    let notches = OnArmhole { front: 0.40 * front.armhole_length(), back: 0.46 * back.armhole_length() };
    let begins = OnArmhole { front: chain_length(&front_seam.armhole.0), back: chain_length(&back_seam.armhole.0) };
    let cap = cap(body, &bodice, CAP_EASE);
    let below = Below {
        length: body.arm_length + 20.0 - FIT.shoulder_drop,
        elbow: 0.57 * body.arm_length,
        hem_girth: body.wrist + 95.0,
        hem: HEM,
    };
    let sleeves = two_piece_sleeve::draft(Layer::Shell, &cap, &below, &notches, &begins);
    let lining_cap = self::cap(body, &bodice, LINING_CAP_EASE);
    let lining_below = Below { hem: 10.0, ..below };
    let lining_sleeves = two_piece_sleeve::draft(Layer::Lining, &lining_cap, &lining_below, &notches, &begins);
    let seams = seams::seams(&sleeves, &lining_sleeves);
    let heights = Heights::of(&bodice, body.hip_depth, hem, &STYLE);

    let back_neck = chain_length(&[back.neckline]);
    let fronts = Fronts { half: front, seam: &front_seam, hem: front_hem, notches: &notches, back_neck };
    let back_piece = back_piece(back, &back_seam, hem, &notches);
    let marked = |front: Piece| sleeves.marked(front, back_piece.clone(), &begins).map(|piece| heights.mark(piece));
    let [front_piece, facing, upper_collar, under_collar] = fronts.single();
    let [front_piece, back_piece] = marked(front_piece);
    let side_piece = side_piece(around, &back_seam, &front_seam);
    let mut side_lining = side_piece.clone();
    let mut pieces = vec![front_piece, heights.mark(side_piece), back_piece];
    pieces.extend(sleeves.pieces.clone().map(|p| p.pair("main", 2)));
    pieces.extend([upper_collar, under_collar, heights.mark(facing)]);
    pieces.push(back_facing(back));
    pieces.push(small_parts::round_pocket("Patch pocket", POCKET_SIZE.0, POCKET_SIZE.1, 35.0).any("main", 2));
    pieces.push(
        small_parts::round_flap("Pocket flap", 156.0, 58.0).pair("main", 2).pair("lining", 2).pair("interfacing", 2),
    );

    side_lining.name = "Side panel lining".into();
    side_lining.cuts.clear();
    side_lining.edges.iter_mut().filter(|e| e.seam == "hem").for_each(|e| e.allowance = Some(10.0));
    let [front_lining, back_lining] = lining_sleeves.marked(
        fronts.lapel().lining(front, &[front_hem], &front_seam.edge, &front_seam.armhole.1),
        back_lining(back, hem, &back_seam.edge, &back_seam.armhole.1),
        &begins,
    );
    let side_lining =
        side_lining.pair("lining", 2).like("Side panel", &["change = [{ edge = \"hem\", allowance = \"10 mm\" }]"]);
    pieces.extend([front_lining, side_lining, back_lining].map(|p| heights.mark(p)));
    pieces.extend(lining_sleeves.pieces.map(|p| p.pair("lining", 2)));
    pieces.push(
        small_parts::round_pocket("Patch pocket lining", POCKET_SIZE.0, POCKET_SIZE.1 - 28.0, 10.0)
            .any("lining", 2)
            .like("Patch pocket", &POCKET_LINING),
    );
    pieces.push(upper_back("Back stay", back, &back_seam.armhole.1, 38.0).any("canvas", 1));
    pieces.extend(small_parts::banded_pocket(POCKET_SIZE, POCKET_BAND));
    pieces.extend(small_parts::welt_pocket("Welt", "Welt pocket bag", WELT));
    pieces.push(small_parts::button_cover("Sleeve button cover", SLEEVE_BUTTON).any("main", 6));

    let [double, double_facing, upper_collar, under_collar] = fronts.double();
    let [shawl, shawl_facing] = fronts.shawl();
    pieces.extend([double, shawl].map(|front| {
        let [front, _] = marked(front);
        front
    }));
    pieces.extend([double_facing, shawl_facing].map(|facing| heights.mark(facing)));
    pieces.extend([upper_collar, under_collar]);

    Pattern {
        name: "Harbour-watch jacket",
        kind: "jacket",
        choose_by: "bust",
        roles: vec![
            ("main", "wool flannel, tweed, linen or heavy cotton"),
            ("lining", "viscose or acetate lining"),
            ("interfacing", "light or medium fusible interfacing, for collars, facings and flaps"),
            ("canvas", "hair canvas or firm woven canvas, for fronts and back"),
        ],
        views: vec![
            ("A", "Lined jacket, single-breasted", view(SINGLE)),
            ("B", "Lined jacket, double-breasted", view(DOUBLE)),
        ],
        choices: choices(),
        pieces,
        seams,
        girths: FRONTS.into_iter().flat_map(girths).collect(),
        lengths: vec![
            DeclaredLength::new("back length", [("Back", "centre back", 1)]),
            DeclaredLength::new("sleeve seam", [("Upper sleeve", "front sleeve seam", 1)]),
        ]
        .into_iter()
        .chain(FRONTS.map(|front| {
            DeclaredLength::new("hem sweep", [(front, "hem", 2), ("Side panel", "hem", 2), ("Back", "hem", 2)])
        }))
        .collect(),
    }
}

/// The front of each view and choice.
const FRONTS: [&str; 3] = ["Front", "Double-breasted front", "Shawl front"];

/// Round the body with this front, from its centre line on: what laps over is not counted.
fn girths(front: &'static str) -> impl Iterator<Item = Girth> {
    let round = Girth::all_round(["bust", "waist", "hip"], &[front, "Side panel", "Back"]);
    round.into_iter().map(move |girth| girth.from(front, "centre front waist"))
}

/// Front, facing, upper and under collar of the views.
const SINGLE: [&str; 4] = ["Front", "Front facing", "Upper collar", "Under collar"];
const DOUBLE: [&str; 4] = [
    "Double-breasted front",
    "Double-breasted front facing",
    "Double-breasted upper collar",
    "Double-breasted under collar",
];

fn view([front, facing, upper_collar, under_collar]: [&'static str; 4]) -> Vec<&'static str> {
    vec![
        front,
        "Side panel",
        "Back",
        "Upper sleeve",
        "Under sleeve",
        upper_collar,
        under_collar,
        facing,
        "Back neck facing",
        "Patch pocket",
        "Pocket flap",
        "Front lining",
        "Side panel lining",
        "Back lining",
        "Upper sleeve lining",
        "Under sleeve lining",
        "Patch pocket lining",
        "Back stay",
    ]
}

/// The shawl collar is single-breasted in either view.
fn choices() -> Vec<Choice> {
    vec![
        Choice {
            name: "collar",
            groups: vec![("notched", [SINGLE, DOUBLE].concat()), ("shawl", vec!["Shawl front", "Shawl front facing"])],
        },
        Choice {
            name: "pocket",
            groups: vec![
                ("patch", vec!["Patch pocket", "Pocket flap", "Patch pocket lining"]),
                ("banded", vec!["Banded pocket", "Pocket band", "Banded pocket lining"]),
                ("welt", vec!["Welt", "Welt pocket bag"]),
                ("none", vec![]),
            ],
        },
        Choice { name: "sleeve buttons", groups: vec![("bought", vec![]), ("covered", vec!["Sleeve button cover"])] },
    ]
}

/// Levels of the body on a jacket, and lines to lengthen or shorten it at: one above the waist and below the lapel, one below it.
pub(crate) struct Heights {
    levels: [(&'static str, f64); 3],
    lines: [(&'static str, f64); 2],
}

impl Heights {
    pub(crate) fn of(bodice: &Bodice, hip_depth: f64, hem: f64, style: &Style) -> Self {
        Self {
            levels: [("bust", bodice.bust_level()), ("waist", 0.0), ("hip", -hip_depth)],
            lines: [("bodice", 0.5 * style.turn), ("body", 0.65 * hem)],
        }
    }

    pub(crate) fn mark(&self, piece: Piece) -> Piece {
        piece.across(self.levels, self.lines)
    }
}

/// A hem from a square corner to a side that meets it `lift` mm off square.
pub(crate) fn hem_from(corner: Point, side: Point, lift: f64) -> CubicBez {
    let reach = (side.x - corner.x) / 3.0;
    hermite(corner, Vec2::new(reach, lift * 0.2), side, Vec2::new(reach, -lift))
}

fn cap(body: &Body, bodice: &Bodice, ease: f64) -> Cap {
    let (front, back) = (bodice.front.armhole_length(), bodice.back.armhole_length());
    Cap::draft(&CapTask {
        front_armhole: front,
        back_armhole: back,
        ease,
        height: 0.325 * (front + back),
        least_width: body.upper_arm + 62.0,
    })
}

fn side_piece(around: f64, back: &PanelSeam, front: &PanelSeam) -> Piece {
    let across = |chain: &[CubicBez]| moved(chain, mirror_at(around / 2.0));
    // The back seam's neighbour, and the front's brought into the frame of the half body.
    let left = back.mirrored();
    let right = across(&front.mirrored());
    let (low_left, low_right) = (left[0].p0, right[0].p0);
    let reach = (low_right.x - low_left.x) / 3.0;
    let pen = Pen::at(low_left)
        .curve("hem", hermite(low_left, Vec2::new(reach, -1.0), low_right, Vec2::new(reach, 1.0)))
        .with("hem", HEM)
        .curves("front panel seam", &right)
        .curves("armhole", &reversed(&across(&front.armhole.0)))
        .curves("armhole", &back.armhole.0)
        .curves("back panel seam", &reversed(&left));
    Piece::new("Side panel", pen)
        .pair("main", 2)
        .notch("waist", "front panel seam", End::Finish, chain_length(&right[2..]))
        .double_notch("back waist", "back panel seam", End::Start, chain_length(&left[2..]))
        .point_on("side low", "front panel seam", End::Start, 0.0)
        .point_on("back side low", "back panel seam", End::Finish, 0.0)
        .point_on("side high", "front panel seam", End::Finish, 0.0)
        .point_on("back side high", "back panel seam", End::Start, 0.0)
        .point_on("underarm", "armhole", End::Start, chain_length(&front.armhole.0))
        .ends("armhole", "front begins", "back begins")
}

fn back_piece(back: &Half, seam: &PanelSeam, hem: f64, notches: &OnArmhole) -> Piece {
    let low = Point::new(CENTRE_BACK.1, hem);
    let blade = back.centre_neck - Vec2::new(0.0, 110.0);
    let centre =
        bent_ruler(&[back.centre_neck, blade, Point::new(CENTRE_BACK.0, 0.0), low], Some(Vec2::new(0.0, -1.0)), None);
    let pen = Pen::at(low)
        .curve("hem", hem_from(low, seam.edge[0].p0, 0.0))
        .with("hem", HEM)
        .curves("back panel seam", &seam.edge)
        .curves("armhole", &seam.armhole.1)
        .line("shoulder", back.neck)
        .curve("neckline", back.neckline)
        .curves("centre back", &centre);
    let along = notches.back - chain_length(&seam.armhole.0);
    let waist = chain_length(&seam.edge[2..]);
    let length = chain_length(&seam.edge);
    Piece::new("Back", pen)
        .pair("main", 2)
        .double_notch("back armhole", "armhole", End::Start, along)
        .notch("back waist", "back panel seam", End::Start, length - waist)
        .notch("back waist, second", "back panel seam", End::Start, length - waist - 10.0)
        .point_on("back armhole notch", "armhole", End::Start, along)
        .ends("back panel seam", "back side low", "back side high")
        .ends("shoulder", "shoulder", "shoulder at neck")
        .point("centre back neck", back.centre_neck)
        .point("centre back blade", blade)
        .point("centre back waist", Point::new(CENTRE_BACK.0, 0.0))
}
