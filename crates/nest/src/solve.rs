//! The whole search: a start, then lanes that work side by side and exchange the best at fixed counts of work.
//!
//! There are always two lanes, whatever the number of threads, and they meet only at fixed work counts, so the answer
//! does not depend on timing. The lanes first move simplified shapes; when those differ from the true ones, the last part of the
//! budget squeezes the best packing with shapes true to a hair.
//!
//! Where poses may be tilted there is more to it ([`tilted`]).

use crate::budget::{Meter, Part};
use crate::clearance::Detail;
use crate::fits::reached;
use crate::lane::{Lane, Stage};
use crate::model::{Model, Places};
use crate::random::Random;
use crate::tilts::Tilts;
use crate::workers::Workers;
use crate::{
    Axis, Bound, Ended, Event, Gain, NestError, Observer, Outcome, Packing, Problem, Regions, Settings, start,
};
use tilted::{has_tilts, is_of, straightened};

mod near;
mod tilted;

/// Independent lanes of the search.
const LANES: usize = 2;
/// Candidates between two exchanges where regions count: many may be built in the time.
const SHORT_LEG: u64 = 4_000;
/// Of the budget, where exploring ends, and where squeezing with true shapes begins if they were simplified.
const EXPLORED: f64 = 0.85;
const SQUEEZED: f64 = 0.9;

/// Searches for the shortest packing of `problem`.
///
/// # Errors
///
/// [`NestError`] when the problem is not well formed, an item fits nowhere, or items with a fixed `y` could not be kept apart.
///
/// # Example
///
/// ```
/// use ellwand_geometry::{Outline, Pose};
/// use ellwand_nest::{Budget, Item, Problem, Settings, Silent, solve};
///
/// let mut problem = Problem::in_strip(0.0, 250.0);
/// let square = problem.shape(Outline::rectangle(100.0, 100.0).unwrap());
/// problem.items = vec![Item::anywhere(square, [Pose::AS_DRAWN]); 4];
/// let outcome = solve(&problem, &Settings { budget: Budget::Work(10_000), ..Settings::default() }, &Silent).unwrap();
/// assert!((outcome.best.length - 200.0).abs() < 1e-6);
/// ```
pub fn solve(problem: &Problem, settings: &Settings, observer: &dyn Observer) -> Result<Outcome, NestError> {
    solve_sharing(problem, settings, observer, &Regions::default())
}

/// As [`solve`], with the no-fit regions that other searches have left in `regions`, and leaving there those it builds. The
/// answer is the same; a search that moves shapes known there comes to it sooner.
///
/// # Errors
///
/// As [`solve`].
pub fn solve_sharing(
    problem: &Problem,
    settings: &Settings,
    observer: &dyn Observer,
    regions: &Regions,
) -> Result<Outcome, NestError> {
    problem.check()?;
    let tilts = has_tilts(problem);
    let known = settings.known.as_ref().filter(|known| tilts && is_of(problem, known, regions));
    let times = if tilts && known.is_none() { 2 } else { 1 };
    let meter = Meter::start(settings.budget, settings.clock, problem.items.len(), times)?;
    let mut search = Search {
        settings,
        observer,
        regions,
        meter,
        proven: 0.0,
        goal: settings.enough,
        workers: Workers::new(settings.threads.clamp(1, LANES)),
        work: 0,
        region_work: 0,
        separations: 0,
        streams: 0,
        trace: Vec::new(),
    };
    let (bound, found) = if tilts { search.tilted(problem, known)? } else { search.straight(problem)? };
    let Search { work, separations, trace, .. } = search;
    let Found { start, best, ended, .. } = found;
    Ok(Outcome { best, start, bound, ended, work, separations, trace })
}

/// A length that no packing of `problem` goes below, without any search, with the no-fit regions that searches have left in `regions`.
///
/// # Errors
///
/// As [`solve`], but for items that are in each other's way.
pub fn lower_bound(problem: &Problem, regions: &Regions) -> Result<Bound, NestError> {
    problem.check()?;
    let shared = if has_tilts(problem) { regions.aside() } else { regions.clone() };
    Ok(Bound::of(problem, &Model::new(problem, &Tilts::first(problem), Detail::Search, &shared)?))
}

