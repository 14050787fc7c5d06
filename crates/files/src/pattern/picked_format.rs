//! What a pattern file says of the drawing its pieces are picked from, key by key.

use ellwand_trace::{CutNotches, Role, Scale};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::de::DeValue;

use super::{
    dart_format::PressedWord,
    format::{CoordinateUnit, SeamAllowance},
    tiles_format::TilesKey,
};
use crate::{
    document::{At, Fields, FromTable, FromToml, Name, Named, Pair, Value, read_choice, read_text, wrong_kind},
    findings::Findings,
};

/// The drawing: the name of its file alone, or with what the file does not say.
#[derive(Debug, Clone)]
pub(crate) struct DrawingKey(pub(crate) DrawingFileEntry);

/// The drawing that pieces are picked from.
#[derive(Debug, Clone, Default, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct DrawingFileEntry {
    /// A PDF, SVG or DXF file in the folder of the pattern, or below it.
    #[schemars(required)]
    pub(crate) file: Option<At<Name>>,
    /// How large it is: "as drawn", "by its square" or a number of times.
    pub(crate) scale: Option<At<ScaleWord>>,
    /// The unit of a file that does not say it.
    pub(crate) unit: Option<At<CoordinateUnit>>,
    /// How its pages belong together, where it was cut into pages for a home printer; found where nothing is said.
    pub(crate) tiles: Option<At<TilesKey>>,
    /// The table of grade rules that its sizes are made by, where it is an interchange file drawn in one size.
    pub(crate) grades: Option<At<Name>>,
    /// Whether small dips and bumps of outlines that look like notches are notches, or stay in the outline.
    pub(crate) cut_notches: Option<At<CutNotchesWord>>,
    /// The allowance of every piece that has none of its own and is drawn with one line: "15 mm included" in a cutting line, "15 mm" outside
    /// a seam line.
    pub(crate) seam_allowance: Option<At<SeamAllowance>>,
    /// Which line an outline is, where nothing in the drawing tells.
    pub(crate) outline: Option<At<OutlineWord>>,
    /// What strokes are, by the name of their layer, group or id.
    pub(crate) layers: Option<At<Named<RoleWord>>>,
    /// How the drawing calls each size, where that is not the name of the size.
    pub(crate) sizes: Option<At<Named<Name>>>,
}

impl FromTable for DrawingFileEntry {
    const WHAT: &'static str = "a drawing";
    const LIKE: Option<&'static str> = Some("\"apron.pdf\" or { file = \"apron.pdf\", scale = \"by its square\" }");

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            file: fields.required("file", findings),
            scale: fields.optional("scale", findings),
            unit: fields.optional("unit", findings),
            tiles: fields.optional("tiles", findings),
            grades: fields.optional("grades", findings),
            cut_notches: fields.optional("cut_notches", findings),
            seam_allowance: fields.optional("seam_allowance", findings),
            outline: fields.optional("outline", findings),
            layers: fields.optional("layers", findings),
            sizes: fields.optional("sizes", findings),
        }
    }
}

impl FromToml for DrawingKey {
    const EXPECTED: &'static str = "the name of a file in quotes, or a table with `file`";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(_) => {
                let file = At::<Name>::from_toml(value, findings)?;
                Some(Self(DrawingFileEntry { file: Some(file), ..DrawingFileEntry::default() }))
            }
            DeValue::Table(_) => DrawingFileEntry::from_toml(value, findings).map(Self),
            _ => {
                wrong_kind(value, Self::EXPECTED, None, findings);
                None
            }
        }
    }
}

impl JsonSchema for DrawingKey {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Drawing".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": [{ "type": "string", "minLength": 1 }, generator.subschema_for::<DrawingFileEntry>()] })
    }
}

/// How large a drawing is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ScaleWord(pub(crate) Scale);

impl FromToml for ScaleWord {
    const EXPECTED: &'static str = "\"as drawn\", \"by its square\", or how many times as large, such as 1.008";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let number = match value.get_ref() {
            DeValue::Integer(number) => number.as_str().parse::<f64>().ok(),
            DeValue::Float(number) => number.as_str().parse::<f64>().ok(),
            _ => {
                let choices = [("as drawn", Scale::AsDrawn), ("by its square", Scale::BySquare)];
                return read_choice(value, Self::EXPECTED, &choices, findings).map(Self);
            }
        };
        let times = number.filter(|times| (1e-3..=1e3).contains(times));
        if times.is_none() {
            wrong_kind(value, Self::EXPECTED, None, findings);
        }
        times.map(|times| Self(Scale::Times(times)))
    }
}

