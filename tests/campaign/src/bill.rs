//! What the cloths of a job and everything beside them cost together: a total for each money, and never a sum of several.

use std::collections::BTreeMap;

use num_traits::Zero;

use crate::{
    judge::Complaint,
    quantity::{Exact, cents, money},
    question::{SupplyAsked, in_hundredths},
    trial::Planned,
};

/// Sums by money, and whether every price is known.
type Sums = (BTreeMap<Option<String>, Exact>, bool);

/// The totals are the sums of what must be bought, with shipping and the tax on all of it, and told to be all there is to pay only when every
/// price is known.
pub(crate) fn total(planned: &Planned) -> Option<Complaint> {
    let complaint = |text: String| Some(Complaint { judge: "total", text });
    let (told, told_complete) = &planned.bill;
    let mut rows: BTreeMap<Option<String>, String> = BTreeMap::new();
    for row in told.as_array().into_iter().flatten() {
        let (amount, currency) = (row[0].as_str().unwrap_or_default(), row[1].as_str().map(str::to_owned));
        if rows.insert(currency.clone(), amount.to_owned()).is_some() {
            return complaint(format!("two totals of the money {currency:?}"));
        }
    }
    let Some(answers) = answers(planned) else { return complaint("a cloth was not asked for".to_owned()) };
    let words = |(sums, _): &Sums| -> BTreeMap<Option<String>, String> {
        sums.iter().map(|(money, sum)| (money.clone(), cents(sum))).collect()
    };
    let Some((_, complete)) = answers.iter().find(|answer| words(answer) == rows) else {
        return complaint(format!("{:?} in all, and told is {rows:?}", words(&answers[0])));
    };
    (complete != told_complete).then(|| Complaint {
        judge: "total",
        text: format!("told to be all there is to pay: {told_complete}, and it is {complete}"),
    })
}

/// Every right answer: more than one where a hair decides on a step of the shop.
fn answers(planned: &Planned) -> Option<Vec<Sums>> {
    let mut answers: Vec<Sums> = vec![cloths(planned)?];
    let spending = &planned.question.spending;
    for supply in &spending.supplies {
        answers = answers.iter().flat_map(|sums| with(sums, supply)).collect();
    }
    for (sums, _) in &mut answers {
        if let Some(shipping) = &spending.shipping {
            *sums.entry(spending.currency.clone()).or_insert_with(Exact::zero) += shipping;
        }
        for sum in sums.values_mut() {
            if let Some(tax) = &spending.tax {
                *sum += in_hundredths(&(&*sum * tax));
            }
        }
    }
    Some(answers)
}

fn cloths(planned: &Planned) -> Option<Sums> {
    let mut sums: BTreeMap<Option<String>, Exact> = BTreeMap::new();
    let mut complete = true;
    for cloth in &planned.cloths {
        let asked = planned.question.of(&cloth.layout)?;
        let purchase = &cloth.layout.purchase;
        if purchase.on_hand_is_enough == Some(true) {
            continue;
        }
        match (&asked.price, purchase.cost.as_deref().and_then(money)) {
            (Some(price), Some(cost)) => *sums.entry(price.currency.clone()).or_insert_with(Exact::zero) += cost,
            _ => complete = false,
        }
    }
    Some((sums, complete))
}

/// The sums with one thing more, in each way in which it may be right.
fn with((sums, complete): &Sums, supply: &SupplyAsked) -> Vec<Sums> {
    let mut all = Vec::new();
    if supply.at_home != Some(false) {
        all.push((sums.clone(), *complete));
    }
    if supply.at_home == Some(true) {
        return all;
    }
    for cost in supply.costs.iter().flatten() {
        let mut more = sums.clone();
        *more.entry(supply.currency.clone()).or_insert_with(Exact::zero) += cost;
        all.push((more, *complete));
    }
    if supply.costs.is_none() {
        all.push((sums.clone(), false));
    }
    all
}
