//! A question made ready for the search, once: what its matches come to, what must find a place, whether each has room, and the strip
//! problem that follows.
//!
//! | file | says |
//! | --- | --- |
//! | [`spread`] | which lines the cloth is folded along, and what is cut double there |
//! | [`place`] | where a piece may be, and how wide it may be there |
//! | [`copies`] | which copies one stroke of the shears yields |
//! | [`design`] | which poses a matched piece may take, and on which lattice it stands |
//! | [`slot`] | one thing the search moves: its copies and its poses |
//! | [`room`] | what is too wide for the cloth, or has no place on its design |
//! | [`strip`] | the packing problem |

pub(crate) mod copies;
mod design;
pub(crate) mod place;
mod room;
pub(crate) mod slot;
pub(crate) mod spread;
mod strip;

use ellwand_garment::Question;
use ellwand_nest::Problem;

use crate::PlanError;
use slot::Slot;
use spread::Spread;

/// A question, ready to be searched.
pub(crate) struct Prepared<'q> {
    /// What is asked.
    pub(crate) question: &'q Question<'q>,
    /// How the cloth lies.
    pub(crate) spread: Spread,
    /// What must find a place, one for each item of the problem.
    pub(crate) slots: Vec<Slot<'q>>,
    /// The packing problem.
    pub(crate) problem: Problem,
}

impl<'q> Prepared<'q> {
    /// Makes `question` ready.
    ///
    /// # Errors
    ///
    /// Every fault of the question that needs no search to be seen.
    pub(crate) fn of(question: &'q Question<'q>) -> Result<Self, PlanError> {
        Self::spread(question, Spread::of(question))
    }

    /// The same on cloth that lies so.
    ///
    /// # Errors
    ///
    /// As [`Prepared::of`].
    pub(crate) fn spread(question: &'q Question<'q>, spread: Spread) -> Result<Self, PlanError> {
        let matched = design::Matched::of(question, &spread)?;
        let slots = slot::slots(question, &spread, matched.as_ref())?;
        room::check(question, &slots)?;
        if let Some(matched) = &matched {
            room::check_on_design(question, matched, &slots)?;
        }
        let problem = strip::problem(question, &spread, matched.as_ref(), &slots);
        Ok(Self { question, spread, slots, problem })
    }

    /// As [`Prepared::of`], whether or not each piece has room: to tell which have none.
    ///
    /// # Errors
    ///
    /// What keeps a piece from being laid on cloth of any size.
    pub(crate) fn wherever_it_fits(question: &'q Question<'q>) -> Result<Self, PlanError> {
        let spread = Spread::of(question);
        let matched = design::Matched::of(question, &spread)?;
        let slots = slot::slots(question, &spread, matched.as_ref())?;
        let problem = strip::problem(question, &spread, matched.as_ref(), &slots);
        Ok(Self { question, spread, slots, problem })
    }
}

/// The packing problem that a search for `question` is given, for measuring the search by itself.
///
/// # Errors
///
/// The faults of the question, as [`plan_question`](crate::plan_question).
pub fn strip_problem(question: &Question) -> Result<Problem, PlanError> {
    Ok(Prepared::of(question)?.problem)
}
