//! The same cloth of a job on several widths, each answered just as a plan of the job on that width is.

use ellwand_garment::{Job, Pattern, Price, is_same_width};

use crate::{
    ClothPlan, Options, PlanError, Progress,
    cloth::Cloth,
    error::sound,
    matching_cost::{Prices, Weighing},
    pace::Shares,
    prepare::Prepared,
    search::Desk,
    stricter::retold,
};

/// A difference in length that is worth telling, mm.
const LONGER: f64 = 0.5;

/// Cloth as a shop offers it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offer {
    /// Full width as bought, mm.
    pub width: f64,
    /// What it costs in this width; as the job says where nothing is said.
    pub price: Option<Price>,
}

impl Offer {
    /// Of this width, at the price of the job.
    pub fn of_width(width: f64) -> Self {
        Self { width, price: None }
    }
}

/// One width of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct WidthPlan {
    /// Full width as bought, mm.
    pub width: f64,
    /// The answer, or why the cloth of this width will not do.
    pub answer: Result<ClothPlan, PlanError>,
    /// A narrower width whose layout is shorter and serves here too, the rest of the width left over. Searches are not perfect, and a
    /// plan of this width does not know the narrower one.
    pub shorter_on: Option<f64>,
}

/// Plans the cloths of `roles` on each of `widths` (full width as bought, mm), each role's answers narrow to wide. Everything else about
/// the cloth stays as the job says. See [`compare_offers`].
///
/// # Errors
///
/// As of [`compare_offers`].
pub fn compare_widths(
    job: &Job,
    pattern: &Pattern,
    roles: &[String],
    widths: &[f64],
    options: &Options,
    progress: &dyn Progress,
) -> Result<Vec<Vec<WidthPlan>>, PlanError> {
    let offers: Vec<Offer> = widths.iter().map(|&width| Offer::of_width(width)).collect();
    compare_offers(job, pattern, roles, &offers, options, progress)
}

/// Plans the cloths of `roles` on each of `offers`, each role's answers narrow to wide. Everything else about the cloth stays as the job says.
///
/// Each answer is the one that [`plan_job`](crate::plan_job) gives for that width with the same options, whatever other widths are asked
/// about. (Of a budget that is a time each gets its share.)
///
/// # Errors
///
/// A fault of the program, or of the job whatever the width. A width that is too narrow is an entry with its reason.
pub fn compare_offers(
    job: &Job,
    pattern: &Pattern,
    roles: &[String],
    offers: &[Offer],
    options: &Options,
    progress: &dyn Progress,
) -> Result<Vec<Vec<WidthPlan>>, PlanError> {
    compare_as_cut(job, (pattern, &|_, _| None), roles, offers, options, progress)
}

/// The pattern of a job as it is cut from the cloth of a role in a width as bought, mm, where that is not as from the cloth of the job: a strip is joined
/// from more pieces on narrower cloth.
pub type AsCut<'p> = dyn Fn(&str, f64) -> Option<&'p Pattern> + 'p;

/// As [`compare_offers`], of a pattern some of whose pieces are cut otherwise in other widths.
///
/// # Errors
///
/// As of [`compare_offers`].
pub fn compare_as_cut<'p>(
    job: &Job,
    (as_is, as_cut): (&'p Pattern, &AsCut<'p>),
    roles: &[String],
    offers: &[Offer],
    options: &Options,
    progress: &dyn Progress,
) -> Result<Vec<Vec<WidthPlan>>, PlanError> {
    sound(as_is, job)?;
    let mut offers = offers.to_vec();
    offers.sort_by(|a, b| a.width.total_cmp(&b.width));
    offers.dedup();
    let desk = Desk::new(options, progress);
    let shares = |role: &str| Weighing::shares(&Cloth { job, pattern: as_is, role }, Prices::Untold);
    let mut compared = Vec::with_capacity(roles.len());
    for (index, role) in roles.iter().enumerate() {
        let later = roles[index + 1..].iter().fold(Shares::NONE, |all, role| all.and(shares(role).times(offers.len())));
        let mut plans = Vec::with_capacity(offers.len());
        for (k, &offer) in offers.iter().enumerate() {
            let (width, job) = (offer.width, offered(job, role, offer));
            let pattern = as_cut(role, width).unwrap_or(as_is);
            let after = later.and(shares(role).times(offers.len() - k - 1));
            let weighing = Weighing { cloth: Cloth { job: &job, pattern, role }, desk: &desk, after };
            let answer = match sound(pattern, &job).and_then(|()| weighing.answer(Prices::Untold)) {
                Err(fault) if !is_of_the_width(&fault) => return Err(fault),
                answer => answer,
            };
            let shorter_on = shorter_on(&job, pattern, role, &answer, &plans);
            plans.push(WidthPlan { width, answer, shorter_on });
        }
        compared.push(plans);
    }
    Ok(compared)
}

/// The width among `narrower` with the shortest layout that is shorter than `answer` and can be cut from this cloth too.
fn shorter_on(
    job: &Job,
    pattern: &Pattern,
    role: &str,
    answer: &Result<ClothPlan, PlanError>,
    narrower: &[WidthPlan],
) -> Option<f64> {
    let found = answer.as_ref().ok()?.layout().length;
    let serves = |plan: &&WidthPlan| {
        let Ok(other) = &plan.answer else { return false };
        let layout = other.layout();
        let question = Cloth { job, pattern, role }.question(layout.way);
        layout.length < found - LONGER
            && question.is_ok_and(|q| Prepared::of(&q).is_ok_and(|prepared| retold(layout, &prepared).is_some()))
    };
    let length = |plan: &&WidthPlan| plan.answer.as_ref().map_or(f64::INFINITY, |plan| plan.layout().length);
    let shortest = narrower.iter().filter(serves).min_by(|a, b| length(a).total_cmp(&length(b)));
    shortest.map(|plan| plan.width)
}

/// Whether cloth of another width might do.
fn is_of_the_width(fault: &PlanError) -> bool {
    matches!(
        fault,
        PlanError::TooNarrow(_)
            | PlanError::NoPlaceOnDesign { .. }
            | PlanError::NoCommonPhase { .. }
            | PlanError::FoldOffPhase { .. }
            | PlanError::BorderOffFold { .. }
            | PlanError::Input(_)
    )
}

/// `job` with the cloth of `role` bought as `offer` says.
fn offered(job: &Job, role: &str, offer: Offer) -> Job {
    let mut job = on_width(job, role, offer.width);
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == role) {
        fabric.price = offer.price.or(fabric.price);
    }
    job
}

/// `job` with the cloth of `role` bought `width` mm wide. Cloth of another width is another cloth: it is not at home, and has none of the flaws and creases.
pub fn on_width(job: &Job, role: &str, width: f64) -> Job {
    let mut job = job.clone();
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == role) {
        let washed = width * (1.0 - fabric.shrinkage.across);
        if !is_same_width(washed, fabric.cloth.width) {
            fabric.cloth.flaws.clear();
            fabric.cloth.on_hand = None;
        }
        fabric.cloth.width = washed;
    }
    job
}

#[cfg(test)]
mod tests;
