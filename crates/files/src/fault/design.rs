//! Faults of the design of a cloth and of what is to match on it.

use ellwand_garment::MatchFault;

use super::words::{suggest, suggest_among};

/// What is wrong with a design, or with the matches a job asks for. Lengths are mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DesignFault {
    /// A design of nothing.
    #[error("the design has neither a repeat nor a border")]
    Empty,
    /// A repeat that shows less than once.
    #[error("a repeat of {repeat:.1} mm is wider than the cloth, which is {width:.1} mm wide")]
    RepeatTooWide {
        /// The repeat, as bought.
        repeat: f64,
        /// Width of the cloth, as bought.
        width: f64,
    },
    /// A bar that belongs to the next repeat.
    #[error("the bar lies {at:.1} mm from the dominant one, past the repeat of {repeat:.1} mm")]
    BarOutside {
        /// Its middle.
        at: f64,
        /// The repeat.
        repeat: f64,
    },
    /// A bar that leaves no ground.
    #[error("a bar {width:.1} mm wide does not fit into a repeat of {repeat:.1} mm")]
    BarTooWide {
        /// Its width.
        width: f64,
        /// The repeat.
        repeat: f64,
    },
    /// A colour that is none.
    #[error("\"{found}\" is not a colour")]
    NotAColour {
        /// As written.
        found: String,
    },
    /// A half drop in one direction.
    #[error("a half drop needs a repeat across and a repeat along")]
    DropWithoutRepeats,
    /// A border that leaves no cloth.
    #[error("a border of {width:.1} mm along {sides} does not fit on cloth {cloth:.1} mm wide")]
    BorderTooWide {
        /// Its width.
        width: f64,
        /// One selvage or both.
        sides: &'static str,
        /// Width of the cloth.
        cloth: f64,
    },
    /// Matching on plain cloth.
    #[error("there is nothing to match on plain cloth: it has no `design`")]
    MatchingWithoutDesign,
    /// A wish without a price.
    #[error("`{name}` is wished for, but nothing says what it may cost")]
    NoLimit {
        /// The match.
        name: String,
    },
    /// A limit in cloth and one in money.
    #[error("`limit` and `limit_cost` are both given")]
    TwoLimits,
    /// A limit in money for cloth without a price.
    #[error("`limit_cost` is given, but the cloth has no price")]
    LimitWithoutPrice,
    /// A seam that is to match and is not.
    #[error("the seam `{seam}` is listed in both `{first}` and `{second}`")]
    NamedTwice {
        /// The seam.
        seam: String,
        /// The one list.
        first: &'static str,
        /// The other.
        second: &'static str,
    },
    /// Two matches of one name.
    #[error("another match is already called `{name}`")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// A seam, match or piece that is not there.
    #[error("the pattern has no {what} `{name}`")]
    Unknown {
        /// Seam, piece …
        what: &'static str,
        /// As written.
        name: String,
        /// The nearest of the kind.
        meant: Option<String>,
        /// All of the kind.
        known: Vec<String>,
    },
    /// A point or edge that a piece does not have, or a seam does not meet at.
    #[error("{of} has no {what} `{name}`")]
    UnknownMark {
        /// "the piece `Front`", "the seam `side`".
        of: String,
        /// Point, edge …
        what: &'static str,
        /// As written.
        name: String,
        /// The nearest of the kind.
        meant: Option<String>,
        /// All of the kind.
        known: Vec<String>,
    },
    /// A match of a piece that is cut from another cloth, or not at all.
    #[error("`{piece}` cannot match on this cloth: view `{view}` does not cut it from {role}")]
    NotCutHere {
        /// The piece.
        piece: String,
        /// The view.
        view: String,
        /// The role of the cloth.
        role: String,
    },
    /// A match in a direction in which every place is alike.
    #[error("`{name}` matches {axis} the cloth, but the design has no repeat in that direction")]
    NoRepeat {
        /// The match.
        name: String,
        /// "across" or "along".
        axis: &'static str,
    },
    /// A fold that would show the design the other way round.
    #[error("the design is uneven across, so on a fold the lower layer shows it the other way round")]
    UnevenOnFold,
    /// A border rule on cloth without a border.
    #[error("`{piece}` should stand at a border, but the design has none")]
    NoBorder {
        /// The piece.
        piece: String,
    },
    /// A border rule on cloth on which nothing may lie crosswise.
    #[error("`{piece}` should stand at the border, crosswise, but on cloth with a nap no piece may lie crosswise")]
    BorderOnNap {
        /// The piece.
        piece: String,
    },
    /// A hem that a straight border cannot follow.
    #[error(
        "the edge `{edge}` of `{piece}` rises {by:.1} mm towards its ends, but a border is straight, so it would run off the edge"
    )]
    CurvedAtBorder {
        /// The piece.
        piece: String,
        /// The edge.
        edge: String,
        /// By how much it rises.
        by: f64,
    },
    /// A piece off the straight grain on a lengthwise fold.
    #[error("`{piece}` is cut on the fold, which runs along the grain, so it cannot lie {lies}")]
    OffGrainOnFold {
        /// The piece.
        piece: String,
        /// "on the bias" or "crosswise".
        lies: &'static str,
    },
    /// Two keys of a cloth lay a piece differently.
    #[error("`{piece}` should lie {lies} here and {otherwise} by another key of `{role}`")]
    TwoGrains {
        /// The piece.
        piece: String,
        /// "on the bias" or "crosswise".
        lies: &'static str,
        /// The other of the two.
        otherwise: &'static str,
        /// The cloth.
        role: String,
    },
    /// A centre midway between the bars of a half drop, where the next column stands.
    #[error("in a half drop the next column stands midway between two others, half a repeat lower")]
    MidwayOfDrop,
    /// Matches that no layout can keep.
    #[error("{fault}")]
    Impossible {
        /// Why.
        fault: MatchFault,
        /// The seam that matters least among them.
        least: Option<String>,
    },
}

