//! What can be wrong with the files people write: each fault with its place, what is wrong and what would be right.
//!
//! A [`Fault`] holds a [`FaultKind`], grouped by area, and is a [`miette::Diagnostic`], which can draw the line at fault.
//! [`Faults`] is everything found in one run; it prints as plain text, one `file:line:column: …` a fault.

mod design;
mod document;
mod file;
mod fit;
mod found;
mod job;
mod pattern;
mod quantity;
mod size;

use ellwand_garment::FitFault;

pub use design::DesignFault;
pub use document::DocumentFault;
pub use file::FileFault;
pub(crate) use found::Findings;
pub use found::{Fault, Faults};
pub use job::JobFault;
pub(crate) use job::MOST_OFF_GRAIN_DEG;
pub use pattern::PatternFault;
pub use quantity::QuantityFault;
pub use size::SizeFault;

/// What is wrong, by area.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FaultKind {
    /// With the file as a whole.
    #[error(transparent)]
    File(#[from] FileFault),
    /// With the keys and the kinds of value.
    #[error(transparent)]
    Document(#[from] DocumentFault),
    /// With a length, share, angle or amount of money.
    #[error(transparent)]
    Quantity(#[from] QuantityFault),
    /// With what a pattern says.
    #[error(transparent)]
    Pattern(#[from] PatternFault),
    /// With the sizes of a pattern.
    #[error(transparent)]
    Size(#[from] SizeFault),
    /// With what a job says.
    #[error(transparent)]
    Job(#[from] JobFault),
    /// With what is asked of a fit, or with the sizes it is to come from.
    #[error(transparent)]
    Fit(#[from] FitFault),
    /// With the design of a cloth, or what is to match on it.
    #[error(transparent)]
    Design(#[from] DesignFault),
}

impl FaultKind {
    /// What would be right.
    pub fn help(&self) -> String {
        match self {
            Self::File(fault) => fault.help(),
            Self::Document(fault) => fault.help(),
            Self::Quantity(fault) => fault.help(),
            Self::Pattern(fault) => fault.help(),
            Self::Size(fault) => fault.help(),
            Self::Job(fault) => fault.help(),
            Self::Fit(fault) => fit::help(fault),
            Self::Design(fault) => fault.help(),
        }
    }

    /// The area, as part of a stable code: `ellwand::pattern` …
    fn area(&self) -> &'static str {
        match self {
            Self::File(_) => "ellwand::file",
            Self::Document(_) => "ellwand::document",
            Self::Quantity(_) => "ellwand::quantity",
            Self::Pattern(_) => "ellwand::pattern",
            Self::Size(_) => "ellwand::size",
            Self::Job(_) => "ellwand::job",
            Self::Fit(_) => "ellwand::fit",
            Self::Design(_) => "ellwand::design",
        }
    }
}

/// "one, two or three", each in backquotes.
pub(crate) fn list(words: &[String]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, before)) => format!("{} or {last}", before.join(", ")),
    }
}

/// "did you mean `x`?" or, without a suggestion, which words are known.
pub(crate) fn suggest(meant: &Option<String>, known: &[String]) -> String {
    match meant {
        Some(meant) => format!("did you mean `{meant}`?"),
        None if known.is_empty() => "there is nothing of that kind to name".to_owned(),
        None => format!("use {}", list(known)),
    }
}
