//! How much trim goes along edges of the pieces, measured on the **seam line** as it is cut: after size, fit and alterations. The seam line is where
//! the finished edge lies; on the cutting line an allowance out, a curve outward would be longer.

use ellwand_geometry::distance;

use crate::{
    Half, JOIN, Pattern, Piece, PieceEdge, RunsOfPiece, SewnEdges, View,
    joined_runs::{ends_of_runs, joined_runs},
};

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
    /// which a dart is sewn are one run, and so are the halves that meet on a fold, edges of one piece that follow one another, and edges that a seam joins end to
    /// end. Pieces that the view does not cut take none.
    pub fn length(&self, pattern: &Pattern, view: &View) -> f64 {
        // Edges of one piece that count equally often go together; one that is named twice is trimmed twice.
        let mut together: Vec<(&Piece, u64, Vec<&str>)> = Vec::new();
        for edge in &self.edges {
            let made = view.pieces.contains(&edge.piece).then(|| pattern.piece(&edge.piece)).flatten();
            let Some(piece) = made else { continue };
            let cut = piece.cuts.first().map_or(0, |rule| u64::from(rule.count));
            // What is told of the whole goes along both halves of what is joined.
            let halves = if is_joined(piece) { 2 } else { 1 };
            let times = edge.times.map_or(cut, |times| times.saturating_mul(halves));
            let goes_with = |(of, often, names): &&mut (&Piece, u64, Vec<&str>)| {
                of.name == piece.name && *often == times && !names.contains(&edge.edge.as_str())
            };
            match together.iter_mut().find(goes_with) {
                Some((.., names)) => names.push(&edge.edge),
                None => together.push((piece, times, vec![&edge.edge])),
            }
        }
        let mut length = 0.0;
        let mut runs = Vec::new();
        for (piece, times, names) in &together {
            let (ends, along) = along(piece, names);
            length += *times as f64 * along;
            runs.push(RunsOfPiece { piece: &piece.name, times: *times, ends });
        }
        let joins = together.iter().filter(|(piece, ..)| is_joined(piece));
        let joins = joins.map(|(piece, ..)| SewnEdges { a: (piece.name.as_str(), vec![JOIN]), b: None });
        let seams: Vec<SewnEdges<'_>> = pattern.seams.iter().map(SewnEdges::of).chain(joins).collect();
        length + 2.0 * self.turned_ends * joined_runs(&runs, &seams) as f64
    }
}

/// Whether a piece is half of what is joined with a seam; its edge there is called as the point is.
fn is_joined(piece: &Piece) -> bool {
    piece.points.contains_key(JOIN)
}

/// The runs in which a piece has edges of these names, on both halves of an unfolded one, and their length in all, mm.
fn along<'p>(piece: &'p Piece, names: &[&str]) -> (Vec<Option<[&'p str; 2]>>, f64) {
    // The legs of a dart are sewn to each other: nothing of them is left at the edge.
    let sewn: Vec<_> = piece.edges.iter().filter(|edge| edge.allowance.is_some()).collect();
    // An edge of the other half is called as the one that is drawn.
    let drawn = |edge: &'p PieceEdge| {
        let of = piece.edges.iter().find(|of| !of.name.is_empty() && Half::Other.name(&of.name) == edge.name);
        of.map_or(edge.name.as_str(), |of| of.name.as_str())
    };
    let is_of = |edge: &'p PieceEdge| names.contains(&edge.name.as_str()) || names.contains(&drawn(edge));
    let length = (sewn.iter().filter(|edge| is_of(edge)))
        .flat_map(|edge| edge.line.windows(2))
        .map(|w| distance(w[0], w[1]))
        .sum();
    let round: Vec<(&str, bool)> = sewn.into_iter().map(|edge| (drawn(edge), is_of(edge))).collect();
    (ends_of_runs(&round), length)
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
    fn along_what_is_joined_of_two_halves_there_is_one_run() {
        // Half of a band, cut twice, joined at its end.
        let mut pattern = cuff(["wrist", JOIN, "top", "end"]);
        pattern.pieces[0].points.insert(JOIN.to_owned(), point(240.0, 50.0));
        assert_eq!(length(&pattern, Some(1)), 480.0 + 24.0);
        assert_eq!(length(&pattern, None), 480.0 + 24.0);
        // Both ends of it are runs of their own.
        let mut ends = trim(Some(1));
        ends.edges[0].edge = "end".into();
        assert_eq!(ends.length(&pattern, &pattern.views[0]), 2.0 * (100.0 + 24.0));
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
