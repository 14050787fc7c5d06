//! What can be wrong with a pattern or a job, told so that it can be put right.

use std::fmt;

use ellwand_geometry::{OutlineFault, Point};
use rust_decimal::Decimal;

use super::{GrainEnd, Part, PieceMark, Quantity, SpendingFault};
use crate::DesignAxis;

/// Something wrong with a pattern or a job. Lengths are mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum InputFault {
    /// Something that is told by its name has none.
    #[error("{} has no name: give it one", .what.an())]
    NoName {
        /// What.
        what: Part,
    },
    /// Two of a kind share a name.
    #[error("two {} are called \"{name}\": give each its own name", .what.many())]
    SameName {
        /// What.
        what: Part,
        /// The name.
        name: String,
    },
    /// A piece without an outline.
    #[error("\"{piece}\" has no outline: give it its corners")]
    NoOutline {
        /// The piece.
        piece: String,
    },
    /// Corners that are no outline.
    #[error("the outline of \"{piece}\": {fault}")]
    Outline {
        /// The piece.
        piece: String,
        /// What is wrong.
        fault: OutlineFault,
    },
    /// A half that does not begin and end on its fold.
    #[error("the half of \"{piece}\" must begin and end on the fold, at x = 0, but one end is at x = {x:.3} mm")]
    HalfOffFold {
        /// The piece.
        piece: String,
        /// Where that end is.
        x: f64,
    },
    /// A mark with a coordinate that is NaN or infinite.
    #[error("{mark} of \"{piece}\" is not at a pair of finite numbers")]
    NotFinite {
        /// The piece.
        piece: String,
        /// The mark.
        mark: PieceMark,
    },
    /// A piece without a grainline.
    #[error("\"{piece}\" has no grainline: say where it runs")]
    NoGrainline {
        /// The piece.
        piece: String,
    },
    /// Both ends of a grainline are one place.
    #[error("the grainline of \"{piece}\" has no length: both ends are the same place")]
    GrainlineWithoutLength {
        /// The piece.
        piece: String,
    },
    /// A grainline that does not point straight up.
    #[error(
        "the grainline of \"{piece}\" points {degrees:.2} degrees off upright: turn the piece until it runs straight up, its low end first"
    )]
    GrainlineNotUpright {
        /// The piece.
        piece: String,
        /// By how much, above 0 to 180.
        degrees: f64,
    },
    /// An end of the grainline outside the outline.
    #[error("the {end} end of the grainline of \"{piece}\" lies outside its outline: draw it within")]
    GrainlineOutside {
        /// The piece.
        piece: String,
        /// Which end.
        end: GrainEnd,
    },
    /// A piece with its fold on `x = 0` whose halves differ.
    #[error(
        "\"{piece}\" is cut on the fold but is not symmetric about x = 0: ({:.1}, {:.1}) mm has no mirror image, {by:.2} mm are missing",
        .at.x, .at.y
    )]
    NotSymmetric {
        /// The piece.
        piece: String,
        /// The corner whose mirror image lies farthest from the outline.
        at: Point,
        /// How far.
        by: f64,
    },
    /// A piece cut on the fold that has none.
    #[error("\"{piece}\" is cut on the fold of {role}, but does not say that its fold is at x = 0")]
    NoFold {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
    },
    /// A notch away from the cutting line.
    #[error("{mark} of \"{piece}\" lies {by:.1} mm off the cutting line: put it on the line")]
    NotchOffLine {
        /// The piece.
        piece: String,
        /// The notch.
        mark: PieceMark,
        /// How far off.
        by: f64,
    },
    /// A notch that does not say which way is in.
    #[error("{mark} of \"{piece}\" points inward by a vector of length {length:.3}: it is a direction, of length 1")]
    NotchDirection {
        /// The piece.
        piece: String,
        /// The notch.
        mark: PieceMark,
        /// Length of its vector.
        length: f64,
    },
    /// A piece that is cut from nothing.
    #[error("\"{piece}\" is cut from no cloth: say from which cloth, and how many")]
    NeverCut {
        /// The piece.
        piece: String,
    },
    /// A rule that names no cloth.
    #[error("a cut of \"{piece}\" names no cloth: say main, lining or what the job calls it")]
    NoRole {
        /// The piece.
        piece: String,
    },
    /// Two rules for one cloth.
    #[error("\"{piece}\" has two rules for {role}: keep one that says how many are cut in total")]
    RoleTwice {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
    },
    /// None are cut.
    #[error("\"{piece}\" is cut 0 times from {role}: leave the rule out, or say how many")]
    CountZero {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
    },
    /// An odd number of left and right.
    #[error("{count} of \"{piece}\" cannot be cut from {role} in pairs of left and right: the count is odd")]
    OddPair {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
        /// How many.
        count: u32,
    },
    /// A pattern without a piece.
    #[error("the pattern has no piece")]
    NoPieces,
    /// A pattern without a view.
    #[error("the pattern has no view: name one, with its pieces")]
    NoViews,
    /// A view that makes nothing.
    #[error("view \"{view}\" has no piece")]
    EmptyView {
        /// The view.
        view: String,
    },
    /// A view of a piece that is not there.
    #[error(
        "view \"{view}\" has a piece \"{piece}\", which the pattern does not have: add the piece, or leave it out of the view"
    )]
    ViewWithoutPiece {
        /// The view.
        view: String,
        /// The piece.
        piece: String,
    },
    /// A view that names a piece again.
    #[error("view \"{view}\" names the piece \"{piece}\" twice: the piece itself says how many are cut")]
    PieceTwice {
        /// The view.
        view: String,
        /// The piece.
        piece: String,
    },
    /// A seam of something that is not there.
    #[error("seam \"{seam}\" joins {mark} of \"{piece}\", which the pattern does not have")]
    SeamWithout {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
        /// What of it.
        mark: PieceMark,
    },
    /// A job for a view that the pattern has not.
    #[error("the pattern has no view \"{view}\": its views are {}", listed(.known))]
    NoSuchView {
        /// As the job says.
        view: String,
        /// Those of the pattern.
        known: Vec<String>,
    },
    /// Nothing to cut a piece from.
    #[error("view \"{view}\" is cut from {role}, but the job has no such cloth")]
    RoleWithoutFabric {
        /// The view.
        view: String,
        /// The role.
        role: String,
    },
    /// A number that means nothing.
    #[error("{quantity} of {of} is {found}: it must be {}", .quantity.range())]
    OutOfRange {
        /// The cloth by its role, or the seam or match.
        of: String,
        /// What it says.
        quantity: Quantity,
        /// As given.
        found: f64,
    },
    /// Selvages that leave no cloth.
    #[error("the two selvages of {role}, {selvage:.1} mm each, use up all {width:.1} mm of the cloth")]
    SelvagesTooWide {
        /// The cloth.
        role: String,
        /// One selvage.
        selvage: f64,
        /// The cloth from edge to edge, after shrinkage.
        width: f64,
    },
    /// A remnant that cannot be laid as it is told.
    #[error("the remnant \"{remnant}\" of {role} cannot be laid: {why}")]
    UnusableRemnant {
        /// The cloth.
        role: String,
        /// The remnant.
        remnant: String,
        /// Why, in a few words.
        why: &'static str,
    },
    /// Something wrong with what is bought beside the cloth, or with the budget.
    #[error(transparent)]
    Spending(#[from] SpendingFault),
    /// A price below zero or past what cloth can cost.
    #[error("the price of {role} is {amount}: a price is from 0 up to a million")]
    PriceOutOfRange {
        /// The cloth.
        role: String,
        /// As given.
        amount: Decimal,
    },
    /// A wished match that may cost less than nothing, or more than any cloth.
    #[error("the limit on a wished match of {role} is {amount}: a limit is from 0 up to a million")]
    LimitOutOfRange {
        /// The cloth.
        role: String,
        /// As given.
        amount: Decimal,
    },
    /// A limit in money on cloth without a price.
    #[error("the limit on a wished match of {role} is an amount of money, but the cloth has no price")]
    LimitWithoutPrice {
        /// The cloth.
        role: String,
    },
    /// A piece on the bias or the fold, not both.
    #[error(
        "\"{piece}\" lies on the bias and is cut on the fold of {role}, which runs along the grain: let the cloth lie open"
    )]
    BiasOnFold {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
    },
    /// A design of nothing.
    #[error("the design of {role} has neither a repeat nor a border: without either the cloth is plain")]
    EmptyDesign {
        /// The cloth.
        role: String,
    },
    /// A half drop of stripes.
    #[error("the half drop of {role} needs a repeat across and a repeat along")]
    DropWithoutRepeats {
        /// The cloth.
        role: String,
    },
    /// A border that leaves no cloth.
    #[error("the border of {role}, {width:.1} mm wide, does not fit on {cloth:.1} mm of cloth")]
    BorderTooWide {
        /// The cloth.
        role: String,
        /// The border along one selvage.
        width: f64,
        /// The cloth.
        cloth: f64,
    },
    /// A colour that is none.
    #[error("\"{found}\" is not a colour for {role}: write it like \"#203a5c\"")]
    NotAColour {
        /// The cloth.
        role: String,
        /// As given.
        found: String,
    },
    /// Something to match on plain cloth.
    #[error("\"{name}\" should match on {role}, which is plain: give the cloth its design")]
    MatchOnPlainCloth {
        /// The cloth.
        role: String,
        /// The match.
        name: String,
    },
    /// A match of something that is not there.
    #[error("\"{name}\" matches {mark} of \"{piece}\" on {role}, but the view cuts no such thing from it")]
    MatchWithout {
        /// The cloth.
        role: String,
        /// The match.
        name: String,
        /// The piece.
        piece: String,
        /// What of it.
        mark: PieceMark,
    },
    /// A match in a direction that repeats nothing.
    #[error("\"{name}\" matches {} the cloth, but the design of {role} has no repeat in that direction", .axis.name())]
    NoRepeat {
        /// The cloth.
        role: String,
        /// The match.
        name: String,
        /// The direction.
        axis: DesignAxis,
    },
    /// A piece at a border that may not lie across the grain.
    #[error(
        "\"{name}\" puts \"{piece}\" at a border of {role}, across the cloth: let the piece lie across the grain, on cloth without nap"
    )]
    NotCrosswise {
        /// The cloth.
        role: String,
        /// The match.
        name: String,
        /// The piece.
        piece: String,
    },
    /// A piece at a border of cloth that has none.
    #[error("\"{name}\" puts a piece at a border, but the design of {role} has none")]
    NoBorder {
        /// The cloth.
        role: String,
        /// The match.
        name: String,
    },
}

/// Every fault that was found, at least one. As an error it tells them line by line.
#[derive(Debug, Clone, PartialEq)]
pub struct InputFaults(pub(crate) Vec<InputFault>);

impl InputFaults {
    /// `sound`, unless there are faults.
    pub(crate) fn or<T>(faults: Vec<InputFault>, sound: T) -> Result<T, Self> {
        if faults.is_empty() { Ok(sound) } else { Err(Self(faults)) }
    }

    /// The faults, in the order of what they are found in.
    pub fn faults(&self) -> &[InputFault] {
        &self.0
    }
}

impl fmt::Display for InputFaults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (number, fault) in self.0.iter().enumerate() {
            if number > 0 {
                writeln!(f)?;
            }
            fault.fmt(f)?;
        }
        Ok(())
    }
}

impl std::error::Error for InputFaults {}

impl From<InputFaults> for Vec<InputFault> {
    fn from(faults: InputFaults) -> Self {
        faults.0
    }
}

fn listed(names: &[String]) -> String {
    names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
}