impl JsonSchema for ScaleWord {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Scale".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": [{ "enum": ["as drawn", "by its square"] }, { "type": "number", "minimum": 0.001, "maximum": 1000 }] })
    }
}

/// What becomes of small dips and bumps of outlines that look like notches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "CutNotches")]
pub(crate) enum CutNotchesWord {
    /// They are notches, and the outline goes on without them.
    #[schemars(rename = "taken out")]
    TakenOut,
    /// They stay in the outline.
    #[schemars(rename = "as drawn")]
    AsDrawn,
}

impl CutNotchesWord {
    /// What it means.
    pub(crate) fn meaning(self) -> CutNotches {
        match self {
            Self::TakenOut => CutNotches::TakenOut,
            Self::AsDrawn => CutNotches::AsDrawn,
        }
    }
}

impl FromToml for CutNotchesWord {
    const EXPECTED: &'static str = "\"taken out\" or \"as drawn\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("taken out", Self::TakenOut), ("as drawn", Self::AsDrawn)], findings)
    }
}

/// Which line an outline is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "OutlineIs")]
pub(crate) enum OutlineWord {
    /// The line to cut along.
    #[schemars(rename = "cutting line")]
    Cutting,
    /// The line to sew along.
    #[schemars(rename = "seam line")]
    Seam,
}

impl FromToml for OutlineWord {
    const EXPECTED: &'static str = "\"cutting line\" or \"seam line\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("cutting line", Self::Cutting), ("seam line", Self::Seam)], findings)
    }
}

/// What strokes are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct RoleWord(pub(crate) Role);

impl FromToml for RoleWord {
    const EXPECTED: &'static str = "what its lines are, such as \"cutting line\", \"grainline\" or \"ignored\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let words: Vec<(String, Role)> = Role::ALL.iter().map(|role| (role.to_string(), *role)).collect();
        let choices: Vec<(&str, Role)> = words.iter().map(|(word, role)| (word.as_str(), *role)).collect();
        read_choice(value, Self::EXPECTED, &choices, findings).map(Self)
    }
}

impl JsonSchema for RoleWord {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "LinesAre".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let words: Vec<String> = Role::ALL.iter().map(ToString::to_string).collect();
        json_schema!({ "enum": words })
    }
}

/// Which piece of the drawing is meant.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum PickWord {
    /// The one the drawing calls so.
    Called(String),
    /// The one that holds this point of the drawing, mm from its lower left corner unless `coordinates` says otherwise.
    Around(Pair),
}

impl FromToml for PickWord {
    const EXPECTED: &'static str = "what the drawing calls the piece, or a point in it such as [412, 250]";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::Array(_) => Pair::from_toml(value, findings).map(Self::Around),
            _ => read_text(value, Self::EXPECTED, findings).map(|text| Self::Called(text.trim().to_owned())),
        }
    }
}

impl JsonSchema for PickWord {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Pick".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": [{ "type": "string", "minLength": 1 }, generator.subschema_for::<Pair>()] })
    }
}

/// Sides of a picked outline by their numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct SideNumbers(pub(crate) Vec<u64>);

impl FromToml for SideNumbers {
    const EXPECTED: &'static str = "the number of a side, such as 2, or a list of neighbours, such as [2, 3]";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let number = |item: &Value<'_>| match item.get_ref() {
            DeValue::Integer(number) => number.as_str().parse::<u64>().ok(),
            _ => None,
        };
        let numbers = match value.get_ref() {
            DeValue::Array(items) if !items.is_empty() => items.iter().map(number).collect(),
            _ => number(value).map(|number| vec![number]),
        };
        if numbers.is_none() {
            wrong_kind(value, Self::EXPECTED, None, findings);
        }
        numbers.map(Self)
    }
}

impl JsonSchema for SideNumbers {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "SideNumbers".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": [{ "type": "integer", "minimum": 1 }, { "type": "array", "items": { "type": "integer", "minimum": 1 }, "minItems": 1 }] })
    }
}

/// The keys of a piece that is picked from a drawing.
#[derive(Debug, Clone, Default, JsonSchema)]
pub(crate) struct PickKeys {
    /// Which piece of the drawing it is.
    pub(crate) pick: Option<At<PickWord>>,
    /// Names for its sides, by the numbers on the sheet of what was understood.
    pub(crate) sides: Option<At<Named<SideNumbers>>>,
    /// Which way each of its darts is pressed.
    pub(crate) pressed: Option<At<Named<PressedWord>>>,
}

impl PickKeys {
    pub(super) fn read(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            pick: fields.optional("pick", findings),
            sides: fields.optional("sides", findings),
            pressed: fields.optional("pressed", findings),
        }
    }
}
