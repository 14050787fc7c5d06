//! One piece of a pattern, ready to cut: after size, alterations and seam allowance.

use std::collections::BTreeMap;

use ellwand_geometry::{Outline, Point};

/// What the middle of a join is called among the points of a piece that is cut in two and joined there.
pub const JOIN: &str = "join";

/// A piece as it is cut from flat, opened-out cloth, in a frame of its own, mm.
///
/// The grainline points straight up: `grainline[0]` is its low end (towards the hem), `grainline[1]` its high end, with the
/// same `x`. A piece cut on the fold is held whole, unfolded, and symmetric about `x = 0`.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Unique in its pattern.
    pub name: String,
    /// The cutting line, seam and hem allowances included.
    pub outline: Outline,
    /// The seam line, edge by edge, whole and unfolded; the cutting line itself where the pattern draws no other.
    pub edges: Vec<crate::PieceEdge>,
    /// Low and high end of the grainline; lies inside the outline.
    pub grainline: [Point; 2],
    /// Whether the outline is an unfolded half with its fold edge on `x = 0`.
    pub fold: bool,
    /// Which ways the grain may run.
    pub grain: GrainRule,
    /// Notches on the cutting line.
    pub notches: Vec<Notch>,
    /// Its darts, those of both halves of an unfolded piece.
    pub darts: Vec<crate::Dart>,
    /// Other named points, on the seam line or inside.
    pub points: BTreeMap<String, Point>,
    /// From which cloth and how many; one entry a role.
    pub cuts: Vec<CutRule>,
    /// What its rectangles are, where several are joined to one or bias strips come out of them.
    pub strips: Option<crate::Strips>,
}

impl Piece {
    /// Which ways its grain may run on the cloth of `role`.
    pub fn grain_on(&self, role: &str) -> GrainRule {
        self.cuts.iter().find(|rule| rule.role == role).and_then(|rule| rule.grain).unwrap_or(self.grain)
    }
}

/// A mark on the cutting line that tells where to join.
#[derive(Debug, Clone, PartialEq)]
pub struct Notch {
    /// Its name on the pattern; empty when it has none.
    pub name: String,
    /// Its place on the cutting line.
    pub at: Point,
    /// Unit vector into the piece, square to the edge.
    pub inward: Point,
}

/// How many of a piece are cut from one role of cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct CutRule {
    /// The cloth's role: main, contrast, lining, interfacing or any other name the pattern gives.
    pub role: String,
    /// How many are cut, at least 1. A whole piece cut on the fold counts once.
    pub count: u32,
    /// Whether each is cut on the fold of folded cloth. On an open layer it is cut whole.
    pub on_fold: bool,
    /// Which hands are wanted.
    pub hands: Hands,
    /// Which ways the grain may run on this cloth, where that is not the piece's own rule: a waistband may lie across fusible and not
    /// across satin.
    pub grain: Option<GrainRule>,
}

/// Which faces of the cloth the copies of a piece show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hands {
    /// Left and right in equal number; the count is even.
    Pair,
    /// Every copy as drawn, right side up.
    Same,
    /// Each copy either way: the piece is its own mirror image, or it does not matter.
    Any,
}

/// Which ways the grainline may run on the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GrainRule {
    /// Parallel to the selvage.
    Straight,
    /// Parallel or square to the selvage.
    CrossAllowed,
    /// At 45 degrees to the selvage, either way.
    Bias,
}
