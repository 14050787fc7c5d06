//! Remnants as a job and a stash tell them, and every slip that can be made with them.

use ellwand_files::{FileFault, Limits, Shelf, Source, parse_job};
use ellwand_garment::{Remnant, Selvages};

const PATTERN: &str = r#"
format = "ellwand-pattern-1"
name = "Bag"
sizes = ["one size"]

[[view]]
name = "A"
title = "Bag"
pieces = ["Side"]

[[piece]]
name = "Side"
cut = [{ from = "main", count = 2, hands = "any" }]
shape = { rectangle = { width = "15 in", height = "16 in" } }
"#;

/// A pattern, and a stash or none.
struct Both(Option<&'static str>);

impl Shelf for Both {
    fn pattern(&self, named: &str, _: &Limits) -> Result<Source, FileFault> {
        Ok(Source::new(named, PATTERN))
    }

    fn stash(&self, named: &str, _: &Limits) -> Result<Source, FileFault> {
        self.0.map(|text| Source::new(named, text)).ok_or(FileFault::Missing)
    }
}

fn job(fabric: &str, top: &str) -> Source {
    let text = format!(
        "format = \"ellwand-job-1\"\nname = \"Bag for the ferry\"\npattern = \"bag.pattern.toml\"\nview = \"A\"\nunits = \"in\"\n{top}\n\
         [fabric.main]\nname = \"canvas\"\nwidth = \"45 in\"\nselvage = \"1/2 in\"\nnap = \"without\"\n{fabric}"
    );
    Source::new("bag.job.toml", text)
}

fn remnants(fabric: &str) -> Vec<Remnant> {
    let read = parse_job(&job(fabric, ""), &Both(None), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    read.job.fabrics[0].remnants.clone()
}

/// The only fault of a job, without its place.
fn fault(fabric: &str) -> String {
    faults(fabric, "", None)
}

fn faults(fabric: &str, top: &str, stash: Option<&'static str>) -> String {
    let faults = parse_job(&job(fabric, top), &Both(stash), &Limits::default()).expect_err("it is at fault");
    let lines: Vec<String> = faults.iter().map(|fault| fault.plain()).collect();
    assert_eq!(lines.len(), 1, "{lines:#?}");
    lines[0].clone()
}

#[test]
fn a_length_is_as_wide_as_the_cloth_with_both_selvages_and_a_width_has_none() {
    let listed = remnants(
        "[[fabric.main.remnant]]\nname = \"end\"\nlength = \"10 in\"\n[[fabric.main.remnant]]\nname = \"strip\"\nlength = \"20 in\"\nwidth = \"4 in\"\n",
    );
    assert_eq!((listed[0].width(), listed[0].length(), listed[0].selvages), (45.0 * 25.4, 254.0, Selvages::Both));
    assert_eq!((listed[1].width(), listed[1].length(), listed[1].selvages), (4.0 * 25.4, 508.0, Selvages::None));
}

#[test]
fn an_outline_begins_where_it_likes_and_its_flaws_move_with_it() {
    let listed = remnants(
        "shrinkage = { along = \"10%\" }\n[[fabric.main.remnant]]\nname = \"corner\"\ncoordinates = \"cm\"\n\
         outline = [[10, 20], [40, 20], [10, \"50 cm\"]]\nflaws = [{ at = [\"12 cm\", \"25 cm\"], size = [\"1 cm\", \"1 cm\"] }]\n\
         [[fabric.main.remnant]]\nname = \"washed\"\nwashed = true\ncoordinates = \"cm\"\noutline = [[10, 20], [40, 20], [10, 50]]\n",
    );
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
    near(listed[0].length(), 270.0);
    near(listed[1].length(), 300.0);
    let flaw = listed[0].flaws[0].bounds();
    near(flaw.min.x, 20.0);
    near(flaw.min.y, 45.0);
}

#[test]
fn each_slip_is_told_with_what_would_be_right() {
    let one = |keys: &str| fault(&format!("[[fabric.main.remnant]]\nname = \"end\"\n{keys}\n"));
    for (keys, said) in [
        ("", "8: error: the remnant `end` has neither a `length` nor an `outline`; measure it along the warp"),
        ("length = \"0 in\"", "the length of the remnant is zero; write a length above zero"),
        ("length = \"3 in\"\nwidth = \"0 in\"", "the width of the remnant is zero"),
        (
            "length = \"3 in\"\nwidth = \"1/2 in\"\nselvage = \"left\"",
            "the selvages use up the whole width of the remnant `end`",
        ),
        (
            "outline = [[0, 0], [1, 0], [0, 1]]",
            "has bare numbers, and nothing says in what unit; add coordinates = \"in\"",
        ),
        (
            "coordinates = \"in\"\noutline = [[0, 0], [9, 9], [9, 0], [0, 9]]",
            "does not go around it once: the edge from corner 1 crosses or touches the one from corner 3; give its corners in the order",
        ),
        (
            "coordinates = \"in\"\noutline = [[0, 0], [9, 9]]",
            "an outline needs at least three different points, this one has 2",
        ),
        ("coordinates = \"in\"\noutline = [[0, 0], [9, 9], [18, 18]]", "the outline encloses no area"),
        (
            "coordinates = \"in\"\noutline = [[0, 0], [9e9, 9], [18, 0]]",
            "this corner lies more than 100 m from the others",
        ),
        (
            "length = \"9 in\"\ncoordinates = \"in\"\noutline = [[0, 0], [9, 9], [18, 0]]",
            "has both an `outline` and a `length`",
        ),
        ("length = \"9 in\"\nselvage = \"top\"", "\"top\" is not a choice here; use `left`, `right`, `both` or `none`"),
        ("length = \"9 in\"\njob = \"x\"", "`job` is not a key of a remnant"),
        (
            "length = \"9 in\"\n[[fabric.main.remnant]]\nname = \"end\"\nlength = \"4 in\"",
            "there are two remnants called `end`",
        ),
        ("length = \"9 in\"\nflaws = [{ at = [\"46 in\", \"1 in\"], size = [\"1 in\", \"1 in\"] }]", "the flaw starts"),
    ] {
        let told = one(keys);
        assert!(told.contains(said), "{keys}: {told}");
    }
}

#[test]
fn on_cloth_with_a_design_a_remnant_says_where_it_lies() {
    let design = "[fabric.main.design]\nacross = { repeat = \"5 in\", balance = \"even\" }\n";
    let listed = |keys: &str| format!("{design}[[fabric.main.remnant]]\nname = \"end\"\nlength = \"20 in\"\n{keys}");
    let told = fault(&listed(""));
    assert!(
        told.contains("repeats across, and nothing says where it lies on the remnant `end`; measure from its left"),
        "{told}"
    );
    assert_eq!(remnants(&listed("offset_across = \"2 in\"\n"))[0].offset_across, Some(50.8));
    let border = "[fabric.main.design]\nborder = { along = \"both selvages\", width = \"8 in\" }\n[[fabric.main.remnant]]\nname = \"end\"\nlength = \"20 in\"\n";
    assert!(fault(border).contains("the remnant `end` is of cloth with a border"));
}

const STASH: &str = r#"
format = "ellwand-remnants-1"

[[remnant]]
name = "Sail 1"
cloth = "canvas"
job = "Sail"
length = "30 in"
width = "20 in"

[[remnant]]
name = "Sail 2"
cloth = "denim"
length = "30 in"

[[remnant]]
name = "Sail 3"
cloth = "canvas"
used_by = "Tent"
length = "31 in"

[[remnant]]
name = "Sail 4"
cloth = "canvas"
used_by = "Bag for the ferry"
length = "32 in"

[[remnant]]
name = "Bag 1"
cloth = "canvas"
job = "Bag for the ferry"
length = "33 in"
"#;

#[test]
fn of_a_stash_a_cloth_has_what_is_of_it_and_free() {
    let read = parse_job(&job("", "stash = \"stash.toml\""), &Both(Some(STASH)), &Limits::default()).unwrap();
    let names: Vec<&str> = read.job.fabrics[0].remnants.iter().map(|remnant| remnant.name.as_str()).collect();
    assert_eq!(names, ["Sail 1", "Sail 4"]);
}

#[test]
fn a_stash_that_is_not_there_is_damaged_or_another_file_is_told() {
    let told = |stash: Option<&'static str>| faults("", "stash = \"stash.toml\"", stash);
    assert!(
        told(None).starts_with("bag.job.toml:6:9: error: the stash \"stash.toml\" cannot be used"),
        "{}",
        told(None)
    );
    let damaged = told(Some("format = \"ellwand-remnants-1\"\n[[remnant]\nname = "));
    assert!(damaged.starts_with("stash.toml:2:") && damaged.contains("this is not TOML"), "{damaged}");
    let other = told(Some("format = \"ellwand-remnants-2\"\n"));
    assert!(other.contains("the format is \"ellwand-remnants-2\", but it should be \"ellwand-remnants-1\""), "{other}");
    let nameless = told(Some("format = \"ellwand-remnants-1\"\n[[remnant]]\nname = \"x\"\nlength = \"3 in\"\n"));
    assert!(nameless.starts_with("stash.toml:2:1: error: a remnant of a stash has no `cloth`"), "{nameless}");
}

#[test]
fn an_old_fold_is_kept_clear_of_as_far_as_the_cloth_goes() {
    let told = "on_hand = \"2 yd\"\nshrinkage = { along = \"10%\", across = \"10%\" }\ncreases = [\"22.5 in\"]\n[[fabric.main.remnant]]\nname = \"end\"\ncoordinates = \"in\"\noutline = [[1, 2], [21, 2], [21, 12], [1, 12]]\ncreases = [\"11 in\"]";
    let read = parse_job(&job(told, ""), &Both(None), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    let fabric = &read.job.fabrics[0];
    let spans = |flaws: &[ellwand_geometry::Outline]| {
        let [crease] = flaws else { panic!("one crease: {flaws:?}") };
        let bounds = crease.bounds();
        [bounds.min.x, bounds.max.x, bounds.min.y, bounds.max.y].map(|mm| (mm * 1000.0).round() / 1000.0)
    };
    assert_eq!(spans(&fabric.cloth.flaws), [513.35, 515.35, 0.0, 1645.92], "the middle of what washing leaves");
    // From its own corner, which lies 1 in and 2 in from where it is measured.
    assert_eq!(spans(&fabric.remnants[0].flaws), [227.6, 229.6, 0.0, 228.6]);
    for (keys, said) in [
        (
            "creases = [\"22 in\"]",
            "the cloth has creases, but no length of it is on hand; creases are of cloth at home",
        ),
        (
            "on_hand = \"2 yd\"\ncreases = [\"45 in\"]",
            "the crease is 1143.0 mm from the left edge, but the cloth reaches",
        ),
        ("on_hand = \"2 yd\"\ncreases = \"22 in\"", "write a list in [square brackets]"),
        (
            "[[fabric.main.remnant]]\nname = \"end\"\nlength = \"9 in\"\nwidth = \"9 in\"\ncreases = [\"10 in\"]",
            "the crease is 254.0 mm from the left edge",
        ),
    ] {
        let told = fault(keys);
        assert!(told.contains(said), "{keys}: {told}");
    }
}
