//! What one change would save is what a plan of the changed job says.

use ellwand_tests::{JOB, PATTERN, Scene};
use serde_json::Value;

fn plan(job: &str, options: &str) -> Value {
    let said = Scene::with(job, PATTERN).run_well(&format!("plan quay-bag.job.toml --effort quick --json {options}"));
    serde_json::from_str(&said.stdout).expect("a JSON object")
}

fn cents(amount: &Value) -> i64 {
    let text = amount.as_str().expect("an amount");
    let (whole, part) = text.trim_start_matches('-').split_once('.').expect("cents");
    let sign = if text.starts_with('-') { -1 } else { 1 };
    sign * (whole.parse::<i64>().expect("whole") * 100 + part.parse::<i64>().expect("cents"))
}

fn lengths(layouts: &Value, key: &str) -> Vec<f64> {
    layouts.as_array().expect("layouts").iter().map(|layout| layout[key].as_f64().expect("a length")).collect()
}

#[test]
fn each_figure_is_that_of_a_plan_of_the_changed_job() {
    let napped = JOB.replacen("nap = \"without\"", "nap = \"with\"", 1);
    assert_ne!(napped, JOB);
    let own = plan(&napped, "--changes");
    let changes = own["changes"].as_array().expect("changes");
    let find = |what: &str| {
        changes
            .iter()
            .find(|change| change["change"].as_str().is_some_and(|said| said.contains(what)))
            .expect("the change")
    };
    let first = napped.find("nap = \"with\"").expect("a nap");
    let role = napped[..first].rsplit("[fabric.").next().and_then(|rest| rest.split(']').next()).expect("a role");
    let off_grain = napped.replacen("nap = \"with\"", "nap = \"with\"\noff_grain = \"1 deg\"", 1);
    let pairs = [
        (format!("{role}: tops either way"), JOB.to_owned()),
        (format!("{role}: up to 1 degree off the grain"), off_grain),
    ];
    for (what, job) in pairs {
        let (change, written) = (find(&what), plan(&job, ""));
        assert_eq!(lengths(&change["cloths"], "length"), lengths(&written["layouts"], "length"), "{what}");
        assert_eq!(change["total"], written["total"], "{what}");
        assert_eq!(cents(&change["saves"]), cents(&own["total"]) - cents(&written["total"]), "{what}");
    }
    // The one that saves most is the first.
    let saved: Vec<i64> =
        changes.iter().filter(|change| !change["saves"].is_null()).map(|change| cents(&change["saves"])).collect();
    assert!(saved.len() > 1 && saved.windows(2).all(|pair| pair[0] >= pair[1]), "{saved:?}");
}

/// The bag with a band of interfacing that sets the length of its cloth, and little else on it.
fn with_stiff_band() -> (String, String) {
    let stiff = "\n[[piece]]\nname = \"Stiff band\"\ncut = [{ from = \"interfacing\", count = 1 }]\nshape = { strip = { length = \"80 cm\", width = \"6 cm\" } }\n";
    let pattern = PATTERN
        .replace("\"Band\", \"Flap\"]", "\"Band\", \"Flap\", \"Stiff band\"]")
        .replace("lining = \"light cotton\"", "lining = \"light cotton\"\ninterfacing = \"woven\"");
    let cloth = "\n[fabric.interfacing]\nname = \"woven interfacing\"\nwidth = \"36 in\"\nselvage = \"0 in\"\nnap = \"without\"\nright_side = \"both\"\nprice = \"6.00\"\n";
    (format!("{JOB}{cloth}"), format!("{pattern}{stiff}"))
}

#[test]
fn a_band_in_two_halves_is_a_change_and_its_figure_that_of_a_plan() {
    let (job, pattern) = with_stiff_band();
    let planned = |job: &str, options: &str| -> Value {
        let said = Scene::with(job, &pattern)
            .run_well(&format!("plan quay-bag.job.toml --fabric interfacing --effort quick --json {options}"));
        serde_json::from_str(&said.stdout).expect("a JSON object")
    };
    let own = planned(&job, "--changes");
    let changes = own["changes"].as_array().expect("changes");
    let change = changes
        .iter()
        .find(|change| change["change"] == "Stiff band in two halves, joined")
        .unwrap_or_else(|| panic!("{changes:?}"));
    let pieced =
        job.replacen("\n[fabric.main]", "\n[alter]\npieced = [{ piece = \"Stiff band\" }]\n\n[fabric.main]", 1);
    let written = planned(&pieced, "");
    assert_eq!(lengths(&change["cloths"], "length"), lengths(&written["layouts"], "length"));
    assert!(change["total"].is_null(), "other cloths were not planned");
    // 80 cm in two: 40 cm and the usual 15 mm of a join; a strip has no allowance unless it says so.
    assert_eq!(lengths(&written["layouts"], "length"), [415.0]);
}

