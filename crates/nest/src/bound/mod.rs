//! Lower bounds on the length of a strip, each with the argument that proves it.
//!
//! *Area*: shapes that do not overlap cover at least their area. *Longest item*: a shape is no longer than the strip. *Line* ([`mod@line`]):
//! what must cover one line along the strip. *Stack* and *row* ([`chain`]): what cannot lie side by side, and what in a
//! shorter strip could not lie one above the other; *stacks* and *rows* are several of these among which items are shared. *Widths* and *lengths* ([`remainder`]): what wide and long shapes leave that no other
//! can use. The best is taken, and raised to a length at which some item can end.
//!
//! Every argument uses the true outlines, not the simplified ones that are searched, and ignores obstacles, which only
//! make a packing longer.
//!
//! What may be turned by anything up to a tilt is looked at as what it covers in every turn ([`footprint`]), so each argument holds for all.

mod chain;
mod footprint;
mod line;
pub(crate) mod nowhere;
mod profile;
mod refute;
mod remainder;
mod run;
mod shares;

use crate::fits::is_longer;
use crate::model::Model;
use crate::{Axis, Problem, Proof};
use chain::Chains;
use footprint::{Footprint, Subjects};
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
    /// Items of which no more lie side by side than a number of stacks, or which may stand in so many places across only: however they are shared
    /// among the stacks, one takes this much.
    Stacks {
        /// How many stacks there are.
        number: usize,
        /// The items' indices.
        items: Vec<usize>,
    },
    /// Across the strip, wide shapes leave room that others cannot fill.
    Widths,
    /// Along a shorter strip, long shapes would leave room that others could not fill.
    Lengths,
    /// Items that do not fit a shorter strip, whichever of them lie side by side and whichever one above the other.
    Row {
        /// Their indices.
        items: Vec<usize>,
    },
    /// Items of which in a shorter strip no more could lie one above the other than a number of rows: however they are shared among the rows, one
    /// is wider than the strip.
    Rows {
        /// How many rows there are.
        number: usize,
        /// The items' indices.
        items: Vec<usize>,
    },
    /// Items stand on lattices, and none of them can end between what another argument proves and this length.
    NextEnd {
        /// What the other argument proves, mm.
        proven: f64,
        /// The other argument.
        by: Box<Self>,
    },
}

impl Bound {
    /// The best of the bounds for `problem`, which `model` has made ready in whatever tilts: it holds for all that are allowed.
    pub(crate) fn of(problem: &Problem, model: &Model) -> Self {
        Self::proven(problem, model, Proof::Best)
    }

    /// As [`Bound::of`], by as many arguments as `proof` says.
    pub(crate) fn proven(problem: &Problem, model: &Model, proof: Proof) -> Self {
        let subjects = &Subjects::new(problem, model);
        let area: f64 = subjects.items.iter().map(|item| item.area).sum();
        let mut best = Self { length: area / subjects.width, reason: BoundReason::Area };
        for item in 0..subjects.items.len() {
            best.raise(lowest_end(subjects.footprints(item)), BoundReason::LongestItem { item });
        }
        if proof == Proof::Simple {
            return best;
        }
        let (length, at) = line::most_covered(subjects);
        best.raise(length, BoundReason::Line { at });
        let stacks = Chains::new(subjects, Run::Along);
        for proof in [stacks.longest_stack(), stacks.longest_of_stacks()].into_iter().flatten() {
            best.raise(proof.length, stacked(proof));
        }
        best.raise(remainder::widths(subjects), BoundReason::Widths);
        let rows = Chains::new(subjects, Run::Across);
        if let Some(proof) = rows.widest_row(best.length) {
            best.raise(proof.length, BoundReason::Row { items: proof.items });
        }
        if let Some(chain::Proof { length, chains: number, items }) = rows.widest_of_rows(best.length) {
            best.raise(length, BoundReason::Rows { number, items });
        }
        if let Some(proof) = rows.widest_shifted_row(best.length) {
            best.raise(proof.length, BoundReason::Row { items: proof.items });
        }
        if let Some(length) = remainder::lengths(subjects, best.length) {
            best.raise(length, BoundReason::Lengths);
        }
        let first = first_end(subjects, best.length);
        if is_longer(first, best.length) {
            let (proven, by) = (best.length, Box::new(best.reason));
            return Self { length: first, reason: BoundReason::NextEnd { proven, by } };
        }
        best.length = first;
        best
    }

    /// Takes a longer bound; of equals, rounding aside, the simpler argument comes first and stays.
    fn raise(&mut self, length: f64, reason: BoundReason) {
        if is_longer(length, self.length) {
            *self = Self { length, reason };
        }
    }
}

fn stacked(chain::Proof { chains, items, .. }: chain::Proof) -> BoundReason {
    if chains == 1 { BoundReason::Stack { items } } else { BoundReason::Stacks { number: chains, items } }
}

/// Where an item ends that has the strip to itself.
fn lowest_end(footprints: &[Footprint]) -> f64 {
    let end = |f: &Footprint| match f.y {
        Axis::Free => Some(f.height),
        _ => Some(f.at_or_above(-f.bounds.min.y)? + f.bounds.max.y),
    };
    let lowest = footprints.iter().filter_map(end).fold(f64::INFINITY, f64::min);
    if lowest.is_finite() { lowest } else { 0.0 }
}

/// The least length, not below `length`, at which an item can end: a packing is as long as one of its items reaches, and on a lattice
/// they do not reach everywhere. What may be tilted may end anywhere.
fn first_end(subjects: &Subjects, length: f64) -> f64 {
    let rounding = 1e-9 * length;
    let end = |f: &Footprint| match f.outline() {
        Some(_) => Some(f.at_or_above(length - f.bounds.max.y - rounding)? + f.bounds.max.y),
        None => Some(length),
    };
    let first = subjects.all().filter_map(end).fold(f64::INFINITY, f64::min);
    if first.is_finite() { length.max(first) } else { length }
}

#[cfg(test)]
mod tests;
