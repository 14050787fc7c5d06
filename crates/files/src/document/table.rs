//! Tables whose keys are known, read key by key.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use super::value::{At, FromToml, Value, shortened, wrong_kind};
use crate::{fault::DocumentFault, findings::Findings, limits::Counted, nearest::nearest};

/// A table with known keys.
pub(crate) trait FromTable: Sized {
    /// What the table is, for messages: "a piece".
    const WHAT: &'static str;
    /// What a list of them is counted as.
    const MANY: Counted = Counted::Entries;
    /// What a table of them by name is, for messages.
    const BY_NAME: &'static str = "a table of names";
    /// One as it is written, for messages; left out, its keys tell how.
    const LIKE: Option<&'static str> = None;
    /// Keys that are often written here and belong elsewhere, and where: "the [[piece]] itself".
    const ELSEWHERE: (&'static [&'static str], &'static str) = (&[], "");

    /// Asks for every key.
    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self;
}

impl<T: FromTable> FromToml for T {
    const EXPECTED: &'static str = T::WHAT;
    const COUNTED: Counted = T::MANY;
    const NAMED: &'static str = T::BY_NAME;

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let DeValue::Table(table) = value.get_ref() else {
            let like = T::LIKE.map_or_else(|| braces_of::<T>(findings), str::to_owned);
            wrong_kind(value, Self::EXPECTED, Some(like), findings);
            return None;
        };
        Some(read_table(table, value.span(), findings))
    }
}

/// Reads a table whose keys are known.
pub(crate) fn read_table<T: FromTable>(table: &DeTable<'_>, span: Range<usize>, findings: &mut Findings) -> T {
    findings.exceeds(Counted::Entries, table.len(), &span);
    let mut fields = Fields { what: T::WHAT, table, asked: Vec::new(), former: Vec::new(), missing: Vec::new() };
    let read = T::from_table(&mut fields, findings);
    fields.finish(&span, T::ELSEWHERE, findings);
    read
}

/// The keys such a table cannot do without, or all of them where it can do without any, in the form of a table.
fn braces_of<T: FromTable>(findings: &Findings) -> String {
    let (all, needed) = asked_keys::<T>(&mut findings.of_the_same_file());
    let keys = if needed.is_empty() { all } else { needed };
    let entries: Vec<String> = keys.into_iter().map(|key| format!("{key} = …")).collect();
    format!("{{ {} }}", entries.join(", "))
}

/// The entries of a table while it is read.
pub(crate) struct Fields<'v, 'i> {
    what: &'static str,
    table: &'v DeTable<'i>,
    asked: Vec<&'static str>,
    /// Of those the former names of others, which nobody is told to write.
    former: Vec<&'static str>,
    missing: Vec<Missing>,
}

/// A key that should be there.
struct Missing {
    key: &'static str,
    fault: DocumentFault,
}

impl Fields<'_, '_> {
    /// The line that must tell the format `expected`. What it tells was judged before the rest is read.
    pub(crate) fn format(&mut self, expected: &'static str, findings: &mut Findings) -> Option<At<String>> {
        if !self.has("format") {
            self.missing.push(Missing { key: "format", fault: DocumentFault::NoFormat { of: self.what, expected } });
        }
        self.optional("format", findings)
    }

    /// The value of a key that must be there.
    pub(crate) fn required<T: FromToml>(&mut self, key: &'static str, findings: &mut Findings) -> Option<At<T>> {
        self.required_of(self.what, key, findings)
    }

    /// The value of a key that must be there because the table is `of` some special kind.
    pub(crate) fn required_of<T: FromToml>(
        &mut self,
        of: &'static str,
        key: &'static str,
        findings: &mut Findings,
    ) -> Option<At<T>> {
        if !self.has(key) {
            let fault = DocumentFault::MissingKey { key, of, expected: T::EXPECTED };
            self.missing.push(Missing { key, fault });
        }
        self.optional(key, findings)
    }

    /// The value of a key that may be left out.
    pub(crate) fn optional<T: FromToml>(&mut self, key: &'static str, findings: &mut Findings) -> Option<At<T>> {
        self.asked.push(key);
        self.table.get(key).and_then(|value| At::from_toml(value, findings))
    }

    /// The value of a key that may be left out, and that may be written by its former name instead. Both are a fault, told at the second.
    pub(crate) fn renamed<T: FromToml>(
        &mut self,
        key: &'static str,
        former: &'static str,
        findings: &mut Findings,
    ) -> Option<At<T>> {
        let place = |key: &str| self.table.get_key_value(key).map(|(key, _)| key.span());
        if let (Some(new), Some(old)) = (place(key), place(former)) {
            let is_former_first = old.start < new.start;
            let (first, second) = if is_former_first { (old, new) } else { (new, old) };
            let first_line = findings.source().place(&first).line_and_column().0;
            findings.add(&second, DocumentFault::FormerKeyToo { key, former, first_line });
        }
        let (by_name, by_former) = (self.optional(key, findings), self.optional(former, findings));
        self.former.push(former);
        by_name.or(by_former)
    }

    /// Whether the key is there, sound or not.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// Notes keys that nobody asked for and keys that are missing. A missing key that was only misspelt counts once. Keys that belong
    /// `elsewhere` are told so.
    fn finish(
        mut self,
        span: &Range<usize>,
        elsewhere: (&'static [&'static str], &'static str),
        findings: &mut Findings,
    ) {
        let known = self.asked.iter().filter(|key| !self.former.contains(key));
        let known: Vec<String> = known.map(|&key| key.to_owned()).collect();
        let absent: Vec<&str> = self.asked.iter().copied().filter(|key| !self.has(key)).collect();
        for key in self.table.keys().filter(|key| !self.asked.contains(&key.get_ref().as_ref())) {
            let meant = nearest(key.get_ref(), absent.iter().copied()).map(str::to_owned);
            self.missing.retain(|missing| Some(missing.key) != meant.as_deref());
            let belongs = elsewhere.0.contains(&key.get_ref().as_ref()).then_some(elsewhere.1);
            let (key, place) = (shortened(key.get_ref()), key.span());
            let (of, known) = (self.what, known.clone());
            findings.add(&place, DocumentFault::UnknownKey { key, of, meant, known, belongs });
        }
        for Missing { fault, .. } in self.missing {
            findings.add(span, fault);
        }
    }
}

/// Every key that a type asks for, and those it cannot do without, as asked of an empty table.
pub(crate) fn asked_keys<T: FromTable>(findings: &mut Findings) -> (Vec<&'static str>, Vec<&'static str>) {
    let table = DeTable::new();
    let mut fields =
        Fields { what: T::WHAT, table: &table, asked: Vec::new(), former: Vec::new(), missing: Vec::new() };
    T::from_table(&mut fields, findings);
    (fields.asked, fields.missing.iter().map(|missing| missing.key).collect())
}
