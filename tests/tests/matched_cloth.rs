//! The demo jobs on cloth with a design, judged from their records alone: every match recomputed from the points as cut and the repeat.

use std::collections::BTreeMap;

use ellwand_tests::Scene;
use serde_json::Value;

/// How far two points that meet may miss each other, mm.
const MEETS: f64 = 0.05;

const DRESS: &str = include_str!("../../demo-data/shirt-dress/pilot-house.pattern.toml");
const TARTAN: &str = include_str!("../../demo-data/shirt-dress/tartan.job.toml");
const JACKET: &str = include_str!("../../demo-data/jacket/harbour-watch.pattern.toml");
const CHECK: &str = include_str!("../../demo-data/jacket/uneven-check.job.toml");
const SKIRT: &str = include_str!("../../demo-data/skirt/ferry-skirt.pattern.toml");
const STRIPE: &str = include_str!("../../demo-data/skirt/stripe.job.toml");
const BORDER: &str = include_str!("../../demo-data/skirt/border-print.job.toml");

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// The largest amount by which any match of the record is missed, and how many there are. A border is a place across without a repeat.
fn worst_of(record: &Value) -> (f64, usize) {
    let cuts = record["cuts"].as_array().expect("cuts");
    let cut = |at: &Value| {
        cuts.iter().find(|cut| cut["piece"] == at["piece"] && cut["copy"] == at["copy"]).expect("the cut of a match")
    };
    let repeat = &record["cloth"]["repeat"];
    let phase = |at: &Value, axis: &str| {
        let cut = cut(at);
        let point = &cut["points"][at["point"].as_str().expect("a name")];
        let upside_down = number(&cut["turned_deg"]) == 180.0;
        let flipped = (cut["mirrored"] == Value::Bool(true)) != upside_down;
        let sign = |reversed: bool| if reversed { -1.0 } else { 1.0 };
        // Crosswise, with its top to the left or to the right, the garment shows along the cloth what goes from one hand to the other.
        let mirrored = cut["mirrored"] == Value::Bool(true);
        let along_reversed = match number(&cut["turned_deg"]) {
            90.0 => !mirrored,
            270.0 => mirrored,
            _ => upside_down,
        };
        match axis {
            "along" => sign(along_reversed) * (number(&point[1]) - number(&repeat["offset_along"])),
            _ if repeat["across"].is_null() => number(&point[0]),
            _ => sign(flipped) * (number(&point[0]) - number(&repeat["offset_across"])),
        }
    };
    let matches = record["matches"].as_array().expect("matches");
    let missed = matches.iter().map(|found| {
        let axis = found["axis"].as_str().expect("an axis");
        let other = if found["b"].is_null() { number(&found["phase"]) } else { phase(&found["b"], axis) };
        let by = phase(&found["a"], axis) - other;
        let by = match repeat[axis].as_f64() {
            Some(every) => by - (by / every).round() * every,
            None => by,
        };
        assert!((by.abs() - number(&found["residual"])).abs() < 1e-6, "{found}");
        by.abs()
    });
    (missed.fold(0.0, f64::max), matches.len())
}

/// Plans the main cloth quickly and returns its record, what was printed, and the seam preview.
fn planned(job: &str, pattern: &str) -> (Value, String, String) {
    let scene = Scene::garment(job, pattern);
    let run = scene.run_well("plan garment.job.toml --fabric main --layer open --effort quick --out out");
    (scene.json("out/main.layout.json"), run.stdout, scene.read("out/main.seams.svg"))
}

#[test]
fn the_dress_in_tartan_meets_at_every_seam() {
    let (record, said, seams) = planned(TARTAN, DRESS);
    let (worst, count) = worst_of(&record);
    assert!(worst <= MEETS, "{worst} mm");
    let named = |name: &str| record["matches"].as_array().unwrap().iter().filter(|m| m["name"] == name).count();
    // Two fronts and two bands on a bar, level with each other and the bands with them; two sides; two pockets both ways; two sleeves at the notch and on a bar.
    assert_eq!((named("centre front"), named("side"), named("pocket"), named("sleeve")), (7, 2, 4, 4), "of {count}");
    for said_of in ["even plaid", "matching", "centre front: ", "(wished)", "rules of thumb", "main.seams.svg"] {
        assert!(said.contains(said_of), "`{said_of}` is not said in:\n{said}");
    }
    assert!(seams.contains("Front") && seams.contains("Left side, front to back"));
}

