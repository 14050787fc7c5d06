//! A piece as it is drawn, before allowances: the seam line with its marks, which sizes, blends and alterations change.

use std::collections::BTreeMap;

use ellwand_geometry::{EdgeAllowance, EdgeShape, Outline, Point, point};

use super::DraftDart;

/// A piece as drawn in one size, mm, `y` upwards along the grain where the piece has levels.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The piece.
    pub name: String,
    /// Where the seam line starts.
    pub start: Point,
    /// Its edges in order; the last ends at the start.
    pub edges: Vec<DraftEdge>,
    /// Low and high end of the grainline.
    pub grainline: [Point; 2],
    /// Notches, by name where they have one, on the seam line.
    pub notches: Vec<(String, Point)>,
    /// Other named points.
    pub points: BTreeMap<String, Point>,
    /// Its darts.
    pub darts: Vec<DraftDart>,
    /// Height of each level that crosses the piece: bust, waist, hip …
    pub levels: BTreeMap<String, f64>,
    /// Height of each line at which it is lengthened or shortened.
    pub lines: BTreeMap<String, f64>,
    /// Its cutting line, where that is what is drawn.
    pub as_drawn: Option<AsDrawn>,
}

/// A cutting line as it is drawn, and the edges of the seam line that was found inside it: a draft that a fit has changed has others, and another
/// cutting line.
#[derive(Debug, Clone, PartialEq)]
pub struct AsDrawn {
    /// The edges of the seam line.
    pub seam: Vec<DraftEdge>,
    /// The cutting line.
    pub outline: Outline,
}

/// One edge of a draft.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftEdge {
    /// Its name; empty when it has none. Parts of one edge carry the same name and follow one another.
    pub name: String,
    /// Where it ends.
    pub to: Point,
    /// How it runs.
    pub shape: EdgeShape,
    /// What is added outside it.
    pub allowance: EdgeAllowance,
    /// Which edge of the drawing it comes from, counted from 0.
    pub drawn: usize,
}

/// One piece in every size.
#[derive(Debug, Clone, PartialEq)]
pub struct GradedPiece {
    /// One draft a size, in the order of the chart; the same again where the piece does not change.
    pub drafts: Vec<Draft>,
    /// The level whose size it takes where it has no levels of its own.
    pub sized_by: Option<String>,
    /// How many of it go round the body, to share out what is added at a seam: copies, and each half of a whole piece.
    pub halves: u32,
}

impl Draft {
    /// A named point, or a notch of that name.
    pub(super) fn mark(&self, name: &str) -> Option<Point> {
        let notch = || self.notches.iter().find(|(of, _)| of == name).map(|(_, at)| *at);
        self.points.get(name).copied().or_else(notch)
    }

    /// The draft made so many times as wide and as high, from the lowest left corner of its outline on. Marks keep their share of it.
    #[must_use]
    pub fn stretched(&self, across: f64, along: f64) -> Self {
        let ends = || std::iter::once(self.start).chain(self.edges.iter().map(|edge| edge.to));
        let left = ends().map(|p| p.x).fold(f64::INFINITY, f64::min);
        let low = ends().map(|p| p.y).fold(f64::INFINITY, f64::min);
        let height = |y: f64| low + (y - low) * along;
        self.moved(|p| point(left + (p.x - left) * across, height(p.y)), height)
    }

    /// The draft with every point moved by `to`, and every height by `height`.
    pub(super) fn moved(&self, to: impl Fn(Point) -> Point, height: impl Fn(f64) -> f64) -> Self {
        let edge = |edge: &DraftEdge| DraftEdge { to: to(edge.to), shape: edge.shape.map(&to), ..edge.clone() };
        Self {
            name: self.name.clone(),
            start: to(self.start),
            edges: self.edges.iter().map(edge).collect(),
            grainline: self.grainline.map(&to),
            notches: self.notches.iter().map(|(name, at)| (name.clone(), to(*at))).collect(),
            points: self.points.iter().map(|(name, at)| (name.clone(), to(*at))).collect(),
            darts: self.darts.iter().map(|dart| dart.moved(&to)).collect(),
            levels: self.levels.iter().map(|(name, &y)| (name.clone(), height(y))).collect(),
            lines: self.lines.iter().map(|(name, &y)| (name.clone(), height(y))).collect(),
            as_drawn: None,
        }
    }
}
