//! What wide pieces leave beside them and others cannot use: the area bound with widths rounded up where that is proven.
//!
//! A function `u` on the shares 0 to 1 is *dual feasible* when shares that together are at most 1 have values that together
//! are at most 1. On a line across the strip, what the shapes cover are disjoint spans of at most the strip's width together. So the sum
//! over all shapes of the integral of `u(span / width)` over the lines they cover is at most the length. With `u(s) = s` that is the
//! area bound. A `u` that rounds large shares up and small ones down says more where spans do not combine to the whole width. The two
//! families and their combination are those of Fekete & Schepers ("New classes of fast lower bounds for bin packing problems",
//! Mathematical Programming 91, 2001): `k` parts rounded down to, and a margin that spoils what is left.
//!
//! *Widths* takes lines across and proves a length. *Lengths* takes lines along a strip of given length: when
//! the integral is more than the width, the strip is longer.

use super::footprint::Subjects;
use super::refute::last_refuted;
use super::run::Run;

/// Slabs of each shape.
const SLABS: f64 = 128.0;
/// Greatest number of parts, and steps of the margin up to a half.
const PARTS: usize = 4;
const MARGINS: usize = 20;
/// Lengths tried: steps of this share above the known bound, so many, and halvings of the last step.
const STEP: f64 = 0.02;
const STEPS: usize = 40;
const HALVINGS: usize = 10;
/// Rounding allowed for, as a share.
const HAIR: f64 = 1e-9;
/// Of what is conceded, the greatest multiple that shapes side by side on one line may take together: one for each of `PARTS` and one more,
/// and one at either border.
const CONCESSIONS: f64 = PARTS as f64 + 3.0;

/// A dual feasible function: first the margin, then the parts.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rounding {
    /// Below this share nothing counts, and what leaves less counts as all.
    margin: f64,
    /// Shares are rounded down to parts of this number where that gains; 0 leaves them as they are.
    parts: usize,
}

impl Rounding {
    fn all() -> impl Iterator<Item = Self> {
        let margins = (0..MARGINS).map(|k| 0.5 * k as f64 / MARGINS as f64);
        margins.flat_map(|margin| (0..=PARTS).map(move |parts| Self { margin, parts }))
    }

    /// The rounded share; `hair` is the share by which several together may exceed 1.
    fn of(self, share: f64, hair: f64) -> f64 {
        let spoiled = if share < self.margin {
            0.0
        } else if share > 1.0 - self.margin + hair {
            1.0
        } else {
            share
        };
        match self.parts {
            0 => spoiled,
            // `n` parts and one more: `n + 1` shares that together are at most 1 each hold less than a whole multiple.
            n => (((n + 1) as f64 * spoiled - hair).floor().max(0.0) / n as f64).min(1.0),
        }
    }
}

/// Items of one kind: how many shapes they are, and the spans of one in each turn, with its extent along the strip.
struct Kind {
    shapes: f64,
    turns: Vec<Turn>,
}

struct Turn {
    /// Turns of one number have the same spans.
    alike: usize,
    length: f64,
    /// Lengths of spans and thicknesses of slabs.
    spans: Vec<(f64, f64)>,
}

/// The length that rounded widths prove.
pub(super) fn widths(subjects: &Subjects) -> f64 {
    let kinds = kinds(subjects, Run::Across);
    let hair = HAIR + CONCESSIONS * subjects.slack.conceded / subjects.width;
    let across = |rounding| integral(&kinds, rounding, Room { length: subjects.width, hair }, f64::INFINITY);
    Rounding::all().map(across).fold(0.0, f64::max)
}

/// The greatest length found, above `known`, in which rounded lengths take more than the width.
pub(super) fn lengths(subjects: &Subjects, known: f64) -> Option<f64> {
    let kinds = kinds(subjects, Run::Along);
    // Across the strip every shape may stick out, or overlap the next, by what is conceded.
    let shapes: f64 = kinds.iter().map(|kind| kind.shapes).sum();
    let width = subjects.width * (1.0 + HAIR) + (shapes + 1.0) * subjects.slack.conceded;
    let too_wide = |length: f64, rounding| integral(&kinds, rounding, Room { length, hair: HAIR }, length) > width;
    let refuted = |length: f64| Rounding::all().any(|rounding| too_wide(length, rounding));
    let steps = (0..STEPS).map(|k| known * (1.0 + STEP * k as f64 + HAIR));
    let low = steps.take_while(|&length| refuted(length)).last()?;
    Some(last_refuted((low, low + known * STEP), HALVINGS, refuted))
}

/// What spans on one line share.
#[derive(Debug, Clone, Copy)]
struct Room {
    length: f64,
    /// The share by which they may exceed it.
    hair: f64,
}

/// The sum over all shapes of the rounded spans' shares of `room`, each shape in the turn that takes least of those no longer than
/// `longest`.
fn integral(kinds: &[Kind], rounding: Rounding, room: Room, longest: f64) -> f64 {
    let share = |span: f64| rounding.of(span / room.length, room.hair);
    let of_turn = |turn: &Turn| turn.spans.iter().map(|(span, slab)| share(*span) * slab).sum::<f64>();
    let of_kind = |kind: &Kind| {
        let turns = kind.turns.iter().filter(|turn| turn.length <= longest * (1.0 + HAIR));
        kind.shapes * turns.map(of_turn).fold(f64::INFINITY, f64::min)
    };
    kinds.iter().map(of_kind).sum()
}

/// The items by kind, with spans that run as said. Flips change no span's length.
fn kinds(subjects: &Subjects, run: Run) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    let mut kind_of = vec![0; subjects.items.len()];
    for (index, item) in subjects.items.iter().enumerate() {
        if item.kind == index {
            let mut turns: Vec<Turn> = Vec::new();
            for footprint in &item.footprints {
                let (width, alike) = (run.width(footprint.bounds), footprint.alike);
                if turns.iter().all(|turn| turn.alike != alike) {
                    let spans = if width > 0.0 {
                        footprint.profile(run, width / SLABS, 1).spans().collect()
                    } else {
                        Vec::new()
                    };
                    turns.push(Turn { alike, length: footprint.bounds.height(), spans });
                }
            }
            kind_of[index] = kinds.len();
            kinds.push(Kind { shapes: 0.0, turns });
        }
        kinds[kind_of[item.kind]].shapes += if item.has_twin { 2.0 } else { 1.0 };
    }
    kinds
}
