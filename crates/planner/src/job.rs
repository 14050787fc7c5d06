//! Every cloth of a job, and what it costs together.

use ellwand_garment::{Fabric, Job, Pattern};
use ellwand_nest::{Budget, Regions};
use rust_decimal::Decimal;

use crate::{
    ClothPlan, Lay, OnHand, Options, PlanError, Progress, check_lay,
    cloth::{plan_ways, ways},
    matching_cost::{PRICE_SHARE, Weighing},
};

/// The answer for a job: one layout a cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct JobPlan {
    /// One entry a cloth planned, in the order of the view.
    pub cloths: Vec<ClothPlan>,
}

impl JobPlan {
    /// What the cloths that must be bought cost together: those of which enough is on hand are left out. `None` when one that
    /// must be bought has no price.
    pub fn total(&self) -> Option<Decimal> {
        let to_buy = self.cloths.iter().filter(|cloth| !matches!(cloth.on_hand(), Some(OnHand::Enough { .. })));
        to_buy.map(|cloth| cloth.layout().purchase.cost).sum()
    }
}

/// Which cloths of a job are meant: those of `chosen`, or every one the view uses when `chosen` is empty.
///
/// # Errors
///
/// One fault for each chosen role that the view cuts nothing from; [`PlanError::NoSuchView`].
pub fn roles(job: &Job, pattern: &Pattern, chosen: &[String]) -> Result<Vec<String>, Vec<PlanError>> {
    let Some(view) = pattern.view(&job.view) else {
        return Err(vec![PlanError::NoSuchView { view: job.view.clone() }]);
    };
    let used = pattern.roles(view);
    if chosen.is_empty() {
        return Ok(used.into_iter().map(str::to_owned).collect());
    }
    let unused = chosen.iter().filter(|role| !used.contains(&role.as_str()));
    let faults: Vec<PlanError> =
        unused.map(|role| PlanError::NothingToCut { view: view.name.clone(), role: role.clone() }).collect();
    if faults.is_empty() {
        Ok(used.into_iter().map(str::to_owned).filter(|role| chosen.contains(role)).collect())
    } else {
        Err(faults)
    }
}

/// Every fault of the job's cloths that needs no search to be seen, such as a piece wider than its cloth. Empty when each of
/// `roles` can be planned in one of the ways its fabric allows.
pub fn check_job(job: &Job, pattern: &Pattern, roles: &[String]) -> Vec<PlanError> {
    let faults_of = |role: &String| -> Option<PlanError> {
        let fabric = match job.fabric(role) {
            Some(fabric) => fabric,
            None => return Some(PlanError::NoSuchRole { role: role.clone() }),
        };
        let mut last = None;
        for &layers in ways(fabric.layer) {
            match Lay::of(job, pattern, role, layers).and_then(|lay| check_lay(&lay)) {
                Ok(()) => return None,
                Err(fault) => last = Some(fault),
            }
        }
        last
    };
    roles.iter().filter_map(faults_of).collect()
}

/// Plans the cloths of `roles` one after the other.
///
/// # Errors
///
/// Every fault of [`check_job`], before any search; after that the first fault of a search.
pub fn plan_job(
    job: &Job,
    pattern: &Pattern,
    roles: &[String],
    options: &Options,
    progress: &dyn Progress,
) -> Result<JobPlan, Vec<PlanError>> {
    let faults = check_job(job, pattern, roles);
    if !faults.is_empty() {
        return Err(faults);
    }
    let options = shared(options, searches(job, roles));
    // What is cut from one cloth is often cut from another too: an interfaced collar.
    let regions = Regions::default();
    let cloth = |role: &String| {
        let plan = plan_ways(job, pattern, role, &[], &options, progress, &regions)?;
        if plan.fabric.matching.matches.is_empty() {
            return Ok(plan);
        }
        let weighing = Weighing { pattern, role, options: &options, progress, regions: &regions };
        let (job, mut plan, given_up) = weighing.settle_wishes(job, plan)?;
        plan.matching = Some(weighing.cost(&job, &plan, given_up)?);
        Ok(plan)
    };
    Ok(JobPlan { cloths: roles.iter().map(cloth).collect::<Result<_, _>>().map_err(|fault| vec![fault])? })
}

/// How many searches the cloths of `roles` take when the budget is a time: for matched cloth also one with nothing matched, and the
/// prices.
pub(crate) fn searches(job: &Job, roles: &[String]) -> usize {
    let of_cloth = |fabric: &Fabric| {
        let prices = fabric.matching.matches.len().div_ceil(PRICE_SHARE as usize);
        let questions = if prices == 0 { 1 } else { 2 + prices };
        ways(fabric.layer).len() * questions
    };
    roles.iter().filter_map(|role| job.fabric(role)).map(of_cloth).sum()
}

/// The budget of one of `searches` searches: a time is divided evenly, work is a search's own.
pub(crate) fn shared(options: &Options, searches: usize) -> Options {
    let searches = u32::try_from(searches.max(1)).unwrap_or(u32::MAX);
    match options.budget {
        Budget::Time(time) => Options { budget: Budget::Time(time / searches), ..options.clone() },
        Budget::Effort(_) | Budget::Work(_) => options.clone(),
    }
}
