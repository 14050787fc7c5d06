//! One side of a seam in the pieces to be cut: its edges one after the other in the order they are sewn.

use ellwand_geometry::{Point, distance};

use crate::SeamSide;

/// Ends no farther apart than this are one place, mm: what an outline may miss its start by.
const JOINED: f64 = 0.05;

/// One side of a seam: its edges one after the other, and how far along them each meeting point lies. What a dart opens between two edges is
/// not counted.
#[derive(Debug, Clone)]
pub(crate) struct SewnSide {
    /// The stretches of its edges, mm.
    pub(crate) lines: Vec<Vec<Point>>,
    /// Its meeting points, each with how far along the side it lies, mm.
    pub(crate) meets: Vec<(String, f64)>,
}

impl SewnSide {
    /// The side, where `lines_of` gives the stretches of the edges of a name and `place` where a point or notch lies. `None` when the seam does
    /// not say which edges are sewn.
    pub(crate) fn of(
        side: &SeamSide,
        lines_of: impl Fn(&str) -> Vec<Vec<Point>>,
        place: impl Fn(&str) -> Option<Point>,
    ) -> Option<Self> {
        if side.edges.is_empty() {
            return None;
        }
        let mut lines: Vec<Vec<Point>> = Vec::new();
        for name in &side.edges {
            let mut next = lines_of(name);
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
                && let Some((first, last)) = side.edges.get(1).and_then(|name| ends(&lines_of(name)))
                && let Some((from, to)) = ends(&next)
            {
                let near = |p: Point| distance(p, first).min(distance(p, last));
                if near(from) < near(to) {
                    next = turned(next);
                }
            }
            lines.extend(next);
        }
        let meets = side.meets.iter().filter_map(|name| Some((name.clone(), along(&lines, place(name)?)))).collect();
        Some(Self { lines, meets })
    }

    /// Its length, mm.
    pub(crate) fn whole(&self) -> f64 {
        self.lines.iter().flat_map(|line| line.windows(2)).map(|w| distance(w[0], w[1])).sum()
    }

    /// Whether `other` is sewn to it in the order in which both run, and not from its far end. With one meeting point the ends nearer to it are
    /// taken to meet.
    pub(crate) fn runs_with(&self, other: &Self) -> bool {
        let both: Vec<(f64, f64)> = self.meets.iter().zip(&other.meets).map(|(a, b)| (a.1, b.1)).collect();
        match both.as_slice() {
            [] => true,
            [(a, b)] => {
                let (a, b) = (a / self.whole(), b / other.whole());
                (a - b).abs() <= (a - (1.0 - b)).abs()
            }
            many => {
                let low = many.iter().min_by(|p, q| p.0.total_cmp(&q.0));
                let high = many.iter().max_by(|p, q| p.0.total_cmp(&q.0));
                low.zip(high).is_none_or(|(low, high)| low.1 <= high.1)
            }
        }
    }

    /// The place so far along it, mm; its end beyond that. `None` of a side without a line.
    pub(crate) fn place(&self, far: f64) -> Option<Point> {
        let mut left = far.max(0.0);
        for w in self.lines.iter().flat_map(|line| line.windows(2)) {
            let length = distance(w[0], w[1]);
            if length > 0.0 && left <= length {
                return Some(w[0] + (w[1] - w[0]) * (left / length));
            }
            left -= length;
        }
        self.lines.last()?.last().copied()
    }
}

/// Lines as the stretches they make: one where they follow one another, and a new one beyond a dart between them.
pub(crate) fn stretches(drawn: impl Iterator<Item = Vec<Point>>) -> Vec<Vec<Point>> {
    let mut lines: Vec<Vec<Point>> = Vec::new();
    for line in drawn {
        match (lines.last_mut(), line.first()) {
            (Some(before), Some(&from)) if before.last().is_some_and(|&end| distance(end, from) <= JOINED) => {
                before.extend(line.into_iter().skip(1));
            }
            _ => lines.push(line),
        }
    }
    // Where the outline starts within them.
    if lines.len() > 1
        && let (Some(&end), Some(&from)) = (lines[lines.len() - 1].last(), lines[0].first())
        && distance(end, from) <= JOINED
    {
        let first = lines.remove(0);
        if let Some(last) = lines.last_mut() {
            last.extend(first.into_iter().skip(1));
        }
    }
    lines
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
