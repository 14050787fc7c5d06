//! What a job says of money beside its cloths: shipping, tax and budget.

use ellwand_garment::{Money, Spending};
use rust_decimal::{Decimal, RoundingStrategy};

use super::format::JobFile;
use crate::document::At;

/// What is spent beside the cloth, and the budget.
pub(super) fn convert(file: &JobFile) -> Spending {
    let currency = file.currency.as_ref().map(|currency| currency.value.0.clone());
    let money = |at: &At<crate::Money>| Money::new(in_cents(at.value.amount()), currency.clone());
    Spending {
        supplies: Vec::new(),
        shipping: file.shipping.as_ref().map(money),
        tax: file.tax.as_ref().map(|tax| tax.value.share()),
        budget: file.budget.as_ref().map(money),
    }
}

/// To the hundredth, half away from zero: what is paid and not what something is priced at.
fn in_cents(amount: Decimal) -> Decimal {
    let mut rounded = amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
    rounded.rescale(2);
    rounded
}
