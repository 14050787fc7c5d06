//! Every demo pattern cut into the pages of a home printer and read back: the same pieces as from one sheet.

use ellwand_tests::Scene;
use serde_json::Value;

/// What reading may move a place by, mm.
const NEAR: f64 = 0.1;

/// And cutting lines so near, mm: a curve that a border parts is made of other short lines, within 0.1 mm of it either way, and an allowance
/// carries the difference of their directions outwards.
const NEAR_CUT: f64 = 0.3;

type Point = (f64, f64);

fn points(value: &Value) -> Vec<Point> {
    let pair = |p: &Value| (p[0].as_f64().expect("x"), p[1].as_f64().expect("y"));
    value.as_array().expect("a list of points").iter().map(pair).collect()
}

/// As seen from the lower left corner of an outline.
fn from_corner(points: &[Point], outline: &[Point]) -> Vec<Point> {
    let left = outline.iter().map(|p| p.0).fold(f64::MAX, f64::min);
    let low = outline.iter().map(|p| p.1).fold(f64::MAX, f64::min);
    points.iter().map(|p| (p.0 - left, p.1 - low)).collect()
}

fn to_side(p: Point, a: Point, b: Point) -> f64 {
    let (x, y) = (b.0 - a.0, b.1 - a.1);
    let square = x * x + y * y;
    let share = if square == 0.0 { 0.0 } else { ((p.0 - a.0) * x + (p.1 - a.1) * y) / square };
    let share = share.clamp(0.0, 1.0);
    (p.0 - a.0 - share * x).hypot(p.1 - a.1 - share * y)
}

/// How far the corners of one outline lie from the other at most.
fn apart(a: &[Point], b: &[Point]) -> f64 {
    let to_ring = |p: &Point| (0..b.len()).map(|k| to_side(*p, b[k], b[(k + 1) % b.len()])).fold(f64::MAX, f64::min);
    a.iter().map(to_ring).fold(0.0, f64::max)
}

fn piece<'r>(record: &'r Value, name: &str) -> &'r Value {
    let pieces = record["pieces"].as_array().expect("a list of pieces");
    pieces.iter().find(|piece| piece["piece"] == name).unwrap_or_else(|| panic!("no piece {name}"))
}

/// Reads a drawing as a pattern, and its pieces.
fn read_back(scene: &Scene, name: &str) -> Value {
    scene.run_well(&format!("read {name}.pdf --out {name}"));
    scene.run_well(&format!("check {name}/{name}.pattern.toml --json {name}.json"));
    scene.json(&format!("{name}.json"))
}

/// Cuts a pattern into pages and reads them.
fn assert_same_on_pages(pattern: &str) {
    let scene = Scene::empty();
    scene.write("garment.pattern.toml", pattern);
    scene.run_well("write garment.pattern.toml whole.pdf");
    let whole = read_back(&scene, "whole");
    for (paper, overlap) in [("a4", 0), ("letter", 0), ("a4", 10), ("letter", 10)] {
        let name = format!("{paper}-{overlap}");
        scene.run_well(&format!("write garment.pattern.toml {name}.pdf --tiles {paper} --overlap {overlap}"));
        let pages = read_back(&scene, &name);
        let wanted = whole["pieces"].as_array().expect("a list of pieces");
        assert_eq!(pages["pieces"].as_array().map(Vec::len), Some(wanted.len()), "{name}");
        for one in wanted {
            let called = one["piece"].as_str().expect("a name");
            let other = piece(&pages, called);
            assert_eq!(one["cut"], other["cut"], "{called} on {name}");
            let (a, b) = (points(&one["outline"]), points(&other["outline"]));
            let grain = [(one, &a), (other, &b)].map(|(of, outline)| from_corner(&points(&of["grainline"]), outline));
            let (a, b) = (from_corner(&a, &a), from_corner(&b, &b));
            let off = apart(&a, &b).max(apart(&b, &a));
            assert!(off < NEAR_CUT, "{called} on {name} is {off} mm off");
            let ends = grain[0].iter().zip(&grain[1]);
            assert!(
                ends.into_iter().all(|(p, q)| (p.0 - q.0).hypot(p.1 - q.1) < NEAR),
                "{called} on {name}: {grain:?}"
            );
        }
    }
}

#[test]
fn the_apron_is_the_same_on_pages() {
    assert_same_on_pages(include_str!("../../demo-data/apron/galley-apron.pattern.toml"));
}

#[test]
fn the_blouse_is_the_same_on_pages() {
    assert_same_on_pages(include_str!("../../demo-data/blouse/slipway.pattern.toml"));
}

#[test]
fn the_skirt_is_the_same_on_pages() {
    assert_same_on_pages(include_str!("../../demo-data/skirt/ferry-skirt.pattern.toml"));
}

#[test]
fn the_shirt_dress_is_the_same_on_pages() {
    assert_same_on_pages(include_str!("../../demo-data/shirt-dress/pilot-house.pattern.toml"));
}

#[test]
fn the_oversized_jacket_is_the_same_on_pages() {
    assert_same_on_pages(include_str!("../../demo-data/oversized-jacket/deckhand.pattern.toml"));
}

#[test]
fn the_jacket_is_the_same_on_pages() {
    assert_same_on_pages(include_str!("../../demo-data/jacket/harbour-watch.pattern.toml"));
}

#[test]
fn a_wrong_grid_is_refused_and_pages_are_for_pdf_alone() {
    let scene = Scene::empty();
    scene.write("garment.pattern.toml", include_str!("../../demo-data/apron/galley-apron.pattern.toml"));
    let run = scene.run("write garment.pattern.toml pages.svg --tiles a4");
    assert!(run.code != Some(0) && run.stderr.contains("only a PDF has pages"), "{}", run.stderr);
    scene.run_well("write garment.pattern.toml pages.pdf --tiles a4");
    scene.run_well("read pages.pdf --out pages");
    let pattern = scene.read("pages/pages.pattern.toml");
    assert!(pattern.contains("tiles = { columns = 8 }"), "{pattern}");
    for (wrong, said) in [
        ("{ columns = 8, trim = \"40 mm\" }", "look at columns, order, from, overlap and trim"),
        ("{ columns = 0 }", "count the pages of one row"),
        ("{ columns = 8, overlap = \"2 m\" }", "measure the strip on one page"),
        ("\"together\"", "apart"),
        ("{ columns = 8, order = \"row\" }", "rows"),
    ] {
        scene.write(
            "pages/pages.pattern.toml",
            &pattern.replace("tiles = { columns = 8 }", &format!("tiles = {wrong}")),
        );
        let run = scene.run("check pages/pages.pattern.toml");
        assert!(run.code != Some(0) && run.stderr.contains(said), "{wrong}: {}", run.stderr);
    }
}
