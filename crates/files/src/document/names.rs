//! Names and words: texts, tables of names the writer chose, choices, and how many there are of something.

use std::{borrow::Cow, ops::Range};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::de::DeValue;

use super::value::{At, FromToml, Value, shortened, wrong_kind};
use crate::{
    fault::{DocumentFault, PatternFault},
    findings::Findings,
    limits::Counted,
    nearest::nearest,
};

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
    const EXPECTED: &'static str = T::NAMED;

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let DeValue::Table(table) = value.get_ref() else {
            wrong_kind(value, Self::EXPECTED, None, findings);
            return None;
        };
        if findings.exceeds(T::COUNTED, table.len(), &value.span()) {
            return None;
        }
        let mut entries = Vec::new();
        for (name, item) in table {
            note_name(name.get_ref().trim(), &name.span(), findings);
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
        note_name(name, &value.span(), findings).then(|| Self(name.to_owned()))
    }
}

/// Whether something may be called so.
fn note_name(name: &str, span: &Range<usize>, findings: &mut Findings) -> bool {
    if name.is_empty() {
        findings.add(span, DocumentFault::EmptyName);
        return false;
    }
    if name.chars().any(char::is_control) {
        findings.add(span, DocumentFault::UnprintableName { found: name.chars().take(40).collect() });
        return false;
    }
    // A character takes at least one byte, so most names need no counting.
    let characters = if name.len() > findings.limits().name_characters { name.chars().count() } else { 0 };
    !findings.exceeds(Counted::NameCharacters, characters, span)
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
                found: shortened(text),
                meant: nearest(text, choices.iter().map(|(word, _)| *word)).map(str::to_owned),
                choices: choices.iter().map(|(word, _)| (*word).to_owned()).collect(),
            },
        );
    }
    found
}
