//! Several garments from one cloth, through the command: what each takes alone, what it saves, whose share is how much, and every command on such a job.

use ellwand_tests::Scene;
use serde_json::Value;

const JOB: &str = include_str!("../../demo-data/stall/market.job.toml");
const TOTE: &str = include_str!("../../demo-data/stall/landing-tote.pattern.toml");
const APRON: &str = include_str!("../../demo-data/apron/galley-apron.pattern.toml");

fn stall() -> Scene {
    let scene = Scene::empty();
    scene.write("market.job.toml", &JOB.replace("../apron/", ""));
    scene.write("landing-tote.pattern.toml", TOTE);
    scene.write("galley-apron.pattern.toml", APRON);
    scene
}

fn json(scene: &Scene, line: &str) -> Value {
    serde_json::from_str(&scene.run_well(line).stdout).expect("JSON")
}

fn cents(amount: &Value) -> i64 {
    let text = amount.as_str().expect("an amount").replace('.', "");
    text.parse().expect("an amount in hundredths")
}

#[test]
fn what_is_told_of_one_alone_is_what_a_plan_of_it_alone_says_and_shares_add_up() {
    let scene = stall();
    let plan = json(&scene, "plan market.job.toml --effort quick --json");
    let main = &plan["together"][0];
    assert_eq!(main["fabric"], "main");
    let garments = main["garments"].as_array().expect("a list of garments");
    assert_eq!(garments.len(), 2);
    let alone = |pattern: &str, name: &str| {
        let (head, cloths) = JOB.split_once("[[garment]]").expect("garments");
        let cloths = &cloths[cloths.find("[fabric.main]").expect("a cloth")..cloths.find("[notion").expect("notions")];
        scene.write(name, &format!("{head}pattern = \"{pattern}\"\nview = \"A\"\n{cloths}"));
        json(&scene, &format!("plan {name} --effort quick --json"))
    };
    let mut row = 0.0;
    for (garment, (pattern, count)) in
        garments.iter().zip([("galley-apron.pattern.toml", 2.0), ("landing-tote.pattern.toml", 1.0)])
    {
        let own = alone(pattern, "alone.job.toml");
        assert_eq!(garment["alone"], own["layouts"][0]["length"], "{pattern}");
        assert_eq!(garment["alone_buy_text"], own["layouts"][0]["purchase"]["buy_text"], "{pattern}");
        assert!(own.get("together").is_none());
        row += count * garment["alone"].as_f64().expect("a length");
    }
    assert!((main["one_after_the_other"].as_f64().expect("a length") - row).abs() < 1e-6);
    let length = plan["layouts"][0]["length"].as_f64().expect("a length");
    assert!(length <= row, "{length} together, {row} one after the other");
    let cost = &plan["layouts"][0]["purchase"]["cost"]["amount"];
    let cost = if cost.is_null() { &plan["layouts"][0]["purchase"]["cost"] } else { cost };
    assert_eq!(garments.iter().map(|of| cents(&of["share"])).sum::<i64>(), cents(cost));
    // By area: two aprons are far more than half of it.
    let area = |k: usize| garments[k]["area"].as_f64().expect("an area");
    let share = cents(&garments[0]["share"]) as f64 / cents(cost) as f64;
    assert!((share - area(0) / (area(0) + area(1))).abs() < 0.001);
    // What is at home is shared by nobody.
    assert!(plan["together"][1]["garments"].as_array().expect("garments").iter().all(|of| of["share"].is_null()));
}

