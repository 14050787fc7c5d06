//! What a pattern file says about its sizes, and about the girths and lengths of the finished garment, key by key.

use ellwand_garment::{ChooseBy, GarmentKind};
use schemars::JsonSchema;

use crate::{
    Length,
    document::{At, Count, Fields, FromTable, FromToml, Name, Named, Value, read_choice},
    findings::Findings,
    limits::Counted,
};

/// A size.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct SizeEntry {
    /// Unique in its figure type, such as "38".
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// The figure type, such as "petite"; may be left out when there is one only.
    pub(crate) figure: Option<At<Name>>,
    /// Measures of the body it is drafted for, by name; without them it is cut by its name only.
    pub(crate) body: Option<At<Named<Length>>>,
}

impl FromTable for SizeEntry {
    const WHAT: &'static str = "a size";
    const MANY: Counted = Counted::Sizes;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            figure: fields.optional("figure", findings),
            body: fields.optional("body", findings),
        }
    }
}

/// Kinds of garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Kind", rename_all = "lowercase")]
pub(crate) enum KindWord {
    /// A dress or a top.
    Dress,
    /// A skirt or trousers.
    Skirt,
    /// A jacket.
    Jacket,
    /// A coat.
    Coat,
}

impl From<KindWord> for GarmentKind {
    fn from(word: KindWord) -> Self {
        match word {
            KindWord::Dress => Self::Dress,
            KindWord::Skirt => Self::Skirt,
            KindWord::Jacket => Self::Jacket,
            KindWord::Coat => Self::Coat,
        }
    }
}

impl FromToml for KindWord {
    const EXPECTED: &'static str = "\"dress\", \"skirt\", \"jacket\" or \"coat\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("dress", Self::Dress), ("skirt", Self::Skirt), ("jacket", Self::Jacket), ("coat", Self::Coat)];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}

/// What a size is chosen by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "ChooseBy")]
pub(crate) enum ChooseByWord {
    /// The bust, or the high bust of a full-busted body.
    #[schemars(rename = "bust")]
    Bust,
    /// The hip, or the waist where it asks for a larger size.
    #[schemars(rename = "hip or waist")]
    HipOrWaist,
}

impl From<ChooseByWord> for ChooseBy {
    fn from(word: ChooseByWord) -> Self {
        match word {
            ChooseByWord::Bust => Self::Bust,
            ChooseByWord::HipOrWaist => Self::HipOrWaist,
        }
    }
}

impl FromToml for ChooseByWord {
    const EXPECTED: &'static str = "\"bust\" or \"hip or waist\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("bust", Self::Bust), ("hip or waist", Self::HipOrWaist)], findings)
    }
}

/// A girth of the finished garment: what is sewn round the body at a level.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct GirthEntry {
    /// The measure of the body it is compared with.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// The level at which it is measured.
    #[schemars(required)]
    pub(crate) level: Option<At<Name>>,
    /// The pieces that go round.
    #[schemars(required)]
    pub(crate) parts: Option<At<Vec<At<GirthPartEntry>>>>,
    /// What is not worn there, in all: pleats, overlap; nothing when left out.
    pub(crate) less: Option<At<Length>>,
}

impl FromTable for GirthEntry {
    const WHAT: &'static str = "a girth";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            level: fields.required("level", findings),
            parts: fields.required("parts", findings),
            less: fields.optional("less", findings),
        }
    }
}

/// A piece that goes round the body.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct GirthPartEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// How often its drawing goes round, such as 2 for a pair or a half on the fold; once when left out.
    pub(crate) times: Option<At<Count>>,
    /// A point from whose upright line on its width counts, such as centre front beside an overlap.
    pub(crate) from: Option<At<Name>>,
}

impl FromTable for GirthPartEntry {
    const WHAT: &'static str = "a part of a girth";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            piece: fields.required("piece", findings),
            times: fields.optional("times", findings),
            from: fields.optional("from", findings),
        }
    }
}

/// A length of the finished garment, along edges.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct LengthEntry {
    /// What it is called, such as "back length".
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// The edges that make it up.
    #[schemars(required)]
    pub(crate) along: Option<At<Vec<At<AlongEntry>>>>,
}

impl FromTable for LengthEntry {
    const WHAT: &'static str = "a length";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { name: fields.required("name", findings), along: fields.required("along", findings) }
    }
}

/// An edge along which a length runs.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct AlongEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// Its edge.
    #[schemars(required)]
    pub(crate) edge: Option<At<Name>>,
    /// How often it counts; once when left out.
    pub(crate) times: Option<At<Count>>,
}

impl FromTable for AlongEntry {
    const WHAT: &'static str = "an edge of a length";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            piece: fields.required("piece", findings),
            edge: fields.required("edge", findings),
            times: fields.optional("times", findings),
        }
    }
}
