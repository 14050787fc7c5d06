//! What a maker can get wrong about budget, shipping, tax, notions and trims: one fault, at its line, with what would be right.

mod passage;
mod slips;

use ellwand_files::{FaultKind, Faults, Limits, QuantityFault, ReadJob, SizeFault, Source, SupplyFault, parse_job};
use ellwand_garment::{Amount, Supply, Units};
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

/// Lines at the end of the good pattern, and of the good job, and what becomes of the two.
fn both(of_pattern: &str, of_job: &str) -> (String, String, Result<ReadJob, Faults>) {
    let (pattern, job) = (format!("{PATTERN}\n{of_pattern}\n"), format!("{JOB}\n{of_job}\n"));
    let source = Source::new("bad.job.toml", job.as_str());
    let read = parse_job(&source, &Source::new("bad.pattern.toml", &pattern), &Limits::default());
    (pattern, job, read)
}

const BUTTONS: &str = "[[notion]]\nname = \"Buttons\"\ncount = 9\nsize = \"15 mm\"\n";
const BRAID: &str = "[[trim]]\nname = \"Braid\"\nedges = [\"Front: hem\"]\nturned_ends = \"1 cm\"\n";

fn supplies(of_pattern: &str, of_job: &str) -> Vec<Supply> {
    both(of_pattern, of_job).2.unwrap_or_else(|faults| panic!("{faults}")).job.spending.supplies
}

/// The one fault in the pattern.
fn in_pattern(lines: &str) -> (String, Faults) {
    let (pattern, _, read) = both(lines, "");
    (pattern, read.expect_err("the pattern was taken"))
}

/// The one fault in a job for a pattern with buttons and braid.
fn in_job(lines: &str) -> (String, Faults) {
    let (_, job, read) = both(&format!("{BUTTONS}{BRAID}"), lines);
    (job, read.expect_err("the job was taken"))
}

#[test]
fn the_pattern_says_what_is_needed_and_the_job_how_it_is_bought() {
    let bought = supplies(BUTTONS, "[notion.Buttons]\nprice = \"2.10\"\nprice_per = \"pack\"\npack = 5\non_hand = 2");
    let [buttons] = &bought[..] else { panic!("{bought:?}") };
    assert_eq!((buttons.needed, buttons.bought_words(Units::Inches)), (Amount::Count(9), "2 packs of 5".into()));
    assert_eq!(buttons.cost().map(|cost| cost.to_string()).as_deref(), Some("4.20 GBP"));
    assert_eq!(buttons.size.as_deref(), Some("15 mm"));
    // More of them, and a notion of the job's own.
    let bought = supplies(BUTTONS, "[notion.Buttons]\ncount = 10\n[notion.Elastic]\nlength = \"22 in\"");
    assert_eq!(
        bought.iter().map(|supply| supply.needed).collect::<Vec<_>>(),
        [Amount::Count(10), Amount::Length(22.0 * 25.4)]
    );
    // A notion of another view is not bought, and one of all views is; without a word of the job as well.
    let view = "[[view]]\nname = \"B\"\npieces = [\"Front\"]\n";
    assert!(supplies(&format!("{view}{BUTTONS}views = [\"B\"]\n"), "").is_empty());
    assert_eq!(supplies(&format!("{view}{BUTTONS}views = [\"A\"]\n"), "").len(), 1);
    let other = both(&format!("{view}{BUTTONS}views = [\"B\"]\n"), "[notion.Buttons]\nprice = \"1.00\"").2;
    assert!(other.expect("a good job").notes.iter().any(|note| note.to_string().contains("does not take the notion")));
}

#[test]
fn a_trim_goes_along_the_seam_line_on_both_halves() {
    // The front is cut once on the fold: twice its hem of 300 mm from the fold, with two ends of 10 mm.
    let [braid] = &supplies(BRAID, "")[..] else { panic!("one trim") };
    assert_eq!(braid.needed, Amount::Length(620.0));
    let of_job = "[[trim]]\nname = \"Braid\"\nedges = [{ piece = \"Front\", edge = \"hem\", times = 2 }]";
    assert_eq!(supplies(BRAID, of_job)[0].needed, Amount::Length(1200.0), "the job's takes the place of the pattern's");
    let longer = "[[trim]]\nname = \"Cord\"\nedges = [\"Front: hem\", \"Front:hem\"]\n[notion.Cord]\nprice = \"3.00\"\nprice_per = \"m\"\nsold_by = \"10 cm\"";
    let cord = &supplies("", longer)[0];
    assert_eq!(
        (cord.needed, cord.cost().map(|cost| cost.to_string())),
        (Amount::Length(1200.0), Some("3.60 GBP".into()))
    );
}