/// Whether `problem` has a packing at all, as far as one attempt tells: what refuses it here is what every search would be refused by. No
/// bound is worked out; and where only the width can be in the way, since everything may stand as high as it likes, nothing is laid.
///
/// # Errors
///
/// As [`solve`].
pub fn find_refusal(problem: &Problem, regions: &Regions) -> Result<(), NestError> {
    problem.check()?;
    let tilts = has_tilts(problem);
    let shared = if tilts { regions.aside() } else { regions.clone() };
    let looked = Model::new(problem, &Tilts::first(problem), Detail::Search, &shared)?;
    if goes_on_upwards(problem) {
        return Ok(());
    }
    let laid = |model: &Model| start::clear_packing(model, Settings::default().seed, &|| false).map(|_| ());
    if tilts {
        let straight = straightened(problem);
        let model = Model::new(&straight, &Tilts::straight(&straight), Detail::Search, regions);
        if model.is_ok_and(|model| laid(&model).is_ok()) {
            return Ok(());
        }
    }
    laid(&looked)
}

/// Whether every item finds a place above all others wherever those lie.
fn goes_on_upwards(problem: &Problem) -> bool {
    let mut poses = problem.items.iter().flat_map(|item| &item.poses);
    problem.phases.is_empty() && poses.all(|allowed| matches!(allowed.y, Axis::Free | Axis::Lattice { .. }))
}

struct Search<'a> {
    settings: &'a Settings,
    observer: &'a dyn Observer,
    regions: &'a Regions,
    meter: Meter,
    /// No packing of the part at hand is shorter.
    proven: f64,
    /// The length at which the search ends: what is proven, or what is enough.
    goal: f64,
    workers: Workers,
    /// Candidates evaluated in the stages before and in the legs of this one, and what regions count as.
    work: u64,
    /// What building a region counts as where that is accounted for, in candidates.
    region_work: u64,
    /// Boards separated in the stages before.
    separations: u64,
    /// The first of the streams of random choices that the lanes of the present model draw from.
    streams: u64,
    /// Every gain so far.
    trace: Vec<Gain>,
}

/// What a part of the search has found.
struct Found {
    start: Packing,
    /// The shortest of simplified shapes, and the shortest.
    coarse: Packing,
    best: Packing,
    /// Whether it is more than a start.
    settled: bool,
    ended: Ended,
}

