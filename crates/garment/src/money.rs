//! Money: an amount with its currency, and a bill whose lines add up, each currency apart.

use std::fmt;

use rust_decimal::Decimal;

/// An amount of money.
///
/// ```
/// use ellwand_garment::Money;
///
/// assert_eq!(Money::new("34.38".parse().unwrap(), Some("GBP".into())).to_string(), "34.38 GBP");
/// assert_eq!(Money::new("7.50".parse().unwrap(), None).to_string(), "7.50");
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Money {
    /// How much; decimal, never binary floating point.
    pub amount: Decimal,
    /// Of what, such as "GBP"; `None` when the maker named none.
    pub currency: Option<String>,
}

impl Money {
    /// `amount` of `currency`.
    pub fn new(amount: Decimal, currency: Option<String>) -> Self {
        Self { amount, currency }
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.currency {
            Some(currency) => write!(f, "{} {currency}", self.amount),
            None => write!(f, "{}", self.amount),
        }
    }
}

/// What is paid for, line by line.
///
/// Amounts of different currencies are never added: there is a total for each.
///
/// ```
/// use ellwand_garment::{Bill, Money};
///
/// let money = |amount: &str, currency: &str| Some(Money::new(amount.parse().unwrap(), Some(currency.into())));
/// let mut bill = Bill::default();
/// bill.add("main", money("3.00", "GBP"));
/// bill.add("lining", money("3.00", "EUR"));
/// bill.add("contrast", money("1.50", "GBP"));
/// let totals: Vec<String> = bill.totals().iter().map(ToString::to_string).collect();
/// assert_eq!(totals, ["4.50 GBP", "3.00 EUR"]);
/// assert!(bill.is_complete());
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Bill {
    lines: Vec<BillLine>,
}

/// One thing that is paid for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BillLine {
    /// What it is.
    pub what: String,
    /// What it costs; `None` when its price is not known.
    pub cost: Option<Money>,
}

impl Bill {
    /// Adds a line.
    pub fn add(&mut self, what: impl Into<String>, cost: Option<Money>) {
        self.lines.push(BillLine { what: what.into(), cost });
    }

    /// Its lines, in the order they were added.
    pub fn lines(&self) -> &[BillLine] {
        &self.lines
    }

    /// Whether the price of everything on it is known, so that the totals are all there is to pay.
    pub fn is_complete(&self) -> bool {
        self.lines.iter().all(|line| line.cost.is_some())
    }

    /// What the lines with a price come to: one total for each currency, in the order of first use. Amounts beyond the range of
    /// decimals stay at its end.
    pub fn totals(&self) -> Vec<Money> {
        let mut totals: Vec<Money> = Vec::new();
        for cost in self.lines.iter().filter_map(|line| line.cost.as_ref()) {
            match totals.iter_mut().find(|total| total.currency == cost.currency) {
                Some(total) => total.amount = total.amount.saturating_add(cost.amount),
                None => totals.push(cost.clone()),
            }
        }
        totals
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_without_a_price_leaves_the_bill_incomplete() {
        let mut bill = Bill::default();
        bill.add("main", Some(Money::new(Decimal::new(300, 2), None)));
        assert!(bill.is_complete());
        bill.add("lining", None);
        assert!(!bill.is_complete());
        assert_eq!(bill.totals(), vec![Money::new(Decimal::new(300, 2), None)]);
        assert_eq!(bill.lines()[1].what, "lining");
    }

    #[test]
    fn money_without_a_currency_is_a_currency_of_its_own() {
        let mut bill = Bill::default();
        bill.add("main", Some(Money::new(Decimal::new(300, 2), None)));
        bill.add("lining", Some(Money::new(Decimal::new(300, 2), Some("EUR".into()))));
        assert_eq!(bill.totals().len(), 2);
    }
}
