//! What a pattern file says, key by key: the format types, read by [`crate::document`] and described by the JSON Schema.
//!
//! A field is `None` when the key is not there or its value was at fault; the fault is noted already.

use ellwand_garment::{GrainRule, Hands, Units};
use schemars::JsonSchema;

use super::{
    corner_format::CornerWord,
    drawing_format::{DrawingEntry, DrawnEntry},
    like_format::LikeKeys,
    option_format::OptionEntry,
    picked_format::{DrawingKey, PickKeys},
    seam_format::SeamEntry,
    shape_format::{GrainAlong, ShapeEntry},
    size_format::{ChooseByWord, GirthEntry, KindWord, LengthEntry, SizeEntry},
    suits_format::SuitsEntry,
    supply_format::{NotionEntry, TrimEntry},
};
use crate::{
    Length,
    document::{At, Count, Fields, FromTable, FromToml, Name, Named, Value, read_choice},
    findings::Findings,
    limits::Counted,
};

/// The format line of a pattern.
pub(crate) const FORMAT: &str = "ellwand-pattern-1";

/// A pattern: its pieces and the views made from them.
#[derive(Debug, Clone, JsonSchema)]
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
    /// The drawing that pieces are picked from.
    pub(crate) drawing: Option<At<DrawingKey>>,
    /// The name of the only size; a pattern of several has a table for each.
    pub(crate) sizes: Option<At<Vec<At<Name>>>>,
    /// Measures of the body the only size was drafted for.
    pub(crate) body: Option<At<Named<Length>>>,
    /// The sizes, small to large within each figure type.
    pub(crate) size: Option<At<Vec<At<SizeEntry>>>>,
    /// What kind of garment it is, which tells the usual ease; a dress when left out.
    pub(crate) kind: Option<At<KindWord>>,
    /// What a size is chosen by; bust when left out.
    pub(crate) choose_by: Option<At<ChooseByWord>>,
    /// Every role of cloth, with a word on what to use. When left out, the pieces' `cut` entries name the roles.
    pub(crate) roles: Option<At<Named<String>>>,
    /// What suits each cloth: kinds, weight, stretch, and what it is not for.
    pub(crate) suits: Option<At<Named<SuitsEntry>>>,
    /// Versions of the garment.
    #[schemars(required)]
    pub(crate) view: Option<At<Vec<At<ViewEntry>>>>,
    /// The pieces.
    #[schemars(required)]
    pub(crate) piece: Option<At<Vec<At<PieceEntry>>>>,
    /// What is sewn to what; needed for cloth with a design, to let out at a seam, and to see that the sides of a seam agree.
    pub(crate) seam: Option<At<Vec<At<SeamEntry>>>>,
    /// What is sewn round the body.
    pub(crate) girth: Option<At<Vec<At<GirthEntry>>>>,
    /// Other lengths of the finished garment, along edges.
    pub(crate) length: Option<At<Vec<At<LengthEntry>>>>,
    /// Groups of pieces to choose from.
    pub(crate) option: Option<At<Vec<At<OptionEntry>>>>,
    /// Buttons, zips, thread and whatever else the garment takes.
    pub(crate) notion: Option<At<Vec<At<NotionEntry>>>>,
    /// What is sewn along edges.
    pub(crate) trim: Option<At<Vec<At<TrimEntry>>>>,
}

