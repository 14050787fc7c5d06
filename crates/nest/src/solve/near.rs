//! A search that begins near a layout of a like problem: the same garment in another size, or on cloth of another width.

use super::Search;
use crate::{
    Packing,
    board::Board,
    budget::Part,
    fits::same_turn,
    lane::EXPLORE,
    model::{Model, ModelItem, Places},
    random::Random,
    separate::{Separated, Separator},
};
use ellwand_geometry::point;

/// How much the strip is stretched when what stands near cannot be moved apart in it.
const STRETCHED: [f64; 4] = [1.0, 1.015, 1.04, 1.08];
/// Legs that each attempt may take.
const LEGS: u64 = 2;
/// The stream of random choices; lanes take the first dozen.
const STREAM: u64 = 64;

impl Search<'_> {
    /// A packing shorter than `length` with everything near to where a like problem had it, or `None` when it cannot be moved apart.
    pub(super) fn cleared_near(&mut self, model: &Model, length: f64, part: Part) -> Option<Packing> {
        let near = self.settings.near.as_ref().filter(|near| near.places.len() == model.items.len())?;
        let mut separator = Separator::new(model, Random::new(self.settings.seed, STREAM));
        let mut cleared = None;
        for stretched in STRETCHED {
            let target = (near.length * stretched).max(self.proven);
            if target >= length {
                break;
            }
            let Some(places) = stood_near(model, near, stretched, target) else { continue };
            let mut board = Board::new(model, target, places);
            let mut separation = separator.begin(&board);
            let until = separator.work + LEGS * self.meter.leg(part);
            let stop = |work: u64| work > until || self.observer.should_stop() || self.meter.out_of_time(1.0);
            if separator.advance(&mut separation, &mut board, EXPLORE, &stop) == Separated::Clear {
                cleared = Some(board.places);
                break;
            }
        }
        self.work += separator.work;
        self.separations += separator.begun;
        let packing = model.packing(&cleared?);
        (packing.length < length).then_some(packing)
    }
}

/// Everything near to where `near` has it in a strip stretched so much and `length` long; `None` when some item has no place in that.
fn stood_near(model: &Model, near: &Packing, stretched: f64, length: f64) -> Option<Places> {
    let wished = |(item, place): (&ModelItem, &crate::Place)| {
        let alike = |s: &crate::stance::Stance| s.pose == place.pose && same_turn(s.turn, place.turn);
        let stance = item.stances.iter().position(alike).unwrap_or(0);
        let s = &item.stances[stance];
        (stance, point(s.seen_placed(place.x), place.y * stretched))
    };
    let wished: Places = model.items.iter().zip(&near.places).map(wished).collect();
    let phases = model.phases_at(&wished);
    let nearest = |(item, &(stance, to)): (&ModelItem, &(usize, ellwand_geometry::Point))| {
        Some((stance, item.stances[stance].nearest(to, length, &phases)?))
    };
    model.items.iter().zip(&wished).map(nearest).collect()
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{Outline, Pose};

    use crate::{Budget, Item, Packing, Place, Problem, Settings, Silent, solve};

    /// Eight squares of this side in a strip 420 wide.
    fn squares(side: f64) -> Problem {
        let mut problem = Problem::in_strip(0.0, 420.0);
        let square = problem.shape(Outline::rectangle(side, side).unwrap());
        problem.items = vec![Item::anywhere(square, [Pose::AS_DRAWN]); 8];
        problem
    }

    fn searched(problem: &Problem, near: Option<Packing>, work: u64) -> crate::Outcome {
        let settings = Settings { budget: Budget::Work(work), near, ..Settings::default() };
        solve(problem, &settings, &Silent).unwrap()
    }

    #[test]
    fn a_search_begins_near_the_layout_of_the_next_size() {
        let larger = searched(&squares(104.0), None, 40_000).best;
        let found = searched(&squares(101.0), Some(larger), 40_000);
        assert!(found.best.length <= 202.0 + 1e-6, "{}", found.best.length);
    }

    #[test]
    fn what_stands_near_may_be_anything() {
        let problem = squares(100.0);
        let alone = searched(&problem, None, 20_000).best.length;
        // On one heap, outside, in poses that there are not, and too few.
        let heap = vec![Place { pose: 3, turn: 7.0, x: -900.0, y: 5.0 }; 8];
        for places in [heap.clone(), heap[..3].to_vec()] {
            let found = searched(&problem, Some(Packing { length: 150.0, places }), 20_000);
            assert!(found.best.length <= alone * 1.5 && found.best.length >= 200.0 - 1e-6, "{}", found.best.length);
        }
    }
}
