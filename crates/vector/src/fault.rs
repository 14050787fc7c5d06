//! Why a drawing could not be read.

use crate::{Format, limits::Counted};

/// Why a file could not be read as a drawing. Each says what would help.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadFault {
    /// Neither PDF, SVG nor DXF.
    #[error("this is neither a PDF, an SVG nor a DXF file; save the drawing as one of these")]
    UnknownFormat,
    /// Broken.
    #[error("this {format} file is damaged{}: {what}; save it again, or ask its maker for another copy", place(.at))]
    Damaged {
        /// What it is meant to be.
        format: Format,
        /// Where: "page 3", "line 12", "object 5".
        at: Option<String>,
        /// What is wrong.
        what: String,
    },
    /// A PDF that asks for a password.
    #[error("this PDF is locked with a password; save a copy without one")]
    Locked,
    /// Nothing but pictures.
    #[error(
        "this {format} holds pictures but no lines: it was scanned or exported as an image; ask for one with vector lines"
    )]
    OnlyPictures {
        /// What it is.
        format: Format,
    },
    /// Nothing but text, or nothing at all.
    #[error("nothing is drawn in this {format}: it holds {}; ask its maker for the drawing itself", if *.has_text { "text only" } else { "no line" })]
    NothingDrawn {
        /// What it is.
        format: Format,
        /// Whether there is text.
        has_text: bool,
    },
    /// More of something than a limit lets through.
    #[error("this {format} has more than {limit} {}{}; `--raise-limits 10` lets ten times as much through", .counted.name(), place(.at))]
    TooMuch {
        /// What it is.
        format: Format,
        /// What there is too much of.
        counted: Counted,
        /// How much is let through.
        limit: u64,
        /// Where.
        at: Option<String>,
    },
    /// Something that the format allows and that is not read.
    #[error("this {format} file cannot be read{}: {what}", place(.at))]
    Unsupported {
        /// What it is.
        format: Format,
        /// Where.
        at: Option<String>,
        /// What it is, and what would help.
        what: String,
    },
}

fn place(at: &Option<String>) -> String {
    at.as_ref().map(|at| format!(" at {at}")).unwrap_or_default()
}
