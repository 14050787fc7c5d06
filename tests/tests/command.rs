//! How the command behaves: exit codes, what it prints and writes, pipes, Ctrl-C, and what else it offers.

use std::process::Stdio;

use ellwand_tests::{JOB, PATTERN, Scene};

const PLAN: &str = "plan quay-bag.job.toml --effort quick";

#[test]
fn plan_says_what_to_buy_and_writes_what_to_cut_from() {
    let scene = Scene::sound();
    let run = scene.run_well(&format!("{PLAN} --out out"));
    for said in [
        "buy",
        "of tarred canvas",
        "GBP at 12.50 GBP a yd",
        "straightening the ends",
        "shrinkage",
        "room for improvement",
        "Total",
    ] {
        assert!(run.stdout.contains(said), "`{said}` is not said in:\n{}", run.stdout);
    }
    assert_eq!(run.stdout.matches("measure the cloth's real width").count(), 1, "{}", run.stdout);
    assert_eq!(run.stderr, "", "no progress in a pipe");
    let expected = ["layout.json", "layout.svg", "placing-phone.txt", "placing.txt"];
    let mut files: Vec<String> =
        ["lining", "main"].iter().flat_map(|role| expected.map(|kind| format!("{role}.{kind}"))).collect();
    files.extend(["report.html", "report.pdf", "shopping.csv", "shopping.txt"].map(String::from));
    assert_eq!(scene.files("out"), files);
    // The shopping list is named where there is more to it than cloth.
    for file in files.iter().filter(|file| !file.starts_with("shopping")) {
        assert!(run.stdout.contains(file.as_str()), "`{file}` is not named in:\n{}", run.stdout);
    }
    assert!(scene.read("out/main.layout.svg").contains("tarred canvas"));
}

#[test]
fn nothing_is_written_without_a_folder() {
    let scene = Scene::sound();
    let before = scene.files("");
    scene.run_well(PLAN);
    assert_eq!(scene.files(""), before);
}

#[test]
fn cloth_on_hand_need_not_be_bought() {
    let enough = JOB.replace("price = \"4.20\"", "price = \"4.20\"\non_hand = \"1 yd\"");
    let run = Scene::with(&enough, PATTERN).run_well(PLAN);
    assert!(run.stdout.contains("nothing: the 1 yd on hand is enough"), "{}", run.stdout);
    let short = JOB.replace("price = \"4.20\"", "price = \"4.20\"\non_hand = \"2 in\"");
    let run = Scene::with(&short, PATTERN).run_well(PLAN);
    assert!(run.stdout.contains("2 in is "), "{}", run.stdout);
}

#[test]
fn quiet_says_nothing_and_still_writes() {
    let scene = Scene::sound();
    let run = scene.run_well(&format!("{PLAN} --quiet --out out"));
    assert_eq!((run.stdout.as_str(), run.stderr.as_str()), ("", ""));
    // How many sheets it takes is a matter of the layout it had by then.
    let is_first = |file: &String| !file.contains(".layout-sheet-");
    assert_eq!(scene.files("out").into_iter().filter(is_first).count(), 12);
}

#[test]
fn a_folder_holds_one_plan() {
    let scene = Scene::sound();
    scene.run_well(&format!("{PLAN} --quiet --out out"));
    scene.write("out/notes.txt", "pins are in the blue tin");
    // One cloth planned again leaves the drawings of the other.
    scene.run_well(&format!("{PLAN} --quiet --fabric lining --seed 2 --out out"));
    assert_eq!(scene.files("out").len(), 13);
    // A job without lining has no place for its drawings, and says so; what others put there stays.
    let job = scene.read("quay-bag.job.toml").replace("view = \"A\"", "view = \"B\"");
    let pattern = scene.read("quay-bag.pattern.toml");
    let views = format!("{pattern}\n[[view]]\nname = \"B\"\ntitle = \"One pocket\"\npieces = [\"Pocket\"]\n");
    scene.write("quay-bag.pattern.toml", &views);
    scene.write("quay-bag.job.toml", &job);
    let run = scene.run_well(&format!("{PLAN} --out out"));
    let of_main = ["main.layout.json", "main.layout.svg", "main.placing-phone.txt", "main.placing.txt"];
    let kept: Vec<&str> =
        of_main.into_iter().chain(["notes.txt", "report.html", "report.pdf", "shopping.csv", "shopping.txt"]).collect();
    assert_eq!(scene.files("out"), kept);
    assert!(run.stdout.contains("Removed, no longer part of this plan: out/lining.layout.svg"), "{}", run.stdout);
}

