//! What one reading finds in one file: faults, which end in no answer, and notes, which stand beside it.

use std::ops::Range;

use crate::{Fault, FaultKind, Faults, Limits, Note, NoteKind, Source, fault::LimitFault, limits::Counted};

/// Collects the faults and notes of one file while it is read.
pub(crate) struct Findings {
    source: Source,
    limits: Limits,
    faults: Vec<Fault>,
    /// Faults that were found, those past the limit included.
    count: usize,
    notes: Vec<Note>,
}

impl Findings {
    pub(crate) fn new(source: Source, limits: &Limits) -> Self {
        Self { source, limits: *limits, faults: Vec::new(), count: 0, notes: Vec::new() }
    }

    pub(crate) fn source(&self) -> &Source {
        &self.source
    }

    pub(crate) fn limits(&self) -> &Limits {
        &self.limits
    }

    /// None yet, of the same file.
    pub(crate) fn of_the_same_file(&self) -> Self {
        Self::new(self.source.clone(), &self.limits)
    }

    /// All but the faults of some kinds.
    pub(crate) fn without(mut self, is: impl Fn(&FaultKind) -> bool) -> Self {
        let before = self.faults.len();
        self.faults.retain(|fault| !is(&fault.kind));
        self.count -= before - self.faults.len();
        self
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

    /// Adds the faults and notes of `others`, which read the same file, that are not among these. A fault elsewhere than in `within` is told as `told` says.
    pub(crate) fn merge(&mut self, mut others: Self, within: &Range<usize>, told: impl Fn(FaultKind) -> FaultKind) {
        let is_within = |span: &Range<usize>| within.start <= span.start && span.end <= within.end;
        for fault in &mut others.faults {
            let inside = fault.span.as_ref().is_some_and(is_within);
            if !inside && !matches!(fault.kind, FaultKind::Limit(_)) {
                fault.kind = told(fault.kind.clone());
            }
        }
        for note in std::mem::take(&mut others.notes) {
            if !self.notes.contains(&note) && self.notes.len() < self.limits.faults.max(1) {
                self.notes.push(note);
            }
        }
        self.add_new(others);
    }

    /// The faults, each with its line.
    pub(crate) fn into_kinds(self) -> impl Iterator<Item = (Option<usize>, FaultKind)> {
        self.faults.into_iter().map(|fault| (fault.place().map(|place| place.line_and_column().0), fault.kind))
    }

    /// Notes a fault at `span`.
    pub(crate) fn add(&mut self, span: &Range<usize>, kind: impl Into<FaultKind>) {
        self.push(Some(span.clone()), kind.into());
    }

    /// Notes a fault of the file as a whole.
    pub(crate) fn add_for_file(&mut self, kind: impl Into<FaultKind>) {
        self.push(None, kind.into());
    }

    /// Notes that there are more of something at `span` than the limit lets through. Whether there are.
    pub(crate) fn exceeds(&mut self, counted: Counted, count: usize, span: &Range<usize>) -> bool {
        let limit = self.limits.of(counted);
        if count > limit {
            // Told even where so many faults came before that no more are kept: then none of those is told.
            let kind = LimitFault { counted, count, limit }.into();
            self.count += 1;
            self.faults.push(Fault { source: self.source.clone(), span: Some(span.clone()), kind });
        }
        count > limit
    }

    /// Whether there is more of something than a limit lets through. Then nothing else that was found counts.
    pub(crate) fn is_over_a_limit(&self) -> bool {
        self.faults.iter().any(|fault| matches!(fault.kind, FaultKind::Limit(_)))
    }

    /// Sets down at `span` what is no fault and must be known.
    pub(crate) fn note(&mut self, span: &Range<usize>, kind: NoteKind) {
        if self.notes.len() < self.limits.faults.max(1) {
            self.notes.push(Note::new(self.source.place(span), kind));
        }
    }

    fn push(&mut self, span: Option<Range<usize>>, kind: FaultKind) {
        self.count += 1;
        if self.faults.len() < self.limits.faults.max(1) {
            self.faults.push(Fault { source: self.source.clone(), span, kind });
        }
    }

    /// How many faults have been noted so far.
    pub(crate) fn count(&self) -> usize {
        self.count
    }

    /// What was found in several files: all notes, or all faults when there are any.
    pub(crate) fn finish(all: impl IntoIterator<Item = Self>, limits: &Limits) -> Result<Vec<Note>, Faults> {
        let (mut faults, mut notes) = (Vec::new(), Vec::new());
        let mut count = 0;
        for mut findings in all {
            if findings.is_over_a_limit() {
                findings.faults.retain(|fault| matches!(fault.kind, FaultKind::Limit(_)));
                findings.faults.truncate(limits.faults.max(1));
                findings.count = findings.faults.len();
            }
            count += findings.count;
            findings.faults.sort_by_key(|fault| fault.span.as_ref().map_or(0, |span| span.start));
            faults.append(&mut findings.faults);
            findings.notes.sort_by_key(|note| note.place().span().start);
            notes.append(&mut findings.notes);
        }
        faults.truncate(limits.faults.max(1));
        if faults.is_empty() { Ok(notes) } else { Err(Faults { omitted: count - faults.len(), faults }) }
    }
}
