//! What a pattern file says of a piece given by its measures, key by key.

use schemars::JsonSchema;

use crate::{
    Angle, Length,
    document::{At, Fields, FromTable, FromToml, Value, read_choice},
    findings::Findings,
};

/// Which measure the grain runs along.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename_all = "lowercase")]
pub(crate) enum GrainAlong {
    Height,
    Width,
}

impl FromToml for GrainAlong {
    const EXPECTED: &'static str = "\"height\" or \"width\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("height", Self::Height), ("width", Self::Width)], findings)
    }
}

/// Keys of a piece, whatever its shape, and where they stand.
const OF_THE_PIECE: (&[&str], &str) = (
    &[
        "name",
        "cut",
        "fold_edge",
        "seam_allowance",
        "allowances",
        "corners",
        "grainline",
        "grain",
        "grain_along",
        "notches",
        "points",
    ],
    "the [[piece]] itself, beside `shape`",
);

/// A piece by its measures; exactly one of the shapes.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields, extend("minProperties" = 1, "maxProperties" = 1))]
pub(crate) struct ShapeEntry {
    /// Four right angles.
    pub(crate) rectangle: Option<At<Rectangle>>,
    /// Two parallel sides, the same slant left and right, or a straight fold edge and one slanted side.
    pub(crate) trapezoid: Option<At<Trapezoid>>,
    /// Part of a ring, or of a disc when the inner radius is 0.
    pub(crate) ring_sector: Option<At<RingSector>>,
    /// A long rectangle with the grain along its length.
    pub(crate) strip: Option<At<Strip>>,
}

impl FromTable for ShapeEntry {
    const WHAT: &'static str = "a measured shape";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            rectangle: fields.optional("rectangle", findings),
            trapezoid: fields.optional("trapezoid", findings),
            ring_sector: fields.optional("ring_sector", findings),
            strip: fields.optional("strip", findings),
        }
    }
}

/// A rectangle.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Rectangle {
    /// From left to right.
    #[schemars(required)]
    pub(crate) width: Option<At<Length>>,
    /// From bottom to top.
    #[schemars(required)]
    pub(crate) height: Option<At<Length>>,
}

impl FromTable for Rectangle {
    const WHAT: &'static str = "a rectangle";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { width: fields.required("width", findings), height: fields.required("height", findings) }
    }
}

/// A trapezoid.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Trapezoid {
    /// Length of the top side.
    #[schemars(required)]
    pub(crate) top: Option<At<Length>>,
    /// Length of the bottom side.
    #[schemars(required)]
    pub(crate) bottom: Option<At<Length>>,
    /// From bottom to top.
    #[schemars(required)]
    pub(crate) height: Option<At<Length>>,
}

impl FromTable for Trapezoid {
    const WHAT: &'static str = "a trapezoid";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            top: fields.required("top", findings),
            bottom: fields.required("bottom", findings),
            height: fields.required("height", findings),
        }
    }
}

/// Part of a ring.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct RingSector {
    /// Radius of the inner edge, such as a waist.
    #[schemars(required)]
    pub(crate) inner_radius: Option<At<Length>>,
    /// From the inner to the outer edge.
    #[schemars(required)]
    pub(crate) length: Option<At<Length>>,
    /// The angle it spans.
    #[schemars(required)]
    pub(crate) angle: Option<At<Angle>>,
}

impl FromTable for RingSector {
    const WHAT: &'static str = "a ring sector";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            inner_radius: fields.required("inner_radius", findings),
            length: fields.required("length", findings),
            angle: fields.required("angle", findings),
        }
    }
}

/// A strip.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Strip {
    /// Along the grain, from bottom to top.
    #[schemars(required)]
    pub(crate) length: Option<At<Length>>,
    /// From left to right.
    #[schemars(required)]
    pub(crate) width: Option<At<Length>>,
}

impl FromTable for Strip {
    const WHAT: &'static str = "a strip";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { length: fields.required("length", findings), width: fields.required("width", findings) }
    }
}
