//! What a pattern file says of the cloths that suit it, key by key.

use schemars::JsonSchema;

use crate::{
    ClothWeight, Share,
    document::{At, Fields, FromTable, FromToml, Name, Value, read_choice},
    findings::Findings,
};

/// What suits one cloth of a pattern. A cloth that does not is noted, and cut all the same.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct SuitsEntry {
    /// Kinds of cloth, such as "linen" or "corduroy".
    pub(crate) kinds: Option<At<Vec<At<Name>>>>,
    /// The lightest and the heaviest.
    #[schemars(length(equal = 2))]
    pub(crate) weight: Option<At<Vec<At<ClothWeight>>>>,
    /// How much it must stretch across at least.
    pub(crate) stretch: Option<At<Share>>,
    /// What it must not have.
    pub(crate) not_for: Option<At<Vec<At<NotForWord>>>>,
}

impl FromTable for SuitsEntry {
    const WHAT: &'static str = "what suits a cloth";
    const BY_NAME: &'static str = "a table for each cloth, such as [suits.main] with kinds = [\"linen\", \"chambray\"]";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            kinds: fields.optional("kinds", findings),
            weight: fields.optional("weight", findings),
            stretch: fields.optional("stretch", findings),
            not_for: fields.optional("not_for", findings),
        }
    }
}

/// What a pattern may not be for, as envelopes say it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "NotFor")]
pub(crate) enum NotForWord {
    /// A weave whose diagonal is seen.
    #[schemars(rename = "obvious diagonals")]
    ObviousDiagonals,
    /// A design that repeats in one direction.
    #[schemars(rename = "stripes")]
    Stripes,
    /// A design that repeats in both.
    #[schemars(rename = "plaids")]
    Plaids,
    /// Nap, pile, sheen or a one-way print.
    #[schemars(rename = "nap")]
    Nap,
    /// A border along a selvage.
    #[schemars(rename = "borders")]
    Borders,
}

impl NotForWord {
    /// The word.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::ObviousDiagonals => "obvious diagonals",
            Self::Stripes => "stripes",
            Self::Plaids => "plaids",
            Self::Nap => "nap",
            Self::Borders => "borders",
        }
    }
}

impl FromToml for NotForWord {
    const EXPECTED: &'static str = "\"obvious diagonals\", \"stripes\", \"plaids\", \"nap\" or \"borders\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let all = [Self::ObviousDiagonals, Self::Stripes, Self::Plaids, Self::Nap, Self::Borders];
        read_choice(value, Self::EXPECTED, &all.map(|one| (one.word(), one)), findings)
    }
}
