//! A tailored sleeve in two pieces, bent at the elbow.
//!
//! The one-piece cap is folded at mid-front and mid-back, so that both underarm points meet; the seams then move from the
//! folds towards the inside of the arm: the upper sleeve reaches round, the under sleeve gives way by as much. The frame
//! is the cap's: `x` towards the front. Common practice, no source.

use kurbo::{CubicBez, Point, Vec2};

use crate::curve::{bent_ruler, chain_length, cut_chain, hermite, mirror_at, moved, reversed, solve};
use crate::piece::Pen;
use crate::sleeve::{Cap, FRONT_EASE_SHARE};
use crate::{End, Piece, Seam, SeamSide};

/// What the sleeve must be below the cap, mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Below {
    /// From the top of the cap to the hem.
    pub(crate) length: f64,
    /// From the top of the cap to the elbow.
    pub(crate) elbow: f64,
    /// Around the hem, finished.
    pub(crate) hem_girth: f64,
    /// Hem allowance.
    pub(crate) hem: f64,
}

/// A place on either side of the armhole, mm from the underarm along it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OnArmhole {
    pub(crate) front: f64,
    pub(crate) back: f64,
}

/// The pieces that make up an armhole; a side panel lies between front and back, or nothing.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Armhole {
    pub(crate) front: &'static str,
    pub(crate) side: Option<&'static str>,
    pub(crate) back: &'static str,
}

/// Which sleeves these are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layer {
    /// Those that are seen.
    Shell,
    /// Those inside.
    Lining,
}

impl Layer {
    /// "Upper sleeve lining", or "Upper sleeve" of the shell.
    fn named(self, what: &str) -> String {
        match self {
            Self::Shell => what.to_owned(),
            Self::Lining => format!("{what} lining"),
        }
    }
}

/// Upper and under sleeve, and where their seams reach the armhole.
pub(crate) struct Sleeves {
    pub(crate) pieces: [Piece; 2],
    layer: Layer,
    reach: OnArmhole,
}

/// How far the front seam lies inside the fold, and the back seam at the top; the back seam meets the fold at the hem.
const FRONT_SHIFT: f64 = 22.0;
const BACK_SHIFT: f64 = 14.0;
/// How much the upper sleeve is eased onto the under sleeve over the elbow.
const ELBOW_EASE: f64 = 4.0;
/// How far the forearm bends forward: the front fold at the elbow and at the hem.
const BEND: f64 = 11.0;

/// Upper and under sleeve of a layer, for an armhole whose front and back begin so far from the underarm.
pub(crate) fn draft(layer: Layer, cap: &Cap, below: &Below, notches: &OnArmhole, begins: &OnArmhole) -> Sleeves {
    let front_fold = cap.front_underarm().x / 2.0;
    let back_fold = cap.back_underarm().x / 2.0;
    let (under_front, rest) = cut_chain(&cap.whole(), |p| p.x - (front_fold + FRONT_SHIFT));
    let (over, under_back) = cut_chain(&rest, |p| p.x - (back_fold - BACK_SHIFT));
    let (front_end, back_end) = (over[0].p0, over[over.len() - 1].p3);
    let (front_shift, back_shift) = (front_end.x - front_fold, back_fold - back_end.x);
    let (elbow, hem) = (cap.top.y - below.elbow, cap.top.y - below.length);

    let front_seam = |shift: f64| {
        bent_ruler(
            &[
                Point::new(front_fold + shift, hem + 5.0),
                Point::new(front_fold + shift - BEND, elbow),
                Point::new(front_fold + shift, front_end.y),
            ],
            Some(Vec2::new(-0.08, 1.0)),
            Some(Vec2::new(0.05, 1.0)),
        )
    };
    let hem_back_x = front_fold - below.hem_girth / 2.0;
    // From the top down.
    let back_seam = |shift: f64, hem_y: f64| {
        bent_ruler(
            &[
                Point::new(back_fold + shift, back_end.y),
                Point::new(back_fold + 0.45 * shift - 3.0, elbow),
                Point::new(hem_back_x, hem_y),
            ],
            Some(Vec2::new(-0.10 * shift.signum(), -1.0)),
            None,
        )
    };
    let over_back = back_seam(-back_shift, hem - 7.0);
    let wanted = chain_length(&over_back) - ELBOW_EASE;
    let under_hem = solve(hem - 40.0, hem + 30.0, |y| chain_length(&back_seam(back_shift, y)) - wanted);
    let under_back_seam = back_seam(back_shift, under_hem);

    let upper = piece(&layer.named("Upper sleeve"), &front_seam(front_shift), &over, &over_back, below.hem);
    let mut under_cap = reversed(&moved(&under_front, mirror_at(front_fold)));
    under_cap.extend(reversed(&moved(&under_back, mirror_at(back_fold))));
    let under = piece(&layer.named("Under sleeve"), &front_seam(-front_shift), &under_cap, &under_back_seam, below.hem);

    let (front_share, back_share) = (chain_length(&under_front), chain_length(&under_back));
    let shoulder = chain_length(&cap.front) - front_share;
    let upper = upper.notch("shoulder", "cap", End::Start, shoulder);
    let (upper, under) = if notches.front > front_share {
        (mark(upper, "front armhole", End::Start, notches.front - front_share), under)
    } else {
        (upper, mark(under, "front armhole", End::Start, front_share - notches.front))
    };
    let (upper, under) = if notches.back > back_share {
        let along = notches.back - back_share;
        (second(mark(upper, "back armhole", End::Finish, along), End::Finish, along), under)
    } else {
        let along = back_share - notches.back;
        (upper, second(mark(under, "back armhole", End::Finish, along), End::Finish, along))
    };
    let under = (under.point_on("underarm", "cap", End::Start, front_share))
        .point_on("front begins", "cap", End::Start, front_share - begins.front)
        .point_on("back begins", "cap", End::Finish, back_share - begins.back);
    let ready = |piece: Piece| {
        (piece.ends("front sleeve seam", "front low", "front sleeve seam"))
            .ends("back sleeve seam", "back sleeve seam", "back low")
            .sized_by("bust")
            .across([], [("sleeve", f64::midpoint(elbow, hem))])
    };
    Sleeves { pieces: [ready(upper), ready(under)], layer, reach: OnArmhole { front: front_share, back: back_share } }
}

