//! What a pattern file says, key by key: the format types, read by [`crate::document`] and described by the JSON Schema.
//!
//! A field is `None` when the key is not there or its value was at fault; the fault is noted already.

use ellwand_garment::{GrainRule, Hands};
use schemars::JsonSchema;

use super::{
    seam_format::SeamEntry,
    shape_format::{GrainAlong, ShapeEntry},
};
use crate::{
    Length,
    document::{At, Count, Fields, FromTable, FromToml, Name, Named, Pair, Value, read_choice},
    fault::Findings,
};

/// The format line of a pattern.
pub(crate) const FORMAT: &str = "ellwand-pattern-1";

/// A pattern: its pieces and the views made from them.
#[derive(Debug, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct PatternFile {
    /// Always "ellwand-pattern-1".
    #[schemars(required, extend("const" = FORMAT))]
    #[expect(dead_code, reason = "judged before the rest is read")]
    pub(crate) format: Option<At<String>>,
    /// What the pattern is called.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// The unit of every bare [x, y]; needed when there is one.
    pub(crate) coordinates: Option<At<CoordinateUnit>>,
    /// The sizes the file holds; one for now.
    #[schemars(required)]
    pub(crate) sizes: Option<At<Vec<At<Name>>>>,
    /// Measures of the body the size was drafted for; shown, not computed with.
    #[expect(dead_code, reason = "checked to be lengths; nothing computes with them yet")]
    pub(crate) body: Option<At<Named<Length>>>,
    /// Every role of cloth, with a word on what to use. When left out, the pieces' `cut` entries name the roles.
    pub(crate) roles: Option<At<Named<String>>>,
    /// Versions of the garment.
    #[schemars(required)]
    pub(crate) view: Option<At<Vec<At<ViewEntry>>>>,
    /// The pieces.
    #[schemars(required)]
    pub(crate) piece: Option<At<Vec<At<PieceEntry>>>>,
    /// What is sewn to what; needed only for cloth with a design.
    pub(crate) seam: Option<At<Vec<At<SeamEntry>>>>,
}

impl FromTable for PatternFile {
    const WHAT: &'static str = "a pattern";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        let piece: Option<At<Vec<At<PieceEntry>>>> = fields.required("piece", findings);
        let has_pairs = |piece: &PieceEntry| {
            piece.edges.is_some() || piece.grainline.is_some() || piece.notches.is_some() || piece.points.is_some()
        };
        let any_pairs = piece.as_ref().is_some_and(|pieces| pieces.value.iter().any(|piece| has_pairs(&piece.value)));
        let coordinates = if any_pairs {
            fields.required_of("a pattern with bare [x, y] pairs", "coordinates", findings)
        } else {
            fields.optional("coordinates", findings)
        };
        Self {
            format: fields.required("format", findings),
            name: fields.required("name", findings),
            coordinates,
            sizes: fields.required("sizes", findings),
            body: fields.optional("body", findings),
            roles: fields.optional("roles", findings),
            view: fields.required("view", findings),
            piece,
            seam: fields.optional("seam", findings),
        }
    }
}

/// Unit of bare coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename_all = "lowercase")]
pub(crate) enum CoordinateUnit {
    Mm,
    Cm,
    In,
}

impl CoordinateUnit {
    /// Its length in mm.
    pub(crate) fn mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Cm => 10.0,
            Self::In => 25.4,
        }
    }

    pub(crate) fn sign(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::Cm => "cm",
            Self::In => "in",
        }
    }
}

impl FromToml for CoordinateUnit {
    const EXPECTED: &'static str = "\"mm\", \"cm\" or \"in\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("mm", Self::Mm), ("cm", Self::Cm), ("in", Self::In)], findings)
    }
}

/// A version of the garment.
#[derive(Debug, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct ViewEntry {
    /// Short, such as "A".
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// One line on what it is.
    pub(crate) title: Option<At<String>>,
    /// Names of its pieces, in the order of the drawing.
    #[schemars(required)]
    pub(crate) pieces: Option<At<Vec<At<Name>>>>,
}