#[test]
fn the_jacket_in_an_uneven_check_lies_one_way_up_and_is_told_what_cannot_match() {
    let (record, said, _) = planned(CHECK, JACKET);
    let (worst, count) = worst_of(&record);
    assert!(worst <= MEETS && count >= 20, "{worst} mm, {count}");
    let turns = record["cuts"].as_array().unwrap().iter().map(|cut| number(&cut["turned_deg"]));
    assert!(turns.clone().all(|turn| [0.0, 45.0, 315.0].contains(&turn)), "{:?}", turns.collect::<Vec<_>>());
    assert!(record["cloth"]["folds"].as_array().unwrap().is_empty());
    assert!(said.contains("left and right cannot mirror each other") && said.contains("turned over"), "{said}");
    let folded = CHECK.replacen("layout = \"open\"", "layout = \"fold\"", 1);
    let run = Scene::garment(&folded, JACKET).run("plan garment.job.toml --fabric main --effort quick");
    assert_eq!(run.code, Some(2));
    assert!(run.stderr.contains("uneven"), "{}", run.stderr);
}

#[test]
fn the_skirt_has_a_stripe_down_each_panel() {
    let (record, _, _) = planned(STRIPE, SKIRT);
    let (worst, count) = worst_of(&record);
    assert!(worst <= MEETS && count >= 7, "{worst} mm, {count}");
    assert!(record["cloth"]["repeat"]["along"].is_null());
}

#[test]
fn the_skirt_in_a_border_print_has_its_hem_at_the_selvages() {
    let scene = Scene::garment(BORDER, SKIRT);
    scene.run_well("plan garment.job.toml --fabric main --layer open --effort quick --out out");
    let record = scene.json("out/main.layout.json");
    let (worst, _) = worst_of(&record);
    assert!(worst <= MEETS, "{worst} mm");
    // Its waves were not measured along: sheet and table say at which the end is cut.
    let step = "Begin at a bar: cut the end straight";
    let (sheet, table) = (scene.read("out/main.layout.svg"), scene.read("out/main.placing.txt"));
    assert!(sheet.contains(step) && table.contains(step), "{table}");
    let mut panels: BTreeMap<String, usize> = BTreeMap::new();
    for found in record["matches"].as_array().unwrap().iter().filter(|found| found["axis"] == "across") {
        *panels.entry(found["a"]["piece"].as_str().unwrap().to_owned()).or_default() += 1;
    }
    // Seven panels, and both pocket facings where their place on the side front lies.
    assert_eq!(panels.values().sum::<usize>(), 9, "{panels:?}");
}

#[test]
fn the_same_bytes_on_one_thread_and_on_two() {
    let scene = Scene::garment(TARTAN, DRESS);
    for threads in [1, 2] {
        scene.run_well(&format!(
            "plan garment.job.toml --fabric main --layer open --effort quick --threads {threads} --quiet --out out-{threads}"
        ));
    }
    let without_seconds = |folder: &str| {
        let text = scene.read(&format!("{folder}/main.layout.json"));
        text.lines().filter(|line| !line.contains("\"seconds\"")).collect::<Vec<_>>().join("\n")
    };
    assert_eq!(without_seconds("out-1"), without_seconds("out-2"));
    assert_eq!(scene.read("out-1/main.seams.svg"), scene.read("out-2/main.seams.svg"));
}

#[test]
fn scripts_are_told_what_matching_costs() {
    let scene = Scene::garment(STRIPE, SKIRT);
    let run = scene.run_well("plan garment.job.toml --fabric main --layer open --effort quick --quiet --json");
    let plan: Value = serde_json::from_str(&run.stdout).expect("a JSON object");
    let cost = &plan["matching"][0];
    assert!(number(&cost["unmatched"]["length"]) <= number(&cost["matched"]["length"]));
    assert_eq!(cost["rules_of_thumb"].as_array().unwrap().len(), 7, "the one for large repeats is left out");
    let names: Vec<&str> = cost["matches"].as_array().unwrap().iter().map(|m| m["name"].as_str().unwrap()).collect();
    assert_eq!(names[..2], ["centre front", "centre back"]);

    // What is printed says the same; lengths in centimetres or inches and eighths, never named too short.
    let said = scene.run_well("plan garment.job.toml --fabric main --layer open --effort quick").stdout;
    let (with, without) = (number(&cost["matched"]["length"]), number(&cost["unmatched"]["length"]));
    let rules: Vec<(f64, f64)> = (cost["rules_of_thumb"].as_array().unwrap().iter())
        .map(|rule| (number(&rule["extra"][0]), number(&rule["extra"][1])))
        .collect();
    let least = rules.iter().map(|rule| rule.0).fold(f64::INFINITY, f64::min);
    let most = rules.iter().map(|rule| rule.1).fold(0.0, f64::max);
    let quarter = cost["rules_of_thumb"]
        .as_array()
        .unwrap()
        .iter()
        .find(|rule| rule["rule"] == "at least a quarter more")
        .unwrap();
    assert!((number(&quarter["extra"][0]) - without / 4.0).abs() < 1e-9);
    let at_least = |text: &str, mm: f64| {
        let told = length_of(text);
        assert!(told >= mm - 0.05 && told < mm + 25.4 / 8.0 + 1e-6, "{text} for {mm} mm");
    };
    let head = said
        .split("rules of thumb        between ")
        .nth(1)
        .and_then(|rest| rest.lines().next())
        .expect("the rules of thumb");
    let (range, takes) = head.split_once("; this layout takes ").expect("two amounts");
    let takes = takes.split_once(", with the ").map_or(takes, |(takes, _)| takes);
    let (low, high) = range.split_once(" and ").expect("a range");
    at_least(low, without + least);
    at_least(high, without + most);
    let before: f64 = (plan["layouts"][0]["purchase"]["allowances"].as_array().unwrap().iter())
        .filter(|added| added["for"].as_str().unwrap().contains("line of the design"))
        .map(|added| number(&added["length"]))
        .sum();
    at_least(takes, with + before);
    if with + before - without >= 0.5 {
        let difference = said
            .split("matching              takes ")
            .nth(1)
            .and_then(|rest| rest.lines().next())
            .expect("what matching takes");
        let (more, rest) = difference.split_once(" more than the ").expect("two amounts");
        let unmatched = rest.split_once(" needed with nothing matched").expect("what it would take").0;
        at_least(unmatched, without);
        assert!((length_of(more) + length_of(unmatched) - length_of(takes)).abs() < 1e-6, "{difference}: {takes}");
        let buys = number(&cost["matched"]["buy"]) > number(&cost["unmatched"]["buy"]);
        assert_eq!(difference.ends_with("nothing more to buy"), !buys, "{difference}");
    }
}

