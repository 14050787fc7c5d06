//! The shopping list as a table for other programs: one row for everything that is bought, with shipping and tax, as RFC 4180 has it.

use ellwand_garment::{Job, PriceUnit, Sold, Supply, TOGETHER, Units};
use ellwand_planner::{ClothPlan, JobPlan};

use crate::{money, supplies};

/// What the columns are.
const COLUMNS: [&str; 9] = ["what", "kind", "for", "quantity", "unit", "price", "price per", "cost", "currency"];

/// Everything to buy, as comma-separated values with a line of headings; lines end in CR and LF. What is at home has the quantity 0 and costs nothing; a
/// price that nobody said is left empty, and so is the cost then. The sum of the costs of a currency is the total of the plan.
pub fn shopping_csv(job: &Job, plan: &JobPlan) -> String {
    let mut rows = vec![COLUMNS.map(str::to_owned)];
    rows.extend(plan.cloths.iter().map(|cloth| of_cloth(cloth, job.units)));
    rows.extend(plan.spending.supplies.iter().map(|supply| of_supply(supply, job)));
    rows.extend(beside(plan).into_iter().map(|(what, cost)| {
        let (amount, currency) = (cost.amount.to_string(), cost.currency.unwrap_or_default());
        let kind = what.split(' ').next().unwrap_or_default().to_owned();
        [what, kind, String::new(), "1".into(), "each".into(), amount.clone(), "each".into(), amount, currency]
    }));
    rows.iter().map(|row| row.iter().map(|cell| quoted(cell)).collect::<Vec<_>>().join(",") + "\r\n").collect()
}

/// Shipping and tax as the bill has them, after the goods.
pub(crate) fn beside(plan: &JobPlan) -> Vec<(String, ellwand_garment::Money)> {
    let goods = money::goods_on_the_bill(plan);
    let bill = plan.bill();
    bill.lines().iter().skip(goods).filter_map(|line| Some((line.what.clone(), line.cost.clone()?))).collect()
}

fn of_cloth(cloth: &ClothPlan, units: Units) -> [String; 9] {
    let purchase = &cloth.layout().purchase;
    let unit = purchase.price.map_or_else(|| unit_of(units), |price| price.per);
    let cost = if purchase.is_at_home() {
        Some("0.00".into())
    } else {
        purchase.cost.as_ref().map(|cost| cost.amount.to_string())
    };
    [
        cloth.layout().cloth.name.clone(),
        "cloth".into(),
        cloth.layout().role.clone(),
        in_units(purchase.buy, unit),
        unit.sign().into(),
        purchase.price.map(|price| price.amount.to_string()).unwrap_or_default(),
        purchase.price.map(|price| price.per.sign().to_owned()).unwrap_or_default(),
        cost.unwrap_or_default(),
        cloth.fabric.currency.clone().unwrap_or_default(),
    ]
}

fn of_supply(supply: &Supply, job: &Job) -> [String; 9] {
    let bought = supply.bought();
    let (quantity, unit) = match supply.sold {
        Sold::Each => (bought.to_string(), "each".to_owned()),
        Sold::Packs(pack) => (bought.to_string(), format!("pack of {}", pack.words(job.units))),
        Sold::Lengths { step, per } => (in_units(bought as f64 * step, per), per.sign().to_owned()),
    };
    [
        supplies::what(supply),
        supply.kind.word().into(),
        if job.view == TOGETHER { TOGETHER.into() } else { format!("view {}", job.view) },
        quantity,
        unit,
        supply.price.map(|price| price.to_string()).unwrap_or_default(),
        supply.price.map(|_| supply.sold.sign().to_owned()).unwrap_or_default(),
        supply.cost().map(|cost| cost.amount.to_string()).unwrap_or_default(),
        supply.currency.clone().unwrap_or_default(),
    ]
}

fn unit_of(units: Units) -> PriceUnit {
    match units {
        Units::Inches => PriceUnit::Yard,
        Units::Centimetres => PriceUnit::Metre,
    }
}

/// A length in the unit of a price, to a ten-thousandth of it.
fn in_units(mm: f64, unit: PriceUnit) -> String {
    let written = format!("{:.4}", mm / unit.length());
    written.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A cell: in quotes where it holds a comma, a quote or the end of a line.
pub(crate) fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\r', '\n']) { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_with_a_comma_or_a_quote_is_quoted() {
        assert_eq!(quoted("Buttons, 15 mm"), "\"Buttons, 15 mm\"");
        assert_eq!(quoted("5\" zip"), "\"5\"\" zip\"");
        assert_eq!(quoted("calico"), "calico");
    }

    #[test]
    fn lengths_are_told_in_the_unit_of_the_price() {
        assert_eq!(in_units(1700.0, PriceUnit::Metre), "1.7");
        assert_eq!(in_units(2.125 * 914.4, PriceUnit::Yard), "2.125");
        assert_eq!(in_units(0.0, PriceUnit::Yard), "0");
        assert_eq!(in_units(10_000.0, PriceUnit::Metre), "10");
    }
}
