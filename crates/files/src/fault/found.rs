//! A fault at its place, and the list of all that one run found.

use std::{fmt, ops::Range, path::Path, sync::Arc};

use miette::{Diagnostic, LabeledSpan, SourceCode};

use super::FaultKind;
use crate::{Limits, source::SourceFile};

/// One thing that is wrong, and where.
#[derive(Debug, Clone)]
pub struct Fault {
    file: Arc<SourceFile>,
    span: Option<Range<usize>>,
    kind: FaultKind,
}

impl Fault {
    /// The file at fault.
    pub fn file(&self) -> &Path {
        &self.file.path
    }

    /// Line and column, both from 1, when the fault stands at one place; columns count characters.
    pub fn place(&self) -> Option<(usize, usize)> {
        self.span.as_ref().map(|span| self.file.line_and_column(span.start))
    }

    /// What is wrong.
    pub fn kind(&self) -> &FaultKind {
        &self.kind
    }

    /// The whole fault as one line of plain text: `file:line:column: what is wrong; what would be right`.
    pub fn plain(&self) -> String {
        let file = self.file.path.display();
        let help = self.kind.help();
        match self.place() {
            Some((line, column)) => format!("{file}:{line}:{column}: {}; {help}", self.kind),
            None => format!("{file}: {}; {help}", self.kind),
        }
    }
}

/// What is wrong, without its place; a fault of the file as a whole names the file.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.span.is_none() {
            write!(f, "{}: ", self.file.path.display())?;
        }
        write!(f, "{}", self.kind)
    }
}

impl std::error::Error for Fault {}

impl Diagnostic for Fault {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.kind.area()))
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.kind.help()))
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.span.as_ref().map(|_| &self.file.text as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let span = self.span.clone()?;
        Some(Box::new(std::iter::once(LabeledSpan::new_with_span(Some("here".to_owned()), span))))
    }
}

/// Everything wrong with a pattern or a job and its pattern, in the order of the files. Never empty.
///
/// Prints as plain text; to draw the source lines, render each fault with a `miette` report handler.
#[derive(Debug, Clone)]
pub struct Faults {
    faults: Vec<Fault>,
    omitted: usize,
}

impl Faults {
    /// The faults, file by file, from top to bottom.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.faults.iter()
    }

    /// How many more there were than [`Limits::faults`] lets through.
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

/// Collects the faults of one file while it is read.
pub(crate) struct Findings {
    file: Arc<SourceFile>,
    faults: Vec<Fault>,
    count: usize,
    limit: usize,
}

impl Findings {
    pub(crate) fn new(file: Arc<SourceFile>, limits: &Limits) -> Self {
        Self { file, faults: Vec::new(), count: 0, limit: limits.faults.max(1) }
    }

    pub(crate) fn file(&self) -> &SourceFile {
        &self.file
    }

    /// None yet, of the same file.
    pub(crate) fn of_the_same_file(&self) -> Self {
        Self { file: Arc::clone(&self.file), faults: Vec::new(), count: 0, limit: self.limit }
    }

    /// Adds those of `others` that are not among these.
    pub(crate) fn add_new(&mut self, others: Self) {
        self.count += others.count - others.faults.len();
        for fault in others.faults {
            if !self.faults.iter().any(|known| known.span == fault.span && known.kind == fault.kind) {
                self.push(fault.span, fault.kind);
            }
        }
    }

    /// What was found, each with its line.
    pub(crate) fn into_kinds(self) -> impl Iterator<Item = (Option<usize>, FaultKind)> {
        self.faults.into_iter().map(|fault| (fault.place().map(|(line, _)| line), fault.kind))
    }

    /// The file, to hold on to while faults are noted.
    pub(crate) fn shared_file(&self) -> Arc<SourceFile> {
        Arc::clone(&self.file)
    }

    /// Notes a fault at `span`.
    pub(crate) fn add(&mut self, span: &Range<usize>, kind: impl Into<FaultKind>) {
        self.push(Some(span.clone()), kind.into());
    }

    /// Notes a fault of the file as a whole.
    pub(crate) fn add_for_file(&mut self, kind: impl Into<FaultKind>) {
        self.push(None, kind.into());
    }

    fn push(&mut self, span: Option<Range<usize>>, kind: FaultKind) {
        self.count += 1;
        if self.faults.len() < self.limit {
            self.faults.push(Fault { file: Arc::clone(&self.file), span, kind });
        }
    }

    /// How many have been noted so far.
    pub(crate) fn count(&self) -> usize {
        self.count
    }

    /// The faults of several files as one list, or nothing when there are none.
    pub(crate) fn into_faults(all: impl IntoIterator<Item = Self>, limits: &Limits) -> Option<Faults> {
        let mut faults = Vec::new();
        let mut count = 0;
        for mut findings in all {
            count += findings.count;
            findings.faults.sort_by_key(|fault| fault.span.as_ref().map_or(0, |span| span.start));
            faults.append(&mut findings.faults);
        }
        faults.truncate(limits.faults.max(1));
        (!faults.is_empty()).then(|| Faults { omitted: count - faults.len(), faults })
    }
}