impl FromTable for ViewEntry {
    const WHAT: &'static str = "a view";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            title: fields.optional("title", findings),
            pieces: fields.required("pieces", findings),
        }
    }
}

/// A piece: drawn with `start`, `edges` and `grainline`, or measured with `shape`.
#[derive(Debug, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct PieceEntry {
    /// Unique in the pattern.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// From which cloth and how many.
    #[schemars(required)]
    pub(crate) cut: Option<At<Vec<At<CutEntry>>>>,
    /// Which ways the grain may run; straight when left out.
    pub(crate) grain: Option<At<Grain>>,
    /// Low and high end of the grainline.
    pub(crate) grainline: Option<At<Vec<At<Pair>>>>,
    /// Added to every edge but the fold, or "included" when the outline already is the cutting line. A measured shape without
    /// it has the allowances named for its sides and no other.
    pub(crate) seam_allowance: Option<At<SeamAllowance>>,
    /// Where the outline starts.
    pub(crate) start: Option<At<Pair>>,
    /// The outline's edges in order; the last ends at the start.
    pub(crate) edges: Option<At<Vec<At<EdgeEntry>>>>,
    /// Marks on the outline.
    pub(crate) notches: Option<At<Vec<At<NotchEntry>>>>,
    /// Other named points.
    pub(crate) points: Option<At<Named<Pair>>>,
    /// The piece by its measures.
    pub(crate) shape: Option<At<ShapeEntry>>,
    /// Which measure of the shape the grain runs along; height when left out.
    pub(crate) grain_along: Option<At<GrainAlong>>,
    /// The side of the shape that lies on the fold; the shape is one half of the piece.
    pub(crate) fold_edge: Option<At<Name>>,
    /// Allowances of single sides of the shape.
    pub(crate) allowances: Option<At<Named<Length>>>,
}

impl FromTable for PieceEntry {
    const WHAT: &'static str = "a piece";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        let (grainline, seam_allowance, start, edges);
        if fields.has("shape") {
            grainline = fields.optional("grainline", findings);
            seam_allowance = fields.optional("seam_allowance", findings);
            start = fields.optional("start", findings);
            edges = fields.optional("edges", findings);
        } else {
            let of = "a piece without a measured `shape`";
            grainline = fields.required_of(of, "grainline", findings);
            seam_allowance = fields.required_of(of, "seam_allowance", findings);
            start = fields.required_of(of, "start", findings);
            edges = fields.required_of(of, "edges", findings);
        }
        Self {
            name: fields.required("name", findings),
            cut: fields.required("cut", findings),
            grain: fields.optional("grain", findings),
            grainline,
            seam_allowance,
            start,
            edges,
            notches: fields.optional("notches", findings),
            points: fields.optional("points", findings),
            shape: fields.optional("shape", findings),
            grain_along: fields.optional("grain_along", findings),
            fold_edge: fields.optional("fold_edge", findings),
            allowances: fields.optional("allowances", findings),
        }
    }
}

/// How many are cut from one role of cloth.
#[derive(Debug, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct CutEntry {
    /// The role of cloth.
    #[schemars(required)]
    pub(crate) from: Option<At<Name>>,
    /// How many; a whole piece on the fold counts once.
    #[schemars(required)]
    pub(crate) count: Option<At<Count>>,
    /// Whether each is cut on the fold.
    pub(crate) on_fold: Option<At<bool>>,
    /// Which hands; "pair" for an even count and "same" for an odd one when left out.
    pub(crate) hands: Option<At<HandsWord>>,
}

impl FromTable for CutEntry {
    const WHAT: &'static str = "a `cut` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            from: fields.required("from", findings),
            count: fields.required("count", findings),
            on_fold: fields.optional("on_fold", findings),
            hands: fields.optional("hands", findings),
        }
    }
}

