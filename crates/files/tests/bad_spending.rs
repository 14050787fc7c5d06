//! What a maker can get wrong about budget, shipping and tax: one fault, at its line, with what would be right.

mod passage;
mod slips;

use ellwand_files::{FaultKind, Faults, Limits, QuantityFault, ReadJob, Source, parse_job};
use passage::changed;
use slips::only;

const PATTERN: &str = include_str!("good.pattern.toml");
const JOB: &str = include_str!("good.job.toml");

/// The good job with some lines of its own after its currency, and what becomes of it.
fn read(lines: &str) -> (String, Result<ReadJob, Faults>) {
    let text = changed(JOB, "currency = \"GBP\"\n", &format!("currency = \"GBP\"\n{lines}\n"));
    let job = Source::new("bad.job.toml", text.as_str());
    let read = parse_job(&job, &Source::new("good.pattern.toml", PATTERN), &Limits::default());
    (text, read)
}

fn job(lines: &str) -> (String, Faults) {
    let (text, read) = read(lines);
    (text, read.expect_err("the job was taken"))
}

#[test]
fn what_is_right_is_taken_to_the_penny() {
    let spending = read("budget = \"95\"\nshipping = \"4.955\"\ntax = \"8.875 %\"").1.expect("a good job").job.spending;
    assert_eq!(spending.budget.map(|money| money.to_string()).as_deref(), Some("95.00 GBP"));
    assert_eq!(spending.shipping.map(|money| money.to_string()).as_deref(), Some("4.96 GBP"));
    assert_eq!(spending.tax.map(|share| share.normalize().to_string()).as_deref(), Some("0.08875"));
    assert!(read("").1.expect("a good job").job.spending.is_empty());
}

#[test]
fn a_tax_is_a_share_of_the_price() {
    let kind = only(job("tax = \"-8%\""), "tax", "zero or more");
    assert!(matches!(kind, FaultKind::Quantity(QuantityFault::Negative { .. })));
    let kind = only(job("tax = \"120%\""), "tax", "at most \"100%\"");
    assert!(matches!(kind, FaultKind::Quantity(QuantityFault::TaxTooHigh { .. })));
    only(job("tax = \"8\""), "tax", "\"8%\"");
    only(job("tax = 8"), "tax", "\"8%\"");
    only(job("tax = 0.08"), "tax", "\"0.08%\"");
    only(job("tax = \"eight%\""), "tax", "such as \"8.5%\"");
    only(job("tax = \"8,5%\""), "tax", "point before the decimals");
}

#[test]
fn a_budget_is_an_amount_of_money() {
    let kind = only(job("budget = \"ninety\""), "budget", "such as \"14.50\"");
    assert!(matches!(kind, FaultKind::Quantity(QuantityFault::NotMoney { .. })));
    only(job("budget = 95"), "budget", "\"95\"");
    only(job("budget = \"-95\""), "budget", "zero or more");
    only(job("budget = \"£95\""), "budget", "write \"95\"");
    only(job("shipping = \"free\""), "shipping", "such as \"14.50\"");
    only(job("shiping = \"4.95\""), "shiping", "did you mean `shipping`?");
}
