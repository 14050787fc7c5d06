//! Reading TOML into format types without stopping at the first fault.
//!
//! A format type implements [`FromTable`] and asks [`Fields`] for its keys; what is missing, of the wrong kind or never asked
//! for becomes a fault at its place, and reading goes on. The meaning of what was read is judged elsewhere.

use std::{borrow::Cow, ops::Range};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::{
    Spanned,
    de::{DeTable, DeValue},
};

use crate::{
    Angle, Length, Money, Share, SignedLength,
    fault::{DocumentFault, Findings, PatternFault},
    nearest::nearest,
};

pub(crate) type Value<'i> = Spanned<DeValue<'i>>;

/// Something read, and where it stands.
#[derive(Debug, Clone)]
pub(crate) struct At<T> {
    pub(crate) value: T,
    pub(crate) span: Range<usize>,
    /// Whether everything inside it was read without a fault.
    pub(crate) sound: bool,
}

impl<T: JsonSchema> JsonSchema for At<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }
    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

/// A kind of value.
pub(crate) trait FromToml: Sized {
    /// What the value is, for messages: "a length in quotes, such as …".
    const EXPECTED: &'static str;

    /// The value, or a fault noted.
    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self>;
}

/// A table with known keys.
pub(crate) trait FromTable: Sized {
    /// What the table is, for messages: "a piece".
    const WHAT: &'static str;

    /// Asks for every key.
    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self;
}

impl<T: FromTable> FromToml for T {
    const EXPECTED: &'static str = T::WHAT;

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let DeValue::Table(table) = value.get_ref() else {
            wrong_kind(value, Self::EXPECTED, None, findings);
            return None;
        };
        Some(read_table(table, value.span(), findings))
    }
}

/// Reads a table whose keys are known.
pub(crate) fn read_table<T: FromTable>(table: &DeTable<'_>, span: Range<usize>, findings: &mut Findings) -> T {
    let mut fields = Fields { what: T::WHAT, table, asked: Vec::new(), missing: Vec::new() };
    let read = T::from_table(&mut fields, findings);
    fields.finish(&span, findings);
    read
}

/// The entries of a table while it is read.
pub(crate) struct Fields<'v, 'i> {
    what: &'static str,
    table: &'v DeTable<'i>,
    asked: Vec<&'static str>,
    missing: Vec<Missing>,
}

/// A key that should be there.
struct Missing {
    key: &'static str,
    of: &'static str,
    expected: &'static str,
}

impl Fields<'_, '_> {
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
            self.missing.push(Missing { key, of, expected: T::EXPECTED });
        }
        self.optional(key, findings)
    }

    /// The value of a key that may be left out.
    pub(crate) fn optional<T: FromToml>(&mut self, key: &'static str, findings: &mut Findings) -> Option<At<T>> {
        self.asked.push(key);
        self.table.get(key).and_then(|value| At::from_toml(value, findings))
    }

    /// Whether the key is there, sound or not.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// Notes keys that nobody asked for and keys that are missing. A missing key that was only misspelt counts once.
    fn finish(mut self, span: &Range<usize>, findings: &mut Findings) {
        let known: Vec<String> = self.asked.iter().map(|&key| key.to_owned()).collect();
        let absent: Vec<&str> = self.asked.iter().copied().filter(|key| !self.has(key)).collect();
        for key in self.table.keys().filter(|key| !self.asked.contains(&key.get_ref().as_ref())) {
            let meant = nearest(key.get_ref(), absent.iter().copied()).map(str::to_owned);
            self.missing.retain(|missing| Some(missing.key) != meant.as_deref());
            let (key, place) = (key.get_ref().to_string(), key.span());
            findings.add(&place, DocumentFault::UnknownKey { key, of: self.what, meant, known: known.clone() });
        }
        for Missing { key, of, expected } in self.missing {
            findings.add(span, DocumentFault::MissingKey { key, of, expected });
        }
    }
}

impl<T: FromToml> FromToml for At<T> {
    const EXPECTED: &'static str = T::EXPECTED;

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let before = findings.count();
        let read = T::from_toml(value, findings)?;
        Some(Self { value: read, span: value.span(), sound: findings.count() == before })
    }
}

impl<T: FromToml> FromToml for Vec<T> {
    const EXPECTED: &'static str = "a list in [square brackets]";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let DeValue::Array(items) = value.get_ref() else {
            wrong_kind(value, Self::EXPECTED, None, findings);
            return None;
        };
        Some(items.iter().filter_map(|item| T::from_toml(item, findings)).collect())
    }
}

/// A table whose keys are names the writer chose, in the order of the file.
#[derive(Debug, Clone)]
pub(crate) struct Named<T>(pub(crate) Vec<(At<String>, At<T>)>);

impl<T> Named<T> {
    pub(crate) fn names(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(name, _)| name.value.as_str())
    }
}

