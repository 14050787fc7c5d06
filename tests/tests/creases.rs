//! Cloth at home with an old fold that does not press out.

use ellwand_tests::Scene;
use serde_json::Value;

const JOB: &str = include_str!("../src/quay-bag.job.toml");

/// The quay bag from cloth laid in some way, with more keys.
fn bag(layout: &str, keys: &str) -> Scene {
    let scene = Scene::sound();
    let told = JOB.replacen("layout = \"either\"", &format!("layout = \"{layout}\"\n{keys}"), 1);
    scene.write("quay-bag.job.toml", &told);
    scene
}

#[test]
fn no_piece_lies_over_an_old_fold_in_any_way_of_laying() {
    // What washing leaves of 25 in.
    let crease = 25.0 * 25.4 * 0.99;
    for way in ["open", "centre fold", "off centre", "any"] {
        let scene = bag(way, "on_hand = \"3 yd\"\ncreases = [\"25 in\"]");
        let plan = scene.run_well("plan quay-bag.job.toml --effort quick --fabric main --json");
        let plan: Value = serde_json::from_str(&plan.stdout).unwrap();
        let layout = &plan["layouts"][0];
        let cuts = layout["cuts"].as_array().unwrap();
        assert!(!cuts.is_empty(), "{way}");
        for cut in cuts {
            let across: Vec<f64> =
                cut["outline"].as_array().unwrap().iter().map(|corner| corner[0].as_f64().unwrap()).collect();
            let crosses = across.iter().any(|&x| x < crease) && across.iter().any(|&x| x > crease);
            assert!(!crosses, "{way}: {} lies over the crease", cut["piece"]);
        }
    }
}

#[test]
fn an_old_fold_is_drawn_as_far_as_the_layout_goes_and_named_in_the_key() {
    let scene = bag("any", "on_hand = \"3 yd\"\ncreases = [\"25 in\"]");
    scene.run_well("plan quay-bag.job.toml --effort quick --fabric main --out out");
    assert!(scene.read("out/main.layout.svg").contains("flaw or old crease"));
    let far = bag("any", "on_hand = \"9 yd\"\nflaws = [{ at = [\"2 in\", \"300 in\"], size = [\"1 in\", \"1 in\"] }]");
    far.run_well("plan quay-bag.job.toml --effort quick --fabric main --out out");
    assert!(!far.read("out/main.layout.svg").contains("flaw or old crease"), "it lies beyond the layout");
}

/// Why there is no plan.
fn refused(scene: &Scene) -> String {
    let told = scene.run("plan quay-bag.job.toml --effort quick --fabric main");
    assert_eq!(told.code, Some(2));
    told.stderr
}

#[test]
fn creases_are_of_cloth_at_home() {
    let told = refused(&bag("any", "creases = [\"15 in\"]"));
    assert!(told.contains("say how long it is with `on_hand`"), "{told}");
}

#[test]
fn what_has_no_room_beside_an_old_fold_is_named_with_what_would_do() {
    // The front goes on the fold, which is where the bolt was folded.
    let told = refused(&bag("centre fold", "on_hand = \"3 yd\"\ncreases = [\"15 in\"]"));
    assert!(told.contains("\"Front\" is") && told.contains("leave 0 in around the fold"), "{told}");
    assert!(told.contains("lay another cloth: of a new one leave out `creases` and `on_hand`"), "{told}");
    // Laid in any way it goes on no fold: whole, it is wider than either side.
    let any = bag("any", "on_hand = \"3 yd\"\ncreases = [\"15 in\"]");
    let told = refused(&any);
    assert!(told.contains("\"Front\" is") && !told.contains("lay the cloth open"), "{told}");
    // Cloth of another width is another cloth.
    let compared = any.run_well("compare quay-bag.job.toml --effort quick --fabric main --width 45in");
    assert!(compared.stdout.contains("45 in"), "{}", compared.stdout);
    // What is too wide for the whole cloth is not told of its creases.
    let job = any.read("quay-bag.job.toml").replacen("width = \"30 in\"", "width = \"12 in\"", 1);
    any.write("quay-bag.job.toml", &job.replacen("15 in", "2 in", 1));
    let told = refused(&any);
    assert!(told.contains("use cloth at least") && !told.contains("old creases"), "{told}");
}
