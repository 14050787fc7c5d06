//! Ways of laying beside the open layer and the fold down the middle: off centre, both selvages to the middle, a part folded, crosswise, cut and turned.
//!
//! Each leaves something open that no single strip says: how deep the fold is, which pieces are cut double, where the folded part ends. So each has
//! several *spreads*, told by [`candidates`]; they are looked at with little work, the better ones with more, and the best is searched to the end. Folds
//! whose lines pieces do not touch can be moved until they do, so it is enough to try those depths at which pieces side by side, or the half of one that
//! lies on the fold, just fill the folded part.
//!
//! A shallower fold leaves more of the cloth single, down to none at all, so the open layer and the fold down the middle are answers to these questions
//! where the way allows them ([`plainer_ways`]): no such layout buys more than they do. All pieces lie true to the grain.

mod candidates;
mod double_bound;
mod parts;

use ellwand_garment::{Layout, Question, Way, WayChoice, check, purchase};
use ellwand_nest::{Budget, Ended};

use crate::{
    LayPlan, PlanError, Stage,
    assemble::judged,
    cloth::least_work,
    lay_plan::lay_plan,
    pace::{Purpose, Shares},
    search::{Desk, note},
};
use candidates::candidates;
use double_bound::double_bound;
use parts::Ready;

/// Of the budget of a way with several spreads, in quarters, what is spent on looking at all of them, and again on a closer look at the better ones: the
/// rest is for the best.
const LOOK: u32 = 1;
const WHOLE: u32 = 4;
/// The shortest stretch that is folded, mm: a hand. Common practice, without a source.
const LEAST_STRETCH: f64 = 100.0;
/// How many are looked at more closely.
const CLOSER: usize = 3;

/// The plainer ways of laying whose layouts answer a question about `way` too.
pub(crate) fn plainer_ways(way: Way) -> &'static [Way] {
    match way {
        Way::OffCentre | Way::PartFolded => &[Way::CentreFold, Way::Open],
        Way::Open | Way::CentreFold | Way::ToTheMiddle | Way::Crosswise | Way::CutAndTurned => &[],
    }
}

/// What the searches of every way of laying come to that a choice allows.
pub(crate) fn shares(choice: WayChoice) -> Shares {
    let of_way = |way: &Way| match way {
        Way::Open | Way::CentreFold => Shares::WHOLE,
        other => Shares::WHOLE.times(plainer_ways(*other).len()).and(Shares::OTHER_WAY),
    };
    let first = choice.ways().iter().fold(Shares::NONE, |all, way| all.and(of_way(way)));
    first.and(Shares::OTHER_WAY.times(choice.more_ways().len()))
}

/// Whether cloth may be laid in the way of the question.
///
/// # Errors
///
/// [`PlanError::WayRefused`].
pub(crate) fn allowed(question: &Question) -> Result<(), PlanError> {
    match question.way.refusal(&question.fabric) {
        Some(why) => Err(PlanError::WayRefused { role: question.fabric.role.clone(), way: question.way, why }),
        None => Ok(()),
    }
}

/// The plan of a question about one of these ways. Of the layouts `known` those that answer it are candidates too.
///
/// # Errors
///
/// [`PlanError::WayRefused`]; the faults of the open layer where nothing can be cut double; faults of the program.
pub(crate) fn other_way(
    question: &Question,
    known: &[Layout],
    purpose: Purpose,
    desk: &Desk,
) -> Result<LayPlan, PlanError> {
    let budget = desk.pace.next(purpose, question.orders().len());
    allowed(question)?;
    let (role, nap) = (question.fabric.role.clone(), question.fabric.cloth.nap);
    desk.progress.stage(&Stage { role, way: question.way, nap });
    let is_plainer = |layout: &&Layout| layout.way == question.way || plainer_ways(question.way).contains(&layout.way);
    let plainer = known.iter().filter(is_plainer);
    let mut answers: Vec<Layout> = plainer.filter_map(|layout| told_of(layout, question)).collect();
    // True to the grain: what leans costs many times the work, and the plainer ways have had it.
    let mut true_to_grain = question.clone();
    true_to_grain.fabric.cloth.off_grain_deg = 0.0;
    let asked = candidates(&true_to_grain);
    let ready: Vec<Ready> = asked.iter().filter_map(|parts| Ready::of(parts).ok()).filter(Ready::cuts_double).collect();
    let found = best(question, &ready, budget, desk)?;
    let ended = if found.stopped { Ended::Stopped } else { Ended::BudgetSpent };
    answers.splice(0..0, found.layouts);
    if let Some(layout) = answers.into_iter().min_by(least_work) {
        return Ok(LayPlan { layout, stricter: Vec::new(), ended });
    }
    // Nothing can be cut double so: then it lies open.
    let mut known_open = known.iter().filter(|layout| layout.way == Way::Open);
    let layout = match known_open.find_map(|layout| told_of(layout, question)) {
        Some(layout) => layout,
        None => {
            let open = lay_plan(&question.laid(Way::Open), known, purpose, desk)?.layout;
            judged(Layout { way: question.way, ..open }, question)?
        }
    };
    Ok(LayPlan { layout, stricter: Vec::new(), ended })
}

