//! Seams walked: both edges laid against each other from notch to notch.

use ellwand_geometry::{Point, distance};

use super::{Alteration, Draft, measure::run};
use crate::{Seam, SeamSide, TakenUp};

/// A difference below this can be eased in unseen, mm. Common practice, no source.
const UNSEEN: f64 = 2.0;

/// A seam walked in the pieces to be cut. Lengths are mm.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkedSeam {
    /// The seam.
    pub name: String,
    /// The pieces on both sides.
    pub pieces: [String; 2],
    /// Length of each side between its outermost meeting points; whole when it has fewer than two.
    pub lengths: [f64; 2],
    /// The same from meeting point to meeting point along the edges: the name of the later, or nothing at the end, and both lengths.
    pub between: Vec<(String, [f64; 2])>,
    /// By how much the second side is meant to be longer: eased in as in a sleeve cap, pleated, gathered.
    pub eased: f64,
    /// What is taken up on either side, each kind with its length in all.
    pub taken_up: Vec<(TakenUp, f64)>,
    /// By how much the second side is longer beyond that.
    pub off: f64,
    /// Whether that is more than can be eased in unseen.
    pub is_off: bool,
    /// Of one that is off: the change after which it fits, and no other seam worse than before.
    pub mend: Option<Alteration>,
}

/// Walks every seam whose two sides have edges. Between two meeting points or more only what lies between the outermost is compared: beyond
/// them a side may run on to other pieces, as a waistband does from panel to panel. With fewer the sides are compared whole.
pub fn walk(seams: &[Seam], drafts: &[Draft]) -> Vec<WalkedSeam> {
    seams.iter().filter_map(|seam| walk_one(seam, drafts)).collect()
}

fn walk_one(seam: &Seam, drafts: &[Draft]) -> Option<WalkedSeam> {
    let b = seam.b.as_ref()?;
    let (first, second) = (Side::of(&seam.a, drafts)?, Side::of(b, drafts)?);
    let between = between(&first, &second);
    let lengths = [0, 1].map(|side| between.iter().map(|(_, both)| both[side]).sum::<f64>());
    let eased = b.longer_by() - seam.a.longer_by();
    let mut taken_up: Vec<(TakenUp, f64)> = Vec::new();
    for &(how, by) in seam.a.taken_up.iter().chain(&b.taken_up) {
        match taken_up.iter_mut().find(|known| known.0 == how) {
            Some(known) => known.1 += by,
            None => taken_up.push((how, by)),
        }
    }
    let off = lengths[1] - lengths[0] - eased;
    Some(WalkedSeam {
        name: seam.name.clone(),
        pieces: [seam.a.piece.clone(), b.piece.clone()],
        lengths,
        between,
        eased,
        taken_up,
        off,
        is_off: off.abs() > UNSEEN,
        mend: None,
    })
}

/// One side of a seam: its edges one after the other, and how far along them each meeting point lies. What a dart opens between two edges is
/// not counted.
struct Side {
    lines: Vec<Vec<Point>>,
    meets: Vec<(String, f64)>,
}

impl Side {
    fn of(side: &SeamSide, drafts: &[Draft]) -> Option<Self> {
        if side.edges.is_empty() {
            return None;
        }
        let draft = drafts.iter().find(|draft| draft.name == side.piece)?;
        let mut lines: Vec<Vec<Point>> = Vec::new();
        for name in &side.edges {
            let mut next = draft.lines_of(name);
            let turned = |mut lines: Vec<Vec<Point>>| {
                lines.reverse();
                lines.iter_mut().for_each(|line| line.reverse());
                lines
            };
            let ends = |lines: &[Vec<Point>]| {
                Some((*lines.first().and_then(|line| line.first())?, *lines.last().and_then(|line| line.last())?))
            };
            // Edges of a seam are told in the order they are sewn, whichever way round the piece was drawn.
            if let (Some(&end), Some((from, to))) = (lines.last().and_then(|line| line.last()), ends(&next)) {
                if distance(end, to) < distance(end, from) {
                    next = turned(next);
                }
            } else if side.edges.len() > 1
                && let Some((first, last)) = side.edges.get(1).and_then(|name| ends(&draft.lines_of(name)))
                && let Some((from, to)) = ends(&next)
            {
                let near = |p: Point| distance(p, first).min(distance(p, last));
                if near(from) < near(to) {
                    next = turned(next);
                }
            }
            lines.extend(next);
        }
        let place =
            |name: &String| draft.points.get(name).or(draft.notches.iter().find(|n| n.0 == *name).map(|n| &n.1));
        let meets = side.meets.iter().filter_map(|name| Some((name.clone(), along(&lines, *place(name)?)))).collect();
        Some(Self { lines, meets })
    }

    fn whole(&self) -> f64 {
        self.lines.iter().map(|line| run(line)).sum()
    }
}

/// How far along some lines the place nearest to `p` lies.
fn along(lines: &[Vec<Point>], p: Point) -> f64 {
    let (mut best, mut at, mut done) = (f64::INFINITY, 0.0, 0.0);
    for w in lines.iter().flat_map(|line| line.windows(2)) {
        let d = w[1] - w[0];
        let length = distance(w[0], w[1]);
        let t = if length > 0.0 {
            (((p.x - w[0].x) * d.x + (p.y - w[0].y) * d.y) / (length * length)).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let off = distance(p, w[0] + d * t);
        if off < best {
            (best, at) = (off, done + t * length);
        }
        done += length;
    }
    at
}

/// The stretches between meeting points that both sides have, in the order of the first side. The second is walked from the end at which its
/// meeting points come in that order.
fn between(first: &Side, second: &Side) -> Vec<(String, [f64; 2])> {
    let both: Vec<(String, f64, f64)> =
        first.meets.iter().zip(&second.meets).map(|(a, b)| (a.0.clone(), a.1, b.1)).collect();
    let whole = [first.whole(), second.whole()];
    // With one meeting point the ends nearer to it are taken to meet.
    let same_way = match both.as_slice() {
        [] => true,
        [(_, a, b)] => (a / whole[0] - b / whole[1]).abs() <= (a / whole[0] - (1.0 - b / whole[1])).abs(),
        many => {
            let (low, high) =
                (many.iter().min_by(|p, q| p.1.total_cmp(&q.1)), many.iter().max_by(|p, q| p.1.total_cmp(&q.1)));
            low.zip(high).is_none_or(|(low, high)| low.2 <= high.2)
        }
    };
    let mut stops: Vec<(String, f64, f64)> = both;
    if !same_way {
        for stop in &mut stops {
            stop.2 = whole[1] - stop.2;
        }
    }
    stops.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut before = (0.0, 0.0);
    if stops.len() > 1 {
        let (_, a, b) = stops.remove(0);
        before = (a, b);
    } else {
        stops.push((String::new(), whole[0], whole[1]));
    }
    let mut stretches = Vec::new();
    for (name, a, b) in stops {
        if a - before.0 > 1e-6 || b - before.1 > 1e-6 {
            stretches.push((name, [a - before.0, b - before.1]));
        }
        before = (a, b);
    }
    stretches
}

#[cfg(test)]
mod tests;
