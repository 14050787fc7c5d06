//! What can be wrong with a layout. Each fault names the pieces and the amounts.

use std::fmt;

use ellwand_geometry::Point;

use crate::{Cut, CutPoint, DesignAxis};

/// One cut of a layout, for messages: `"Front" copy 2`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutName {
    /// Name of the piece.
    pub piece: String,
    /// Which copy.
    pub copy: u32,
}

impl CutName {
    pub(super) fn of(cut: &Cut) -> Self {
        Self { piece: cut.piece.clone(), copy: cut.copy }
    }
}

impl fmt::Display for CutName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\" copy {}", self.piece, self.copy)
    }
}

/// A broken rule. Lengths are mm, angles degrees counter-clockwise from straight up the cloth.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    /// A copy is not in the layout.
    #[error("{cut} is missing from the layout")]
    Missing {
        /// The copy.
        cut: CutName,
    },
    /// A copy is there more than once.
    #[error("{cut} is cut {times} times")]
    Repeated {
        /// The copy.
        cut: CutName,
        /// How often it is there.
        times: usize,
    },
    /// A cut nobody asked for: the piece is not cut from this cloth, or the copy's number is beyond the count.
    #[error("{cut} is in the layout, but the pattern does not ask for it from this cloth")]
    Unasked {
        /// The cut.
        cut: CutName,
    },
    /// The piece's number differs from that of the view.
    #[error("{cut} carries number {found} on the drawing, the view gives its piece number {expected}")]
    WrongNumber {
        /// The cut.
        cut: CutName,
        /// Number in the layout.
        found: usize,
        /// Number in the view.
        expected: usize,
    },
    /// A pair does not come out as left and right in equal number.
    #[error("\"{piece}\" must be cut as pairs, but {as_drawn} lie printed side up and {mirrored} printed side down")]
    UnevenHands {
        /// The piece.
        piece: String,
        /// Copies as drawn.
        as_drawn: usize,
        /// Copies mirrored.
        mirrored: usize,
    },
    /// A piece that must show its printed side lies the other way.
    #[error("{cut} lies printed side down, but every copy must be cut as drawn")]
    WrongHand {
        /// The cut.
        cut: CutName,
    },
    /// The outline is not the piece's under the recorded pose.
    #[error(
        "{cut} is not the pattern piece mirrored and turned as recorded: its outline is off by {by:.3} mm near \
         ({:.1}, {:.1}) mm",
        at.x, at.y
    )]
    WrongShape {
        /// The cut.
        cut: CutName,
        /// Largest distance between a corner and where it should be; infinite when the number of corners differs.
        by: f64,
        /// That corner.
        at: Point,
    },
    /// The grainline, a notch or a named point is missing, surplus or not where the piece has it.
    #[error("{cut}: {mark} is not where the pattern piece has it (off by {by:.3} mm)")]
    MarkMoved {
        /// The cut.
        cut: CutName,
        /// Which mark.
        mark: String,
        /// How far off; infinite when it is missing or surplus.
        by: f64,
    },
    /// The grainline is not parallel to the selvage.
    #[error(
        "{cut} is off grain: the low end of its grainline is {low:.3} mm from the left edge of the cloth, the high \
         end {high:.3} mm; they may differ by {allowed:.3} mm"
    )]
    OffGrain {
        /// The cut.
        cut: CutName,
        /// Distance of the low end from the left edge.
        low: f64,
        /// Distance of the high end from the left edge.
        high: f64,
        /// Difference allowed by the cloth.
        allowed: f64,
    },
    /// A bias piece does not lie at 45 degrees.
    #[error("{cut} must lie on the bias, but its grainline points {angle_deg:.4} degrees from the selvage")]
    OffBias {
        /// The cut.
        cut: CutName,
        /// Where its grainline points.
        angle_deg: f64,
    },
    /// On cloth with nap, the top of the piece points the wrong way.
    #[error("{cut} runs against the nap: its grainline points {angle_deg:.4} degrees from straight up the cloth")]
    AgainstNap {
        /// The cut.
        cut: CutName,
        /// Where its grainline points.
        angle_deg: f64,
    },
    /// A cut reaches over the left or right end of the usable width.
    #[error("{cut} reaches {by:.3} mm over the usable width on the {side}")]
    OverSelvage {
        /// The cut.
        cut: CutName,
        /// "left" or "right".
        side: &'static str,
        /// How far.
        by: f64,
    },
    /// A cut reaches below the cut end.
    #[error("{cut} reaches {by:.3} mm over the cut end of the cloth")]
    OverCutEnd {
        /// The cut.
        cut: CutName,
        /// How far.
        by: f64,
    },
    /// The recorded length is not where the highest cut ends.
    #[error("the layout says it is {recorded:.3} mm long, but its highest cut ends at {highest:.3} mm")]
    WrongLength {
        /// Length in the layout.
        recorded: f64,
        /// Highest point of any cut.
        highest: f64,
    },
    /// Two cuts overlap.
    #[error("{a} and {b} overlap by {area:.3} mm² near ({:.1}, {:.1}) mm", at.x, at.y)]
    Overlap {
        /// The earlier cut.
        a: CutName,
        /// The later cut.
        b: CutName,
        /// Area of the largest common region.
        area: f64,
        /// A point in it.
        at: Point,
    },
    /// Two cuts are closer than the gap asked for.
    #[error("{a} and {b} are {distance:.3} mm apart; the cloth asks for {gap} mm")]
    TooClose {
        /// The earlier cut.
        a: CutName,
        /// The later cut.
        b: CutName,
        /// Distance between them.
        distance: f64,
        /// Gap asked for.
        gap: f64,
    },
    /// A cut is closer to a flaw of the cloth than the gap asked for.
    #[error("{cut} is {distance:.3} mm from flaw {flaw} of the cloth, which asks for {gap} mm")]
    TooCloseToFlaw {
        /// The cut.
        cut: CutName,
        /// Number of the flaw, from 1.
        flaw: usize,
        /// Distance between them.
        distance: f64,
        /// Gap asked for.
        gap: f64,
    },
    /// A cut is marked as cut on the fold where there is no fold, or its piece is not cut so.
    #[error("{cut} is marked as cut on the fold, but {why}")]
    NoFoldHere {
        /// The cut.
        cut: CutName,
        /// Why it cannot be.
        why: &'static str,
    },
    /// A piece to be cut on the fold is not marked so on folded cloth.
    #[error("{cut} must be cut on the fold of the cloth, but is not marked so")]
    NotOnFold {
        /// The cut.
        cut: CutName,
    },
    /// A cut on the fold does not lie evenly on both sides of it.
    #[error("{cut} is cut on the fold, but its two halves do not meet there: they are off by {by:.3} mm")]
    OffFold {
        /// The cut.
        cut: CutName,
        /// Largest distance between a corner and the mirror image of its counterpart.
        by: f64,
    },
    /// A copy of a pair has no mirror image in the other layer.
    #[error("{cut} is cut through both layers, but no other copy is its mirror image across the fold")]
    NoTwin {
        /// The cut.
        cut: CutName,
    },
    /// A piece cut through both layers crosses the fold.
    #[error("{cut} is cut through both layers, but reaches {by:.3} mm across the fold")]
    AcrossFold {
        /// The cut.
        cut: CutName,
        /// How far.
        by: f64,
    },
    /// The cloth is not folded as it was asked to be, or cannot be folded so.
    #[error("the cloth does not lie as it was asked to, or cannot: {why}")]
    WrongLay {
        /// What is wrong.
        why: String,
    },
    /// A cut lies in two parts of the cloth that are laid differently.
    #[error("{cut} reaches {by:.3} mm across the border of two parts that are laid differently")]
    AcrossBorder {
        /// The cut.
        cut: CutName,
        /// How far.
        by: f64,
    },
    /// A cut covers a flaw.
    #[error("{cut} covers {area:.3} mm² of flaw {flaw} near ({:.1}, {:.1}) mm", at.x, at.y)]
    OnFlaw {
        /// The cut.
        cut: CutName,
        /// The flaw's number, from 1.
        flaw: usize,
        /// Area covered.
        area: f64,
        /// A point of it.
        at: Point,
    },
    /// A cut sticks out of the remnant it is cut from.
    #[error("{cut} sticks out of the remnant by {area:.3} mm² near ({:.1}, {:.1}) mm", at.x, at.y)]
    OffRemnant {
        /// The cut.
        cut: CutName,
        /// Area outside.
        area: f64,
        /// A point of it.
        at: Point,
    },
    /// On an uneven design a piece does not point up.
    #[error("{cut} does not point up the cloth, whose design is not the same from the other end")]
    AgainstDesign {
        /// The cut.
        cut: CutName,
    },
    /// A piece that meets another is turned round where nobody knows where the design stands.
    #[error(
        "{cut} is turned round, and meets another only if the design stands just as it is drawn, which nobody has measured"
    )]
    TurnedAdrift {
        /// The cut.
        cut: CutName,
    },
    /// A piece at a border does not lie on it.
    #[error("{cut} is to lie across the cloth with its low end on a border, and does not")]
    OffBorder {
        /// The cut.
        cut: CutName,
    },
    /// Two points, or a point and the design, do not meet.
    #[error(
        "the match \"{name}\" is missed {} the cloth: {a} and {} are off by {by:.3} mm (recorded as {recorded:.3} mm)",
        axis.name(),
        b.as_ref().map_or_else(|| "the design".to_owned(), ToString::to_string)
    )]
    Mismatched {
        /// The match.
        name: String,
        /// One point.
        a: CutPoint,
        /// The other; `None` for the design itself.
        b: Option<CutPoint>,
        /// The direction.
        axis: DesignAxis,
        /// By how much they miss, measured.
        by: f64,
        /// By how much they miss according to the layout.
        recorded: f64,
    },
    /// Two copies of a piece, each of which meets what it is sewn to, show the design differently.
    #[error(
        "the match \"{name}\" is broken: {other} shows a place of the design {by:.2} mm off that of {first}, {} the cloth, and all \
         copies are to show it alike",
        axis.name()
    )]
    CopiesUnlike {
        /// The match.
        name: String,
        /// The point on the first copy.
        first: CutPoint,
        /// The point on the copy that differs.
        other: CutPoint,
        /// The direction.
        axis: DesignAxis,
        /// By how much they differ.
        by: f64,
    },
    /// A point that had to meet something is not among the matches of the layout.
    #[error("the match \"{name}\" asks for {at} {} the cloth, and the layout does not tell what it meets", axis.name())]
    MatchUntold {
        /// The match.
        name: String,
        /// The point.
        at: CutPoint,
        /// The direction.
        axis: DesignAxis,
    },
    /// The layout answers another question than the one asked.
    #[error("{what} of the layout is not what was asked for: {found} in place of {asked}")]
    NotAsked {
        /// What differs.
        what: &'static str,
        /// In the layout.
        found: String,
        /// In the question.
        asked: String,
    },
    /// The layout tells of a match that nobody asked for.
    #[error("the layout tells of the match \"{name}\" at {at} {} the cloth, which was not asked for", axis.name())]
    MatchUnasked {
        /// The match.
        name: String,
        /// The point.
        at: CutPoint,
        /// The direction.
        axis: DesignAxis,
    },
    /// What is to be bought does not follow from the layout.
    #[error("what is to be bought is wrong: {what}")]
    WrongPurchase {
        /// What is wrong.
        what: &'static str,
    },
    /// The layout is shorter than what was proven impossible.
    #[error(
        "the layout is {length:.3} mm long, below its proven lower bound of {bound:.3} mm: one of the two is wrong"
    )]
    BelowBound {
        /// Length of the layout.
        length: f64,
        /// The bound.
        bound: f64,
    },
}
