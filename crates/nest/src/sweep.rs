//! One round of separation over a whole board, timed: the unit in which the cost of the search grows with its problem.
//!
//! This is a measuring hook for benches and no part of the search. The starting packing is pressed evenly along the strip, so
//! that nearly every item overlaps a neighbour, and one round gives each of them a new place.

use std::time::{Duration, Instant};

use ellwand_geometry::point;

use crate::board::Board;
use crate::clearance::Detail;
use crate::lane::EXPLORE;
use crate::model::{Model, Places};
use crate::random::Random;
use crate::separate::{Patience, Separator};
use crate::tilts::Tilts;
use crate::{NestError, Problem, Regions, start};

/// How much of its length the starting packing is pressed to.
const PRESSED: f64 = 0.98;
/// One round as when exploring.
const ONE_ROUND: Patience = Patience { rounds: 1, attempts: 1, ..EXPLORE };

/// A starting packing pressed into less strip than it needs, to be swept any number of times.
#[derive(Debug)]
pub struct PressedStrip {
    model: Model,
    length: f64,
    places: Places,
    started: Duration,
}

/// What one sweep took and did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sweep {
    /// Wall time of the round.
    pub time: Duration,
    /// Candidate positions evaluated.
    pub candidates: u64,
    /// Items that were moved.
    pub moved: usize,
}

impl PressedStrip {
    /// Lays `problem` out largest first and presses it to 98 per cent of its length.
    ///
    /// # Errors
    ///
    /// As [`solve`](crate::solve).
    pub fn new(problem: &Problem) -> Result<Self, NestError> {
        let began = Instant::now();
        problem.check()?;
        let model = Model::new(problem, &Tilts::straight(problem), Detail::Search, &Regions::default())?;
        let start = start::clear_packing(&model, 0, &|| false)?;
        let started = began.elapsed();
        let length = model.length_of(&start) * PRESSED;
        let phases = model.phases_at(&start);
        let pressed = start.iter().zip(&model.items).map(|(&(stance, at), item)| {
            let stance_there = &item.stances[stance];
            let low = stance_there.bounds.min.y;
            let to = point(at.x, (at.y + low) * PRESSED - low);
            (stance, stance_there.nearest(to, length, &phases).unwrap_or(at))
        });
        let places = pressed.collect();
        Ok(Self { places, model, length, started })
    }

    /// Wall time that the starting packing took.
    pub fn started(&self) -> Duration {
        self.started
    }

    /// One round of separation from the pressed packing. The same `seed` asks the same work; no-fit regions are kept from
    /// one sweep to the next, so the first one also builds them.
    pub fn sweep(&self, seed: u64) -> Sweep {
        let mut separator = Separator::new(&self.model, Random::new(seed, 0));
        let mut board = Board::new(&self.model, self.length, self.places.clone());
        let began = Instant::now();
        let mut separation = separator.begin(&board);
        separator.advance(&mut separation, &mut board, ONE_ROUND, &|work| work > 0);
        let time = began.elapsed();
        let moved = board.places.iter().zip(&self.places).filter(|(now, before)| now != before).count();
        Sweep { time, candidates: separator.work, moved }
    }
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{Outline, Pose};

    use super::*;
    use crate::{AllowedPose, Item};

    #[test]
    fn a_sweep_moves_what_was_pressed_together_and_repeats() {
        let item = Item { shape: 0, poses: vec![AllowedPose::anywhere(Pose::AS_DRAWN)] };
        let problem = Problem {
            left: 0.0,
            right: 250.0,
            shapes: vec![Outline::rectangle(100.0, 100.0).unwrap()],
            items: vec![item; 12],
            obstacles: Vec::new(),
            gap: 0.0,
            phases: Vec::new(),
        };
        let pressed = PressedStrip::new(&problem).unwrap();
        let (one, two) = (pressed.sweep(3), pressed.sweep(3));
        assert!(one.moved >= 3 && one.candidates > 12, "{one:?}");
        assert_eq!((one.moved, one.candidates), (two.moved, two.candidates));
    }
}
