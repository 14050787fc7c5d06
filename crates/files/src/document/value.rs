//! Values with their places: what a kind of value is, and lists of them.

use std::{borrow::Cow, ops::Range};

use schemars::{JsonSchema, Schema, SchemaGenerator};
use toml::{Spanned, de::DeValue};

use crate::{fault::DocumentFault, findings::Findings, limits::Counted};

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
    /// What a list of them is counted as.
    const COUNTED: Counted = Counted::Entries;
    /// What a table of them by name is, for messages.
    const NAMED: &'static str = "a table of names";

    /// The value, or a fault noted.
    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self>;
}

impl<T: FromToml> FromToml for At<T> {
    const EXPECTED: &'static str = T::EXPECTED;
    const COUNTED: Counted = T::COUNTED;
    const NAMED: &'static str = T::NAMED;

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
        if findings.exceeds(T::COUNTED, items.len(), &value.span()) {
            return None;
        }
        Some(items.iter().filter_map(|item| T::from_toml(item, findings)).collect())
    }
}

/// Notes that a value is of another kind than it should be.
pub(crate) fn wrong_kind(value: &Value<'_>, expected: &'static str, meant: Option<String>, findings: &mut Findings) {
    let found = match value.get_ref() {
        DeValue::String(text) => format!("the text \"{}\"", shortened(text)),
        DeValue::Integer(_) | DeValue::Float(_) => {
            format!("the bare number {}", shortened(findings.source().at(&value.span())))
        }
        DeValue::Boolean(_) => "true or false".to_owned(),
        DeValue::Datetime(_) => "a date".to_owned(),
        DeValue::Array(items) => format!("a list of {}", items.len()),
        DeValue::Table(_) => "a table".to_owned(),
    };
    findings.add(&value.span(), DocumentFault::WrongKind { found, expected, meant });
}

/// The first characters of a long text.
pub(crate) fn shortened(text: &str) -> String {
    match text.char_indices().nth(40) {
        Some((end, _)) => format!("{} …", &text[..end]),
        None => text.to_owned(),
    }
}
