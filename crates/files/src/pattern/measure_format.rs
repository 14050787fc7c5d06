//! What a pattern file says of measures that follow something else: lengths taken from the body or from finished edges, how full a strip is
//! gathered, and how much of a circle there is.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::de::DeValue;

use super::supply_format::EdgeWord;
use crate::{
    Length, QuantityFault, SignedLength,
    document::{At, Fields, FromTable, FromToml, Name, Value, wrong_kind},
    findings::Findings,
    quantity::plain_number,
};

/// A length of its own, or one that is taken from the body or from edges.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(untagged)]
pub(crate) enum MeasureWord {
    /// Of its own.
    Length(Length),
    /// Taken from something.
    Taken(TakenEntry),
}

impl FromToml for MeasureWord {
    const EXPECTED: &'static str =
        "a length in quotes, such as \"28 in\", { body = \"waist\" }, or { edges = [\"Bodice: waist\"] }";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::Table(_) => TakenEntry::from_toml(value, findings).map(Self::Taken),
            DeValue::String(_) | DeValue::Integer(_) | DeValue::Float(_) => {
                Length::from_toml(value, findings).map(Self::Length)
            }
            _ => {
                wrong_kind(value, Self::EXPECTED, None, findings);
                None
            }
        }
    }
}

/// A length that is taken from the body or from edges; from exactly one of them.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct TakenEntry {
    /// A measure of the body: of a job made to measure, or of a pattern in one size, that of the job's body; else that of the size.
    pub(crate) body: Option<At<Name>>,
    /// Finished edges, each as often as its piece is cut from its first cloth.
    pub(crate) edges: Option<At<Vec<At<EdgeWord>>>>,
    /// Added to it, or below zero taken away.
    pub(crate) plus: Option<At<SignedLength>>,
    /// Added once for each run of the edges, where the ends of what goes along it overlap or are turned under.
    pub(crate) overlap: Option<At<Length>>,
}

impl FromTable for TakenEntry {
    const WHAT: &'static str = "a length that is taken from something";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            body: fields.optional("body", findings),
            edges: fields.optional("edges", findings),
            plus: fields.optional("plus", findings),
            overlap: fields.optional("overlap", findings),
        }
    }
}

/// How many times as long as what it is gathered to a strip is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fullness(pub(crate) f64);

impl JsonSchema for Fullness {
    fn schema_name() -> Cow<'static, str> {
        "Fullness".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "How many times as long as what it is gathered to: a number, such as 1.5 or \"1 1/2\"",
            "type": ["number", "string"],
        })
    }
}

impl FromToml for Fullness {
    const EXPECTED: &'static str = "a number, such as 1.5, or in quotes \"1 1/2\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        number(value, Self::EXPECTED, findings).map(Self)
    }
}

/// How much of a full circle there is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fraction(pub(crate) f64);

impl JsonSchema for Fraction {
    fn schema_name() -> Cow<'static, str> {
        "CircleFraction".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "How much of a full circle there is: \"full\", \"3/4\", \"half\", \"quarter\", or any other number of circles",
            "type": ["number", "string"],
        })
    }
}

impl FromToml for Fraction {
    const EXPECTED: &'static str =
        "\"full\", \"3/4\", \"half\", \"quarter\", or any other number of circles, such as \"5/8\" or 1.5";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let word = match value.get_ref().as_str().map(str::trim) {
            Some("full") => Some(1.0),
            Some("half") => Some(0.5),
            Some("quarter") => Some(0.25),
            _ => None,
        };
        word.or_else(|| number(value, Self::EXPECTED, findings)).map(Self)
    }
}

/// A number without a unit, bare or in quotes.
fn number(value: &Value<'_>, expected: &'static str, findings: &mut Findings) -> Option<f64> {
    let text = match value.get_ref() {
        DeValue::Integer(number) => number.to_string(),
        DeValue::Float(number) => number.as_str().to_owned(),
        DeValue::String(text) => text.to_string(),
        _ => {
            wrong_kind(value, expected, None, findings);
            return None;
        }
    };
    match plain_number(&text) {
        Ok(number) if number.is_finite() => Some(number),
        Err(fault @ (QuantityFault::Negative { .. } | QuantityFault::Comma { .. })) => {
            findings.add(&value.span(), fault);
            None
        }
        _ => {
            wrong_kind(value, expected, None, findings);
            None
        }
    }
}
