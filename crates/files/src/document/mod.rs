//! Reading TOML into format types without stopping at the first fault.
//!
//! A format type implements [`FromTable`] and asks [`Fields`] for its keys; what is missing, of the wrong kind or never asked
//! for becomes a fault at its place, and reading goes on. The meaning of what was read is judged elsewhere. More of something than
//! the limits let through ends the reading, with that as the only fault.

mod names;
mod numbers;
mod quantities;
mod repeated;
mod syntax;
mod table;
mod value;

use toml::de::DeTable;

use crate::{
    fault::{DocumentFault, FileFault},
    findings::Findings,
    limits::Counted,
};
pub(crate) use names::{Count, Name, Named, read_choice, read_text};
pub(crate) use numbers::{Coordinate, Height, Pair};
#[cfg(test)]
pub(crate) use table::asked_keys;
pub(crate) use table::{Fields, FromTable};
pub(crate) use value::{At, FromToml, Value, wrong_kind};

/// Parses a whole document of the given format. None when its TOML or its format line is wrong or it is too large, with the faults noted.
pub(crate) fn read_document<T: FromTable>(format: &'static str, findings: &mut Findings) -> Option<T> {
    let source = findings.source().clone();
    if !is_text(findings) {
        return None;
    }
    if let Some((depth, place)) = syntax::too_deep(source.text(), findings.limits().nesting) {
        findings.exceeds(Counted::Nesting, depth, &place);
        return None;
    }
    let (document, errors) = DeTable::parse_recoverable(source.text());
    if !errors.is_empty() {
        syntax::note(&errors, document.get_ref(), findings);
        return None;
    }
    if let Some(line) = document.get_ref().get("format")
        && let Some(found) = line.get_ref().as_str()
        && found != format
    {
        findings.add(&line.span(), DocumentFault::WrongFormat { found: value::shortened(found), expected: format });
        return None;
    }
    let read = table::read_table(document.get_ref(), 0..0, findings);
    (!findings.is_over_a_limit()).then_some(read)
}

/// Whether the file is a text of no more than the limit; noted if not.
pub(crate) fn is_text(findings: &mut Findings) -> bool {
    let source = findings.source().clone();
    let bytes = source.text().as_bytes();
    let limit = findings.limits().file_bytes;
    if bytes.len() as u64 > limit {
        findings.add_for_file(FileFault::TooLarge { bytes: bytes.len() as u64, limit });
        return false;
    }
    let other = FileFault::other_kind(bytes).or_else(|| FileFault::not_text(bytes));
    let is_text = other.is_none();
    if let Some(is) = other {
        findings.add_for_file(is);
    }
    is_text
}