#[test]
fn a_notion_of_a_pattern_says_how_much_of_what() {
    only(in_pattern("[[notion]]\nname = \"Thread\""), "[[notion]]", "add count = 9");
    only(in_pattern(&format!("{BUTTONS}length = \"1 m\"")), "count = 9", "leave one of them out");
    only(in_pattern("[[notion]]\nname = \"Thread\"\ncount = 0"), "count = 0", "more than nothing");
    only(in_pattern(&format!("{BUTTONS}views = [\"C\"]")), "views = [\"C\"]", "use `A`");
    only(
        in_pattern(&format!("{BUTTONS}{BRAID}[[notion]]\nname = \"Braid\"\ncount = 1")),
        "name = \"Braid\"\nedges",
        "",
    );
}

#[test]
fn a_trim_names_edges_that_are_there() {
    let edge = |edges: &str| in_pattern(&BRAID.replace("[\"Front: hem\"]", edges));
    let kind = only(edge("[\"Front: hemm\"]"), "edges = [\"Front: hemm", "did you mean `hem`?");
    assert!(matches!(kind, FaultKind::Size(SizeFault::UnknownMark { .. })));
    only(edge("[\"Front: cuff\"]"), "edges = [\"Front: cuff", "`hem`, `side`");
    only(edge("[\"Cuff: wrist\"]"), "edges = [\"Cuff", "use `Front`, `Pocket` or `Band`");
    only(edge("[\"hem\"]"), "edges = [\"hem", "such as \"Cuff: wrist\"");
    only(edge("[]"), "edges = []", "name edges");
    only(edge("[{ piece = \"Front\", edge = \"hem\", times = 0 }]"), "edges = [{ piece", "1 or more");
    only(edge("[3]"), "edges = [3]", "");
}

#[test]
fn a_job_buys_what_is_needed_as_it_is_sold() {
    let kind = only(in_job("[notion.Butons]\nprice = \"0.45\""), "[notion.Butons]", "did you mean `Buttons`");
    assert!(matches!(kind, FaultKind::Supply(SupplyFault::Unknown { .. })));
    only(in_job("[notion.Elastic]\nprice = \"0.45\""), "[notion.Elastic]", "add count = 9");
    only(in_job("[notion.Braid]\nlength = \"1 m\""), "[notion.Braid]", "leave count and length out");
    let of_buttons = |line: &str| in_job(&format!("[notion.Buttons]\nprice = \"0.45\"\n{line}"));
    only(of_buttons("price_per = \"yd\""), "price_per", "\"each\" or \"pack\"");
    only(of_buttons("price_per = \"pack\""), "price_per", "add pack = 5");
    only(of_buttons("pack = 5\nprice_per = \"each\""), "pack = 5", "price_per = \"pack\"");
    only(of_buttons("pack = \"3 yd\""), "pack", "such as pack = 5");
    only(of_buttons("pack = 0"), "pack", "more than nothing");
    only(of_buttons("on_hand = \"3 yd\""), "on_hand = \"3 yd", "such as on_hand = 5");
    only(of_buttons("sold_by = \"1 in\""), "sold_by", "leave it out");
    only(of_buttons("price_per = \"dozen\""), "price_per", "`each`");
    only(of_buttons("count = -1"), "count = -1", "");
    only(in_job("[notion.Buttons]\nprice_per = \"each\""), "price_per", "add price");
    let of_braid = |line: &str| in_job(&format!("[notion.Braid]\nprice = \"0.45\"\n{line}"));
    only(of_braid("price_per = \"each\""), "price_per", "\"yd\", \"m\" or \"pack\"");
    only(of_braid("on_hand = 2"), "on_hand = 2\n", "such as on_hand = \"3 yd\"");
    only(of_braid("sold_by = \"0 in\""), "sold_by", "above zero");
    only(in_job("[notion]\nButtons = 3"), "Buttons = 3", "");
}

#[test]
fn a_trim_of_a_job_is_on_a_piece_of_its_view() {
    let view = "[[view]]\nname = \"B\"\npieces = [\"Front\"]\n\n";
    let pattern = PATTERN.replacen("[[view]]", &format!("{view}[[view]]"), 1);
    let job = JOB.replacen("view = \"A\"", "view = \"B\"", 1);
    let job = job.split("[fabric.lining]").next().expect("a job").to_owned();
    let trim = "[[trim]]\nname = \"Cord\"\nedges = [\"Band: left\"]\n";
    let text = format!("{job}{trim}");
    let source = Source::new("bad.job.toml", text.as_str());
    let read = parse_job(&source, &Source::new("good.pattern.toml", &pattern), &Limits::default());
    only((text, read.expect_err("the job was taken")), "name = \"Cord\"", "name edges of `Front`");
    only(
        in_job("[[trim]]\nname = \"Buttons\"\nedges = [\"Front: hem\"]"),
        "name = \"Buttons\"",
        "give the trim another name",
    );
    let twice =
        "[[trim]]\nname = \"Cord\"\nedges = [\"Front: hem\"]\n[[trim]]\nname =  \"Cord\"\nedges = [\"Front: side\"]";
    only(in_job(twice), "name =  \"Cord\"", "");
}
