//! How much trim goes along edges of the pieces, measured on the **seam line** as it is cut: after size, fit and alterations. The seam line is where
//! the finished edge lies; on the cutting line an allowance out, a curve outward would be longer.

use ellwand_geometry::distance;

use crate::{Half, Pattern, Piece, PieceEdge, View};

/// A trim, and the edges along which it is sewn.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim {
    /// Its name.
    pub name: String,
    /// The edges.
    pub edges: Vec<TrimEdge>,
    /// What is turned under at each end, mm.
    pub turned_ends: f64,
}

/// An edge with a trim.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrimEdge {
    /// The piece.
    pub piece: String,
    /// Its edge.
    pub edge: String,
    /// How often it is trimmed; as often as the piece is cut from its first cloth when `None`.
    pub times: Option<u64>,
}

impl Trim {
    /// How much of it `view` takes, mm: along every edge as often as it counts, with both ends turned under at each run. Parts of an edge between
    /// which a dart is sewn are one run, and so are the halves that meet on a fold. Pieces that the view does not cut take none.
    pub fn length(&self, pattern: &Pattern, view: &View) -> f64 {
        let made = |edge: &TrimEdge| view.pieces.contains(&edge.piece).then(|| pattern.piece(&edge.piece)).flatten();
        (self.edges.iter())
            .filter_map(|edge| {
                let piece = made(edge)?;
                let cut = piece.cuts.first().map_or(0, |rule| u64::from(rule.count));
                let (runs, length) = along(piece, &edge.edge);
                Some(edge.times.unwrap_or(cut) as f64 * (length + 2.0 * self.turned_ends * runs as f64))
            })
            .sum()
    }
}

/// In how many runs a piece has the edge of this name, on both halves of an unfolded one, and its length in all, mm.
fn along(piece: &Piece, name: &str) -> (usize, f64) {
    // The legs of a dart are sewn to each other: nothing of them is left at the edge.
    let sewn: Vec<_> = piece.edges.iter().filter(|edge| edge.allowance.is_some()).collect();
    let other = Half::Other.name(name);
    let is_of = |edge: &PieceEdge| edge.name == name || edge.name == other;
    let length = (sewn.iter().filter(|edge| is_of(edge)))
        .flat_map(|edge| edge.line.windows(2))
        .map(|w| distance(w[0], w[1]))
        .sum();
    let along: Vec<bool> = sewn.into_iter().map(is_of).collect();
    (runs(&along), length)
}

/// In how many runs something goes along edges in the order of an outline, each told whether it does. All round is one run, with an end where
/// it begins.
pub(crate) fn runs(along: &[bool]) -> usize {
    let begins = |k: usize| along[k] && !along[(k + along.len() - 1) % along.len()];
    let runs = (0..along.len()).filter(|&k| begins(k)).count();
    if runs == 0 && along.contains(&true) { 1 } else { runs }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{CutRule, Hands};
    use ellwand_geometry::{Point, point};

    /// A cuff of 240 by 100, cut in pairs from cloth and once more from fusible, whose edges have these names, from the lower left corner on.
    fn cuff(names: [&str; 4]) -> Pattern {
        let corners = [(0.0, 0.0), (240.0, 0.0), (240.0, 100.0), (0.0, 100.0)];
        let cuts = [CutRule::count("main", 2, Hands::Any), CutRule::count("fusible", 1, Hands::Any)];
        let piece = Piece::named("Cuff").corners_mm(&corners).grainline_mm(100.0, 10.0, 90.0);
        let piece = cuts.into_iter().fold(piece, |piece, rule| piece.cut(rule));
        let mut pattern = Pattern::named("Cuffs").piece(piece).build().unwrap();
        let at = |k: usize| point(corners[k % 4].0, corners[k % 4].1);
        pattern.pieces[0].edges = (0..4).map(|k| edge(names[k], vec![at(k), at(k + 1)])).collect();
        pattern
    }

    fn edge(name: &str, line: Vec<Point>) -> PieceEdge {
        PieceEdge { name: name.into(), line, allowance: Some(10.0), corner: None }
    }

    fn trim(times: Option<u64>) -> Trim {
        let edge = TrimEdge { piece: "Cuff".into(), edge: "wrist".into(), times };
        Trim { name: "Braid".into(), edges: vec![edge], turned_ends: 12.0 }
    }

    fn length(pattern: &Pattern, times: Option<u64>) -> f64 {
        trim(times).length(pattern, &pattern.views[0])
    }

    #[test]
    fn an_edge_counts_as_often_as_its_piece_is_cut_from_its_first_cloth() {
        let pattern = cuff(["wrist", "side", "top", "side"]);
        assert_eq!(length(&pattern, None), 2.0 * (240.0 + 24.0));
        assert_eq!(length(&pattern, Some(3)), 3.0 * (240.0 + 24.0));
    }

    #[test]
    fn each_run_has_both_ends_turned_under() {
        // Along two sides apart, round a corner without an end between, and all round with an end where it begins.
        assert_eq!(length(&cuff(["wrist", "side", "wrist", "side"]), Some(1)), 480.0 + 48.0);
        assert_eq!(length(&cuff(["wrist", "side", "side", "wrist"]), Some(1)), 340.0 + 24.0);
        assert_eq!(length(&cuff(["wrist"; 4]), Some(1)), 680.0 + 24.0);
    }

    #[test]
    fn a_dart_in_the_edge_is_no_end_and_adds_nothing() {
        let mut pattern = cuff(["wrist", "side", "top", "side"]);
        let leg = |from: (f64, f64), to: (f64, f64)| PieceEdge {
            allowance: None,
            ..edge("dart", vec![point(from.0, from.1), point(to.0, to.1)])
        };
        let parts = vec![
            edge("wrist", vec![point(0.0, 0.0), point(110.0, 0.0)]),
            leg((110.0, 0.0), (120.0, 50.0)),
            leg((120.0, 50.0), (130.0, 0.0)),
            edge("wrist", vec![point(130.0, 0.0), point(240.0, 0.0)]),
        ];
        pattern.pieces[0].edges.splice(0..1, parts);
        assert_eq!(length(&pattern, Some(1)), 220.0 + 24.0);
    }

    #[test]
    fn halves_that_meet_on_the_fold_are_one_run() {
        // Unfolded: a hem from the fold out, the sides, and the hem of the other half back to the fold.
        let mut pattern = cuff(["wrist", "side", "top", "side (other half)"]);
        let halves = vec![
            edge("wrist (other half)", vec![point(0.0, 0.0), point(120.0, 0.0)]),
            edge("wrist", vec![point(120.0, 0.0), point(240.0, 0.0)]),
        ];
        pattern.pieces[0].edges.splice(0..1, halves);
        assert_eq!(length(&pattern, Some(1)), 240.0 + 24.0);
        let mut sides = trim(Some(1));
        sides.edges[0].edge = "side".into();
        assert_eq!(sides.length(&pattern, &pattern.views[0]), 2.0 * (100.0 + 24.0));
    }

    #[test]
    fn a_piece_that_the_view_lacks_takes_none() {
        let mut pattern = cuff(["wrist", "side", "top", "side"]);
        pattern.views[0].pieces.clear();
        assert_eq!(length(&pattern, None), 0.0);
    }
}
