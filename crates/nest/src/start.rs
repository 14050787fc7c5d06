//! The starting packing: largest first, each where its top is lowest.
//!
//! For each stance and a spread of `x`, the lowest free `y` is exact: the no-fit regions of everything placed cut
//! the vertical line into blocked spans, and the lowest gap between them is taken.

use ellwand_geometry::{Point, point};

use crate::NestError;
use crate::board::Board;
use crate::lane::{Places, length_of};
use crate::model::Model;
use crate::place::Candidates;
use crate::random::Random;
use crate::separate::{Patience, Separated, Separator};

/// Columns tried for each stance at equal distances, the two ends among them.
const COLUMNS: usize = 48;
/// Columns tried besides, flush with what is placed already.
const FLUSH_COLUMNS: usize = 64;

/// Rounding of positions, as a share of their size: far less than what counts as touching.
const ROUNDING: f64 = 2e-12;

/// How hard, and in how many ever longer strips, fixed items are separated.
const PATIENCE: Patience = Patience {
    rounds: 100,
    attempts: 3,
    candidates: Candidates { spread: 80, around: 20, restanced: 25, touching: 40, refined: 3 },
};
const STRIPS: usize = 8;

/// A packing without overlap: the starting one, or, when items with a fixed `y` made that overlap, one separated in a longer
/// strip.
///
/// # Errors
///
/// [`NestError::NoPackingFound`] when even that overlaps.
pub(crate) fn clear_packing(model: &Model, seed: u64) -> Result<Places, NestError> {
    let places = largest_first(model);
    let is_clear = |places: &Places| {
        let mut clear = true;
        Board::new(model, f64::INFINITY, places.clone()).overlaps(model, |_, _, _| clear = false);
        clear
    };
    if is_clear(&places) {
        return Ok(places);
    }
    let mut separator = Separator::new(model, Random::new(seed, 0));
    let mut length = length_of(model, &places);
    for _ in 0..STRIPS {
        let mut board = Board::new(model, length, places.clone());
        let mut separation = separator.begin(&board);
        if separator.advance(&mut separation, &mut board, PATIENCE, &|_| false) == Separated::Clear {
            return Ok(board.places);
        }
        length *= 1.25;
    }
    Err(NestError::NoPackingFound)
}

/// Places of every item of the starting packing. `O(n²)`.
fn largest_first(model: &Model) -> Places {
    let mut order: Vec<usize> = (0..model.items.len()).collect();
    order.sort_by(|&a, &b| model.items[b].size.total_cmp(&model.items[a].size).then(a.cmp(&b)));
    let mut board = Board::empty(model, f64::INFINITY);
    board.places = vec![(0, point(0.0, 0.0)); model.items.len()];
    for item in order {
        let (stance, at) = lowest_fit(model, &board, item);
        board.add(model, item, stance, at);
    }
    board.places
}

/// The stance and place where the item's top is lowest; of equals the one furthest left.
fn lowest_fit(model: &Model, board: &Board, item: usize) -> (usize, Point) {
    let mut best: Option<(f64, f64, usize, Point)> = None;
    for (index, stance) in model.items[item].stances.iter().enumerate() {
        for x in columns(model, board, item, index) {
            let at = point(x, lowest_free(model, board, item, index, x));
            let top = at.y + stance.bounds.max.y;
            if best.as_ref().is_none_or(|b| (top, at.x) < (b.0, b.1)) {
                best = Some((top, at.x, index, at));
            }
        }
    }
    best.map_or_else(|| (0, point(0.0, 0.0)), |(_, _, stance, at)| (stance, at))
}

/// The allowed `x` to try: spread evenly, and flush with the sides of what is placed, where rectangles fit without a gap.
fn columns(model: &Model, board: &Board, item: usize, stance_index: usize) -> Vec<f64> {
    let stance = &model.items[item].stances[stance_index];
    let (low, high) = stance.x_range();
    let (one, _) = model.stands(item, stance_index, point(0.0, 0.0));
    let reach = model.reach(&one);
    let mut flush: Vec<f64> = board
        .solids()
        .iter()
        .flat_map(|solid| [solid.bounds.max.x - reach.min.x, solid.bounds.min.x - reach.max.x])
        .filter(|x| (low..=high).contains(x))
        .collect();
    let same = 1e-9 * model.width;
    sort_and_thin(&mut flush, same);
    let every = flush.len().div_ceil(FLUSH_COLUMNS).max(1);
    let even = (0..=COLUMNS).map(|k| low + (high - low) * k as f64 / COLUMNS as f64);
    // Fixed and lattice axes give the same `x` again and again.
    let mut columns: Vec<f64> = even
        .chain(flush.into_iter().step_by(every))
        .filter_map(|x| Some(stance.nearest(point(x, 0.0), f64::MAX)?.x))
        .collect();
    sort_and_thin(&mut columns, same);
    columns
}

/// Sorts and keeps one of those nearer to each other than `same`.
fn sort_and_thin(xs: &mut Vec<f64>, same: f64) {
    xs.sort_by(f64::total_cmp);
    xs.dedup_by(|next, kept| *next - *kept <= same);
}

/// The lowest `y` at which the item, in a stance at `x`, overlaps nothing on the board.
fn lowest_free(model: &Model, board: &Board, item: usize, stance_index: usize, x: f64) -> f64 {
    let stance = &model.items[item].stances[stance_index];
    let mut blocked = Vec::new();
    let (one, twin) = model.stands(item, stance_index, point(x, 0.0));
    for stand in [Some(one), twin].into_iter().flatten() {
        let reach = model.reach(&stand);
        for solid in board.solids() {
            if solid.owner as usize != item && solid.bounds.min.x < reach.max.x && reach.min.x < solid.bounds.max.x {
                model.blocked_along(&solid.stand, &stand, &mut blocked);
            }
        }
    }
    blocked.sort_by(|a, b| a.0.total_cmp(&b.0));
    let floor = stance.y_range(f64::INFINITY).0;
    let mut y = stance.at_or_above(floor).unwrap_or(floor);
    for (low, high) in blocked {
        // Spans come sorted by their low end: nothing from here on reaches down to `y`. A slot of exactly the right length
        // may seem too short by rounding.
        if low >= y - ROUNDING * (model.width + y.abs()) {
            break;
        }
        if high > y {
            y = stance.at_or_above(high).unwrap_or(y);
        }
    }
    y
}