#[test]
fn only_the_fabric_asked_for_is_planned() {
    let scene = Scene::sound();
    let run = scene.run_well(&format!("{PLAN} --fabric lining --out out"));
    assert!(run.stdout.contains("lawn") && !run.stdout.contains("canvas"), "{}", run.stdout);
    assert_eq!(scene.files("out").len(), 8);
}

#[test]
fn the_command_line_overrides_how_the_cloth_lies() {
    let scene = Scene::sound();
    let open = scene.run_well(&format!("{PLAN} --layer open --fabric main"));
    assert!(open.stdout.contains("one open layer"), "{}", open.stdout);
    let fold = scene.run_well(&format!("{PLAN} --layer fold --fabric main"));
    assert!(fold.stdout.contains("folded lengthwise"), "{}", fold.stdout);
    let either = scene.run_well(&format!("{PLAN} --layer either --fabric main"));
    assert!(either.stdout.contains("if open") || either.stdout.contains("if folded"), "{}", either.stdout);
}

#[test]
fn the_placing_table_is_printed_on_request() {
    let run = Scene::sound().run_well(&format!("{PLAN} --table"));
    for said in ["low end", "high end", "cut end", "Pocket", "Band"] {
        assert!(run.stdout.contains(said), "`{said}` is not said in:\n{}", run.stdout);
    }
    let quiet = Scene::sound().run_well(&format!("{PLAN} --table --quiet"));
    assert!(quiet.stdout.contains("high end") && !quiet.stdout.contains("room for improvement"), "{}", quiet.stdout);
}

/// Of all ways of laying that the cloth allows none buys less than the one that is taken, and none that buys as little is less work.
#[test]
fn json_lists_every_way_of_laying() {
    let run = Scene::sound().run_well(&format!("{PLAN} --layout any --fabric main --json"));
    let plan: serde_json::Value = serde_json::from_str(&run.stdout).expect("JSON");
    let told = &plan["ways"][0];
    assert_eq!(told["fabric"], "main");
    let ways = told["ways"].as_array().expect("a list of ways");
    let mut names: Vec<&str> = ways.iter().filter_map(|way| way["way"].as_str()).collect();
    names.sort_unstable();
    let known = ["centre fold", "crosswise", "cut and turned", "off centre", "open", "part folded", "to the middle"];
    assert_eq!(names, known);
    let number = |way: &serde_json::Value, key: &str| way[key].as_f64().expect(key);
    let rank = |way: &serde_json::Value| [number(way, "buy"), number(way, "cut"), number(way, "folds")];
    let (taken, layout) = (&ways[0], &plan["layouts"][0]);
    assert_eq!((&taken["length"], &taken["buy"]), (&layout["length"], &layout["purchase"]["buy"]));
    for way in ways {
        match way["reason"].as_str() {
            Some(reason) => assert!(!reason.is_empty() && way["length"].is_null(), "{way}"),
            None => assert!(rank(way) >= rank(taken), "{way} and {taken}"),
        }
    }
}

#[test]
fn json_is_one_object_with_every_layout() {
    let run = Scene::sound().run_well(&format!("{PLAN} --json"));
    let plan: serde_json::Value = serde_json::from_str(&run.stdout).expect("JSON alone on standard output");
    let layouts = plan["layouts"].as_array().expect("a list of layouts");
    let fabrics: Vec<&str> = layouts.iter().filter_map(|layout| layout["fabric"].as_str()).collect();
    assert_eq!(fabrics, ["main", "lining"]);
    let cost =
        |layout: &serde_json::Value| layout["purchase"]["cost"].as_str().and_then(|cost| cost.parse::<f64>().ok());
    let sum: f64 = layouts.iter().filter_map(cost).sum();
    let total: f64 = plan["total"].as_str().and_then(|total| total.parse().ok()).expect("money is text");
    assert!((sum - total).abs() < 0.001);
}

