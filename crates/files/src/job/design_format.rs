//! What a job file says about the design of a cloth, key by key. All lengths are of the cloth as bought.

use std::borrow::Cow;

use ellwand_garment::{Balance, BorderSides, Drop};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use crate::{
    Length,
    document::{At, Fields, FromTable, FromToml, Value, read_choice, read_text},
    fault::DesignFault,
    findings::Findings,
};

/// The design of a cloth: a repeat in one direction or both, a border, or all of them.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct DesignEntry {
    /// The repeat from selvage to selvage.
    pub(crate) across: Option<At<RepeatEntry>>,
    /// The repeat along the warp.
    pub(crate) along: Option<At<RepeatEntry>>,
    /// How neighbouring columns of the repeat stand to each other; straight when left out.
    pub(crate) drop: Option<At<DropWord>>,
    /// Colour between the bars.
    pub(crate) ground: Option<At<Colour>>,
    /// What runs along the selvages.
    pub(crate) border: Option<At<BorderEntry>>,
}

impl FromTable for DesignEntry {
    const WHAT: &'static str = "a design";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            across: fields.optional("across", findings),
            along: fields.optional("along", findings),
            drop: fields.optional("drop", findings),
            ground: fields.optional("ground", findings),
            border: fields.optional("border", findings),
        }
    }
}

/// One direction of a design.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct RepeatEntry {
    /// From one place in the design to the next that is alike; in a half drop from one column to the next.
    #[schemars(required)]
    pub(crate) repeat: Option<At<Length>>,
    /// Where the middle of a dominant bar or motif stands: from the left edge or from the cut end; unknown when left out, as it is
    /// while the cloth is on the roll.
    pub(crate) offset: Option<At<Length>>,
    /// Whether the design reads the same from both sides.
    #[schemars(required)]
    pub(crate) balance: Option<At<BalanceWord>>,
    /// Its bars, for the drawing.
    pub(crate) bars: Option<At<Vec<At<BarEntry>>>>,
}

impl FromTable for RepeatEntry {
    const WHAT: &'static str = "a direction of a design";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            repeat: fields.required("repeat", findings),
            offset: fields.optional("offset", findings),
            balance: fields.required("balance", findings),
            bars: fields.optional("bars", findings),
        }
    }
}

/// A bar of a stripe or plaid.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct BarEntry {
    /// Its middle, counted from the middle of the dominant bar to the right or upwards.
    #[schemars(required)]
    pub(crate) at: Option<At<Length>>,
    /// Its width.
    #[schemars(required)]
    pub(crate) width: Option<At<Length>>,
    /// Its colour.
    #[schemars(required)]
    pub(crate) colour: Option<At<Colour>>,
}

impl FromTable for BarEntry {
    const WHAT: &'static str = "a bar";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            at: fields.required("at", findings),
            width: fields.required("width", findings),
            colour: fields.required("colour", findings),
        }
    }
}

/// A border along the selvages.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct BorderEntry {
    /// Along which selvage.
    #[schemars(required)]
    pub(crate) along: Option<At<BorderSidesWord>>,
    /// How far it reaches from the edge of the cloth.
    #[schemars(required)]
    pub(crate) width: Option<At<Length>>,
    /// Its colour.
    pub(crate) colour: Option<At<Colour>>,
}

impl FromTable for BorderEntry {
    const WHAT: &'static str = "a border";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            along: fields.required("along", findings),
            width: fields.required("width", findings),
            colour: fields.optional("colour", findings),
        }
    }
}

/// Whether a design reads the same from both sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Balance", rename_all = "lowercase")]
pub(crate) enum BalanceWord {
    /// Bars and spaces repeat alike on both sides of the dominant bar.
    Even,
    /// They read in one direction only.
    Uneven,
}

impl From<BalanceWord> for Balance {
    fn from(word: BalanceWord) -> Self {
        match word {
            BalanceWord::Even => Self::Even,
            BalanceWord::Uneven => Self::Uneven,
        }
    }
}

impl FromToml for BalanceWord {
    const EXPECTED: &'static str = "\"even\" or \"uneven\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("even", Self::Even), ("uneven", Self::Uneven)], findings)
    }
}

/// How neighbouring columns of a repeat stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Drop", rename_all = "lowercase")]
pub(crate) enum DropWord {
    /// Side by side.
    Straight,
    /// Each half a repeat lower than the one before.
    Half,
}

impl From<DropWord> for Drop {
    fn from(word: DropWord) -> Self {
        match word {
            DropWord::Straight => Self::Straight,
            DropWord::Half => Self::Half,
        }
    }
}

impl FromToml for DropWord {
    const EXPECTED: &'static str = "\"straight\" or \"half\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("straight", Self::Straight), ("half", Self::Half)], findings)
    }
}

/// The selvages a border runs along.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "BorderSides")]
pub(crate) enum BorderSidesWord {
    /// The left one.
    #[schemars(rename = "left selvage")]
    Left,
    /// The right one.
    #[schemars(rename = "right selvage")]
    Right,
    /// Both.
    #[schemars(rename = "both selvages")]
    Both,
}

impl From<BorderSidesWord> for BorderSides {
    fn from(word: BorderSidesWord) -> Self {
        match word {
            BorderSidesWord::Left => Self::Left,
            BorderSidesWord::Right => Self::Right,
            BorderSidesWord::Both => Self::Both,
        }
    }
}

impl FromToml for BorderSidesWord {
    const EXPECTED: &'static str = "\"left selvage\", \"right selvage\" or \"both selvages\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("left selvage", Self::Left), ("right selvage", Self::Right), ("both selvages", Self::Both)];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}

/// A colour, as `#rrggbb`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Colour(pub(crate) String);

impl JsonSchema for Colour {
    fn schema_name() -> Cow<'static, str> {
        "Colour".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "A colour as red, green and blue in two hexadecimal digits each, such as \"#203a5c\"",
            "pattern": "^#[0-9a-fA-F]{6}$"
        })
    }
}

impl FromToml for Colour {
    const EXPECTED: &'static str = "a colour in quotes, such as \"#203a5c\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let text = read_text(value, Self::EXPECTED, findings)?;
        let is_colour = text
            .strip_prefix('#')
            .is_some_and(|digits| digits.len() == 6 && digits.chars().all(|digit| digit.is_ascii_hexdigit()));
        if !is_colour {
            findings.add(&value.span(), DesignFault::NotAColour { found: text.to_owned() });
            return None;
        }
        Some(Self(text.to_ascii_lowercase()))
    }
}
