//! What a pattern file says of a piece that is like another: what of it is other, key by key.

use schemars::JsonSchema;

use super::{corner_format::CornerWord, drawing_format::EdgeEntry};
use crate::{
    Length,
    document::{At, Fields, FromTable, Name, Pair},
    findings::Findings,
    limits::Counted,
};

/// Where a piece takes its drawing from, and what of it is other.
#[derive(Debug, Clone, Default, JsonSchema)]
pub(crate) struct LikeKeys {
    /// The piece it is like: it has everything of that piece but what it says itself.
    pub(crate) like: Option<At<Name>>,
    /// Runs of edges that others take the place of.
    pub(crate) instead: Option<At<Vec<At<InsteadEntry>>>>,
    /// What lies elsewhere.
    #[schemars(rename = "move")]
    pub(crate) moves: Option<At<Vec<At<MoveEntry>>>>,
    /// Edges that have another name, allowance or corner, or come to lie on the fold or off it.
    pub(crate) change: Option<At<Vec<At<ChangeEntry>>>>,
    /// The straight edge at which its mirror image is joined on, so that a half becomes the whole.
    pub(crate) joined: Option<At<Name>>,
    /// Notches, points, darts, levels and lines of the other piece that this one does not have.
    pub(crate) without: Option<At<Vec<At<Name>>>>,
}

impl LikeKeys {
    /// Reads the keys among those of a piece.
    pub(super) fn read(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            like: fields.optional("like", findings),
            instead: fields.optional("instead", findings),
            moves: fields.optional("move", findings),
            change: fields.optional("change", findings),
            joined: fields.optional("joined", findings),
            without: fields.optional("without", findings),
        }
    }
}

/// Edges in the place of others.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct InsteadEntry {
    /// Edges that follow one another, in the order of the outline.
    #[schemars(required)]
    pub(crate) of: Option<At<Vec<At<Name>>>>,
    /// The edges in their place; they start where the first of those did.
    #[schemars(required)]
    pub(crate) edges: Option<At<Vec<At<NewEdgeEntry>>>>,
}

impl FromTable for InsteadEntry {
    const WHAT: &'static str = "an `instead` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { of: fields.required("of", findings), edges: fields.required("edges", findings) }
    }
}

/// An edge in the place of another; it starts where the edge before it ends.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct NewEdgeEntry {
    /// What it is called. Marks on an edge of that name go along with it.
    pub(crate) name: Option<At<Name>>,
    /// Where it ends; left out of the last, it ends where the edges ended that it takes the place of.
    pub(crate) to: Option<At<Pair>>,
    /// The notch or named point of the other piece, in each size, from which its coordinates are counted; the origin of the drawing when
    /// left out.
    pub(crate) counted_from: Option<At<Name>>,
    /// Two control points of a cubic curve.
    #[schemars(length(equal = 2))]
    pub(crate) curve: Option<At<Vec<At<Pair>>>>,
    /// The point a circular arc passes through.
    pub(crate) arc: Option<At<Pair>>,
    /// Its allowance, when not that of the piece.
    pub(crate) allowance: Option<At<Length>>,
    /// How its allowance ends beside its neighbours.
    pub(crate) corner: Option<At<CornerWord>>,
    /// Whether it lies on the fold.
    pub(crate) fold: Option<At<bool>>,
}

impl FromTable for NewEdgeEntry {
    const WHAT: &'static str = "an edge in the place of another";
    const MANY: Counted = Counted::Edges;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.optional("name", findings),
            to: fields.optional("to", findings),
            counted_from: fields.optional("counted_from", findings),
            curve: fields.optional("curve", findings),
            arc: fields.optional("arc", findings),
            allowance: fields.optional("allowance", findings),
            corner: fields.optional("corner", findings),
            fold: fields.optional("fold", findings),
        }
    }
}

impl NewEdgeEntry {
    /// As an edge of an outline, its coordinates as they are written.
    pub(super) fn as_edge(&self) -> EdgeEntry {
        EdgeEntry {
            name: self.name.clone(),
            to: self.to.clone(),
            curve: self.curve.clone(),
            arc: self.arc.clone(),
            allowance: self.allowance.clone(),
            corner: self.corner.clone(),
            fold: self.fold.clone(),
        }
    }
}

/// The two edges that meet at a corner.
type Corner = Vec<At<Name>>;

/// What lies elsewhere, and how far away.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct MoveEntry {
    /// Edges, both ends of each.
    pub(crate) edges: Option<At<Vec<At<Name>>>>,
    /// Corners of the outline, each named by the two edges that meet there.
    pub(crate) corners: Option<At<Vec<At<Corner>>>>,
    /// Notches and named points.
    pub(crate) points: Option<At<Vec<At<Name>>>>,
    /// Whole darts.
    pub(crate) darts: Option<At<Vec<At<Name>>>>,
    /// Darts of which the point alone moves, or both points of one inside the piece.
    pub(crate) dart_points: Option<At<Vec<At<Name>>>>,
    /// How far across and up the drawing.
    #[schemars(required)]
    pub(crate) by: Option<At<Pair>>,
    /// The sizes in which it moves; all when left out.
    pub(crate) sizes: Option<At<Vec<At<Name>>>>,
    /// The figure type in which it moves; each when left out.
    pub(crate) figure: Option<At<Name>>,
}

impl FromTable for MoveEntry {
    const WHAT: &'static str = "a `move` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            edges: fields.optional("edges", findings),
            corners: fields.optional("corners", findings),
            points: fields.optional("points", findings),
            darts: fields.optional("darts", findings),
            dart_points: fields.optional("dart_points", findings),
            by: fields.required("by", findings),
            sizes: fields.optional("sizes", findings),
            figure: fields.optional("figure", findings),
        }
    }
}

/// An edge of which something is other than its shape.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct ChangeEntry {
    /// The edge.
    #[schemars(required)]
    pub(crate) edge: Option<At<Name>>,
    /// What it is called on this piece.
    pub(crate) name: Option<At<Name>>,
    /// Its allowance.
    pub(crate) allowance: Option<At<Length>>,
    /// How its allowance ends beside its neighbours.
    pub(crate) corner: Option<At<CornerWord>>,
    /// Whether it lies on the fold.
    pub(crate) fold: Option<At<bool>>,
}

impl FromTable for ChangeEntry {
    const WHAT: &'static str = "a `change` entry";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            edge: fields.required("edge", findings),
            name: fields.optional("name", findings),
            allowance: fields.optional("allowance", findings),
            corner: fields.optional("corner", findings),
            fold: fields.optional("fold", findings),
        }
    }
}
