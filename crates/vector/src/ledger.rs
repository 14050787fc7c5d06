//! What has been read so far, held against the limits, and what was passed over.

use crate::pen::{Budget, Lines};
use crate::{Counted, Format, Limits, ReadFault, Skipped};

/// So many kinds of things passed over are told apart.
const MOST_KINDS: usize = 60;

/// Counts what is read of one file.
pub(crate) struct Ledger {
    format: Format,
    limits: Limits,
    objects: usize,
    runs: usize,
    characters: usize,
    skipped: Vec<Skipped>,
}

impl Ledger {
    pub(crate) fn new(format: Format, limits: &Limits) -> Self {
        Self { format, limits: *limits, objects: 0, runs: 0, characters: 0, skipped: Vec::new() }
    }

    /// One more element or entity. `at` says where, should it be one too many.
    pub(crate) fn object(&mut self, at: impl FnOnce() -> String) -> Result<(), ReadFault> {
        self.objects += 1;
        self.hold(self.objects, self.limits.objects, Counted::Objects, at)
    }

    /// What may still be drawn. The first line of a shape is counted with the shape.
    pub(crate) fn budget(&self) -> Budget {
        Budget {
            runs: self.limits.runs.saturating_sub(self.runs),
            lines: self.limits.objects.saturating_sub(self.objects) + 1,
        }
    }

    /// Lines that were drawn for one shape, all of them or only counted.
    pub(crate) fn lines(&mut self, drawn: &Lines, at: impl Fn() -> String) -> Result<(), ReadFault> {
        self.objects = self.objects.saturating_add(drawn.line_count.saturating_sub(1));
        self.hold(self.objects, self.limits.objects, Counted::Objects, &at)?;
        self.runs = self.runs.saturating_add(drawn.run_count);
        self.hold(self.runs, self.limits.runs, Counted::Runs, &at)
    }

    /// So many more letters.
    pub(crate) fn characters(&mut self, more: usize, at: impl FnOnce() -> String) -> Result<(), ReadFault> {
        self.characters = self.characters.saturating_add(more);
        self.hold(self.characters, self.limits.characters, Counted::Characters, at)
    }

    /// Something lies `depth` deep in others.
    pub(crate) fn nesting(&self, depth: usize, at: impl FnOnce() -> String) -> Result<(), ReadFault> {
        self.hold(depth, self.limits.nesting, Counted::Nesting, at)
    }

    fn hold(&self, is: usize, limit: usize, counted: Counted, at: impl FnOnce() -> String) -> Result<(), ReadFault> {
        if is <= limit {
            return Ok(());
        }
        Err(ReadFault::TooMuch { format: self.format, counted, limit: limit as u64, at: Some(at()) })
    }

    /// One more of something is passed over.
    pub(crate) fn skip(&mut self, what: &str, why: &str) {
        self.skip_at(what, why, String::new);
    }

    /// One more of something is passed over; where the first of its kind stands is told.
    pub(crate) fn skip_at(&mut self, what: &str, why: &str, at: impl FnOnce() -> String) {
        if let Some(known) = self.skipped.iter_mut().find(|known| known.what == what) {
            known.count += 1;
            return;
        }
        if self.skipped.len() >= MOST_KINDS {
            if let Some(last) = self.skipped.last_mut() {
                (last.what, last.why) = ("many other things".to_owned(), "they are not lines".to_owned());
                last.count += 1;
            }
            return;
        }
        let at = at();
        let why = if at.is_empty() { why.to_owned() } else { format!("{why} (the first: {at})") };
        self.skipped.push(Skipped { sheet: 1, what: what.to_owned(), count: 1, why });
    }

    /// Whether something of this kind was passed over.
    pub(crate) fn has_skipped(&self, what: &str) -> bool {
        self.skipped.iter().any(|known| known.what == what)
    }

    /// What was passed over.
    pub(crate) fn into_skipped(self) -> Vec<Skipped> {
        self.skipped
    }
}
