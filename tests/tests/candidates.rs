//! The cloths that a part may be made of: each is answered as a plan of the job in which it is written as the part's own cloth.

use ellwand_tests::{JOB, PATTERN, Scene};
use serde_json::Value;

const LINEN: &str =
    "name = \"ferry linen\"\nwidth = \"150 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\nprice = \"6.10\"\n";
const CORD: &str = "name = \"cord from the shelf\"\nwidth = \"44 in\"\nnap = \"with\"\non_hand = \"3 yd\"\n";
const NARROW: &str = "name = \"tape\"\nwidth = \"5 cm\"\nnap = \"without\"\nprice = \"1.00\"\n";

/// The job with candidates for its main cloth.
fn with(candidates: &[&str]) -> String {
    let listed: String = candidates.iter().map(|keys| format!("\n[[fabric.main.candidate]]\n{keys}")).collect();
    format!("{JOB}{listed}")
}

/// The job with another main cloth.
fn made_of(keys: &str) -> String {
    let (before, rest) = JOB.split_once("[fabric.main]\n").expect("a main cloth");
    let after = rest.find("\n[").map_or("", |at| &rest[at..]);
    format!("{before}[fabric.main]\n{keys}{after}")
}

fn rows(scene: &Scene) -> Vec<Value> {
    let said = scene.run_well("compare quay-bag.job.toml --effort quick --json").stdout;
    let record: Value = serde_json::from_str(&said).expect("a JSON object");
    record["cloths"].as_array().expect("rows").clone()
}

#[test]
fn each_candidate_is_answered_as_a_plan_of_the_job_made_of_it() {
    let rows = rows(&Scene::with(&with(&[LINEN, CORD, NARROW]), PATTERN));
    assert_eq!(rows.len(), 4, "the job's own cloth and three others: {rows:?}");
    for (row, keys) in rows.iter().skip(1).zip([LINEN, CORD]) {
        let alone = Scene::with(&made_of(keys), PATTERN);
        let plan = alone.run_well("plan quay-bag.job.toml --effort quick --json").stdout;
        let plan: Value = serde_json::from_str(&plan).expect("a JSON object");
        let layouts = plan["layouts"].as_array().expect("layouts");
        let main = layouts.iter().find(|layout| layout["fabric"] == "main").expect("the main cloth");
        assert_eq!(row["length"], main["length"], "{keys}");
        assert_eq!(row["buy_text"], main["purchase"]["buy_text"], "{keys}");
        assert_eq!(row["total"], plan["total"], "{keys}");
    }
    let own = &rows[0];
    let plan = Scene::sound().run_well("plan quay-bag.job.toml --effort quick --json").stdout;
    let plan: Value = serde_json::from_str(&plan).expect("a JSON object");
    assert_eq!(own["total"], plan["total"]);
    // What lies at home costs nothing, so nothing is cheaper.
    assert_eq!((&rows[2]["at_home"], &rows[2]["cheapest"]), (&Value::Bool(true), &Value::Bool(true)), "{rows:?}");
    assert_eq!(rows.iter().filter(|row| row["cheapest"] == true).count(), 1);
    assert!(rows[3]["layers"].is_null() && rows[3]["reason"].as_str().is_some_and(|said| said.contains("too narrow")));
}

#[test]
fn the_table_names_every_cloth_and_says_why_one_will_not_do() {
    let scene = Scene::with(&with(&[LINEN, CORD, NARROW]), PATTERN);
    let said = scene.run_well("compare quay-bag.job.toml --effort quick").stdout;
    for name in ["ferry linen", "cord from the shelf", "tape", "whole job", "cheapest", "at home", "too narrow"] {
        assert!(said.contains(name), "{name} in {said}");
    }
    assert_eq!(said, scene.run_well("compare quay-bag.job.toml --effort quick --threads 1").stdout);
    // A plan is of the job's own cloth.
    let plan = scene.run_well("plan quay-bag.job.toml --effort quick").stdout;
    assert_eq!(plan, Scene::sound().run_well("plan quay-bag.job.toml --effort quick").stdout);
}

#[test]
fn what_cannot_be_compared_is_told_at_its_place() {
    let refused = |job: &str, command: &str| -> String {
        let run = Scene::with(job, PATTERN).run(command);
        assert_eq!(run.code, Some(2), "{}", run.stderr);
        run.stderr
    };
    let compare = "compare quay-bag.job.toml --effort quick";
    assert!(refused(JOB, compare).contains("the job names no candidates; write them as [[fabric.main.candidate]]"));
    let only = refused(&with(&[LINEN]), "compare quay-bag.job.toml --effort quick --fabric lining");
    assert!(only.contains("[[fabric.lining.candidate]]"), "{only}");
    let nested = format!("{LINEN}candidate = [{{ name = \"x\", width = \"1 m\", nap = \"without\" }}]\n");
    assert!(
        refused(&with(&[&nested]), "plan quay-bag.job.toml")
            .contains("a candidate for \"main\" has candidates of its own")
    );
    // A candidate is judged by every command that reads the job.
    let without_width = with(&["name = \"ferry linen\"\nnap = \"without\"\n"]);
    for command in ["plan quay-bag.job.toml", compare, "check quay-bag.job.toml"] {
        assert!(refused(&without_width, command).contains("width"), "{command}");
    }
}

