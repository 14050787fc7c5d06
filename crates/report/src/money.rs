//! Where the money goes: what each cloth and everything beside it costs, the sum of it, each currency apart, and what it leaves of the budget.

use ellwand_garment::{AgainstBudget, Money, Spending};
use ellwand_planner::JobPlan;

use crate::Totals;

/// What everything costs; what is at home costs nothing and is not on the bill. `None` where no price is known.
pub(crate) fn bill(plan: &JobPlan) -> Option<Totals> {
    let bill = plan.bill();
    let sums: Vec<String> = bill.totals().iter().map(ToString::to_string).collect();
    let lines = bill.lines().iter().map(|line| (line.what.clone(), line.cost.as_ref().map(ToString::to_string)));
    (!sums.is_empty()).then(|| Totals { caption: "Where the money goes".into(), lines: lines.collect(), sums })
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
