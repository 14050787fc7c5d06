//! A job as it might be otherwise: several cases of it, each answered as a plan of that case is. What two cases have in common is planned once.

use ellwand_garment::{Job, Pattern};

use crate::{
    JobPlan, Options, PlanError, Progress,
    cloth::Cloth,
    error::sound,
    job::{check_job, roles},
    matching_cost::{Prices, Weighing},
    pace::Shares,
    remnants::{self, OfRole},
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
pub fn plan_cases(
    cases: &[Case<'_>],
    chosen: &[String],
    options: &Options,
    progress: &dyn Progress,
) -> Result<Vec<CaseAnswer>, PlanError> {
    let desk = Desk::new(options, progress);
    let asked: Vec<Result<Vec<String>, Vec<PlanError>>> = cases.iter().map(|case| asked_of(case, chosen)).collect();
    let mut to_plan: Vec<Cloth<'_>> = Vec::new();
    for (case, roles) in cases.iter().zip(&asked) {
        for role in roles.iter().flatten() {
            let cloth = Cloth { job: case.job, pattern: case.pattern, role };
            if !to_plan.iter().any(|known| known.is_asked_as(&cloth)) {
                to_plan.push(cloth);
            }
        }
    }
    let mut answers: Vec<Result<OfRole, PlanError>> = Vec::with_capacity(to_plan.len());
    for (index, &cloth) in to_plan.iter().enumerate() {
        let shares = |cloth: &Cloth<'_>| Weighing::shares(cloth, Prices::Untold);
        let after = to_plan[index + 1..].iter().fold(Shares::NONE, |all, cloth| all.and(shares(cloth)));
        match remnants::answer(&Weighing { cloth, desk: &desk, after }, Prices::Untold, None) {
            Err(fault) if !fault.is_of_the_question() => return Err(fault),
            answer => answers.push(answer),
        }
    }
    let answer_of = |case: &Case<'_>, role: &String| {
        let cloth = Cloth { job: case.job, pattern: case.pattern, role };
        let place = to_plan.iter().position(|known| known.is_asked_as(&cloth));
        place.map(|place| answers[place].clone())
    };
    let of_case = |(case, roles): (&Case<'_>, &Result<Vec<String>, Vec<PlanError>>)| -> CaseAnswer {
        let answers = roles.as_ref().map_err(Clone::clone)?.iter().filter_map(|role| answer_of(case, role));
        let (cloths, faults): (Vec<_>, Vec<_>) = answers.partition(Result::is_ok);
        match faults.into_iter().filter_map(Result::err).collect::<Vec<_>>() {
            faults if faults.is_empty() => {
                Ok(JobPlan::of(case.job, case.pattern, cloths.into_iter().flatten().collect()))
            }
            faults => Err(faults),
        }
    };
    Ok(cases.iter().zip(&asked).map(of_case).collect())
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