#[test]
fn a_width_may_have_a_price_of_its_own() {
    let scene = Scene::sound();
    let said =
        scene.run_well("compare quay-bag.job.toml --fabric main --effort quick --json --width 36in@11.50,45in").stdout;
    let record: Value = serde_json::from_str(&said).expect("a JSON object");
    let costs: Vec<&Value> = record["widths"].as_array().expect("rows").iter().map(|row| &row["cost"]).collect();
    let cost = |width: &str, price: &str| -> Value {
        let job = JOB.replacen("30 in", width, 1).replacen("12.50", price, 1);
        let plan = Scene::with(&job, PATTERN).run_well("plan quay-bag.job.toml --fabric main --effort quick --json");
        let plan: Value = serde_json::from_str(&plan.stdout).expect("a JSON object");
        plan["layouts"][0]["purchase"]["cost"].clone()
    };
    assert_eq!(costs, [&cost("36 in", "11.50"), &cost("45 in", "12.50")]);
    let run = scene.run("compare quay-bag.job.toml --effort quick --width 36in@11.50");
    assert!(run.code == Some(2) && run.stderr.contains("--fabric main or --fabric lining"), "{}", run.stderr);
}

#[test]
fn candidates_are_compared_in_every_view_and_with_every_choice_asked_for() {
    let (job, pattern) = (
        include_str!("../../demo-data/skirt/stripe.job.toml"),
        include_str!("../../demo-data/skirt/ferry-skirt.pattern.toml"),
    );
    let candidate = "\n[[fabric.lining.candidate]]\nname = \"lawn\"\nwidth = \"140 cm\"\nselvage = \"5 mm\"\nnap = \"without\"\nprice = \"7.00\"\n";
    let (before, after) = job.split_once("\n[fabric.interfacing]").expect("an interfacing");
    let scene = Scene::garment(&format!("{before}{candidate}\n[fabric.interfacing]{after}"), pattern);
    let said = scene.run_well("compare garment.job.toml --fabric lining --view A,B --effort quick --json").stdout;
    let record: Value = serde_json::from_str(&said).expect("JSON");
    let rows = record["cloths"].as_array().expect("rows");
    let made: Vec<(&str, &str)> =
        rows.iter().map(|row| (row["made"].as_str().expect("a way"), row["name"].as_str().expect("a name"))).collect();
    let (own, other) = ("calico left over", "lawn");
    assert_eq!(made, [("view A", own), ("view A", other), ("view B", own), ("view B", other)]);
    // The row of view B on its own cloth is the plan of a job that names view B.
    let in_b = Scene::garment(&job.replace("view = \"A\"", "view = \"B\""), pattern);
    let plan: Value =
        serde_json::from_str(&in_b.run_well("plan garment.job.toml --effort quick --json").stdout).expect("JSON");
    let lining = plan["layouts"].as_array().expect("layouts").iter().find(|layout| layout["fabric"] == "lining");
    assert_eq!(rows[2]["length"], lining.expect("a lining")["length"]);
    assert_eq!(rows[2]["total"], plan["total"]);
    let unknown = scene.run("compare garment.job.toml --view C --effort quick");
    assert!(unknown.code == Some(2) && unknown.stderr.contains("view"), "{}", unknown.stderr);
    let unknown = scene.run("compare garment.job.toml --choice pocket --effort quick");
    assert!(unknown.code == Some(2) && unknown.stderr.contains("pocket=welt,patch"), "{}", unknown.stderr);
}

/// A ruffle is cut in strips from selvage to selvage: of a ribbon narrower than what is sewn into its joins there are none, and the others are compared all the same.
#[test]
fn a_candidate_of_which_the_pieces_cannot_be_made_says_why_beside_the_others() {
    let (job, pattern) = (
        include_str!("../../demo-data/quay-skirt/lawn.job.toml"),
        include_str!("../../demo-data/quay-skirt/quay-skirt.pattern.toml"),
    );
    let candidate = |name: &str, width: &str| {
        format!(
            "\n[[fabric.main.candidate]]\nname = \"{name}\"\nwidth = \"{width}\"\nselvage = \"0 in\"\nnap = \"without\"\nprice = \"2.00\"\n"
        )
    };
    let (main, rest) = job.split_once("\n[notion").expect("notions");
    let listed = candidate("ribbon", "3/4 in") + &candidate("wide lawn", "60 in");
    let scene = Scene::empty();
    scene.write("quay-skirt.pattern.toml", pattern);
    scene.write("lawn.job.toml", &format!("{main}\n{listed}\n[notion{rest}"));
    let said = scene.run_well("compare lawn.job.toml --effort quick --json").stdout;
    let record: Value = serde_json::from_str(&said).expect("a JSON object");
    let rows = record["cloths"].as_array().expect("rows");
    assert_eq!(rows.iter().map(|row| &row["name"]).collect::<Vec<_>>(), ["sea-green lawn", "ribbon", "wide lawn"]);
    let reason = rows[1]["reason"].as_str().expect("a reason");
    assert!(rows[1]["layers"].is_null() && reason.contains("take all of the cloth"), "{reason}");
    assert!(rows[0]["length"].is_number() && rows[2]["length"].is_number(), "{rows:?}");
    let text = scene.run_well("compare lawn.job.toml --effort quick").stdout;
    assert!(
        text.contains("not possible") && text.contains("main, ribbon") && text.contains("take a wider cloth"),
        "{text}"
    );
}
