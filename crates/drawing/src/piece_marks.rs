//! Marks on a piece: grainline, fold bracket, notches.

use ellwand_geometry::{Point, distance, point};

use crate::boxes::TurnedBox;
use crate::clearing::Obstacle;
use crate::marks::{Ink, Mark};

/// Which ends of a grainline carry an arrowhead.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Heads {
    /// Both: the piece may lie either way up the cloth.
    Both,
    /// Only the top: the cloth has a nap.
    Top,
    /// None: a fold bracket of a piece that has its grainline elsewhere.
    Neither,
}

/// Which end of a grainline stays when it is drawn in part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Keep {
    /// The top of the piece.
    High,
    /// The hem of the piece.
    Low,
}

/// A grainline or a fold bracket as it will be drawn, paper mm.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct GrainMark {
    /// Low end.
    low: Point,
    /// High end.
    high: Point,
    heads: Heads,
    /// Where the bracket's legs reach the fold, low end first.
    legs: Option<[Point; 2]>,
}

/// Length of an arrowhead, paper mm.
const HEAD: f64 = 2.2;
/// Half its width.
const HEAD_HALF: f64 = 0.65;
/// Air between a grainline and words.
const CLEAR: f64 = 0.7;
/// Distance of a fold bracket from the fold.
const BRACKET: f64 = 2.6;

impl GrainMark {
    /// The grainline from `low` to `high`.
    pub(crate) fn line(low: Point, high: Point, heads: Heads) -> Self {
        Self { low, high, heads, legs: None }
    }

    /// A bracket that ties the piece to the fold between `low` and `high`, standing `inward` (a unit vector) of it,
    /// on a drawing of a piece whose narrow side is `room` mm.
    pub(crate) fn bracket(low: Point, high: Point, inward: Point, room: f64, heads: Heads) -> Self {
        let trim = (high - low) * 0.2;
        let (low, high) = (low + trim, high - trim);
        let reach = inward * BRACKET.min(distance(low, high) / 3.0).min(room / 3.0);
        Self { low: low + reach, high: high + reach, heads, legs: Some([low, high]) }
    }

    /// The part of a plain grainline at one end, on its own line; a bracket stays whole.
    pub(crate) fn shortened(&self, keep: Keep) -> Self {
        const KEPT: f64 = 0.42;
        // An arrowhead and a little of its shaft is enough on a small piece, which needs the room for its number.
        const SMALL: f64 = 3.2;
        let length = distance(self.low, self.high);
        let kept = if length * KEPT < 2.0 * SMALL { (SMALL / length).min(KEPT) } else { KEPT };
        let mut short = self.clone();
        match (keep, self.legs) {
            (Keep::High, None) => short.low = self.high + (self.low - self.high) * kept,
            (Keep::Low, None) => short.high = self.low + (self.high - self.low) * kept,
            (_, Some(_)) => {}
        }
        short
    }

    /// How the shaft may be drawn: in the middle it can give way to a label, at its ends it cannot.
    pub(crate) fn obstacles(&self) -> (Vec<Obstacle>, Obstacle) {
        let along = unit(self.high - self.low);
        let end = (HEAD * 1.6).min(distance(self.low, self.high) / 2.5);
        let mut fixed = vec![
            Obstacle { a: self.low, b: self.low + along * end, reach: HEAD_HALF + 0.3 },
            Obstacle { a: self.high - along * end, b: self.high, reach: HEAD_HALF + 0.3 },
        ];
        for (from, to) in [self.low, self.high].into_iter().zip(self.legs.into_iter().flatten()) {
            fixed.push(Obstacle { a: from, b: to, reach: CLEAR });
        }
        (fixed, Obstacle { a: self.low, b: self.high, reach: CLEAR })
    }

    /// The strokes, with the shaft interrupted where it would meet `label`.
    pub(crate) fn strokes(&self, label: Option<&TurnedBox>) -> Vec<[Point; 2]> {
        let mut strokes = interrupted(self.low, self.high, label);
        for (from, to) in [self.low, self.high].into_iter().zip(self.legs.into_iter().flatten()) {
            strokes.push([from, to]);
        }
        strokes
    }