impl DesignFault {
    pub(super) fn help(&self) -> String {
        match self {
            Self::Empty => "add `across` or `along` with its repeat, or a `border`".into(),
            Self::RepeatTooWide { .. } => {
                "check both; measure from a place in the design to the next place like it".into()
            }
            Self::BarOutside { .. } => "count from the dominant bar to the right or upwards, within one repeat".into(),
            Self::BarTooWide { .. } => "write a width below the repeat, or leave the bars out".into(),
            Self::NotAColour { .. } => "write red, green and blue in two digits each, such as \"#203a5c\"".into(),
            Self::DropWithoutRepeats => "add the missing direction, or remove `drop`".into(),
            Self::BorderTooWide { .. } => "measure the border from the edge of the cloth inwards".into(),
            Self::MatchingWithoutDesign => "add a `design` with its repeat, or remove `matching`".into(),
            Self::NoLimit { .. } => "add limit = \"1/4 yd\", or limit_cost = \"3.50\"".into(),
            Self::TwoLimits => "keep one of them".into(),
            Self::LimitWithoutPrice => "add price = \"14.50\", or give a length: limit = \"1/4 yd\"".into(),
            Self::NamedTwice { .. } => "keep it in one of them".into(),
            Self::NameTaken { .. } => "give it another name".into(),
            Self::Unknown { meant, known, .. } => suggest(meant, known),
            Self::UnknownMark { name, known, .. } => suggest_among(name, known),
            Self::NotCutHere { .. } => "match pieces of the view that are cut from one cloth".into(),
            Self::NoRepeat { axis, .. } => {
                format!("add `{axis} = {{ repeat = … }}` to the design, or remove the match")
            }
            Self::UnevenOnFold => {
                "lay it open: layout = \"open\"; cloth that is alike on both faces can be turned over for the other hand"
                    .into()
            }
            Self::NoBorder { .. } => "add border = { along = \"left selvage\", width = \"8 in\" } to the design".into(),
            Self::BorderOnNap { .. } => "write nap = \"without\" if its pieces may lie crosswise".into(),
            Self::CurvedAtBorder { .. } => {
                "take a piece with a straighter edge, or let a point of it stand at the border instead".into()
            }
            Self::TwoGrains { .. } => "leave one of the two out".into(),
            Self::MidwayOfDrop => "write centre = \"on a bar\", or leave it out".into(),
            Self::OffGrainOnFold { .. } => {
                "lay it open, layout = \"open\" or \"either\": on open cloth the piece is cut whole".into()
            }
            Self::Impossible { fault: MatchFault::Contradiction { .. }, least: Some(least) } => {
                format!(
                    "give one of them up, such as leave = [\"{least}\"], or match a seam at another point with `at`"
                )
            }
            Self::Impossible {
                fault:
                    MatchFault::ChevronUnknown { name }
                    | MatchFault::ChevronUpright { name }
                    | MatchFault::ChevronUnlike { name, .. },
                ..
            } => format!("take \"{name}\" out of `chevrons`; it can still match in other ways"),
            Self::Impossible { fault: MatchFault::UnevenChevron { name, .. }, .. } => {
                format!("take \"{name}\" out of `chevrons`, or where it is not there, give it up: leave = [\"{name}\"]")
            }
            Self::Impossible { least: Some(least), .. } => format!("give it up: leave = [\"{least}\"]"),
            Self::Impossible { least: None, .. } => "take one of them out of `matching`".into(),
        }
    }
}