#[test]
fn a_long_narrow_part_that_wastes_its_cloth_is_told_with_what_would_help() {
    let (job, pattern) = with_stiff_band();
    let said = |options: &str| {
        let scene = Scene::with(&job, &pattern);
        scene.run_well(&format!("plan quay-bag.job.toml --fabric interfacing --effort quick {options}")).stdout
    };
    let plain = said("");
    assert!(
        plain.contains("\"Stiff band\", 31 1/2 in long and 2 3/8 in wide, sets its length; plan --changes says"),
        "{plain}"
    );
    let with = said("--changes");
    assert!(with.contains("sets its length; Stiff band in two halves, joined: buy 1/2 yd"), "{with}");
    assert!(with.contains("interfacing: across the grain too: buy 1/8 yd"), "{with}");
    // A band that lies across already wastes nothing.
    let across = job.replacen("right_side = \"both\"", "right_side = \"both\"\ncross_grain = \"allowed\"", 1);
    let scene = Scene::with(&across, &pattern);
    let said = scene.run_well("plan quay-bag.job.toml --fabric interfacing --effort quick").stdout;
    assert!(!said.contains("sets its length"), "{said}");
}

#[test]
fn terminal_and_report_tell_the_same_changes() {
    let scene = Scene::sound();
    let said = scene.run_well("plan quay-bag.job.toml --effort quick --changes --out out").stdout;
    assert!(said.contains("off the grain") && said.contains("whole job"), "{said}");
    let page = scene.read("out/report.html");
    assert!(page.contains("<section id=\"changes\""), "{page}");
    let without = scene.run_well("plan quay-bag.job.toml --effort quick").stdout;
    assert!(!without.contains("whole job"), "nobody asked");
}

/// A pocket with its line 10 mm above its hem cannot be shortened there by an inch.
#[test]
fn a_change_that_makes_no_job_says_why() {
    let pattern = PATTERN.replacen(
        "grainline = [[70, 20], [70, 140]]\n",
        "grainline = [[70, 20], [70, 140]]\nlines = { low = 10 }\n",
        1,
    );
    assert_ne!(pattern, PATTERN);
    let scene = Scene::with(JOB, &pattern);
    let said = scene.run_well("plan quay-bag.job.toml --effort quick --changes --json").stdout;
    let plan: Value = serde_json::from_str(&said).expect("a JSON object");
    let changes = plan["changes"].as_array().expect("changes");
    let find = |what: &str| changes.iter().find(|one| one["change"].as_str().is_some_and(|said| said.contains(what)));
    let shorter = find("shorter at \"low\"").expect("it is told");
    assert!(
        shorter["total"].is_null() && shorter["reason"].as_str().is_some_and(|why| why.contains("Pocket")),
        "{shorter}"
    );
    assert!(find("longer at \"low\"").is_some_and(|one| one["total"].is_string()));
    let text = scene.run_well("plan quay-bag.job.toml --effort quick --changes").stdout;
    assert!(text.contains("shorter at \"low\""), "{text}");
}

/// The apron is two inches too long for the remnant while its ties and bands lie along the grain.
#[test]
fn what_would_make_it_fit_a_remnant_comes_first_and_is_what_a_plan_of_it_says() {
    const APRON: &str = include_str!("../../demo-data/apron/galley-apron.pattern.toml");
    let job = "format = \"ellwand-job-1\"\nname = \"Apron\"\npattern = \"quay-bag.pattern.toml\"\nview = \"A\"\nsize = \"one size\"\nunits = \"in\"\ncurrency = \"GBP\"\n\n\
        [fabric.main]\nname = \"ticking\"\nwidth = \"45 in\"\nselvage = \"1/4 in\"\nnap = \"without\"\nprice = \"8.00\"\n\
        [[fabric.main.remnant]]\nname = \"sail bag\"\nlength = \"40 in\"\n\n\
        [fabric.lining]\nname = \"calico\"\nwidth = \"36 in\"\nselvage = \"0 in\"\nnap = \"without\"\non_hand = \"1/4 yd\"\n";
    let said = Scene::with(job, APRON).run_well("plan quay-bag.job.toml --effort quick --changes").stdout;
    let (fits, others) = said
        .split_once("What would make it fit \"sail bag\"")
        .expect("a heading")
        .1
        .split_once("\n\n")
        .expect("a table");
    let row = fits.lines().find(|line| line.contains("Ties across the grain")).unwrap_or_else(|| panic!("{said}"));
    assert!(row.contains("main nothing, it fits \"sail bag\"") && row.contains("less"), "{row}");
    assert!(others.contains("No difference: ") && !others.contains("it fits"), "{others}");
    let across = job.replacen("\n[fabric.main]", "\n[alter]\ncross_grain = [\"Ties\"]\n\n[fabric.main]", 1);
    let plan = Scene::with(&across, APRON).run_well("plan quay-bag.job.toml --effort quick --json").stdout;
    let plan: Value = serde_json::from_str(&plan).expect("a JSON object");
    assert_eq!(plan["total"], "0.00", "everything is at home");
}

#[test]
fn nothing_longer_is_listed_as_a_saving_and_cloth_that_lies_open_is_asked_about_folded() {
    let open = JOB.replace("layout = \"either\"", "layout = \"open\"");
    let scene = Scene::with(&open, PATTERN);
    let said = scene.run_well("plan quay-bag.job.toml --effort quick --changes").stdout;
    let longer = said.lines().filter(|line| line.contains(" longer at \"") && !line.starts_with("No difference"));
    longer.for_each(|line| assert!(!line.contains(" less"), "{line}"));
    assert!(!said.contains("whichever is shorter"), "{said}");
}
