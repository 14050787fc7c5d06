//! Which edges of a pattern are sewn together, and which of their points meet.

use ellwand_geometry::{CornerShape, Point};

/// A seam: two pieces, or a piece and its other copy.
#[derive(Debug, Clone, PartialEq)]
pub struct Seam {
    /// Unique in its pattern, such as "side".
    pub name: String,
    /// What kind of seam it is, which says how a design is matched there.
    pub kind: SeamKind,
    /// One side of it.
    pub a: SeamSide,
    /// The other; `None` when it is the other copy of the same piece, or the piece itself, cut on the fold.
    pub b: Option<SeamSide>,
}

/// One side of a seam.
#[derive(Debug, Clone, PartialEq)]
pub struct SeamSide {
    /// The piece.
    pub piece: String,
    /// Names of its edges that are sewn, in order; may be empty when the pattern does not say.
    pub edges: Vec<String>,
    /// Points of the piece that meet those of the other side, place by place; the first is where a design is matched.
    pub meets: Vec<String>,
    /// By how much this side is longer than what it is sewn to, mm, each with what becomes of it: a sleeve cap is eased in, a back
    /// pleated into its yoke, and a cuff laps over itself. Nothing when the sides are alike.
    pub taken_up: Vec<(TakenUp, f64)>,
    /// Two points of a line on the grain that a maker centres on the design, such as centre front.
    pub centre: Option<[String; 2]>,
    /// Two points of the line about which the piece turns outward, the lower one first: the roll line of a lapel. A facing that is sewn to a
    /// front with such a line on both shows its right side beyond it.
    pub roll: Option<[String; 2]>,
}

/// What becomes of the length by which one side of a seam is the longer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TakenUp {
    /// It is eased in, with nothing to see.
    Ease,
    /// It is laid in pleats.
    Pleats,
    /// It is sewn into tucks.
    Tucks,
    /// It is gathered.
    Gathers,
    /// It laps over, and is not sewn to the other side.
    Overlap,
}

impl TakenUp {
    /// After a length: "5 cm in pleats".
    pub fn words(self) -> &'static str {
        match self {
            Self::Ease => "eased in",
            Self::Pleats => "in pleats",
            Self::Tucks => "in tucks",
            Self::Gathers => "gathered",
            Self::Overlap => "overlapping",
        }
    }
}

impl SeamSide {
    /// By how much this side is longer than what it is sewn to, mm in all.
    pub fn longer_by(&self) -> f64 {
        self.taken_up.iter().map(|(_, by)| by).sum()
    }
}

/// Kinds of seam in the order in which a good maker wants a design to match.
///
/// Centre front and centre back come first ("An A-to-Z sewing-technique handbook", 2014, p. 257), then side seams and pockets; a sleeve
/// meets the armhole at one notch, and yokes and cuffs are normally not matched to what they are sewn to (a sewing teacher's newsletter).
/// Front notch of the sleeve, collar at centre back, lapels alike left and right and with the collar beside them, both cuffs alike: common
/// practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SeamKind {
    /// Left to right front.
    CentreFront,
    /// Left to right back.
    CentreBack,
    /// What turns outward above the roll line of a front: the left facing to the right one, or the facing to the collar.
    Lapel,
    /// Front to back, or to a side panel between them.
    Side,
    /// A pocket or flap to what it lies on.
    Pocket,
    /// Sleeve to armhole.
    Sleeve,
    /// Collar to back.
    Collar,
    /// Cuff to sleeve.
    Cuff,
    /// Yoke to what hangs from it.
    Yoke,
    /// Any other; matched only when asked for.
    Other,
}

/// A stretch of the seam line of a piece, in the frame of the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceEdge {
    /// Its name; empty when it has none.
    pub name: String,
    /// Its points in order, the first the last of the edge before, flattened like the outline.
    pub line: Vec<Point>,
    /// How deep its allowance is, mm; `None` of a leg of a dart, which has none of its own.
    pub allowance: Option<f64>,
    /// How its allowance ends beside its neighbours, where the pattern says so.
    pub corner: Option<CornerShape>,
}
