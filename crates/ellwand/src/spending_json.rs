//! The bill line by line, and what is left of the budget, as JSON.

use ellwand_garment::{AgainstBudget, Amount, Money, Supply, Units};
use ellwand_planner::JobPlan;
use serde_json::{Map, Value, json};

/// The keys `supplies`, `bill`, `shipping`, `tax`, `budget` and `left`. What is left is below zero when the budget is exceeded, and nothing where no total can be held
/// against it; then `no_total` says why.
pub(crate) fn spending_json(plan: &JobPlan, units: Units) -> Map<String, Value> {
    let money = |money: &Money| json!({ "amount": money.amount.to_string(), "currency": money.currency });
    let spending = &plan.spending;
    let bill = plan.bill();
    let lines: Vec<Value> =
        (bill.lines().iter()).map(|line| json!({ "what": line.what, "cost": line.cost.as_ref().map(money) })).collect();
    let held = plan.budget().map(|(_, held)| held);
    let (left, reason) = match &held {
        Some(AgainstBudget::Left(left)) => (Some(left.amount.to_string()), None),
        Some(AgainstBudget::Untold(why)) => (None, Some(why.to_string())),
        None => (None, None),
    };
    let keys = [
        ("supplies", spending.supplies.iter().map(|supply| supply_json(supply, units)).collect()),
        ("bill", json!(lines)),
        ("shipping", json!(spending.shipping.as_ref().map(money))),
        ("tax", json!(spending.tax.map(|share| share.normalize().to_string()))),
        ("budget", json!(spending.budget.as_ref().map(money))),
        ("left", json!(left)),
        ("no_total", json!(reason)),
    ];
    keys.into_iter().map(|(key, value)| (key.to_owned(), value)).collect()
}

/// A notion or trim: `needed` and `on_hand` are a count or a length in mm, `bought` counts what the shop sells.
fn supply_json(supply: &Supply, units: Units) -> Value {
    let amount = |amount: Amount| match amount {
        Amount::Count(count) => json!({ "count": count }),
        Amount::Length(mm) => json!({ "length": (mm * 1000.0).round() / 1000.0 }),
    };
    json!({
        "name": supply.name,
        "kind": supply.kind.word(),
        "size": supply.size,
        "needed": amount(supply.needed),
        "on_hand": supply.on_hand.map(amount),
        "bought": supply.bought(),
        "bought_text": supply.bought_words(units),
        "price": supply.price.map(|price| price.to_string()),
        "price_per": supply.sold.sign(),
        "cost": supply.cost().map(|cost| cost.amount.to_string()),
        "currency": supply.currency,
    })
}
