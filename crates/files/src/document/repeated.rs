//! Keys that stand twice in one table. The parser tells where the second is; the first is looked up here.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use crate::{Source, fault::DocumentFault};

/// What the parser says of a key that its table has already.
pub(super) const MESSAGE: &str = "duplicate key";

/// The fault of the key at `second`. `read` is the document without it.
pub(super) fn explain(second: &Range<usize>, read: &DeTable<'_>, source: &Source) -> DocumentFault {
    let key = source.at(second).trim_matches(['"', '\'']).to_owned();
    let mut first = None;
    look(read, None, &key, second, &mut first);
    let first_line = first.or_else(|| header_before(second, source)).map(|at| source.place(&at).line_and_column().0);
    DocumentFault::KeyTwice { key, first_line }
}

/// The line of a table's header.
fn header(line: &str) -> Option<&str> {
    line.trim_start().strip_prefix('[').and_then(|rest| rest.split(']').next()).map(str::trim)
}

/// Where the header in which `second` stands is written before.
fn header_before(second: &Range<usize>, source: &Source) -> Option<Range<usize>> {
    let text = source.text();
    let begins = text[..second.start].rfind('\n').map_or(0, |at| at + 1);
    let wanted = header(text[begins..].lines().next()?)?;
    let mut at = 0;
    for line in text[..begins].split_inclusive('\n') {
        if header(line) == Some(wanted) {
            return Some(at..at + line.len());
        }
        at += line.len();
    }
    None
}

/// Where the table ends whose header has `at`; nowhere when `at` is no part of a header.
pub(super) fn end_of_table(at: &Range<usize>, source: &Source) -> Option<usize> {
    let text = source.text();
    let begins = text[..at.start].rfind('\n').map_or(0, |at| at + 1);
    header(text[begins..].lines().next()?)?;
    let next = text[at.end..].find("\n[").map_or(text.len(), |next| at.end + next);
    Some(next)
}

/// Looks for the last `key` before `second`. A table in one line, which lies at `within`, holds only keys inside it.
fn look(
    table: &DeTable<'_>,
    within: Option<&Range<usize>>,
    key: &str,
    second: &Range<usize>,
    first: &mut Option<Range<usize>>,
) {
    let may_hold = within.is_none_or(|within| within.start <= second.start && second.end <= within.end);
    for (name, value) in table {
        let at = name.span();
        let is_later = first.as_ref().is_none_or(|first| first.start < at.start);
        if may_hold && name.get_ref() == key && at.start < second.start && is_later {
            *first = Some(at);
        }
        look_into(value.get_ref(), &value.span(), key, second, first);
    }
}

fn look_into(
    value: &DeValue<'_>,
    span: &Range<usize>,
    key: &str,
    second: &Range<usize>,
    first: &mut Option<Range<usize>>,
) {
    match value {
        DeValue::Table(table) => {
            // The span of a table under a header is the header.
            let inside = table.keys().all(|name| span.start <= name.span().start && name.span().end <= span.end);
            look(table, inside.then_some(span), key, second, first);
        }
        DeValue::Array(items) => {
            items.iter().for_each(|item| look_into(item.get_ref(), &item.span(), key, second, first));
        }
        _ => {}
    }
}
