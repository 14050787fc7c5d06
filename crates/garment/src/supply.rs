//! What is bought beside the cloth: notions by the piece, by the pack and by the length, and trims. How much is still to buy once what is at
//! home is counted, and what it costs in decimal money.

use rust_decimal::{Decimal, RoundingStrategy};

use crate::{
    Money, Price, PriceUnit, TAPE_TOLERANCE, Units, format_bought, format_length_up, format_yardage,
    purchase::{length_cost, whole_steps},
};

/// All money that is spent beside the cloth, and the budget for the whole.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Spending {
    /// Notions, then trims, in the order of the pattern and then of the job.
    pub supplies: Vec<Supply>,
    /// What it costs to have it all sent.
    pub shipping: Option<Money>,
    /// What is added to everything, as a share of one: 0.08 for 8 per cent.
    pub tax: Option<Decimal>,
    /// What may be spent in all.
    pub budget: Option<Money>,
}

impl Spending {
    /// Whether there is nothing beside the cloth, and no budget.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// Something that is bought beside the cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// What it is, such as "Buttons"; unique in a job.
    pub name: String,
    /// Whether it is a notion, or a trim along edges.
    pub kind: SupplyKind,
    /// Its size in free words, such as "15 mm".
    pub size: Option<String>,
    /// How much the garment takes.
    pub needed: Amount,
    /// How much of it is at home; of the kind of `needed`.
    pub on_hand: Option<Amount>,
    /// How the shop sells it.
    pub sold: Sold,
    /// What one of what the shop sells costs, not below zero: a piece, a pack, or a yard or metre.
    pub price: Option<Decimal>,
    /// What money the price is in.
    pub currency: Option<String>,
}

/// What a supply is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SupplyKind {
    /// Buttons, zips, thread, elastic …
    Notion,
    /// What is sewn along edges of the pieces.
    Trim,
}

impl SupplyKind {
    /// "notion" or "trim".
    pub fn word(self) -> &'static str {
        match self {
            Self::Notion => "notion",
            Self::Trim => "trim",
        }
    }
}

/// How much there is of something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// So many.
    Count(u64),
    /// So long, mm.
    Length(f64),
}

impl Amount {
    /// "9", or the length as a tape shows it, never less than it is.
    pub fn words(self, units: Units) -> String {
        match self {
            Self::Count(count) => count.to_string(),
            Self::Length(mm) => format_length_up(mm, units),
        }
    }

    fn is_nothing(self) -> bool {
        match self {
            Self::Count(count) => count == 0,
            Self::Length(mm) => mm <= TAPE_TOLERANCE,
        }
    }
}

/// How a shop sells something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sold {
    /// Piece by piece; of what is counted only.
    Each,
    /// In packs that hold so much, above zero, and of which only whole ones are sold. Of the kind of what is needed.
    Packs(Amount),
    /// By the length; of what has a length only.
    Lengths {
        /// The shop cuts whole multiples of this, mm, above zero.
        step: f64,
        /// The length the price is for.
        per: PriceUnit,
    },
}

impl Sold {
    /// What a price is for: "each", "pack", "yd" or "m".
    pub fn sign(self) -> &'static str {
        match self {
            Self::Each => "each",
            Self::Packs(_) => "pack",
            Self::Lengths { per, .. } => per.sign(),
        }
    }
}

impl Supply {
    /// How much is needed beyond what is at home. What is at home is used first, and only the rest is bought: buttons are counted together, and a trim
    /// is cut into lengths anyway.
    pub fn missing(&self) -> Amount {
        match (self.needed, self.on_hand) {
            (Amount::Count(needed), Some(Amount::Count(have))) => Amount::Count(needed.saturating_sub(have)),
            (Amount::Length(needed), Some(Amount::Length(have))) => Amount::Length((needed - have).max(0.0)),
            (needed, _) => needed,
        }
    }

    /// Whether nothing need be bought, since what is at home is enough.
    pub fn is_at_home(&self) -> bool {
        self.missing().is_nothing()
    }

    /// How many pieces, packs or steps of the shop are bought.
    pub fn bought(&self) -> u64 {
        match (self.missing(), self.sold) {
            (missing, _) if missing.is_nothing() => 0,
            (Amount::Count(count), Sold::Packs(Amount::Count(pack))) => count.div_ceil(pack.max(1)),
            (Amount::Length(mm), Sold::Packs(Amount::Length(pack))) => whole_steps(mm, pack),
            (Amount::Length(mm), Sold::Lengths { step, .. }) => whole_steps(mm, step),
            (Amount::Count(count), _) => count,
            // No shop sells a length by the piece.
            (Amount::Length(_), _) => 1,
        }
    }

