//! Runs of edges that are sewn end to end: the necklines of front and back, joined at the shoulders, are one ring.

use crate::{Seam, SeamSide};

/// Edges that a seam joins: what is sewn to what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SewnEdges<'a> {
    /// The piece and its edges on one side.
    pub a: (&'a str, Vec<&'a str>),
    /// Those on the other; `None` when that is the other copy of the piece, or its other half.
    pub b: Option<(&'a str, Vec<&'a str>)>,
}

impl<'a> SewnEdges<'a> {
    /// What a seam of a pattern joins.
    pub fn of(seam: &'a Seam) -> Self {
        fn side(side: &SeamSide) -> (&str, Vec<&str>) {
            (&side.piece, side.edges.iter().map(String::as_str).collect())
        }
        Self { a: side(&seam.a), b: seam.b.as_ref().map(side) }
    }
}

/// The runs of edges that one piece has, with the edges beside their ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunsOfPiece<'a> {
    /// The piece.
    pub piece: &'a str,
    /// How often they are there.
    pub times: u64,
    /// The edges before and after each run, all halves of the piece taken together; nothing of a run that goes all round.
    pub ends: Vec<Option<[&'a str; 2]>>,
}

/// More copies than are joined in thought.
const MOST: u64 = 10_000;

/// How many runs there are once what is sewn end to end is one. Copies are joined in their order, the first of one piece to the first of the other; of one
/// piece that is sewn to itself round and round, each to the next.
///
/// ```
/// use ellwand_garment::{RunsOfPiece, SewnEdges, joined_runs};
///
/// let neck = |piece| RunsOfPiece { piece, times: 1, ends: vec![Some(["shoulder", "shoulder"])] };
/// let shoulders = SewnEdges { a: ("Front", vec!["shoulder"]), b: Some(("Back", vec!["shoulder"])) };
/// assert_eq!(joined_runs(&[neck("Front"), neck("Back")], &[shoulders]), 1);
/// assert_eq!(joined_runs(&[neck("Front"), neck("Back")], &[]), 2);
/// ```
pub fn joined_runs(pieces: &[RunsOfPiece<'_>], seams: &[SewnEdges<'_>]) -> u64 {
    let all = |of: &RunsOfPiece<'_>| of.times.saturating_mul(of.ends.len() as u64);
    let in_all = pieces.iter().map(all).fold(0, u64::saturating_add);
    if in_all > MOST {
        return in_all;
    }
    // Each run of each copy by number, and its ends.
    let mut first = Vec::new();
    let mut count = 0;
    for of in pieces {
        first.push(count);
        count += all(of) as usize;
    }
    let mut parent: Vec<usize> = (0..count).collect();
    let ends = |piece: &str, edges: &[&str]| -> Vec<usize> {
        let of_piece = pieces.iter().zip(&first).filter(|(of, _)| of.piece == piece);
        let beside = of_piece.flat_map(|(of, first)| {
            (0..of.times as usize).flat_map(move |copy| {
                of.ends.iter().enumerate().flat_map(move |(run, ends)| {
                    let number = first + copy * of.ends.len() + run;
                    ends.iter().flatten().map(move |edge| (number, *edge))
                })
            })
        });
        beside.filter(|(_, edge)| edges.contains(edge)).map(|(number, _)| number).collect()
    };
    for SewnEdges { a, b } in seams {
        let one = ends(a.0, &a.1);
        let pairs: Vec<(usize, usize)> = match b {
            None => one.chunks_exact(2).map(|two| (two[0], two[1])).collect(),
            Some(b) => {
                let mut other = ends(b.0, &b.1);
                if a.0 == b.0 && !other.is_empty() {
                    other.rotate_left(1);
                }
                one.into_iter().zip(other).collect()
            }
        };
        for (i, j) in pairs {
            let (i, j) = (root(&parent, i), root(&parent, j));
            parent[i] = j;
        }
    }
    (0..count).filter(|&k| parent[k] == k).count() as u64
}

fn root(parent: &[usize], mut k: usize) -> usize {
    while parent[k] != k {
        k = parent[k];
    }
    k
}

/// The runs of what is marked in the order of an outline, each with the names before and after it; nothing of one that goes all round.
pub(crate) fn ends_of_runs<'a>(round: &[(&'a str, bool)]) -> Vec<Option<[&'a str; 2]>> {
    let count = round.len();
    let before = |k: usize| (k + count - 1) % count;
    let begins = (0..count).filter(|&k| round[k].1 && !round[before(k)].1);
    let mut runs: Vec<_> = begins
        .map(|k| {
            let end = (1..count).map(|by| (k + by) % count).find(|&at| !round[at].1).unwrap_or(before(k));
            Some([round[before(k)].0, round[end].0])
        })
        .collect();
    if runs.is_empty() && round.iter().any(|(_, along)| *along) {
        runs.push(None);
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of<'a>(piece: &'a str, times: u64, ends: [&'a str; 2]) -> RunsOfPiece<'a> {
        RunsOfPiece { piece, times, ends: vec![Some(ends)] }
    }

    fn seam<'a>(a: (&'a str, &'a str), b: Option<(&'a str, &'a str)>) -> SewnEdges<'a> {
        SewnEdges { a: (a.0, vec![a.1]), b: b.map(|b| (b.0, vec![b.1])) }
    }

    #[test]
    fn two_legs_are_two_rings_and_a_coat_open_in_front_is_one_run() {
        let legs = [of("Front", 2, ["inseam", "side"]), of("Back", 2, ["side", "inseam"])];
        let seams =
            [seam(("Front", "side"), Some(("Back", "side"))), seam(("Front", "inseam"), Some(("Back", "inseam")))];
        assert_eq!(joined_runs(&legs, &seams), 2);
        let coat = [of("Front", 2, ["front edge", "side"]), of("Back", 1, ["side", "side"])];
        assert_eq!(joined_runs(&coat, &seams[..1]), 1);
        assert_eq!(joined_runs(&coat, &[]), 3);
    }

    #[test]
    fn copies_of_one_piece_are_joined_to_each_other() {
        assert_eq!(joined_runs(&[of("Panel", 2, ["side", "centre"])], &[seam(("Panel", "centre"), None)]), 1);
        let gores = [of("Gore", 6, ["left", "right"])];
        assert_eq!(joined_runs(&gores, &[seam(("Gore", "right"), Some(("Gore", "left")))]), 1);
    }

    #[test]
    fn a_run_all_round_has_no_ends() {
        assert_eq!(ends_of_runs(&[("hem", true), ("hem", true)]), [None]);
        let round = [("hem", true), ("side", false), ("top", true), ("dart", false)];
        assert_eq!(ends_of_runs(&round), [Some(["dart", "side"]), Some(["side", "dart"])]);
    }
}
