//! A grown-on lapel with a notched collar, and the facings that go with it.
//!
//! The frame is the front's: centre front at `x = 0`, the front edge left of it. The lapel is drawn as it lies flat,
//! unturned. Shapes are choices of the design.

use kurbo::{CubicBez, ParamCurve, Point, Vec2};

use crate::bodice::Half;
use crate::collar::{Layer, NotchedCollar};
use crate::curve::{bent_ruler, cut_chain, hermite, length, quarter_turn, reversed};
use crate::piece::Pen;
use crate::{End, Grain, Piece, Seam, SeamSide};

/// Sizes of lapel and collar, mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Style {
    /// From centre front to the front edge.
    pub(crate) extension: f64,
    /// Height above the waist at which the lapel turns.
    pub(crate) turn: f64,
    /// Width of the lapel, square to its roll line.
    pub(crate) lapel: f64,
    /// From the notch to the lapel's point.
    pub(crate) notch: f64,
    /// Collar at centre back, stand and fall together.
    pub(crate) collar: f64,
    /// Width of the front facing at the hem.
    pub(crate) facing: f64,
}

/// The front's edges from the neck point to the place where the lapel turns.
#[derive(Debug, Clone)]
pub(crate) struct Lapel {
    style: Style,
    /// From the neck point to the notch; the collar is sewn on here.
    gorge: CubicBez,
    point: Point,
    edge: CubicBez,
    /// Where the roll line begins at the front edge and where it crosses the gorge.
    roll: [Point; 2],
}

/// How far along the shoulder the facings reach from the neck point.
const FACING_AT_SHOULDER: f64 = 42.0;
/// Depth of the back neck facing.
const BACK_FACING: f64 = 62.0;
/// Ease pleat at the centre back of a lining, half its depth.
const LINING_PLEAT: f64 = 20.0;
/// Over the pleat the lining's inner edge is drawn a little flatter, and is this much less longer than the facing's.
const FLATTER: f64 = 2.0;

impl Lapel {
    pub(crate) fn draft(front: &Half, style: &Style) -> Self {
        let along_shoulder = (front.tip - front.neck).normalize();
        let turn = Point::new(-style.extension, style.turn);
        // The roll line passes the neck at the height of the collar's stand, two thirds of 30 mm out.
        let roll_top = front.neck - along_shoulder * 20.0;
        let down_roll = (turn - roll_top).normalize();
        let outward = quarter_turn(down_roll) * -1.0;
        let point = roll_top + down_roll * 84.0 + outward * style.lapel;
        let corner = front.neck + down_roll * 74.0;
        let inward = (corner - point).normalize();
        let notch = point + inward * style.notch;
        let gorge = hermite(front.neck, down_roll * 78.0, notch, inward * -70.0);
        let drop = point.y - turn.y;
        let edge = hermite(point, Vec2::new(-0.03 * drop, -0.32 * drop), turn, Vec2::new(0.0, -0.30 * drop));
        let roll = [turn, crossing(gorge, turn, down_roll)];
        Self { style: *style, gorge, point, edge, roll }
    }

    /// A front, or its facing, with the ends of the roll line.
    pub(crate) fn rolled(&self, piece: Piece) -> Piece {
        let [low, high] = self.roll;
        piece.point("roll low", low).point("roll high", high)
    }

    /// Continues a front from the neck point round to the foot of the front edge.
    pub(crate) fn draw(&self, pen: Pen, foot: Point) -> Pen {
        pen.curve("gorge", self.gorge).line("lapel top", self.point).curve("lapel", self.edge).line("front edge", foot)
    }

    /// The two collars for a back neckline of `back_neck` mm.
    pub(crate) fn collars(&self, back_neck: f64) -> [Piece; 2] {
        Self::collars_for(&self.style, back_neck, length(&self.gorge))
    }

    /// The two collars for a back neckline and a gorge of these lengths, mm.
    pub(crate) fn collars_for(style: &Style, back_neck: f64, gorge: f64) -> [Piece; 2] {
        let collar = NotchedCollar { seam: back_neck + gorge, depth: style.collar, front_edge: 0.95 * style.notch };
        let marked = |piece: Piece| {
            piece
                .notch("shoulder", "neck", End::Start, back_neck)
                .ends("neck", "centre back", "lapel notch")
                .sized_by("bust")
        };
        [
            marked(Piece::new("Upper collar", collar.pen(Layer::Upper)))
                .any("main", 1)
                .any("interfacing", 1)
                .grain_at(0.3),
            marked(Piece::new("Under collar", collar.pen(Layer::Under)))
                .pair("main", 2)
                .pair("interfacing", 2)
                .grain(Grain::Bias)
                .grain_at(0.4),
        ]
    }

