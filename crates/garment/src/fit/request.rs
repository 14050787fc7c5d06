//! What is asked of a fit, and what comes of it.

use std::collections::BTreeMap;

use ellwand_geometry::CornerShape;

use super::{Advice, Draft, WalkedSeam};
use crate::Units;

/// Measures of a body by name, mm: bust, high bust, waist, hip, back length, height …
pub type Body = BTreeMap<String, f64>;

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct FitRequest {
    /// The figure type; the chart's only or first one when left out.
    pub figure: Option<String>,
    /// The size.
    pub size: SizeWish,
    /// The body to fit, when it is known.
    pub body: Body,
    /// How much more than the body the garment is to be at a girth, mm; as the pattern has it where nothing is said.
    pub ease: BTreeMap<String, f64>,
    /// What is changed afterwards, in this order.
    pub alterations: Vec<Alteration>,
    /// Names of the pieces that are made, of which alone there is something to tell; all of the pattern when they are not named.
    pub pieces: Option<Vec<String>>,
    /// Units of the sentences that come of it.
    pub units: Units,
}

impl FitRequest {
    /// Whether a piece is made.
    pub fn makes(&self, piece: &str) -> bool {
        self.pieces.as_ref().is_none_or(|pieces| pieces.iter().any(|made| made == piece))
    }
}

/// Which size is wanted.
#[derive(Debug, Clone, PartialEq)]
pub enum SizeWish {
    /// This one.
    Named(String),
    /// The one that suits the body best.
    Recommended,
    /// A size for each of these levels, blended in between.
    ByLevel(BTreeMap<String, String>),
    /// Sizes between sizes, so that each level has the ease of the pattern over the body.
    ToBody,
}

/// A change to the pieces.
#[derive(Debug, Clone, PartialEq)]
pub enum Alteration {
    /// Lengthens, or below zero shortens, at a marked line.
    Lengthen {
        /// The line.
        line: String,
        /// Only these pieces; every piece with the line when empty.
        pieces: Vec<String>,
        /// By how much, mm.
        by: f64,
    },
    /// Adds to, or below zero takes from, the girth of the garment at a seam.
    Widen {
        /// The seam.
        seam: String,
        /// By how much in all, mm, shared between every edge sewn there.
        by: f64,
    },
    /// Another allowance on an edge: of a seam, or of a hem.
    Allowance {
        /// Only this piece; every piece with such an edge when left out.
        piece: Option<String>,
        /// The edge.
        edge: String,
        /// Its depth, mm.
        depth: f64,
        /// How it ends beside its neighbours; as it did when left out.
        corner: Option<CornerShape>,
    },
}

/// A girth that the pattern declares: what is sewn round the body at a level.
#[derive(Debug, Clone, PartialEq)]
pub struct Girth {
    /// What it is called; a measure of the body of that name is what ease is counted from.
    pub name: String,
    /// The level.
    pub level: String,
    /// The pieces that go round.
    pub parts: Vec<GirthPart>,
    /// What is not worn there: pleats, overlap; mm in all.
    pub less: f64,
}

/// A piece that goes round the body.
#[derive(Debug, Clone, PartialEq)]
pub struct GirthPart {
    /// The piece.
    pub piece: String,
    /// How often its drawing goes round: 2 for a pair, and for a half drawn on the fold.
    pub times: f64,
    /// A point from whose upright line on the width counts, such as centre front beside an overlap.
    pub from: Option<String>,
}

/// A length that the pattern declares, along edges: a sleeve seam, a back, a hem sweep.
#[derive(Debug, Clone, PartialEq)]
pub struct DeclaredLength {
    /// What it is called.
    pub name: String,
    /// Edges by piece and name, and how often each counts.
    pub along: Vec<(String, String, f64)>,
}

/// What came of a fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The pieces to cut, before allowances, in the order of the pattern.
    pub drafts: Vec<Draft>,
    /// The same pieces in the nearest size, as the pattern has them.
    pub before: Vec<Draft>,
    /// What there is to tell.
    pub report: FitReport,
}

/// What there is to tell about a fit. Lengths are mm.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FitReport {
    /// The figure type.
    pub figure: String,
    /// The size in a word: "38", "size by level: hip 42, waist 38", "made to measure".
    pub size: String,
    /// Which size suits the body, where measures were given.
    pub advice: Option<Advice>,
    /// One row a girth.
    pub levels: Vec<LevelRow>,
    /// One row a declared length.
    pub lengths: Vec<(String, f64)>,
    /// What was changed, one sentence each.
    pub alterations: Vec<String>,
    /// Every declared seam, walked.
    pub walked: Vec<WalkedSeam>,
    /// What the maker should know: sizes beyond the pattern, too little ease.
    pub warnings: Vec<String>,
}

/// One girth of the finished garment.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelRow {
    /// The girth.
    pub name: String,
    /// The body's, where it is known.
    pub body: Option<f64>,
    /// The size there: "38", or between: "38.5".
    pub size: String,
    /// The finished garment's.
    pub finished: f64,
    /// Finished less body.
    pub ease: Option<f64>,
    /// Least and most of the usual wearing ease.
    pub usual: Option<(f64, f64)>,
    /// The ease that the pattern itself has there over the bodies of its sizes.
    pub own: Option<f64>,
}
