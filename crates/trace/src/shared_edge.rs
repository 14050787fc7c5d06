//! Outlines of nested sizes that have an edge in common which is drawn once: a fold, a hem, the middle of a front.
//!
//! Such an outline is open, and both its ends lie on the line in common, somewhere along it. It is closed along that line.

use std::collections::BTreeMap;

use ellwand_geometry::{Bounds, EdgeShape, Point, distance};
use ellwand_vector::Run;

use crate::{
    chain::Chain,
    curve::{Line, angle_between, length_of},
    outlines::nearest_of_segment,
};

/// An end lies on a line when it comes as near as this, mm.
const ON: f64 = 0.5;

/// The part in common is at least so long, mm: shorter gaps are those of labels.
pub(crate) const SHORTEST_EDGE: f64 = 60.0;

/// Of an outline closed along another, at least this share is its own: a hem line across a piece is less.
const OWN: f64 = 0.4;

/// Of more open lines than this none is asked.
const MOST: usize = 1500;

/// Nor where so many corners would have to be tried: no pattern has them.
const MOST_TRIED: usize = 20_000_000;

/// A line that others may be closed along.
pub(crate) struct Base {
    flat: Vec<Point>,
    bounds: Bounds,
}

impl Base {
    pub(crate) fn of(line: &Line) -> Self {
        let flat = line.flat();
        Self { bounds: Bounds::of(flat.iter().copied()).grown(ON), flat }
    }

    /// The nearest place, as the number of its part and the point; none where it is not near.
    fn place(&self, p: Point) -> Option<(usize, Point)> {
        if !self.bounds.contains(p) {
            return None;
        }
        let places = self.flat.windows(2).enumerate().map(|(k, pair)| (k, nearest_of_segment(p, pair[0], pair[1])));
        let nearest = places.min_by(|a, b| distance(a.1, p).total_cmp(&distance(b.1, p)))?;
        (distance(nearest.1, p) <= ON).then_some(nearest)
    }

    /// The points from one place on it to another, both left out.
    fn between(&self, from: (usize, Point), to: (usize, Point)) -> Vec<Point> {
        let gone = |of: (usize, Point)| (of.0, distance(self.flat[of.0], of.1));
        if gone(from) <= gone(to) {
            return self.flat[from.0 + 1..=to.0].to_vec();
        }
        self.flat[to.0 + 1..=from.0].iter().rev().copied().collect()
    }
}

/// The open lines among `chains` that are outlines with an edge in common, closed; and the others as they were.
///
/// `may_be` tells whether a line may be an outline. At least two must end on the same base: it is sizes that share an edge. The part in
/// common is the last of what was bridged.
pub(crate) fn close(chains: Vec<Chain>, may_be: impl Fn(&Chain) -> bool, bases: &[Base]) -> (Vec<Chain>, Vec<Chain>) {
    let is_candidate = |chain: &Chain| {
        let is_long = || chain.line.length() > 2.0 * SHORTEST_EDGE;
        !chain.is_closed && may_be(chain) && has_corner(&chain.line) && is_long()
    };
    let candidates: Vec<usize> = (0..chains.len()).filter(|&k| is_candidate(&chains[k])).collect();
    let corners: usize = bases.iter().map(|base| base.flat.len()).sum();
    let is_hopeless = bases.len() > MOST || candidates.len().saturating_mul(corners) > MOST_TRIED;
    if candidates.len() < 2 || is_hopeless {
        return (Vec::new(), chains);
    }
    let mut closed: BTreeMap<usize, Chain> = BTreeMap::new();
    for base in bases {
        let free = candidates.iter().filter(|k| !closed.contains_key(k));
        let along: Vec<(usize, Chain)> = free.filter_map(|&k| Some((k, closed_along(&chains[k], base)?))).collect();
        if along.len() > 1 {
            closed.extend(along);
        }
    }
    let rest =
        chains.into_iter().enumerate().filter(|(k, _)| !closed.contains_key(k)).map(|(_, chain)| chain).collect();
    (closed.into_values().collect(), rest)
}

fn closed_along(chain: &Chain, base: &Base) -> Option<Chain> {
    let (start, end) = (chain.line.start, chain.line.end());
    if distance(start, end) < SHORTEST_EDGE {
        return None;
    }
    let (from, to) = (base.place(end)?, base.place(start)?);
    // The line itself is no edge of its own.
    let flat = chain.line.flat();
    let middle = flat[flat.len() / 2];
    if base.place(middle).is_some() {
        return None;
    }
    let between = base.between(from, to);
    let mut all = vec![end];
    all.extend(&between);
    all.push(start);
    let own = chain.line.length();
    if own < OWN * (own + length_of(&all)) {
        return None;
    }
    let mut closed = chain.clone();
    closed.line.runs.extend(between.into_iter().chain([start]).map(|to| Run { shape: EdgeShape::Straight, to }));
    closed.bridged.push([end, start]);
    closed.is_closed = true;
    Some(closed)
}

/// Whether a line turns somewhere: a hem line or a fold line does not.
fn has_corner(line: &Line) -> bool {
    (1..line.runs.len()).any(|k| match (line.arrives(k - 1), line.leaves(k)) {
        (Some(a), Some(b)) => angle_between(a, b).abs() > 0.5,
        _ => false,
    })
}
