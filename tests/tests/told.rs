//! What the command says is what its records hold: the summary, the placing table and the comparison of widths, each figure worked out again
//! with arithmetic of this file alone.

use ellwand_tests::{JOB, PATTERN, Scene, placing_rows};
use serde_json::Value;

const INCH: f64 = 25.4;

/// The selvage, the price and what is lost in washing are those of the job; its pockets leave waste that no bound accounts for.
fn scene() -> Scene {
    Scene::with(JOB, &PATTERN.replace("{ from = \"main\", count = 2 }", "{ from = \"main\", count = 8 }"))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("{value} is no text"))
}

/// So many eighths of an inch as a tape says it.
fn eighths(count: f64) -> String {
    let count = count as i64;
    let (whole, rest) = (count / 8, count % 8);
    let part = match rest {
        0 => String::new(),
        4 => "1/2".into(),
        2 | 6 => format!("{}/4", rest / 2),
        _ => format!("{rest}/8"),
    };
    match (whole, part.as_str()) {
        (_, "") => format!("{whole} in"),
        (0, _) => format!("{part} in"),
        _ => format!("{whole} {part} in"),
    }
}

fn nearest(mm: f64) -> String {
    eighths((mm / INCH * 8.0).round())
}

fn up(mm: f64) -> String {
    eighths((mm / INCH * 8.0 - 1e-6).ceil())
}

fn down(mm: f64) -> String {
    eighths((mm / INCH * 8.0 + 1e-6).floor())
}

/// What stands behind a label of the summary of a cloth.
fn line<'t>(stdout: &'t str, role: &str, label: &str) -> &'t str {
    let of_cloth = stdout.lines().skip_while(|line| !line.starts_with(&format!("{role}: ")));
    let mut labelled = of_cloth.skip(1).take_while(|line| line.starts_with("  "));
    let line = labelled.find(|line| line.trim_start().starts_with(label));
    line.map_or_else(
        || panic!("no line `{label}` of {role} in:\n{stdout}"),
        |line| line.trim_start()[label.len()..].trim_start(),
    )
}

/// The share before a per cent sign.
fn per_cent(words: &str) -> f64 {
    let before = words.split(" %").next().and_then(|words| words.rsplit(' ').next()).expect("a number");
    before.parse::<f64>().unwrap_or_else(|_| panic!("{words}")) / 100.0
}

#[test]
fn the_summary_tells_what_the_record_holds() {
    for (way, lay) in [("open", "one open layer, right side up"), ("fold", "folded lengthwise down the middle")] {
        let scene = scene();
        // On this width neither way comes as short as its bound.
        scene.write("quay-bag.job.toml", &JOB.replace("width = \"30 in\"", "width = \"26 in\""));
        let run = scene.run_well(&format!("plan quay-bag.job.toml --effort quick --layer {way} --out out --explain"));
        let said = |label: &str| line(&run.stdout, "main", label);
        let record = scene.json("out/main.layout.json");
        let (length, bound) = (number(&record["length"]), number(&record["lower_bound"]));
        assert!(run.stdout.contains("\nmain: tarred canvas, 26 in wide\n"), "as bought:\n{}", run.stdout);
        assert!((number(&record["cloth"]["width"]) - 0.99 * 26.0 * INCH).abs() < 1e-9);

        let purchase = &record["purchase"];
        let bought = format!(
            "{} of tarred canvas, {} GBP at 12.50 GBP a yd",
            text(&purchase["buy_text"]),
            text(&purchase["cost"])
        );
        assert_eq!(said("buy"), bought);
        assert_eq!(said("layout"), lay);
        let lost = (length + 2.0 * INCH) / 0.97 * 0.03;
        let used = format!("{} used + 2 in for straightening the ends + {} for shrinkage", up(length), nearest(lost));
        assert_eq!(said("length"), used);

        assert!(bound < length - 1.0, "waste that no bound accounts for");
        let gain = said("room for improvement");
        assert!((per_cent(gain) - (1.0 - bound / length)).abs() <= 0.000_5 + 1e-9, "{gain}, {bound} of {length}");
        let reason = format!("; no layout is shorter than {}: {}", down(bound), text(&record["lower_bound_reason"]));
        assert!(gain.starts_with("at most ") && gain.ends_with(&reason), "{gain}");
    }
}

