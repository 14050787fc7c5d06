//! The finished layout: what is cut where on flat cloth, and what it takes to buy it.

use crate::{Cloth, Cut, CutOrder, GrainRule, Hands, Lay, Match, MatchedPoints, Purchase, Remnant, Way};

/// A layout of one cloth of a job. All shapes lie on flat, opened-out cloth, both layers of a fold included, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Name of the job.
    pub job: String,
    /// Name of the pattern.
    pub pattern: String,
    /// Name of the view.
    pub view: String,
    /// Size of the pieces.
    pub size: String,
    /// Names of the garments by which its pieces are called, "Apron: Bib", where several are cut together.
    pub garments: Vec<String>,
    /// Role of the cloth: main, contrast, lining …
    pub role: String,
    /// The cloth.
    pub cloth: Cloth,
    /// The way in which it was to be laid.
    pub way: Way,
    /// How it lies when cut.
    pub lay: Lay,
    /// Length used from the cut end, mm.
    pub length: f64,
    /// A length no layout of this cloth can go below.
    pub lower_bound: LowerBound,
    /// Every shape cut, in the order of the view and then of the copies.
    pub cuts: Vec<Cut>,
    /// What was asked to be cut, in the order of the view.
    pub asked: Vec<Asked>,
    /// What had to meet on its design, the most important first.
    pub matching: Vec<Match>,
    /// Names of the wished matches that were given up, since they cost more than they were worth to the maker.
    pub given_up: Vec<String>,
    /// What meets, point by point, in that order.
    pub matches: Vec<MatchedPoints>,
    /// What to buy.
    pub purchase: Purchase,
    /// How it was found.
    pub search: SearchNote,
}

/// Share of a length that is rounding: a thousandth of a millimetre on a metre.
const LENGTH_ROUNDING: f64 = 1e-6;
/// What ends beyond its remnant by no more than this lies within it, mm: rounding, as the checker lets pass.
const FITTING: f64 = 1e-3;

impl Layout {
    /// Whether nothing shorter exists: the layout is as short as its bound.
    pub fn is_shortest_possible(&self) -> bool {
        self.length <= self.lower_bound.length * (1.0 + LENGTH_ROUNDING)
    }

    /// What is kept free of pieces along each selvage since nobody measured where the design stands, mm; the whole layout is moved sideways by up to
    /// as much on the table.
    pub fn kept_free(&self) -> f64 {
        crate::kept_free(&self.cloth, &self.matching, self.way)
    }

    /// What becomes of what is cut of a piece, where it is joined from several or gives bias strips.
    pub fn strips_of(&self, piece: &str) -> Option<crate::Strips> {
        self.asked.iter().find(|asked| asked.piece == piece)?.strips
    }

    /// What to do with what is cut of a piece that is joined from several or gives bias strips: "4 bias strips 2 in wide, 3 joins"; nothing for others.
    pub fn strips_words(&self, piece: &str, units: crate::Units) -> Option<String> {
        let asked = self.asked.iter().find(|asked| asked.piece == piece)?;
        let strips = asked.strips?;
        let words = strips.words(units)?;
        Some(if asked.count > strips.rectangles() { format!("each {words}") } else { words })
    }

    /// By how much it is longer than the remnant that it is cut from, mm; 0 where it fits, or where the cloth comes from a roll.
    pub fn beyond_remnant(&self) -> f64 {
        let end = self.cloth.remnant.as_ref().map_or(f64::INFINITY, Remnant::length);
        if self.length <= end + FITTING { 0.0 } else { self.length - end }
    }

    /// By how much a layout could be shorter at most, as a share of this one's length; 0 when it is the shortest possible.
    pub fn gap(&self) -> f64 {
        if self.is_shortest_possible() { 0.0 } else { 1.0 - self.lower_bound.length / self.length }
    }
}

/// One piece that was to be cut: what a judge of the layout needs to know besides its outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// Name of the piece.
    pub piece: String,
    /// Which of its copies, in rising order: all, from 1 on, unless others are cut from another piece of cloth.
    pub copies: Vec<u32>,
    /// How many copies there are in all.
    pub count: u32,
    /// In which hands.
    pub hands: Hands,
    /// Whether each is cut on the fold where the cloth has one.
    pub on_fold: bool,
    /// Which ways its grain may run.
    pub grain: GrainRule,
    /// What its rectangles are, where several are joined to one or bias strips come out of them.
    pub strips: Option<crate::Strips>,
}

impl Asked {
    /// What an order asks for.
    pub fn of(order: &CutOrder) -> Self {
        Self {
            piece: order.piece.name.clone(),
            copies: order.copies.clone(),
            count: order.rule.count,
            hands: order.rule.hands,
            on_fold: order.rule.on_fold,
            grain: order.grain(),
            strips: order.piece.strips,
        }
    }
}

/// A proven lower bound on the length, mm, and why it holds.
#[derive(Debug, Clone, PartialEq)]
pub struct LowerBound {
    /// No layout is shorter than this.
    pub length: f64,
    /// One sentence that says why.
    pub reason: String,
}

/// How a layout was found, so that it can be found again.
#[derive(Debug, Clone, PartialEq)]
pub struct SearchNote {
    /// Seed of the search.
    pub seed: u64,
    /// "quick", "normal", "thorough", or "time limit 10 s".
    pub effort: String,
    /// Wall time, which is not part of the promise of equal bytes.
    pub seconds: f64,
    /// Length of the starting layout (largest first, lowest fit), mm.
    pub start_length: f64,
    /// Length over the course of the search, each shorter than the one before. The layout can be shorter than the last
    /// when it was first made for a stricter question.
    pub trace: Vec<TracePoint>,
}

/// A moment at which a search found something shorter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TracePoint {
    /// Positions evaluated until then.
    pub work: u64,
    /// Wall time until then, s; told only where the search was given a time, since it differs from run to run.
    pub seconds: Option<f64>,
    /// The length, mm.
    pub length: f64,
}
