//! A job as it might be otherwise: several cases of it, each answered as a plan of that case is. What two cases have in common is planned once.

use ellwand_garment::{Job, Pattern, Remnant};

use crate::{
    JobPlan, Options, PlanError, Progress,
    cloth::Cloth,
    error::sound,
    job::{check_job, roles},
    matching_cost::{Prices, Weighing},
    pace::Shares,
    remnants::{self, OfRole, Taken},
    search::Desk,
};

/// A job with its pattern, as one might decide.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    /// The job.
    pub job: &'a Job,
    /// The pattern as the job asks for it.
    pub pattern: &'a Pattern,
}

/// The answer to a case, or all that stands against it.
pub type CaseAnswer = Result<JobPlan, Vec<PlanError>>;

/// Plans every cloth of every case, in their order; of the view's cloths only those of `chosen`, or all where that is empty.
///
/// Each answer has the layouts that [`plan_job`](crate::plan_job) gives for that case alone with the same options, but for what matching costs,
/// which is not told. Of a cloth that several cases lay alike the layout is that of the first of them, its name included. (Of a budget that
/// is a time each search gets its share.)
///
/// # Errors
///
/// A fault of the program. What stands against one case is its answer.
pub fn plan_cases<'a>(
    cases: &[Case<'a>],
    chosen: &[String],
    options: &Options,
    progress: &dyn Progress,
) -> Result<Vec<CaseAnswer>, PlanError> {
    let desk = Desk::new(options, progress);
    let asked: Vec<Result<Vec<String>, Vec<PlanError>>> = cases.iter().map(|case| asked_of(case, chosen)).collect();
    let cloths = |(case, roles): (&Case<'a>, &'_ Result<Vec<String>, Vec<PlanError>>)| {
        let (job, pattern) = (case.job, case.pattern);
        roles
            .iter()
            .flatten()
            .filter_map(|role| Some(Cloth { job, pattern, role: &job.fabric(role)?.role }))
            .collect::<Vec<_>>()
    };
    let cloths: Vec<Vec<Cloth<'a>>> = cases.iter().zip(&asked).map(cloths).collect();
    let mut book = Book { known: Vec::new(), to_come: distinct(cloths.concat()), desk: &desk };
    let mut answers = Vec::with_capacity(cases.len());
    for ((case, roles), cloths) in cases.iter().zip(&asked).zip(cloths) {
        answers.push(match roles {
            Ok(_) => book.answer(case, &cloths)?,
            Err(faults) => Err(faults.clone()),
        });
    }
    Ok(answers)
}

/// Each of these cloths once.
fn distinct(cloths: Vec<Cloth<'_>>) -> Vec<Cloth<'_>> {
    let mut all: Vec<Cloth<'_>> = Vec::new();
    for cloth in cloths {
        if !all.iter().any(|known| known.is_asked_as(&cloth)) {
            all.push(cloth);
        }
    }
    all
}

/// What was planned, to be planned once.
struct Book<'a, 'd> {
    /// Each cloth with the remnants that were left for it, and its answer.
    known: Vec<(Cloth<'a>, Vec<Remnant>, Result<OfRole, PlanError>)>,
    /// The cloths that are still to be planned.
    to_come: Vec<Cloth<'a>>,
    desk: &'d Desk<'d>,
}

impl<'a> Book<'a, '_> {
    /// The answer to a case that is cut from `cloths`.
    ///
    /// # Errors
    ///
    /// A fault of the program.
    fn answer(&mut self, case: &Case<'_>, cloths: &[Cloth<'a>]) -> Result<CaseAnswer, PlanError> {
        let mut taken = Taken::default();
        let (mut found, mut faults) = (Vec::with_capacity(cloths.len()), Vec::new());
        for cloth in cloths {
            match self.of_cloth(cloth, &taken) {
                Ok(answer) => {
                    taken.take(&answer);
                    found.push(answer);
                }
                Err(fault) if !fault.is_of_the_question() => return Err(fault),
                Err(fault) => faults.push(fault),
            }
        }
        Ok(if faults.is_empty() { Ok(JobPlan::of(case.job, case.pattern, found)) } else { Err(faults) })
    }

    fn of_cloth(&mut self, cloth: &Cloth<'a>, taken: &Taken) -> Result<OfRole, PlanError> {
        let left = taken.leaves(cloth);
        let is_same = |(known, for_it, _): &&(Cloth<'_>, Vec<Remnant>, _)| known.is_asked_as(cloth) && *for_it == left;
        if let Some((.., answer)) = self.known.iter().find(is_same) {
            return answer.clone();
        }
        self.to_come.retain(|other| !other.is_asked_as(cloth));
        let shares = |cloth: &Cloth<'_>| Weighing::shares(cloth, Prices::Untold);
        let after = self.to_come.iter().fold(Shares::NONE, |all, cloth| all.and(shares(cloth)));
        let answer = remnants::answer(&Weighing { cloth: *cloth, desk: self.desk, after }, Prices::Untold, None, taken);
        self.known.push((*cloth, left, answer.clone()));
        answer
    }
}

/// The cloths of a case that are asked about, or why it cannot be planned.
fn asked_of(case: &Case<'_>, chosen: &[String]) -> Result<Vec<String>, Vec<PlanError>> {
    sound(case.pattern, case.job).map_err(|fault| vec![fault])?;
    let roles = roles(case.job, case.pattern, &[])?;
    let roles: Vec<String> = roles.into_iter().filter(|role| chosen.is_empty() || chosen.contains(role)).collect();
    let faults = check_job(case.job, case.pattern, &roles);
    if faults.is_empty() { Ok(roles) } else { Err(faults) }
}

impl Cloth<'_> {
    /// Whether the same is asked of both: the same cloth, laid in the same ways, and the same pieces cut from it.
    fn is_asked_as(&self, other: &Cloth<'_>) -> bool {
        let (Some(view), Some(others)) = (self.pattern.view(&self.job.view), other.pattern.view(&other.job.view))
        else {
            return false;
        };
        self.job.units == other.job.units
            && self.pattern.garments == other.pattern.garments
            && self.job.fabric(self.role) == other.job.fabric(other.role)
            && self.pattern.cut_orders(view, self.role) == other.pattern.cut_orders(others, other.role)
    }
}

#[cfg(test)]
mod tests;