#[test]
fn of_two_ways_the_shorter_is_taken_and_the_other_told() {
    let scene = scene();
    let run = scene.run_well("plan quay-bag.job.toml --effort quick --layer either --fabric main --out either");
    let taken = scene.json("either/main.layout.json");
    scene.run_well("plan quay-bag.job.toml --effort quick --layer fold --fabric main --out fold --quiet");
    let folded = scene.json("fold/main.layout.json");
    let is_folded = !taken["cloth"]["folds"].as_array().expect("folds").is_empty();
    assert!(number(&taken["length"]) <= number(&folded["length"]) + 1e-9);
    if is_folded {
        assert_eq!(taken["length"], folded["length"]);
        line(&run.stdout, "main", "if open");
    } else {
        let other = format!("{} used, buy {}, ", up(number(&folded["length"])), text(&folded["purchase"]["buy_text"]));
        let told = line(&run.stdout, "main", "if folded");
        assert!(told.starts_with(&other) && told.ends_with(" to cut"), "{told}");
    }
    // The bound is that of the loosest way allowed, and the one layout may not be below it.
    assert!(number(&taken["lower_bound"]) <= number(&folded["length"]) + 1e-9);
}

#[test]
fn what_is_at_home_is_told_and_paid_for_by_nobody() {
    let job = JOB.replace("price = \"4.20\"", "on_hand = \"1 yd\"");
    let scene = Scene::with(&job, PATTERN);
    let run = scene.run_well("plan quay-bag.job.toml --effort quick --out out");
    let main = text(&scene.json("out/main.layout.json")["purchase"]["cost"]).to_owned();
    assert!(run.stdout.contains(&format!("\nTotal {main} GBP\n")), "{main}:\n{}", run.stdout);
    let plan = scene.run_well("plan quay-bag.job.toml --effort quick --json").stdout;
    let plan: Value = serde_json::from_str(&plan).expect("JSON");
    assert_eq!(plan["total"], Value::from(main));
    // Short by what washing and the ends take, too: the layout alone would do with it.
    let length = number(&scene.json("out/main.layout.json")["length"]);
    let have = up(length + 3.0);
    let job = JOB.replace("price = \"12.50\"", &format!("price = \"12.50\"\non_hand = \"{have}\""));
    let scene = Scene::with(&job, PATTERN);
    let run = scene.run_well("plan quay-bag.job.toml --effort quick --fabric main --out out");
    let record = scene.json("out/main.layout.json");
    let needed = (number(&record["length"]) + 2.0 * INCH) / 0.97;
    let short = needed - number(&record["cloth"]["on_hand"]);
    assert!((number(&record["purchase"]["needed"]) - needed).abs() < 1e-6);
    assert_eq!(record["purchase"]["on_hand"]["enough"], false);
    assert!((number(&record["purchase"]["on_hand"]["spare"]) + short).abs() < 1e-6);
    let said = line(&run.stdout, "main", "on hand");
    assert!(
        said.ends_with(&format!("is {} too short, and a layout is cut from one piece", up(short))),
        "{said}, {short} mm"
    );
}

#[test]
fn options_reach_the_search() {
    let scene = Scene::sound();
    for effort in ["quick", "normal", "thorough"] {
        scene.run_well(&format!("plan quay-bag.job.toml --fabric lining --effort {effort} --seed 7 --quiet --out out"));
        let search = &scene.json("out/lining.layout.json")["search"];
        assert_eq!((&search["effort"], &search["seed"]), (&effort.into(), &7.into()));
    }
    scene.run_well("plan quay-bag.job.toml --effort quick --layer fold --quiet --out out");
    for role in ["main", "lining"] {
        let record = scene.json(&format!("out/{role}.layout.json"));
        assert_eq!(record["cloth"]["folds"].as_array().expect("folds").len(), 1, "{role}");
    }
}

