//! Lower bounds on the length of a strip, each with the argument that proves it.
//!
//! *Area*: shapes that do not overlap cover at least their area. *Longest item*: a shape is no longer than the strip. *Line* ([`mod@line`]):
//! what must cover one line along the strip. *Stack* and *row* ([`chain`]): what cannot lie side by side, and what in a
//! shorter strip could not lie one above the other. *Widths* and *lengths* ([`remainder`]): what wide and long shapes leave that no other
//! can use. The best is taken, and raised to a length at which some item can end.
//!
//! Every argument uses the true outlines, not the simplified ones that are searched, and ignores obstacles, which only
//! make a packing longer.

mod chain;
mod line;
mod profile;
mod remainder;
mod run;

use crate::fits::is_longer;
use crate::model::{Model, ModelItem};
use crate::stance::Stance;
use chain::Chains;
use run::Run;

/// A length no packing goes below.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// mm.
    pub length: f64,
    /// Which argument proves it.
    pub reason: BoundReason,
}

/// The argument behind a lower bound.
#[derive(Debug, Clone, PartialEq)]
pub enum BoundReason {
    /// The shapes' area over the strip's width.
    Area,
    /// One item alone is this long, or has no position in which it ends lower.
    LongestItem {
        /// Its index.
        item: usize,
    },
    /// On the line `x = at`, what the items must cover of it adds up.
    Line {
        /// Where the line runs.
        at: f64,
    },
    /// Items that cannot lie side by side, one above the other.
    Stack {
        /// Their indices.
        items: Vec<usize>,
    },
    /// Across the strip, wide shapes leave room that others cannot fill.
    Widths,
    /// Along a shorter strip, long shapes would leave room that others could not fill.
    Lengths,
    /// Items that in a shorter strip could not lie one above the other, and side by side are wider than it.
    Row {
        /// Their indices.
        items: Vec<usize>,
    },
}

impl Bound {
    /// The best of the bounds.
    pub(crate) fn of(model: &Model) -> Self {
        let area: f64 = model.items.iter().map(|item| item.area).sum();
        let mut best = Self { length: area / model.width, reason: BoundReason::Area };
        for (index, item) in model.items.iter().enumerate() {
            best.raise(lowest_end(item), BoundReason::LongestItem { item: index });
        }
        let (length, at) = line::most_covered(model);
        best.raise(length, BoundReason::Line { at });
        if let Some(proof) = Chains::new(model, Run::Along).longest_stack() {
            best.raise(proof.length, BoundReason::Stack { items: proof.items });
        }
        best.raise(remainder::widths(model), BoundReason::Widths);
        if let Some(proof) = Chains::new(model, Run::Across).widest_row(best.length) {
            best.raise(proof.length, BoundReason::Row { items: proof.items });
        }
        if let Some(length) = remainder::lengths(model, best.length) {
            best.raise(length, BoundReason::Lengths);
        }
        best.length = first_end(model, best.length);
        best
    }

    /// Takes a longer bound; of equals, rounding aside, the simpler argument comes first and stays.
    fn raise(&mut self, length: f64, reason: BoundReason) {
        if is_longer(length, self.length) {
            *self = Self { length, reason };
        }
    }
}

/// Halves the range between a length that is refuted and one that is not, and returns the greatest length seen to be refuted.
fn last_refuted((mut low, mut high): (f64, f64), halvings: usize, mut refuted: impl FnMut(f64) -> bool) -> f64 {
    for _ in 0..halvings {
        let middle = (low + high) / 2.0;
        if refuted(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// Where an item ends that has the strip to itself.
fn lowest_end(item: &ModelItem) -> f64 {
    let end = |s: &Stance| Some(s.ever_at_or_above(-s.bounds.min.y)? + s.bounds.max.y);
    let lowest = item.stances.iter().filter_map(end).fold(f64::INFINITY, f64::min);
    if lowest.is_finite() { lowest } else { 0.0 }
}

/// The least length, not below `length`, at which an item can end: a packing is as long as one of its items reaches, and on a lattice
/// they do not reach everywhere.
fn first_end(model: &Model, length: f64) -> f64 {
    let rounding = 1e-9 * length;
    let stances = model.items.iter().flat_map(|item| &item.stances);
    let ends = stances.filter_map(|s| Some(s.ever_at_or_above(length - s.bounds.max.y - rounding)? + s.bounds.max.y));
    let first = ends.fold(f64::INFINITY, f64::min);
    if first.is_finite() { length.max(first) } else { length }
}

#[cfg(test)]
mod tests;
