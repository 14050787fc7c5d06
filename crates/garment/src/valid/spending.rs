//! The rules for what is bought beside the cloth, and for the budget.

use rust_decimal::Decimal;

use super::{InputFault, Part, cloth::MOST_MONEY, pattern::named_alike};
use crate::{Amount, Sold, Spending, Supply};

/// Something wrong with what is bought beside the cloth, or with the budget.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SpendingFault {
    /// An amount of money below zero or past what anybody pays for a garment.
    #[error("{what} is {amount}: an amount of money is from 0 up to a million")]
    Money {
        /// What costs so much, such as "the shipping".
        what: String,
        /// As given.
        amount: Decimal,
    },
    /// A tax below nothing or above the whole.
    #[error("the tax is {share} of everything: a tax is a share from 0 to 1, such as 0.08")]
    Tax {
        /// As given, as a share of one.
        share: Decimal,
    },
    /// A supply that cannot be bought as it is told.
    #[error("\"{supply}\" cannot be bought as it is told: {why}")]
    Supply {
        /// Its name.
        supply: String,
        /// What is wrong with it.
        why: &'static str,
    },
}

/// Everything wrong with the spending of a job by itself.
pub(super) fn spending_faults(spending: &Spending) -> Vec<InputFault> {
    let Spending { supplies, shipping, tax, budget } = spending;
    let mut faults: Vec<InputFault> = Vec::new();
    let nameless = supplies.iter().filter(|supply| supply.name.trim().is_empty());
    faults.extend(nameless.map(|_| InputFault::NoName { what: Part::Supply }));
    let names: Vec<&str> = supplies.iter().map(|supply| supply.name.as_str()).collect();
    faults.extend(named_alike(Part::Supply, &names));
    let prices = supplies.iter().map(|supply| (format!("the price of \"{}\"", supply.name), supply.price));
    let paid = [("the shipping", shipping), ("the budget", budget)];
    let paid = paid.map(|(what, money)| (what.to_owned(), money.as_ref().map(|money| money.amount)));
    let money = prices.chain(paid).filter_map(|(what, amount)| Some((what, amount?)));
    let odd = money.filter(|(_, amount)| !(Decimal::ZERO..=MOST_MONEY).contains(amount));
    faults.extend(odd.map(|(what, amount)| SpendingFault::Money { what, amount }.into()));
    let absurd = tax.filter(|share| !(Decimal::ZERO..=Decimal::ONE).contains(share));
    faults.extend(absurd.map(|share| SpendingFault::Tax { share }.into()));
    faults.extend(supplies.iter().flat_map(supply_faults));
    faults
}

