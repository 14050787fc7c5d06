//! What the cloths of a job cost together: a total for each money, and never a sum of several.

use std::collections::BTreeMap;

use num_traits::Zero;

use crate::{
    judge::Complaint,
    quantity::{Exact, cents, money},
    trial::Planned,
};

/// The totals are the sums of what must be bought, and told to be all there is to pay only when every price is known.
pub(crate) fn total(planned: &Planned) -> Option<Complaint> {
    let complaint = |text: String| Some(Complaint { judge: "total", text });
    let mut sums: BTreeMap<Option<String>, Exact> = BTreeMap::new();
    let mut complete = true;
    for cloth in &planned.cloths {
        let asked = planned.question.cloths.iter().find(|asked| asked.role == cloth.layout.fabric)?;
        let purchase = &cloth.layout.purchase;
        if purchase.on_hand_is_enough == Some(true) {
            continue;
        }
        match (&asked.price, purchase.cost.as_deref().and_then(money)) {
            (Some(price), Some(cost)) => *sums.entry(price.currency.clone()).or_insert_with(Exact::zero) += cost,
            _ => complete = false,
        }
    }
    let (told, told_complete) = &planned.bill;
    let mut rows: BTreeMap<Option<String>, String> = BTreeMap::new();
    for row in told.as_array().into_iter().flatten() {
        let (amount, currency) = (row[0].as_str().unwrap_or_default(), row[1].as_str().map(str::to_owned));
        if rows.insert(currency.clone(), amount.to_owned()).is_some() {
            return complaint(format!("two totals of the money {currency:?}"));
        }
    }
    let right: BTreeMap<Option<String>, String> = sums.iter().map(|(money, sum)| (money.clone(), cents(sum))).collect();
    if rows != right {
        return complaint(format!("{right:?} in all, and told is {rows:?}"));
    }
    (complete != *told_complete).then(|| Complaint {
        judge: "total",
        text: format!("told to be all there is to pay: {told_complete}, and it is {complete}"),
    })
}