impl Sleeves {
    /// Marks on front and back of the armhole where they begin and where the seams of the sleeves meet them.
    pub(crate) fn marked(&self, front: Piece, back: Piece, begins: &OnArmhole) -> [Piece; 2] {
        let at = |piece: Piece, name, along| piece.point_on(name, "armhole", End::Start, along);
        let (front, back) = (at(front, "front begins", 0.0), at(back, "back begins", 0.0));
        [
            at(front, "front sleeve seam", self.reach.front - begins.front),
            at(back, "back sleeve seam", self.reach.back - begins.back),
        ]
    }

    /// The seams of both sleeves and of their caps, with `ease`, to an armhole. Of the sleeves that are seen, whichever reaches the front
    /// notch meets a design there, and the two meet each other at the elbow; the back falls where it will (common practice, no source).
    pub(crate) fn seams(&self, armhole: &Armhole, ease: f64) -> Vec<Seam> {
        const NOTCH: &str = "front armhole notch";
        let [upper, under] = self.pieces.each_ref().map(|piece| piece.name.as_str());
        let named = |what: &str| self.layer.named(what);
        let to = |sleeve: &str, piece: &str| format!("{} to {}", sleeve.to_lowercase(), piece.to_lowercase());
        let cap = |sleeve: &str, ease: f64, meets| SeamSide::along(sleeve, "cap", meets).eased(ease);
        let hole = |piece: &str, meets| SeamSide::along(piece, "armhole", meets);
        let front_ease = FRONT_EASE_SHARE * ease;

        // Linings have no notches.
        let is_seen = self.layer == Layer::Shell;
        let upper_reaches = self.pieces[0].mark(NOTCH).is_some();
        let (mut over, mut low) = (vec!["front sleeve seam", "shoulder"], vec!["front begins", "front sleeve seam"]);
        if is_seen {
            // A design is matched at the first mark.
            if upper_reaches { over.insert(0, NOTCH) } else { low.insert(0, NOTCH) }
        }
        let mut to_front = [
            Seam::plain(to(upper, armhole.front), cap(upper, front_ease, &over), hole(armhole.front, &over)),
            Seam::plain(to(under, armhole.front), cap(under, 0.0, &low), hole(armhole.front, &low)),
        ];
        if is_seen {
            let matched = &mut to_front[usize::from(!upper_reaches)];
            (matched.name, matched.kind) = ("sleeve".into(), "sleeve");
        }

        let around = ["front begins", "underarm", "back begins"];
        let to_side =
            armhole.side.map(|side| Seam::plain(to(under, side), cap(under, 0.0, &around), hole(side, &around)));
        let (at_back, over_back) = (["back begins", "back sleeve seam"], ["shoulder", "back sleeve seam"]);
        let to_back = [
            Seam::plain(to(under, armhole.back), cap(under, 0.0, &at_back), hole(armhole.back, &at_back)),
            Seam::plain(
                to(upper, armhole.back),
                cap(upper, ease - front_ease, &over_back),
                hole(armhole.back, &over_back),
            ),
        ];

        let inner =
            |piece| SeamSide::along(piece, "front sleeve seam", &["elbow, front", "front low", "front sleeve seam"]);
        let outer =
            |piece| SeamSide::along(piece, "back sleeve seam", &["back sleeve seam", "elbow, back", "back low"]);
        let between = [
            Seam::new(named("front sleeve seam"), if is_seen { "sleeve" } else { "other" }, inner(under))
                .sewn_to(inner(upper)),
            Seam::plain(named("back sleeve seam"), outer(upper).eased(ELBOW_EASE), outer(under)),
        ];
        to_front.into_iter().chain(to_side).chain(to_back).chain(between).collect()
    }
}

/// A notch and the point of the same place that a design is matched at.
fn mark(piece: Piece, name: &str, end: End, along: f64) -> Piece {
    piece.notch(name, "cap", end, along).point_on(&format!("{name} notch"), "cap", end, along)
}

fn second(piece: Piece, end: End, along: f64) -> Piece {
    piece.notch("back armhole, second", "cap", end, along + 10.0)
}

fn piece(name: &str, front_seam: &[CubicBez], cap: &[CubicBez], back_seam: &[CubicBez], hem: f64) -> Piece {
    let (low_back, low_front) = (back_seam[back_seam.len() - 1].p3, front_seam[0].p0);
    let reach = (low_front.x - low_back.x) / 3.0;
    let hem_line = hermite(low_back, Vec2::new(reach, 0.0), low_front, Vec2::new(reach, 3.0));
    let pen = Pen::at(low_back)
        .curve("hem", hem_line)
        .with("hem", hem)
        .curves("front sleeve seam", front_seam)
        .curves("cap", cap)
        .curves("back sleeve seam", back_seam);
    let (front_elbow, back_elbow) = (chain_length(&front_seam[..1]), chain_length(&back_seam[..1]));
    Piece::new(name, pen).notch("elbow, front", "front sleeve seam", End::Start, front_elbow).notch(
        "elbow, back",
        "back sleeve seam",
        End::Start,
        back_elbow,
    )
}
