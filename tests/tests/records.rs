//! The layout and piece records, read as a program outside would: fields by name, shapes judged with arithmetic of this file
//! alone.

use ellwand_tests::Scene;
use serde_json::Value;

/// What rounding may add to or take from a place, mm.
const ROUNDING: f64 = 1e-3;

type Point = (f64, f64);

fn planned() -> (Scene, Value) {
    let scene = Scene::sound();
    scene.run_well("plan quay-bag.job.toml --effort quick --layer fold --out out");
    let record = scene.json("out/main.layout.json");
    (scene, record)
}

fn points(value: &Value) -> Vec<Point> {
    let pair = |p: &Value| (p[0].as_f64().expect("x"), p[1].as_f64().expect("y"));
    value.as_array().expect("a list of points").iter().map(pair).collect()
}

fn area(outline: &[Point]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0
}

fn cuts(record: &Value) -> &Vec<Value> {
    record["cuts"].as_array().expect("a list of cuts")
}

#[test]
fn the_layout_record_keeps_its_contract() {
    let (_scene, record) = planned();
    let text = |field: &str| record[field].as_str().unwrap_or_else(|| panic!("`{field}` is text")).to_owned();
    assert_eq!(text("format"), "ellwand-layout-1");
    assert_eq!(text("length_unit"), "mm");
    for (field, said) in
        [("job", "Bag for the ferry"), ("pattern", "Quay bag"), ("view", "A"), ("size", "one"), ("fabric", "main")]
    {
        assert_eq!(text(field), said);
    }
    let cloth = &record["cloth"];
    assert!((cloth["width"].as_f64().expect("width") - 30.0 * 25.4 * 0.99).abs() < ROUNDING, "after shrinkage across");
    assert_eq!(cloth["selvage"], 6.35);
    assert_eq!(cloth["nap"], "without");
    assert_eq!(cloth["repeat"], Value::Null);
    assert_eq!(cloth["folds"][0]["axis"], "lengthwise");
    assert_eq!(cloth["piece_gap"], 0.0);
    assert_eq!(record["matches"], Value::Array(Vec::new()));
    assert_eq!(record["search"]["seed"], 1);
    assert_eq!(record["search"]["effort"], "quick");
    assert!(record["search"]["seconds"].is_number());
    let trace = record["search"]["trace"].as_array().expect("a list of gains");
    assert_eq!(trace[0]["work"], 0, "the starting layout comes before any work");
    let found = trace[trace.len() - 1]["length"].as_f64().expect("length");
    assert!(found >= record["length"].as_f64().expect("length") - ROUNDING);
    assert!(trace.iter().all(|gain| gain.get("seconds").is_none()), "by work, so that equal runs give equal bytes");
    let purchase = &record["purchase"];
    assert_eq!(purchase["length"], record["length"]);
    assert_eq!(purchase["price"], "12.50");
    let reasons: Vec<&str> =
        purchase["allowances"].as_array().expect("a list").iter().filter_map(|a| a["for"].as_str()).collect();
    assert_eq!(reasons, ["straightening the ends", "shrinkage"]);
}

#[test]
fn what_to_buy_follows_from_the_length() {
    let (_scene, record) = planned();
    let length = record["length"].as_f64().expect("length");
    // 2 in for the ends, 3 per cent along, eighths of a yard.
    let eighths = ((length + 2.0 * 25.4) / 0.97 / 114.3 - 1e-6).ceil();
    let buy = record["purchase"]["buy"].as_f64().expect("buy");
    assert!((buy - eighths * 114.3).abs() < ROUNDING);
    let cost: f64 = record["purchase"]["cost"].as_str().expect("money is text").parse().expect("a number");
    assert!((cost - eighths * 12.50 / 8.0).abs() <= 0.005 + 1e-9);
}

#[test]
fn every_cut_lies_on_the_cloth_on_grain_and_the_right_number_of_times() {
    let (_scene, record) = planned();
    let (width, selvage) = (record["cloth"]["width"].as_f64().unwrap(), record["cloth"]["selvage"].as_f64().unwrap());
    let length = record["length"].as_f64().unwrap();
    let mut highest: f64 = 0.0;
    let mut covered = 0.0;
    for cut in cuts(&record) {
        let outline = points(&cut["outline"]);
        assert!(area(&outline) > 0.0, "counter-clockwise");
        assert_ne!(outline.first(), outline.last(), "the first point is not repeated");
        covered += area(&outline);
        for (x, y) in outline {
            assert!(x >= selvage - ROUNDING && x <= width - selvage + ROUNDING && y >= -ROUNDING);
            highest = highest.max(y);
        }
        // The school rule: both ends of the arrow are equally far from the selvage.
        let grain = points(&cut["grainline"]);
        assert!((grain[0].0 - grain[1].0).abs() < ROUNDING, "{cut}");
    }
    assert!((highest - length).abs() < ROUNDING);
    assert!((record["utilisation"].as_f64().unwrap() - covered / (width * length)).abs() < 0.05);
    assert!(record["lower_bound"].as_f64().unwrap() <= length + ROUNDING);
    let mut named: Vec<(&str, u64)> =
        cuts(&record).iter().map(|cut| (cut["piece"].as_str().unwrap(), cut["copy"].as_u64().unwrap())).collect();
    named.sort_unstable();
    assert_eq!(named, [("Band", 1), ("Flap", 1), ("Front", 1), ("Pocket", 1), ("Pocket", 2)]);
}