/// A length as it is printed, mm.
fn length_of(text: &str) -> f64 {
    let (amount, unit) = text.trim().rsplit_once(' ').expect("a unit");
    let unit = match unit {
        "in" => 25.4,
        "cm" => 10.0,
        "yd" => 914.4,
        other => panic!("{other}"),
    };
    let part = |word: &str| match word.split_once('/') {
        Some((top, bottom)) => top.parse::<f64>().expect("a number") / bottom.parse::<f64>().expect("a number"),
        None => word.parse::<f64>().expect("a number"),
    };
    amount.split(' ').map(part).sum::<f64>() * unit
}

const CUSHIONS: &str = r#"format = "ellwand-pattern-1"
name = "Bench cushions"
coordinates = "cm"
sizes = ["one"]

[[view]]
name = "A"
pieces = ["Front", "Back"]

[[piece]]
name = "Front"
cut = [{ from = "main", count = 2, hands = "any" }]
shape = { rectangle = { width = "40 cm", height = "40 cm" } }
seam_allowance = "1.5 cm"
points = { middle = [20, 20] }

[[piece]]
name = "Back"
cut = [{ from = "main", count = 2, hands = "any" }]
shape = { rectangle = { width = "40 cm", height = "40 cm" } }
seam_allowance = "1.5 cm"
"#;

const HERONS: &str = r#"format = "ellwand-job-1"
name = "Cushions"
pattern = "cushions.pattern.toml"
view = "A"
units = "cm"
currency = "GBP"

[fabric.main]
name = "printed linen with herons"
width = "140 cm"
selvage = "1 cm"
nap = "with"
layout = "open"
price = "24.00"

[fabric.main.design]
across = { repeat = "32 cm", offset = "16 cm", balance = "even" }
along = { repeat = "40 cm", offset = "20 cm", balance = "even" }

[fabric.main.matching]
motifs = [{ piece = "Front", point = "middle", name = "heron" }]
"#;

#[test]
fn cushion_fronts_are_centred_on_a_motif_and_the_plan_says_what_that_costs() {
    let scene = Scene::empty();
    scene.write("cushions.pattern.toml", CUSHIONS);
    scene.write("cushions.job.toml", HERONS);
    let said = scene.run_well("plan cushions.job.toml --effort quick --out out").stdout;
    let layout = scene.json("out/main.layout.json");
    let fronts: Vec<&serde_json::Value> =
        layout["cuts"].as_array().expect("cuts").iter().filter(|cut| cut["piece"] == "Front").collect();
    assert_eq!(fronts.len(), 2);
    for front in fronts {
        let middle = |axis: usize| front["points"]["middle"][axis].as_f64().expect("a place");
        // A whole number of repeats from the heron that is measured from the edge and the cut end.
        let off = |at: f64, first: f64, every: f64| (at - first) / every - ((at - first) / every).round();
        assert!(off(middle(0), 160.0, 320.0).abs() < 1e-6, "{front}");
        assert!(off(middle(1), 200.0, 400.0).abs() < 1e-6, "{front}");
    }
    // Two rows of cushions, 43 cm each, are all it takes when nobody looks at the herons.
    assert!(said.contains("than the 86 cm needed with nothing matched"), "{said}");
    assert!(said.contains("heron: dropping it saves"), "{said}");
}
