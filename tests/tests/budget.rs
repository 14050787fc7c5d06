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

/// The bag with snaps, a zip and webbing along its edges, and how they are bought.
fn with_notions() -> Scene {
    let pattern = format!(
        "{PATTERN}\n{}",
        r#"
[[notion]]
name = "Snaps"
count = 7
size = "15 mm, brass"

[[notion]]
name = "Elastic"
length = "22 in"

[[notion]]
name = "Lining zip"
views = ["A"]
count = 1

[[trim]]
name = "Webbing"
edges = ["Front: bottom", { piece = "Flap", edge = "bottom", times = 1 }]
turned_ends = "1/2 in"
"#
    );
    let job = format!(
        "{}\n{}",
        JOB.replacen("\n\n[", "\nbudget = \"60.00\"\nshipping = \"4.95\"\ntax = \"8.5%\"\n\n[", 1),
        r#"
[notion.Snaps]
price = "1.35"
price_per = "pack"
pack = 5
on_hand = 1

[notion.Elastic]
price = "0.85"

[notion."Lining zip"]
on_hand = 1

[notion.Webbing]
price = "1.99"

[notion."Thread, \"grey\""]
count = 2
price = "1.20"
"#
    );
    Scene::with(&job, &pattern)
}

/// The cells of a table of comma-separated values, read by the rules of RFC 4180.
fn cells(table: &str) -> Vec<Vec<String>> {
    let (mut rows, mut row, mut cell) = (Vec::new(), Vec::new(), String::new());
    let mut letters = table.chars().peekable();
    let mut is_quoted = false;
    while let Some(letter) = letters.next() {
        match letter {
            '"' if is_quoted && letters.peek() == Some(&'"') => cell.extend(letters.next()),
            '"' => is_quoted = !is_quoted,
            ',' if !is_quoted => row.push(std::mem::take(&mut cell)),
            '\r' if !is_quoted => {
                assert_eq!(letters.next(), Some('\n'), "a line ends in CR and LF");
                row.push(std::mem::take(&mut cell));
                rows.push(std::mem::take(&mut row));
            }
            letter => cell.push(letter),
        }
    }
    assert!(cell.is_empty() && row.is_empty(), "the last line ends as well");
    rows
}

#[test]
fn the_shopping_table_adds_up_to_the_total() {
    let scene = with_notions();
    let plan = json(&scene);
    let said = scene.run_well("plan quay-bag.job.toml --effort quick --out out").stdout;
    let table = cells(&scene.read("out/shopping.csv"));
    let heads = ["what", "kind", "for", "quantity", "unit", "price", "price per", "cost", "currency"];
    assert_eq!(table[0], heads);
    assert!(table.iter().all(|row| row.len() == heads.len()), "{table:?}");
    let sum: i64 = table[1..].iter().map(|row| cents(&row[7])).sum();
    assert_eq!(sum, cents(text(&plan["total"])), "{table:?}");
    assert!(table[1..].iter().all(|row| row[8] == "GBP" || row[7] == "0.00"), "{table:?}");
    // The tax once more, of all that stands above it.
    let goods = sum - cents(&table.last().expect("a last row")[7]);
    assert_eq!(sum, goods + (goods * 85 + 500) / 1000);
    assert!(said.contains(&format!("Total {} GBP\n", text(&plan["total"]))), "{said}");
    assert!(said.contains("shopping list  out/shopping.txt, out/shopping.csv\n"), "{said}");
    let row = |what: &str| table.iter().find(|row| row[0].starts_with(what)).unwrap_or_else(|| panic!("no {what}"));
    // Six to buy, in packs of five; 22 in are more than 1/2 yd; the hem of both halves and of the flap with four ends of half an inch.
    assert_eq!(row("Snaps")[3..8], ["2", "pack of 5", "1.35", "pack", "2.70"]);
    assert_eq!(row("Elastic")[3..8], ["0.625", "yd", "0.85", "yd", "0.53"]);
    assert_eq!(row("Webbing")[1..8], ["trim", "view A", "0.625", "yd", "1.99", "yd", "1.24"]);
    assert_eq!(row("Lining zip")[3..8], ["0", "each", "", "", "0.00"]);
    assert_eq!(row("Thread")[..2], ["Thread, \"grey\"", "notion"]);
}

#[test]
fn every_list_names_what_is_bought() {
    let scene = with_notions();
    let said = scene.run_well("plan quay-bag.job.toml --effort quick --out out").stdout;
    let list = scene.read("out/shopping.txt");
    assert!(list.lines().all(|line| line.chars().count() <= 40), "{list}");
    let joined = list.split_whitespace().collect::<Vec<_>>().join(" ");
    for line in ["[ ] Snaps, 15 mm, brass: 2 packs of 5", "[ ] Webbing: 5/8 yd", "[ ] Elastic: 5/8 yd", "- Lining zip"]
    {
        assert!(joined.contains(line), "`{line}` is not in:\n{list}");
    }
    let page = scene.read("out/report.html");
    for what in ["Snaps, 15 mm, brass", "Webbing", "Elastic", "shipping", "tax 8.5%"] {
        assert!(page.contains(what), "`{what}` is not on the page");
    }
    assert!(said.contains("\nnotions\n  Snaps, 15 mm, brass   2 packs of 5, 2.70 GBP at 1.35 GBP a pack\n"), "{said}");
    assert!(
        said.contains("7 needed, of which 1 on hand") && said.contains("22 1/2 in needed along the edges"),
        "{said}"
    );
}

#[test]
fn a_notion_without_a_price_leaves_the_total_open() {
    let scene = with_notions();
    let job = scene.read("quay-bag.job.toml").replacen("price = \"0.85\"\n", "", 1);
    scene.write("quay-bag.job.toml", &job);
    let plan = json(&scene);
    assert_eq!((&plan["total"], &plan["left"]), (&Value::Null, &Value::Null));
    assert_eq!(plan["no_total"], "not every price is known");
    let said = scene.run_well("plan quay-bag.job.toml --effort quick").stdout;
    assert!(said.contains("plus the cost of Elastic\n"), "{said}");
    let part = scene.run_well("plan quay-bag.job.toml --effort quick --fabric main").stdout;
    assert!(part.contains("since not every cloth was planned"), "{part}");
}

#[test]
fn what_names_no_spending_says_what_it_always_said() {
    let scene = bag("");
    let said = scene.run_well("plan quay-bag.job.toml --effort quick --out out").stdout;
    assert!(!said.contains("shopping") && !said.contains("notions") && !said.contains("Budget"), "{said}");
    assert!(scene.read("out/shopping.txt").contains("[ ]"));
}
