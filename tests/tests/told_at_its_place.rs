//! What is found out after the files were read: each refusal names the line of the job that is to blame, with what would be right; what is
//! no fault is a note, and the job is done.

use ellwand_tests::{JOB, PATTERN, Run, Scene};

const PANELS: &str = r#"
format = "ellwand-pattern-1"
name = "Panels"
sizes = ["one"]
coordinates = "mm"
view = [{ name = "A", pieces = ["Panel"] }]
[[piece]]
name = "Panel"
cut = [{ from = "main", count = 2 }]
shape = { rectangle = { width = "30 cm", height = "60 cm" } }
points = { middle = [150, 300], foot = [150, 0] }
"#;

/// A job for the panels on cloth with these keys, a line each.
fn panels(keys: &str) -> String {
    format!(
        "format = \"ellwand-job-1\"\nname = \"Panels\"\npattern = \"panels.pattern.toml\"\nview = \"A\"\nunits = \"cm\"\n\
         [fabric.main]\nname = \"cloth\"\nnap = \"without\"\nselvage = \"0 cm\"\n{keys}\n"
    )
}

/// The job is refused by `check` and by `plan` in the same words, at the line of `passage`.
#[track_caller]
fn refused(job: &str, pattern: &str, passage: &str, said: &[&str]) {
    let scene = Scene::garment(job, pattern);
    let line = job[..job.find(passage).unwrap_or_else(|| panic!("`{passage}` is nowhere"))].matches('\n').count() + 1;
    let place = format!("garment.job.toml:{line}:");
    let runs: [Run; 2] = ["check garment.job.toml", "plan garment.job.toml --effort quick"].map(|args| scene.run(args));
    for run in &runs {
        assert_eq!(run.code, Some(2), "{}", run.stderr);
        let told: Vec<&str> = run.stderr.lines().filter(|line| !line.contains(": note: ")).collect();
        assert!(told.iter().all(|line| line.starts_with(&place)), "not at line {line}: {}", run.stderr);
        assert!(said.iter().all(|said| run.stderr.contains(said)), "{}", run.stderr);
    }
}

#[test]
fn a_piece_that_stands_nowhere_on_its_design() {
    let job = panels(
        "width = \"150 cm\"\nlayout = \"open\"\ndesign = { border = { along = \"both selvages\", width = \"20 cm\" } }\n\
         matching = { border = [{ piece = \"Panel\", point = \"middle\", from_edge = \"2 cm\" }] }",
    );
    refused(&job, PANELS, "matching = ", &["Panel"]);
}

#[test]
fn a_pair_at_a_border_of_one_selvage_on_the_fold() {
    let job = panels(
        "width = \"150 cm\"\nlayout = \"fold\"\ndesign = { border = { along = \"left selvage\", width = \"20 cm\" } }\n\
         matching = { border = [{ piece = \"Panel\", point = \"foot\", from_edge = \"2 cm\" }] }",
    );
    refused(&job, PANELS, "layout = \"fold\"", &["lay the cloth open"]);
}

#[test]
fn two_cloths_that_are_too_narrow_are_told_at_once() {
    let job = JOB.replace("width = \"30 in\"", "width = \"15 in\"").replace("width = \"36 in\"", "width = \"8 in\"");
    let run = Scene::with(&job, PATTERN).run("check quay-bag.job.toml");
    assert_eq!(run.code, Some(2));
    let lines: Vec<&str> = run.stderr.lines().collect();
    assert_eq!(lines.len(), 2, "{}", run.stderr);
    let at = |passage: &str| job[..job.find(passage).unwrap()].matches('\n').count() + 1;
    assert!(
        lines[0].starts_with(&format!("quay-bag.job.toml:{}:9: error: \"Front\" is", at("\"15 in\""))),
        "{}",
        lines[0]
    );
    assert!(
        lines[1].starts_with(&format!("quay-bag.job.toml:{}:9: error: \"Flap\" is", at("\"8 in\""))),
        "{}",
        lines[1]
    );
}

/// The body has a bust; it is the pattern that says nothing of where it goes.
#[test]
fn to_measure_takes_a_girth() {
    let job = panels("width = \"150 cm\"")
        .replace("view = \"A\"", "view = \"A\"\nsize = \"to measure\"\nbody = { bust = \"86 cm\" }");
    let run = Scene::garment(&job, PANELS).run("check garment.job.toml");
    assert_eq!(run.code, Some(2));
    assert_eq!(
        run.stderr.trim_end(),
        "garment.job.toml:5:8: error: no girth is declared for the pieces that are made, so they cannot be made to measure; \
         add a [[girth]] to the pattern for each measure it should follow, with its `level` and its `parts`; \
         or name a size, and write what is to be longer, wider or shorter under [alter]"
    );
}

