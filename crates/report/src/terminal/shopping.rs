//! The shopping list for a narrow screen: everything to buy with a box to tick, then what it comes to.

use ellwand_garment::{Job, Money, format_length, what_is_made};
use ellwand_planner::{ClothPlan, JobPlan};

use super::laying::{INDENT, wrapped};
use crate::{money, supplies, what_to_buy::bought_width};

/// What to do in the shop.
const WIDTH: &str = "Measure the cloth before it is cut off: narrower cloth takes more of it.";

/// Everything to buy for a job, with a box to tick; no line longer than 40 letters.
pub fn shopping_text(job: &Job, plan: &JobPlan) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut write = |text: &str, indent: &str| lines.extend(wrapped(text, indent));
    write(&job.name, "");
    write(&what_is_made(&job.pattern, &job.view, &job.size), "");
    let mut home: Vec<String> = Vec::new();
    for cloth in &plan.cloths {
        if cloth.layout().purchase.is_at_home() {
            let layout = cloth.layout();
            let remnant = layout.cloth.remnant.iter().map(|remnant| format!(", the remnant \"{}\"", remnant.name));
            home.push(format!("{}{}, for {}", layout.cloth.name, remnant.collect::<String>(), layout.role));
            continue;
        }
        write("", "");
        write(&format!("[ ] {} of {}", cloth.layout().purchase.buy_text, cloth.layout().cloth.name), INDENT);
        write(
            &format!("{INDENT}{} wide, for {}", format_length(bought_width(cloth), job.units), cloth.layout().role),
            INDENT,
        );
        price_of_cloth(cloth).into_iter().for_each(|said| write(&format!("{INDENT}{said}"), INDENT));
    }
    for supply in &plan.spending.supplies {
        if supply.is_at_home() {
            home.push(supplies::what(supply));
            continue;
        }
        write("", "");
        write(&format!("[ ] {}: {}", supplies::what(supply), supply.bought_words(job.units)), INDENT);
        let more = supplies::price_words(supply).into_iter().chain(supplies::needed(supply, job.units));
        more.for_each(|said| write(&format!("{INDENT}{said}"), INDENT));
    }
    if !home.is_empty() {
        write("", "");
        write("Enough of it is at home:", "");
        home.iter().for_each(|what| write(&format!("  - {what}"), INDENT));
    }
    let sums = money::bill(plan).map(|totals| money::sum_lines(plan, &totals)).unwrap_or_default();
    let said: Vec<String> = sums.into_iter().chain(money::budget(plan)).collect();
    if !said.is_empty() {
        write("", "");
    }
    said.iter().for_each(|text| write(text, ""));
    write("", "");
    write(WIDTH, "");
    lines.push(String::new());
    lines.join("\n")
}

/// "54.40 EUR at 32.00 EUR a m"; `None` where the price is not known.
fn price_of_cloth(cloth: &ClothPlan) -> Option<String> {
    let purchase = &cloth.layout().purchase;
    let (cost, price) = (purchase.cost.as_ref()?, purchase.price?);
    let one = Money::new(price.amount, cost.currency.clone());
    Some(format!("{cost} at {one} a {}", price.per.sign()))
}
