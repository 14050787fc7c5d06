//! The search where poses may be tilted.
//!
//! The same is asked without tilts first, with half of the budget, unless a packing is known already: so what may be tilted never takes more.
//! The rest goes on from there with a few tilts of the interval, then with ever nearer ones around those of the best packing ([`Tilts`]).

use super::{Found, LANES, SQUEEZED, Search};
use crate::budget::Part;
use crate::clearance::Detail;
use crate::lane::Stage;
use crate::model::Model;
use crate::tilts::Tilts;
use crate::{Bound, Ended, Event, NestError, Packing, Problem, Regions, validity};

/// Of what tilts get, where the first look at the whole interval ends.
const LOOKED: f64 = 0.4;
/// Then, round by round: where it ends, and how far apart tilts are as a share of the interval to either side.
const REFINED: [(f64, f64); 3] = [(0.6, 0.4), (0.75, 0.15), (SQUEEZED, 0.05)];
/// What building a region counts as, in candidates: with tilts most of the time goes there.
const REGION_WORK: u64 = 10_000;
/// With so few items the start is made with tilts too.
const FEW: usize = 8;

impl Search<'_> {
    /// The search of a problem with tilts: without them, then with a few, then with nearer ones.
    pub(super) fn tilted(&mut self, problem: &Problem, known: Option<&Packing>) -> Result<(Bound, Found), NestError> {
        let looked = Model::new(problem, &Tilts::first(problem), Detail::Search, &self.regions.aside())?;
        let bound = Bound::proven(problem, &looked, self.settings.proof);
        let (part, mut found) = match known {
            Some(known) => (Part::WHOLE, self.going_on_from(problem, &looked, known, &bound)?),
            None => (Part::SECOND_HALF, self.untilted(problem, &looked, &bound)?),
        };
        self.ends_at(&bound);
        if found.ended == Ended::Stopped {
            return Ok((bound, found));
        }
        if let Some(ended) = self.at_goal(found.best.length) {
            return Ok((bound, Found { ended, ..found }));
        }
        self.region_work = REGION_WORK;
        let mut present = found.coarse.clone();
        if problem.items.len() <= FEW {
            let largest_first = looked.packing(&self.first_packing(&looked)?);
            if largest_first.length < present.length {
                present = largest_first;
            }
        }
        let simplified = looked.is_simplified();
        // Where no packing without tilts is known, nothing is settled yet.
        if found.settled {
            let tilts = Tilts::first_near(problem, &present);
            let near = Model::new(problem, &tilts, Detail::Search, &self.regions.aside())?;
            let lean = |progress: f64| Stage::Lean { left: (1.0 - progress / LOOKED).max(0.0) };
            found.ended = self.stage(&near, &mut present, part, LOOKED, &lean);
        } else {
            found.ended = self.stage(&looked, &mut present, part, LOOKED, &|_| Stage::Explore);
        }
        drop(looked);
        for (round, (until, step)) in REFINED.into_iter().enumerate() {
            if found.ended != Ended::BudgetSpent {
                break;
            }
            self.streams += LANES as u64;
            let tilts = Tilts::around(problem, &present, step);
            let model = Model::new(problem, &tilts, Detail::Search, &self.regions.aside())?;
            let last = round + 1 == REFINED.len();
            let until = if last && !simplified { 1.0 } else { until };
            let from = part.within(self.meter.progress(self.work));
            let lean = |progress: f64| Stage::Lean {
                left: ((until - progress) / (until - from).max(f64::EPSILON)).clamp(0.0, 1.0),
            };
            found.ended = self.stage(&model, &mut present, part, until, &lean);
        }
        // What is simplified is longer than need be: where tilts have gained, the gain counts before the squeeze.
        let gained = present.length < found.coarse.length;
        if gained && simplified && found.ended == Ended::BudgetSpent {
            let tilts = Tilts::around(problem, &present, 0.0);
            found.ended = self.squeeze(problem, &tilts, &self.regions.aside(), &mut present, part)?;
        }
        if present.length < found.best.length {
            found.best = present;
        }
        Ok((bound, found))
    }

    /// A known packing in the stead of what half of the budget would find.
    fn going_on_from(
        &mut self,
        problem: &Problem,
        looked: &Model,
        known: &Packing,
        bound: &Bound,
    ) -> Result<Found, NestError> {
        let straight = straightened(problem);
        let coarse = Model::new(&straight, &Tilts::straight(&straight), Detail::Search, self.regions);
        let found = self.only_started(coarse.as_ref().unwrap_or(looked), bound)?;
        self.tell(known.length, 0.0);
        Ok(Found { coarse: known.clone(), best: known.clone(), settled: true, ..found })
    }

    /// The first half of the budget on the poses alone; where they do not all fit so, only the start, with tilts.
    fn untilted(&mut self, problem: &Problem, looked: &Model, bound: &Bound) -> Result<Found, NestError> {
        let straight = straightened(problem);
        if let Ok(coarse) = Model::new(&straight, &Tilts::straight(&straight), Detail::Search, self.regions) {
            let own = Bound::proven(&straight, &coarse, self.settings.proof);
            if let Ok(found) = self.in_poses(&straight, &coarse, Part::FIRST_HALF, &own, bound) {
                return Ok(found);
            }
        }
        self.only_started(looked, bound)
    }

    /// No more than the start.
    fn only_started(&mut self, model: &Model, bound: &Bound) -> Result<Found, NestError> {
        let start = model.packing(&self.first_packing(model)?);
        self.gained(start.length);
        self.observer.event(&Event::Started { length: start.length, bound: bound.length });
        let (coarse, best) = (start.clone(), start.clone());
        Ok(Found { start, coarse, best, settled: false, ended: Ended::BudgetSpent })
    }
}

/// Whether every item stands in `packing` as `problem` allows.
pub(super) fn is_of(problem: &Problem, packing: &Packing, regions: &Regions) -> bool {
    validity::is_packing(problem, packing)
        && Model::new(problem, &Tilts::around(problem, packing, 0.0), Detail::Search, &regions.aside())
            .is_ok_and(|model| model.places(packing).is_some())
}

/// Whether some pose may be tilted.
pub(super) fn has_tilts(problem: &Problem) -> bool {
    problem.items.iter().flat_map(|item| &item.poses).any(|allowed| allowed.tilt > 0.0)
}

/// The problem without tilts.
pub(super) fn straightened(problem: &Problem) -> Problem {
    let mut straight = problem.clone();
    straight.items.iter_mut().flat_map(|item| &mut item.poses).for_each(|allowed| allowed.tilt = 0.0);
    straight
}
