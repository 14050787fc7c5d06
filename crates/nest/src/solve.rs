//! The whole search: a start, then lanes that work side by side and exchange the best at fixed counts of work.
//!
//! There are always two lanes, whatever the number of threads, and they meet only at fixed work counts, so the answer
//! does not depend on timing.

use std::time::Instant;

use crate::lane::{Lane, Phase};
use crate::model::Model;
use crate::random::Random;
use crate::{Bound, Budget, Effort, Ended, Event, NestError, Observer, Outcome, Problem, Settings, start};

/// Independent lanes of the search.
const LANES: usize = 2;
/// Candidates a lane evaluates between two exchanges.
const LEG: u64 = 200_000;
/// Share of the budget spent exploring.
const EXPLORE_SHARE: f64 = 0.8;

/// Searches for the shortest packing of `problem`.
///
/// # Errors
///
/// [`NestError`] when the problem is not well formed or an item fits nowhere.
pub fn solve(problem: &Problem, settings: &Settings, observer: &dyn Observer) -> Result<Outcome, NestError> {
    let began = Instant::now();
    let model = Model::new(problem)?;
    let bound = Bound::of(&model);
    let first = start::largest_first(&model);
    let start = model.packing(&first);
    observer.event(&Event::Started { length: start.length, bound: bound.length });
    let mut lanes: Vec<Lane> =
        (0..LANES).map(|k| Lane::new(&model, Random::new(settings.seed, k as u64), first.clone())).collect();
    if let Some(known) = &settings.known
        && let Some(places) = model.places(known)
    {
        for lane in &mut lanes {
            lane.adopt(&places, known.length);
        }
    }
    let pool = rayon::ThreadPoolBuilder::new().num_threads(settings.threads.clamp(1, LANES)).build();
    let total_work = match settings.budget {
        Budget::Work(work) => work,
        Budget::Effort(effort) => effort_work(effort, &model),
        Budget::Time(_) => u64::MAX,
    };
    let out_of_time = || match settings.budget {
        Budget::Time(limit) => began.elapsed() >= limit,
        _ => false,
    };
    let stop = || observer.should_stop() || out_of_time();
    let mut reported = start.length;
    let ended = loop {
        let work: u64 = lanes.iter().map(Lane::work).sum();
        let progress = match settings.budget {
            Budget::Time(limit) => began.elapsed().as_secs_f64() / limit.as_secs_f64(),
            _ => work as f64 / total_work as f64,
        };
        let best = lanes.iter().map(|l| l.best().1).fold(f64::INFINITY, f64::min);
        let progress = progress.min(1.0);
        observer.event(&if best < reported {
            Event::Shorter { length: best, progress }
        } else {
            Event::Working { progress }
        });
        reported = best;
        if best <= bound.length * (1.0 + 1e-9) {
            break Ended::ShortestPossible;
        }
        if observer.should_stop() {
            break Ended::Stopped;
        }
        if progress >= 1.0 {
            break Ended::BudgetSpent;
        }
        let phase = if progress < EXPLORE_SHARE {
            Phase::Explore
        } else {
            Phase::Compress((1.0 - progress) / (1.0 - EXPLORE_SHARE))
        };
        let leg = LEG.min(total_work / 40 / LANES as u64 + 1);
        let run = |lane: &mut Lane| {
            let until = lane.work() + leg;
            lane.run(until, phase, &stop);
        };
        match &pool {
            Ok(pool) if settings.threads > 1 => pool.install(|| {
                let (a, b) = lanes.split_at_mut(1);
                rayon::join(|| run(&mut a[0]), || run(&mut b[0]));
            }),
            _ => lanes.iter_mut().for_each(run),
        }
        exchange(&mut lanes);
    };
    let best = lanes.iter().min_by(|a, b| a.best().1.total_cmp(&b.best().1)).map(|l| model.packing(l.best().0));
    let work = lanes.iter().map(Lane::work).sum();
    if std::env::var_os("ELLWAND_TRACE").is_some() {
        #[allow(clippy::print_stderr)]
        {
            eprintln!("work {work} counts {:?}", lanes.iter().map(Lane::counts).collect::<Vec<_>>());
        }
    }
    Ok(Outcome { best: best.unwrap_or_else(|| start.clone()), start, bound, ended, work })
}

/// Every lane goes on from the shortest packing any has found.
fn exchange(lanes: &mut [Lane]) {
    let shortest = lanes.iter().min_by(|a, b| a.best().1.total_cmp(&b.best().1)).map(|l| (l.best().0.clone(), l.best().1));
    if let Some((places, length)) = shortest {
        for lane in lanes {
            lane.adopt(&places, length);
        }
    }
}

/// Candidates an effort may evaluate: in proportion to the items, with a floor for small problems.
fn effort_work(effort: Effort, model: &Model) -> u64 {
    let for_each_item = match effort {
        Effort::Quick => 20_000,
        Effort::Normal => 200_000,
        Effort::Thorough => 3_000_000,
    };
    for_each_item * model.items.len().max(5) as u64
}