/// How a cut came from its piece: mirrored, then turned.
fn moved(cut: &Value, v: [f64; 2]) -> [f64; 2] {
    let x = if cut["mirrored"] == true { -v[0] } else { v[0] };
    let (sin, cos) = number(&cut["turned_deg"]).to_radians().sin_cos();
    [x * cos - v[1] * sin, x * sin + v[1] * cos]
}

fn pair(value: &Value) -> [f64; 2] {
    [number(&value[0]), number(&value[1])]
}

#[test]
fn every_cut_is_its_piece_mirrored_and_turned_as_the_record_says() {
    let scene = Scene::with(&JOB.replace("nap = \"without\"", "nap = \"without\"\noff_grain = \"1 deg\""), PATTERN);
    scene.run_well("plan quay-bag.job.toml --effort quick --layer open --fabric main --quiet --out out");
    scene.run_well("check quay-bag.job.toml --quiet --json pieces.json");
    let (record, pieces) = (scene.json("out/main.layout.json"), scene.json("pieces.json"));
    let front = &pieces["pieces"][0];
    assert!(number(&front["grainline"][0][1]) < number(&front["grainline"][1][1]), "the low end first, as drawn");
    for cut in record["cuts"].as_array().expect("cuts") {
        let of = |piece: &&Value| piece["piece"] == cut["piece"];
        let piece = pieces["pieces"].as_array().and_then(|all| all.iter().find(of)).expect("its piece");
        let low = pair(&piece["grainline"][0]);
        let at = pair(&cut["grainline"][0]);
        let to_cloth = |p: [f64; 2]| {
            let by = moved(cut, [p[0] - low[0], p[1] - low[1]]);
            [at[0] + by[0], at[1] + by[1]]
        };
        let near = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-6;
        assert!(near(to_cloth(pair(&piece["grainline"][1])), pair(&cut["grainline"][1])), "{cut}");
        let outline: Vec<[f64; 2]> = cut["outline"].as_array().expect("points").iter().map(pair).collect();
        let corners = piece["outline"].as_array().expect("points");
        assert_eq!(corners.len(), outline.len());
        for corner in corners {
            let there = to_cloth(pair(corner));
            assert!(outline.iter().any(|&p| near(p, there)), "{corner} of {cut}");
        }
        for (name, point) in piece["points"].as_object().expect("points") {
            assert!(near(to_cloth(pair(point)), pair(&cut["points"][name])), "{name} of {cut}");
        }
    }
}

/// Nothing for a piece cut once; a, b, c for copies of which the points tell no side.
fn copy_name(cut: &Value, cuts: &[Value]) -> String {
    let copies = cuts.iter().filter(|other| other["piece"] == cut["piece"]).count();
    let copy = cut["copy"].as_u64().expect("a number") as u8;
    if copies < 2 { String::new() } else { char::from(b'a' + copy - 1).to_string() }
}