/// `layout` told as an answer to `question`, where it is one.
fn told_of(layout: &Layout, question: &Question) -> Option<Layout> {
    let told = Layout { way: question.way, ..layout.clone() };
    check::check(&told, question).is_empty().then_some(told)
}

/// What the best of several spreads came to.
struct Best {
    layouts: Vec<Layout>,
    stopped: bool,
}

/// Searches several spreads: all are looked at, the better ones again, and to the end the [`most_promising`].
fn best(question: &Question, ready: &[Ready], budget: Budget, desk: &Desk) -> Result<Best, PlanError> {
    let began = desk.options.clock.now();
    let mut in_the_race: Vec<usize> = (0..ready.len()).collect();
    let mut packed = Vec::with_capacity(ready.len());
    packed.resize_with(ready.len(), || None);
    let mut spent = 0;
    for left in [CLOSER, 1] {
        if in_the_race.len() <= left {
            continue;
        }
        spent += LOOK;
        let each = part(budget, question, LOOK, in_the_race.len());
        for &index in &in_the_race {
            let found = ready[index].search(each, packed[index].take(), desk);
            packed[index] = of_the_question(found)?;
        }
        // A spread in which something is in the way of something else has none.
        in_the_race.retain(|&index| packed[index].is_some());
        let length = |index: usize| packed[index].as_ref().map_or(f64::INFINITY, |of| ready[index].length(of));
        in_the_race = most_promising(in_the_race, left, question, &length, &|index| ready[index].things());
    }
    let mut best = Best { layouts: Vec::new(), stopped: false };
    if in_the_race.is_empty() {
        return Ok(best);
    }
    let bound = double_bound(question, desk);
    let to_the_end = part(budget, question, WHOLE - spent, in_the_race.len());
    for index in in_the_race {
        let Some(packed) = of_the_question(ready[index].search(to_the_end, packed[index].take(), desk))? else {
            continue;
        };
        let note = note(packed.first(), began, to_the_end, desk);
        let layout = judged(ready[index].layout(question, &packed, bound.clone(), note), question)?;
        best.layouts.extend(Some(layout).filter(|layout| !is_folded_for_little(layout)));
        best.stopped |= packed.is_stopped();
    }
    Ok(best)
}

/// Whether some stretch that is folded is so short that nobody would fold the cloth for it.
fn is_folded_for_little(layout: &Layout) -> bool {
    layout.lay.folds().any(|(section, _)| section.to - section.from < LEAST_STRETCH)
}

/// Of some spreads those that are worth more work, the shortest first: so many of the shortest, as many of those that are the best as they are, and the shortest
/// of those that are less work than the very shortest.
fn most_promising(
    mut in_the_race: Vec<usize>,
    left: usize,
    question: &Question,
    length: &dyn Fn(usize) -> f64,
    things: &dyn Fn(usize) -> usize,
) -> Vec<usize> {
    let steps = |index: usize| purchase(&question.fabric, question.job.units, length(index)).steps;
    let by_length = |a: &usize, b: &usize| length(*a).total_cmp(&length(*b)).then(a.cmp(b));
    in_the_race.sort_by(by_length);
    let mut as_they_are = in_the_race.clone();
    as_they_are.sort_by_key(|&index| (steps(index), things(index)));
    let less_work = in_the_race
        .first()
        .and_then(|&first| in_the_race.iter().copied().skip(left).find(|&index| things(index) < things(first)));
    in_the_race.truncate(left);
    for index in as_they_are.into_iter().take(left).chain(less_work) {
        if !in_the_race.contains(&index) {
            in_the_race.push(index);
        }
    }
    in_the_race
}

fn of_the_question<T>(answer: Result<T, PlanError>) -> Result<Option<T>, PlanError> {
    match answer {
        Ok(found) => Ok(Some(found)),
        Err(fault) if fault.is_of_the_question() => Ok(None),
        // What the search refuses of one spread, another may have room for.
        Err(PlanError::Refused { .. }) => Ok(None),
        Err(fault) => Err(fault),
    }
}

/// So many quarters of a budget, shared equally by so many searches.
fn part(budget: Budget, question: &Question, quarters: u32, searches: usize) -> Budget {
    let share = f64::from(quarters) / f64::from(WHOLE) / searches.max(1) as f64;
    match budget {
        Budget::Time(time) => Budget::Time(time.mul_f64(share)),
        other => Budget::Work((other.work(question.orders().len()).unwrap_or(0) as f64 * share) as u64),
    }
}