#[test]
fn a_folder_that_cannot_be_written_is_exit_3_and_leaves_nothing() {
    let scene = Scene::sound();
    scene.write("blocked", "a file where a folder should go");
    let run = scene.run(&format!("{PLAN} --out blocked/out"));
    assert_eq!(run.code, Some(3), "{}", run.stderr);
    assert!(run.stderr.contains("blocked"), "{}", run.stderr);
    assert_eq!(scene.read("blocked"), "a file where a folder should go");
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_under_standard_output_is_exit_3() {
    for line in [PLAN, "schema pattern", "--help", "plan --help", "--version"] {
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full").expect("the full device");
        let run = Scene::sound().command(line.split(' ')).stdout(Stdio::from(full)).output();
        let run = run.expect("the command starts");
        let stderr = String::from_utf8_lossy(&run.stderr);
        assert_eq!(run.status.code(), Some(3), "{line}: {stderr}");
        assert!(stderr.contains("standard output cannot be written"), "{line}: {stderr}");
    }
}

#[test]
#[cfg(unix)]
fn a_closed_pipe_is_no_failure() {
    let scene = Scene::sound();
    let mut child =
        scene.command(["schema", "pattern"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("a child");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(output.stderr.is_empty());
}

#[test]
#[cfg(unix)]
fn ctrl_c_keeps_the_best_checked_layout() {
    use std::{process::Command, thread, time::Duration};
    // So many pockets that no layout reaches the proven bound, where a search would end by itself.
    let pattern = PATTERN.replace("{ from = \"main\", count = 2 }", "{ from = \"main\", count = 24 }");
    let scene = Scene::with(JOB, &pattern);
    let args = "plan quay-bag.job.toml --time 10m --layer open --out out";
    let child = scene.command(args.split(' ')).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("a child");
    thread::sleep(Duration::from_secs(2));
    let pressed = Command::new("kill").args(["-INT", &child.id().to_string()]).status().expect("kill runs");
    assert!(pressed.success());
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(String::from_utf8_lossy(&output.stdout).contains("ended early"));
    // How many sheets it takes is a matter of the layout it had by then.
    let is_first = |file: &String| !file.contains(".layout-sheet-");
    assert_eq!(scene.files("out").into_iter().filter(is_first).count(), 12);
}

#[test]
fn check_names_the_pieces_draws_and_records_them() {
    let scene = Scene::sound();
    let run = scene.run_well("check quay-bag.job.toml --out drawn --json pieces.json");
    assert!(run.stdout.contains("Front: cut 1 of main on the fold"), "{}", run.stdout);
    assert_eq!(scene.files("drawn").len(), 1);
    assert_eq!(scene.json("pieces.json")["format"], "ellwand-pieces-1");
    let quiet = scene.run_well("check quay-bag.pattern.toml --quiet");
    assert_eq!(quiet.stdout, "");
}

#[test]
fn compare_prints_one_row_a_width_and_wider_never_needs_more() {
    let scene = Scene::sound();
    let run = scene.run_well("compare quay-bag.job.toml --effort quick --width 45in,30in,10in");
    assert!(run.stdout.contains("10 in   too narrow"), "10 in is too narrow for the front:\n{}", run.stdout);
    assert!(run.stdout.contains("main, 10 in wide: \"Front\" is "), "{}", run.stdout);
    let json = scene.run_well("compare quay-bag.job.toml --effort quick --width 45in,30in --json --fabric main");
    let compared: serde_json::Value = serde_json::from_str(&json.stdout).expect("JSON");
    let lengths: Vec<f64> =
        compared["widths"].as_array().expect("rows").iter().filter_map(|row| row["length"].as_f64()).collect();
    assert_eq!(lengths.len(), 2);
    assert!(lengths[1] <= lengths[0]);
    let bare = scene.run("compare quay-bag.job.toml --width 45");
    assert_eq!(bare.code, Some(2));
    assert!(bare.stderr.contains("unit"), "{}", bare.stderr);
}

#[test]
fn completions_manual_and_schemas_come_from_the_same_definitions() {
    let scene = Scene::empty();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        assert!(scene.run_well(&format!("completions {shell}")).stdout.contains("max-cuts"), "{shell}");
    }
    let manual = scene.run_well("man").stdout;
    for said in [".TH", "compare", "max\\-cuts", "Exit codes"] {
        assert!(manual.contains(said), "`{said}` is not in the manual");
    }
    for kind in ["pattern", "job"] {
        let schema: serde_json::Value =
            serde_json::from_str(&scene.run_well(&format!("schema {kind}")).stdout).expect("a schema is JSON");
        assert!(schema["properties"]["format"].is_object(), "{kind}");
    }
    let help = scene.run_well("--help").stdout;
    assert!(help.contains("Exit codes") && help.contains("could not be written"), "{help}");
}

/// Three rectangles from one open cloth of 1 m, by width and height in cm.
fn three_rectangles(sizes: [(u32, u32); 3]) -> Scene {
    let names = ["Back", "Seat", "Flap"];
    let mut pattern = concat!(
        "format = \"ellwand-pattern-1\"\nname = \"Sail bag\"\nsizes = [\"one\"]\n[roles]\nmain = \"canvas\"\n",
        "[[view]]\nname = \"A\"\ntitle = \"Bag\"\npieces = [\"Back\", \"Seat\", \"Flap\"]\n"
    )
    .to_owned();
    for (name, (width, height)) in names.into_iter().zip(sizes) {
        pattern += &format!(
            "[[piece]]\nname = \"{name}\"\ncut = [{{ from = \"main\", count = 1 }}]\nseam_allowance = \"included\"\n\
             shape = {{ rectangle = {{ width = \"{width} cm\", height = \"{height} cm\" }} }}\n"
        );
    }
    let job = "format = \"ellwand-job-1\"\nname = \"Sails\"\npattern = \"quay-bag.pattern.toml\"\nview = \"A\"\n\
               units = \"cm\"\n[fabric.main]\nname = \"canvas\"\nwidth = \"100 cm\"\nselvage = \"0 cm\"\nnap = \"with\"\n\
               layout = \"open\"\n";
    Scene::with(job, &pattern)
}

#[test]
fn a_layout_as_short_as_its_bound_is_called_the_shortest_possible_with_the_reason() {
    // 45 fits beside neither 60 nor 70, and crosses no line along the cloth that it could not avoid.
    let stack =
        "\"Back\", \"Seat\" and \"Flap\" cannot lie side by side, and one after the other they take up this much";
    // Three of 40 do not lie side by side; the two shortest are the first that can lie one after the other.
    let row = "on a shorter length there is no room for \"Back\", \"Seat\" and \"Flap\", whichever of them lie side by side and \
               whichever one after the other";
    let cases = [([(70, 10), (60, 20), (45, 35)], 650.0, stack), ([(40, 50), (40, 60), (40, 75)], 1100.0, row)];
    for (sizes, length, reason) in cases {
        let scene = three_rectangles(sizes);
        let run = scene.run_well(&format!("{PLAN} --out out --explain"));
        let said = format!("none, this is the shortest possible: {reason}");
        assert!(run.stdout.contains(&said), "`{said}` is not said in:\n{}", run.stdout);
        let record = scene.json("out/main.layout.json");
        assert_eq!(record["shortest_possible"], true);
        assert_eq!(record["lower_bound_reason"], reason);
        assert!((record["length"].as_f64().expect("length") - length).abs() < 1e-3);
        assert!(
            !scene.read("out/main.layout.svg").contains("possible"),
            "a sheet to cut from does not speak of the search"
        );
    }
}

#[test]
fn what_a_layout_might_still_save_is_told_in_per_cent() {
    // Slanted pockets leave waste that no bound accounts for.
    let pattern = PATTERN.replace("{ from = \"main\", count = 2 }", "{ from = \"main\", count = 12 }");
    let run = Scene::with(JOB, &pattern).run_well(&format!("{PLAN} --fabric main --layer open"));
    let line = run.stdout.lines().find(|line| line.contains("room for improvement")).expect("what room there is");
    assert!(line.contains("at most ") && line.ends_with(" %"), "{line}");
}
