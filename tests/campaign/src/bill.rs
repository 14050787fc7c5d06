//! What the cloths of a job cost together: never summed over different money.

use std::collections::BTreeSet;

use num_traits::Zero;
use serde_json::Value;

use crate::{
    judge::Complaint,
    quantity::{Exact, cents, money},
    trial::Planned,
};

/// The total is the sum of what must be bought, in one money; in several there is no one total.
pub(crate) fn total(planned: &Planned) -> Option<Complaint> {
    let Value::String(told) = &planned.total else { return None };
    let complaint = |text: String| Some(Complaint { judge: "total", text });
    let mut sum = Exact::zero();
    let mut currencies: BTreeSet<Option<String>> = BTreeSet::new();
    for cloth in planned.cloths.iter().filter(|cloth| cloth.on_hand_is_enough != Some(true)) {
        let asked = planned.question.cloths.iter().find(|asked| asked.role == cloth.layout.fabric)?;
        let Some(price) = &asked.price else { return complaint(format!("{told} in all, and a cloth has no price")) };
        currencies.insert(price.currency.clone());
        sum += cloth.layout.purchase.cost.as_deref().and_then(money)?;
    }
    if currencies.len() > 1 {
        return complaint(format!("{told} in all, of different money"));
    }
    let right = cents(&sum);
    (money(told).map(|told| cents(&told)) != Some(right.clone()))
        .then(|| Complaint { judge: "total", text: format!("{right} in all, and told is {told}") })
}
