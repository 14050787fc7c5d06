//! The Ferry skirt: seven panels, slanted hip pockets, a straight waistband, and a lining to choose.
//!
//! The frame of each panel: waist at `y = 0`, hem below.

use kurbo::{CubicBez, Point, Vec2};

use crate::curve::{bent_ruler, chain_length, cut_chain_at, hermite, quarter_turn, reversed, straight};
use crate::piece::Pen;
use crate::{Body, DeclaredLength, End, Girth, Pattern, Piece, Seam, SeamSide, small_parts};

/// Wearing ease, skirt: waist 1/2 to 3/4 in, hip 2 to 2 3/4 in ("Ease in Clothing", Costume text, Central Washington
/// University).
const WAIST_EASE: f64 = 18.0;
const HIP_EASE: f64 = 54.0;
/// Hem of a straight or A-line skirt: 2 to 3 in ("How deep is that hem", American Sewing Guild, 2025).
const HEM: f64 = 51.0;
/// What each seam edge flares out between hip and hem (design choice).
const FLARE: f64 = 42.0;
/// Finished depth of the waistband and its lap (design choice; the lap of 1 in is in "A Text-Book on Domestic Art",
/// Ingalls, 1911, and "School Needlework", Hapgood).
const BAND: f64 = 38.0;
const LAP: f64 = 25.4;
/// The slanted pocket opening: in from the side at the waist, down from the waist at the side (design choice).
const OPENING_IN: f64 = 45.0;
const OPENING_DOWN: f64 = 155.0;

/// One panel: widths, and what its left and right edges take in between hip and waist.
struct Panel {
    hip: f64,
    left: EdgeKind,
    right: EdgeKind,
}

#[derive(Clone, Copy)]
enum EdgeKind {
    /// On the fold.
    Fold,
    /// A seam that takes in so much above the hip, raised so much at the waist.
    Seam { taken_in: f64, raised: f64 },
}

/// The lines of a panel, each from the waist down, and the waist from right to left.
struct PanelLines {
    left: Vec<CubicBez>,
    right: Vec<CubicBez>,
}

/// How far below the top of the panels the waist is measured, where all of them go all the way through.
const WAIST_LEVEL: f64 = -6.0;
/// What the girth at that level has too much: 50 mm of each pocket facing lie behind the side front, and the panels widen from the waist
/// seam down to it.
const BELOW_WAIST: f64 = 122.0;

