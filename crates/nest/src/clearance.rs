//! What the search keeps apart from others in place of the true outline: never smaller than it, with few convex parts, and wider by
//! half the gap when shapes must keep a distance.

use ellwand_geometry::{ConvexPart, Outline, convex_parts, point, simplify_outward};

/// Outlines with at most this many corners are searched as they are: exact fits survive.
const CORNERS_KEPT: usize = 40;
/// Simplification goes this far outwards at most, as a share of the shape's size (the root of its area): 0.3 mm on a sleeve.
const SIMPLIFIED_SHARE: f64 = 0.0005;
/// Corners of the regular polygon around the circle of half the gap; 24 corners overshoot it by 1 per cent.
const ROUND_CORNERS: usize = 24;

/// Convex parts whose union contains `outline` and everything within half of `gap` of it.
pub(crate) fn cleared_parts(outline: &Outline, gap: f64) -> Vec<ConvexPart> {
    let parts = if outline.points().len() > CORNERS_KEPT {
        convex_parts(&simplify_outward(outline, SIMPLIFIED_SHARE * outline.area().sqrt()))
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
