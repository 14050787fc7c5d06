//! What a pattern file says about notions and trims, key by key.

use schemars::JsonSchema;
use toml::de::DeValue;

use super::{measure_format::MeasureWord, size_format::AlongEntry};
use crate::{
    Length,
    document::{At, Count, Fields, FromTable, FromToml, Name, Named, Value, wrong_kind},
    findings::Findings,
};

/// A notion that the garment takes.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct NotionEntry {
    /// Unique among notions and trims; jobs name it.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// The views that take it; all when left out.
    pub(crate) views: Option<At<Vec<At<Name>>>>,
    /// How many: of every size of the pattern, or for each.
    pub(crate) count: Option<At<InSizes<Count>>>,
    /// How much of what is sold by the length, in place of `count`: of every size, for each, or taken from the body or from finished edges.
    pub(crate) length: Option<At<NotionLength>>,
    /// Its size in words, such as "15 mm": of every size of the pattern, or for each.
    pub(crate) size: Option<At<InSizes<Name>>>,
    /// Of buttons how wide they are, from which the length of their buttonholes follows.
    pub(crate) diameter: Option<At<Length>>,
    /// Of buttons how thick they are.
    pub(crate) thickness: Option<At<Length>>,
    /// Of buttons how far it is from the line they are sewn on to the finished edge.
    pub(crate) extension: Option<At<Length>>,
}

/// The same for every size of a pattern, or one for each.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(untagged)]
pub(crate) enum InSizes<T> {
    /// For every size.
    All(T),
    /// For each size by its name.
    Each(Named<T>),
}

impl FromToml for InSizes<Count> {
    const EXPECTED: &'static str = "a whole number, such as 9, or one for each size, such as { S = 8, M = 9 }";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::Table(_) => Named::from_toml(value, findings).map(Self::Each),
            DeValue::Integer(_) => Count::from_toml(value, findings).map(Self::All),
            _ => {
                wrong_kind(value, Self::EXPECTED, None, findings);
                None
            }
        }
    }
}

impl FromToml for InSizes<Name> {
    const EXPECTED: &'static str =
        "a text in quotes, such as \"15 mm\", or one for each size, such as { S = \"18 cm\", M = \"20 cm\" }";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::Table(_) => Named::from_toml(value, findings).map(Self::Each),
            DeValue::String(_) => Name::from_toml(value, findings).map(Self::All),
            _ => {
                wrong_kind(value, Self::EXPECTED, None, findings);
                None
            }
        }
    }
}

/// How much of a notion is needed by the length.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(untagged)]
pub(crate) enum NotionLength {
    /// Of its own, or taken from the body or from edges.
    Measure(MeasureWord),
    /// For each size by its name.
    Each(Named<Length>),
}

impl FromToml for NotionLength {
    const EXPECTED: &'static str = "a length in quotes, such as \"22 in\", one for each size, such as { S = \"20 in\", M = \"22 in\" }, \
                                    { body = \"waist\", plus = \"-2 in\" }, or { edges = [\"Front: waist\"] }";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::Table(table) => {
                let is_taken = ["body", "edges", "plus", "overlap"].iter().any(|key| table.get(*key).is_some());
                if is_taken {
                    MeasureWord::from_toml(value, findings).map(Self::Measure)
                } else {
                    Named::from_toml(value, findings).map(Self::Each)
                }
            }
            DeValue::String(_) | DeValue::Integer(_) | DeValue::Float(_) => {
                MeasureWord::from_toml(value, findings).map(Self::Measure)
            }
            _ => {
                wrong_kind(value, Self::EXPECTED, None, findings);
                None
            }
        }
    }
}

impl FromTable for NotionEntry {
    const WHAT: &'static str = "a notion";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            views: fields.optional("views", findings),
            count: fields.optional("count", findings),
            length: fields.optional("length", findings),
            size: fields.optional("size", findings),
            diameter: fields.optional("diameter", findings),
            thickness: fields.optional("thickness", findings),
            extension: fields.optional("extension", findings),
        }
    }
}

/// A trim along edges of the pieces.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct TrimEntry {
    /// Unique among notions and trims.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// The views that have it; all when left out.
    pub(crate) views: Option<At<Vec<At<Name>>>>,
    /// The edges it is sewn along, each as often as its piece is cut from its first cloth.
    #[schemars(required)]
    pub(crate) edges: Option<At<Vec<At<EdgeWord>>>>,
    /// What is turned under at each end; nothing when left out.
    pub(crate) turned_ends: Option<At<Length>>,
    /// Its size in words, such as "10 mm wide".
    pub(crate) size: Option<At<Name>>,
}

impl FromTable for TrimEntry {
    const WHAT: &'static str = "a trim";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            views: fields.optional("views", findings),
            edges: fields.required("edges", findings),
            turned_ends: fields.optional("turned_ends", findings),
            size: fields.optional("size", findings),
        }
    }
}

/// An edge with a trim.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(untagged)]
pub(crate) enum EdgeWord {
    /// Piece and edge, such as "Cuff: wrist".
    Word(Name),
    /// Piece and edge, and how often it is trimmed.
    Counted(AlongEntry),
}

impl FromToml for EdgeWord {
    const EXPECTED: &'static str =
        "a piece and its edge in quotes, such as \"Cuff: wrist\", or { piece = \"Cuff\", edge = \"wrist\", times = 2 }";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::Table(_) => AlongEntry::from_toml(value, findings).map(Self::Counted),
            DeValue::String(_) => Name::from_toml(value, findings).map(Self::Word),
            _ => {
                wrong_kind(value, Self::EXPECTED, None, findings);
                None
            }
        }
    }
}
