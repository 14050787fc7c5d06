//! What is on hand of a cloth, piece by piece: whether everything that is cut from it fits a remnant.
//!
//! A remnant is a strip whose surroundings are obstacles, searched until the layout is no longer than it ([`verdict`]). Where one takes everything,
//! nothing is bought.
//!
//! | file | says |
//! | --- | --- |
//! | [`proof`] | why something can fit in no way |
//! | [`verdict`] | whether it fits, as far as a search tells |

mod proof;
mod verdict;

use ellwand_garment::{Fabric, Job, Layers, Layout, Pattern, Remnant};

pub use proof::WhyNot;
pub use verdict::Verdict;

use crate::{
    ClothPlan, LayPlan, Options, PlanError, Progress,
    cloth::Cloth,
    error::sound,
    matching_cost::{Prices, Weighing},
    pace::Shares,
    search::Desk,
};

/// What the remnants of one cloth are good for.
#[derive(Debug, Clone, PartialEq)]
pub struct Stash {
    /// The role of the cloth.
    pub role: String,
    /// Each remnant, in the order of the job.
    pub remnants: Vec<RemnantPlan>,
    /// What would be bought if none of them were there.
    pub all_bought: ClothPlan,
}

/// What one remnant is good for.
#[derive(Debug, Clone, PartialEq)]
pub struct RemnantPlan {
    /// The cloth where it lies as the remnant.
    pub fabric: Fabric,
    /// Whether everything of the role can be cut from it.
    pub verdict: Verdict,
}

impl RemnantPlan {
    /// The remnant.
    ///
    /// # Panics
    ///
    /// When its cloth is no remnant; those of a plan are.
    pub fn remnant(&self) -> &Remnant {
        self.fabric.cloth.remnant.as_ref().expect("the cloth of a remnant's plan is that remnant")
    }

    /// The layout of everything on it, where that fits.
    pub fn layout(&self) -> Option<&LayPlan> {
        match &self.verdict {
            Verdict::Fits(plan) => Some(plan),
            Verdict::CannotFit(_) | Verdict::NotFound { .. } => None,
        }
    }
}

/// What one remnant is good for: whether everything that the view cuts from `role` fits it. Checked layouts `known` of the same pieces that serve as they
/// are make the search short.
///
/// # Errors
///
/// As [`plan_cloth`](crate::plan_cloth).
pub fn plan_remnant(
    job: &Job,
    pattern: &Pattern,
    role: &str,
    remnant: &Remnant,
    known: &[Layout],
    options: &Options,
    progress: &dyn Progress,
) -> Result<RemnantPlan, PlanError> {
    sound(pattern, job)?;
    let desk = Desk::new(options, progress);
    let cloth = Cloth { job, pattern, role };
    let fabric = cloth.question(Layers::Open)?.fabric.on_remnant(remnant);
    let verdict = verdict::of(cloth, &fabric, known, &desk)?;
    Ok(RemnantPlan { fabric, verdict })
}

/// The answer for one role: the pieces of cloth that it is cut from, and what its remnants are good for, where there are some.
#[derive(Debug, Clone)]
pub(crate) struct OfRole {
    pub(crate) cloths: Vec<ClothPlan>,
    pub(crate) stash: Option<Stash>,
}

/// Answers for a cloth and its remnants. Of several that take everything the smallest is taken, so that the larger stay for another time.
///
/// # Errors
///
/// As [`plan_cloth`](crate::plan_cloth).
pub(crate) fn answer(weighing: &Weighing, prices: Prices, look: Option<ClothPlan>) -> Result<OfRole, PlanError> {
    let bought = weighing.answer(prices)?.or_if_stopped(look);
    let cloth = weighing.cloth;
    let remnants = cloth.job.fabric(cloth.role).map_or(&[][..], |fabric| &fabric.remnants);
    if remnants.is_empty() {
        return Ok(OfRole { cloths: vec![bought], stash: None });
    }
    weighing.desk.pace.expect(Shares::WHOLE.times(remnants.len()).and(weighing.after));
    let known: Vec<_> = bought.layouts().cloned().collect();
    let mut plans = Vec::with_capacity(remnants.len());
    for remnant in remnants {
        let fabric = bought.fabric.on_remnant(remnant);
        let verdict = verdict::of(cloth, &fabric, &known, weighing.desk)?;
        plans.push(RemnantPlan { fabric, verdict });
    }
    let area = |plan: &&RemnantPlan| plan.remnant().outline.area();
    let taken = plans.iter().filter(|plan| plan.layout().is_some()).min_by(|a, b| area(a).total_cmp(&area(b)));
    let cut_from = match taken.and_then(|plan| Some((plan.fabric.clone(), plan.layout()?.clone()))) {
        Some((fabric, plan)) => ClothPlan {
            fabric,
            plan,
            other: None,
            matching: None,
            alone: bought.alone.clone(),
            // One after the other they were laid on the cloth that is bought.
            one_after_the_other: None,
        },
        None => bought.clone(),
    };
    let stash = Stash { role: cloth.role.to_owned(), remnants: plans, all_bought: bought };
    Ok(OfRole { cloths: vec![cut_from], stash: Some(stash) })
}
