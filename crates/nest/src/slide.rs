//! Moves of a phase, and with it of every item whose lattice follows it.

use ellwand_geometry::{Point, point};

use crate::board::{Board, Solid};
use crate::model::Model;
use crate::random::Random;

/// How many values of each kind are tried.
const ANYWHERE: usize = 2;
const AT_THE_EDGE: usize = 2;
const OUT_OF_THE_WAY: usize = 3;

/// Values worth trying for a phase: anywhere, those at which a member stands on an edge of the strip, and those that take a member
/// out of something it overlaps.
pub(crate) fn values(model: &Model, board: &Board, index: usize, random: &mut Random) -> Vec<f64> {
    let phase = &model.phases[index];
    let mut values: Vec<f64> = (0..ANYWHERE).map(|_| random.between(0.0, phase.step)).collect();
    if phase.members.is_empty() {
        return values;
    }
    for _ in 0..AT_THE_EDGE {
        let item = phase.members[random.below(phase.members.len())];
        values.extend(at_edge(model, board, index, item, random));
    }
    for _ in 0..OUT_OF_THE_WAY {
        let item = phase.members[random.below(phase.members.len())];
        values.extend(out_of_the_way(model, board, index, item));
    }
    values
}

/// The value at which an item stands as low or as far left as the strip lets it, or as high or as far right.
fn at_edge(model: &Model, board: &Board, index: usize, item: usize, random: &mut Random) -> Option<f64> {
    let stance = &model.items[item].stances[board.places[item].0];
    let ((left, right), (low, high)) = (stance.x_range(), stance.y_range(board.length));
    let edge = if random.below(3) < 2 { point(left, low) } else { point(right, high) };
    stance.phase_at(index, edge)
}

/// The value at which an item has left what it overlaps most, of that which does not move along with it.
fn out_of_the_way(model: &Model, board: &Board, index: usize, item: usize) -> Option<f64> {
    let (stance, at) = board.places[item];
    let stance_there = &model.items[item].stances[stance];
    let drift = stance_there.drift(index)?;
    let (one, _) = model.stands(item, stance, at);
    let mut deepest: Option<(f64, f64)> = None;
    for solid in board.near(model.reach(&one), model.tallest).filter(|solid| solid.owner as usize != item) {
        if let Some(way) = model.way_out(&solid.stand, &one) {
            let apart = drift - drift_of(model, board, index, solid);
            let (depth, along) = (way.x * way.x + way.y * way.y, way.x * apart.x + way.y * apart.y);
            if along != 0.0 && deepest.is_none_or(|(known, _)| depth > known) {
                // Drifting apart this far crosses the side that the way out leads to.
                deepest = Some((depth, depth / along));
            }
        }
    }
    Some(board.phases.get(index) + deepest?.1)
}

/// How a solid moves when the phase grows by 1.
fn drift_of(model: &Model, board: &Board, index: usize, solid: &Solid) -> Point {
    let still = point(0.0, 0.0);
    let Some(&(stance, _)) = board.places.get(solid.owner as usize) else { return still };
    model.items[solid.owner as usize].stances[stance].drift(index).unwrap_or(still)
}

/// The board with a phase at another value and every member moved by the shorter way; `None` when one then has no position.
pub(crate) fn slid(model: &Model, board: &Board, index: usize, to: f64) -> Option<Board> {
    let step = model.phases[index].step;
    let by = to - board.phases.get(index);
    let by = by - (by / step).round() * step;
    let mut board = board.clone();
    board.phases.set(index, to);
    for &item in &model.phases[index].members {
        let (stance, at) = board.places[item];
        let stance_there = &model.items[item].stances[stance];
        if let Some(drift) = stance_there.drift(index) {
            let at = stance_there.nearest(at + drift * by, board.length, &board.phases)?;
            board.put(model, item, stance, at);
        }
    }
    Some(board)
}
