//! Strokes of one look whose ends meet, joined to the lines they are parts of.
//!
//! Ends within a hair of each other are one corner, whatever the file says. Where more than two meet, those go on that turn least. What is
//! still open then is closed over a gap where a label breaks it, and every such gap is told.

use std::collections::BTreeMap;

use ellwand_geometry::{EdgeShape, Point, distance, point};
use ellwand_vector::Run;
use rstar::{RTree, primitives::GeomWithData};

use crate::curve::{Line, angle_between, unit};

/// Ends so near to each other are the same place, mm: files round to a tenth, and both ends may.
pub(crate) const MEETING: f64 = 0.25;

/// A line of joined strokes.
#[derive(Debug, Clone)]
pub(crate) struct Chain {
    pub(crate) line: Line,
    pub(crate) is_closed: bool,
    /// The strokes it is joined from, by their numbers.
    pub(crate) strokes: Vec<usize>,
    /// Gaps that were bridged: both ends.
    pub(crate) bridged: Vec<[Point; 2]>,
}

/// One end of an open line: its number, and whether it is the start.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct End {
    pub(crate) of: usize,
    pub(crate) is_start: bool,
}

/// Joins what meets. `lines` are given with their numbers and whether they were drawn closed.
pub(crate) fn join(lines: Vec<(usize, Line, bool)>) -> Vec<Chain> {
    let mut chains = Vec::new();
    let mut open: Vec<Chain> = Vec::new();
    for (number, line, closed) in lines {
        let is_closed = closed || (line.runs.len() > 1 && distance(line.start, line.end()) <= MEETING);
        let chain = Chain { line, is_closed, strokes: vec![number], bridged: Vec::new() };
        if is_closed { chains.push(closed_up(chain)) } else { open.push(chain) }
    }
    let mates = meeting_ends(&open);
    chains.extend(follow(open, &mates, 0.0));
    chains
}

/// Bridges the gaps of open chains up to so many mm wide, where both ends point at each other.
pub(crate) fn bridge(chains: Vec<Chain>, widest: f64) -> Vec<Chain> {
    let (mut done, open): (Vec<Chain>, Vec<Chain>) = chains.into_iter().partition(|chain| chain.is_closed);
    let mates = facing_ends(&open, widest);
    done.extend(follow(open, &mates, widest));
    done
}

pub(crate) fn ends(chains: &[Chain]) -> impl Iterator<Item = (End, Point)> + '_ {
    chains.iter().enumerate().flat_map(|(of, chain)| {
        [(End { of, is_start: true }, chain.line.start), (End { of, is_start: false }, chain.line.end())]
    })
}

/// Direction in which a line leaves one of its ends, outwards.
pub(crate) fn outwards(chain: &Chain, end: End) -> Point {
    let line = &chain.line;
    let direction = if end.is_start { line.leaves(0).map(|d| d * -1.0) } else { line.arrives(line.runs.len() - 1) };
    direction.unwrap_or(point(0.0, 0.0))
}

/// Of so many ends at one place no outline is made: thousands of lines from one point are no pattern.
const MOST_MEETING: usize = 64;

/// The same for ends that face each other over a gap.
const MOST_FACING: usize = 256;

/// Which end goes on at which other.
fn meeting_ends(open: &[Chain]) -> BTreeMap<End, End> {
    let tree = RTree::bulk_load(ends(open).map(|(end, at)| GeomWithData::new([at.x, at.y], end)).collect::<Vec<_>>());
    let mut pairs: Vec<(f64, f64, End, End)> = Vec::new();
    for (end, at) in ends(open) {
        let near = tree.nearest_neighbor_iter_with_distance_2([at.x, at.y]).take(MOST_MEETING);
        for (other, _) in near.take_while(|(_, square)| *square <= MEETING * MEETING) {
            if other.data > end && other.data.of != end.of {
                let (a, b) = (outwards(&open[end.of], end), outwards(&open[other.data.of], other.data));
                let turn = angle_between(a, b * -1.0).abs();
                // What runs back on itself is a line drawn twice.
                if turn < 3.1 {
                    let gap = distance(at, point(other.geom()[0], other.geom()[1]));
                    pairs.push((turn, gap, end, other.data));
                }
            }
        }
    }
    take_best(pairs)
}

fn facing_ends(open: &[Chain], widest: f64) -> BTreeMap<End, End> {
    let tree = RTree::bulk_load(ends(open).map(|(end, at)| GeomWithData::new([at.x, at.y], end)).collect::<Vec<_>>());
    let mut pairs = Vec::new();
    for (end, at) in ends(open) {
        let out = outwards(&open[end.of], end);
        let near = tree.nearest_neighbor_iter_with_distance_2([at.x, at.y]).take(MOST_FACING);
        for (other, _) in near.take_while(|(_, square)| *square <= widest * widest) {
            let there = point(other.geom()[0], other.geom()[1]);
            if other.data <= end || (other.data.of == end.of && open[end.of].line.length() < 4.0 * widest) {
                continue;
            }
            let gap = distance(at, there);
            if gap > widest {
                break;
            }
            let back = outwards(&open[other.data.of], other.data);
            let faces = |out: Point, to: Point| unit(to).is_none_or(|to| angle_between(out, to).abs() < 0.6);
            // Ends that nearly meet need not point at each other: a corner was not quite closed.
            let closes = gap <= 4.0 * MEETING || (faces(out, there - at) && faces(back, at - there));
            if closes {
                pairs.push((gap, 0.0, end, other.data));
            }
        }
    }
    take_best(pairs)
}