    /// The marks to draw.
    pub(crate) fn marks(&self, label: Option<&TurnedBox>) -> Vec<Mark> {
        let mut marks: Vec<Mark> =
            self.strokes(label).into_iter().map(|[a, b]| Mark::stroke(a, b, Ink::GRAIN)).collect();
        let along = unit(self.high - self.low);
        let size = HEAD.min(distance(self.low, self.high) / 2.1);
        if self.heads != Heads::Neither {
            marks.push(head(self.high, along, size));
        }
        if self.heads == Heads::Both {
            marks.push(head(self.low, along * -1.0, size));
        }
        if let Some(legs) = self.legs {
            for (from, to) in [self.low, self.high].into_iter().zip(legs) {
                marks.push(head(to, unit(to - from), (size * 0.7).min(distance(from, to))));
            }
        }
        marks
    }
}

/// The segment less the part under `label`, which gets a little air.
pub(crate) fn interrupted(a: Point, b: Point, label: Option<&TurnedBox>) -> Vec<[Point; 2]> {
    match label.and_then(|l| l.grown(0.4).span_within(a, b)) {
        None => vec![[a, b]],
        Some((from, to)) => {
            let at = |t: f64| a + (b - a) * t;
            let mut parts = Vec::new();
            if from > 0.0 {
                parts.push([a, at(from)]);
            }
            if to < 1.0 {
                parts.push([at(to), b]);
            }
            parts
        }
    }
}

/// A notch: a small triangle into the piece from its edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct NotchMark {
    at: Point,
    inward: Point,
    depth: f64,
}

impl NotchMark {
    /// A notch at `at`, pointing `inward` (a unit vector), on a drawing of a piece whose narrow side is `room` mm.
    pub(crate) fn new(at: Point, inward: Point, room: f64) -> Self {
        Self { at, inward, depth: (room / 6.0).clamp(0.7, 1.5) }
    }

    /// Its line of symmetry.
    pub(crate) fn stroke(&self) -> [Point; 2] {
        [self.at, self.at + self.inward * self.depth]
    }

    /// What words keep away from.
    pub(crate) fn obstacle(&self) -> Obstacle {
        let [a, b] = self.stroke();
        Obstacle { a, b, reach: 0.8 }
    }

    /// The triangle.
    pub(crate) fn mark(&self) -> Mark {
        let side = point(-self.inward.y, self.inward.x) * (self.depth * 0.45);
        Mark::area(vec![self.at - side, self.at + self.inward * self.depth, self.at + side], Ink::SOLID)
    }
}

/// A filled arrowhead with its tip at `tip`.
pub(crate) fn head(tip: Point, along: Point, size: f64) -> Mark {
    let side = point(-along.y, along.x) * (size * HEAD_HALF / HEAD).max(0.45);
    let back = tip - along * size;
    Mark::area(vec![tip, back + side, back - side], Ink::SOLID)
}

/// `v` at length one; up the page when it has none.
pub(crate) fn unit(v: Point) -> Point {
    let length = v.x.hypot(v.y);
    if length > 0.0 { v / length } else { point(0.0, -1.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shaft_gives_way_to_the_label_and_keeps_its_ends() {
        let grain = GrainMark::line(point(0.0, 0.0), point(100.0, 0.0), Heads::Top);
        let label = TurnedBox { center: point(50.0, 0.0), width: 20.0, height: 4.0, turn_deg: 0.0 };
        let strokes = grain.strokes(Some(&label));
        assert_eq!(strokes.len(), 2);
        assert!(strokes.iter().all(|&[a, b]| label.span_within(a, b).is_none()));
        assert_eq!((strokes[0][0], strokes[1][1]), (point(0.0, 0.0), point(100.0, 0.0)));
    }

    #[test]
    fn of_a_short_grainline_less_is_kept_beside_a_number() {
        let kept = |length: f64| {
            let whole = GrainMark::line(point(0.0, 0.0), point(length, 0.0), Heads::Top);
            [Keep::High, Keep::Low].map(|keep| {
                let [a, b] = whole.shortened(keep).strokes(None)[0];
                (distance(a, b) * 100.0).round() / 100.0
            })
        };
        assert_eq!(kept(100.0), [42.0, 42.0]);
        assert_eq!(kept(11.0), [3.2, 3.2]);
        assert_eq!(kept(5.0), [2.1, 2.1]);
    }

    #[test]
    fn nap_has_one_arrowhead_and_plain_cloth_two() {
        let count = |heads| GrainMark::line(point(0.0, 0.0), point(0.0, -50.0), heads).marks(None).len();
        assert_eq!((count(Heads::Neither), count(Heads::Top), count(Heads::Both)), (1, 2, 3));
    }
}
