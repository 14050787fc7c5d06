//! Fronts of the Harbour-watch jacket with their facings and collars: single-breasted with notched lapels, double-breasted, and with a shawl
//! collar grown on. All three meet the same side panel, shoulder, armhole and lining.

use kurbo::{CubicBez, Point, Vec2};

use super::shawl::Shawl;
use super::{HEM, POCKET_BAND, PanelSeam};
use crate::bodice::Half;
use crate::curve::chain_length;
use crate::dart::waist_dart;
use crate::lapel::{Lapel, Style};
use crate::piece::{Dart, Move, Pen};
use crate::two_piece_sleeve::OnArmhole;
use crate::{End, Piece};

/// From centre to edge at least 3/4 of the button (a home-sewing handbook): 20 mm for buttons of 23 mm.
pub(super) const STYLE: Style =
    Style { extension: 20.0, turn: 35.0, lapel: 82.0, notch: 38.0, collar: 78.0, facing: 92.0 };
/// Height of the pocket's mouth above the waist (design choice).
const POCKET: f64 = -70.0;
/// What the front dart takes up at the waist, and its place there as a share of the way to the shoulder tip (common practice, no source:
/// about half an inch on a jacket with a side panel).
pub(super) const FRONT_DART: (f64, f64) = (13.0, 0.54);
/// From the corner of the pocket to that of its flap.
const FLAP_FROM_POCKET: Vec2 = Vec2::new(-6.0, 18.0);
/// The double-breasted front is the single-breasted one with its edge 78 mm past the centre and a broader lapel, in all sizes alike (design
/// choice: two rows of buttons 120 mm apart).
const DOUBLE: [Move; 3] = [
    Move { corners: &[["gorge", "lapel top"]], by: (-16.6, 12.3) },
    Move { corners: &[["lapel top", "lapel"]], by: (-21.5, 18.3) },
    Move { corners: &[["lapel", "front edge"], ["front edge", "hem"]], by: (-58.0, 0.0) },
];
/// From the notch to the point of its lapel; its collars go with it.
const DOUBLE_NOTCH: f64 = 44.0;

/// What all fronts have in common.
pub(super) struct Fronts<'a> {
    pub(super) half: &'a Half,
    pub(super) seam: &'a PanelSeam,
    /// From the foot of the single-breasted front edge to the panel seam.
    pub(super) hem: CubicBez,
    pub(super) notches: &'a OnArmhole,
    /// Length of the back neckline from centre back to the shoulder.
    pub(super) back_neck: f64,
}

impl Fronts<'_> {
    /// The single-breasted lapel, by whose facing the lining is cut.
    pub(super) fn lapel(&self) -> Lapel {
        Lapel::draft(self.half, &STYLE)
    }

    /// Front, facing, upper and under collar of the single-breasted jacket.
    pub(super) fn single(&self) -> [Piece; 4] {
        self.with_lapel(&self.lapel(), &[self.hem])
    }

    /// The same, double-breasted.
    pub(super) fn double(&self) -> [Piece; 4] {
        let [front, facing, ..] = self.single();
        let mut lines = vec!["move = [".to_owned()];
        lines.extend(DOUBLE.iter().map(Move::line));
        lines.push("]".to_owned());
        let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
        let named = |piece: Piece| Piece { name: format!("Double-breasted {}", piece.name.to_lowercase()), ..piece };
        let [front, facing] = [(front, "Front"), (facing, "Front facing")]
            .map(|(piece, other)| named(piece.moved(&DOUBLE).like(other, &lines)));
        let style = Style { notch: DOUBLE_NOTCH, ..STYLE };
        let [upper, under] = Lapel::collars_for(&style, self.back_neck, front.seam_length("gorge")).map(named);
        [front, facing, upper, under]
    }

    /// Front and facing with a shawl collar.
    pub(super) fn shawl(&self) -> [Piece; 2] {
        let shawl = Shawl::draft(self.half, &STYLE, self.back_neck);
        let foot = self.hem.p0;
        let front = self.front("Shawl front", shawl.draw(self.pen(&[self.hem]), foot));
        let facing = shawl.draw(self.lapel().facing_pen(self.half, &[self.hem], HEM), foot);
        let facing = Piece::new("Shawl front facing", facing).pair("main", 2).pair("interfacing", 2);
        let facing = facing
            .ends("inner edge", "facing low", "facing at shoulder")
            .point_on("shoulder at neck", "collar neck", End::Start, 0.0)
            .point_on("front foot", "front edge", End::Finish, 0.0);
        [front, facing].map(Shawl::marked)
    }

    fn with_lapel(&self, lapel: &Lapel, hem: &[CubicBez]) -> [Piece; 4] {
        let front = self.front("Front", lapel.draw(self.pen(hem), hem[0].p0));
        let [upper, under] = lapel.collars(self.back_neck);
        let facing = lapel.facing(self.half, hem, HEM).pair("interfacing", 2);
        [lapel.rolled(front.point_on("lapel notch", "gorge", End::Finish, 0.0)), facing, upper, under]
    }

    /// From the foot along the hem, up the panel seam and round the armhole to the neck.
    fn pen(&self, hem: &[CubicBez]) -> Pen {
        Pen::at(hem[0].p0)
            .curves("hem", hem)
            .with("hem", HEM)
            .curves("front panel seam", &self.seam.edge)
            .curves("armhole", &self.seam.armhole.1)
            .line("shoulder", self.half.neck)
    }

    fn front(&self, name: &str, pen: Pen) -> Piece {
        let half = self.half;
        let along = self.notches.front - chain_length(&self.seam.armhole.0);
        let waist = chain_length(&self.seam.edge[2..]);
        let pocket = Point::new(half.tip.x * 0.40, POCKET);
        Piece::new(name, pen)
            .pair("main", 2)
            .pair("canvas", 2)
            .notch("front armhole", "armhole", End::Start, along)
            .notch("waist", "front panel seam", End::Finish, waist)
            .notch("lapel turns", "front edge", End::Start, 0.0)
            .point_on("front armhole notch", "armhole", End::Start, along)
            .point_on("side low", "front panel seam", End::Start, 0.0)
            .point_on("side high", "front panel seam", End::Finish, 0.0)
            .point("centre front waist", Point::new(0.0, 0.0))
            .point("centre front low", Point::new(0.0, 0.8 * self.hem.p0.y))
            .ends("shoulder", "shoulder", "shoulder at neck")
            .point_on("front foot", "front edge", End::Finish, 0.0)
            .dart(self.dart())
            .point("pocket corner", pocket)
            .point("flap corner", pocket + FLAP_FROM_POCKET)
            .point("banded pocket corner", pocket - Vec2::new(0.0, POCKET_BAND))
    }

    /// From below the bust to just under the flap of the pocket; pressed towards centre front.
    fn dart(&self) -> Dart {
        let underarm = self.half.underarm.y;
        let top = (underarm - 60.0).max(0.5 * underarm);
        let waist = Point::new(FRONT_DART.1 * self.half.tip.x, 0.0);
        waist_dart("front dart", waist, (top, POCKET + 0.5 * FLAP_FROM_POCKET.y), FRONT_DART.0)
    }
}