#[test]
fn the_placing_table_is_measured_on_the_cuts_of_the_record() {
    for way in ["open", "fold"] {
        let job = JOB.replace("nap = \"without\"", "nap = \"without\"\noff_grain = \"1 deg\"");
        let scene = Scene::with(&job, &scene().read("quay-bag.pattern.toml"));
        scene.run_well(&format!("plan quay-bag.job.toml --effort quick --layer {way} --fabric main --quiet --out out"));
        let (record, table) = (scene.json("out/main.layout.json"), scene.read("out/main.placing.txt"));
        let width = number(&record["cloth"]["width"]);
        let fold = record["cloth"]["folds"][0]["at"].as_f64();
        let cuts = record["cuts"].as_array().expect("cuts");
        let mut edges: Vec<String> = Vec::new();
        for cut in cuts {
            let is_it = |row: &Vec<String>| row[1] == text(&cut["piece"]) && row[2] == copy_name(cut, cuts);
            let rows = placing_rows(&table);
            let row = rows.iter().find(|row| is_it(row)).unwrap_or_else(|| panic!("{cut} in:\n{table}"));
            let [low, high] = [pair(&cut["grainline"][0]), pair(&cut["grainline"][1])];
            let from = |x: f64| match row[4].as_str() {
                "left edge" => x,
                "right edge" => width - x,
                "fold" => (x - fold.expect("a fold")).abs(),
                other => panic!("{other}"),
            };
            assert_eq!(row[5..7], [nearest(from(low[0])), nearest(from(high[0]))], "{cut}");
            let middle = (low[0] + high[0]) / 2.0;
            // What is cut folded is measured from its fold, and what is cut from one open layer from the nearer edge.
            if row.get(8).is_some_and(|layer| layer != "one") {
                assert_eq!(row[4], "fold", "{row:?}");
            } else {
                assert!(from(middle) <= middle.min(width - middle) + 1e-6, "from the nearer edge: {row:?}");
            }
            assert_eq!(row[7], nearest(low[1]), "the low end of the grainline from the cut end: {cut}");
            if cut["piece"] == "Pocket" {
                let face = if cut["mirrored"] == true { "face down" } else { "face up" };
                let turn = number(&cut["turned_deg"]);
                let turned = if (90.0..270.0).contains(&turn) { ", top down" } else { "" };
                let tilt = ((turn - (turn / 180.0).round() * 180.0) * 10.0).round() / 10.0;
                let tilted = match tilt {
                    0.0 => String::new(),
                    tilt if tilt > 0.0 => format!(", tilted {tilt}° anticlockwise"),
                    tilt => format!(", tilted {}° clockwise", -tilt),
                };
                assert_eq!(row[3], format!("{face}{turned}{tilted}"), "{cut}");
            }
            edges.push(row[4].clone());
        }
        let other = if way == "fold" { "fold" } else { "right edge" };
        assert!(edges.iter().any(|edge| edge == other), "{edges:?}");
    }
}

#[test]
fn each_row_of_a_comparison_is_the_plan_of_that_width() {
    let scene = scene();
    let compare = "compare quay-bag.job.toml --effort quick --fabric main --width 45in,36in";
    let table = scene.run_well(compare).stdout;
    let json: Value = serde_json::from_str(&scene.run_well(&format!("{compare} --json")).stdout).expect("JSON");
    let rows = json["widths"].as_array().expect("rows");
    assert_eq!(rows.len(), 2);
    for (row, width) in rows.iter().zip([36, 45]) {
        scene.write("width.job.toml", &JOB.replacen("width = \"30 in\"", &format!("width = \"{width} in\""), 1));
        scene.run_well("plan width.job.toml --effort quick --fabric main --quiet --out out");
        let record = scene.json("out/main.layout.json");
        assert_eq!(number(&row["width"]), f64::from(width) * INCH);
        for (field, planned) in [
            ("length", &record["length"]),
            ("lower_bound", &record["lower_bound"]),
            ("buy", &record["purchase"]["buy"]),
            ("buy_text", &record["purchase"]["buy_text"]),
            ("cost", &record["purchase"]["cost"]),
            ("currency", &record["purchase"]["currency"]),
        ] {
            assert_eq!(&row[field], planned, "{field} at {width} in");
        }
        let (length, bound) = (number(&row["length"]), number(&row["lower_bound"]));
        let line = table.lines().find(|line| line.contains(&format!(" {width} in "))).expect("a row of the table");
        let columns: Vec<&str> = line.split("  ").map(str::trim).filter(|word| !word.is_empty()).collect();
        let cost = format!("{} GBP", text(&row["cost"]));
        assert_eq!(columns[2..6], [text(&row["layers"]), &up(length), text(&row["buy_text"]), &cost]);
        let gap = if bound >= length * (1.0 - 1e-6) { 0.0 } else { 1.0 - bound / length };
        assert!((per_cent(columns[6]) - gap).abs() <= 0.000_5 + 1e-9, "{columns:?}, {gap}");
    }
}