    /// The facing's inner edge, from the hem up to the shoulder, for a front with the given hem.
    fn inner_edge(&self, front: &Half, hem: &[CubicBez]) -> (Vec<CubicBez>, Vec<CubicBez>, Vec<CubicBez>) {
        let at_shoulder = front.neck + (front.tip - front.neck).normalize() * FACING_AT_SHOULDER;
        let (under, beyond) = cut_chain(hem, |p| p.x - (self.style.facing - self.style.extension));
        let low = under[under.len() - 1].p3;
        let inner = bent_ruler(
            &[low, Point::new(low.x + 6.0, 0.0), Point::new(low.x + 10.0, 0.55 * at_shoulder.y), at_shoulder],
            Some(Vec2::new(0.0, 1.0)),
            Some(quarter_turn((front.tip - front.neck).normalize())),
        );
        (under, beyond, inner)
    }

    /// The front facing from the foot of the front edge along the hem, up its inner edge and on to the neck.
    pub(crate) fn facing_pen(&self, front: &Half, hem: &[CubicBez], hem_allowance: f64) -> Pen {
        let (under, _, inner) = self.inner_edge(front, hem);
        Pen::at(hem[0].p0)
            .curves("hem", &under)
            .with("hem", hem_allowance)
            .curves("inner edge", &inner)
            .line("shoulder", front.neck)
    }

    /// The front facing with its lapel.
    pub(crate) fn facing(&self, front: &Half, hem: &[CubicBez], hem_allowance: f64) -> Piece {
        let facing = Piece::new("Front facing", self.draw(self.facing_pen(front, hem, hem_allowance), hem[0].p0))
            .pair("main", 2)
            .grain_at(0.5)
            .ends("inner edge", "facing low", "facing at shoulder")
            .ends("gorge", "shoulder at neck", "lapel notch")
            .point_on("front foot", "front edge", End::Finish, 0.0);
        self.rolled(facing)
    }

    /// The front lining: the front without the facing. `side` runs up, `armhole` from the side to the tip.
    pub(crate) fn lining(&self, front: &Half, hem: &[CubicBez], side: &[CubicBez], armhole: &[CubicBez]) -> Piece {
        let (_, beyond, inner) = self.inner_edge(front, hem);
        let at_shoulder = inner[inner.len() - 1].p3;
        let pen = Pen::at(beyond[0].p0)
            .curves("hem", &beyond)
            .with("hem", 10.0)
            .curves("side", side)
            .curves("armhole", armhole)
            .line("shoulder", at_shoulder)
            .curves("inner edge", &reversed(&inner));
        Piece::new("Front lining", pen)
            .pair("lining", 2)
            .ends("side", "side low", "side high")
            .ends("shoulder", "shoulder", "facing at shoulder")
            .point_on("facing low", "inner edge", End::Finish, 0.0)
    }
}

/// Where a gorge crosses the roll line through `low`.
fn crossing(gorge: CubicBez, low: Point, along: Vec2) -> Point {
    let beside = |t: f64| (gorge.eval(t) - low).cross(along);
    let (mut before, mut after) = (0.0, 1.0);
    for _ in 0..60 {
        let t = (before + after) / 2.0;
        if (beside(t) > 0.0) == (beside(0.0) > 0.0) { before = t } else { after = t }
    }
    gorge.eval(before)
}

/// Shoulders, collars and front facings. The collar that is seen meets a design on the back at its centre, and the lapels at their notches.
pub(crate) fn seams() -> Vec<Seam> {
    let side = SeamSide::along;
    let (to_shoulder, to_notch) = (["centre back", "shoulder"], ["shoulder", "lapel notch"]);
    // A design meets where the collar ends on the lapel, for everybody to see.
    let from_notch = ["lapel notch", "shoulder"];
    let back = || side("Back", "neckline", &["centre back neck", "shoulder at neck"]);
    let gorge = |piece| side(piece, "gorge", &["shoulder at neck", "lapel notch"]);
    let edge = |piece| {
        SeamSide::of(piece, ["lapel top", "lapel", "front edge"], ["lapel notch", "front foot"])
            .rolled("roll low", "roll high")
    };
    let shoulder = |piece| side(piece, "shoulder", &["shoulder at neck", "shoulder"]);
    vec![
        Seam::plain("shoulder", shoulder("Front"), shoulder("Back")),
        Seam::new("collar", "collar", side("Upper collar", "neck", &to_shoulder)).sewn_to(back()),
        Seam::new("lapels", "lapel", SeamSide::of("Front facing", [], ["lapel notch"])),
        Seam::new("upper collar to facing", "lapel", side("Upper collar", "neck", &from_notch)).sewn_to(side(
            "Front facing",
            "gorge",
            &["lapel notch", "shoulder at neck"],
        )),
        Seam::plain("under collar to back", side("Under collar", "neck", &to_shoulder), back()),
        Seam::plain("under collar to front", side("Under collar", "neck", &to_notch), gorge("Front")),
        Seam::plain("front facing", edge("Front facing"), edge("Front")),
    ]
}

