//! One cloth laid one way: search, exact shapes, check. Answers already known to stricter questions are candidates from the
//! start, so an answer to a looser question is never longer than they are.

use std::time::Instant;

use ellwand_garment::{Layout, Nap, SearchNote, TracePoint};
use ellwand_nest::{Budget, Ended, Gain, NestError, Regions, Settings, solve_sharing};

use crate::{
    Lay, Options, PlanError, Progress, Stage,
    adopt::adopt,
    assemble::{assemble, checked, lower_bound},
    misfit::check_widths,
    options::Listener,
    slot::slots,
    strip::{cuts, packing_of, problem},
};

/// A checked layout of one cloth laid one way.
#[derive(Debug, Clone, PartialEq)]
pub struct LayPlan {
    /// The shortest layout found.
    pub layout: Layout,
    /// The answer to the same question as if the cloth had a nap, when that was asked on the way.
    pub napped: Option<Layout>,
    /// Why the search ended.
    pub ended: Ended,
}

impl LayPlan {
    /// Every checked layout of this plan, to be candidates for a looser question: wider cloth, a copy fewer.
    pub fn layouts(&self) -> impl Iterator<Item = &Layout> {
        self.napped.iter().chain([&self.layout])
    }
}

/// Finds the shortest layout it can for `lay`.
///
/// `known` are checked layouts of the same pieces for questions that may be stricter: narrower cloth, with nap, more copies.
/// Those that answer `lay` are kept as candidates, so the result is never longer than any of them. Unless the budget is a
/// time, cloth without nap is first planned as if it had one, with the same budget: so it never needs more than napped cloth
/// does.
///
/// # Errors
///
/// [`PlanError::TooNarrow`] and the other faults of the question; [`PlanError::Bug`] when the checker refuses what was found.
pub fn plan_lay(lay: &Lay, known: &[Layout], options: &Options, progress: &dyn Progress) -> Result<LayPlan, PlanError> {
    plan_lay_sharing(lay, known, options, progress, &Regions::default())
}

/// As [`plan_lay`], with the no-fit regions of the job's other searches.
pub(crate) fn plan_lay_sharing(
    lay: &Lay,
    known: &[Layout],
    options: &Options,
    progress: &dyn Progress,
    regions: &Regions,
) -> Result<LayPlan, PlanError> {
    let stricter = match options.budget {
        Budget::Time(_) => None,
        Budget::Effort(_) | Budget::Work(_) => lay.as_if_napped(),
    };
    let Some(stricter) = stricter else {
        return search(lay, known, options, progress, regions);
    };
    // The stricter search sees exactly what it would see if napped cloth had been asked for.
    let napped_known: Vec<Layout> = known.iter().filter(|layout| layout.cloth.nap == Nap::With).cloned().collect();
    let napped = match search(&stricter, &napped_known, options, progress, regions) {
        Ok(plan) => Some(plan.layout),
        // A piece may fit the cloth only upside down, or crosswise on a border; then there is no stricter answer to start from.
        Err(fault) if fault.is_of_the_question() => None,
        Err(other) => return Err(other),
    };
    let known: Vec<Layout> = known.iter().chain(&napped).cloned().collect();
    let plan = search(lay, &known, options, progress, regions)?;
    Ok(LayPlan { napped, ..plan })
}

/// `plan`, or `known` told as the answer to `lay` where that is shorter.
///
/// # Errors
///
/// As [`plan_lay`].
pub(crate) fn or_known(plan: LayPlan, known: &Layout, lay: &Lay) -> Result<LayPlan, PlanError> {
    match adopt(known, lay, &slots(lay)?) {
        Some(adopted) if adopted.length < plan.layout.length => {
            let found = plan.layout;
            let layout = checked(assemble(lay, adopted.cuts, found.lower_bound, found.search), lay)?;
            Ok(LayPlan { layout, ..plan })
        }
        _ => Ok(plan),
    }
}

/// The faults of a question that need no search to be seen.
///
/// # Errors
///
/// As [`plan_lay`], [`PlanError::Bug`] aside.
pub fn check_lay(lay: &Lay) -> Result<(), PlanError> {
    check_widths(lay, &slots(lay)?)
}

fn search(
    lay: &Lay,
    known: &[Layout],
    options: &Options,
    progress: &dyn Progress,
    regions: &Regions,
) -> Result<LayPlan, PlanError> {
    let began = Instant::now();
    let slots = slots(lay)?;
    check_widths(lay, &slots)?;
    let role = &lay.fabric.role;
    progress.stage(&Stage { role: role.clone(), layers: lay.layers, nap: lay.fabric.cloth.nap });

    let problem = problem(lay, &slots)?;
    let adopted = shortest(known.iter().filter_map(|layout| adopt(layout, lay, &slots)));
    let settings = Settings {
        seed: options.seed,
        budget: options.budget,
        threads: options.threads,
        known: adopted.as_ref().and_then(|layout| packing_of(&slots, layout)),
    };
    let outcome =
        solve_sharing(&problem, &settings, &Listener(progress), regions).map_err(|refusal| match refusal {
            NestError::NoPackingFound if !problem.phases.is_empty() => PlanError::NoCommonPhase { role: role.clone() },
            _ => PlanError::Refused { role: role.clone(), what: refusal.to_string() },
        })?;
    let note = SearchNote {
        seed: options.seed,
        effort: options.effort_name(),
        seconds: began.elapsed().as_secs_f64(),
        start_length: outcome.start.length,
        trace: trace(&outcome.trace, options.budget),
    };
    let bound = lower_bound(&outcome.bound, &slots, lay.job.units);
    let found = assemble(lay, cuts(lay, &slots, &outcome.best), bound.clone(), note.clone());
    let best = match adopted {
        Some(adopted) if adopted.length < found.length => assemble(lay, adopted.cuts, bound, note),
        _ => found,
    };
    Ok(LayPlan { layout: checked(best, lay)?, napped: None, ended: outcome.ended })
}

/// The gains of a search as its layout tells them: without the seconds where equal work is to give equal bytes.
fn trace(gains: &[Gain], budget: Budget) -> Vec<TracePoint> {
    let timed = matches!(budget, Budget::Time(_));
    let point =
        |gain: &Gain| TracePoint { work: gain.work, seconds: timed.then_some(gain.seconds), length: gain.length };
    gains.iter().map(point).collect()
}

/// The shortest; the first of equals.
fn shortest(layouts: impl IntoIterator<Item = Layout>) -> Option<Layout> {
    layouts.into_iter().min_by(|a, b| a.length.total_cmp(&b.length))
}
