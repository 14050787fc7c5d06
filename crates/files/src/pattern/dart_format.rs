//! What a pattern file says of a dart, key by key.

use ellwand_garment::Pressed;
use schemars::JsonSchema;

use crate::{
    Length,
    document::{At, Fields, FromTable, FromToml, Name, Pair, Value, read_choice},
    findings::Findings,
};

/// A dart: cloth folded away along two legs that meet in a point.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct DartEntry {
    /// What it is called.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// Where its two legs end on the outline, however the outline runs between them; of a dart inside the piece its widest place.
    #[schemars(required, length(equal = 2))]
    pub(crate) legs: Option<At<Vec<At<Pair>>>>,
    /// Its point.
    pub(crate) point: Option<At<Pair>>,
    /// Both points of a dart inside the piece.
    #[schemars(length(equal = 2))]
    pub(crate) points: Option<At<Vec<At<Pair>>>>,
    /// Which way its fold is pressed, as drawn; needed unless it is cut open.
    pub(crate) pressed: Option<At<PressedWord>>,
    /// The allowance along its legs where it is cut out instead of folded.
    pub(crate) cut_open: Option<At<Length>>,
}

impl FromTable for DartEntry {
    const WHAT: &'static str = "a dart";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            legs: fields.required("legs", findings),
            point: fields.optional("point", findings),
            points: fields.optional("points", findings),
            pressed: fields.optional("pressed", findings),
            cut_open: fields.optional("cut_open", findings),
        }
    }
}

/// Which way a dart is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Pressed", rename_all = "lowercase")]
pub(crate) enum PressedWord {
    /// Towards the lower edge of the drawing.
    Down,
    /// Towards the upper edge.
    Up,
    /// Towards the left.
    Left,
    /// Towards the right.
    Right,
}

impl From<PressedWord> for Pressed {
    fn from(word: PressedWord) -> Self {
        match word {
            PressedWord::Down => Self::Down,
            PressedWord::Up => Self::Up,
            PressedWord::Left => Self::Left,
            PressedWord::Right => Self::Right,
        }
    }
}

impl FromToml for PressedWord {
    const EXPECTED: &'static str = "\"down\", \"up\", \"left\" or \"right\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("down", Self::Down), ("up", Self::Up), ("left", Self::Left), ("right", Self::Right)];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}
