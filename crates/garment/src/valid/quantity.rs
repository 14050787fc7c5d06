//! The numbers of a job, each with what it may be.

use std::fmt;

use super::InputFault;

/// The longest length that means anything on cloth, mm: ten kilometres. What a maker writes may be a kilometre, and what is worked out from it
/// a little more.
const LONGEST: f64 = 1e7;

/// Largest tilt off the grain that counts as a tolerance, degrees; more is another direction.
const MOST_OFF_GRAIN_DEG: f64 = 10.0;

/// A number of a job. Lengths are mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Quantity {
    /// Width of a cloth.
    Width,
    /// Width of one selvage.
    Selvage,
    /// Tilt off the grain that is allowed, degrees.
    OffGrain,
    /// Least distance between pieces.
    PieceGap,
    /// Length on hand.
    OnHand,
    /// The length a shop sells by.
    SoldBy,
    /// Share lost along in washing.
    ShrinkageAlong,
    /// Share lost across in washing.
    ShrinkageAcross,
    /// Length to true the ends.
    StraightenEnds,
    /// Repeat of a design, across or along.
    Repeat,
    /// Place of a bar of the design on the cloth.
    Offset,
    /// Place of a bar in its repeat.
    BarPlace,
    /// Width of a bar.
    BarWidth,
    /// Width of a border.
    BorderWidth,
    /// Ease of one side of a seam.
    Ease,
    /// Length that a wished match may cost.
    MatchLimit,
    /// Place of the design at which a point stands.
    Phase,
    /// Distance of a point from the edge of the cloth.
    FromEdge,
}

/// What a number may be.
enum Range {
    AboveZero,
    ZeroOrMore,
    Share,
    Tilt,
    Any,
}

impl Quantity {
    fn kind(self) -> Range {
        match self {
            Self::Width | Self::SoldBy | Self::Repeat | Self::BarWidth | Self::BorderWidth => Range::AboveZero,
            Self::Selvage
            | Self::PieceGap
            | Self::OnHand
            | Self::StraightenEnds
            | Self::MatchLimit
            | Self::FromEdge => Range::ZeroOrMore,
            Self::ShrinkageAlong | Self::ShrinkageAcross => Range::Share,
            Self::OffGrain => Range::Tilt,
            Self::Offset | Self::BarPlace | Self::Ease | Self::Phase => Range::Any,
        }
    }

    /// Whether it may be `value`.
    pub fn allows(self, value: f64) -> bool {
        match self.kind() {
            Range::AboveZero => value > 0.0 && value <= LONGEST,
            Range::ZeroOrMore => (0.0..=LONGEST).contains(&value),
            Range::Share => (0.0..1.0).contains(&value),
            Range::Tilt => (0.0..=MOST_OFF_GRAIN_DEG).contains(&value),
            Range::Any => value.abs() <= LONGEST,
        }
    }

    /// What it may be, in words that follow "it must be".
    pub fn range(self) -> String {
        match self.kind() {
            Range::AboveZero => format!("a number of millimetres above 0, to {LONGEST}"),
            Range::ZeroOrMore => format!("a number of millimetres from 0 to {LONGEST}"),
            Range::Share => "a share from 0 to below 1".to_owned(),
            Range::Tilt => format!("from 0 to {MOST_OFF_GRAIN_DEG} degrees"),
            Range::Any => format!("a number of millimetres, -{LONGEST} to {LONGEST}"),
        }
    }

    /// The fault when it is `value`.
    pub(super) fn fault(self, of: &str, value: f64) -> Option<InputFault> {
        (!self.allows(value)).then(|| InputFault::OutOfRange { of: of.to_owned(), quantity: self, found: value })
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Width => "the width",
            Self::Selvage => "the selvage",
            Self::OffGrain => "the tilt allowed off the grain",
            Self::PieceGap => "the least distance between pieces",
            Self::OnHand => "the length on hand",
            Self::SoldBy => "the length sold by",
            Self::ShrinkageAlong => "the shrinkage along",
            Self::ShrinkageAcross => "the shrinkage across",
            Self::StraightenEnds => "the length to straighten the ends",
            Self::Repeat => "a repeat of the design",
            Self::Offset => "an offset of the design",
            Self::BarPlace => "the place of a bar",
            Self::BarWidth => "the width of a bar",
            Self::BorderWidth => "the width of the border",
            Self::Ease => "the ease",
            Self::MatchLimit => "the limit on a wished match",
            Self::Phase => "the place of the design",
            Self::FromEdge => "the distance from the edge of the cloth",
        })
    }
}