/// Drafts the skirt for `body`.
pub(crate) fn draft(body: &Body) -> Pattern {
    let length = body.waist_to_knee() + 30.0;
    let hip_quarter = (body.hip + HIP_EASE) / 4.0;
    let waist_quarter = (body.waist + WAIST_EASE) / 4.0;
    // The front is 10 mm wider than the back over half the body.
    let (front_hip, back_hip) = (hip_quarter + 5.0, hip_quarter - 5.0);
    let taken_in = (hip_quarter - waist_quarter).max(0.0);
    let panel_seam = |share: f64| EdgeKind::Seam { taken_in: share * taken_in, raised: 2.0 };
    let side_seam = EdgeKind::Seam { taken_in: 0.5 * taken_in, raised: 10.0 };

    let centre_front =
        lines(&Panel { hip: 0.42 * front_hip, left: EdgeKind::Fold, right: panel_seam(0.22) }, body, length);
    let side_front = lines(&Panel { hip: 0.58 * front_hip, left: panel_seam(0.28), right: side_seam }, body, length);
    let side_back = lines(&Panel { hip: 0.58 * back_hip, left: panel_seam(0.24), right: side_seam }, body, length);
    let centre_back = lines(
        &Panel {
            hip: 0.42 * back_hip,
            left: EdgeKind::Seam { taken_in: 0.08 * taken_in, raised: -4.0 },
            right: panel_seam(0.18),
        },
        body,
        length,
    );

    let hip_at = |piece: Piece, seam: &'static str, end: End, name: &str| piece.notch(name, seam, end, body.hip_depth);
    let mut pieces = Vec::new();

    let front = Piece::new("Centre front", outline(&centre_front, "centre front", "front panel seam", None))
        .any("main", 1)
        .grain_at(0.3);
    pieces.push(
        hip_at(front, "front panel seam", End::Finish, "front hip")
            .ends("front panel seam", "front panel low", "panel at waist")
            .point("centre front waist", centre_front.left[0].p0),
    );

    let pocket = Pocket::of(&side_front);
    let piece =
        Piece::new("Side front", outline(&side_front, "front panel seam", "side", Some(&pocket))).pair("main", 2);
    let piece = with_middle(hip_at(piece, "front panel seam", End::Start, "front hip"), body.hip_depth)
        .ends("front panel seam", "panel at waist", "front panel low")
        .point_on("opening at waist", "waist", End::Start, 0.0)
        .notch("hip", "side", End::Finish, body.hip_depth - OPENING_DOWN)
        .point_on("side low", "side", End::Start, 0.0)
        .point_on("side high", "side", End::Finish, 0.0);
    pieces.push(piece);

    let piece = Piece::new("Side back", outline(&side_back, "back panel seam", "side", None)).pair("main", 2);
    let piece = with_middle(piece, body.hip_depth)
        .double_notch("back hip", "back panel seam", End::Start, body.hip_depth)
        .ends("back panel seam", "panel at waist", "back panel low")
        .point_on("side at waist", "side", End::Finish, 0.0)
        .notch("hip", "side", End::Finish, body.hip_depth)
        .point_on("side low", "side", End::Start, 0.0)
        .point_on("side high", "side", End::Finish, OPENING_DOWN);
    pieces.push(piece);

    let piece =
        Piece::new("Centre back", outline(&centre_back, "centre back", "back panel seam", None)).pair("main", 2);
    let end = piece.seam_length("back panel seam") - body.hip_depth - 10.0;
    let piece = with_middle(piece, body.hip_depth)
        .double_notch("back hip", "back panel seam", End::Start, end)
        .ends("back panel seam", "back panel low", "panel at waist")
        .notch("end of zip", "centre back", End::Start, 200.0)
        .point_on("centre back waist", "centre back", End::Start, 0.0)
        .point_on("centre back low", "centre back", End::Finish, 0.0);
    pieces.push(piece);

    let heights = |piece: Piece| {
        let levels = [("waist", WAIST_LEVEL), ("hip", -body.hip_depth)];
        piece.across(levels, [("skirt", f64::midpoint(-body.hip_depth, -length))])
    };
    let waist: f64 = pieces.iter().map(|p| p.seam_length("waist")).sum::<f64>() + OPENING_IN;
    let bands = band(2.0 * waist, &pieces);
    let mut pieces: Vec<Piece> = pieces.into_iter().map(heights).collect();
    // The pocket ends above the hem, so that it has the levels and not the line.
    pieces.extend(pocket.pieces().into_iter().map(|piece| {
        let piece = heights(piece);
        Piece { lines: Vec::new(), ..piece }
    }));
    pieces.extend(bands);
    pieces.extend(linings(body, length, waist_quarter, hip_quarter).into_iter().map(heights));
    let seams = seams(&pieces);
    Pattern {
        name: "Ferry skirt",
        kind: "skirt",
        choose_by: "hip or waist",
        roles: vec![
            ("main", "needlecord, corduroy, wool or denim"),
            ("lining", "light lining or shirting, for pocket bags and lining"),
            ("interfacing", "firm woven interfacing for the band"),
        ],
        views: vec![
            ("A", "Panelled skirt with slanted hip pockets, unlined", view(&[])),
            ("B", "The same, lined to the hem", view(&["Front lining", "Back lining"])),
        ],
        choices: Vec::new(),
        pieces,
        seams,
        girths: girths(),
        lengths: vec![
            DeclaredLength::new("side seam", [("Side back", "side", 1)]),
            DeclaredLength::new(
                "hem sweep",
                [
                    ("Centre front", "hem", 2),
                    ("Side front", "hem", 2),
                    ("Side back", "hem", 2),
                    ("Centre back", "hem", 2),
                ],
            ),
        ],
    }
}

