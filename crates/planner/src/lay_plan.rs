//! One cloth laid one way: prepared once, asked more strictly first where that helps, and searched.

use ellwand_garment::{Layout, Nap, Question};
use ellwand_nest::{Budget, Ended, lower_bound};

use crate::{
    Options, PlanError, Progress,
    assemble::{assemble, bound_in_words, judged},
    pace::{Purpose, Shares},
    prepare::Prepared,
    search::{Desk, lay_once, search},
    stricter::retold,
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

/// Finds the shortest layout it can for `question`.
///
/// `known` are checked layouts of the same pieces for questions that may be stricter: narrower cloth, with nap, more copies.
/// Those that answer `question` are kept as candidates, so the result is never longer than any of them. Unless the budget is a
/// time, cloth without nap is first planned as if it had one, with the same budget: so it never needs more than napped cloth
/// does.
///
/// # Errors
///
/// [`PlanError::TooNarrow`] and the other faults of the question; [`PlanError::Bug`] when the checker refuses what was found.
pub fn plan_question(
    question: &Question,
    known: &[Layout],
    options: &Options,
    progress: &dyn Progress,
) -> Result<LayPlan, PlanError> {
    lay_plan(question, known, Purpose::Layout, &Desk::new(options, progress))
}

/// The faults of a question that need no search to be seen. The pieces are laid once, largest first, so that what stands in the way of any
/// layout is found.
///
/// # Errors
///
/// As [`plan_question`], [`PlanError::Bug`] aside.
pub fn check_question(question: &Question) -> Result<(), PlanError> {
    lay_once(&Prepared::of(question)?, &Default::default())
}

/// As [`plan_question`], among the other searches of a command.
pub(crate) fn lay_plan(
    question: &Question,
    known: &[Layout],
    purpose: Purpose,
    desk: &Desk,
) -> Result<LayPlan, PlanError> {
    let prepared = match Prepared::of(question) {
        Ok(prepared) => prepared,
        Err(fault) => {
            desk.pace.skip(match purpose {
                Purpose::Layout => Shares::WHOLE,
                Purpose::Price => Shares::PRICE,
                Purpose::FirstLook => Shares::FIRST_LOOK,
            });
            return Err(fault);
        }
    };
    let budget = desk.pace.next(purpose, prepared.slots.len());
    let stricter = match budget {
        Budget::Time(_) => None,
        Budget::Effort(_) | Budget::Work(_) => as_if_napped(question),
    };
    let napped = match stricter {
        None => None,
        Some(stricter) => {
            // The stricter search sees exactly what it would see if napped cloth had been asked for.
            let known: Vec<Layout> = known.iter().filter(|layout| layout.cloth.nap == Nap::With).cloned().collect();
            let found = Prepared::of(&stricter).and_then(|prepared| search(&prepared, &known, budget, desk));
            match found {
                Ok(found) => Some(found.layout),
                // A piece may fit the cloth only upside down, or crosswise on a border; then there is no stricter answer to start from.
                Err(fault) if fault.is_of_the_question() => None,
                Err(other) => return Err(other),
            }
        }
    };
    let known: Vec<Layout> = known.iter().chain(&napped).cloned().collect();
    let found = search(&prepared, &known, budget, desk)?;
    Ok(LayPlan { layout: found.layout, napped, ended: found.ended })
}

/// The same question asked more strictly: as if the cloth had a nap. `None` when it has one already.
///
/// Every answer to the stricter question is an answer to this one: its placements are a subset.
fn as_if_napped<'a>(question: &Question<'a>) -> Option<Question<'a>> {
    match question.fabric.cloth.nap {
        Nap::With => None,
        Nap::Without => {
            let mut stricter = question.clone();
            stricter.fabric.cloth.nap = Nap::With;
            Some(stricter)
        }
    }
}

/// `plan`, or `known` told as the answer to `question` where that is shorter.
///
/// # Errors
///
/// As [`plan_question`].
pub(crate) fn or_known(plan: LayPlan, known: &Layout, question: &Question) -> Result<LayPlan, PlanError> {
    let prepared = Prepared::of(question)?;
    let Some(packing) = retold(known, &prepared) else { return Ok(plan) };
    let found = &plan.layout;
    let retold = assemble(&prepared, &packing, found.lower_bound.clone(), found.search.clone());
    if retold.length < found.length {
        return Ok(LayPlan { layout: judged(retold, question)?, ..plan });
    }
    Ok(plan)
}

/// Raises the bound of `layout` to what is proven of `looser`, a question that every answer to the layout's own question answers too.
pub(crate) fn raise_bound(layout: &mut Layout, looser: &Question, desk: &Desk) {
    let Ok(prepared) = Prepared::of(looser) else { return };
    if let Ok(bound) = lower_bound(&prepared.problem, &desk.regions)
        && bound.length > layout.lower_bound.length
        && bound.length <= layout.length
    {
        layout.lower_bound = bound_in_words(&bound, &prepared);
    }
}