impl<T: JsonSchema> JsonSchema for Named<T> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        format!("Named{}", T::schema_name()).into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "object", "additionalProperties": generator.subschema_for::<T>() })
    }
}

impl<T: FromToml> FromToml for Named<T> {
    const EXPECTED: &'static str = "a table of names";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let DeValue::Table(table) = value.get_ref() else {
            wrong_kind(value, Self::EXPECTED, None, findings);
            return None;
        };
        let mut entries = Vec::new();
        for (name, item) in table {
            if name.get_ref().trim().is_empty() {
                findings.add(&name.span(), DocumentFault::EmptyName);
            }
            if let Some(item) = At::from_toml(item, findings) {
                entries.push((At { value: name.get_ref().to_string(), span: name.span(), sound: true }, item));
            }
        }
        entries.sort_by_key(|(name, _)| name.span.start);
        Some(Self(entries))
    }
}

impl FromToml for String {
    const EXPECTED: &'static str = "a text in quotes";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_text(value, Self::EXPECTED, findings).map(str::to_owned)
    }
}

/// A name: a text that is not blank. Spaces around it are dropped.
#[derive(Debug, Clone, PartialEq, Eq, JsonSchema)]
pub(crate) struct Name(#[schemars(length(min = 1))] pub(crate) String);

impl FromToml for Name {
    const EXPECTED: &'static str = "a name in quotes";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let name = read_text(value, Self::EXPECTED, findings)?.trim();
        if name.is_empty() {
            findings.add(&value.span(), DocumentFault::EmptyName);
            return None;
        }
        Some(Self(name.to_owned()))
    }
}

impl FromToml for bool {
    const EXPECTED: &'static str = "true or false";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        if let DeValue::Boolean(read) = value.get_ref() {
            return Some(*read);
        }
        wrong_kind(value, Self::EXPECTED, None, findings);
        None
    }
}

/// A number of things, not below zero; a number too large to hold is the largest there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
pub(crate) struct Count(#[schemars(range(min = 1))] pub(crate) u64);

impl FromToml for Count {
    const EXPECTED: &'static str = "a whole number, such as 2";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let DeValue::Integer(number) = value.get_ref() else {
            let meant = value.get_ref().as_str().filter(|text| text.parse::<u64>().is_ok()).map(str::to_owned);
            wrong_kind(value, Self::EXPECTED, meant, findings);
            return None;
        };
        if number.as_str().starts_with('-') {
            findings.add(&value.span(), PatternFault::CountNegative { found: number.to_string() });
            return None;
        }
        let digits = number.as_str().trim_start_matches('+');
        Some(Self(u64::from_str_radix(digits, number.radix()).unwrap_or(u64::MAX)))
    }
}

/// A point in the unit of the drawing.
#[derive(Debug, Clone, Copy, PartialEq, JsonSchema)]
pub(crate) struct Pair(pub(crate) [f64; 2]);

impl FromToml for Pair {
    const EXPECTED: &'static str = "a pair of numbers, such as [120, 35.5]";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let DeValue::Array(items) = value.get_ref() else {
            wrong_kind(value, Self::EXPECTED, None, findings);
            return None;
        };
        if items.len() != 2 {
            wrong_kind(value, Self::EXPECTED, None, findings);
            return None;
        }
        let read: Vec<f64> = items.iter().filter_map(|item| coordinate(item, findings)).collect();
        (read.len() == 2).then(|| Self([read[0], read[1]]))
    }
}

/// A bare number in the unit of the drawing.
#[derive(Debug, Clone, Copy, PartialEq, JsonSchema)]
pub(crate) struct Number(pub(crate) f64);

impl FromToml for Number {
    const EXPECTED: &'static str = "a bare number, such as 144.5";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        coordinate(value, findings).map(Self)
    }
}

/// One coordinate: a finite number. How far out it may lie depends on the unit and is judged later.
fn coordinate(value: &Value<'_>, findings: &mut Findings) -> Option<f64> {
    let read: Option<f64> = match value.get_ref() {
        DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix()).ok().map(|n| n as f64),
        DeValue::Float(number) => number.as_str().parse().ok(),
        _ => {
            wrong_kind(value, "a bare number", None, findings);
            return None;
        }
    };
    let read = read.filter(|number| number.is_finite());
    if read.is_none() {
        let found = findings.file().at(&value.span()).to_owned();
        findings.add(&value.span(), DocumentFault::BadCoordinate { found });
    }
    read
}

/// Quantities are texts, so that the unit is never forgotten. A bare number gets the text it should have been.
fn read_quantity<T>(
    value: &Value<'_>,
    expected: &'static str,
    quoted: fn(&str) -> String,
    findings: &mut Findings,
) -> Option<T>
where
    T: std::str::FromStr<Err = crate::QuantityFault>,
{
    let number = match value.get_ref() {
        DeValue::Integer(number) => Some(number.to_string()),
        DeValue::Float(number) => Some(number.as_str().to_owned()),
        _ => None,
    };
    if let Some(number) = number {
        wrong_kind(value, expected, Some(quoted(&number)), findings);
        return None;
    }
    let text = read_text(value, expected, findings)?;
    match text.parse() {
        Ok(read) => Some(read),
        Err(fault) => {
            findings.add(&value.span(), fault);
            None
        }
    }
}

