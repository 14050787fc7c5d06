//! Puts down pairs of group codes and values, and counts handles.

use std::fmt::Write;

use crate::arrangement::number;

/// Which release of the format is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Release {
    /// R12: no handles, no splines, old polylines.
    Twelve,
    /// 2004: splines, full colours, widths of lines.
    Of2004,
}

/// A file as it grows.
pub(super) struct Out {
    pub(super) release: Release,
    text: String,
    next_handle: u64,
}

impl Out {
    pub(super) fn new(release: Release) -> Self {
        // Lower ones are given to the tables by name.
        Self { release, text: String::new(), next_handle: 0x100 }
    }

    pub(super) fn pair(&mut self, code: u16, value: &str) {
        let _ = write!(self.text, "{code:>3}\n{value}\n");
    }

    pub(super) fn whole(&mut self, code: u16, value: i64) {
        let _ = write!(self.text, "{code:>3}\n{value}\n");
    }

    pub(super) fn number(&mut self, code: u16, value: f64) {
        let mut text = number(value);
        // Readers of old take a number without a point for a whole one.
        if !text.contains('.') {
            text.push_str(".0");
        }
        self.pair(code, &text);
    }

    /// A number that small changes matter to, with all its digits.
    pub(super) fn exact(&mut self, code: u16, value: f64) {
        self.pair(code, &format!("{value:?}").replace('e', "E"));
    }

    pub(super) fn point(&mut self, code: u16, at: ellwand_geometry::Point) {
        self.number(code, at.x);
        self.number(code + 10, at.y);
    }

    /// A handle that nothing else has.
    pub(super) fn handle(&mut self) -> u64 {
        self.next_handle += 1;
        self.next_handle
    }

    /// The first handle that is not given.
    pub(super) fn free_handle(&self) -> u64 {
        self.next_handle + 1
    }

    pub(super) fn handle_of(&mut self, code: u16, handle: u64) {
        self.pair(code, &format!("{handle:X}"));
    }

    /// Something with a handle within something else, in releases that have handles.
    pub(super) fn begin(&mut self, kind: &str, handle: Option<u64>, owner: u64) {
        self.pair(0, kind);
        if self.release == Release::Of2004 {
            let handle = handle.unwrap_or_else(|| self.handle());
            self.handle_of(5, handle);
            self.handle_of(330, owner);
        }
    }

    /// What class the next pairs belong to, in releases that ask for it.
    pub(super) fn class(&mut self, name: &str) {
        if self.release == Release::Of2004 {
            self.pair(100, name);
        }
    }

    pub(super) fn section(&mut self, name: &str, inside: impl FnOnce(&mut Self)) {
        self.pair(0, "SECTION");
        self.pair(2, name);
        inside(self);
        self.pair(0, "ENDSEC");
    }

    pub(super) fn append(&mut self, other: &str) {
        self.text.push_str(other);
    }

    /// What has been written since the last time.
    pub(super) fn take(&mut self) -> String {
        std::mem::take(&mut self.text)
    }
}

/// Text with letters beyond ASCII as codes, and nothing in it that reads as a code of another kind.
pub(super) fn encoded(text: &str) -> String {
    let mut encoded = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\u{0}'..='\u{1F}' | '\u{7F}' => encoded.push(' '),
            '^' => encoded.push_str("^ "),
            letter if letter.is_ascii() => encoded.push(letter),
            letter if u32::from(letter) <= 0xFFFF => {
                let _ = write!(encoded, "\\U+{:04X}", u32::from(letter));
            }
            _ => encoded.push_str("\\U+FFFD"),
        }
    }
    encoded.replace("%%", "%%%%%%")
}
