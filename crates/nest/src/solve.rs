//! The whole search: a start, then lanes that work side by side and exchange the best at fixed counts of work.
//!
//! There are always two lanes, whatever the number of threads, and they meet only at fixed work counts, so the answer
//! does not depend on timing. The lanes first move simplified shapes; when those differ from the true ones, the last part of the
//! budget squeezes the best packing with shapes true to a hair.

use std::time::{Duration, Instant};

use crate::budget::Clock;
use crate::clearance::Detail;
use crate::fits::reached;
use crate::lane::{Lane, Stage};
use crate::model::{Model, Places};
use crate::random::Random;
use crate::{Bound, Ended, Event, Gain, NestError, Observer, Outcome, Packing, Problem, Regions, Settings, start};

/// Independent lanes of the search.
const LANES: usize = 2;
/// Of the budget, where exploring ends, and where squeezing with true shapes begins if they were simplified.
const EXPLORED: f64 = 0.85;
const SQUEEZED: f64 = 0.9;
/// What the start may always take: nobody minds the wait, and without it a stopped search would have little to show.
const UNHURRIED: Duration = Duration::from_secs(1);

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
/// use ellwand_nest::{AllowedPose, Budget, Item, Problem, Settings, Silent, solve};
///
/// let square = Outline::rectangle(100.0, 100.0).unwrap();
/// let item = Item { shape: 0, poses: vec![AllowedPose::anywhere(Pose::AS_DRAWN)], twin: None };
/// let problem = Problem {
///     left: 0.0,
///     right: 250.0,
///     shapes: vec![square],
///     items: vec![item; 4],
///     obstacles: vec![],
///     gap: 0.0,
///     phases: vec![],
/// };
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
    let began = Instant::now();
    let coarse = Model::new(problem, Detail::Search, regions)?;
    let bound = Bound::of(&coarse);
    let clock = Clock::start(settings.budget, problem.items.len(), began);
    let hurry = || began.elapsed() > UNHURRIED && (observer.should_stop() || clock.out_of_time(1.0));
    let first = start::clear_packing(&coarse, settings.seed, &hurry)?;
    let start = coarse.packing(&first);
    let threads = settings.threads.clamp(1, LANES);
    let mut search = Search {
        settings,
        observer,
        began,
        clock,
        bound: bound.length,
        pool: (threads > 1).then(|| rayon::ThreadPoolBuilder::new().num_threads(threads).build().ok()).flatten(),
        work: 0,
        separations: 0,
        trace: Vec::new(),
    };
    search.gained(start.length);
    observer.event(&Event::Started { length: start.length, bound: bound.length });
    let mut best = start.clone();
    if let Some(known) = settings.known.as_ref().filter(|known| known.length < best.length)
        && coarse.places(known).is_some()
    {
        best = known.clone();
    }
    let simplified = coarse.is_simplified();
    let mut ended = search.stage(&coarse, Detail::Search, &mut best, if simplified { SQUEEZED } else { 1.0 });
    if simplified && ended == Ended::BudgetSpent {
        let fine = Model::new(problem, Detail::Squeeze, regions)?;
        ended = search.stage(&fine, Detail::Squeeze, &mut best, 1.0);
    }
    let Search { work, separations, trace, .. } = search;
    Ok(Outcome { best, start, bound, ended, work, separations, trace })
}

/// A length that no packing of `problem` goes below, without any search, with the no-fit regions that searches have left in `regions`.
///
/// # Errors
///
/// As [`solve`], but for items that are in each other's way.
pub fn lower_bound(problem: &Problem, regions: &Regions) -> Result<Bound, NestError> {
    Ok(Bound::of(&Model::new(problem, Detail::Search, regions)?))
}

struct Search<'a> {
    settings: &'a Settings,
    observer: &'a dyn Observer,
    began: Instant,
    clock: Clock,
    bound: f64,
    pool: Option<rayon::ThreadPool>,
    /// Candidates evaluated in the stages before and in the legs of this one.
    work: u64,
    /// Boards separated in the stages before.
    separations: u64,
    /// Every gain so far.
    trace: Vec<Gain>,
}

impl Search<'_> {
    /// Improves `best` on one model until `until` of the budget is used.
    fn stage(&mut self, model: &Model, detail: Detail, best: &mut Packing, until: f64) -> Ended {
        let Some(places) = model.places(best) else { return Ended::BudgetSpent };
        let from = self.clock.progress(self.work);
        let mut lanes: Vec<Lane> = (0..LANES)
            .map(|k| {
                let random = Random::new(self.settings.seed, k as u64);
                Lane::new(model, random, places.clone(), best.length, self.bound)
            })
            .collect();
        let before = self.work;
        let ended = loop {
            self.work = before + lanes.iter().map(Lane::work).sum::<u64>();
            let progress = self.clock.progress(self.work).min(1.0);
            let length = lanes.iter().map(|lane| lane.best().1).fold(f64::INFINITY, f64::min);
            self.tell(length, progress);
            if reached(length, self.bound) {
                break Ended::ShortestPossible;
            }
            if self.observer.should_stop() {
                break Ended::Stopped;
            }
            if progress >= until {
                break Ended::BudgetSpent;
            }
            let stage = match detail {
                Detail::Search if progress < EXPLORED => Stage::Explore,
                Detail::Search => Stage::Compress { left: (until - progress) / (until - EXPLORED) },
                Detail::Squeeze => Stage::Tighten { left: (until - progress) / (until - from) },
            };
            self.leg(&mut lanes, stage, until);
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
    fn leg(&self, lanes: &mut [Lane], stage: Stage, until: f64) {
        let leg = self.clock.leg() / LANES as u64 + 1;
        let stop = || self.observer.should_stop() || self.clock.out_of_time(until);
        let run = |lane: &mut Lane| {
            let end = lane.work() + leg;
            lane.run(end, stage, &stop);
        };
        match &self.pool {
            Some(pool) => pool.install(|| {
                let (first, rest) = lanes.split_at_mut(1);
                rayon::join(|| first.iter_mut().for_each(run), || rest.iter_mut().for_each(run));
            }),
            None => lanes.iter_mut().for_each(run),
        }
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
        self.trace.push(Gain { work: self.work, seconds: self.began.elapsed().as_secs_f64(), length });
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
