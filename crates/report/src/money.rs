//! Where the money goes: what each cloth costs, and the sum of it, each currency apart.

use ellwand_planner::JobPlan;

use crate::Totals;

/// What the cloths cost; what is at home costs nothing and is not on the bill. `None` where no price is known.
pub(crate) fn bill(plan: &JobPlan) -> Option<Totals> {
    let bill = plan.bill();
    let sums: Vec<String> = bill.totals().iter().map(ToString::to_string).collect();
    let lines = bill.lines().iter().map(|line| (line.what.clone(), line.cost.as_ref().map(ToString::to_string)));
    (!sums.is_empty()).then(|| Totals { caption: "Where the money goes".into(), lines: lines.collect(), sums })
}

/// The same where several cloths were planned: the cost of one stands beside what to buy of it.
pub(crate) fn sum_of_several(plan: &JobPlan) -> Option<Totals> {
    bill(plan).filter(|_| plan.cloths.len() > 1)
}
