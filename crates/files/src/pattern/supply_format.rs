//! What a pattern file says about notions and trims, key by key.

use schemars::JsonSchema;
use toml::de::DeValue;

use super::size_format::AlongEntry;
use crate::{
    Length,
    document::{At, Count, Fields, FromTable, FromToml, Name, Value, wrong_kind},
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
    /// How many.
    pub(crate) count: Option<At<Count>>,
    /// How much of what is sold by the length, in place of `count`.
    pub(crate) length: Option<At<Length>>,
    /// Its size in words, such as "15 mm".
    pub(crate) size: Option<At<Name>>,
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
