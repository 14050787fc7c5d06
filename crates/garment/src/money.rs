//! Money: an amount with its currency, and a bill whose lines add up, each currency apart.

use std::fmt;

use rust_decimal::Decimal;

use crate::supply::cents;

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

    /// Nothing, in no currency: it goes with any.
    pub fn nothing() -> Self {
        Self::new(Decimal::new(0, 2), None)
    }

    /// By how much it is more than `other`; `None` where the two are of different currencies, of which nothing at all has none.
    ///
    /// ```
    /// use ellwand_garment::Money;
    ///
    /// let money = |amount: &str, currency: &str| Money::new(amount.parse().unwrap(), Some(currency.into()));
    /// assert_eq!(money("3.00", "GBP").minus(&money("1.00", "GBP")), Some(money("2.00", "GBP")));
    /// assert_eq!(Money::nothing().minus(&money("1.00", "GBP")), Some(money("-1.00", "GBP")));
    /// assert_eq!(money("3.00", "GBP").minus(&money("1.00", "EUR")), None);
    /// ```
    pub fn minus(&self, other: &Self) -> Option<Self> {
        let is_nothing = |money: &Self| money.amount.is_zero() && money.currency.is_none();
        let currency = match (is_nothing(self), is_nothing(other)) {
            (_, true) => &self.currency,
            (true, false) => &other.currency,
            (false, false) if self.currency == other.currency => &self.currency,
            (false, false) => return None,
        };
        Some(Self::new(self.amount.checked_sub(other.amount)?, currency.clone()))
    }

    /// So many times as much; `None` beyond the range of decimals.
    pub fn times(&self, count: u32) -> Option<Self> {
        Some(Self::new(self.amount.checked_mul(count.into())?, self.currency.clone()))
    }
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut amount = self.amount;
        // A price of 1.2 is said as 1.20.
        if amount.scale() < 2 {
            amount.rescale(2);
        }
        match &self.currency {
            Some(currency) => write!(f, "{amount} {currency}"),
            None => write!(f, "{amount}"),
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

/// A total held against a budget.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AgainstBudget {
    /// What is left; below zero when the total exceeds it.
    Left(Money),
    /// There is no one total.
    Untold(NoTotal),
}

/// Why no total can be held against a budget.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTotal {
    /// Something is paid in other money than the budget's.
    OtherMoney,
    /// The price of something is not known.
    Unpriced,
    /// Not every cloth was planned.
    NotAllPlanned,
}

impl fmt::Display for NoTotal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::OtherMoney => "not everything is paid in its currency",
            Self::Unpriced => "not every price is known",
            Self::NotAllPlanned => "not every cloth was planned",
        })
    }
}

impl Bill {
    /// Adds a line.
    pub fn add(&mut self, what: impl Into<String>, cost: Option<Money>) {
        self.lines.push(BillLine { what: what.into(), cost });
    }

    /// Adds a tax on everything that is on the bill so far: one line for each currency, of its total times `share`, rounded to the hundredth once,
    /// half away from zero. A share of 0.08 is 8 per cent. What has no price bears no tax yet.
    ///
    /// ```
    /// use ellwand_garment::{Bill, Money};
    ///
    /// let mut bill = Bill::default();
    /// bill.add("main", Some(Money::new("10.05".parse().unwrap(), None)));
    /// bill.add("lining", Some(Money::new("0.20".parse().unwrap(), None)));
    /// // 8.2 per cent of 10.25 are 0.8405.
    /// bill.add_tax("0.082".parse().unwrap());
    /// assert_eq!((bill.lines()[2].what.as_str(), bill.totals()[0].to_string()), ("tax 8.2%", "11.09".into()));
    /// ```
    pub fn add_tax(&mut self, share: Decimal) {
        let what = format!("tax {}%", (share * Decimal::ONE_HUNDRED).normalize());
        for total in self.totals() {
            let tax = total.amount.checked_mul(share).map(cents);
            self.add(what.clone(), tax.map(|tax| Money::new(tax, total.currency)));
        }
    }

