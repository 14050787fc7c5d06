//! Drives the overlap on a board to zero, or as low as it gets.

use crate::board::Board;
use crate::model::{Model, Places};
use crate::place::{Candidates, Seeker};
use crate::random::Random;
use crate::slide;
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

/// A lower total counts as a gain when it is below this share of the best.
const GAIN: f64 = 0.98;

/// How far a separation has come.
#[derive(Debug, Clone)]
pub(crate) struct Separation {
    /// Least total loss, and the places that had it.
    best: (f64, Places),
    /// Least total when the present attempt began.
    at_attempt: f64,
    /// Attempts without gain in a row.
    strikes: usize,
    /// Rounds without gain in a row.
    idle: usize,
}

/// What a lane of the search carries from one separation to the next.
pub(crate) struct Separator<'m> {
    pub(crate) model: &'m Model,
    pub(crate) weights: Weights,
    pub(crate) random: Random,
    /// Candidates evaluated.
    pub(crate) work: u64,
    /// Separations begun.
    pub(crate) begun: u64,
}

/// Where a separation ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Separated {
    /// Nothing overlaps.
    Clear,
    /// The board holds the best attempt, with this total loss.
    Stuck(f64),
    /// Out of time; may go on.
    Cut,
}

impl<'m> Separator<'m> {
    pub(crate) fn new(model: &'m Model, random: Random) -> Self {
        Self { model, weights: Weights::new(model), random, work: 0, begun: 0 }
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

    /// Begins a separation of `board`, with every weight back at 1.
    pub(crate) fn begin(&mut self, board: &Board) -> Separation {
        self.weights.reset();
        self.begun += 1;
        let (_, total) = self.losses(board);
        Separation { best: (total, board.places.clone()), at_attempt: total, strikes: 0, idle: 0 }
    }

    /// Moves overlapping items until nothing overlaps, patience runs out, or `stop` says so of the work done. A
    /// separation that was cut goes on where it was when this is called again.
    pub(crate) fn advance(
        &mut self,
        separation: &mut Separation,
        board: &mut Board,
        patience: Patience,
        stop: &dyn Fn(u64) -> bool,
    ) -> Separated {
        let (mut losses, mut total) = self.losses(board);
        if total == 0.0 {
            return Separated::Clear;
        }
        let s = separation;
        while s.strikes < patience.attempts {
            while s.idle < patience.rounds {
                if stop(self.work) {
                    return Separated::Cut;
                }
                self.round(board, &losses, patience.candidates);
                (losses, total) = self.losses(board);
                if total == 0.0 {
                    return Separated::Clear;
                }
                self.weights.update(&losses);
                s.idle = if total < s.best.0 * GAIN { 0 } else { s.idle + 1 };
                if total < s.best.0 {
                    s.best = (total, board.places.clone());
                }
            }
            s.strikes = if s.best.0 < s.at_attempt * GAIN { 0 } else { s.strikes + 1 };
            (s.idle, s.at_attempt) = (0, s.best.0);
            *board = Board::new(self.model, board.length, s.best.1.clone());
            (losses, _) = self.losses(board);
        }
        Separated::Stuck(s.best.0)
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
            let mut seeker = self.seeker(board);
            let (stance, at) = seeker.board.places[item];
            if seeker.cost(item, stance, at, f64::INFINITY) == 0.0 {
                continue;
            }
            let found = seeker.best_place(item, candidates);
            if (found.stance, found.at) != (stance, at) {
                board.put(self.model, item, found.stance, found.at);
            }
        }
        for phase in 0..self.model.phases.len() {
            self.slide(board, phase);
        }
    }

    /// Gives a phase the best value found, when some item that follows it overlaps something.
    fn slide(&mut self, board: &mut Board, phase: usize) {
        let mut least = self.cost_of_members(board, phase, f64::INFINITY);
        if least == 0.0 {
            return;
        }
        for value in slide::values(self.model, board, phase, &mut self.random) {
            let Some(slid) = slide::slid(self.model, board, phase, value) else { continue };
            let cost = self.cost_of_members(&slid, phase, least);
            // One as good is taken too: it may open a place for another item.
            if cost <= least {
                (least, *board) = (cost, slid);
            }
        }
    }

    /// Weighted overlap of all items that follow a phase; infinite as soon as it exceeds `limit`.
    fn cost_of_members(&mut self, board: &Board, phase: usize, limit: f64) -> f64 {
        let mut cost = 0.0;
        for &item in &self.model.phases[phase].members {
            let (stance, at) = board.places[item];
            cost += self.seeker(board).cost(item, stance, at, limit - cost);
        }
        cost
    }

    fn seeker<'s>(&'s mut self, board: &'s Board) -> Seeker<'s> {
        Seeker { model: self.model, board, weights: &self.weights, random: &mut self.random, work: &mut self.work }
    }
}
