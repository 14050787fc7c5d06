//! The layouts that the command writes for two demo garments, looked through for pieces that overlap and cutting lines that touch
//! themselves, by exact arithmetic that shares nothing with planner and checker.

use ellwand_judge::{Point, Shape, area, clearance};
use ellwand_tests::Scene;
use serde_json::Value;

fn outline(cut: &Value) -> Vec<Point> {
    let pair = |p: &Value| (p[0].as_f64().expect("x"), p[1].as_f64().expect("y"));
    cut["outline"].as_array().expect("a list of points").iter().map(pair).collect()
}

fn bounds(ring: &[Point]) -> [f64; 4] {
    ring.iter().fold([f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY], |[l, b, r, t], &(x, y)| {
        [l.min(x), b.min(y), r.max(x), t.max(y)]
    })
}

fn assert_apart(scene: &Scene, fabric: &str) {
    let record = scene.json(&format!("out/{fabric}.layout.json"));
    let cuts: Vec<(String, Vec<Point>)> = (record["cuts"].as_array().expect("a list of cuts").iter())
        .map(|cut| (format!("{} {}", cut["piece"], cut["copy"]), outline(cut)))
        .collect();
    assert!(cuts.len() > 4, "{fabric} has {} cuts", cuts.len());
    let (length, width) =
        (record["length"].as_f64().expect("a length"), record["cloth"]["width"].as_f64().expect("a width"));
    for (name, ring) in &cuts {
        let clear = clearance(ring);
        assert!(clear >= 1e-4, "the cutting line of {name} comes within {clear} mm of itself");
        assert!(area(ring) > 0.0, "{name} runs clockwise");
        let [left, low, right, top] = bounds(ring);
        assert!(
            left >= -1e-3 && low >= -1e-3 && right <= width + 1e-3 && top <= length + 1e-3,
            "{name} is off the cloth"
        );
    }
    let shapes: Vec<Shape> = cuts.iter().map(|(_, ring)| Shape::of(ring)).collect();
    let mut compared = 0;
    for (k, (name, ring)) in cuts.iter().enumerate() {
        let [l, b, r, t] = bounds(ring);
        for (m, (other_name, other)) in cuts.iter().enumerate().skip(k + 1) {
            let [ol, ob, or, ot] = bounds(other);
            if l < or && ol < r && b < ot && ob < t {
                compared += 1;
                let shared = shapes[k].common(&shapes[m]);
                assert!(!shared.is_overlap(), "{fabric}: {name} and {other_name} have {shared:?} in common");
            }
        }
    }
    assert!(compared > 0, "some pieces of {fabric} lie close enough to be compared");
}

#[test]
fn pieces_of_the_dress_do_not_overlap() {
    let scene = Scene::garment(
        include_str!("../../demo-data/shirt-dress/chambray.job.toml"),
        include_str!("../../demo-data/shirt-dress/pilot-house.pattern.toml"),
    );
    scene.run_well("plan garment.job.toml --fabric main --effort quick --out out");
    assert_apart(&scene, "main");
}

#[test]
fn pieces_of_the_skirt_do_not_overlap() {
    let scene = Scene::garment(
        include_str!("../../demo-data/skirt/winter-market.job.toml"),
        include_str!("../../demo-data/skirt/ferry-skirt.pattern.toml"),
    );
    scene.run_well("plan garment.job.toml --fabric main --effort quick --out out");
    assert_apart(&scene, "main");
}
