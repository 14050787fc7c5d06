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

#[test]
fn what_has_room_is_cut_from_several_and_the_rest_is_bought() {
    let scene = Scene::sound();
    scene.write("galley-apron.pattern.toml", include_str!("../../demo-data/apron/galley-apron.pattern.toml"));
    scene.write("scraps.job.toml", include_str!("../../demo-data/apron/scraps.job.toml"));
    let plan = "plan scraps.job.toml --effort quick --fabric main";
    let said = scene.run_well(&format!("{plan} --out out --leftovers kept.toml")).stdout;
    let (from_remnants, bought) = said.split_once("main: blue ticking, 45 in wide").expect("the rest is bought");
    assert!(
        from_remnants.contains("nothing: it is cut from the remnant \"") && bought.contains("yd of blue ticking"),
        "{said}"
    );
    assert!(said.contains("; cut from it: ") && said.contains("without remnants"), "{said}");
    // What is bought is on the list, and what is at home is called by its remnant.
    let list = scene.read("out/shopping.txt");
    assert!(list.contains("[ ] ") && list.contains("the remnant"), "{list}");
    let told: Value = serde_json::from_str(&scene.run_well(&format!("{plan} --json")).stdout).unwrap();
    let layouts = told["layouts"].as_array().unwrap();
    let used: Vec<&Value> = told["remnants"].as_array().unwrap().iter().filter(|one| one["cut_from"] == true).collect();
    assert_eq!(layouts.len(), used.len() + 1);
    // Every copy is cut once, from one of them.
    let mut copies: Vec<String> = Vec::new();
    for layout in layouts {
        copies.extend(layout["cuts"].as_array().unwrap().iter().map(|cut| format!("{} {}", cut["piece"], cut["copy"])));
    }
    let all = copies.len();
    copies.sort();
    copies.dedup();
    assert_eq!(copies.len(), all);
    let parts = layouts.iter().flat_map(|layout| layout["asked"].as_array().unwrap());
    let asked: u64 = parts
        .clone()
        .map(|asked| asked["copies"].as_array().map_or(asked["count"].as_u64().unwrap(), |copies| copies.len() as u64))
        .sum();
    assert_eq!(asked, all as u64);
    // The stash has them as used, and what is left of each.
    let other = scene.read("kept.toml");
    assert!(other.contains("job = \"Apron from scraps\""), "{other}");
}

#[test]
fn of_jobs_that_keep_what_is_left_at_once_none_is_lost() {
    let scene = Scene::sound();
    let names = ["Bag one", "Bag two", "Bag three", "Bag four"];
    for (k, name) in names.iter().enumerate() {
        scene.write(&format!("{k}.job.toml"), &JOB.replacen("Bag for the ferry", name, 1));
    }
    std::thread::scope(|scope| {
        for k in 0..names.len() {
            let scene = &scene;
            scope.spawn(move || scene.run_well(&format!("plan {k}.job.toml --effort quick --leftovers kept.toml")));
        }
    });
    let kept = scene.read("kept.toml");
    assert!(names.iter().all(|name| kept.contains(&format!("job = \"{name}\""))), "{kept}");
}

#[test]
fn one_piece_of_cloth_is_not_left_to_two_jobs() {
    let scene = Scene::sound();
    scene.run_well("plan quay-bag.job.toml --effort quick --leftovers kept.toml");
    let kept = scene.read("kept.toml");
    // Another job is cut from what this one left; told before anything is searched.
    let taken = kept.replacen("[[remnant]]\n", "[[remnant]]\nused_by = \"Purse\"\n", 1);
    scene.write("kept.toml", &taken);
    let run = scene.run("plan quay-bag.job.toml --effort quick --leftovers kept.toml");
    assert!(run.code == Some(2) && run.stderr.contains("\"Purse\" is cut from it"), "{}", run.stderr);
    assert_eq!(scene.read("kept.toml"), taken);
}
