//! Coordinates: bare numbers in the unit of a drawing, or lengths with a unit of their own.

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::de::DeValue;

use super::value::{FromToml, Value, shortened, wrong_kind};
use crate::{SignedLength, fault::DocumentFault, findings::Findings};

/// One coordinate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Coordinate {
    /// A bare number, in the unit of the drawing.
    Bare(f64),
    /// With a unit of its own, mm.
    Length(f64),
}

impl Coordinate {
    /// In mm, on a drawing whose unit is `unit` mm long.
    pub(crate) fn mm(self, unit: f64) -> f64 {
        match self {
            Self::Bare(number) => number * unit,
            Self::Length(mm) => mm,
        }
    }
}

impl JsonSchema for Coordinate {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Coordinate".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": [{ "type": "number" }, generator.subschema_for::<SignedLength>()] })
    }
}

/// A point of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, JsonSchema)]
pub(crate) struct Pair(pub(crate) [Coordinate; 2]);

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
        let [x, y] = [&items[0], &items[1]].map(|item| coordinate(item, findings));
        Some(Self([x?, y?]))
    }
}

/// How high something lies in a drawing.
#[derive(Debug, Clone, Copy, PartialEq, JsonSchema)]
pub(crate) struct Height(pub(crate) Coordinate);

impl FromToml for Height {
    const EXPECTED: &'static str = "a bare number, such as 144.5";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        coordinate(value, findings).map(Self)
    }
}

/// One coordinate: a finite number, or a length. How far out it may lie depends on the unit and is judged later.
fn coordinate(value: &Value<'_>, findings: &mut Findings) -> Option<Coordinate> {
    let read: Option<f64> = match value.get_ref() {
        DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix()).ok().map(|n| n as f64),
        DeValue::Float(number) => number.as_str().parse().ok(),
        DeValue::String(_) => {
            return SignedLength::from_toml(value, findings).map(|length| Coordinate::Length(length.mm()));
        }
        _ => {
            wrong_kind(value, "a bare number", None, findings);
            return None;
        }
    };
    let read = read.filter(|number| number.is_finite());
    if read.is_none() {
        let found = shortened(findings.source().at(&value.span()));
        findings.add(&value.span(), DocumentFault::BadCoordinate { found });
    }
    read.map(Coordinate::Bare)
}
