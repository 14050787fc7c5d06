//! Layouts at full size: what is on their pages is what is cut, as large as it is cut, and is called as the sheet and the cutting list call it.

mod on_paper;

use std::fs;

use ellwand_tests::Scene;
use ellwand_vector::Limits;

use on_paper::{NEAR, Point, demo, is_cutting_line, length, points, read, ring};

/// A file of the printed layout of the main cloth, which is called by its job.
fn layout_file(scene: &Scene, ending: &str) -> String {
    let record = scene.json("out/main.layout.json");
    let job = record["job"].as_str().expect("a name").to_lowercase();
    let words: Vec<&str> = job.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    format!("paper/{}.main.layout-{ending}", words.join("-"))
}

fn area(ring: &[Point]) -> f64 {
    let turn = |k: usize| {
        let (a, b) = (ring[k], ring[(k + 1) % ring.len()]);
        a.0 * b.1 - b.0 * a.1
    };
    ((0..ring.len()).map(turn).sum::<f64>() / 2.0).abs()
}

#[test]
fn a_layout_is_as_large_as_its_cloth() {
    let scene = Scene::empty();
    scene.run_well(&format!("plan {} --effort quick --out out", demo("apron/ticking.job.toml")));
    let record = scene.json("out/main.layout.json");
    scene.run_well("print out/main.layout.json --projector --paper 60in --out paper");
    let drawing = read(&scene.path(&layout_file(&scene, "projector.pdf")));
    let said: Vec<&str> = drawing.sheets[0].texts.iter().map(|text| text.content.as_str()).collect();
    let name = record["job"].as_str().expect("a name");
    assert!(said.contains(&name), "the page is of a job: {said:?}");
    assert!(said.iter().any(|text| text.starts_with("cutting layout, main, view A, ")), "{said:?}");
    let mut expected: Vec<f64> =
        record["cuts"].as_array().expect("cuts").iter().map(|cut| area(&ring(&cut["outline"]))).collect();
    let mut found: Vec<f64> = (drawing.sheets[0].strokes.iter())
        .filter(|stroke| stroke.closed && (stroke.style.width - 1.2).abs() < 0.01 && stroke.style.dash.is_empty())
        .map(|stroke| area(&points(stroke)))
        .filter(|area| (area - 101.6 * 101.6).abs() > 1.0)
        .collect();
    expected.sort_by(f64::total_cmp);
    found.sort_by(f64::total_cmp);
    assert_eq!(expected.len(), found.len());
    assert!(expected.iter().zip(&found).all(|(a, b)| (a - b).abs() < 1e-3 * a), "{expected:?} {found:?}");
}

#[test]
fn a_layout_says_what_its_sheet_and_cutting_list_say() {
    let scene = Scene::empty();
    scene.run_well(&format!("plan {} --effort quick --out out", demo("skirt/denim-lined.job.toml")));
    scene.run_well("print out/main.layout.json --projector --out paper");
    let page = read(&scene.path(&layout_file(&scene, "projector.pdf")));
    let said: Vec<&str> = page.sheets[0].texts.iter().map(|text| text.content.as_str()).collect();
    let list = fs::read_to_string(scene.path("out/main.placing.txt")).expect("a placing table");
    let mut face_down = 0;
    for row in list.lines().filter(|row| row.starts_with(|c: char| c.is_ascii_digit())) {
        let cells: Vec<&str> = row.split("  ").map(str::trim).filter(|cell| !cell.is_empty()).collect();
        let has_copy = !cells[2].starts_with("face") && !cells[2].starts_with("on the fold");
        let name = if has_copy {
            format!("{} {} {}", cells[0], cells[2], cells[1])
        } else {
            format!("{} {}", cells[0], cells[1])
        };
        assert!(said.iter().any(|text| *text == name || text.starts_with(&format!("{name},"))), "{name}: {said:?}");
        face_down += usize::from(row.contains("face down"));
    }
    assert!(face_down > 1, "{list}");
    assert_eq!(said.iter().filter(|text| text.contains("face down")).count(), face_down, "{said:?}");
    assert!(["cut end", "left edge", "fold of the cloth"].iter().all(|words| said.contains(words)), "{said:?}");
    // An arrow head a grainline, at its upper end.
    let record = scene.json("out/main.layout.json");
    let cuts = record["cuts"].as_array().expect("cuts").len();
    let heads = page.sheets[0].strokes.iter().filter(|stroke| stroke.style.line.is_none() && stroke.runs.len() < 4);
    assert!(heads.count() >= cuts, "{cuts} cuts");
}

#[test]
fn a_layout_is_as_large_as_its_cloth_in_svg_too() {
    let scene = Scene::empty();
    scene.run_well(&format!("plan {} --effort quick --out out", demo("blouse/lawn.job.toml")));
    let record = scene.json("out/main.layout.json");
    scene.run_well("print out/main.layout.json --svg --paper 70in --projector --out paper");
    let bytes = fs::read(scene.path(&layout_file(&scene, "70in.svg"))).expect("an SVG");
    let drawing = ellwand_vector::read(&bytes, &Limits::default()).expect("a sound SVG");
    let sheet = &drawing.sheets[0];
    assert!((sheet.size.expect("a size")[0] - 70.0 * 25.4).abs() < 0.01, "{:?}", sheet.size);
    let mut drawn: Vec<f64> = (sheet.strokes.iter())
        .filter(|stroke| is_cutting_line(stroke) && stroke.closed)
        .map(|stroke| length(&points(stroke), true))
        .collect();
    for cut in record["cuts"].as_array().expect("cuts") {
        let expected = length(&ring(&cut["outline"]), true);
        let near = drawn.iter().position(|found| (found - expected).abs() < NEAR);
        let at = near.unwrap_or_else(|| panic!("{}: {expected} mm, drawn are {drawn:?}", cut["piece"]));
        drawn.remove(at);
    }
    assert!(drawn.is_empty(), "{drawn:?}");
    assert!(
        scene.path(&layout_file(&scene, "projector.svg")).exists()
            && !scene.path(&layout_file(&scene, "70in.pdf")).exists()
    );
}
