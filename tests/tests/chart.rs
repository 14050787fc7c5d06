//! The yardage table: made of cells that are kept, and so stopped and gone on with, shared and gathered, made by several at once, always alike.

use std::{
    fs,
    path::Path,
    process::{Child, Stdio},
    thread,
    time::Duration,
};

use ellwand_tests::Scene;
use serde_json::Value;

const JOB: &str = include_str!("../../demo-data/skirt/stripe.job.toml");
const PATTERN: &str = include_str!("../../demo-data/skirt/ferry-skirt.pattern.toml");
/// Five sizes in two runs on two widths: ten cells.
const CHART: &str = "chart garment.job.toml --fabric lining --figure regular --size 34,36,38,40,42 --width lining:90cm,140cm --effort quick";
/// Three sizes on two widths with nap and without: twelve cells.
const KINDS: &str = "chart garment.job.toml --fabric lining --figure regular --size 36,38,40 --width lining:90cm,140cm \
                     --kind lining:with-nap,without-nap --effort quick";

fn scene() -> Scene {
    Scene::garment(JOB, PATTERN)
}

fn cells(scene: &Scene, folder: &str) -> Vec<String> {
    scene.files(&format!("{folder}/cells")).into_iter().filter(|name| name.ends_with(".cell.json")).collect()
}

/// What the cells of a folder hold.
fn kept(scene: &Scene, folder: &str) -> Vec<(String, String)> {
    cells(scene, folder).into_iter().map(|name| (name.clone(), scene.read(&format!("{folder}/cells/{name}")))).collect()
}

fn started(scene: &Scene, line: &str) -> Child {
    let mut command = scene.command(line.split_whitespace());
    command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("the command starts")
}

/// What is bought in each row of a table, in mm, size by size.
fn bought(record: &Value) -> Vec<(f64, String, Vec<f64>)> {
    let rows = record["rows"].as_array().expect("rows");
    let of = |row: &Value| {
        let cells = row["cells"].as_array().expect("cells").iter().map(|cell| cell["buy"].as_f64().expect("a figure"));
        (row["width"].as_f64().expect("a width"), row["kind"].as_str().expect("a kind").to_owned(), cells.collect())
    };
    rows.iter().map(of).collect()
}

