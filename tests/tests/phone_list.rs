//! The list for a phone: short lines, every cut once, and the distances of the placing table, on open and on folded cloth.

use std::collections::BTreeMap;

use ellwand_tests::{JOB, PATTERN, Scene, placing_rows};

/// Letters that 360 pixels show in a line.
const NARROW: usize = 40;

/// What is said of a piece, by its number and copy.
type Rows = BTreeMap<(String, String), Vec<String>>;

fn scene() -> Scene {
    // Pockets lie on either side of the fold and beside it.
    Scene::with(
        JOB,
        &PATTERN.replace("{ from = \"main\", count = 2 }", "{ from = \"main\", count = 7, hands = \"any\" }"),
    )
}

/// The rows of a placing table by number and copy.
fn table(text: &str) -> Rows {
    placing_rows(text).into_iter().map(|row| ((row[0].clone(), row[2].clone()), row)).collect()
}

/// The rows of a list, what is said of both layers under either copy.
fn list(text: &str) -> Vec<((String, String), Vec<String>)> {
    let mut rows = Vec::new();
    for block in text.split("\n\n").filter(|block| block.starts_with("[ ] ")) {
        let mut lines: Vec<String> = Vec::new();
        for line in block.lines() {
            // A line that goes on is deeper.
            match lines.last_mut().filter(|_| line.starts_with("      ")) {
                Some(last) => last.push_str(&format!(" {}", line.trim())),
                None => lines.push(line.trim().to_owned()),
            }
        }
        let heading = lines.remove(0);
        let (named, _) = heading.trim_start_matches("[ ] ").split_once("  ").expect("number and name");
        let (number, copies) = named.split_once(' ').unwrap_or((named, ""));
        rows.extend(copies.split(" + ").map(|copy| ((number.to_owned(), copy.to_owned()), lines.clone())));
    }
    rows
}

#[test]
fn the_list_has_every_cut_once_with_the_distances_of_the_table_in_short_lines() {
    for way in ["open", "fold"] {
        let scene = scene();
        scene.run_well(&format!("plan quay-bag.job.toml --effort quick --layer {way} --fabric main --quiet --out out"));
        let text = scene.read("out/main.placing-phone.txt");
        for line in text.lines() {
            assert!(line.chars().count() <= NARROW, "`{line}`");
        }
        let (table, list) = (table(&scene.read("out/main.placing.txt")), list(&text));
        let mut named: Vec<&(String, String)> = list.iter().map(|(name, _)| name).collect();
        named.sort();
        assert_eq!(named, table.keys().collect::<Vec<_>>(), "{text}");
        for (name, lines) in &list {
            let row = &table[name];
            let (from, low, high, up) = (&row[4], &row[5], &row[6], &row[7]);
            let says = |line: String| assert!(lines.contains(&line), "`{line}` of {name:?} in {lines:?}");
            says(format!("low end {up} from cut end"));
            if low != high {
                says(format!("low end {low} from {from}"));
                says(format!("high end {high} from {from}"));
            } else if low != "0 in" {
                says(format!("both ends {low} from {from}"));
            }
            if way == "open" {
                assert!(lines.contains(&row[3]), "{row:?} and {lines:?}");
                assert_eq!(row.len(), 8);
                continue;
            }
            let layer = row[8].as_str();
            let both = lines.iter().find(|line| line.starts_with("both layers: "));
            let (layer, side) = layer.split_once(", ").unwrap_or((layer, ""));
            assert_eq!(
                side,
                match layer {
                    "upper" => "right of fold",
                    "lower" => "left of fold",
                    _ => "",
                },
                "{row:?}"
            );
            match layer {
                "upper" => assert!(both.is_some_and(|line| line.contains(&format!(" {} above", name.1))), "{lines:?}"),
                "lower" => assert!(both.is_some_and(|line| line.contains(&format!(" {} below", name.1))), "{lines:?}"),
                "both" => assert!(lines.iter().any(|line| line.starts_with("on the fold")), "{lines:?}"),
                "one" => assert!(lines.contains(&"from one layer".to_owned()), "{lines:?}"),
                other => panic!("{other}"),
            }
        }
        let layers: Vec<&str> = table.values().filter_map(|row| row.get(8)).map(String::as_str).collect();
        let expected: &[&str] = if way == "fold" { &["upper", "lower", "one"] } else { &[] };
        assert!(expected.iter().all(|layer| layers.iter().any(|said| said.starts_with(layer))), "{layers:?}");
    }
}

/// Rows go away from the cut end: who lays them one after the other never goes back.
#[test]
fn the_list_is_printed_on_request_in_the_order_of_laying() {
    let scene = scene();
    let run =
        scene.run_well("plan quay-bag.job.toml --effort quick --layer open --fabric main --quiet --list --out out");
    assert_eq!(run.stdout.trim(), scene.read("out/main.placing-phone.txt").trim());
    let record = scene.json("out/main.layout.json");
    let cuts = record["cuts"].as_array().expect("cuts");
    let lowest = |cut: &serde_json::Value| {
        let corners = cut["outline"].as_array().expect("corners");
        corners.iter().map(|p| p[1].as_f64().expect("a number")).fold(f64::INFINITY, f64::min)
    };
    let mut pieces: Vec<(f64, &str)> =
        cuts.iter().map(|cut| (lowest(cut), cut["piece"].as_str().expect("a name"))).collect();
    pieces.sort_by(|a, b| a.0.total_cmp(&b.0));
    let headings: Vec<&str> = run.stdout.lines().filter(|line| line.starts_with("[ ] ")).collect();
    assert_eq!(headings.len(), pieces.len());
    for (heading, (_, piece)) in headings.iter().zip(&pieces) {
        assert!(heading.ends_with(&format!("  {piece}")), "{headings:?} and {pieces:?}");
    }
}

#[test]
fn what_becomes_bias_strips_or_is_joined_says_so_on_every_list_and_in_the_record() {
    let job = include_str!("../../demo-data/quay-skirt/lawn.job.toml");
    let scene = Scene::garment(job, include_str!("../../demo-data/quay-skirt/quay-skirt.pattern.toml"));
    let run = scene.run_well("plan garment.job.toml --effort quick --out out");
    assert!(run.stderr.contains("at 45 degrees"), "{}", run.stderr);
    let flat = |name: &str| scene.read(name).split_whitespace().collect::<Vec<_>>().join(" ");
    for name in ["out/main.placing.txt", "out/main.placing-phone.txt", "out/report.html"] {
        let text = flat(name);
        assert!(text.contains("4 bias strips 2 in wide, 3 joins"), "{name}: {text}");
        assert!(text.contains("3 strips, joined end to end"), "{name}: {text}");
    }
    assert!(scene.read("out/main.layout.svg").contains("bias strips"));
    let record = scene.json("out/main.layout.json");
    let binding = record["asked"].as_array().unwrap().iter().find(|asked| asked["piece"] == "Waist binding").unwrap();
    assert_eq!(binding["strips"]["joined"], "bias");
    assert_eq!(binding["strips"]["count"], 4);
}
