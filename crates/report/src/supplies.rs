//! Notions and trims as rows: what it is, how much to buy of it and what that costs.

use std::fmt::Write as _;

use ellwand_garment::{Amount, Money, Sold, Supply, SupplyKind, Units};
use ellwand_planner::JobPlan;

use crate::Row;

/// A row for each notion and trim, in the order of the plan.
pub(crate) fn rows(plan: &JobPlan, units: Units) -> Vec<Row> {
    plan.spending.supplies.iter().map(|supply| row(supply, units)).collect()
}

/// "Buttons, 15 mm".
pub(crate) fn what(supply: &Supply) -> String {
    supply.size.as_ref().map_or_else(|| supply.name.clone(), |size| format!("{}, {size}", supply.name))
}

fn row(supply: &Supply, units: Units) -> Row {
    let mut lines = vec![bought(supply, units)];
    lines.extend(needed(supply, units));
    Row { label: what(supply), lines }
}

/// "2 packs of 5, 4.00 EUR at 2.00 EUR a pack", or that nothing need be bought.
pub(crate) fn bought(supply: &Supply, units: Units) -> String {
    if let (Some(have), true) = (supply.on_hand, supply.is_at_home()) {
        return format!("nothing: the {} on hand is enough", have.words(units));
    }
    let mut said = supply.bought_words(units);
    if let Some(price) = price_words(supply) {
        let _ = write!(said, ", {price}");
    }
    said
}

/// "4.05 EUR at 0.45 EUR each"; `None` where the price is not known.
pub(crate) fn price_words(supply: &Supply) -> Option<String> {
    let (cost, price) = (supply.cost()?, supply.price?);
    let one = Money::new(price, supply.currency.clone());
    let per = match supply.sold {
        Sold::Each => "each".to_owned(),
        Sold::Packs(_) | Sold::Lengths { .. } => format!("a {}", supply.sold.sign()),
    };
    Some(format!("{cost} at {one} {per}"))
}

/// How much of it is needed, where that is not what is bought.
pub(crate) fn needed(supply: &Supply, units: Units) -> Option<String> {
    let amount = supply.needed.words(units);
    let along = match supply.kind {
        SupplyKind::Notion => "",
        SupplyKind::Trim => " along the edges",
    };
    let is_bought = supply.kind == SupplyKind::Notion && amount == all_bought(supply, units);
    match supply.on_hand {
        Some(have) if !supply.is_at_home() => {
            Some(format!("{amount} needed{along}, of which {} on hand", have.words(units)))
        }
        None | Some(_) => (!is_bought).then(|| format!("{amount} needed{along}")),
    }
}

/// All that is bought, as what is needed is told.
fn all_bought(supply: &Supply, units: Units) -> String {
    let bought = supply.bought();
    let all = match supply.sold {
        Sold::Each => Amount::Count(bought),
        Sold::Packs(Amount::Count(pack)) => Amount::Count(bought.saturating_mul(pack)),
        Sold::Packs(Amount::Length(pack)) => Amount::Length(bought as f64 * pack),
        Sold::Lengths { step, .. } => Amount::Length(bought as f64 * step),
    };
    all.words(units)
}
