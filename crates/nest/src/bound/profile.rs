//! What a shape is sure to cover, slab by slab, and how close two such shapes can come.
//!
//! A chain runs in one direction, and its shapes may be shifted against each other in the other one, *sideways*. A shape is cut into
//! slabs of one thickness, side by side, and of each slab only the spans are kept that the shape covers over the slab's whole
//! thickness. Where slabs of two shapes overlap sideways, by however little, their spans must not overlap along the chain. For a
//! range of shifts only such pairs of slabs count as overlap throughout it, so what is found holds for every shift in the range.
//!
//! The closest two shapes come over a window of shifts is found by branch and bound: the part of the window where they may come closest is
//! halved and looked at again with slabs half as thick. Whenever it stops, the least value of all parts is a proof.

use std::cell::RefCell;
use std::collections::BTreeMap;

use ellwand_geometry::{Bounds, Outline, point};

/// Spans along the chain that a slab covers throughout, in order.
type Spans = Vec<(f64, f64)>;

/// A shape in slabs. Its place sideways is that of its low side, its place along the chain that of the middle of its extent.
#[derive(Debug, PartialEq)]
pub(super) struct Profile {
    /// Slabs from the low side up, the thickest first; each list has slabs half as thick as the one before.
    levels: Vec<Vec<Spans>>,
    /// Thickness of the thickest slabs; the last of each list may be thinner.
    thickness: f64,
    /// Extent sideways.
    pub(super) width: f64,
    /// Half the extent along the chain.
    pub(super) half: f64,
}

/// Rounding allowed for: shapes that overlap by less count as apart. For shapes of a metre in mm.
pub(super) const HAIR: f64 = 1e-9;
/// Pairs of slabs compared for one window before what is proven by then is taken, as an order of magnitude.
const COMPARED: usize = 12_000;

impl Profile {
    /// The profile of what all of some outlines cover with a margin of `hair`, which is within `bounds`. Their `x` runs along the chain and
    /// their `y` sideways. In so many `levels` of slabs.
    pub(super) fn new(outlines: &[Outline], hair: f64, bounds: Bounds, thickness: f64, levels: usize) -> Self {
        let upright: Vec<Outline> =
            outlines.iter().map(|o| o.translated(point(-bounds.center().x, -bounds.min.y))).collect();
        let width = bounds.height();
        let finest = thickness / 2f64.powi(levels as i32 - 1);
        let count = (width / finest - HAIR).ceil().max(1.0) as usize;
        let cut = |k: usize| {
            let (low, high) = (finest * k as f64, (finest * (k + 1) as f64).min(width));
            let one = |outline| narrowed(spans_throughout(outline, low - hair, high + hair), hair);
            let (first, rest) = upright.split_first().map_or((Vec::new(), &[][..]), |(first, rest)| (one(first), rest));
            rest.iter().fold(first, |kept, outline| common(&kept, &one(outline)))
        };
        let mut slabs: Vec<Vec<Spans>> = vec![(0..count).map(cut).collect()];
        while slabs.len() < levels {
            let joined = slabs[slabs.len() - 1].chunks(2).map(|two| match two {
                [one, other] => common(one, other),
                rest => rest.concat(),
            });
            let joined = joined.collect();
            slabs.push(joined);
        }
        slabs.reverse();
        Self { levels: slabs, thickness, width, half: bounds.width() / 2.0 }
    }

    /// The lengths of all spans of the thinnest slabs, each with the thickness of its slab.
    pub(super) fn spans(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let finest = self.levels.len() - 1;
        self.levels[finest].iter().enumerate().flat_map(move |(k, spans)| {
            let (low, high) = self.sides(finest, k);
            spans.iter().map(move |(from, to)| (to - from, high - low))
        })
    }

    /// What the thinnest slabs cover of every line in them.
    pub(super) fn covered(&self) -> Vec<f64> {
        let sum = |spans: &Spans| spans.iter().map(|(low, high)| high - low).sum();
        self.levels[self.levels.len() - 1].iter().map(sum).collect()
    }

