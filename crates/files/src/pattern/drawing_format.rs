//! What a pattern file says of a drawing, key by key: outline, grainline and marks, the same for a piece drawn once and for each of its
//! sizes.

use schemars::JsonSchema;

use super::corner_format::CornerWord;
use super::dart_format::DartEntry;
use crate::{
    Length,
    document::{At, Fields, FromTable, Height, Name, Named, Pair},
    findings::Findings,
    limits::Counted,
};

/// A drawing.
#[derive(Debug, Clone, Default, JsonSchema)]
pub(crate) struct DrawingEntry {
    /// Low and high end of the grainline.
    pub(crate) grainline: Option<At<Vec<At<Pair>>>>,
    /// Where the outline starts.
    pub(crate) start: Option<At<Pair>>,
    /// The outline's edges in order; the last ends at the start.
    pub(crate) edges: Option<At<Vec<At<EdgeEntry>>>>,
    /// Marks on the outline.
    pub(crate) notches: Option<At<Vec<At<NotchEntry>>>>,
    /// Other named points.
    pub(crate) points: Option<At<Named<Pair>>>,
    /// Darts.
    pub(crate) darts: Option<At<Vec<At<DartEntry>>>>,
    /// Height in the drawing of each level of the body that crosses it: bust, waist, hip.
    pub(crate) levels: Option<At<Named<Height>>>,
    /// Height in the drawing of each line at which it may be lengthened or shortened.
    pub(crate) lines: Option<At<Named<Height>>>,
}

impl DrawingEntry {
    /// Reads the keys of a drawing among those of a table. Its outline must be there when the table is `outlined`, some
    /// special kind.
    pub(super) fn read(fields: &mut Fields<'_, '_>, outlined: Option<&'static str>, findings: &mut Findings) -> Self {
        let (grainline, start, edges) = match outlined {
            Some(of) => (
                fields.required_of(of, "grainline", findings),
                fields.required_of(of, "start", findings),
                fields.required_of(of, "edges", findings),
            ),
            None => (
                fields.optional("grainline", findings),
                fields.optional("start", findings),
                fields.optional("edges", findings),
            ),
        };
        Self {
            grainline,
            start,
            edges,
            notches: fields.optional("notches", findings),
            points: fields.optional("points", findings),
            darts: fields.optional("darts", findings),
            levels: fields.optional("levels", findings),
            lines: fields.optional("lines", findings),
        }
    }

    /// Whether it holds bare numbers, in the unit of the drawing.
    pub(super) fn has_coordinates(&self) -> bool {
        self.edges.is_some()
            || self.grainline.is_some()
            || self.notches.is_some()
            || self.points.is_some()
            || self.darts.is_some()
            || self.levels.is_some()
            || self.lines.is_some()
    }

    /// Whether some edge is marked as the fold.
    pub(super) fn has_fold_edge(&self) -> bool {
        let marked = |edge: &At<EdgeEntry>| edge.value.fold.as_ref().is_some_and(|fold| fold.value);
        self.edges.as_ref().is_some_and(|edges| edges.value.iter().any(marked))
    }
}

/// A piece drawn in one size.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct DrawnEntry {
    /// The size.
    #[schemars(required)]
    pub(crate) size: Option<At<Name>>,
    /// Its figure type; may be left out where the size has one only.
    pub(crate) figure: Option<At<Name>>,
    /// The drawing.
    #[schemars(flatten)]
    pub(crate) drawing: DrawingEntry,
}

impl FromTable for DrawnEntry {
    const WHAT: &'static str = "a piece drawn in one size";
    const MANY: Counted = Counted::Sizes;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            size: fields.required("size", findings),
            figure: fields.optional("figure", findings),
            drawing: DrawingEntry::read(fields, Some(Self::WHAT), findings),
        }
    }
}

/// One edge of an outline; it starts where the edge before it ends.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct EdgeEntry {
    /// What it is called.
    pub(crate) name: Option<At<Name>>,
    /// Where it ends.
    #[schemars(required)]
    pub(crate) to: Option<At<Pair>>,
    /// Two control points of a cubic curve.
    #[schemars(length(equal = 2))]
    pub(crate) curve: Option<At<Vec<At<Pair>>>>,
    /// The point a circular arc passes through.
    pub(crate) arc: Option<At<Pair>>,
    /// Its allowance, when not that of the piece.
    pub(crate) allowance: Option<At<Length>>,
    /// How its allowance ends beside its neighbours; where it is deeper than theirs, mirrored when left out.
    pub(crate) corner: Option<At<CornerWord>>,
    /// Whether it lies on the fold.
    pub(crate) fold: Option<At<bool>>,
}

impl FromTable for EdgeEntry {
    const WHAT: &'static str = "an edge";
    const MANY: Counted = Counted::Edges;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.optional("name", findings),
            to: fields.required("to", findings),
            curve: fields.optional("curve", findings),
            arc: fields.optional("arc", findings),
            allowance: fields.optional("allowance", findings),
            corner: fields.optional("corner", findings),
            fold: fields.optional("fold", findings),
        }
    }
}

/// A mark on the outline.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct NotchEntry {
    /// What it is called.
    pub(crate) name: Option<At<Name>>,
    /// Where it is: on the outline as drawn, or at most 2 mm off it.
    #[schemars(required)]
    pub(crate) at: Option<At<Pair>>,
}

impl FromTable for NotchEntry {
    const WHAT: &'static str = "a notch";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { name: fields.optional("name", findings), at: fields.required("at", findings) }
    }
}
