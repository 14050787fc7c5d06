//! Faults of a record of pieces that is read back.

use ellwand_garment::InputFault;

use super::words::list;

/// What is wrong with a record of pieces.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RecordFault {
    /// It is empty.
    #[error("the record of pieces is empty")]
    Empty,
    /// It is no JSON, or its fields are not those of a record.
    #[error("this is no record of pieces: {reason}")]
    NotARecord {
        /// In the words of the JSON reader.
        reason: String,
    },
    /// It is no layout record.
    #[error("this is no record of a layout: {reason}")]
    NotALayout {
        /// What is wrong.
        reason: String,
    },
    /// The record of something else, or of another version.
    #[error("the format is \"{found}\", but a record of pieces says \"{expected}\"")]
    WrongFormat {
        /// As written.
        found: String,
        /// As it should be.
        expected: &'static str,
    },
    /// A coordinate that no piece has.
    #[error("a coordinate of `{piece}` is {found:e} mm: pieces lie within 100 m of the origin")]
    TooFar {
        /// The piece.
        piece: String,
        /// As written.
        found: f64,
    },
    /// A word that means nothing here.
    #[error("the {what} of `{of}` is \"{found}\"")]
    UnknownWord {
        /// The field.
        what: &'static str,
        /// The piece or seam.
        of: String,
        /// As written.
        found: String,
        /// The words that mean something.
        known: Vec<String>,
    },
    /// A dart without a shape.
    #[error(
        "the dart `{dart}` of `{piece}` has no shape: it has one or two points, away from both ends of its legs, which lie apart"
    )]
    NoDart {
        /// The piece.
        piece: String,
        /// The dart.
        dart: String,
    },
    /// Strips that do not hold together.
    #[error("the strips of `{piece}` are joined \"{joined}\" with measures that do not go with it")]
    NoStrips {
        /// The piece.
        piece: String,
        /// How they are joined, as written.
        joined: String,
    },
    /// An edge without a length.
    #[error("the edge `{edge}` of `{piece}` has fewer than 2 points, or an allowance below zero")]
    NoEdge {
        /// The piece.
        piece: String,
        /// The edge.
        edge: String,
    },
    /// A piece or a pattern that makes no sense.
    #[error(transparent)]
    Input(#[from] InputFault),
}

impl RecordFault {
    pub(super) fn help(&self) -> String {
        match self {
            Self::NotALayout { .. } => "name a file that `plan` wrote, such as main.layout.json".into(),
            Self::WrongFormat { .. } => "name a file that `ellwand check JOB --json FILE` has written".into(),
            Self::UnknownWord { known, .. } => format!("write {}", list(known, "or")),
            _ => "write the record anew with `ellwand check JOB --json FILE`".into(),
        }
    }
}
