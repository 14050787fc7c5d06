//! A fault at its place, and the list of all that one run found.

use std::{fmt, ops::Range};

use super::kind::FaultKind;
use crate::{Place, Source};

/// One thing that is wrong, and where.
#[derive(Debug, Clone)]
pub struct Fault {
    pub(crate) source: Source,
    pub(crate) span: Option<Range<usize>>,
    pub(crate) kind: FaultKind,
}

impl Fault {
    /// The source at fault.
    pub fn source(&self) -> &Source {
        &self.source
    }

    /// Where it is, when it stands at one place.
    pub fn place(&self) -> Option<Place> {
        self.span.as_ref().map(|span| self.source.place(span))
    }

    /// What is wrong.
    pub fn kind(&self) -> &FaultKind {
        &self.kind
    }

    /// The whole fault as one line of plain text: `file:line:column: error: what is wrong; what would be right`.
    pub fn plain(&self) -> String {
        let at = self.place().map_or_else(|| self.source.name().to_owned(), |place| place.to_string());
        format!("{at}: error: {}; {}", self.kind, self.kind.help())
    }
}

/// What is wrong, without its place; a fault of the file as a whole names the file.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.span.is_none() {
            write!(f, "{}: ", self.source.name())?;
        }
        write!(f, "{}", self.kind)
    }
}

impl std::error::Error for Fault {}

/// Everything wrong with a pattern or a job and its pattern, in the order of the files. Never empty.
///
/// Prints as plain text, one line a fault.
#[derive(Debug, Clone)]
pub struct Faults {
    pub(crate) faults: Vec<Fault>,
    pub(crate) omitted: usize,
}

impl Faults {
    /// A fault of a text as a whole.
    pub(crate) fn of_text(source: Source, kind: impl Into<FaultKind>) -> Self {
        Self { faults: vec![Fault { source, span: None, kind: kind.into() }], omitted: 0 }
    }

    /// A fault of a source as a whole.
    #[cfg(feature = "file-system")]
    pub(crate) fn of_source(source: Source, kind: impl Into<FaultKind>) -> Self {
        Self::of_text(source, kind)
    }

    /// The faults, file by file, from top to bottom.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.faults.iter()
    }

    /// How many more there were than [`Limits::faults`](crate::Limits::faults) lets through.
    pub fn omitted(&self) -> usize {
        self.omitted
    }
}

impl<'a> IntoIterator for &'a Faults {
    type Item = &'a Fault;
    type IntoIter = std::slice::Iter<'a, Fault>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

/// One fault a line, each as [`Fault::plain`].
impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.faults.iter().enumerate() {
            if index > 0 {
                writeln!(f)?;
            }
            f.write_str(&fault.plain())?;
        }
        if self.omitted > 0 {
            write!(f, "\nand {} more", self.omitted)?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}
