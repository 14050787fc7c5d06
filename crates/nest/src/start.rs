//! The starting packing: largest first, each where its top is lowest.
//!
//! For each stance and a choice of `x`, the lowest free `y` is exact: the no-fit regions of what is placed cut
//! the vertical line into blocked spans, and the lowest gap between them is taken. Items of one kind follow each other up
//! the same columns, so none begins again at the floor (`columns`).

use std::collections::BTreeMap;

use columns::{Column, Columns};
use ellwand_geometry::{Bounds, point};

use crate::NestError;
use crate::board::Board;
use crate::fits::slot_rounding;
use crate::model::{Model, Places};
use crate::phase::{Phase, Phases};
use crate::place::Candidates;
use crate::random::Random;
use crate::separate::{Patience, Separated, Separator};
use crate::stance::Stance;

mod columns;

/// How hard, and in how many ever longer strips, fixed items are separated.
const PATIENCE: Patience = Patience {
    rounds: 100,
    attempts: 3,
    candidates: Candidates { spread: 80, around: 20, restanced: 25, touching: 40, refined: 3 },
};
const STRIPS: usize = 8;
/// Candidates evaluated in each of those strips, at most.
const WORK: u64 = 20_000_000;

/// How many values of a phase the start tries, and how far apart they are, as a share of its step.
const EDGE_VALUES: usize = 12;
const EDGE_APART: f64 = 0.01;

/// A packing without overlap: the starting one, or, when items with a fixed `y` made that overlap, one separated in a longer
/// strip. As soon as `hurry` says so, what is still to be placed is taken for its boxes, which is quick.
///
/// # Errors
///
/// [`NestError::NoPackingFound`] when even that overlaps.
pub(crate) fn clear_packing(model: &Model, seed: u64, hurry: &dyn Fn() -> bool) -> Result<Places, NestError> {
    let places = settled_first(model, hurry)?;
    let is_clear = |places: &Places| {
        let mut clear = true;
        Board::new(model, f64::INFINITY, places.clone()).overlaps(model, |_, _, _| clear = false);
        clear
    };
    if is_clear(&places) {
        return Ok(places);
    }
    let mut separator = Separator::new(model, Random::new(seed, 0));
    let mut length = model.length_of(&places);
    for _ in 0..STRIPS {
        let mut board = Board::new(model, length, places.clone());
        let mut separation = separator.begin(&board);
        let until = separator.work + WORK;
        if separator.advance(&mut separation, &mut board, PATIENCE, &|work| work > until) == Separated::Clear {
            return Ok(board.places);
        }
        length *= 1.25;
    }
    Err(NestError::NoPackingFound)
}

/// The starting packing with the phases that make it shortest, of those at which some item stands at the edge of the strip. One phase
/// is settled after the other.
///
/// # Errors
///
/// [`NestError::NoPackingFound`] when with all of them some item has no position.
fn settled_first(model: &Model, hurry: &dyn Fn() -> bool) -> Result<Places, NestError> {
    let mut phases = Phases::at_zero(&model.phases);
    let mut best: Option<(f64, Places)> = None;
    let mut consider = |phases: &Phases| {
        let Some(places) = largest_first(model, phases, hurry) else { return false };
        let length = model.length_of(&places);
        let shorter = best.as_ref().is_none_or(|(known, _)| length < *known);
        if shorter {
            best = Some((length, places));
        }
        shorter
    };
    consider(&phases);
    for (index, phase) in model.phases.iter().enumerate() {
        for value in edge_values(model, index, phase) {
            if hurry() {
                break;
            }
            let mut other = phases.clone();
            other.set(index, value);
            if consider(&other) {
                phases = other;
            }
        }
    }
    best.map(|(_, places)| places).ok_or(NestError::NoPackingFound)
}

