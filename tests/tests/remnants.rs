//! Remnants through the command: what is said, written and recorded of each.

use ellwand_tests::Scene;
use serde_json::Value;

const JOB: &str = include_str!("../src/quay-bag.job.toml");

/// The quay bag with remnants of its main cloth.
fn bag(remnants: &str) -> Scene {
    let scene = Scene::sound();
    scene.write("quay-bag.job.toml", &JOB.replacen("\n[fabric.lining]", &format!("\n{remnants}\n[fabric.lining]"), 1));
    scene
}

const THREE: &str = r#"
[[fabric.main.remnant]]
name = "chest"
coordinates = "in"
outline = [[0, 0], [58, 0], [58, 40], [50, 48], [0, 45]]

[[fabric.main.remnant]]
name = "sash"
length = "60 in"
width = "3 in"

[[fabric.main.remnant]]
name = "sheet"
length = "90 in"
width = "60 in"
"#;

#[test]
fn a_remnant_that_takes_everything_is_drawn_and_nothing_is_bought() {
    let scene = bag(THREE);
    let said = scene.run_well("plan quay-bag.job.toml --effort quick --fabric main --out out").stdout;
    assert!(said.contains("buy                   nothing: it is cut from the remnant \"chest\""), "{said}");
    assert!(said.contains("sash                  cannot fit: "), "{said}");
    assert!(said.contains("sheet                 fits: everything can be cut from it"), "{said}");
    for file in ["main-chest.layout.svg", "main-chest.layout.json", "main-chest.placing.txt", "main-sheet.layout.svg"] {
        assert!(scene.path(&format!("out/{file}")).is_file(), "{file}");
    }
    let record: Value = serde_json::from_str(&scene.read("out/main-chest.layout.json")).unwrap();
    assert_eq!(record["cloth"]["remnant"]["name"], "chest");
    assert_eq!(record["purchase"]["buy_text"], "nothing");
    assert_eq!(record["cloth"]["remnant"]["outline"].as_array().unwrap().len(), 5);
    let page = scene.read("out/report.html");
    assert!(page.contains("Remnants") && page.contains("cannot fit"), "the page tells of each");
    let list = scene.read("out/shopping.csv");
    assert!(list.lines().any(|line| line.contains(",cloth,main,0")), "{list}");
    // Again, and with another number of threads, the same.
    let json = |threads: &str| {
        scene
            .run_well(&format!("plan quay-bag.job.toml --effort quick --fabric main --json --threads {threads}"))
            .stdout
    };
    let [one, two] = ["1", "2"].map(|threads| serde_json::from_str::<Value>(&json(threads)).unwrap());
    assert_eq!(one["remnants"][0]["layout"]["cuts"], two["remnants"][0]["layout"]["cuts"]);
    let verdicts: Vec<&str> =
        one["remnants"].as_array().unwrap().iter().map(|one| one["verdict"].as_str().unwrap()).collect();
    assert_eq!(verdicts, ["fits", "cannot fit", "fits"]);
    assert_eq!(
        (&one["remnants"][0]["cut_from"], &one["remnants"][2]["cut_from"]),
        (&Value::Bool(true), &Value::Bool(false))
    );
}

#[test]
fn a_stash_beside_the_job_is_read() {
    let scene = Scene::sound();
    scene.write("quay-bag.job.toml", &JOB.replacen("\nunits", "\nstash = \"stash.toml\"\nunits", 1));
    let run = scene.run("plan quay-bag.job.toml --effort quick");
    assert!(run.code == Some(2) && run.stderr.contains("the stash \"stash.toml\" cannot be used"), "{}", run.stderr);
    let cloth = JOB.lines().find_map(|line| line.strip_prefix("name = \"").filter(|name| name.contains("canvas")));
    let cloth = cloth.expect("the bag is of canvas").trim_end_matches('"');
    scene.write("stash.toml", &format!("format = \"ellwand-remnants-1\"\n[[remnant]]\nname = \"old sail\"\ncloth = \"{cloth}\"\nlength = \"99 in\"\n"));
    let said = scene.run_well("plan quay-bag.job.toml --effort quick").stdout;
    assert!(said.contains("remnant \"old sail\""), "{said}");
}

#[test]
fn what_is_left_is_kept_for_the_next_job_and_nothing_else_is_written_over() {
    let scene = Scene::sound();
    let plan = "plan quay-bag.job.toml --effort quick --out out --leftovers kept.toml";
    let said = scene.run_well(plan).stdout;
    assert!(said.contains("Left over, across x along, kept in kept.toml:"), "{said}");
    let kept = scene.read("kept.toml");
    assert!(kept.starts_with("# Remnants") && kept.contains("name = \"Bag for the ferry 1\""), "{kept}");
    assert!(scene.read("out/main.layout.svg").contains("left over: across"), "the key names them");
    assert!(scene.read("out/report.html").contains("What is left"));
    // The same again changes nothing, and another job may be cut from it.
    scene.run_well(plan);
    assert_eq!(scene.read("kept.toml"), kept);
    let next = JOB.replacen("Bag for the ferry", "Purse", 1).replacen("\nunits", "\nstash = \"kept.toml\"\nunits", 1);
    scene.write("purse.job.toml", &next);
    let said = scene.run_well("plan purse.job.toml --effort quick").stdout;
    assert!(said.contains("Bag for the ferry 1"), "{said}");
    // What is no stash, or a damaged one, stays as it is, and nothing is planned for it.
    for (text, why) in
        [("format = \"ellwand-job-1\"\n", "it should be"), ("[[remnant]\n", "TOML"), (JOB, "it should be")]
    {
        scene.write("kept.toml", text);
        let run = scene.run(plan);
        assert!(run.code == Some(2) && run.stderr.contains(why) && run.stderr.contains("kept.toml"), "{}", run.stderr);
        assert_eq!(scene.read("kept.toml"), text);
    }
    // A folder that is not there cannot be written.
    let run = scene.run("plan quay-bag.job.toml --effort quick --leftovers kept.toml/more.toml");
    assert!(matches!(run.code, Some(2 | 3)), "{:?} {}", run.code, run.stderr);
}
