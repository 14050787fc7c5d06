//! What a pattern file says of the pages that a large drawing was cut into.

use ellwand_trace::{TileGrid, TileOrder, TileStart, Tiles};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::de::DeValue;

use crate::{
    Length,
    document::{At, Count, Fields, FromTable, FromToml, Value, read_choice, wrong_kind},
    fault::PickedFault,
    findings::Findings,
};

/// How the pages of a drawing belong together: as a grid, or not at all.
#[derive(Debug, Clone)]
pub(crate) enum TilesKey {
    /// "apart".
    Apart,
    /// A grid.
    Grid(TilesEntry),
}

/// A grid of pages; what it leaves out is found.
#[derive(Debug, Clone, Default, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct TilesEntry {
    /// How many pages lie side by side.
    #[schemars(required)]
    pub(crate) columns: Option<At<Count>>,
    /// Whether pages follow each other along rows or along columns.
    pub(crate) order: Option<At<OrderWord>>,
    /// Whether the first page lies at the top or at the bottom.
    pub(crate) from: Option<At<FromWord>>,
    /// How much of what a page shows its neighbour shows too.
    pub(crate) overlap: Option<At<Length>>,
    /// How much is to be cut off along each border of a page.
    pub(crate) trim: Option<At<Length>>,
}

impl FromTable for TilesEntry {
    const WHAT: &'static str = "a grid of pages, or \"apart\"";
    const LIKE: Option<&'static str> = Some("{ columns = 4 } or { columns = 4, order = \"rows\", from = \"top\" }");

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            columns: fields.required("columns", findings),
            order: fields.optional("order", findings),
            from: fields.optional("from", findings),
            overlap: fields.optional("overlap", findings),
            trim: fields.optional("trim", findings),
        }
    }
}

/// A strip of a page is at most so wide, mm.
const WIDEST_STRIP: f64 = 300.0;

/// So many pages lie side by side at most.
const MOST_COLUMNS: u64 = 300;

impl TilesKey {
    /// What it means; none where a number cannot be, with the fault noted.
    pub(crate) fn meaning(&self, findings: &mut Findings) -> Option<Tiles> {
        let entry = match self {
            Self::Apart => return Some(Tiles::Apart),
            Self::Grid(entry) => entry,
        };
        let columns = entry.columns.as_ref()?;
        if !(1..=MOST_COLUMNS).contains(&columns.value.0) {
            let what = format!("`columns` is {}: so many pages cannot lie side by side", columns.value.0);
            findings.add(&columns.span, PickedFault::Pages { what, remedy: COLUMNS });
            return None;
        }
        let mut strip = |length: &Option<At<Length>>| match length {
            None => Some(None),
            Some(length) if (0.0..=WIDEST_STRIP).contains(&length.value.mm()) => Some(Some(length.value.mm())),
            Some(length) => {
                let what = format!("a strip of {:.0} mm leaves nothing of a page", length.value.mm());
                findings.add(&length.span, PickedFault::Pages { what, remedy: STRIP });
                None
            }
        };
        Some(Tiles::Grid(TileGrid {
            overlap: strip(&entry.overlap)?,
            trim: strip(&entry.trim)?,
            columns: columns.value.0 as usize,
            order: entry.order.as_ref().map(|order| order.value.0),
            from: entry.from.as_ref().map(|from| from.value.0),
        }))
    }
}

const COLUMNS: &str = "count the pages of one row and write that, from 1 to 300, such as columns = 4";

const STRIP: &str = "measure the strip on one page, such as overlap = \"10 mm\"";

impl FromToml for TilesKey {
    const EXPECTED: &'static str = "a grid of pages, or \"apart\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(_) => read_choice(value, Self::EXPECTED, &[("apart", ())], findings).map(|()| Self::Apart),
            DeValue::Table(_) => TilesEntry::from_toml(value, findings).map(Self::Grid),
            _ => {
                wrong_kind(value, Self::EXPECTED, TilesEntry::LIKE.map(str::to_owned), findings);
                None
            }
        }
    }
}

impl JsonSchema for TilesKey {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Tiles".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": [{ "enum": ["apart"] }, generator.subschema_for::<TilesEntry>()] })
    }
}

/// How pages follow each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct OrderWord(pub(crate) TileOrder);

impl FromToml for OrderWord {
    const EXPECTED: &'static str = "\"rows\" or \"columns\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("rows", TileOrder::Rows), ("columns", TileOrder::Columns)];
        read_choice(value, Self::EXPECTED, &choices, findings).map(Self)
    }
}

impl JsonSchema for OrderWord {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "TileOrder".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "enum": ["rows", "columns"] })
    }
}

/// Where pages begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct FromWord(pub(crate) TileStart);

impl FromToml for FromWord {
    const EXPECTED: &'static str = "\"top\" or \"bottom\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("top", TileStart::Top), ("bottom", TileStart::Bottom)];
        read_choice(value, Self::EXPECTED, &choices, findings).map(Self)
    }
}

impl JsonSchema for FromWord {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "TileStart".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "enum": ["top", "bottom"] })
    }
}