impl FromTable for PatternFile {
    const WHAT: &'static str = "a pattern";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        let piece: Option<At<Vec<At<PieceEntry>>>> = fields.required("piece", findings);
        let has_coordinates = |piece: &PieceEntry| {
            let drawn = piece.drawn.iter().flat_map(|drawn| &drawn.value).map(|drawn| &drawn.value.drawing);
            drawn.chain([&piece.drawing]).any(DrawingEntry::has_coordinates)
        };
        let any = piece.as_ref().is_some_and(|pieces| pieces.value.iter().any(|piece| has_coordinates(&piece.value)));
        let coordinates = if any {
            fields.required_of("a pattern with bare [x, y] pairs", "coordinates", findings)
        } else {
            fields.optional("coordinates", findings)
        };
        Self {
            format: fields.format(FORMAT, findings),
            name: fields.required("name", findings),
            coordinates,
            drawing: fields.optional("drawing", findings),
            sizes: if fields.has("size") {
                fields.optional("sizes", findings)
            } else {
                fields.required("sizes", findings)
            },
            body: fields.optional("body", findings),
            size: fields.optional("size", findings),
            kind: fields.optional("kind", findings),
            choose_by: fields.optional("choose_by", findings),
            roles: fields.optional("roles", findings),
            suits: fields.optional("suits", findings),
            view: fields.required("view", findings),
            piece,
            seam: fields.optional("seam", findings),
            girth: fields.optional("girth", findings),
            length: fields.optional("length", findings),
            option: fields.optional("option", findings),
            notion: fields.optional("notion", findings),
            trim: fields.optional("trim", findings),
        }
    }
}

impl PatternFile {
    /// Units to show the pattern in: those of its coordinates, where it has some.
    pub(crate) fn units(&self) -> Units {
        match self.coordinates.as_ref().map(|unit| unit.value) {
            Some(CoordinateUnit::In) => Units::Inches,
            Some(CoordinateUnit::Mm | CoordinateUnit::Cm) | None => Units::Centimetres,
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
#[derive(Debug, Clone, JsonSchema)]
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
    const MANY: Counted = Counted::Views;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            title: fields.optional("title", findings),
            pieces: fields.required("pieces", findings),
        }
    }
}

/// A piece: drawn with `start`, `edges` and `grainline`, once or in each size, measured with `shape`, or `like` another.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields, extend("anyOf" = [{ "required": ["cut"] }, { "required": ["like"] }]))]
pub(crate) struct PieceEntry {
    /// Unique in the pattern.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// The piece it is like, and what of it is other.
    #[schemars(flatten)]
    pub(crate) likeness: LikeKeys,
    /// Which piece of the drawing it is, and what the drawing does not say of it.
    #[schemars(flatten)]
    pub(crate) picked: PickKeys,
    /// From which cloth and how many; of a piece that is `like` another as of that one when left out.
    pub(crate) cut: Option<At<Vec<At<CutEntry>>>>,
    /// Which ways the grain may run; straight when left out.
    pub(crate) grain: Option<At<Grain>>,
    /// Added to every edge but the fold, or "included" when the outline already is the cutting line. A measured shape without
    /// it has the allowances named for its sides and no other.
    pub(crate) seam_allowance: Option<At<SeamAllowance>>,
    /// The level whose size it takes where it has no levels of its own, such as a sleeve.
    pub(crate) sized_by: Option<At<Name>>,
    /// The drawing, of a piece that is drawn once.
    #[schemars(flatten)]
    pub(crate) drawing: DrawingEntry,
    /// The drawing in each size.
    pub(crate) drawn: Option<At<Vec<At<DrawnEntry>>>>,
    /// The piece by its measures.
    pub(crate) shape: Option<At<ShapeEntry>>,
    /// Which measure of the shape the grain runs along; height when left out.
    pub(crate) grain_along: Option<At<GrainAlong>>,
    /// The side of the shape that lies on the fold; the shape is one half of the piece.
    pub(crate) fold_edge: Option<At<Name>>,
    /// Allowances of single sides of the shape.
    pub(crate) allowances: Option<At<Named<Length>>>,
    /// How the allowances of single sides of the shape end beside their neighbours.
    pub(crate) corners: Option<At<Named<CornerWord>>>,
    /// Whether it may be cut in two and joined with a seam where that saves cloth; a long narrow rectangle may be anyway.
    pub(crate) pieced: Option<At<PiecedWord>>,
    /// What is sewn into that seam on either side; as much as the piece has all round when left out.
    pub(crate) join_allowance: Option<At<Length>>,
}

