//! What a job or a stash says of a remnant, key by key.

use ellwand_garment::Selvages;
use schemars::JsonSchema;

use super::format::FlawEntry;
use crate::{
    Length,
    document::{At, Fields, FromTable, FromToml, Name, Pair, Value, read_choice},
    findings::Findings,
    limits::Counted,
    pattern::CoordinateUnit,
};

/// The format line of a stash.
pub(crate) const FORMAT: &str = "ellwand-remnants-1";

/// A piece of cloth on hand.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct RemnantEntry {
    /// What it is called.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// From its lower end to its upper one, along the warp.
    pub(crate) length: Option<At<Length>>,
    /// From side to side; as wide as the cloth when left out.
    pub(crate) width: Option<At<Length>>,
    /// The corners of its edge in place of these, across and along, in the order in which the edge passes them.
    #[schemars(length(min = 3))]
    pub(crate) outline: Option<At<Vec<At<Pair>>>>,
    /// Unit of the bare numbers of the outline.
    pub(crate) coordinates: Option<At<CoordinateUnit>>,
    /// Which sides still have a selvage; both of one as wide as the cloth, otherwise none when left out.
    pub(crate) selvage: Option<At<SelvageWord>>,
    /// Spots to avoid, from its left and from its lower end.
    pub(crate) flaws: Option<At<Vec<At<FlawEntry>>>>,
    /// Where old folds run along it that do not press out, each from its left.
    pub(crate) creases: Option<At<Vec<At<Length>>>>,
    /// Whether it was washed already; it shrinks as the cloth does when left out.
    pub(crate) washed: Option<At<bool>>,
    /// From its left to the middle of a dominant bar of the design.
    pub(crate) offset_across: Option<At<Length>>,
    /// From its lower end to the middle of a dominant bar of the design.
    pub(crate) offset_along: Option<At<Length>>,
}

impl FromTable for RemnantEntry {
    const WHAT: &'static str = "a remnant";
    const MANY: Counted = Counted::Remnants;
    const ELSEWHERE: (&'static [&'static str], &'static str) = (&["cloth", "job", "used_by"], "a file of remnants");

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            length: fields.optional("length", findings),
            width: fields.optional("width", findings),
            outline: fields.optional("outline", findings),
            coordinates: fields.optional("coordinates", findings),
            selvage: fields.optional("selvage", findings),
            flaws: fields.optional("flaws", findings),
            creases: fields.optional("creases", findings),
            washed: fields.optional("washed", findings),
            offset_across: fields.optional("offset_across", findings),
            offset_along: fields.optional("offset_along", findings),
        }
    }
}

/// Remnants of several cloths, kept from job to job.
#[derive(Debug)]
pub(crate) struct StashFile {
    #[expect(dead_code, reason = "judged before the rest is read")]
    pub(crate) format: Option<At<String>>,
    pub(crate) remnant: Option<At<Vec<At<StashedEntry>>>>,
}

impl FromTable for StashFile {
    const WHAT: &'static str = "a stash";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { format: fields.format(FORMAT, findings), remnant: fields.optional("remnant", findings) }
    }
}

/// A remnant in a stash.
#[derive(Debug)]
pub(crate) struct StashedEntry {
    /// The cloth it is of, by name.
    pub(crate) cloth: Option<At<Name>>,
    /// The job that left it.
    pub(crate) job: Option<At<Name>>,
    /// The job that is cut from it.
    pub(crate) used_by: Option<At<Name>>,
    pub(crate) remnant: RemnantEntry,
}

impl FromTable for StashedEntry {
    const WHAT: &'static str = "a remnant of a stash";
    const MANY: Counted = Counted::Remnants;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            cloth: fields.required("cloth", findings),
            job: fields.optional("job", findings),
            used_by: fields.optional("used_by", findings),
            remnant: RemnantEntry::from_table(fields, findings),
        }
    }
}

/// Which sides have a selvage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Selvages", rename_all = "lowercase")]
pub(crate) enum SelvageWord {
    /// Left and right.
    Both,
    /// The left one.
    Left,
    /// The right one.
    Right,
    /// Neither.
    None,
}

impl From<SelvageWord> for Selvages {
    fn from(word: SelvageWord) -> Self {
        match word {
            SelvageWord::Both => Self::Both,
            SelvageWord::Left => Self::Left,
            SelvageWord::Right => Self::Right,
            SelvageWord::None => Self::None,
        }
    }
}

impl FromToml for SelvageWord {
    const EXPECTED: &'static str = "\"left\", \"right\", \"both\" or \"none\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("left", Self::Left), ("right", Self::Right), ("both", Self::Both), ("none", Self::None)];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}
