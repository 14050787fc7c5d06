//! What the search keeps apart from others in place of the true outline: never smaller than it, with few convex parts, and wider by
//! half the gap when shapes must keep a distance.

use ellwand_geometry::{ConvexPart, Outline, convex_parts, point, simplify_outward};

/// Outlines with at most this many corners are searched as they are: exact fits survive.
const CORNERS_KEPT: usize = 40;
/// How true to its outline a shape is searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Detail {
    /// Few corners, quick to search.
    Search,
    /// True to a hair, for the last squeeze.
    Squeeze,
}

/// Simplification goes this far outwards at most, as a share of the shape's size (the root of its area): 0.6 mm on a sleeve.
const SEARCH_SHARE: f64 = 0.0015;
/// The same for the last squeeze: 0.05 mm on a sleeve, half of what flattening curves may already differ.
const SQUEEZE_SHARE: f64 = 0.000_12;
/// Corners of the regular polygon around the circle of half the gap; 24 corners overshoot it by 1 per cent.
const ROUND_CORNERS: usize = 24;

/// Whether a search with `outline` moves something larger than it.
pub(crate) fn is_simplified(outline: &Outline) -> bool {
    outline.points().len() > CORNERS_KEPT
}

/// Convex parts whose union contains `outline` and everything within half of `gap` of it.
pub(crate) fn cleared_parts(outline: &Outline, gap: f64, detail: Detail) -> Vec<ConvexPart> {
    let share = match detail {
        Detail::Search => SEARCH_SHARE,
        Detail::Squeeze => SQUEEZE_SHARE,
    };
    let parts = if is_simplified(outline) {
        convex_parts(&simplify_outward(outline, share * outline.area().sqrt()))
    } else {
        convex_parts(outline)
    };
    if gap == 0.0 {
        return parts;
    }
    let step = std::f64::consts::TAU / ROUND_CORNERS as f64;
    let radius = gap / 2.0 / (step / 2.0).cos();
    let circle = ConvexPart::around(
        (0..ROUND_CORNERS).map(|k| step * k as f64).map(|a| point(radius * a.cos(), radius * a.sin())).collect(),
    );
    parts.iter().map(|part| part.minkowski_sum(&circle)).collect()
}