/// The values of a phase at which some item stands on the lower or left edge, each once; a few of them, spread evenly.
fn edge_values(model: &Model, index: usize, phase: &Phase) -> Vec<f64> {
    let stances = phase.members.iter().flat_map(|&item| &model.items[item].stances);
    let at_edge = |stance: &Stance| {
        let edge = point(stance.x_range().0, stance.y_range(f64::INFINITY).0);
        Some(stance.phase_at(index, edge)?.rem_euclid(phase.step))
    };
    let mut values: Vec<f64> = stances.filter_map(at_edge).collect();
    values.sort_by(f64::total_cmp);
    values.dedup_by(|next, kept| *next - *kept <= EDGE_APART * phase.step);
    let every = values.len().div_ceil(EDGE_VALUES).max(1);
    values.into_iter().step_by(every).collect()
}

/// Places of every item of the starting packing, or `None` when one has no position. Time is about `n · k` for `n` items
/// of `k` kinds.
fn largest_first(model: &Model, phases: &Phases, hurry: &dyn Fn() -> bool) -> Option<Places> {
    let mut order: Vec<usize> = (0..model.items.len()).collect();
    order.sort_by(|&a, &b| model.items[b].size.total_cmp(&model.items[a].size).then(a.cmp(&b)));
    let mut board = Board::empty(model, f64::INFINITY);
    board.places = vec![(0, point(0.0, 0.0)); model.items.len()];
    board.phases = phases.clone();
    let mut laid: Vec<Bounds> = board.solids().iter().map(|solid| solid.bounds).collect();
    // Items of one kind are of one size.
    for of_one_size in order.chunk_by(|&a, &b| model.items[a].size == model.items[b].size) {
        let mut by_kind: BTreeMap<usize, Columns> = BTreeMap::new();
        for &item in of_one_size {
            let columns = by_kind.entry(model.items[item].kind).or_insert_with(|| Columns::new(model, item, phases));
            columns.add_beside(model, item, &laid, phases);
            let extent = if hurry() { Extent::Box } else { Extent::Outline };
            let lowest = columns.lowest(model, item, |column| free_from(model, &board, item, column, extent));
            let Column { stance, at, .. } = lowest?;
            board.add(model, item, stance, at);
            let (one, twin) = model.stands(item, stance, at);
            laid.extend([Some(one), twin].iter().flatten().map(|stand| model.reach(stand)));
        }
    }
    Some(board.places)
}

/// What two items are kept apart by.
#[derive(Debug, Clone, Copy)]
enum Extent {
    Outline,
    /// The upright rectangle around the outline.
    Box,
}

/// The lowest `y` in the column, from where it begins, at which the item overlaps nothing on the board.
fn free_from(model: &Model, board: &Board, item: usize, column: &Column, extent: Extent) -> f64 {
    let stance = &model.items[item].stances[column.stance];
    let mut y = column.at.y;
    let (one, twin) = model.stands(item, column.stance, column.at);
    let stands = [Some(one), twin].map(|stand| stand.map(|stand| (stand, model.reach(&stand))));
    // A twin is as high and as low as the one it mirrors.
    let reach = model.reach(&one);
    let (below, above) = (reach.min.y - y, reach.max.y - y);
    let mut solids = board.above(reach.min.y, model.tallest).iter().peekable();
    let mut blocked: Vec<(f64, f64)> = Vec::new();
    loop {
        while let Some(solid) = solids.next_if(|solid| solid.bounds.min.y < y + above) {
            for (stand, reach) in stands.iter().flatten() {
                if solid.bounds.min.x < reach.max.x && reach.min.x < solid.bounds.max.x {
                    match extent {
                        Extent::Outline => model.blocked_along(&solid.stand, stand, &mut blocked),
                        Extent::Box => blocked.push((solid.bounds.min.y - above, solid.bounds.max.y - below)),
                    }
                }
            }
        }
        // A slot of exactly the right length may seem too short by rounding.
        let touching = y - slot_rounding(model.width, y);
        let mut free = y;
        blocked.retain(|&(low, high)| {
            let blocks = low < touching;
            if blocks {
                free = free.max(high);
            }
            !blocks
        });
        if free <= y {
            return y;
        }
        match stance.at_or_above(free, &board.phases) {
            Some(next) => y = next,
            None => return y,
        }
    }
}

#[cfg(test)]
mod tests;
