//! Names that run from right to left, or that carry marks of direction, found in the text around them.
//!
//! A name may stand anywhere in a sentence, also in one that another crate wrote; so it is looked for in the text. Only names that can turn
//! what stands beside them are: all others need no care.
//!
//! Source: Unicode Standard Annex #9, "Unicode Bidirectional Algorithm", sections 2 and 6.3.

use crate::Report;

/// The names of a report that need care, the longest first.
pub(crate) struct Names(Vec<String>);

/// A stretch of a text.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Part<'t> {
    /// What runs from left to right.
    Text(&'t str),
    /// A name to set apart.
    Name(&'t str),
}

impl Names {
    pub(crate) fn of(report: &Report) -> Self {
        let mut names: Vec<String> = report.names.iter().filter(|name| name.chars().any(turns)).cloned().collect();
        names.sort_by_key(|name| std::cmp::Reverse(name.len()));
        Self(names)
    }

    /// The text in stretches.
    pub(crate) fn parts<'t>(&self, text: &'t str) -> Vec<Part<'t>> {
        let mut parts = Vec::new();
        let mut rest = text;
        while !rest.is_empty() {
            let first = (self.0.iter()).filter_map(|name| rest.find(name.as_str()).map(|at| (at, name.len())));
            // Of names that begin at one place the longest comes first and is kept.
            let Some((at, length)) = first.min_by_key(|(at, _)| *at) else { break };
            if at > 0 {
                parts.push(Part::Text(&rest[..at]));
            }
            parts.push(Part::Name(&rest[at..at + length]));
            rest = &rest[at + length..];
        }
        if !rest.is_empty() {
            parts.push(Part::Text(rest));
        }
        parts
    }
}

/// Whether a character runs from right to left, by the blocks of such scripts, or is a mark of direction.
fn turns(c: char) -> bool {
    matches!(
        c,
        '\u{0590}'..='\u{08FF}'
            | '\u{200E}' | '\u{200F}'
            | '\u{202A}'..='\u{202E}'
            | '\u{2066}'..='\u{2069}'
            | '\u{FB1D}'..='\u{FDFF}'
            | '\u{FE70}'..='\u{FEFF}'
            | '\u{10800}'..='\u{10FFF}'
            | '\u{1E800}'..='\u{1EFFF}'
    )
}
