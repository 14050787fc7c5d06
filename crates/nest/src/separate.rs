//! Drives the overlap on a board to zero, or as low as it gets.

use crate::board::Board;
use crate::model::Model;
use crate::place::{Candidates, Seeker};
use crate::random::Random;
use crate::weights::{Weights, depth_loss};

/// How long to try.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Patience {
    /// Rounds without a lower total before an attempt ends.
    pub(crate) rounds: usize,
    /// Attempts without gain before giving up.
    pub(crate) attempts: usize,
    /// Candidates for each move.
    pub(crate) candidates: Candidates,
}

/// What a lane of the search carries from one separation to the next.
pub(crate) struct Separator<'m> {
    pub(crate) model: &'m Model,
    pub(crate) weights: Weights,
    pub(crate) random: Random,
    /// Candidates evaluated.
    pub(crate) work: u64,
}

/// Where a separation ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Separated {
    /// Nothing overlaps.
    Clear,
    /// The board holds the best attempt, with this total loss.
    Stuck(f64),
    /// Out of time.
    Cut,
}

impl<'m> Separator<'m> {
    pub(crate) fn new(model: &'m Model, random: Random) -> Self {
        Self { model, weights: Weights::new(model), random, work: 0 }
    }

    /// Every overlapping pair with its loss, and the sum.
    fn losses(&self, board: &Board) -> (Vec<(u32, u32, f64)>, f64) {
        let mut losses = Vec::new();
        let mut total = 0.0;
        board.overlaps(self.model, |a, b, depth| {
            let loss = depth_loss(depth) * self.weights.scale(a, b);
            total += loss;
            losses.push((a, b, loss));
        });
        (losses, total)
    }

    /// Moves overlapping items until nothing overlaps or patience runs out.
    pub(crate) fn separate(&mut self, board: &mut Board, patience: Patience, stop: &dyn Fn(u64) -> bool) -> Separated {
        self.weights.reset();
        let (mut losses, mut total) = self.losses(board);
        if total == 0.0 {
            return Separated::Clear;
        }
        let mut best = (total, board.places.clone());
        let mut strikes = 0;
        while strikes < patience.attempts {
            let at_start = best.0;
            let mut idle = 0;
            while idle < patience.rounds {
                self.round(board, &losses, patience.candidates);
                (losses, total) = self.losses(board);
                if total == 0.0 {
                    return Separated::Clear;
                }
                self.weights.update(&losses);
                if total < best.0 {
                    if total < best.0 * 0.98 {
                        idle = 0;
                    }
                    best = (total, board.places.clone());
                } else {
                    idle += 1;
                }
                if stop(self.work) {
                    *board = Board::new(self.model, board.length, best.1);
                    return Separated::Cut;
                }
            }
            strikes = if best.0 < at_start * 0.98 { 0 } else { strikes + 1 };
            *board = Board::new(self.model, board.length, best.1.clone());
            (losses, _) = self.losses(board);
        }
        Separated::Stuck(best.0)
    }

    /// Gives each overlapping item the best place found, in random order.
    fn round(&mut self, board: &mut Board, losses: &[(u32, u32, f64)], candidates: Candidates) {
        let mut items: Vec<usize> = losses
            .iter()
            .flat_map(|&(a, b, _)| [a as usize, b as usize])
            .filter(|&i| i < self.model.items.len())
            .collect();
        items.sort_unstable();
        items.dedup();
        self.random.shuffle(&mut items);
        for item in items {
            let mut seeker = Seeker {
                model: self.model,
                board,
                weights: &self.weights,
                random: &mut self.random,
                work: &mut self.work,
            };
            let (stance, at) = seeker.board.places[item];
            if seeker.cost(item, stance, at, f64::INFINITY) == 0.0 {
                continue;
            }
            let found = seeker.best_place(item, candidates);
            if (found.stance, found.at) != (stance, at) {
                board.put(self.model, item, found.stance, found.at);
            }
        }
    }
}
