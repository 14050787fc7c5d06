//! Corners of allowances that the pattern says something of, tried half-way down the side of a straight edge beside another.

use super::drawing::{DEEP, to_segment};
use crate::{
    motion::apart,
    record::{PieceRecord, Place},
};

/// What is left beyond the diagonal of a mitre, mm: a quarter of an inch.
const BEYOND_MITRE: f64 = 6.35;

/// An edge as a fine line, and how deep its allowance is.
type Line = (Vec<Place>, Option<f64>);

/// Judges the corners between straight edges that are long beside their allowances.
pub(super) fn corners(
    lines: &[Line],
    words: &[Option<&str>],
    record: &PieceRecord,
    say: &mut dyn FnMut(&'static str, String),
) {
    let n = lines.len();
    let area: f64 =
        lines.iter().flat_map(|(line, _)| line.windows(2)).map(|w| w[0][0] * w[1][1] - w[1][0] * w[0][1]).sum();
    // Long enough that what happens at its other end, and at other edges, is far away.
    let usable = |k: usize, deeper: f64| {
        let (line, _) = &lines[k];
        line.len() == 2 && apart(line[0], line[1]) > 4.0 * deeper + 10.0
    };
    for k in 0..n {
        for beside in [(k + 1) % n, (k + n - 1) % n] {
            let (Some(word), Some(depth), Some(other)) = (words[k], lines[k].1, lines[beside].1) else { continue };
            if !usable(k, depth.max(other)) || !usable(beside, depth.max(other)) {
                continue;
            }
            // From the corner back along both edges.
            let (from, [a, b], way) = if beside == (k + 1) % n {
                (lines[k].0[1], [lines[k].0[0], lines[beside].0[1]], area)
            } else {
                (lines[k].0[0], [lines[k].0[1], lines[beside].0[0]], -area)
            };
            let Some(frame) = Corner::new(from, a, b, way) else { continue };
            if depth < 2.0 {
                continue;
            }
            let expected = match (word, words[beside]) {
                // In a wider corner the allowances of both may cover each other's ends.
                ("mitred", Some("mitred")) if other > 0.0 && frame.turn[1] <= 0.5 => frame.mitred(depth, other),
                ("mirrored", None) => frame.beside(other, depth / 2.0),
                ("square", None) => {
                    let [s, _] = frame.beside(other, 0.0);
                    [s, -depth / 2.0]
                }
                ("straight on", None) if depth > other + 0.1 => frame.beside(other, -depth / 2.0),
                _ => continue,
            };
            let expected = if word == "mirrored" { [expected[0], -expected[1]] } else { expected };
            let at = frame.place(expected);
            let ring = &record.outline;
            let off = (0..ring.len())
                .map(|i| to_segment(at, ring[i], ring[(i + 1) % ring.len()]))
                .fold(f64::INFINITY, f64::min);
            if off > DEEP {
                say("corner", format!("the {word} corner of \"{}\" at {from:.1?} is {off:.2} mm off", record.piece));
            }
        }
    }
}

/// Two straight edges from their corner: the first along the axis, away from the corner below zero, and the piece above it.
struct Corner {
    origin: Place,
    along: Place,
    inward: Place,
    /// Sine and cosine of the turn from the first edge, run towards the corner, to the second, run away from it.
    turn: [f64; 2],
}

impl Corner {
    /// None of an inward corner, of edges nearly in line, and of sharp corners. The outline runs from `a` to `b` counter-clockwise where
    /// `way_round` is above zero.
    fn new(origin: Place, a: Place, b: Place, way_round: f64) -> Option<Self> {
        let way = |from: Place, to: Place| {
            let long = apart(from, to);
            [0, 1].map(|axis| (to[axis] - from[axis]) / long)
        };
        let (along, away) = (way(a, origin), way(origin, b));
        let sides = along[0] * away[1] - along[1] * away[0];
        // The second edge leads to the side on which the piece lies, at an outward corner.
        let inward = if sides > 0.0 { [-along[1], along[0]] } else { [along[1], -along[0]] };
        let turn = [sides.abs(), along[0] * away[0] + along[1] * away[1]];
        let degrees = turn[0].atan2(turn[1]).to_degrees();
        (sides * way_round > 0.0 && (35.0..=120.0).contains(&degrees)).then_some(Self { origin, along, inward, turn })
    }

    fn place(&self, [s, t]: Place) -> Place {
        [0, 1].map(|axis| self.origin[axis] + self.along[axis] * s + self.inward[axis] * t)
    }

    /// Where the cutting line of the second edge lies at a height above the first.
    fn beside(&self, depth: f64, height: f64) -> Place {
        let [sin, cos] = self.turn;
        [(depth + height * cos) / sin, height]
    }

    /// A place on the cutting line of a mitre, half-way down the allowance of the first edge.
    fn mitred(&self, depth: f64, other: f64) -> Place {
        let [sin, cos] = self.turn;
        let before = (other - depth * cos) / sin;
        let beyond = BEYOND_MITRE.min(depth.min(other) / 2.0) * (before / depth).hypot(1.0);
        [beyond - before / 2.0, -depth / 2.0]
    }
}