pub(crate) fn take_best(mut pairs: Vec<(f64, f64, End, End)>) -> BTreeMap<End, End> {
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)).then(a.3.cmp(&b.3)));
    let mut mates = BTreeMap::new();
    for (.., a, b) in pairs {
        if !mates.contains_key(&a) && !mates.contains_key(&b) {
            mates.insert(a, b);
            mates.insert(b, a);
        }
    }
    mates
}

/// Walks from end to end.
pub(crate) fn follow(open: Vec<Chain>, mates: &BTreeMap<End, End>, widest: f64) -> Vec<Chain> {
    let mut used = vec![false; open.len()];
    let mut chains = Vec::new();
    // Those with a free end first, so that a walk starts there; rings come last.
    let free = |of: usize, is_start: bool| !mates.contains_key(&End { of, is_start });
    let mut order: Vec<usize> = (0..open.len()).collect();
    order.sort_by_key(|&of| (!(free(of, true) || free(of, false)), of));
    for first in order {
        if used[first] {
            continue;
        }
        used[first] = true;
        let mut chain = open[first].clone();
        let starts_free = free(first, true);
        if !starts_free && free(first, false) {
            chain.line = chain.line.reversed();
        }
        let mut end = End { of: first, is_start: !starts_free && free(first, false) };
        while let Some(&next) = mates.get(&end) {
            if used[next.of] {
                if next.of == first {
                    bridge_over(&mut chain, open_end(&open, next), widest);
                    chain.is_closed = true;
                }
                break;
            }
            used[next.of] = true;
            let other = &open[next.of];
            let line = if next.is_start { other.line.clone() } else { other.line.reversed() };
            bridge_over(&mut chain, line.start, widest);
            chain.line.runs.extend(line.runs);
            chain.strokes.extend(&other.strokes);
            chain.bridged.extend(&other.bridged);
            end = End { of: next.of, is_start: !next.is_start };
        }
        chains.push(if chain.is_closed { closed_up(chain) } else { chain });
    }
    chains
}

fn open_end(open: &[Chain], end: End) -> Point {
    if end.is_start { open[end.of].line.start } else { open[end.of].line.end() }
}

/// Goes on to a point: at a gap by a straight run, else by moving the end there.
fn bridge_over(chain: &mut Chain, to: Point, widest: f64) {
    let from = chain.line.end();
    let gap = distance(from, to);
    if gap <= MEETING {
        if let Some(last) = chain.line.runs.last_mut() {
            last.to = to;
        }
    } else {
        chain.line.runs.push(Run { shape: EdgeShape::Straight, to });
        if widest > 0.0 {
            chain.bridged.push([from, to]);
        }
    }
}

/// Ends just where it starts.
fn closed_up(mut chain: Chain) -> Chain {
    chain.is_closed = true;
    let gap = distance(chain.line.start, chain.line.end());
    if gap > MEETING {
        chain.line.runs.push(Run { shape: EdgeShape::Straight, to: chain.line.start });
    } else if let Some(last) = chain.line.runs.last_mut() {
        last.to = chain.line.start;
    }
    chain
}

#[cfg(test)]
mod tests {
    use super::*;

    type Pair = (f64, f64);

    fn straight(from: Pair, to: Pair) -> Line {
        Line { start: point(from.0, from.1), runs: vec![Run { shape: EdgeShape::Straight, to: point(to.0, to.1) }] }
    }

    fn joined(lines: &[(Pair, Pair)]) -> Vec<Chain> {
        join(lines.iter().enumerate().map(|(k, &(a, b))| (k, straight(a, b), false)).collect())
    }

    #[test]
    fn sides_in_any_order_and_direction_become_one_outline() {
        let sides = [
            ((0.0, 0.0), (100.0, 0.0)),
            ((0.0, 200.1), (0.0, 0.1)),
            ((100.0, 200.0), (100.0, 0.0)),
            ((0.0, 200.0), (100.0, 200.0)),
        ];
        let chains = joined(&sides);
        assert_eq!(chains.len(), 1);
        assert!(chains[0].is_closed && chains[0].line.runs.len() == 4);
        assert_eq!(chains[0].line.start, chains[0].line.end());
    }

    #[test]
    fn a_tick_on_a_corner_of_the_outline_is_not_part_of_it() {
        let sides = [
            ((0.0, 0.0), (50.0, 0.0)),
            ((50.0, 0.0), (100.0, 0.0)),
            ((50.0, 0.0), (50.0, 6.0)),
            ((100.0, 0.0), (100.0, 200.0)),
            ((100.0, 200.0), (0.0, 200.0)),
            ((0.0, 200.0), (0.0, 0.0)),
        ];
        let chains = joined(&sides);
        assert_eq!(chains.iter().map(|chain| chain.strokes.len()).max(), Some(5));
        assert!(chains.iter().any(|chain| chain.strokes == [2] && !chain.is_closed));
    }

    #[test]
    fn a_gap_for_a_label_is_bridged_and_told() {
        let sides = [
            ((60.0, 0.0), (100.0, 0.0)),
            ((100.0, 0.0), (100.0, 200.0)),
            ((100.0, 200.0), (0.0, 200.0)),
            ((0.0, 200.0), (0.0, 0.0)),
            ((0.0, 0.0), (40.0, 0.0)),
        ];
        let chains = bridge(joined(&sides), 30.0);
        assert_eq!(chains.len(), 1);
        assert!(chains[0].is_closed);
        assert_eq!(chains[0].bridged.len(), 1);
        // Lines that end side by side do not point at each other.
        let apart = bridge(joined(&[((0.0, 0.0), (0.0, 100.0)), ((10.0, 0.0), (10.0, 100.0))]), 30.0);
        assert_eq!(apart.len(), 2);
    }
}
