//! What matching costs: the same pieces with nothing to match, with each match dropped, and wishes given up when they are too dear.
//!
//! A layout with a match kept is an answer without it, so no price is below zero. Prices are searched with a small part of
//! the effort and start from the matched layout: a match may cost more than is said, hardly less.

use ellwand_garment::{Job, Layout, Match, MatchLimit, Money, Need, WayChoice};

use crate::{
    ClothPlan, PlanError,
    cloth::{Cloth, choice_for, plan_ways},
    other_ways::shares,
    pace::{Purpose, Shares},
    remnants,
    search::Desk,
    together,
};

/// How far above its limit a price in steps of the shop may be, in steps: rounding of the limit alone.
const STEP_TOLERANCE: f64 = 1e-6;

/// What the matches of a cloth cost.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchingCost {
    /// The shortest layout found when nothing had to match.
    pub unmatched: Layout,
    /// Each match that is kept, the most important first.
    pub prices: Vec<MatchPrice>,
    /// Wishes that were given up, with what they would have cost.
    pub given_up: Vec<MatchPrice>,
    /// The shortest layout found without each of `prices`, in their order.
    pub cheaper: Vec<Layout>,
}

/// What one match costs.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchPrice {
    /// Its name.
    pub name: String,
    /// Whether it may be given up.
    pub need: Need,
    /// Length of washed cloth that dropping it saves, mm, what lies before the line of the design at which a layout begins included.
    pub length: f64,
    /// Whole steps of the shop that dropping it saves.
    pub steps: i64,
    /// The same as a length to buy, mm.
    pub buy: f64,
    /// Money that dropping it saves, where the cloth has a price.
    pub cost: Option<Money>,
}

impl MatchPrice {
    /// What `with` takes more than `without`, of cloth that the shop cuts by `step` mm; nothing where it takes less. A match that stands on the
    /// design lets others point either way, so the layout without it may be the longer one; what is cut with the match serves without it.
    pub(crate) fn of(wanted: &Match, with: &Layout, without: &Layout, step: f64) -> Self {
        let without = if without.purchase.taken() < with.purchase.taken() { without } else { with };
        let money = with.purchase.cost.as_ref().zip(without.purchase.cost.as_ref());
        let steps = with.purchase.steps as i64 - without.purchase.steps as i64;
        Self {
            name: wanted.name.clone(),
            need: wanted.need,
            length: with.purchase.taken() - without.purchase.taken(),
            steps,
            buy: steps as f64 * step,
            cost: money.map(|(with, without)| Money::new(with.amount - without.amount, with.currency.clone())),
        }
    }

    /// Whether it is more than the maker would pay. Whole steps are compared: a match that costs just what it may is kept.
    fn exceeds(&self, limit: MatchLimit, step: f64) -> bool {
        match limit {
            MatchLimit::Length(most) => self.steps as f64 > most / step + STEP_TOLERANCE,
            MatchLimit::Money(most) => self.cost.as_ref().is_some_and(|cost| cost.amount > most),
        }
    }
}

/// How a cloth on which something is matched is answered.
pub(crate) struct Weighing<'a> {
    pub(crate) cloth: Cloth<'a>,
    pub(crate) desk: &'a Desk<'a>,
    /// What is still to come in the command after this cloth.
    pub(crate) after: Shares,
}

