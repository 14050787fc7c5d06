//! Where items of one kind may still go: columns, the one with the lowest place first.
//!
//! While the strip fills, the lowest free place in a column only rises. So what one item of a kind has found is where the next
//! one begins to look, and a column that was not better before need not be looked at now: the lazy evaluation of Minoux
//! ("Accelerated greedy algorithms for maximizing submodular set functions", 1978). It finds the same places as looking
//! everywhere each time.

use std::cmp::{Ordering, Reverse};
use std::collections::BinaryHeap;
use std::collections::binary_heap::PeekMut;

use ellwand_geometry::{Bounds, Point, point};

use crate::model::Model;
use crate::phase::Phases;
use crate::stance::Stance;

/// Columns for each stance at equal distances, the two ends among them.
const EVEN: usize = 48;

/// The columns of one kind.
pub(super) struct Columns {
    lowest_first: BinaryHeap<Reverse<Column>>,
    /// The `x` of the even columns of each stance, ascending.
    even: Vec<Vec<f64>>,
    /// How many of the solids laid have their columns beside them.
    seen: usize,
}

/// Places of one stance at one `x`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Column {
    /// Where the top of the item would be.
    top: f64,
    pub(super) stance: usize,
    /// The lowest place that is not known to be taken.
    pub(super) at: Point,
    /// Where the column ends.
    highest: f64,
}

impl Column {
    fn new(stance: (usize, &Stance), at: Point, highest: f64) -> Self {
        Self { top: at.y + stance.1.bounds.max.y, stance: stance.0, at, highest }
    }
}

/// By the top, of equals by `x`, of equals by stance.
impl Ord for Column {
    fn cmp(&self, other: &Self) -> Ordering {
        (self.top.total_cmp(&other.top)).then(self.at.x.total_cmp(&other.at.x)).then(self.stance.cmp(&other.stance))
    }
}

impl PartialOrd for Column {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Column {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Column {}

impl Columns {
    /// The even columns for items like `item`, from the floor up.
    pub(super) fn new(model: &Model, item: usize, phases: &Phases) -> Self {
        let stances = &model.items[item].stances;
        let even: Vec<Vec<f64>> = stances.iter().map(|stance| even(model, stance, phases)).collect();
        let from_floor = stances.iter().enumerate().zip(&even).flat_map(|(stance, xs)| {
            let floor = stance.1.y_range(f64::INFINITY).0;
            let lowest = stance.1.at_or_above(floor, phases).unwrap_or(floor);
            xs.iter().map(move |&x| Reverse(Column::new(stance, point(x, lowest), f64::INFINITY)))
        });
        Self { lowest_first: from_floor.collect(), even, seen: 0 }
    }

    /// Adds the columns beside what was laid since the last call, where rectangles fit without a gap. `laid` holds all
    /// boxes in the order they were laid. Such a column reaches only as far as the item stands beside the box.
    pub(super) fn add_beside(&mut self, model: &Model, item: usize, laid: &[Bounds], phases: &Phases) {
        let same = model.slack.rounding;
        for (index, stance) in model.items[item].stances.iter().enumerate() {
            let (one, _) = model.stands(item, index, point(0.0, 0.0));
            let reach = model.reach(&one);
            let (left, right) = stance.x_range();
            let floor = stance.y_range(f64::INFINITY).0;
            for solid in &laid[self.seen..] {
                let Some(lowest) = stance.at_or_above(floor.max(solid.min.y - reach.max.y), phases) else { continue };
                for x in [solid.max.x - reach.min.x, solid.min.x - reach.max.x] {
                    if x < left - same || x > right + same {
                        continue;
                    }
                    let Some(at) = stance.nearest(point(x, 0.0), f64::MAX, phases).map(|at| point(at.x, lowest)) else {
                        continue;
                    };
                    let k = self.even[index].partition_point(|&even| even < at.x - same);
                    if self.even[index].get(k).is_none_or(|&even| even > at.x + same) {
                        let column = Column::new((index, stance), at, solid.max.y - reach.min.y);
                        self.lowest_first.push(Reverse(column));
                    }
                }
            }
        }
        self.seen = laid.len();
    }

    /// The place where the item's top is lowest. `free_from` tells the lowest free `y` of a column at or above where it
    /// begins.
    pub(super) fn lowest(&mut self, model: &Model, item: usize, free_from: impl Fn(&Column) -> f64) -> Option<Column> {
        while let Some(mut first) = self.lowest_first.peek_mut() {
            let column = first.0;
            let y = free_from(&column);
            if y == column.at.y {
                return Some(column);
            }
            if y <= column.highest {
                let stance = (column.stance, &model.items[item].stances[column.stance]);
                first.0 = Column::new(stance, point(column.at.x, y), column.highest);
            } else {
                PeekMut::pop(first);
            }
        }
        None
    }
}

/// The allowed `x` spread evenly, ascending. Fixed and lattice axes give the same `x` again and again; it is kept once.
fn even(model: &Model, stance: &Stance, phases: &Phases) -> Vec<f64> {
    let (left, right) = stance.x_range();
    let spread = (0..=EVEN).map(|k| left + (right - left) * k as f64 / EVEN as f64);
    let mut xs: Vec<f64> = spread.filter_map(|x| Some(stance.nearest(point(x, 0.0), f64::MAX, phases)?.x)).collect();
    xs.sort_by(f64::total_cmp);
    xs.dedup_by(|next, kept| *next - *kept <= model.slack.rounding);
    xs
}
