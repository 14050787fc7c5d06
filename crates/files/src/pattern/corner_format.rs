//! The words for how an allowance ends beside its neighbours.

use ellwand_geometry::CornerShape;
use schemars::JsonSchema;

use crate::{
    document::{FromToml, Value, read_choice},
    findings::Findings,
};

/// How an allowance ends beside its neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename_all = "lowercase")]
pub(crate) enum CornerWord {
    /// Turned up over its neighbour: the mirror image of what it comes to lie on.
    Mirrored,
    /// Square to the seam line.
    Square,
    /// Both cutting lines run straight on until they meet.
    #[schemars(rename = "straight on")]
    StraightOn,
    /// A diagonal seam between two allowances that are both turned up; both edges say so.
    Mitred,
}

impl From<CornerWord> for CornerShape {
    fn from(word: CornerWord) -> Self {
        match word {
            CornerWord::Mirrored => Self::Mirrored,
            CornerWord::Square => Self::Square,
            CornerWord::StraightOn => Self::StraightOn,
            CornerWord::Mitred => Self::Mitred,
        }
    }
}

impl FromToml for CornerWord {
    const EXPECTED: &'static str = "\"mirrored\", \"square\", \"straight on\" or \"mitred\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [
            ("mirrored", Self::Mirrored),
            ("square", Self::Square),
            ("straight on", Self::StraightOn),
            ("mitred", Self::Mitred),
        ];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}