impl Weighing<'_> {
    /// What the searches of a cloth come to, its wishes and prices included.
    pub(crate) fn shares(cloth: &Cloth<'_>, prices: Prices) -> Shares {
        together::shares(cloth).and(Self::own_shares(cloth, prices))
    }

    /// The same without each garment alone, where there are several.
    fn own_shares(cloth: &Cloth<'_>, prices: Prices) -> Shares {
        let Some(fabric) = cloth.job.fabric(cloth.role) else { return Shares::NONE };
        let whole = shares(choice_for(fabric.ways, cloth.pattern));
        let on_remnants = remnants::shares(fabric);
        let wished = fabric.matching.matches.iter().filter(|wanted| wanted.need == Need::Wished).count();
        let wishes = if fabric.matching.limit.is_none() || wished == 0 {
            Shares::NONE
        } else {
            Shares::PRICE.times(wished).and(whole)
        };
        whole.and(on_remnants).and(wishes).and(match prices {
            Prices::Told if !fabric.matching.matches.is_empty() => {
                Shares::PRICE.times(fabric.matching.matches.len()).and(whole)
            }
            Prices::Told | Prices::Untold => Shares::NONE,
        })
    }

    /// The answer for the cloth: planned, wishes that cost more than their limit given up, and, if asked for, what each match costs.
    ///
    /// # Errors
    ///
    /// As [`plan_cloth`](crate::plan_cloth).
    pub(crate) fn answer(&self, prices: Prices) -> Result<ClothPlan, PlanError> {
        let own = Self::own_shares(&self.cloth, prices);
        let alone = together::each_alone(self, own)?;
        self.desk.pace.expect(own.and(self.after));
        let rows = together::in_a_row(&self.cloth, &alone);
        let plan = plan_ways(self.cloth, &rows, Purpose::Layout, self.desk)?;
        let plan = together::held_against(&rows, &self.cloth, plan)?;
        if plan.fabric.matching.matches.is_empty() {
            return Ok(ClothPlan { alone, ..plan });
        }
        let (job, mut plan, given_up) = self.settle_wishes(plan, prices)?;
        if !given_up.is_empty() {
            plan = together::held_against(&rows, &Cloth { job: &job, ..self.cloth }, plan)?;
        }
        if prices == Prices::Told {
            plan.matching = Some(self.cost(&job, &plan, given_up)?);
        }
        Ok(ClothPlan { alone, ..plan })
    }

    /// What the prices of every match of `job` come to, and all after this cloth.
    fn to_come(&self, job: &Job, prices: Prices) -> Shares {
        let Some(fabric) = job.fabric(self.cloth.role) else { return self.after };
        let after = remnants::shares(fabric).and(self.after);
        match prices {
            Prices::Told => Shares::PRICE
                .times(fabric.matching.matches.len())
                .and(shares(choice_for(fabric.ways, self.cloth.pattern)))
                .and(after),
            Prices::Untold => after,
        }
    }

    /// Gives up the wishes that cost more than their limit, the least important first. What is left is planned with the full effort
    /// and told together with the wishes given up.
    fn settle_wishes(&self, plan: ClothPlan, prices: Prices) -> Result<(Job, ClothPlan, Vec<MatchPrice>), PlanError> {
        let (mut job, mut plan, mut given_up) = (self.cloth.job.clone(), plan, Vec::new());
        let Some(limit) = plan.fabric.matching.limit else { return Ok((job, plan, given_up)) };
        let step = plan.fabric.sold_by;
        let wishes = plan.fabric.matching.matches.iter().filter(|wanted| wanted.need == Need::Wished);
        let wishes: Vec<Match> = wishes.rev().cloned().collect();
        for wish in wishes {
            let mut fewer = without(&job, self.cloth.role, &wish.name);
            for fabric in fewer.fabrics.iter_mut().filter(|fabric| fabric.role == self.cloth.role) {
                fabric.matching.given_up.insert(0, wish.name.clone());
            }
            let cheaper = self.price_plan(&fewer, &plan)?;
            let price = MatchPrice::of(&wish, plan.layout(), cheaper.layout(), step);
            if price.exceeds(limit, step) {
                (job, plan) = (fewer, cheaper);
                given_up.insert(0, price);
            }
        }
        let whole = Shares::WHOLE.times(if given_up.is_empty() { 0 } else { plan.fabric.ways.ways().len() });
        self.desk.pace.expect(whole.and(self.to_come(&job, prices)));
        if !given_up.is_empty() {
            plan = self.whole_plan(&job, &plan)?;
        }
        Ok((job, plan, given_up))
    }

    /// The price of every match of `job`, of which `plan` is the answer.
    fn cost(&self, job: &Job, plan: &ClothPlan, given_up: Vec<MatchPrice>) -> Result<MatchingCost, PlanError> {
        self.desk.pace.expect(self.to_come(job, Prices::Told));
        let matches = &plan.fabric.matching.matches;
        let mut prices = Vec::with_capacity(matches.len());
        let mut without_each = Vec::with_capacity(matches.len());
        let mut cheapest = plan.clone();
        for wanted in matches {
            let cheaper = self.price_plan(&without(job, self.cloth.role, &wanted.name), plan)?;
            prices.push(MatchPrice::of(wanted, plan.layout(), cheaper.layout(), plan.fabric.sold_by));
            without_each.push(cheaper.layout().clone());
            if cheaper.layout().length < cheapest.layout().length {
                cheapest = cheaper;
            }
        }
        let mut unmatched = job.clone();
        for fabric in unmatched.fabrics.iter_mut().filter(|fabric| fabric.role == self.cloth.role) {
            fabric.matching.matches.clear();
        }
        let unmatched = self.whole_plan(&unmatched, &cheapest)?.shortest().clone();
        Ok(MatchingCost { unmatched, prices, given_up, cheaper: without_each })
    }

    /// A short search that starts from `known` and lays the cloth as that does.
    fn price_plan(&self, job: &Job, known: &ClothPlan) -> Result<ClothPlan, PlanError> {
        let mut job = job.clone();
        let mut layer = None;
        for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == self.cloth.role) {
            layer = Some(fabric.ways);
            fabric.ways = WayChoice::Only(known.layout().way);
        }
        let mut plan = self.plan(&job, known, Purpose::Price)?;
        if let Some(layer) = layer {
            plan.fabric.ways = layer;
        }
        Ok(plan)
    }

    fn whole_plan(&self, job: &Job, known: &ClothPlan) -> Result<ClothPlan, PlanError> {
        self.plan(job, known, Purpose::Layout)
    }

    fn plan(&self, job: &Job, known: &ClothPlan, purpose: Purpose) -> Result<ClothPlan, PlanError> {
        let known: Vec<Layout> = known.layouts().cloned().collect();
        plan_ways(Cloth { job, ..self.cloth }, &known, purpose, self.desk)
    }
}

