//! What is on hand of a cloth, piece by piece: whether everything that is cut from it fits a remnant.
//!
//! A remnant is a strip whose surroundings are obstacles, searched until the layout is no longer than it ([`verdict`]). Where one takes everything,
//! nothing is bought; where none does, what has room is cut from remnants if less is bought then ([`spread`]).
//!
//! | file | says |
//! | --- | --- |
//! | [`proof`] | why something can fit in no way |
//! | [`verdict`] | whether it fits, as far as a search tells |
//! | [`joined`] | several remnants and the cloth of the shop as one length of cloth |
//! | [`spread`] | what is cut from which of them |

mod joined;
mod proof;
mod spread;
mod verdict;

use ellwand_garment::{Fabric, Job, Layout, Pattern, Remnant, Way};

pub use proof::{Extent, WhyNot};
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
    let fabric = cloth.question(Way::Open)?.fabric.on_remnant(remnant);
    let verdict = verdict::of(cloth, &fabric, known, &desk)?;
    Ok(RemnantPlan { fabric, verdict })
}

/// The answer for one role: the pieces of cloth that it is cut from, and what its remnants are good for, where there are some.
#[derive(Debug, Clone)]
pub(crate) struct OfRole {
    pub(crate) cloths: Vec<ClothPlan>,
    pub(crate) stash: Option<Stash>,
}

/// What the searches of the remnants of a cloth come to.
pub(crate) fn shares(fabric: &Fabric) -> Shares {
    Shares::WHOLE.times(fabric.remnants.len()).and(spread::shares(fabric))
}

/// What roles before took of a stash: two roles may be cut from one cloth, and no remnant of it is cut twice.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Taken {
    /// Cloth and name of each.
    remnants: Vec<(String, String)>,
}

impl Taken {
    /// Takes what an answer is cut from.
    pub(crate) fn take(&mut self, answer: &OfRole) {
        let named = |plan: &ClothPlan| {
            let cloth = &plan.fabric.cloth;
            Some((cloth.name.clone(), cloth.remnant.as_ref()?.name.clone()))
        };
        self.remnants.extend(answer.cloths.iter().filter_map(named));
    }

    /// The remnants that are left for a cloth.
    pub(crate) fn leaves(&self, cloth: &Cloth<'_>) -> Vec<Remnant> {
        let Some(fabric) = cloth.job.fabric(cloth.role) else { return Vec::new() };
        let is_taken = |remnant: &Remnant| {
            self.remnants.iter().any(|(cloth, name)| *cloth == fabric.cloth.name && *name == remnant.name)
        };
        fabric.remnants.iter().filter(|remnant| !is_taken(remnant)).cloned().collect()
    }
}

/// Answers for a cloth and its remnants, of which those `taken` are spoken for. Of several that take everything the smallest is taken, so that the larger stay for another time; where none
/// does, what has room is cut from as few of them as save the same.
///
/// # Errors
///
/// As [`plan_cloth`](crate::plan_cloth).
pub(crate) fn answer(
    weighing: &Weighing,
    prices: Prices,
    look: Option<ClothPlan>,
    taken: &Taken,
) -> Result<OfRole, PlanError> {
    let bought = weighing.answer(prices)?.or_if_stopped(look);
    let cloth = weighing.cloth;
    let remnants = taken.leaves(&cloth);
    if remnants.is_empty() {
        return Ok(OfRole { cloths: vec![bought], stash: None });
    }
    weighing.desk.pace.expect(shares(&bought.fabric).and(weighing.after));
    let known: Vec<_> = bought.layouts().cloned().collect();
    let mut plans = Vec::with_capacity(remnants.len());
    for remnant in &remnants {
        let fabric = bought.fabric.on_remnant(remnant);
        let verdict = verdict::of(cloth, &fabric, &known, weighing.desk)?;
        plans.push(RemnantPlan { fabric, verdict });
    }
    let area = |plan: &&RemnantPlan| plan.remnant().outline.area();
    let taken = plans.iter().filter(|plan| plan.layout().is_some()).min_by(|a, b| area(a).total_cmp(&area(b)));
    let cloths = match taken.and_then(|plan| Some((plan.fabric.clone(), plan.layout()?.clone()))) {
        Some((fabric, plan)) => {
            weighing.desk.pace.skip(spread::shares(&bought.fabric));
            // One after the other the garments were laid on the cloth that is bought.
            let (alone, one_after_the_other) = (bought.alone.clone(), None);
            vec![ClothPlan { fabric, plan, others: Vec::new(), matching: None, alone, one_after_the_other }]
        }
        None => spread::spread(weighing, &bought, &plans)?.unwrap_or_else(|| vec![bought.clone()]),
    };
    let stash = Stash { role: cloth.role.to_owned(), remnants: plans, all_bought: bought };
    Ok(OfRole { cloths, stash: Some(stash) })
}