    /// How much is bought as a shopper says it: "9", "2 packs of 5", "1 1/8 yd", "nothing".
    pub fn bought_words(&self, units: Units) -> String {
        let bought = self.bought();
        match self.sold {
            _ if bought == 0 => "nothing".to_owned(),
            Sold::Packs(pack) => {
                let packs = if bought == 1 { "pack" } else { "packs" };
                let each = match pack {
                    Amount::Length(mm) => format_yardage(mm, units),
                    Amount::Count(_) => pack.words(units),
                };
                format!("{bought} {packs} of {each}")
            }
            Sold::Lengths { step, .. } => format_bought(bought as f64 * step, step, units),
            Sold::Each => bought.to_string(),
        }
    }

    /// What is paid for it, rounded to the hundredth once, half away from zero; `None` when its price is not known, and nothing for what is at home.
    pub fn cost(&self) -> Option<Money> {
        let bought = self.bought();
        let amount = match self.sold {
            _ if bought == 0 => Some(cents(Decimal::ZERO)),
            Sold::Lengths { step, per } => length_cost(Price { amount: self.price?, per }, step, bought),
            Sold::Each | Sold::Packs(_) => Decimal::from(bought).checked_mul(self.price?).map(cents),
        };
        Some(Money::new(amount?, self.currency.clone()))
    }
}

/// To the hundredth, half away from zero, with both decimals.
pub(crate) fn cents(amount: Decimal) -> Decimal {
    let mut rounded = amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
    rounded.rescale(2);
    rounded
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::YARD_MM;

    fn buttons() -> Supply {
        Supply {
            name: "Buttons".into(),
            kind: SupplyKind::Notion,
            size: Some("15 mm".into()),
            needed: Amount::Count(9),
            on_hand: None,
            sold: Sold::Each,
            price: Some(Decimal::new(45, 2)),
            currency: Some("EUR".into()),
        }
    }

    fn braid(mm: f64) -> Supply {
        let sold = Sold::Lengths { step: YARD_MM / 8.0, per: PriceUnit::Yard };
        Supply { name: "Braid".into(), kind: SupplyKind::Trim, needed: Amount::Length(mm), sold, ..buttons() }
    }

    fn said(supply: &Supply) -> (String, Option<String>) {
        (supply.bought_words(Units::Inches), supply.cost().map(|cost| cost.to_string()))
    }

    #[test]
    fn buttons_are_bought_one_by_one_or_in_whole_packs() {
        let euros = |amount: &str| Some(format!("{amount} EUR"));
        assert_eq!(said(&buttons()), ("9".into(), euros("4.05")));
        let packs = Supply { sold: Sold::Packs(Amount::Count(5)), price: Some(Decimal::new(2, 0)), ..buttons() };
        assert_eq!(said(&packs), ("2 packs of 5".into(), euros("4.00")));
        let enough = Supply { needed: Amount::Count(5), ..packs };
        assert_eq!(said(&enough), ("1 pack of 5".into(), euros("2.00")));
    }

    #[test]
    fn what_is_at_home_is_used_first() {
        let some = Supply { on_hand: Some(Amount::Count(4)), ..buttons() };
        assert_eq!(said(&some), ("5".into(), Some("2.25 EUR".into())));
        let all = Supply { on_hand: Some(Amount::Count(12)), price: None, ..buttons() };
        assert!(all.is_at_home());
        assert_eq!(said(&all), ("nothing".into(), Some("0.00 EUR".into())));
        let rest = Supply { on_hand: Some(Amount::Length(YARD_MM)), ..braid(1.5 * YARD_MM) };
        assert_eq!(said(&rest).0, "1/2 yd");
    }

    #[test]
    fn a_length_goes_up_to_the_step_and_its_cost_is_rounded_once() {
        // 2 1/8 yd at 0.45 are 0.95625.
        assert_eq!(said(&braid(2.1 * YARD_MM)), ("2 1/8 yd".into(), Some("0.96 EUR".into())));
        assert_eq!(said(&braid(2.125 * YARD_MM + 0.01)).0, "2 1/8 yd");
        let packs = Supply { sold: Sold::Packs(Amount::Length(3.0 * YARD_MM)), ..braid(3.1 * YARD_MM) };
        assert_eq!(said(&packs), ("2 packs of 3 yd".into(), Some("0.90 EUR".into())));
    }

    #[test]
    fn without_a_price_the_cost_is_not_known() {
        assert_eq!(Supply { price: None, ..buttons() }.cost(), None);
    }
}