/// Which hands the copies of a piece are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Hands", rename_all = "lowercase")]
pub(crate) enum HandsWord {
    /// Left and right in equal number.
    Pair,
    /// All as drawn.
    Same,
    /// Either way.
    Any,
}

impl From<HandsWord> for Hands {
    fn from(word: HandsWord) -> Self {
        match word {
            HandsWord::Pair => Self::Pair,
            HandsWord::Same => Self::Same,
            HandsWord::Any => Self::Any,
        }
    }
}

impl FromToml for HandsWord {
    const EXPECTED: &'static str = "\"pair\", \"same\" or \"any\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("pair", Self::Pair), ("same", Self::Same), ("any", Self::Any)];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}

/// Which ways the grain may run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
pub(crate) enum Grain {
    /// Parallel to the selvage.
    #[schemars(rename = "straight")]
    Straight,
    /// Parallel or square to the selvage.
    #[schemars(rename = "cross allowed")]
    CrossAllowed,
    /// At 45 degrees.
    #[schemars(rename = "bias")]
    Bias,
}

impl From<Grain> for GrainRule {
    fn from(grain: Grain) -> Self {
        match grain {
            Grain::Straight => Self::Straight,
            Grain::CrossAllowed => Self::CrossAllowed,
            Grain::Bias => Self::Bias,
        }
    }
}

impl FromToml for Grain {
    const EXPECTED: &'static str = "\"straight\", \"cross allowed\" or \"bias\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("straight", Self::Straight), ("cross allowed", Self::CrossAllowed), ("bias", Self::Bias)];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}

/// A depth to add, or "included".
#[derive(Debug, Clone, Copy, PartialEq, JsonSchema)]
#[schemars(untagged)]
pub(crate) enum SeamAllowance {
    /// The outline is the cutting line.
    Included(Included),
    /// The outline is the seam line.
    Depth(Length),
}

/// The word "included".
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename_all = "lowercase")]
pub(crate) enum Included {
    /// The outline already is the cutting line.
    Included,
}

impl FromToml for SeamAllowance {
    const EXPECTED: &'static str = "a length in quotes, such as \"15 mm\", or \"included\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref().as_str() {
            Some("included") => Some(Self::Included(Included::Included)),
            _ => Length::from_toml(value, findings).map(Self::Depth),
        }
    }
}

/// One edge of an outline; it starts where the edge before it ends.
#[derive(Debug, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct EdgeEntry {
    /// What it is called.
    pub(crate) name: Option<At<Name>>,
    /// Where it ends.
    #[schemars(required)]
    pub(crate) to: Option<At<Pair>>,
    /// Two control points of a cubic curve.
    #[schemars(length(equal = 2))]
    pub(crate) curve: Option<At<Vec<At<Pair>>>>,
    /// The point a circular arc passes through.
    pub(crate) arc: Option<At<Pair>>,
    /// Its allowance, when not that of the piece.
    pub(crate) allowance: Option<At<Length>>,
    /// Whether it lies on the fold.
    pub(crate) fold: Option<At<bool>>,
}

impl FromTable for EdgeEntry {
    const WHAT: &'static str = "an edge";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.optional("name", findings),
            to: fields.required("to", findings),
            curve: fields.optional("curve", findings),
            arc: fields.optional("arc", findings),
            allowance: fields.optional("allowance", findings),
            fold: fields.optional("fold", findings),
        }
    }
}

/// A mark on the outline.
#[derive(Debug, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct NotchEntry {
    /// What it is called.
    pub(crate) name: Option<At<Name>>,
    /// Where it is: on the outline as drawn, or at most 2 mm off it.
    #[schemars(required)]
    pub(crate) at: Option<At<Pair>>,
}

impl FromTable for NotchEntry {
    const WHAT: &'static str = "a notch";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { name: fields.optional("name", findings), at: fields.required("at", findings) }
    }
}
