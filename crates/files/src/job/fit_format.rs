//! What a job file says of size, alterations and choices, key by key.

use schemars::JsonSchema;
use toml::de::DeValue;

use crate::{
    Length, SignedLength,
    document::{At, Fields, FromTable, FromToml, Name, Named, Value, wrong_kind},
    findings::Findings,
    pattern::corner_format::CornerWord,
};

/// The size to make.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(untagged)]
pub(crate) enum SizeWord {
    /// A size by name, "recommended" for the one that suits the body best, or "to measure" for a garment made to the body.
    Word(Name),
    /// A size for each of some levels, such as bust, waist and hip.
    ByLevel(Named<Name>),
}

impl FromToml for SizeWord {
    const EXPECTED: &'static str = "a size in quotes, \"recommended\", \"to measure\", or a size for each level, such as { bust = \"38\", hip = \"40\" }";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::Table(_) => Named::from_toml(value, findings).map(Self::ByLevel),
            DeValue::String(_) => Name::from_toml(value, findings).map(Self::Word),
            _ => {
                wrong_kind(value, Self::EXPECTED, None, findings);
                None
            }
        }
    }
}

/// What is changed in the pieces, in this order, and what is chosen among them.
#[derive(Debug, Clone, Default, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct AlterEntry {
    /// Lengthened or shortened at marked lines.
    pub(crate) lengthen: Option<At<Vec<At<LengthenEntry>>>>,
    /// Let out or taken in at seams.
    pub(crate) widen: Option<At<Vec<At<WidenEntry>>>>,
    /// Other allowances.
    pub(crate) allowances: Option<At<Vec<At<AllowanceEntry>>>>,
    /// The choice taken for each option of the pattern; its default when left out.
    pub(crate) options: Option<At<Named<Name>>>,
    /// Pieces cut from another cloth than the first the pattern names for them.
    pub(crate) cut_from: Option<At<Vec<At<CutFromEntry>>>>,
    /// Pieces cut in two and joined with a seam.
    pub(crate) pieced: Option<At<Vec<At<PiecedEntry>>>>,
    /// Pieces that may lie across the grain too, on every cloth they are cut from.
    pub(crate) cross_grain: Option<At<Vec<At<Name>>>>,
}

impl FromTable for AlterEntry {
    const WHAT: &'static str = "a table of alterations";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            lengthen: fields.optional("lengthen", findings),
            widen: fields.optional("widen", findings),
            allowances: fields.optional("allowances", findings),
            options: fields.optional("options", findings),
            cut_from: fields.optional("cut_from", findings),
            pieced: fields.optional("pieced", findings),
            cross_grain: fields.optional("cross_grain", findings),
        }
    }
}

/// Lengthening or shortening at a line.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct LengthenEntry {
    /// The line.
    #[schemars(required)]
    pub(crate) line: Option<At<Name>>,
    /// Only these pieces; every piece with the line when left out.
    pub(crate) pieces: Option<At<Vec<At<Name>>>>,
    /// By how much; below zero to shorten.
    #[schemars(required)]
    pub(crate) by: Option<At<SignedLength>>,
}

impl FromTable for LengthenEntry {
    const WHAT: &'static str = "a `lengthen` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            line: fields.required("line", findings),
            pieces: fields.optional("pieces", findings),
            by: fields.required("by", findings),
        }
    }
}

/// Letting out or taking in at a seam.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct WidenEntry {
    /// The seam.
    #[schemars(required)]
    pub(crate) seam: Option<At<Name>>,
    /// By how much in all; below zero to take in.
    #[schemars(required)]
    pub(crate) by: Option<At<SignedLength>>,
}

impl FromTable for WidenEntry {
    const WHAT: &'static str = "a `widen` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { seam: fields.required("seam", findings), by: fields.required("by", findings) }
    }
}

/// Another allowance of an edge.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct AllowanceEntry {
    /// Only this piece; every piece with the edge when left out.
    pub(crate) piece: Option<At<Name>>,
    /// The edge.
    #[schemars(required)]
    pub(crate) edge: Option<At<Name>>,
    /// How deep it is.
    #[schemars(required)]
    pub(crate) depth: Option<At<Length>>,
    /// How it ends beside its neighbours; as in the pattern when left out.
    pub(crate) corner: Option<At<CornerWord>>,
}

impl FromTable for AllowanceEntry {
    const WHAT: &'static str = "an `allowances` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            piece: fields.optional("piece", findings),
            edge: fields.required("edge", findings),
            depth: fields.required("depth", findings),
            corner: fields.optional("corner", findings),
        }
    }
}

/// A piece cut from another cloth.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct CutFromEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// The cloth it is cut from instead of the first of its own.
    #[schemars(required)]
    pub(crate) from: Option<At<Name>>,
}

impl FromTable for CutFromEntry {
    const WHAT: &'static str = "a `cut_from` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { piece: fields.required("piece", findings), from: fields.required("from", findings) }
    }
}

/// A piece cut in two.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct PiecedEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// What is sewn into the join on either side; as the pattern says, or as much as the piece has all round, when left out.
    pub(crate) join: Option<At<Length>>,
}

impl FromTable for PiecedEntry {
    const WHAT: &'static str = "a `pieced` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { piece: fields.required("piece", findings), join: fields.optional("join", findings) }
    }
}