#[test]
fn fold_pieces_lie_on_the_fold_and_pairs_mirror_across_it() {
    let (_scene, record) = planned();
    let fold = record["cloth"]["folds"][0]["at"].as_f64().expect("where the fold lies");
    let find = |name: &str, copy: u64| {
        let wanted = |cut: &&Value| cut["piece"] == name && cut["copy"] == copy;
        cuts(&record).iter().find(wanted).unwrap_or_else(|| panic!("{name} {copy}"))
    };
    let front = points(&find("Front", 1)["outline"]);
    let (left, right) = front.iter().fold((f64::MAX, f64::MIN), |(l, r), p| (l.min(p.0), r.max(p.0)));
    assert!(((left + right) / 2.0 - fold).abs() < ROUNDING);
    let (one, two) = (find("Pocket", 1), find("Pocket", 2));
    assert_ne!(one["mirrored"], two["mirrored"]);
    for (x, y) in points(&one["outline"]) {
        let twin = |p: &Point| (p.0 - (2.0 * fold - x)).abs() < ROUNDING && (p.1 - y).abs() < ROUNDING;
        assert!(points(&two["outline"]).iter().any(twin), "({x}, {y}) has no twin");
    }
}

#[test]
fn the_piece_record_keeps_its_contract() {
    let scene = Scene::sound();
    scene.run_well("check quay-bag.job.toml --quiet --json pieces.json");
    let record = scene.json("pieces.json");
    assert_eq!(record["format"], "ellwand-pieces-1");
    assert_eq!(record["size"], "one");
    let pieces = record["pieces"].as_array().expect("a list of pieces");
    let names: Vec<&str> = pieces.iter().filter_map(|piece| piece["piece"].as_str()).collect();
    assert_eq!(names, ["Front", "Pocket", "Band", "Flap"]);
    let front = &pieces[0];
    assert_eq!(front["cut"][0]["fabric"], "main");
    assert_eq!(front["cut"][0]["count"], 1);
    assert_eq!(front["cut"][0]["on_fold"], true);
    assert_eq!(pieces[1]["cut"][0]["hands"], "pair");
    // A piece on the fold appears whole: for each point its mirror image.
    let outline = points(&front["outline"]);
    for (x, y) in &outline {
        assert!(outline.iter().any(|p| (p.0 + x).abs() < ROUNDING && (p.1 - y).abs() < ROUNDING), "({x}, {y})");
    }
    assert!(front["points"]["side low"].is_array());
}

/// A job made again from the record of its pieces is the same layout, byte for byte; what the record has answered is refused.
#[test]
fn a_job_from_the_record_of_its_pieces_is_the_same_layout() {
    let (scene, _) = planned();
    scene.run_well("check quay-bag.job.toml --json altered.pieces.json");
    let job = ellwand_tests::JOB.replace("quay-bag.pattern.toml", "altered.pieces.json");
    scene.write("again.job.toml", &job);
    let run = scene.run("plan again.job.toml --effort quick --layer fold --out again");
    assert_eq!(run.code, Some(2));
    let told = run.stderr;
    assert!(
        told.contains("again.job.toml:4:") && told.contains("`view` cannot be asked of a record of pieces"),
        "{told}"
    );
    assert!(told.contains("again.job.toml:5:") && told.contains("`size`"), "{told}");
    scene.write("again.job.toml", &job.replace("view = \"A\"\nsize = \"one\"\n", ""));
    let first = scene.run_well("plan quay-bag.job.toml --effort quick --layer fold --out out");
    let again = scene.run_well("plan again.job.toml --effort quick --layer fold --out again");
    // Pieces of a record are cut as they are, so no change of them is spoken of.
    let no_changes = |said: &str| -> Vec<String> {
        said.lines().filter(|line| !line.contains("plan --changes says")).map(str::to_owned).collect()
    };
    assert_eq!(no_changes(&again.stdout.replace("again/", "out/")), no_changes(&first.stdout));
    for role in ["main", "lining"] {
        let layouts = ["out", "again"].map(|folder| {
            let mut record = scene.json(&format!("{folder}/{role}.layout.json"));
            record["search"]["seconds"] = Value::Null;
            record
        });
        assert_eq!(layouts[0], layouts[1], "{role}");
    }
    // Looked at, drawn and fitted like any job.
    scene.run_well("check again.job.toml --out drawn --json once-more.pieces.json");
    assert_eq!(scene.json("once-more.pieces.json"), scene.json("altered.pieces.json"));
    scene.run_well("check altered.pieces.json");
    scene.run_well("fit again.job.toml");
    scene.run_well("compare again.job.toml --width 36in --effort quick");
}
