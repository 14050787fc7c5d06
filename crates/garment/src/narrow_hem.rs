//! Hems and facings that are narrower than what they turn up against, because the pattern asks for square corners, or for sides that run straight on.
//!
//! At either end of such an edge two distances are compared along the hem: how far the cutting line reaches at the depth of the allowance within
//! the seam line, and how far the allowance itself reaches at that depth outside it. Folded up, the second comes to lie on the first.

use ellwand_geometry::{CornerShape, Outline, Point, distance, point, signed_area};

use crate::{INCH_MM, Piece, PieceEdge};

/// What a hem may lack without a word, mm: 1/8 in is eased in.
const EASED: f64 = INCH_MM / 8.0;
/// Just within the cut edge of an allowance, as a share of its depth.
const NEAR_CUT_EDGE: f64 = 0.98;

/// An allowance that is narrower than what it is turned up against.
#[derive(Debug, Clone, PartialEq)]
pub struct NarrowHem {
    /// The edge.
    pub edge: String,
    /// How its corners are shaped.
    pub corner: CornerShape,
    /// By how much it is narrower at both ends together, mm.
    pub by: f64,
}

impl NarrowHem {
    /// "square" or "straight on", as a pattern says it.
    pub fn corner_words(&self) -> &'static str {
        if self.corner == CornerShape::Square { "square" } else { "straight on" }
    }
}

impl Piece {
    /// The hems and facings with square or straight corners that are narrower by more than 1/8 in than what they are turned up against, in the order of
    /// the edges. `O(n)` in the corners of the piece for each edge.
    pub fn narrow_hems(&self) -> Vec<NarrowHem> {
        let seam: Vec<Point> = self.edges.iter().flat_map(|edge| edge.line.iter().copied()).collect();
        let left = if signed_area(&seam) >= 0.0 { 1.0 } else { -1.0 };
        let narrow = |edge: &PieceEdge| {
            let corner =
                edge.corner.filter(|corner| matches!(corner, CornerShape::Square | CornerShape::StraightOn))?;
            let by = self.narrower_by(edge, left)?;
            (by > EASED).then(|| NarrowHem { edge: edge.name.clone(), corner, by })
        };
        self.edges.iter().filter_map(narrow).collect()
    }

    fn narrower_by(&self, edge: &PieceEdge, left: f64) -> Option<f64> {
        let depth = edge.allowance.filter(|depth| *depth > 0.0)?;
        let line = &edge.line;
        let length: f64 = line.windows(2).map(|w| distance(w[0], w[1])).sum();
        let ends = [[*line.first()?, *line.get(1)?], [*line.last()?, *line.get(line.len().checked_sub(2)?)?]];
        let turn = [left, -left];
        let by = ends.into_iter().zip(turn).map(|([end, next], left)| {
            let along = (next - end) / distance(end, next);
            let inward = point(-along.y, along.x) * left;
            // From some way along the edge, back to the cutting line beside its end.
            let reach = |off: f64| {
                let from = end + along * (length / 3.0).min(distance(end, next).max(depth)) + inward * off;
                nearest_crossing(&self.outline, from, along * -1.0)
            };
            Some((reach(depth * NEAR_CUT_EDGE)? - reach(-depth * NEAR_CUT_EDGE)?).max(0.0))
        });
        by.sum()
    }
}

/// How far from `from` along the unit vector `way` an outline is first met; nothing where it is not, or `from` lies outside it.
fn nearest_crossing(outline: &Outline, from: Point, way: Point) -> Option<f64> {
    let off = |p: Point| (p.x - from.x) * way.y - (p.y - from.y) * way.x;
    let along = |p: Point| (p.x - from.x) * way.x + (p.y - from.y) * way.y;
    let mut met: Vec<f64> = Vec::new();
    for (a, b) in outline.edges() {
        let (s, t) = (off(a), off(b));
        if (s < 0.0) != (t < 0.0) {
            met.push(along(a) + (along(b) - along(a)) * s / (s - t));
        }
    }
    let ahead: Vec<f64> = met.into_iter().filter(|at| *at > 0.0).collect();
    let is_inside = ahead.len() % 2 == 1;
    ahead.into_iter().min_by(f64::total_cmp).filter(|_| is_inside)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use ellwand_geometry::Outline;

    /// A sleeve that tapers from 400 to 200 mm over 400 mm, with a hem of 80 mm whose sides are as given beyond the seam line.
    fn sleeve(hem_half: f64, corner: Option<CornerShape>) -> Piece {
        let seam = [(-100.0, 0.0), (100.0, 0.0), (200.0, 400.0), (-200.0, 400.0)].map(|(x, y)| point(x, y));
        let cut = [(-hem_half, -80.0), (hem_half, -80.0), (100.0, 0.0), (200.0, 400.0), (-200.0, 400.0), (-100.0, 0.0)];
        let edge = |i: usize| PieceEdge {
            name: ["hem", "side", "cap", "side"][i].into(),
            line: vec![seam[i], seam[(i + 1) % 4]],
            allowance: Some(if i == 0 { 80.0 } else { 0.0 }),
            corner: if i == 0 { corner } else { None },
        };
        let mut piece = sample::panel();
        piece.outline = Outline::from_pairs(&cut).unwrap();
        piece.edges = (0..4).map(edge).collect();
        piece
    }

    /// At 80 mm the sleeve is 40 mm wider than at its seam line.
    #[test]
    fn a_square_hem_on_a_tapered_sleeve_lacks_what_the_sleeve_gains() {
        let [narrow] = &sleeve(100.0, Some(CornerShape::Square)).narrow_hems()[..] else { panic!("one hem") };
        assert_eq!((narrow.edge.as_str(), narrow.corner), ("hem", CornerShape::Square));
        assert!((narrow.by - 0.98 * 40.0).abs() < 0.5, "{narrow:?}");
        let [narrow] = &sleeve(80.0, Some(CornerShape::StraightOn)).narrow_hems()[..] else { panic!("one hem") };
        assert!((narrow.by - 0.98 * 80.0).abs() < 0.5, "{narrow:?}");
    }

    #[test]
    fn mirrored_sides_and_what_is_eased_in_are_no_matter() {
        assert!(sleeve(120.0, None).narrow_hems().is_empty());
        assert!(sleeve(100.0, None).narrow_hems().is_empty(), "the pattern did not ask for it");
        assert!(sleeve(120.0, Some(CornerShape::Square)).narrow_hems().is_empty());
        assert!(sleeve(119.0, Some(CornerShape::Square)).narrow_hems().is_empty(), "2 mm in all");
        let mut clockwise = sleeve(100.0, Some(CornerShape::Square));
        for edge in &mut clockwise.edges {
            edge.line.reverse();
        }
        clockwise.edges.reverse();
        assert_eq!(clockwise.narrow_hems().len(), 1);
    }
}