fn supply_faults(supply: &Supply) -> Vec<InputFault> {
    let Supply { needed, on_hand, sold, .. } = *supply;
    let is_length = |amount: Amount| matches!(amount, Amount::Length(_));
    let is_sound = |amount: Amount| match amount {
        Amount::Count(_) => true,
        Amount::Length(mm) => mm.is_finite() && mm >= 0.0,
    };
    let is_something = |amount: Amount| match amount {
        Amount::Count(count) => count > 0,
        Amount::Length(mm) => mm.is_finite() && mm > 0.0,
    };
    let (counted, sold_by_another) = match sold {
        Sold::Each => (is_length(needed), false),
        Sold::Packs(pack) => (false, is_length(pack) != is_length(needed)),
        Sold::Lengths { .. } => (false, !is_length(needed)),
    };
    let sells_nothing = match sold {
        Sold::Each => false,
        Sold::Packs(pack) => !is_something(pack),
        Sold::Lengths { step, .. } => !is_something(Amount::Length(step)),
    };
    let all = [
        (!is_sound(needed), "what is needed is no length from 0"),
        (on_hand.is_some_and(|have| !is_sound(have)), "what is at home is no length from 0"),
        (
            on_hand.is_some_and(|have| is_length(have) != is_length(needed)),
            "of what is needed and what is at home, one is counted and the other has a length",
        ),
        (counted, "it has a length, and the shop sells it by the piece"),
        (sold_by_another, "of what is needed and what the shop sells, one is counted and the other has a length"),
        (sells_nothing, "the shop sells packs or lengths of nothing"),
    ];
    let fault = |why| SpendingFault::Supply { supply: supply.name.clone(), why }.into();
    all.into_iter().filter(|(is_so, _)| *is_so).map(|(_, why)| fault(why)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Money, PriceUnit, SupplyKind};

    fn buttons() -> Supply {
        Supply {
            name: "Buttons".into(),
            kind: SupplyKind::Notion,
            size: None,
            needed: Amount::Count(9),
            on_hand: Some(Amount::Count(2)),
            sold: Sold::Packs(Amount::Count(5)),
            price: Some(Decimal::new(450, 2)),
            currency: None,
        }
    }

    fn spending() -> Spending {
        Spending {
            supplies: vec![buttons()],
            shipping: Some(Money::new(Decimal::ONE, None)),
            tax: Some(Decimal::new(8, 2)),
            budget: Some(Money::new(Decimal::ONE_HUNDRED, None)),
        }
    }

    fn said(change: impl FnOnce(&mut Spending)) -> Vec<String> {
        let mut spending = spending();
        change(&mut spending);
        spending_faults(&spending).iter().map(ToString::to_string).collect()
    }

    fn of_supply(change: impl FnOnce(&mut Supply)) -> String {
        let said = said(|spending| change(&mut spending.supplies[0]));
        assert_eq!(said.len(), 1, "{said:?}");
        said[0].clone()
    }

    #[test]
    fn sound_spending_has_no_faults() {
        assert_eq!(said(|_| ()), Vec::<String>::new());
        assert_eq!(spending_faults(&Spending::default()), Vec::new());
    }

    #[test]
    fn money_is_from_nothing_to_a_million_and_a_tax_a_share() {
        let below = Decimal::NEGATIVE_ONE;
        assert_eq!(
            said(|spending| spending.shipping = Some(Money::new(below, None))),
            ["the shipping is -1: an amount of money is from 0 up to a million"]
        );
        assert_eq!(said(|spending| spending.budget = Some(Money::new(MOST_MONEY + Decimal::ONE, None))).len(), 1);
        assert!(of_supply(|supply| supply.price = Some(below)).starts_with("the price of \"Buttons\" is -1"));
        for share in [below, Decimal::new(101, 2)] {
            assert!(said(|spending| spending.tax = Some(share))[0].starts_with(&format!("the tax is {share} of")));
        }
    }

    #[test]
    fn a_supply_is_bought_as_it_is_needed() {
        let by_length = Sold::Lengths { step: 100.0, per: PriceUnit::Metre };
        assert!(of_supply(|supply| supply.sold = by_length).contains("the other has a length"));
        assert!(
            of_supply(|supply| supply.sold = Sold::Packs(Amount::Count(0))).contains("packs or lengths of nothing")
        );
        assert!(of_supply(|supply| supply.on_hand = Some(Amount::Length(3.0))).contains("at home"));
        let braid = |supply: &mut Supply| (supply.needed, supply.on_hand) = (Amount::Length(900.0), None);
        let of_braid = |sold: Sold| {
            of_supply(|supply| {
                braid(supply);
                supply.sold = sold;
            })
        };
        assert!(of_braid(Sold::Each).contains("by the piece"));
        for step in [0.0, -1.0, f64::NAN] {
            assert!(of_braid(Sold::Lengths { step, per: PriceUnit::Metre }).contains("nothing"), "{step}");
        }
        assert!(
            of_supply(|supply| {
                braid(supply);
                (supply.needed, supply.sold) = (Amount::Length(f64::INFINITY), by_length);
            })
            .contains("no length from 0")
        );
    }

    #[test]
    fn every_supply_has_a_name_of_its_own() {
        assert_eq!(said(|spending| spending.supplies.push(buttons())).len(), 1);
        assert_eq!(of_supply(|supply| supply.name = " ".into()), "a supply has no name: give it one");
    }
}
