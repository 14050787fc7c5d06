//! What a pattern file says of a piece given by its measures, key by key.

use schemars::JsonSchema;

use super::measure_format::{Fraction, Fullness, MeasureWord};
use crate::{
    Angle, Length, SignedLength,
    document::{At, Count, Fields, FromTable, FromToml, Value, read_choice},
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
        "pieced",
        "join_allowance",
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
    /// A skirt or flounce that is all or part of a circle, from its waist.
    pub(crate) circle_skirt: Option<At<CircleSkirt>>,
    /// A disc.
    pub(crate) circle: Option<At<Circle>>,
    /// An ellipse.
    pub(crate) oval: Option<At<Oval>>,
    /// A strip of any length, joined from as many as the cloth it is cut from takes.
    pub(crate) joined_strip: Option<At<JoinedStrip>>,
    /// Widths of a curtain, as many as the cloth it is cut from takes.
    pub(crate) curtain: Option<At<Curtain>>,
}

impl ShapeEntry {
    /// Its shapes by their keys, and whether each is given.
    pub(super) fn given(&self) -> [(&'static str, bool); 9] {
        [
            ("rectangle", self.rectangle.is_some()),
            ("trapezoid", self.trapezoid.is_some()),
            ("ring_sector", self.ring_sector.is_some()),
            ("strip", self.strip.is_some()),
            ("circle_skirt", self.circle_skirt.is_some()),
            ("circle", self.circle.is_some()),
            ("oval", self.oval.is_some()),
            ("joined_strip", self.joined_strip.is_some()),
            ("curtain", self.curtain.is_some()),
        ]
    }

    /// Whether the shape itself says how many are cut for one of what it makes, so that a count is of those.
    pub(super) fn counts(&self) -> bool {
        self.circle_skirt.is_some() || self.joined_strip.is_some() || self.curtain.is_some()
    }

    /// How many panels one of it has, whatever the cloth.
    pub(super) fn panels(&self) -> u64 {
        let panels = self.circle_skirt.as_ref().and_then(|skirt| skirt.value.panels.as_ref());
        panels.map_or(1, |panels| panels.value.0)
    }

    /// The measure that may be taken from the body or from edges.
    pub(super) fn taken(&self) -> Option<&At<MeasureWord>> {
        let waist = self.circle_skirt.as_ref().and_then(|skirt| skirt.value.waist.as_ref());
        waist.or_else(|| self.joined_strip.as_ref().and_then(|strip| strip.value.length.as_ref()))
    }
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
            circle_skirt: fields.optional("circle_skirt", findings),
            circle: fields.optional("circle", findings),
            oval: fields.optional("oval", findings),
            joined_strip: fields.optional("joined_strip", findings),
            curtain: fields.optional("curtain", findings),
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

/// All or part of a circle, hung from its waist.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct CircleSkirt {
    /// The waist it is sewn to, on its seam line, all panels together.
    #[schemars(required)]
    pub(crate) waist: Option<At<MeasureWord>>,
    /// How much wider than that it is, to be eased or gathered in; below zero narrower.
    pub(crate) ease: Option<At<SignedLength>>,
    /// How much of a circle it is; a full one when left out.
    pub(crate) fraction: Option<At<Fraction>>,
    /// From waist to hem, on the seam lines.
    #[schemars(required)]
    pub(crate) length: Option<At<Length>>,
    /// In how many panels; one when left out.
    pub(crate) panels: Option<At<Count>>,
}

impl FromTable for CircleSkirt {
    const WHAT: &'static str = "a circle skirt";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            waist: fields.required("waist", findings),
            ease: fields.optional("ease", findings),
            fraction: fields.optional("fraction", findings),
            length: fields.required("length", findings),
            panels: fields.optional("panels", findings),
        }
    }
}

/// A disc, by its diameter or by the button that it covers.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields, extend("minProperties" = 1, "maxProperties" = 1))]
pub(crate) struct Circle {
    /// From edge to edge.
    pub(crate) diameter: Option<At<Length>>,
    /// The diameter of a button to cover: the disc is twice as wide.
    pub(crate) covers: Option<At<Length>>,
}

impl FromTable for Circle {
    const WHAT: &'static str = "a circle";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { diameter: fields.optional("diameter", findings), covers: fields.optional("covers", findings) }
    }
}

/// An ellipse.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Oval {
    /// From left to right.
    #[schemars(required)]
    pub(crate) width: Option<At<Length>>,
    /// From bottom to top.
    #[schemars(required)]
    pub(crate) height: Option<At<Length>>,
}

impl FromTable for Oval {
    const WHAT: &'static str = "an oval";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { width: fields.required("width", findings), height: fields.required("height", findings) }
    }
}

/// A strip that is joined from several: a ruffle, a gathered skirt, a binding.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct JoinedStrip {
    /// How long it is when it is sewn on.
    #[schemars(required)]
    pub(crate) length: Option<At<MeasureWord>>,
    /// How many times as long it is before it is gathered; once when left out.
    pub(crate) fullness: Option<At<Fullness>>,
    /// From seam line to seam line, or from edge to edge where it has no allowance.
    pub(crate) width: Option<At<Length>>,
    /// In place of `width`: the finished width of a binding that is turned twice, and cut four times as wide.
    pub(crate) turned_twice: Option<At<Length>>,
    /// Which way its length runs; across the cloth when left out.
    pub(crate) run: Option<At<RunWord>>,
    /// How much of the cloth the rectangle of bias strips may take across; all of it when left out.
    pub(crate) across: Option<At<Length>>,
}

impl FromTable for JoinedStrip {
    const WHAT: &'static str = "a joined strip";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            length: fields.required("length", findings),
            fullness: fields.optional("fullness", findings),
            width: fields.optional("width", findings),
            turned_twice: fields.optional("turned_twice", findings),
            run: fields.optional("run", findings),
            across: fields.optional("across", findings),
        }
    }
}

/// Which way the length of a joined strip runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Run", rename_all = "lowercase")]
pub(crate) enum RunWord {
    /// From selvage to selvage: as many strips as it takes.
    Across,
    /// Along the selvage: one strip.
    Along,
    /// At 45 degrees: as many strips as it takes, from a rectangle of the cloth.
    Bias,
}

impl FromToml for RunWord {
    const EXPECTED: &'static str = "\"across\", \"along\" or \"bias\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("across", Self::Across), ("along", Self::Along), ("bias", Self::Bias)];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}

/// Curtains of whole widths of the cloth.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Curtain {
    /// The rod or track they hang from.
    #[schemars(required)]
    pub(crate) rod: Option<At<Length>>,
    /// How many times as wide as the rod they are before they are gathered or pleated; once when left out.
    pub(crate) fullness: Option<At<Fullness>>,
    /// Added to that: returns, side hems, the overlap in the middle.
    pub(crate) plus: Option<At<Length>>,
    /// From top to hem line when they hang.
    #[schemars(required)]
    pub(crate) drop: Option<At<Length>>,
}

impl FromTable for Curtain {
    const WHAT: &'static str = "a curtain";
    const ELSEWHERE: (&'static [&'static str], &'static str) = OF_THE_PIECE;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            rod: fields.required("rod", findings),
            fullness: fields.optional("fullness", findings),
            plus: fields.optional("plus", findings),
            drop: fields.required("drop", findings),
        }
    }
}
