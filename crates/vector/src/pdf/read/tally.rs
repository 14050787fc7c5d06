//! What has been read so far, counted against the limits, and what was passed over.

use std::collections::BTreeMap;

use hayro_syntax::object::ObjectIdentifier;

use crate::{Counted, Format, Limits, ReadFault, Skipped};

/// Work on streams that are drawn over and over may be so many times what the limit on unpacked bytes says.
const REPEATED_WORK: u64 = 4;

/// A byte of a dictionary is so many times as much work as a byte of content: it is taken apart anew each time.
const LOOK_UP_WORK: u64 = 8;

/// Something in a PDF that is passed over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Passed {
    Picture,
    Shading,
    Pattern,
    Annotation,
    FormInItself,
    MissingForm,
    LostLetters,
    TooFarAway,
}

impl Passed {
    fn what(self) -> &'static str {
        match self {
            Self::Picture => "a picture",
            Self::Shading => "a shading",
            Self::Pattern => "an area filled with a pattern",
            Self::Annotation => "an annotation",
            Self::FormInItself => "a form that draws itself",
            Self::MissingForm => "a form that is not in the file",
            Self::LostLetters => "a text whose letters the file does not name",
            Self::TooFarAway => "a line or text with coordinates that are no numbers or beyond 1000 km",
        }
    }

    fn why(self) -> &'static str {
        match self {
            Self::Picture => "a picture has no lines",
            Self::Shading => "a shading has no lines",
            Self::Pattern => "its outline is read, the pattern is not",
            Self::Annotation => "notes, links and fields are no part of the drawing",
            Self::FormInItself => "it would never end",
            Self::MissingForm => {
                "it cannot be drawn; ask the maker of the file for another copy if something is missing"
            }
            Self::LostLetters => {
                "its font has no table from codes to letters; save the file with one (ToUnicode) if the text matters"
            }
            Self::TooFarAway => "it cannot lie on any sheet",
        }
    }
}

/// Counts of one reading.
#[derive(Debug)]
pub(super) struct Tally {
    pub(super) limits: Limits,
    /// The page being read, counted from 1.
    pub(super) sheet: usize,
    objects: usize,
    runs: usize,
    characters: usize,
    unpacked: u64,
    work: u64,
    seen: std::collections::BTreeSet<ObjectIdentifier>,
    passed: BTreeMap<(usize, Passed), usize>,
}

impl Tally {
    pub(super) fn new(limits: Limits) -> Self {
        Self {
            limits,
            sheet: 0,
            objects: 0,
            runs: 0,
            characters: 0,
            unpacked: 0,
            work: 0,
            seen: std::collections::BTreeSet::new(),
            passed: BTreeMap::new(),
        }
    }

    /// "page 3".
    pub(super) fn place(&self) -> Option<String> {
        (self.sheet > 0).then(|| format!("page {}", self.sheet))
    }

    pub(super) fn damaged(&self, what: impl Into<String>) -> ReadFault {
        ReadFault::Damaged { format: Format::Pdf, at: self.place(), what: what.into() }
    }

    pub(super) fn too_much(&self, counted: Counted, limit: u64) -> ReadFault {
        ReadFault::TooMuch { format: Format::Pdf, counted, limit, at: self.place() }
    }

    pub(super) fn pass(&mut self, what: Passed) {
        self.pass_all(what, 1);
    }

    pub(super) fn pass_all(&mut self, what: Passed, count: usize) {
        if count > 0 {
            *self.passed.entry((self.sheet, what)).or_default() += count;
        }
    }

    pub(super) fn pictures(&self) -> usize {
        self.passed.iter().filter(|((_, what), _)| *what == Passed::Picture).map(|(_, count)| count).sum()
    }

    pub(super) fn object(&mut self) -> Result<(), ReadFault> {
        self.objects += 1;
        if self.objects > self.limits.objects {
            return Err(self.too_much(Counted::Objects, self.limits.objects as u64));
        }
        Ok(())
    }

    pub(super) fn runs(&mut self, more: usize) -> Result<(), ReadFault> {
        self.runs += more;
        if self.runs > self.limits.runs {
            return Err(self.too_much(Counted::Runs, self.limits.runs as u64));
        }
        Ok(())
    }

    /// Whether so many characters would be let through.
    pub(super) fn lets_characters(&self, more: usize) -> Result<(), ReadFault> {
        if self.characters.saturating_add(more) > self.limits.characters {
            return Err(self.too_much(Counted::Characters, self.limits.characters as u64));
        }
        Ok(())
    }

    pub(super) fn characters(&mut self, more: usize) -> Result<(), ReadFault> {
        self.lets_characters(more)?;
        self.characters += more;
        Ok(())
    }

    /// Counts the work of looking something up that may be as long as so many bytes.
    pub(super) fn looked_up(&mut self, bytes: usize) -> Result<(), ReadFault> {
        self.worked((bytes as u64).saturating_mul(LOOK_UP_WORK))
    }

    fn worked(&mut self, work: u64) -> Result<(), ReadFault> {
        let limit = self.limits.unpacked_bytes;
        self.work = self.work.saturating_add(work);
        if self.work > limit.saturating_mul(REPEATED_WORK) {
            return Err(self.too_much(Counted::UnpackedBytes, limit));
        }
        Ok(())
    }

    /// Counts a stream that has been unpacked: once towards the size of the file, each time towards the work.
    pub(super) fn unpacked(&mut self, id: ObjectIdentifier, bytes: usize) -> Result<(), ReadFault> {
        if self.seen.insert(id) {
            self.unpacked = self.unpacked.saturating_add(bytes as u64);
        }
        if self.unpacked > self.limits.unpacked_bytes {
            return Err(self.too_much(Counted::UnpackedBytes, self.limits.unpacked_bytes));
        }
        self.worked(bytes as u64)
    }

    pub(super) fn into_skipped(self) -> Vec<Skipped> {
        (self.passed.into_iter())
            .map(|((sheet, what), count)| Skipped {
                sheet,
                what: what.what().to_owned(),
                count,
                why: what.why().to_owned(),
            })
            .collect()
    }
}