    /// What is left of a budget, or why no total can be held against it.
    pub fn against(&self, budget: &Money) -> AgainstBudget {
        let mut currencies = self.lines.iter().filter_map(|line| line.cost.as_ref()).map(|cost| &cost.currency);
        if currencies.any(|currency| *currency != budget.currency) {
            return AgainstBudget::Untold(NoTotal::OtherMoney);
        }
        match self.total().and_then(|total| budget.minus(&total)) {
            Some(left) => AgainstBudget::Left(left),
            None => AgainstBudget::Untold(NoTotal::Unpriced),
        }
    }

    /// What everything comes to; `None` where some price is not known or not all is paid in one currency. With nothing to pay it is nothing, which goes
    /// with any currency.
    pub fn total(&self) -> Option<Money> {
        match self.totals().as_slice() {
            [] if self.lines.is_empty() => Some(Money::nothing()),
            [total] if self.is_complete() => Some(total.clone()),
            _ => None,
        }
    }

    /// The bill of its first lines alone.
    pub fn first(&self, lines: usize) -> Self {
        Self { lines: self.lines.iter().take(lines).cloned().collect() }
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
        assert_eq!(bill.total(), None);
    }

    fn pounds(hundredths: i64) -> Option<Money> {
        Some(Money::new(Decimal::new(hundredths, 2), Some("GBP".into())))
    }

    fn bill(lines: &[Option<Money>]) -> Bill {
        let mut bill = Bill::default();
        lines.iter().for_each(|line| bill.add("cloth", line.clone()));
        bill
    }

    #[test]
    fn a_bill_has_one_total_or_none() {
        assert_eq!(bill(&[]).total(), Some(Money::nothing()));
        assert_eq!(bill(&[pounds(300), pounds(150)]).total(), pounds(450));
        assert_eq!(bill(&[pounds(300), None]).total(), None);
        assert_eq!(bill(&[pounds(300), pounds(150), None]).first(2).total(), pounds(450));
    }

    #[test]
    fn tax_is_rounded_once_on_the_total_half_away_from_zero() {
        // Half of 0.01 twice would be 0.02 if each line were rounded; of 0.02 it is 0.01. A quarter of 0.50 is 0.125.
        for (lines, share, tax) in [([1, 1], (5, 1), "0.01"), ([20, 30], (25, 2), "0.13"), ([100, 0], (0, 0), "0.00")] {
            let mut taxed = bill(&lines.map(pounds));
            taxed.add_tax(Decimal::new(share.0, share.1));
            assert_eq!(taxed.lines()[2].cost.as_ref().unwrap().amount.to_string(), tax);
        }
    }

    #[test]
    fn each_money_bears_its_own_tax() {
        let mut taxed = bill(&[pounds(1000), Some(Money::new(Decimal::new(500, 2), None)), None]);
        taxed.add_tax(Decimal::new(1, 1));
        let totals: Vec<String> = taxed.totals().iter().map(ToString::to_string).collect();
        assert_eq!(totals, ["11.00 GBP", "5.50"]);
    }

    #[test]
    fn a_budget_is_held_against_one_whole_total_of_its_own_money() {
        let budget = pounds(9500).unwrap();
        let left = |lines: &[Option<Money>]| bill(lines).against(&budget);
        assert_eq!(left(&[pounds(9000)]), AgainstBudget::Left(pounds(500).unwrap()));
        assert_eq!(left(&[pounds(9000), pounds(501)]), AgainstBudget::Left(pounds(-1).unwrap()));
        assert_eq!(left(&[]), AgainstBudget::Left(budget.clone()));
        assert_eq!(left(&[pounds(9000), None]), AgainstBudget::Untold(NoTotal::Unpriced));
        let bare = Some(Money::new(Decimal::ONE, None));
        assert_eq!(left(&[pounds(1), bare, None]), AgainstBudget::Untold(NoTotal::OtherMoney));
    }
}