    /// The least that is covered of a line along the chain anywhere from `from` to `to` sideways.
    pub(super) fn least_covered(&self, from: f64, to: f64) -> f64 {
        let finest = self.levels.len() - 1;
        let meets = |k: &usize| {
            let (low, high) = self.sides(finest, *k);
            low <= to && high >= from
        };
        let slabs = (0..self.levels[finest].len()).filter(meets).map(|k| &self.levels[finest][k]);
        let covered = slabs.map(|spans| spans.iter().map(|(low, high)| high - low).sum::<f64>());
        let least = covered.fold(f64::INFINITY, f64::min);
        if least.is_finite() && from >= 0.0 && to <= self.width { least } else { 0.0 }
    }

    fn thickness(&self, level: usize) -> f64 {
        self.thickness / 2f64.powi(level as i32)
    }

    /// Low and high side of a slab.
    fn sides(&self, level: usize, slab: usize) -> (f64, f64) {
        let thickness = self.thickness(level);
        (thickness * slab as f64, (thickness * (slab + 1) as f64).min(self.width))
    }

    /// How close to `self` a shape `after` it can come, from middle to middle, where its shift sideways is anywhere in a range between
    /// two neighbouring multiples of the thickness, ends excluded, or one shift. `gap` is the least distance between the two.
    fn step(&self, after: &Self, level: usize, (low, high): (f64, f64), gap: f64) -> f64 {
        // At the end of an open range slabs may part; at a single shift they must overlap.
        let slack = if low < high { HAIR } else { -HAIR };
        let shift = ((low + high) / 2.0 / self.thickness(level)).floor() as i64;
        let (here, there) = (&self.levels[level], &after.levels[level]);
        let overlap =
            |mine: (f64, f64), its: (f64, f64)| its.0 + high <= mine.1 + slack && its.1 + low >= mine.0 - slack;
        let mut step = 0.0;
        loop {
            let from = step;
            let mut ahead = false;
            for facing in [shift, shift + 1] {
                let (skipped, facing_skipped) = ((-facing).max(0) as usize, facing.max(0) as usize);
                for (k, j) in (skipped..there.len()).zip(facing_skipped..here.len()) {
                    // All slabs but the last are equally thick.
                    let equal = j + 1 < here.len() && k + 1 < there.len() && (low < high || facing == shift);
                    if equal || overlap(self.sides(level, j), after.sides(level, k)) {
                        ahead |= move_on(&mut step, &here[j], &there[k], gap);
                    }
                }
            }
            if !ahead || step == from {
                return step;
            }
        }
    }
}

/// What holds between any two shapes of a chain.
#[derive(Debug, Clone, Copy)]
pub(super) struct Asked {
    /// Least distance between the two.
    pub(super) gap: f64,
    /// How far two may overlap sideways and yet pass each other.
    pub(super) conceded: f64,
}

/// How close one shape can come behind another; remembers what it has worked out.
#[derive(Debug, Default)]
pub(super) struct Steps {
    /// By level and number of the part: between this and the next multiple of the level's thickness.
    parts: RefCell<BTreeMap<(usize, i64), f64>>,
    /// At this multiple of the least thickness.
    at: RefCell<BTreeMap<i64, f64>>,
}

