//! The starting packing: largest first, each where its top is lowest.
//!
//! For each stance and a spread of `x`, the lowest free `y` is exact: the no-fit regions of everything placed cut
//! the vertical line into blocked spans, and the lowest gap between them is taken.

use ellwand_geometry::{Point, point};

use crate::board::Board;
use crate::model::Model;

/// Columns tried for each stance, besides the two ends.
const COLUMNS: usize = 48;

/// Places of every item of a packing without overlap. `O(n²)`.
pub(crate) fn largest_first(model: &Model) -> Vec<(usize, Point)> {
    let mut order: Vec<usize> = (0..model.items.len()).collect();
    order.sort_by(|&a, &b| model.items[b].size.total_cmp(&model.items[a].size).then(a.cmp(&b)));
    let mut board = Board::empty(model, f64::INFINITY);
    board.places = vec![(0, point(0.0, 0.0)); model.items.len()];
    for item in order {
        let (stance, at) = lowest_fit(model, &board, item, COLUMNS);
        board.add(model, item, stance, at);
    }
    board.places
}

/// The stance and place where the item's top is lowest; of equals the one furthest left.
pub(crate) fn lowest_fit(model: &Model, board: &Board, item: usize, columns: usize) -> (usize, Point) {
    let mut best: Option<(f64, f64, usize, Point)> = None;
    for (index, stance) in model.items[item].stances.iter().enumerate() {
        let (low, high) = stance.x_range();
        let mut tried = f64::NAN;
        for k in 0..=columns {
            let x = low + (high - low) * k as f64 / columns as f64;
            // Fixed and lattice axes give the same x again and again.
            let Some(at) = stance.nearest(point(x, 0.0), f64::MAX) else { continue };
            if at.x == tried {
                continue;
            }
            tried = at.x;
            let at = point(at.x, lowest_free(model, board, item, index, at.x));
            let top = at.y + stance.bounds.max.y;
            if best.as_ref().is_none_or(|b| (top, at.x) < (b.0, b.1)) {
                best = Some((top, at.x, index, at));
            }
        }
    }
    best.map_or_else(|| (0, point(0.0, 0.0)), |(_, _, stance, at)| (stance, at))
}

/// The lowest `y` at which the item, in a stance at `x`, overlaps nothing on the board.
pub(crate) fn lowest_free(model: &Model, board: &Board, item: usize, stance_index: usize, x: f64) -> f64 {
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
        if low >= y {
            // Spans come sorted by their low end: nothing from here on reaches down to `y`.
            break;
        }
        if high > y {
            y = stance.at_or_above(high).unwrap_or(y);
        }
    }
    y
}