/// Whether each match gets a price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Prices {
    /// Yes.
    Told,
    /// No.
    Untold,
}

/// `job` without one match of a cloth.
pub(crate) fn without(job: &Job, role: &str, name: &str) -> Job {
    let mut job = job.clone();
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == role) {
        fabric.matching.matches.retain(|wanted| wanted.name != name);
    }
    job
}

#[cfg(test)]
mod tests {
    use super::*;

    const STEP: f64 = 114.3;

    /// A match for which `steps` whole steps are bought and `cost` is paid, of `length` mm of layout.
    fn price(length: f64, steps: i64, cost: Option<&str>) -> MatchPrice {
        MatchPrice {
            name: "side".into(),
            need: Need::Wished,
            length,
            steps,
            buy: steps as f64 * STEP,
            cost: cost.map(|amount| Money::new(amount.parse().unwrap(), None)),
        }
    }

    #[test]
    fn a_limit_is_on_the_whole_steps_that_are_bought() {
        let most = MatchLimit::Length(STEP);
        // A little more layout than an eighth of a yard, for one eighth to buy; and a hair of it for two.
        assert!(!price(1.2 * STEP, 1, None).exceeds(most, STEP));
        assert!(price(0.1 * STEP, 2, None).exceeds(most, STEP));
        assert!(!price(3.0, 0, None).exceeds(MatchLimit::Length(0.0), STEP));
        assert!(price(3.0, 1, None).exceeds(MatchLimit::Length(0.0), STEP));
        // 1/8 yd as it comes from inches.
        assert!(!price(100.0, 1, None).exceeds(MatchLimit::Length(4.5 * 25.4), STEP));
        // Half a step buys none.
        assert!(price(100.0, 1, None).exceeds(MatchLimit::Length(0.9 * STEP), STEP));
    }

    #[test]
    fn a_limit_of_money_may_be_spent_to_the_last_cent() {
        let most = MatchLimit::Money("3.50".parse().unwrap());
        assert!(!price(500.0, 4, Some("3.50")).exceeds(most, STEP));
        assert!(price(500.0, 4, Some("3.51")).exceeds(most, STEP));
        assert!(!price(500.0, 4, None).exceeds(most, STEP), "what has no price exceeds none");
    }
}
