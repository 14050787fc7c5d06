//! What matching costs: the same pieces with nothing to match, with each match dropped, and wishes given up when they are too dear.
//!
//! A layout with a match kept is an answer without it, so no price is below zero. Prices are searched with a small part of
//! the effort and start from the matched layout: a match may cost more than is said, hardly less.

use ellwand_garment::{Job, LayerChoice, Layers, Layout, Match, MatchLimit, Need, Pattern};
use ellwand_nest::{Budget, Effort, Regions};
use rust_decimal::Decimal;

use crate::{ClothPlan, Options, PlanError, Progress, cloth::plan_ways};

/// Of a budget in work or time, the share that one price takes.
pub(crate) const PRICE_SHARE: u32 = 12;

/// Positions evaluated for one price when the effort is quick already.
const QUICK_PRICE: u64 = 60_000;

/// What the matches of a cloth cost.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchingCost {
    /// The shortest layout found when nothing had to match.
    pub unmatched: Layout,
    /// Each match that is kept, the most important first.
    pub prices: Vec<MatchPrice>,
    /// Wishes that were given up, with what they would have cost.
    pub given_up: Vec<MatchPrice>,
}

/// What one match costs.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchPrice {
    /// Its name.
    pub name: String,
    /// Whether it may be given up.
    pub need: Need,
    /// Length of layout that dropping it saves, mm.
    pub length: f64,
    /// Length to buy that dropping it saves, mm.
    pub buy: f64,
    /// Money that dropping it saves, where the cloth has a price.
    pub cost: Option<Decimal>,
}

impl MatchPrice {
    /// What `with` takes more than `without`.
    fn of(wanted: &Match, with: &Layout, without: &Layout) -> Self {
        let money = with.purchase.cost.zip(without.purchase.cost).map(|(with, without)| with - without);
        Self {
            name: wanted.name.clone(),
            need: wanted.need,
            length: with.length - without.length,
            buy: with.purchase.buy - without.purchase.buy,
            cost: money,
        }
    }

    /// Whether it is more than the maker would pay.
    fn exceeds(&self, limit: MatchLimit) -> bool {
        match limit {
            MatchLimit::Length(most) => self.buy > most,
            MatchLimit::Money(most) => self.cost.is_some_and(|cost| cost > most),
        }
    }
}

/// One question about a cloth, with what all its searches share.
pub(crate) struct Weighing<'a> {
    pub(crate) pattern: &'a Pattern,
    pub(crate) role: &'a str,
    pub(crate) options: &'a Options,
    pub(crate) progress: &'a dyn Progress,
    pub(crate) regions: &'a Regions,
}

impl Weighing<'_> {
    /// Gives up the wishes of `job` that cost more than its limit, the least important first. What is left is planned with the full
    /// effort and told together with the wishes given up.
    ///
    /// # Errors
    ///
    /// As [`plan_cloth`](crate::plan_cloth).
    pub(crate) fn settle_wishes(
        &self,
        job: &Job,
        plan: ClothPlan,
    ) -> Result<(Job, ClothPlan, Vec<MatchPrice>), PlanError> {
        let (mut job, mut plan, mut given_up) = (job.clone(), plan, Vec::new());
        let Some(limit) = plan.fabric.matching.limit else { return Ok((job, plan, given_up)) };
        let wishes = plan.fabric.matching.matches.iter().filter(|wanted| wanted.need == Need::Wished);
        let wishes: Vec<Match> = wishes.rev().cloned().collect();
        for wish in wishes {
            let fewer = without(&job, self.role, &wish.name);
            let cheaper = self.short_plan(&fewer, &plan)?;
            let price = MatchPrice::of(&wish, plan.layout(), cheaper.layout());
            if price.exceeds(limit) {
                (job, plan) = (fewer, cheaper);
                given_up.insert(0, price);
            }
        }
        if !given_up.is_empty() {
            plan = self.plan(&job, &plan, self.options)?;
        }
        Ok((job, plan, given_up))
    }

    /// The price of every match of `job`, of which `plan` is the answer.
    ///
    /// # Errors
    ///
    /// As [`plan_cloth`](crate::plan_cloth).
    pub(crate) fn cost(
        &self,
        job: &Job,
        plan: &ClothPlan,
        given_up: Vec<MatchPrice>,
    ) -> Result<MatchingCost, PlanError> {
        let matches = &plan.fabric.matching.matches;
        let mut prices = Vec::with_capacity(matches.len());
        let mut cheapest = plan.clone();
        for wanted in matches {
            let cheaper = self.short_plan(&without(job, self.role, &wanted.name), plan)?;
            prices.push(MatchPrice::of(wanted, plan.layout(), cheaper.layout()));
            if cheaper.layout().length < cheapest.layout().length {
                cheapest = cheaper;
            }
        }
        let mut unmatched = job.clone();
        for fabric in unmatched.fabrics.iter_mut().filter(|fabric| fabric.role == self.role) {
            fabric.matching.matches.clear();
        }
        let unmatched = self.plan(&unmatched, &cheapest, self.options)?.plan.layout;
        Ok(MatchingCost { unmatched, prices, given_up })
    }

    /// A short search that starts from `known` and lays the cloth as that does.
    fn short_plan(&self, job: &Job, known: &ClothPlan) -> Result<ClothPlan, PlanError> {
        let mut job = job.clone();
        for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == self.role) {
            fabric.layer = match known.layout().layers {
                Layers::Open => LayerChoice::Open,
                Layers::CentreFold => LayerChoice::Fold,
            };
        }
        let budget = match self.options.budget {
            Budget::Effort(Effort::Quick) => Budget::Work(QUICK_PRICE),
            Budget::Effort(Effort::Normal) => Budget::Effort(Effort::Quick),
            Budget::Effort(Effort::Thorough) => Budget::Effort(Effort::Normal),
            Budget::Work(work) => Budget::Work(work / u64::from(PRICE_SHARE)),
            Budget::Time(time) => Budget::Time(time / PRICE_SHARE),
        };
        self.plan(&job, known, &Options { budget, ..self.options.clone() })
    }

    fn plan(&self, job: &Job, known: &ClothPlan, options: &Options) -> Result<ClothPlan, PlanError> {
        let known: Vec<Layout> = known.layouts().cloned().collect();
        plan_ways(job, self.pattern, self.role, &known, options, self.progress, self.regions)
    }
}

/// `job` without one match of a cloth.
fn without(job: &Job, role: &str, name: &str) -> Job {
    let mut job = job.clone();
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == role) {
        fabric.matching.matches.retain(|wanted| wanted.name != name);
    }
    job
}
