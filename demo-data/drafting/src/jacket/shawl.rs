//! A shawl collar, grown on to the front and to its facing, with a seam at centre back: the roll line is carried on beyond the neck by the
//! length of the back neckline and leaned towards the shoulder, so that the outer edge is long enough to lie over the seam (common practice,
//! no source). The frame is the front's.

use kurbo::{CubicBez, Point, Vec2};

use crate::bodice::Half;
use crate::curve::{bent_ruler, quarter_turn, turned};
use crate::lapel::Style;
use crate::piece::Pen;
use crate::{End, Piece};

/// How far the collar leans from the roll line, degrees; about 25 mm over the back neckline.
const LEAN_DEG: f64 = 17.0;
/// Where the collar is widest, as a share of the roll line from the neck down (design choice).
const WIDEST: f64 = 0.36;

/// The collar from the neck point on.
pub(super) struct Shawl {
    /// Where its neck edge and its outer edge reach centre back.
    back: Point,
    back_edge: Point,
    /// Outer edge from centre back to where the collar turns.
    outer: Vec<CubicBez>,
}

impl Shawl {
    pub(super) fn draft(front: &Half, style: &Style, back_neck: f64) -> Self {
        let along_shoulder = (front.tip - front.neck).normalize();
        let turn = Point::new(-style.extension, style.turn);
        let roll_top = front.neck - along_shoulder * 20.0;
        let down_roll = (turn - roll_top).normalize();
        let up = turned(-down_roll, -LEAN_DEG.to_radians());
        let back = front.neck + up * back_neck;
        let back_edge = back + quarter_turn(up) * style.collar;
        let widest = roll_top.lerp(turn, WIDEST) - quarter_turn(down_roll) * style.lapel;
        let outer = bent_ruler(&[back_edge, widest, turn], Some(-up), Some(Vec2::new(0.12, -1.0)));
        Self { back, back_edge, outer }
    }

    /// Continues a front from the neck point round to the foot of the front edge.
    pub(super) fn draw(&self, pen: Pen, foot: Point) -> Pen {
        pen.line("collar neck", self.back)
            .line("collar centre back", self.back_edge)
            .curves("collar edge", &self.outer)
            .line("front edge", foot)
    }

    /// Names where the collar's edges reach centre back.
    pub(super) fn marked(piece: Piece) -> Piece {
        piece.point_on("collar back", "collar neck", End::Finish, 0.0).point_on(
            "collar back edge",
            "collar edge",
            End::Start,
            0.0,
        )
    }
}