/// What the command line names is told by its name.
#[test]
fn a_cloth_that_the_view_does_not_need() {
    let run = Scene::sound().run("plan quay-bag.job.toml --fabric fur");
    assert_eq!(run.code, Some(2));
    assert!(
        run.stderr.starts_with("error: --fabric fur: view \"A\" cuts nothing from the cloth \"fur\"; name a cloth"),
        "{}",
        run.stderr
    );
}

#[test]
fn notes_are_told_and_the_job_is_done() {
    let job = JOB.replace("width = \"30 in\"", "width = '30/31\"'").replace("selvage = \"0 in\"\n", "");
    let scene = Scene::with(&job, PATTERN);
    let run = scene.run("plan quay-bag.job.toml --effort quick");
    assert_eq!(run.code, Some(0), "{}", run.stderr);
    let lines: Vec<&str> = run.stderr.lines().collect();
    assert_eq!(lines.len(), 2, "{}", run.stderr);
    assert!(
        lines[0].contains(": note: the width \"30/31\"\" names two widths; the smaller, 30 in, is used"),
        "{}",
        lines[0]
    );
    assert!(lines[1].contains(": note: no selvage is given for `lining`"), "{}", lines[1]);
    assert_eq!(scene.run("check quay-bag.job.toml --quiet").stderr, "");
}

#[test]
fn the_record_of_a_job_has_the_pieces_it_cuts() {
    let option =
        "\n[[option]]\nname = \"pocket\"\ndefault = \"patch\"\nchoices = { patch = [\"Pocket\"], none = [] }\n";
    let pattern = format!("{PATTERN}{option}");
    let job = format!("{JOB}\n[alter]\noptions = {{ pocket = \"none\" }}\n");
    let pieces = |job: &str, file: &str| {
        let scene = Scene::with(job, &pattern);
        let run = scene.run(&format!("check {file} --json pieces.json"));
        assert_eq!(run.code, Some(0), "{}", run.stderr);
        let record: serde_json::Value = serde_json::from_str(&scene.read("pieces.json")).expect("JSON");
        record["pieces"].as_array().expect("pieces").iter().map(|of| of["piece"].to_string()).collect::<Vec<_>>()
    };
    assert_eq!(pieces(&job, "quay-bag.job.toml"), ["\"Front\"", "\"Band\"", "\"Flap\""]);
    assert_eq!(pieces(JOB, "quay-bag.job.toml").len(), 4);
    assert_eq!(pieces(&job, "quay-bag.pattern.toml").len(), 4);
}

#[test]
fn a_fit_of_one_size_says_what_there_is() {
    let run = Scene::sound().run("fit quay-bag.job.toml");
    assert_eq!(run.code, Some(0), "{}", run.stderr);
    for said in ["drawn in one size", "No girth is measured", "No seam is walked"] {
        assert!(run.stdout.contains(said), "`{said}` is not said in:\n{}", run.stdout);
    }
}

#[test]
fn limits_are_raised_by_an_option() {
    let views: String = (0..101).map(|k| format!("[[view]]\nname = \"V{k}\"\npieces = [\"Band\"]\n")).collect();
    let scene = Scene::with(JOB, &format!("{PATTERN}\n{views}"));
    let run = scene.run("check quay-bag.job.toml");
    assert_eq!(run.code, Some(2));
    assert!(run.stderr.contains("there are 102 views, but the limit is 100"), "{}", run.stderr);
    assert!(run.stderr.contains("--raise-limits N"), "{}", run.stderr);
    assert_eq!(scene.run("check quay-bag.job.toml --raise-limits 2").code, Some(0));
}

/// The second layer of a crosswise fold runs the other way. The key is to blame where the job has it, by either of its names, and else the cloth.
#[test]
fn cloth_with_nap_is_not_folded_crosswise() {
    let job = |key: &str| panels(&format!("width = \"150 cm\"\n{key}")).replace("nap = \"without\"", "nap = \"with\"");
    let remedies = ["the nap of the second layer would run the other way", "layout = \"cut and turned\""];
    for key in ["layout = \"crosswise\"", "layer = \"crosswise\""] {
        refused(&job(key), PANELS, key, &remedies);
    }
    let run = Scene::garment(&job(""), PANELS).run("plan garment.job.toml --layout crosswise");
    assert_eq!(run.code, Some(2), "{}", run.stderr);
    assert!(
        run.stderr.starts_with("garment.job.toml:6:9: error: the cloth \"main\" is not laid crosswise"),
        "{}",
        run.stderr
    );
}