impl FromToml for Length {
    const EXPECTED: &'static str = "a length with its unit in quotes, such as \"60 in\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let quoted = |n: &str| format!("\"{n} in\", \"{n} cm\", \"{n} mm\" or whichever it is");
        read_quantity(value, Self::EXPECTED, quoted, findings)
    }
}

impl FromToml for SignedLength {
    const EXPECTED: &'static str = "a length with its unit in quotes, below zero to take away, such as \"-1 cm\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let quoted = |n: &str| format!("\"{n} in\", \"{n} cm\", \"{n} mm\" or whichever it is");
        read_quantity(value, Self::EXPECTED, quoted, findings)
    }
}

impl FromToml for Share {
    const EXPECTED: &'static str = "a share in quotes, such as \"3%\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, |number| format!("\"{number}%\""), findings)
    }
}

impl FromToml for Angle {
    const EXPECTED: &'static str = "an angle in quotes, such as \"180 deg\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, |number| format!("\"{number} deg\""), findings)
    }
}

impl FromToml for Money {
    const EXPECTED: &'static str = "an amount of money in quotes, such as \"14.50\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, |number| format!("\"{number}\""), findings)
    }
}

/// A text, or a fault.
pub(crate) fn read_text<'v>(value: &'v Value<'_>, expected: &'static str, findings: &mut Findings) -> Option<&'v str> {
    let text = value.get_ref().as_str();
    if text.is_none() {
        wrong_kind(value, expected, None, findings);
    }
    text
}

/// One of the words in `choices`.
pub(crate) fn read_choice<T: Copy>(
    value: &Value<'_>,
    expected: &'static str,
    choices: &[(&str, T)],
    findings: &mut Findings,
) -> Option<T> {
    let text = read_text(value, expected, findings)?;
    let found = choices.iter().find(|(word, _)| *word == text).map(|&(_, choice)| choice);
    if found.is_none() {
        findings.add(
            &value.span(),
            DocumentFault::NotAChoice {
                found: text.to_owned(),
                meant: nearest(text, choices.iter().map(|(word, _)| *word)).map(str::to_owned),
                choices: choices.iter().map(|(word, _)| (*word).to_owned()).collect(),
            },
        );
    }
    found
}

/// Notes that a value is of another kind than it should be.
pub(crate) fn wrong_kind(value: &Value<'_>, expected: &'static str, meant: Option<String>, findings: &mut Findings) {
    let found = match value.get_ref() {
        DeValue::String(text) => format!("the text \"{}\"", shortened(text)),
        DeValue::Integer(_) | DeValue::Float(_) => format!("the bare number {}", findings.file().at(&value.span())),
        DeValue::Boolean(_) => "true or false".to_owned(),
        DeValue::Datetime(_) => "a date".to_owned(),
        DeValue::Array(items) => format!("a list of {}", items.len()),
        DeValue::Table(_) => "a table".to_owned(),
    };
    findings.add(&value.span(), DocumentFault::WrongKind { found, expected, meant });
}

/// The first characters of a long text.
fn shortened(text: &str) -> String {
    match text.char_indices().nth(40) {
        Some((end, _)) => format!("{} …", &text[..end]),
        None => text.to_owned(),
    }
}

/// Parses a whole document of the given format. None when its TOML or its format line is wrong, with the faults noted.
pub(crate) fn read_document<T: FromTable>(format: &'static str, findings: &mut Findings) -> Option<T> {
    let file = findings.shared_file();
    let (document, errors) = DeTable::parse_recoverable(file.text());
    for error in &errors {
        let end = file.text().len();
        let span = error.span().unwrap_or(end..end);
        findings.add(&span, DocumentFault::Syntax { message: error.message().to_owned() });
    }
    if !errors.is_empty() {
        return None;
    }
    if let Some(line) = document.get_ref().get("format")
        && let Some(found) = line.get_ref().as_str()
        && found != format
    {
        findings.add(&line.span(), DocumentFault::WrongFormat { found: found.to_owned(), expected: format });
        return None;
    }
    Some(read_table(document.get_ref(), 0..0, findings))
}

/// Every key that a type asks for, and those it cannot do without, as asked of an empty table.
#[cfg(test)]
pub(crate) fn asked_keys<T: FromTable>(findings: &mut Findings) -> (Vec<&'static str>, Vec<&'static str>) {
    let table = DeTable::new();
    let mut fields = Fields { what: T::WHAT, table: &table, asked: Vec::new(), missing: Vec::new() };
    T::from_table(&mut fields, findings);
    (fields.asked, fields.missing.iter().map(|missing| missing.key).collect())
}