impl FromTable for PieceEntry {
    const WHAT: &'static str = "a piece";
    const MANY: Counted = Counted::Pieces;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        let outlined = "a piece without a measured `shape`";
        let (measured, in_sizes, like) = (fields.has("shape"), fields.has("drawn"), fields.has("like"));
        let picked = fields.has("pick");
        let seam_allowance = if measured || like || picked {
            fields.optional("seam_allowance", findings)
        } else {
            fields.required_of(outlined, "seam_allowance", findings)
        };
        Self {
            name: fields.required("name", findings),
            likeness: LikeKeys::read(fields, findings),
            picked: PickKeys::read(fields, findings),
            cut: if like { fields.optional("cut", findings) } else { fields.required("cut", findings) },
            grain: fields.optional("grain", findings),
            seam_allowance,
            sized_by: fields.optional("sized_by", findings),
            drawing: DrawingEntry::read(
                fields,
                (!measured && !in_sizes && !like && !picked).then_some(outlined),
                findings,
            ),
            drawn: fields.optional("drawn", findings),
            shape: fields.optional("shape", findings),
            grain_along: fields.optional("grain_along", findings),
            fold_edge: fields.optional("fold_edge", findings),
            allowances: fields.optional("allowances", findings),
            corners: fields.optional("corners", findings),
            pieced: fields.optional("pieced", findings),
            join_allowance: fields.optional("join_allowance", findings),
        }
    }
}

/// The word for a piece that may be cut in two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Pieced", rename_all = "lowercase")]
pub(crate) enum PiecedWord {
    /// It may be.
    Allowed,
}

impl FromToml for PiecedWord {
    const EXPECTED: &'static str = "\"allowed\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("allowed", Self::Allowed)], findings)
    }
}

/// How many are cut from one role of cloth.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct CutEntry {
    /// The role of cloth.
    #[schemars(required)]
    pub(crate) from: Option<At<Name>>,
    /// How many; a whole piece on the fold counts once. Of a shape that says itself how many are cut for one, how many of what it makes, and
    /// one when left out.
    pub(crate) count: Option<At<Count>>,
    /// Whether each is cut on the fold.
    pub(crate) on_fold: Option<At<bool>>,
    /// Which ways the grain may run on this cloth; as of the piece when left out.
    pub(crate) grain: Option<At<Grain>>,
    /// Which hands; "pair" for an even count and "same" for an odd one when left out.
    pub(crate) hands: Option<At<HandsWord>>,
}

impl FromTable for CutEntry {
    const WHAT: &'static str = "a `cut` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            from: fields.required("from", findings),
            count: fields.optional("count", findings),
            on_fold: fields.optional("on_fold", findings),
            grain: fields.optional("grain", findings),
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
    /// The outline is the cutting line, and nothing tells where the seam line runs.
    Included(Included),
    /// The outline is the cutting line, and the seam line runs so far inside.
    Within(Within),
    /// The outline is the seam line.
    Depth(Length),
}

/// A depth that an outline includes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Within(pub(crate) Length);

impl JsonSchema for Within {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "AllowanceWithin".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "pattern": " included$" })
    }
}

/// The word "included".
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename_all = "lowercase")]
pub(crate) enum Included {
    /// The outline already is the cutting line.
    Included,
}

impl FromToml for SeamAllowance {
    const EXPECTED: &'static str = "a length in quotes, such as \"15 mm\" or \"15 mm included\", or \"included\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref().as_str() {
            Some("included") => Some(Self::Included(Included::Included)),
            Some(text) if text.trim_end().ends_with(" included") => {
                let depth = text.trim_end().trim_end_matches("included");
                match depth.parse::<Length>() {
                    Ok(depth) => Some(Self::Within(Within(depth))),
                    Err(fault) => {
                        findings.add(&value.span(), fault);
                        None
                    }
                }
            }
            _ => Length::from_toml(value, findings).map(Self::Depth),
        }
    }
}
