//! Where the money goes: what each cloth and everything beside it costs, the sum of it, each currency apart, and what it leaves of the budget.

use ellwand_garment::{AgainstBudget, Money, Spending};
use ellwand_planner::JobPlan;

use crate::{Totals, shopping};

/// What everything costs; what is at home costs nothing and is not on the bill. What the goods come to stands between them and what is paid beside
/// them. `None` where no price is known.
pub(crate) fn bill(plan: &JobPlan) -> Option<Totals> {
    let bill = plan.bill();
    let sums: Vec<String> = bill.totals().iter().map(ToString::to_string).collect();
    let mut lines: Vec<(String, Option<String>)> =
        bill.lines().iter().map(|line| (line.what.clone(), line.cost.as_ref().map(ToString::to_string))).collect();
    if let Some(goods) = goods(plan) {
        lines.insert(goods_on_the_bill(plan), ("goods".into(), Some(goods)));
    }
    (!sums.is_empty()).then(|| Totals { caption: "Where the money goes".into(), lines, sums })
}

/// How many lines of the bill are goods; shipping and tax come after them.
pub(crate) fn goods_on_the_bill(plan: &JobPlan) -> usize {
    let cloths = plan.cloths.iter().filter(|cloth| !cloth.layout().purchase.is_at_home()).count();
    cloths + plan.spending.supplies.iter().filter(|supply| !supply.is_at_home()).count()
}

/// What the goods come to, where something is paid beside them.
fn goods(plan: &JobPlan) -> Option<String> {
    let bill = plan.bill();
    let goods = goods_on_the_bill(plan);
    let sums: Vec<String> = bill.first(goods).totals().iter().map(ToString::to_string).collect();
    (bill.lines().len() > goods && !sums.is_empty()).then(|| sums.join(" and "))
}

/// What `totals` of the plan come to, in the order in which they add up: goods, shipping, tax, and last the total.
pub(crate) fn sum_lines(plan: &JobPlan, totals: &Totals) -> Vec<String> {
    let goods = goods(plan).map(|goods| format!("Goods {goods}"));
    let beside = shopping::beside(plan).into_iter().map(|(what, cost)| {
        let mut letters = what.chars();
        let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
        format!("{first}{} {cost}", letters.as_str())
    });
    goods.into_iter().chain(beside).chain([totals.sentence()]).collect()
}

/// The same where there is more than one line to it: the cost of one cloth alone stands beside what to buy of it.
pub(crate) fn sum_of_several(plan: &JobPlan) -> Option<Totals> {
    let Spending { supplies, shipping, tax, budget } = &plan.spending;
    let beside = !supplies.is_empty() || shipping.is_some() || tax.is_some() || budget.is_some();
    bill(plan).filter(|_| plan.cloths.len() > 1 || beside)
}

/// "Budget 95.00 EUR: 4.20 EUR is left", or by how much the total exceeds it, or why none can be held against it; `None` without a budget.
pub(crate) fn budget(plan: &JobPlan) -> Option<String> {
    let (budget, held) = plan.budget()?;
    Some(match held {
        AgainstBudget::Left(left) if left.amount.is_sign_negative() && !left.amount.is_zero() => {
            let over = Money::new(-left.amount, left.currency);
            format!("Budget {budget}: exceeded by {over}")
        }
        AgainstBudget::Left(left) => format!("Budget {budget}: {left} is left"),
        AgainstBudget::Untold(why) => format!("Budget {budget}: no total can be held against it, since {why}"),
    })
}