#[test]
fn every_command_takes_such_a_job() {
    let scene = stall();
    let said = scene.run_well("plan market.job.toml --effort quick --out out --list").stdout;
    for words in [
        "2 × Apron and Tote, one size",
        "cut together",
        "Each garment alone, on main",
        "share of the cost",
        "Snap, 15 mm",
        "Apron: Skirt",
        "Tote: Handle",
    ] {
        assert!(said.contains(words), "{words} is not in {said}");
    }
    for line in scene.read("out/main.placing-phone.txt").lines() {
        assert!(line.chars().count() <= 40, "{line}");
    }
    let report = scene.read("out/report.html");
    assert!(
        report.contains("Each alone and together") && report.contains("Fit and ease"),
        "the report lacks a section"
    );
    let fit = scene.run_well("fit market.job.toml --out fitted").stdout;
    assert!(fit.contains("Apron: Galley apron, view A") && fit.contains("Tote: Landing tote, view A"), "{fit}");
    assert_eq!(scene.files("fitted"), ["fit-1.svg", "fit-2.svg"]);
    let fits = json(&scene, "fit market.job.toml --json");
    assert_eq!(fits["garments"][1]["garment"], "Tote");
    let check = scene.run_well("check market.job.toml --out pieces --json market.pieces.json").stdout;
    assert!(check.contains("Apron: Bib: cut 2 of main") && check.contains("Tote: Side: cut 2 of main"), "{check}");
    // The record of the pieces is a pattern like any other.
    let cloths = &JOB[JOB.find("[fabric.main]").expect("a cloth")..JOB.find("[notion").expect("notions")];
    let head = "format = \"ellwand-job-1\"\nname = \"Again\"\nunits = \"in\"\ncurrency = \"GBP\"\n";
    scene.write("again.job.toml", &format!("{head}pattern = \"market.pieces.json\"\n{cloths}"));
    let again = json(&scene, "plan again.job.toml --effort quick --json");
    assert_eq!(again["layouts"][0]["cuts"].as_array().map(Vec::len), Some(21));
    let printed = scene.run_well("print market.job.toml --out paper").stdout;
    assert!(printed.contains("Written: "), "{printed}");
    scene.run_well("print out/main.layout.json --out paper");
    scene.run_well("write market.job.toml pieces.dxf");
    let widths = scene.run_well("compare market.job.toml --effort quick --fabric main --width 45in,60in").stdout;
    assert!(widths.contains("45 in") && widths.contains("60 in"), "{widths}");
    let changes = scene.run_well("plan market.job.toml --effort quick --changes --fabric lining").stdout;
    assert!(changes.contains("off the grain"), "{changes}");
}

/// With holes where the garments would lie one after the other, each is moved past them, and that is told.
#[test]
fn with_flaws_in_the_cloth_the_row_goes_past_them() {
    let scene = stall();
    let hole =
        |from_left: u32, up: u32| format!("{{ at = [\"{from_left} in\", \"{up} in\"], size = [\"2 in\", \"2 in\"] }}");
    let flaws = format!("[fabric.main]\nflaws = [{}, {}, {}]\n", hole(10, 30), hole(20, 50), hole(30, 70));
    let job = scene.read("market.job.toml").replacen("[fabric.main]\n", &flaws, 1);
    scene.write("market.job.toml", &job);
    let plan = json(&scene, "plan market.job.toml --effort quick --fabric main --json");
    let main = &plan["together"][0];
    let row = main["one_after_the_other"].as_f64().expect("a row past the flaws");
    let alone = main["garments"]
        .as_array()
        .expect("garments")
        .iter()
        .map(|garment| garment["count"].as_f64().expect("a count") * garment["alone"].as_f64().expect("a length"));
    assert!(row >= alone.sum::<f64>() - 1e-6);
    assert!(main["length"].as_f64().expect("a length") <= row + 1e-6);
    assert_eq!(main["given_up_together"], serde_json::json!([]));
}

/// Two skirts of a stripe, in two sizes: each meets in itself, and the preview says whose each panel is.
#[test]
fn matched_garments_are_laid_and_drawn_together() {
    let job = include_str!("../../demo-data/skirt/stripe.job.toml");
    let scene = Scene::garment(job, include_str!("../../demo-data/skirt/ferry-skirt.pattern.toml"));
    let garments =
        "[[garment]]\nname = \"Small\"\nsize = \"36\"\n[[garment]]\nname = \"Large\"\nsize = \"40\"\n\n[fabric.main]\n";
    scene.write("garment.job.toml", &job.replacen("[fabric.main]\n", garments, 1));
    let said = scene.run_well("plan garment.job.toml --fabric main --effort quick --out out").stdout;
    assert!(said.contains("cut together"), "{said}");
    let record = scene.json("out/main.layout.json");
    let pieces: Vec<&str> =
        record["cuts"].as_array().expect("cuts").iter().filter_map(|cut| cut["piece"].as_str()).collect();
    assert!(pieces.iter().any(|piece| piece.starts_with("Small: ")));
    assert!(pieces.iter().any(|piece| piece.starts_with("Large: ")));
    let matches = record["matches"].as_array().expect("matches");
    assert!(!matches.is_empty());
    for met in matches {
        let text = met.to_string();
        assert!(text.contains("Small: ") != text.contains("Large: "), "{text}");
    }
    assert!(scene.read("out/main.seams.svg").contains("Small: "), "the preview says whose each panel is");
}
