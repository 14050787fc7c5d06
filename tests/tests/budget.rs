//! The whole budget through the command: what everything comes to, to the cent, and what is left of it.

use ellwand_tests::Scene;
use serde_json::Value;

const JOB: &str = include_str!("../src/quay-bag.job.toml");
const PATTERN: &str = include_str!("../src/quay-bag.pattern.toml");

/// The bag with some lines of its own at the top of its job.
fn bag(lines: &str) -> Scene {
    Scene::with(&JOB.replacen("\n\n[", &format!("\n{lines}\n\n["), 1), PATTERN)
}

/// An amount of money in hundredths.
fn cents(amount: &str) -> i64 {
    let (whole, hundredths) = amount.split_once('.').expect("an amount with a point");
    assert_eq!(hundredths.len(), 2, "{amount}");
    let sign = if whole.starts_with('-') { -1 } else { 1 };
    whole.parse::<i64>().expect("a number") * 100 + sign * hundredths.parse::<i64>().expect("a number")
}

fn json(scene: &Scene) -> Value {
    serde_json::from_str(&scene.run_well("plan quay-bag.job.toml --effort quick --json").stdout).expect("JSON")
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("text, and not {value}"))
}

#[test]
fn tax_and_shipping_are_added_and_the_rest_of_the_budget_is_told() {
    let cloth = cents(text(&json(&bag(""))["total"]));
    let scene = bag("budget = \"95\"\nshipping = \"4.95\"\ntax = \"8.5%\"");
    let plan = json(&scene);
    // Hundredths times thousandths: half of the last is rounded away from zero.
    let before = cloth + 495;
    let total = before + (before * 85 + 500) / 1000;
    assert_eq!(cents(text(&plan["total"])), total);
    assert_eq!(cents(text(&plan["left"])), 9500 - total);
    assert_eq!(plan["budget"]["amount"], "95.00");
    let lines: i64 =
        plan["bill"].as_array().expect("lines").iter().map(|line| cents(text(&line["cost"]["amount"]))).sum();
    assert_eq!(lines, total, "the lines of the bill are the total");
    let said = scene.run_well("plan quay-bag.job.toml --effort quick --out out").stdout;
    let left = format!("Budget 95.00 GBP: {} GBP is left", text(&plan["left"]));
    assert!(said.contains(&left), "{said}");
    assert!(scene.read("out/report.html").contains(&left));
}

#[test]
fn a_budget_that_is_exceeded_says_by_how_much() {
    let scene = bag("budget = \"1.00\"");
    let plan = json(&scene);
    let over = cents(text(&plan["total"])) - 100;
    assert_eq!(cents(text(&plan["left"])), -over);
    let said = scene.run_well("plan quay-bag.job.toml --effort quick").stdout;
    let told = said.split("exceeded by ").nth(1).and_then(|rest| rest.split_whitespace().next()).expect("told");
    assert_eq!(cents(told), over, "{said}");
}

#[test]
fn without_one_total_nothing_is_held_against_the_budget() {
    let other = Scene::with(
        &JOB.replacen("\n\n[", "\nbudget = \"95\"\nshipping = \"5.00\"\n\n[", 1).replacen(
            "nap =",
            "currency = \"EUR\"\nnap =",
            1,
        ),
        PATTERN,
    );
    let plan = json(&other);
    assert_eq!((&plan["total"], &plan["left"]), (&Value::Null, &Value::Null));
    let said = other.run_well("plan quay-bag.job.toml --effort quick").stdout;
    assert!(said.contains("no total can be held against it, since not everything is paid in its currency"), "{said}");
}