/// `--layout` counts for every rule that asks, also for those that are asked while the job is read.
#[test]
fn the_layout_of_the_command_decides_what_can_be_matched() {
    let job = |layout: &str, need: &str| {
        panels(&format!(
            "width = \"150 cm\"\nlayout = \"{layout}\"\n\
             design = {{ across = {{ repeat = \"10 cm\", balance = \"uneven\" }}, along = {{ repeat = \"20 cm\", balance = \"even\" }} }}\n\
             matching = {{ limit = \"1 m\", lines = [{{ piece = \"Panel\", point = \"foot\", on = \"bar\", need = \"{need}\" }}] }}"
        ))
    };
    for command in ["plan garment.job.toml", "compare garment.job.toml --width 150cm"] {
        let of = |layout: &str, need: &str, word: &str| {
            Scene::garment(&job(layout, need), PANELS).run(&format!("{command} --effort quick --layout {word}"))
        };
        for need in ["required", "wished"] {
            let open = of("fold", need, "open");
            assert_eq!(open.code, Some(0), "{command}: {}", open.stderr);
            assert!(!open.stderr.contains("on a fold"), "{command}: {}", open.stderr);
        }
        let folded = of("open", "required", "fold");
        assert_eq!(folded.code, Some(2), "{command}: {}", folded.stderr);
        assert!(
            folded.stderr.starts_with("garment.job.toml:6:9: error: the design is uneven across"),
            "{}",
            folded.stderr
        );
        assert!(folded.stderr.contains("--layout centre-fold"), "{}", folded.stderr);
        let wished = of("open", "wished", "fold");
        assert_eq!(wished.code, Some(0), "{command}: {}", wished.stderr);
        assert!(wished.stderr.contains("is given up: the design is uneven across"), "{}", wished.stderr);
    }
}

#[test]
fn a_file_where_a_folder_belongs_is_told_before_any_search() {
    let scene = Scene::sound();
    scene.write("drawings", "a note to self");
    for command in ["plan quay-bag.job.toml --effort thorough", "check quay-bag.job.toml"] {
        for folder in ["drawings", "drawings/of-the-bag"] {
            let run = scene.run(&format!("{command} --out {folder}"));
            assert_ne!(run.code, Some(0), "{command} --out {folder}");
            assert_eq!(
                run.stderr.trim_end().lines().last(),
                Some(
                    "error: drawings is a file, but drawings go into a folder: name a folder, which is created if missing; nothing was written"
                ),
                "{command} --out {folder}"
            );
        }
    }
    assert_eq!(scene.read("drawings"), "a note to self");
}

#[test]
fn widths_without_a_unit_are_told_with_one() {
    let run = Scene::sound().run("compare quay-bag.job.toml --width 45,60");
    assert_eq!(run.code, Some(2), "{}", run.stderr);
    assert!(run.stderr.contains("45 and 60 have no unit; write 45in,60in, or 45cm,60cm"), "{}", run.stderr);
}

/// A pattern alone is drawn in the unit it was drafted in, beside a job in that of the job.
#[test]
fn a_sheet_of_a_pattern_is_in_its_own_unit() {
    let pattern = |unit: &str, drawn: bool| {
        let coordinates = format!("coordinates = \"{unit}\"\n");
        format!(
            "format = \"ellwand-pattern-1\"\nname = \"Panel\"\nsizes = [\"one\"]\n{}view = [{{ name = \"A\", pieces = [\"Panel\"] }}]\n\
             [[piece]]\nname = \"Panel\"\ncut = [{{ from = \"main\", count = 1 }}]\nshape = {{ rectangle = {{ width = \"30 in\", height = \"60 in\" }} }}\n",
            if drawn { coordinates.as_str() } else { "" }
        )
    };
    let sheet = |text: &str| {
        let scene = Scene::empty();
        scene.write("panel.pattern.toml", text);
        scene.run_well("check panel.pattern.toml --out out");
        scene.read("out/pieces-1.svg")
    };
    let (inches, metric) = (sheet(&pattern("in", true)), sheet(&pattern("cm", true)));
    assert_ne!(inches, metric);
    assert!(inches.contains(" in<") && !inches.contains(" cm<"), "{inches}");
    for text in [pattern("mm", true), pattern("in", false)] {
        assert_eq!(sheet(&text), metric);
    }
}