impl Search<'_> {
    /// The search of a problem without tilts.
    fn straight(&mut self, problem: &Problem) -> Result<(Bound, Found), NestError> {
        let coarse = Model::new(problem, &Tilts::straight(problem), Detail::Search, self.regions)?;
        let bound = Bound::proven(problem, &coarse, self.settings.proof);
        let found = self.in_poses(problem, &coarse, Part::WHOLE, &bound, &bound)?;
        Ok((bound, found))
    }

    /// Searches on the poses alone. `told` is the bound of the whole question, `bound` that of this part.
    fn in_poses(
        &mut self,
        problem: &Problem,
        coarse: &Model,
        part: Part,
        bound: &Bound,
        told: &Bound,
    ) -> Result<Found, NestError> {
        self.ends_at(bound);
        let first = self.first_packing(coarse)?;
        let start = coarse.packing(&first);
        self.gained(start.length);
        self.observer.event(&Event::Started { length: start.length, bound: told.length });
        let mut best = start.clone();
        if let Some(near) = self.cleared_near(coarse, best.length, part) {
            best = near;
            self.tell(best.length, self.meter.progress(self.work).min(1.0));
        }
        if let Some(known) = self.known_below(best.length)
            && coarse.places(known).is_some()
        {
            best = known.clone();
        }
        let simplified = coarse.is_simplified();
        let until = if simplified { SQUEEZED } else { 1.0 };
        let stage = |progress: f64| {
            if progress < EXPLORED {
                Stage::Explore
            } else {
                Stage::Compress { left: (until - progress) / (until - EXPLORED) }
            }
        };
        let mut ended = self.stage(coarse, &mut best, part, until, &stage);
        let coarse = best.clone();
        if simplified && ended == Ended::BudgetSpent {
            ended = self.squeeze(problem, &Tilts::straight(problem), self.regions, &mut best, part)?;
        }
        Ok(Found { start, coarse, best, settled: true, ended })
    }

    /// Sets where the search ends.
    fn ends_at(&mut self, bound: &Bound) {
        self.proven = bound.length;
        self.goal = bound.length.max(self.settings.enough);
    }

    /// Why the search ends with a packing of `length`, if it does.
    fn at_goal(&self, length: f64) -> Option<Ended> {
        let why = if reached(length, self.proven) { Ended::ShortestPossible } else { Ended::ShortEnough };
        reached(length, self.goal).then_some(why)
    }

    fn first_packing(&self, model: &Model) -> Result<Places, NestError> {
        let hurry = || self.meter.may_hurry() && (self.observer.should_stop() || self.meter.out_of_time(1.0));
        start::clear_packing(model, self.settings.seed, &hurry)
    }

    /// The known packing, when it is shorter than `length`.
    fn known_below(&self, length: f64) -> Option<&Packing> {
        self.settings.known.as_ref().filter(|known| known.length < length)
    }

    /// Squeezes `best` with true shapes to the end of a part.
    fn squeeze(
        &mut self,
        problem: &Problem,
        tilts: &Tilts,
        regions: &Regions,
        best: &mut Packing,
        part: Part,
    ) -> Result<Ended, NestError> {
        let fine = Model::new(problem, tilts, Detail::Squeeze, regions)?;
        let from = part.within(self.meter.progress(self.work));
        let stage = |progress: f64| Stage::Tighten { left: (1.0 - progress) / (1.0 - from) };
        Ok(self.stage(&fine, best, part, 1.0, &stage))
    }

    /// Improves `best` on one model until `until` of a part of the budget is used.
    fn stage(
        &mut self,
        model: &Model,
        best: &mut Packing,
        part: Part,
        until: f64,
        stage_at: &dyn Fn(f64) -> Stage,
    ) -> Ended {
        let Some(places) = model.places(best) else { return Ended::BudgetSpent };
        let mut lanes: Vec<Lane> = (0..LANES)
            .map(|k| {
                let random = Random::new(self.settings.seed, self.streams + k as u64);
                Lane::new(model, random, places.clone(), best.length, self.goal)
            })
            .collect();
        let before = self.work;
        let ended = loop {
            let built = self.region_work * model.regions_asked();
            self.work = before + built + lanes.iter().map(Lane::work).sum::<u64>();
            let of_whole = self.meter.progress(self.work).min(1.0);
            let progress = part.within(of_whole).min(1.0);
            let length = lanes.iter().map(|lane| lane.best().1).fold(f64::INFINITY, f64::min);
            self.tell(length, of_whole);
            if let Some(ended) = self.at_goal(length) {
                break ended;
            }
            if self.observer.should_stop() {
                break Ended::Stopped;
            }
            if progress >= until {
                break Ended::BudgetSpent;
            }
            self.leg(&mut lanes, stage_at(progress), part, until);
            exchange(&mut lanes);
        };
        self.separations += lanes.iter().map(Lane::separations).sum::<u64>();
        if let Some((places, length)) = shortest(&lanes)
            && length < best.length
        {
            *best = model.packing(places);
        }
        ended
    }

    /// Lets every lane work up to the next exchange.
    fn leg(&self, lanes: &mut [Lane], stage: Stage, part: Part, until: f64) {
        let longest = if self.region_work > 0 { SHORT_LEG } else { u64::MAX };
        let leg = self.meter.leg(part).min(longest) / LANES as u64 + 1;
        let until = part.of_whole(until);
        let stop = || self.observer.should_stop() || self.meter.out_of_time(until);
        self.workers.each(lanes, |lane| {
            let end = lane.work() + leg;
            lane.run(end, stage, &stop);
        });
    }

    /// Reports `length`, the shortest so far, as a gain if it is one.
    fn tell(&mut self, length: f64, progress: f64) {
        let shorter = self.trace.last().is_none_or(|gain| length < gain.length);
        if shorter {
            self.gained(length);
        }
        self.observer.event(&if shorter { Event::Shorter { length, progress } } else { Event::Working { progress } });
    }

    fn gained(&mut self, length: f64) {
        let seconds = self.meter.elapsed().map_or(0.0, |passed| passed.as_secs_f64());
        self.trace.push(Gain { work: self.work, seconds, length });
    }
}

/// The shortest packing of any lane; of equals the first lane's.
fn shortest<'l>(lanes: &'l [Lane]) -> Option<(&'l Places, f64)> {
    lanes.iter().map(Lane::best).min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Every lane goes on from the shortest packing any has found.
fn exchange(lanes: &mut [Lane]) {
    if let Some((places, length)) = shortest(lanes).map(|(places, length)| (places.clone(), length)) {
        for lane in lanes {
            lane.adopt(&places, length);
        }
    }
}

#[cfg(test)]
mod tests;