impl Steps {
    /// The least distance from middle to middle over all shifts from `low` to `high`, always for the same shapes and the same question.
    pub(super) fn least(&self, before: &Profile, after: &Profile, (low, high): (f64, f64), asked: Asked) -> f64 {
        let Asked { gap, conceded } = asked;
        // The ends themselves belong to the window.
        let (low, high) = (low - HAIR, high + HAIR);
        if high >= before.width - conceded || low <= conceded - after.width {
            return 0.0;
        }
        let finest = before.levels.len() - 1;
        let ends = |level: usize, part: i64| {
            let thickness = before.thickness(level);
            (part as f64 * thickness, (part + 1) as f64 * thickness)
        };
        let inside = |level, part| ends(level, part).1 > low && ends(level, part).0 < high;
        let between = |level: usize, part: i64| {
            let (from, to) = ends(level, part);
            if level == finest && (from < low || to > high) {
                return before.step(after, level, (from.max(low), to.min(high)), gap);
            }
            let work_out = || before.step(after, level, (from, to), gap);
            *self.parts.borrow_mut().entry((level, part)).or_insert_with(work_out)
        };
        // At the low end of a part.
        let at = |level: usize, part: i64| {
            let shift = ends(level, part).0;
            if shift < low || shift > high {
                return f64::INFINITY;
            }
            let work_out = || before.step(after, finest, (shift, shift), gap);
            *self.at.borrow_mut().entry(part << (finest - level)).or_insert_with(work_out)
        };
        let whole = (low / before.thickness).floor() as i64..=(high / before.thickness).floor() as i64;
        let mut least = whole.clone().map(|part| at(0, part)).fold(f64::INFINITY, f64::min);
        let mut parts: Vec<(f64, usize, i64)> = whole.map(|part| (between(0, part), 0, part)).collect();
        let mut compared = 0;
        while compared < COMPARED {
            let Some(next) = (0..parts.len()).min_by(|&a, &b| parts[a].0.total_cmp(&parts[b].0)) else { break };
            if parts[next].0 >= least {
                break;
            }
            let (_, level, part) = parts.swap_remove(next);
            compared += before.levels[level + 1].len().min(after.levels[level + 1].len());
            least = least.min(at(level + 1, 2 * part + 1));
            let halves = [2 * part, 2 * part + 1].into_iter().filter(|&half| inside(level + 1, half));
            for half in halves {
                let step = between(level + 1, half);
                if level + 1 == finest {
                    least = least.min(step);
                } else {
                    parts.push((step, level + 1, half));
                }
            }
        }
        parts.iter().map(|part| part.0).fold(least, f64::min)
    }
}

/// Moves `step` behind every span that overlaps another there, and says whether some would overlap further on.
fn move_on(step: &mut f64, here: &[(f64, f64)], there: &[(f64, f64)], gap: f64) -> bool {
    let mut ahead = false;
    for &(low, high) in here {
        for &(from, to) in there {
            let blocked = (low - to - gap + HAIR, high - from + gap - HAIR);
            if blocked.0 < *step {
                *step = step.max(blocked.1);
            } else {
                ahead |= blocked.0 < blocked.1;
            }
        }
    }
    ahead
}

/// Spans drawn in by `hair` at both ends.
fn narrowed(spans: Spans, hair: f64) -> Spans {
    if hair == 0.0 {
        return spans;
    }
    spans.into_iter().map(|(from, to)| (from + hair, to - hair)).filter(|(from, to)| from < to).collect()
}

/// The spans of `x` that the outline covers at every `y` from `low` to `high`.
fn spans_throughout(outline: &Outline, low: f64, high: f64) -> Spans {
    let mut levels: Vec<f64> = outline.points().iter().map(|p| p.y).filter(|&y| y > low && y < high).collect();
    levels.extend([low, high]);
    levels.sort_by(f64::total_cmp);
    let mut kept = vec![(f64::NEG_INFINITY, f64::INFINITY)];
    for level in levels.windows(2).filter(|level| level[0] < level[1]) {
        kept = common(&kept, &spans_between(outline, level[0], level[1]));
    }
    kept
}

/// The same where no corner lies strictly between `low` and `high`: the outline is trapezoids there, and each covers the span
/// common to its two parallel sides.
fn spans_between(outline: &Outline, low: f64, high: f64) -> Spans {
    let middle = (low + high) / 2.0;
    let mut sides: Vec<[f64; 3]> = (outline.edges())
        .filter(|(a, b)| (a.y < middle) != (b.y < middle))
        .map(|(a, b)| [middle, low, high].map(|y| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y)))
        .collect();
    sides.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let spans = sides.chunks_exact(2).map(|s| (s[0][1].max(s[0][2]), s[1][1].min(s[1][2])));
    spans.filter(|(from, to)| from < to).collect()
}

/// What two lists of disjoint spans in order have in common.
fn common(a: &[(f64, f64)], b: &[(f64, f64)]) -> Spans {
    let meet = |p: &(f64, f64), q: &(f64, f64)| (p.0.max(q.0), p.1.min(q.1));
    a.iter().flat_map(|p| b.iter().map(move |q| meet(p, q))).filter(|(from, to)| from < to).collect()
}