/// Facings to each other and to the lining.
pub(crate) fn lining_seams() -> Vec<Seam> {
    let side = SeamSide::along;
    let facing = |piece| side(piece, "shoulder", &["shoulder at neck", "facing at shoulder"]);
    let front = |piece| side(piece, "inner edge", &["facing low", "facing at shoulder"]);
    let back = |piece| side(piece, "inner edge", &["centre back low", "facing at shoulder"]);
    let shoulder = |piece| side(piece, "shoulder", &["facing at shoulder", "shoulder"]);
    vec![
        Seam::plain("facing shoulder", facing("Front facing"), facing("Back neck facing")),
        Seam::plain("front lining to facing", front("Front lining"), front("Front facing")),
        Seam::plain(
            "back lining to facing",
            back("Back lining").pleated(LINING_PLEAT - FLATTER),
            back("Back neck facing"),
        ),
        Seam::plain("lining shoulder", shoulder("Front lining"), shoulder("Back lining")),
    ]
}

/// The back neck facing, on the fold.
pub(crate) fn back_facing(back: &Half) -> Piece {
    let low = Point::new(0.0, back.centre_neck.y - BACK_FACING);
    let pen = Pen::at(low)
        .curve("inner edge", back_inner_edge(back, 0.0))
        .line("shoulder", back.neck)
        .curve("neckline", back.neckline)
        .fold("centre back", low);
    Piece::new("Back neck facing", pen)
        .any("main", 1)
        .any("interfacing", 1)
        .grain_at(0.25)
        .sized_by("bust")
        .ends("inner edge", "centre back low", "facing at shoulder")
        .ends("neckline", "shoulder at neck", "centre back neck")
}

/// The back lining, on the fold, with a pleat for ease; `side` runs up from the hem, `armhole` from the side to the tip.
pub(crate) fn back_lining(back: &Half, hem: f64, side: &[CubicBez], armhole: &[CubicBez]) -> Piece {
    let corner = Point::new(-LINING_PLEAT, hem);
    let inner = reversed(&[back_inner_edge(back, LINING_PLEAT)]);
    let reach = (side[0].p0.x - corner.x) / 3.0;
    let pen = Pen::at(corner)
        .curve("hem", hermite(corner, Vec2::new(reach, 0.0), side[0].p0, Vec2::new(reach, 0.0)))
        .with("hem", 10.0)
        .curves("side", side)
        .curves("armhole", armhole)
        .line("shoulder", inner[0].p0)
        .curves("inner edge", &inner)
        .fold("centre back", corner);
    Piece::new("Back lining", pen)
        .any("lining", 1)
        .grain_at(0.3)
        .notch("pleat", "inner edge", End::Finish, LINING_PLEAT)
        .ends("side", "back side low", "back side high")
        .ends("shoulder", "shoulder", "facing at shoulder")
        .point_on("centre back low", "inner edge", End::Finish, 0.0)
}

/// From centre back, `pleat` mm beyond it, to the shoulder.
fn back_inner_edge(back: &Half, pleat: f64) -> CubicBez {
    let along_shoulder = (back.tip - back.neck).normalize();
    let low = Point::new(-pleat, back.centre_neck.y - BACK_FACING);
    let at_shoulder = back.neck + along_shoulder * FACING_AT_SHOULDER;
    let across = at_shoulder.x + pleat;
    hermite(
        low,
        Vec2::new(0.6 * across, 0.0),
        at_shoulder,
        quarter_turn(along_shoulder) * (0.6 * (at_shoulder.y - low.y)),
    )
}

/// The upper back in one, on the fold: neck, shoulder and `armhole` down to a line that runs from its start to the middle,
/// which lies `lift` mm higher (lower when negative).
pub(crate) fn upper_back(name: &str, back: &Half, armhole: &[CubicBez], lift: f64) -> Piece {
    let start = armhole[0].p0;
    let low = Point::new(0.0, start.y + lift);
    let lower = hermite(low, Vec2::new(0.5 * start.x, 0.0), start, Vec2::new(0.2 * start.x, -0.35 * lift));
    let pen = Pen::at(low)
        .curve("lower edge", lower)
        .with("lower edge", 0.0)
        .curves("armhole", armhole)
        .line("shoulder", back.neck)
        .curve("neckline", back.neckline)
        .fold("centre back", low);
    Piece::new(name, pen).grain_at(0.3).sized_by("bust")
}