#[test]
fn a_table_says_the_same_in_every_form_and_never_falls_as_size_grows() {
    let scene = scene();
    let said = scene.run_well(&format!("{KINDS} --out table")).stdout;
    assert_eq!(
        scene.files("table"),
        ["cells", "chart.csv", "chart.json", "chart.md", "chart.svg", "chart.txt"],
        "no lock or half a file is left"
    );
    assert_eq!(cells(&scene, "table").len(), 12);
    let record = scene.json("table/chart.json");
    let rows = bought(&record);
    assert_eq!(rows.len(), 4);
    for (width, kind, figures) in &rows {
        assert!(figures.len() == 3 && figures.is_sorted(), "{figures:?}");
        for (other, of_kind, others) in &rows {
            let serves = (kind == of_kind && other >= width) || (other == width && kind == "with nap");
            assert!(!serves || figures.iter().zip(others).all(|(a, b)| a >= b), "{rows:?}");
        }
    }
    let csv = scene.read("table/chart.csv");
    assert_eq!(csv.lines().count(), 13);
    for row in record["rows"].as_array().expect("rows") {
        for cell in row["cells"].as_array().expect("cells") {
            assert!(cell["buy_of_its_own"].as_f64() <= cell["buy"].as_f64());
            let (size, words) = (cell["size"].as_str().expect("a size"), cell["buy_text"].as_str().expect("words"));
            let line = format!(
                "A,regular,lining,{:.1},{},{size},",
                row["width"].as_f64().expect("a width"),
                row["kind"].as_str().expect("a kind")
            );
            assert!(csv.lines().any(|of| of.starts_with(&line) && of.ends_with(words)), "{line} {words} in {csv}");
            let number = words.trim_end_matches(" cm");
            for file in ["chart.txt", "chart.md", "chart.svg"] {
                assert!(scene.read(&format!("table/{file}")).contains(number), "{number} in {file}");
            }
        }
    }
    assert!(said.starts_with(&scene.read("table/chart.txt")) && said.contains("Ferry skirt: cm to buy"), "{said}");
    // Each figure is no more than a plan of that size on that cloth needs, and no less than is proven.
    let job = JOB.replace("size = \"38\"", "size = \"40\"\nfigure = \"regular\"").replace("on_hand = \"50 cm\"\n", "");
    let job = job.replace("width = \"112 cm\"", "width = \"140 cm\"");
    let alone = Scene::garment(&job, PATTERN);
    let plan: Value =
        serde_json::from_str(&alone.run_well("plan garment.job.toml --fabric lining --effort quick --json").stdout)
            .expect("JSON");
    let row = record["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .find(|row| row["width"] == 1400.0 && row["kind"] == "without nap");
    let cell = &row.expect("the row")["cells"][2];
    assert_eq!(cell["lower_bound"], plan["layouts"][0]["lower_bound"]);
    assert!(cell["length"].as_f64() >= cell["lower_bound"].as_f64());
}

#[test]
fn a_table_goes_on_where_it_was_and_mends_what_is_damaged() {
    let scene = scene();
    let said = scene.run_well(&format!("{CHART} --out table")).stdout;
    let (whole, record) = (kept(&scene, "table"), scene.read("table/chart.json"));
    // Nothing is made again, and the same is said.
    let again = scene.run_well(&format!("{CHART} --out table --threads 1"));
    assert_eq!((again.stdout, kept(&scene, "table")), (said.clone(), whole.clone()));
    // What is missing is made again alone, what is damaged is told.
    let folder = scene.path("table/cells");
    fs::remove_file(folder.join(&whole[3].0)).expect("a cell");
    fs::write(folder.join(&whole[7].0), &whole[7].1[..whole[7].1.len() / 2]).expect("a cell");
    let mended = scene.run_well(&format!("{CHART} --out table"));
    assert!(mended.stderr.contains("is damaged") && mended.stderr.contains("it is made anew"), "{}", mended.stderr);
    assert_eq!((mended.stdout, kept(&scene, "table")), (said, whole.clone()));
    assert_eq!(scene.read("table/chart.json"), record);
    // Another job in the same folder leaves the cells of this one alone, and says so.
    scene.write(
        "garment.job.toml",
        &JOB.replace("width = \"112 cm\"\nselvage = \"0 cm\"", "width = \"112 cm\"\nselvage = \"5 mm\""),
    );
    let changed = scene.run_well(&format!("{CHART} --out table"));
    assert!(changed.stderr.contains("10 cells in table/cells are of another table"), "{}", changed.stderr);
    let after = kept(&scene, "table");
    assert!(after.len() == 20 && whole.iter().all(|cell| after.contains(cell)));
}

#[test]
fn killed_and_shared_and_made_by_four_at_once_a_table_is_the_same() {
    let scene = scene();
    scene.run_well(&format!("{CHART} --out one"));
    let (whole, record) = (kept(&scene, "one"), scene.read("one/chart.json"));

    // Killed as soon as some cells are there, and gone on with: those stay as they are.
    let mut child = started(&scene, &format!("{CHART} --out killed"));
    let killed_after = (0..1200).find_map(|_| {
        thread::sleep(Duration::from_millis(50));
        let count = cells(&scene, "killed").len();
        (count >= 3 || child.try_wait().ok().flatten().is_some()).then_some(count)
    });
    child.kill().expect("it is killed");
    child.wait().expect("it has ended");
    assert!(killed_after.is_some_and(|count| count >= 3), "{killed_after:?}");
    let before: Vec<(String, fs::Metadata)> = (cells(&scene, "killed").into_iter())
        .map(|name| (name.clone(), fs::metadata(scene.path(&format!("killed/cells/{name}"))).expect("a cell")))
        .collect();
    scene.run_well(&format!("{CHART} --out killed"));
    for (name, was) in &before {
        let now = fs::metadata(scene.path(&format!("killed/cells/{name}"))).expect("a cell");
        assert_eq!(now.modified().expect("a time"), was.modified().expect("a time"), "{name} was made again");
    }
    assert_eq!((kept(&scene, "killed"), scene.read("killed/chart.json")), (whole.clone(), record.clone()));

    // Shares in folders of their own, one of them twice.
    for (share, folder) in [("1/3", "first"), ("2/3", "second"), ("3/3", "first"), ("1/3", "third")] {
        let said = scene.run_well(&format!("{CHART} --out {folder} --part {share}")).stdout;
        assert!(said.contains(&format!("share {} of 3", &share[..1])), "{said}");
    }
    let lacking = scene.run(&format!("{CHART} --out gathered --gather --from first"));
    assert_eq!(lacking.code, Some(2));
    assert!(lacking.stderr.contains("cells are missing: \"lining"), "{}", lacking.stderr);
    scene.run_well(&format!("{CHART} --out gathered --gather --from first --from second --from third/cells"));
    assert_eq!((kept(&scene, "gathered"), scene.read("gathered/chart.json")), (whole.clone(), record.clone()));

    // Four programs on one folder.
    let line = format!("{CHART} --out four --threads 1");
    let mut four: Vec<Child> = (0..4).map(|_| started(&scene, &line)).collect();
    for child in &mut four {
        assert!(child.wait().expect("it ends").success());
    }
    assert_eq!((kept(&scene, "four"), scene.read("four/chart.json")), (whole, record));
    assert_eq!(scene.files("four").len(), 6, "{:?}", scene.files("four"));
}

#[test]
fn what_a_table_cannot_be_made_of_is_told() {
    let scene = scene();
    let refused = |options: &str, said: &str| {
        let run = scene.run(&format!("chart garment.job.toml --out table --effort quick {options}"));
        assert!(run.code == Some(2) && run.stderr.contains(said), "{options}: {:?} {}", run.code, run.stderr);
        assert!(!Path::new(&scene.path("table/chart.txt")).exists());
    };
    refused("--size 33", "the pattern has no size `33`; its sizes are 34 regular, 36 regular");
    refused("--figure tall", "the pattern has no figure type `tall`; it has regular, short");
    refused("--view C", "the pattern has no view `C`; its views are A, B");
    refused("--width facing:45in", "--width names the cloth `facing`; the job has main, lining, interfacing");
    refused("--kind lining:design", "--kind asks for a design, and the job's cloth \"lining\" has none");
    refused("--width 45", "45 has no unit");
    refused("--kind velvet", "is no kind of cloth");
    refused("--part 4/3", "a share is like 3/10");
    refused("--part 1/3 --gather", "cannot be used with");
    let timed = scene.run("chart garment.job.toml --out table --time 3s");
    assert!(timed.code == Some(2) && timed.stderr.contains("use --effort"), "{}", timed.stderr);
    scene.write("taken", "a file");
    let taken = scene.run("chart garment.job.toml --out taken --effort quick");
    assert_eq!(taken.code, Some(3), "{}", taken.stderr);
    // Cloth too narrow for a piece is no fault of the table.
    let narrow = scene.run_well(
        "chart garment.job.toml --out narrow --effort quick --fabric main --size 38 --figure regular --width 30cm",
    );
    assert!(
        narrow.stdout.contains("- is for cloth that will not do") && narrow.stdout.contains("narrow"),
        "{}",
        narrow.stdout
    );
}

#[test]
fn a_table_needs_no_size_of_its_job_and_says_whom_each_size_is_for() {
    let line = |text: &&str| text.starts_with("size = ");
    assert!(JOB.lines().any(|text| line(&text)), "the job names a size");
    let job: String = JOB.lines().filter(|text| !line(text)).map(|text| format!("{text}\n")).collect();
    let scene = Scene::garment(&job, PATTERN);
    let run = scene.run_well(
        "chart garment.job.toml --fabric lining --figure regular --size 36 --width lining:140cm --effort quick --out t",
    );
    assert!(run.stdout.contains("ize 36 regular is for"), "{}", run.stdout);
    assert!(run.stdout.contains("shrinkage"), "{}", run.stdout);
}
