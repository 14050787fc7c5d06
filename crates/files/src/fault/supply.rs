//! Faults of notions and trims, in a pattern or a job.

use super::words::{list, suggest};

/// What is wrong with a notion or a trim.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SupplyFault {
    /// Neither how many nor how much.
    #[error("the notion `{name}` says neither how many nor how much of it is needed")]
    NoAmount {
        /// The notion.
        name: String,
    },
    /// Sizes of which nothing is said, where something is said of each.
    #[error("{of} does not say how it is in size {}", list(missing, "and"))]
    SizesMissing {
        /// "the notion `Zip`".
        of: String,
        /// The sizes.
        missing: Vec<String>,
    },
    /// How many and how much.
    #[error("the notion `{name}` has both a count and a length")]
    CountAndLength {
        /// The notion.
        name: String,
    },
    /// A count, length or pack of nothing.
    #[error("the {what} of `{name}` is zero")]
    Nothing {
        /// The notion.
        name: String,
        /// Count, length or pack.
        what: &'static str,
    },
    /// A notion of a job that the pattern does not have, without saying how much of it is needed.
    #[error("the pattern has no notion or trim `{name}`, and the job does not say how much of it is needed")]
    Unknown {
        /// As written.
        name: String,
        /// The nearest.
        meant: Option<String>,
        /// Every notion and trim.
        known: Vec<String>,
    },
    /// A count or length of a trim.
    #[error("`{name}` is a trim, and how much of it is needed follows from its edges")]
    AmountOfTrim {
        /// The trim.
        name: String,
    },
    /// A trim of a job that is called as a notion of the pattern.
    #[error("`{name}` is a notion of the pattern, and a trim cannot be called so")]
    CalledAsNotion {
        /// The name.
        name: String,
    },
    /// A trim along nothing.
    #[error("the trim `{trim}` names no edge")]
    NoEdges {
        /// The trim.
        trim: String,
    },
    /// An edge whose piece is not told.
    #[error("{of} names \"{found}\", which is not a piece and its edge")]
    EdgeWithoutPiece {
        /// What names it: "the trim `Braid`".
        of: String,
        /// As written.
        found: String,
    },
    /// A trim of a job none of whose pieces is made.
    #[error("none of the edges of the trim `{trim}` is on a piece of view `{view}`")]
    NothingTrimmed {
        /// The trim.
        trim: String,
        /// The view.
        view: String,
        /// The pieces of the view.
        pieces: Vec<String>,
    },
    /// A price for something that what is needed is not measured in.
    #[error("`{name}` is needed by {needed}, and cannot be priced by the {per}")]
    PricePer {
        /// The notion.
        name: String,
        /// "count" or "length".
        needed: &'static str,
        /// "each", "yd" or "m".
        per: &'static str,
    },
    /// A pack, or a quantity at home, that is told otherwise than what is needed.
    #[error("`{name}` is needed by {needed}, and its `{key}` is not a {needed}")]
    OtherKind {
        /// The notion.
        name: String,
        /// "count" or "length".
        needed: &'static str,
        /// `pack` or `on_hand`.
        key: &'static str,
    },
    /// A price by the pack without saying what is in it.
    #[error("`{name}` is priced by the pack, but how much is in one is not told")]
    PackMissing {
        /// The notion.
        name: String,
    },
    /// A pack of what is priced otherwise.
    #[error("`{name}` has a `pack`, but is not priced by the pack")]
    PackUnused {
        /// The notion.
        name: String,
    },
    /// A step of the shop for what is not sold by the length.
    #[error("`sold_by` is the step of what is sold by the length, which `{name}` is not")]
    StepUnused {
        /// The notion.
        name: String,
    },
}

impl SupplyFault {
    pub(super) fn help(&self) -> String {
        let amount = |needed: &str, key: &str| match needed {
            "count" => format!("write a whole number, such as {key} = 5"),
            _ => format!("write a length, such as {key} = \"3 yd\""),
        };
        match self {
            Self::NoAmount { .. } => "add count = 9, or length = \"22 in\"".into(),
            Self::SizesMissing { .. } => "add each of them, or write one for all sizes".into(),
            Self::CountAndLength { .. } => "leave one of them out".into(),
            Self::Nothing { .. } => "write more than nothing, or remove the entry".into(),
            Self::Unknown { meant: None, known, .. } if known.is_empty() => {
                "add count = 9, or length = \"22 in\"; the pattern names none".into()
            }
            Self::Unknown { meant, known, .. } => {
                format!("{}; or add count = 9, or length = \"22 in\"", suggest(meant, known).trim_end_matches('?'))
            }
            Self::AmountOfTrim { .. } => "leave count and length out, or give it another name".into(),
            Self::CalledAsNotion { .. } => "give the trim another name".into(),
            Self::NoEdges { .. } => "name edges, such as edges = [\"Cuff: wrist\"]".into(),
            Self::EdgeWithoutPiece { .. } => "write the piece, a colon and its edge, such as \"Cuff: wrist\"".into(),
            Self::NothingTrimmed { pieces, .. } => format!("name edges of {}", list(pieces, "or")),
            Self::PricePer { needed: "count", .. } => "write price_per = \"each\" or \"pack\"".into(),
            Self::PricePer { .. } => "write price_per = \"yd\", \"m\" or \"pack\"".into(),
            Self::OtherKind { needed, key, .. } => amount(needed, key),
            Self::PackMissing { .. } => "add pack = 5, or a length where it is needed by length".into(),
            Self::PackUnused { .. } => "write price_per = \"pack\", or leave `pack` out".into(),
            Self::StepUnused { .. } => "leave it out".into(),
        }
    }
}