/// At the waist the pocket facings make up the corners that the slanted openings take off.
fn girths() -> Vec<Girth> {
    const PANELS: [&str; 5] = ["Centre front", "Side front", "Side back", "Centre back", "Hip pocket facing"];
    let waist = Girth::all_round(["waist"], &PANELS).into_iter().map(|girth| girth.less(BELOW_WAIST));
    waist.chain(Girth::all_round(["hip"], &PANELS[..4])).collect()
}

/// Marks the line that is centred on a stripe: the grainline, down the middle of the panel, so that the stripes of two flared panels
/// lean alike where they meet. It is marked below the hip, where it stays upright when a skirt is of one size at the waist and of another
/// at the hip.
fn with_middle(piece: Piece, hip_depth: f64) -> Piece {
    let [low, _] = piece.grainline;
    piece.point("middle low", low).point("middle high", Point::new(low.x, -hip_depth))
}

/// What is sewn to what.
fn seams(pieces: &[Piece]) -> Vec<Seam> {
    let side = |piece, seam, meets: &[&'static str]| SeamSide::along(piece, seam, meets);
    let panel = |piece, seam, meets: &[&'static str]| side(piece, seam, meets).centred("middle low", "middle high");
    let mut seams = vec![
        Seam::new("centre front", "centre front", SeamSide::of("Centre front", [], ["centre front waist"])),
        Seam::new(
            "centre back",
            "centre back",
            panel("Centre back", "centre back", &["centre back low", "centre back waist"]),
        ),
        Seam::new(
            "front panel seam",
            "side",
            panel("Side front", "front panel seam", &["front panel low", "front hip", "panel at waist"]),
        )
        .sewn_to(side("Centre front", "front panel seam", &["front panel low", "front hip", "panel at waist"])),
        Seam::new("side", "side", side("Side front", "side", &["side low", "hip", "side high"])).sewn_to(panel(
            "Side back",
            "side",
            &["side low", "hip", "side high"],
        )),
        // Of the two notches at the hip the upper meets the upper; each panel counts its own as they come.
        Seam::new(
            "back panel seam",
            "side",
            side("Side back", "back panel seam", &["back panel low", "back hip", "panel at waist"]),
        )
        .sewn_to(side(
            "Centre back",
            "back panel seam",
            &["back panel low", "back hip, second", "panel at waist"],
        )),
        // The facing carries the design on behind the slanted opening.
        Seam::new("pocket facing", "pocket", SeamSide::of("Hip pocket facing", [], ["opening", "opening at waist"]))
            .sewn_to(SeamSide::of("Side front", ["pocket opening"], ["side high", "opening at waist"])),
        // Above the opening the facing carries the side seam on.
        Seam::plain(
            "side above pocket",
            side("Hip pocket facing", "side", &["opening", "side at waist"]),
            side("Side back", "side", &["side high", "side at waist"]),
        ),
        Seam::plain(
            "pocket opening",
            side("Hip pocket bag, front", "pocket opening", &["opening", "opening at waist"]),
            side("Side front", "pocket opening", &["side high", "opening at waist"]),
        ),
        Seam::plain(
            "pocket bag",
            side("Hip pocket bag, front", "bag", &["bag at waist", "bag at side"]),
            side("Hip pocket bag, back", "bag", &["bag at waist", "bag at side"]),
        ),
        Seam::plain(
            "lining side",
            side("Front lining", "side", &["side low", "hip", "side at waist"]),
            side("Back lining", "side", &["side low", "hip", "side at waist"]),
        ),
    ];
    // Panel by panel from the centre back round to the centre front.
    let waist = [
        ("Centre back", "waist", ["centre back waist", "panel at waist"], ["centre back", "back panel"]),
        ("Side back", "waist", ["panel at waist", "side at waist"], ["back panel", "side"]),
        ("Hip pocket facing", "waist beyond opening", ["side at waist", "opening at waist"], ["side", "opening"]),
        ("Side front", "waist", ["opening at waist", "panel at waist"], ["opening", "front panel"]),
        ("Centre front", "waist", ["panel at waist", "centre front waist"], ["front panel", "centre front"]),
    ];
    seams.extend(waist.map(|(piece, seam, meets, on_band)| {
        let name = format!("waistband to {}", piece.to_lowercase());
        Seam::plain(name, side("Waistband", "waist", &on_band), side(piece, seam, &meets))
    }));
    seams.extend(lining_waist(pieces));
    seams
}

/// What the panels take in between hip and waist, the lining has in pleats at the band.
fn lining_waist(pieces: &[Piece]) -> Vec<Seam> {
    let named = |name: &str| pieces.iter().find(|piece| piece.name == name);
    let pleated = |(lining, centre, on_band): (&'static str, &'static str, &'static str)| {
        let band = named("Waistband")?;
        let pleats = named(lining)?.seam_length("waist") - band.mark("side")?.distance(band.mark(on_band)?);
        // Of a body nearly as wide at the waist as at the hip nothing is left to pleat.
        (pleats > 0.0).then(|| {
            Seam::plain(
                format!("waistband to {}", lining.to_lowercase()),
                SeamSide::along("Waistband", "waist", &["side", on_band]),
                SeamSide::along(lining, "waist", &["side at waist", centre]).pleated(pleats),
            )
        })
    };
    let halves =
        [("Front lining", "centre front waist", "centre front"), ("Back lining", "centre back waist", "centre back")];
    halves.into_iter().filter_map(pleated).collect()
}

fn view(more: &[&'static str]) -> Vec<&'static str> {
    let mut pieces = vec![
        "Centre front",
        "Side front",
        "Side back",
        "Centre back",
        "Hip pocket facing",
        "Hip pocket bag, back",
        "Hip pocket bag, front",
        "Waistband",
        "Waistband interfacing",
        "Belt carrier strip, divide into five",
    ];
    pieces.extend(more);
    pieces
}

fn lines(panel: &Panel, body: &Body, length: f64) -> PanelLines {
    let edge = |kind: EdgeKind, hip_x: f64, outward: f64| match kind {
        EdgeKind::Fold => vec![straight(Point::new(hip_x, 0.0), Point::new(hip_x, -length))],
        EdgeKind::Seam { taken_in, raised } => seam(hip_x, outward, taken_in, raised, body.hip_depth, length),
    };
    PanelLines { left: edge(panel.left, 0.0, -1.0), right: edge(panel.right, panel.hip, 1.0) }
}

/// A seam edge from the waist down: round over the hip, then straight and flaring. Every seam of one kind gets the same
/// length whatever it takes in, so that neighbours can be sewn together.
fn seam(hip_x: f64, outward: f64, taken_in: f64, raised: f64, hip_depth: f64, length: f64) -> Vec<CubicBez> {
    let flare = Vec2::new(outward * FLARE, -(length - hip_depth)).normalize();
    let waist = Point::new(hip_x - outward * taken_in, raised);
    let hip = Point::new(hip_x, -hip_depth);
    let leave = Vec2::new(outward * 1.7 * taken_in, -hip_depth).normalize();
    let over_hip = hermite(waist, leave * (hip_depth / 3.0), hip, flare * (hip_depth / 3.0));
    let below = length + raised - chain_length(&[over_hip]);
    vec![over_hip, straight(hip, hip + flare * below)]
}

/// Waist of a panel from right to left, square to both edges.
fn waist_line(lines: &PanelLines) -> CubicBez {
    let (right, left) = (lines.right[0], lines.left[0]);
    let reach = (right.p0.x - left.p0.x) / 3.0;
    let square = |down: Vec2| quarter_turn(down).normalize() * -reach;
    hermite(right.p0, square(right.p1 - right.p0), left.p0, square(left.p1 - left.p0))
}

fn outline(lines: &PanelLines, left: &str, right: &str, pocket: Option<&Pocket>) -> Pen {
    let (low_left, low_right) = (lines.left[lines.left.len() - 1], lines.right[lines.right.len() - 1]);
    let reach = (low_right.p3.x - low_left.p3.x) / 3.0;
    let square = |c: CubicBez| quarter_turn(c.p3 - c.p2).normalize() * reach;
    let hem = hermite(low_left.p3, square(low_left), low_right.p3, square(low_right));
    let mut pen = Pen::at(low_left.p3).curve("hem", hem).with("hem", HEM);
    match pocket {
        None => pen = pen.curves(right, &reversed(&lines.right)).curve("waist", waist_line(lines)),
        Some(pocket) => {
            pen = pen
                .curves(right, &reversed(&pocket.side_below))
                .curve("pocket opening", pocket.opening)
                .curves("waist", &pocket.waist_before);
        }
    }
    if left == "centre front" { pen.fold(left, low_left.p3) } else { pen.curves(left, &lines.left) }
}

/// Whether a bag keeps the corner that the slanted opening takes off.
#[derive(Clone, Copy)]
enum Corner {
    Whole,
    CutAway,
}

/// The slanted hip pocket, in the frame of the side front.
struct Pocket {
    /// Side seam below the opening, from the opening down.
    side_below: Vec<CubicBez>,
    /// From the side seam up to the waist.
    opening: CubicBez,
    /// Waist from the opening on to the panel seam.
    waist_before: Vec<CubicBez>,
    /// Side seam and waist of the corner beyond the opening.
    side_above: Vec<CubicBez>,
    waist_beyond: Vec<CubicBez>,
}

impl Pocket {
    fn of(lines: &PanelLines) -> Self {
        let waist = waist_line(lines);
        let (waist_beyond, waist_before) = cut_chain_at(&[waist], OPENING_IN);
        let (side_above, side_below) = cut_chain_at(&lines.right, OPENING_DOWN);
        let (low, high) = (side_below[0].p0, waist_before[0].p0);
        let slant = high - low;
        // Hollowed a little, so that it lies flat over the hip.
        let opening =
            hermite(low, (slant + quarter_turn(slant) * 0.22) / 3.0, high, (slant - quarter_turn(slant) * 0.22) / 3.0);
        Self { side_below, opening, waist_before, side_above, waist_beyond }
    }

    /// Facing, back bag and front bag. The bag hangs from the waist and lies under the side front.
    fn pieces(&self) -> Vec<Piece> {
        let facing =
            Piece::new("Hip pocket facing", self.bag(OPENING_DOWN + 40.0, 95.0, OPENING_DOWN + 62.0, Corner::Whole))
                .pair("main", 2);
        let back = Piece::new("Hip pocket bag, back", self.bag(OPENING_DOWN + 75.0, 135.0, 300.0, Corner::Whole))
            .pair("lining", 2);
        let front = Piece::new("Hip pocket bag, front", self.bag(OPENING_DOWN + 75.0, 135.0, 300.0, Corner::CutAway))
            .pair("lining", 2);
        vec![
            facing.notch("opening", "side", End::Finish, OPENING_DOWN).ends(
                "waist beyond opening",
                "side at waist",
                "opening at waist",
            ),
            back.notch("opening", "side", End::Finish, OPENING_DOWN).ends("bag", "bag at waist", "bag at side"),
            front.ends("pocket opening", "opening", "opening at waist").ends("bag", "bag at waist", "bag at side"),
        ]
    }

    /// A bag `reach` mm long at the side, `wide` mm at the waist and `deep` mm in all.
    fn bag(&self, reach: f64, wide: f64, deep: f64, corner: Corner) -> Pen {
        let (below, _) = cut_chain_at(&self.side_below, reach - OPENING_DOWN);
        let (under, _) = cut_chain_at(&self.waist_before, wide - OPENING_IN);
        let (at_side, at_waist) = (below[below.len() - 1].p3, under[under.len() - 1].p3);
        let bottom = Point::new(at_waist.x + 0.45 * (at_side.x - at_waist.x), -deep);
        let inner = bent_ruler(
            &[at_waist, Point::new(at_waist.x, -0.55 * deep), bottom, at_side],
            Some(Vec2::new(0.0, -1.0)),
            Some(Vec2::new(0.35, 1.0)),
        );
        let pen = Pen::at(at_side).curves("side", &reversed(&below));
        let pen = match corner {
            Corner::Whole => {
                pen.curves("side", &reversed(&self.side_above)).curves("waist beyond opening", &self.waist_beyond)
            }
            Corner::CutAway => pen.curve("pocket opening", self.opening),
        };
        pen.curves("waist", &under).curves("bag", &inner)
    }
}

/// The band, cut along the grain and folded along its length, its interfacing of half the width, and a strip to divide into carriers.
fn band(waist: f64, panels: &[Piece]) -> Vec<Piece> {
    let strip = |name: &str, length: f64, width: f64| {
        small_parts::strip(name, width, length, ["lap end", "waist", "end", "inside"])
    };
    let along = |panel: &str| panels.iter().find(|p| p.name == panel).map_or(0.0, |p| p.seam_length("waist"));
    let (centre_back, centre_front) = (along("Centre back"), along("Centre front"));
    let back = centre_back + along("Side back");
    let marked = |piece: Piece| {
        piece
            .double_notch("centre back", "waist", End::Start, LAP)
            .notch("side", "waist", End::Start, LAP + back)
            .notch("centre front", "waist", End::Start, LAP + waist / 2.0)
            .notch("other side", "waist", End::Start, LAP + waist - back)
            .point_on("back panel", "waist", End::Start, LAP + centre_back)
            .point_on("opening", "waist", End::Start, LAP + back + OPENING_IN)
            .point_on("front panel", "waist", End::Start, LAP + waist / 2.0 - centre_front)
            .sized_by("waist")
    };
    vec![
        marked(strip("Waistband", waist + LAP, 2.0 * BAND)).same("main", 1),
        marked(strip("Waistband interfacing", waist + LAP, BAND)).same("interfacing", 1),
        strip("Belt carrier strip, divide into five", 5.0 * 85.0, 32.0).any("main", 1).allowance(0.0),
    ]
}

/// Front on the fold and back in a pair; what the panels take in is pleated at the waist.
fn linings(body: &Body, length: f64, waist_quarter: f64, hip_quarter: f64) -> Vec<Piece> {
    // The lining ends 20 mm above the finished hem, so its own hem is narrow.
    let length = length - 20.0;
    let side_taken_in = (0.5 * (hip_quarter - waist_quarter)).max(0.0);
    let one = |name: &str, wider: f64, left: EdgeKind, left_name: &str| {
        let panel =
            Panel { hip: hip_quarter + wider, left, right: EdgeKind::Seam { taken_in: side_taken_in, raised: 10.0 } };
        let lines = lines(&panel, body, length);
        let pen = outline(&lines, left_name, "side", None).with("hem", 20.0);
        Piece::new(name, pen).notch("hip", "side", End::Finish, body.hip_depth).ends(
            "side",
            "side low",
            "side at waist",
        )
    };
    let back_left = EdgeKind::Seam { taken_in: 3.0, raised: -4.0 };
    vec![
        one("Front lining", 5.0, EdgeKind::Fold, "centre front").any("lining", 1).grain_at(0.4).point_on(
            "centre front waist",
            "waist",
            End::Finish,
            0.0,
        ),
        one("Back lining", -5.0, back_left, "centre back")
            .pair("lining", 2)
            .notch("end of zip", "centre back", End::Start, 205.0)
            .point_on("centre back waist", "waist", End::Finish, 0.0),
    ]
}
