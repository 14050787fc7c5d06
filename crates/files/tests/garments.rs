//! Jobs of several garments: what each takes over, what its pieces are called, what adds up, and every slip.

use std::path::Path;

use ellwand_files::{Change, Faults, FileFault, Folder, Limits, ReadJob, Shelf, Source, parse_changed_job, parse_job};
use ellwand_garment::{Amount, Hands, MatchRule, TOGETHER};

/// The patterns of the demo garments and two small ones.
struct Demo;

impl Shelf for Demo {
    fn pattern(&self, named: &str, limits: &Limits) -> Result<Source, FileFault> {
        let here = [("bag.pattern.toml", BAG), ("cap.pattern.toml", CAP)];
        match here.iter().find(|(name, _)| *name == named) {
            Some((name, text)) => Ok(Source::new(*name, *text)),
            None => Folder::new(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data")).pattern(named, limits),
        }
    }
}

const BAG: &str = r#"
format = "ellwand-pattern-1"
name = "Landing bag"
coordinates = "in"
sizes = ["one size"]
view = [{ name = "A", pieces = ["Side", "Pocket"] }]
notion = [{ name = "Snap", count = 2, size = "15 mm" }, { name = "Thread", count = 1 }]
trim = [{ name = "Braid", edges = ["Pocket: top", { piece = "Side", edge = "top", times = 1 }] }]
seam = [{ name = "pocket", kind = "pocket", a = { piece = "Pocket", meets = ["corner"] }, b = { piece = "Side", meets = ["pocket corner"] } }]

[[piece]]
name = "Side"
cut = [{ from = "main", count = 2 }]
shape = { rectangle = { width = "15 in", height = "16 in" } }
points = { "pocket corner" = [3, 4] }

[[piece]]
name = "Pocket"
cut = [{ from = "main", count = 1 }]
shape = { rectangle = { width = "6 in", height = "5 in" } }
points = { corner = [0, 0] }
"#;

const CAP: &str = r#"
format = "ellwand-pattern-1"
name = "Ferry cap"
coordinates = "mm"
view = [{ name = "A", pieces = ["Crown"] }, { name = "B", pieces = ["Crown", "Peak"] }]
notion = [{ name = "Snap", count = 1, size = "10 mm" }, { name = "Thread", count = 1 }]
size = [{ name = "S" }, { name = "L" }]

[[piece]]
name = "Crown"
cut = [{ from = "main", count = 6 }]
seam_allowance = "10 mm"
[[piece.drawn]]
size = "S"
grainline = [[60, 20], [60, 120]]
start = [0, 0]
edges = [{ to = [100, 0] }, { to = [60, 160] }, { to = [0, 0] }]
[[piece.drawn]]
size = "L"
grainline = [[60, 20], [60, 120]]
start = [0, 0]
edges = [{ to = [110, 0] }, { to = [66, 170] }, { to = [0, 0] }]

[[piece]]
name = "Peak"
cut = [{ from = "contrast", count = 2, hands = "any" }]
shape = { rectangle = { width = "18 cm", height = "8 cm" } }
"#;

const CLOTH: &str = r#"
[fabric.main]
name = "canvas"
width = "60 in"
selvage = "1/4 in"
nap = "without"
"#;

fn text(garments: &str) -> String {
    format!("format = \"ellwand-job-1\"\nname = \"Stall\"\nunits = \"in\"\n{garments}\n{CLOTH}")
}

fn try_read(text: &str) -> Result<ReadJob, Faults> {
    parse_job(&Source::new("stall.job.toml", text), &Demo, &Limits::default())
}

fn read(text: &str) -> ReadJob {
    try_read(text).unwrap_or_else(|faults| panic!("{faults}"))
}

const TWO: &str = r#"
view = "A"
[[garment]]
name = "Bag"
pattern = "bag.pattern.toml"
count = 3
[[garment]]
name = "Cap"
pattern = "cap.pattern.toml"
size = "L"
"#;

#[test]
fn garments_are_joined_and_cut_as_often_as_they_are_made() {
    let read = read(&text(TWO));
    assert_eq!((read.job.view.as_str(), read.job.pattern.as_str()), (TOGETHER, "3 × Bag and Cap"));
    assert_eq!(read.pattern.views[0].pieces, ["Bag: Side", "Bag: Pocket", "Cap: Crown"]);
    let rule = |name: &str| &read.pattern.piece(name).unwrap().cuts[0];
    assert_eq!((rule("Bag: Side").count, rule("Bag: Side").hands), (6, Hands::Pair));
    assert_eq!((rule("Bag: Pocket").count, rule("Cap: Crown").count), (3, 6));
    let width = |name: &str| read.pattern.piece(name).unwrap().outline.bounds().width();
    assert!((width("Bag: Side") - 15.0 * 25.4).abs() < 1e-6 && width("Cap: Crown") > 110.0);
    assert_eq!(
        read.garments.iter().map(|of| (of.name.as_str(), of.count)).collect::<Vec<_>>(),
        [("Bag", 3), ("Cap", 1)]
    );
    assert_eq!(read.garments[1].fit.report.size, "L");
    assert_eq!(read.pattern.piece("Bag: Side").map(|piece| piece.name.as_str()), Some("Bag: Side"));
    assert!(read.places.piece("Cap: Crown").to_string().starts_with("cap.pattern.toml:"));
    let drafts: Vec<&str> = read.fit.drafts.iter().map(|draft| draft.name.as_str()).collect();
    assert_eq!(drafts, ["Bag: Side", "Bag: Pocket", "Cap: Crown"]);
}

#[test]
fn notions_and_trims_add_up_over_garments_and_counts() {
    let read = read(&text(TWO));
    let needed: Vec<(&str, Amount)> =
        read.job.spending.supplies.iter().map(|supply| (supply.name.as_str(), supply.needed)).collect();
    // Snaps of two sizes are two things; a braid goes along three pockets, and once along a side of each bag.
    let braid = 3.0 * (6.0 + 15.0) * 25.4;
    assert_eq!(needed.len(), 4);
    assert_eq!(
        needed[..3],
        [("Bag: Snap", Amount::Count(6)), ("Thread", Amount::Count(4)), ("Cap: Snap", Amount::Count(1))]
    );
    let ("Braid", Amount::Length(length)) = needed[3] else { panic!("{needed:?}") };
    assert!((length - braid).abs() < 1e-6);
    // A trim of the job's own goes along the edge of every garment that has it.
    let own = format!(
        "{}\n[[trim]]\nname = \"Tape\"\nedges = [\"Pocket: top\", {{ piece = \"Bag: Side\", edge = \"bottom\", times = 2 }}]\n",
        text(TWO)
    );
    let supplies = self::read(&own).job.spending.supplies;
    let tape = supplies.iter().find(|supply| supply.name == "Tape").unwrap();
    let Amount::Length(length) = tape.needed else { panic!("{tape:?}") };
    assert!((length - (3.0 * 6.0 + 2.0 * 15.0) * 25.4).abs() < 1e-6, "{length}");
}

/// A dress in size 36 and two in 40, of tartan: each matches in itself, and none with another.
#[test]
fn on_a_design_each_garment_and_each_copy_has_pieces_and_matches_of_its_own() {
    let tartan = include_str!("../../../demo-data/shirt-dress/tartan.job.toml");
    let one = parse_job(
        &Source::new("tartan.job.toml", tartan.replace("pilot-house", "shirt-dress/pilot-house")),
        &Demo,
        &Limits::default(),
    );
    let one = one.unwrap_or_else(|faults| panic!("{faults}"));
    let pattern = "pattern = \"pilot-house.pattern.toml\"\n";
    assert!(tartan.contains(pattern));
    let size = tartan.lines().find(|line| line.starts_with("size = ")).unwrap();
    let several = tartan.replace(pattern, "pattern = \"shirt-dress/pilot-house.pattern.toml\"\n").replace(
        "\n[fabric.main]",
        &format!("\n[[garment]]\nname = \"Small\"\nsize = \"36\"\n[[garment]]\nname = \"Own\"\n{size}\ncount = 2\n\n[fabric.main]"),
    );
    let read = read(&several);
    let matches = |read: &ReadJob| read.job.fabric("main").unwrap().matching.matches.clone();
    let (own, all) = (matches(&one), matches(&read));
    assert_eq!(all.len(), 3 * own.len());
    for set in ["Small", "Own 1", "Own 2"] {
        let of_set = all.iter().filter(|wanted| wanted.name.starts_with(&format!("{set}: ")));
        let names: Vec<&str> = of_set.clone().map(|wanted| &wanted.name[set.len() + 2..]).collect();
        let mut expected: Vec<&str> = own.iter().map(|wanted| wanted.name.as_str()).collect();
        let mut found = names.clone();
        expected.sort_unstable();
        found.sort_unstable();
        assert_eq!(found, expected);
        for rule in of_set.flat_map(|wanted| &wanted.rules) {
            assert!(rule.points().all(|at| at.piece.starts_with(&format!("{set}: "))), "{rule:?}");
            assert!(!matches!(rule, MatchRule::Border { .. }));
        }
    }
    // What belongs to one garment is the job of it alone, but for the names.
    let alone = read.pattern.alone(&read.pattern.garments[1]).unwrap();
    let plain = |name: &str| name.strip_prefix("Own 1: ").unwrap().to_owned();
    for (piece, expected) in alone.pieces.iter().zip(one.pattern.pieces.iter().filter(|piece| {
        one.pattern.views.iter().any(|view| view.name == one.job.view && view.pieces.contains(&piece.name))
    })) {
        assert_eq!(plain(&piece.name), expected.name);
        assert_eq!((&piece.outline, &piece.cuts), (&expected.outline, &expected.cuts));
    }
}

#[test]
fn a_name_of_a_seam_is_that_of_every_garment_and_with_its_garment_that_of_one() {
    let plaid = |matching: &str| {
        format!(
            "{}across = {{ repeat = \"3 in\", offset = \"1 in\", balance = \"even\" }}\nalong = {{ repeat = \"4 in\", offset = \"0 in\", balance = \"even\" }}\n[fabric.main.matching]\n{matching}\n",
            text(&TWO.replace("count = 3", "count = 2")) + "[fabric.main.design]\n"
        )
    };
    let names = |text: &str| -> Vec<String> {
        let read = read(text);
        read.job.fabric("main").unwrap().matching.matches.iter().map(|wanted| wanted.name.clone()).collect()
    };
    assert_eq!(names(&plaid("")), ["Bag 1: pocket", "Bag 2: pocket"]);
    assert_eq!(names(&plaid("leave = [\"pocket\"]")), Vec::<String>::new());
    assert_eq!(names(&plaid("leave = [\"Bag 2: pocket\"]")), ["Bag 1: pocket"]);
    assert_eq!(names(&plaid("rank = [\"Bag 2: pocket\"]")), ["Bag 2: pocket", "Bag 1: pocket"]);
    let lines = "leave = [\"Bag: pocket\"]\nlines = [{ piece = \"Pocket\", point = \"corner\", on = \"bar\", name = \"corner\" }]";
    assert_eq!(names(&plaid(lines)), ["Bag 1: corner", "Bag 2: corner"]);
    let pair = "leave = [\"pocket\"]\nadd = [{ name = \"level\", a = { piece = \"Pocket\", point = \"corner\" }, b = { piece = \"Side\", point = \"pocket corner\" }, axis = \"along\" }]";
    assert_eq!(names(&plaid(pair)), ["Bag 1: level", "Bag 2: level"]);
    let across = "add = [{ name = \"both\", a = { piece = \"Bag 1: Pocket\", point = \"corner\" }, b = { piece = \"Bag 2: Pocket\", point = \"corner\" }, axis = \"along\" }]";
    assert_eq!(names(&plaid(across)), ["Bag 1: pocket", "Bag 2: pocket", "both"]);
}

#[test]
fn a_change_of_one_garment_is_what_is_written_in_it() {
    let own = text(TWO);
    let change = Change::OfGarment { garment: "Cap".into(), change: Box::new(Change::Size("S".into())) };
    let changed =
        parse_changed_job(&Source::new("stall.job.toml", &own), &Demo, &Limits::default(), &[change]).unwrap();
    let written = read(&own.replace("size = \"L\"", "size = \"S\""));
    assert_eq!((changed.job, changed.pattern), (written.job, written.pattern));
    let next = &read(&own).alternatives.of_garments[1].1.next_sizes;
    assert_eq!(*next, ["S"]);
}

#[test]
fn one_garment_of_a_list_is_a_job_of_its_own() {
    let listed = read(&text("[[garment]]\nname = \"Bag\"\npattern = \"bag.pattern.toml\"\nview = \"A\"\n"));
    let plain = read(&text("pattern = \"bag.pattern.toml\"\nview = \"A\"\n"));
    assert_eq!(listed.pattern.pieces, plain.pattern.pieces);
    assert_eq!(listed.job.spending, plain.job.spending);
    let many = read(&text("pattern = \"bag.pattern.toml\"\nview = \"A\"\n[[garment]]\nname = \"Bag\"\ncount = 5\n"));
    assert_eq!(many.pattern.piece("Side").unwrap().cuts[0].count, 10);
}

fn refused(garments: &str, words: &[&str]) {
    let said = try_read(&text(garments)).expect_err("it was taken").to_string();
    assert!(said.lines().all(|line| line.contains(": error: ") && line.contains("; ")), "{said}");
    for word in words {
        assert!(said.contains(word), "\"{word}\" is not in {said}");
    }
    assert_eq!(said.lines().count(), 1, "{said}");
}

#[test]
fn every_slip_is_told_with_what_would_be_right() {
    let with = |from: &str, to: &str| {
        assert!(TWO.contains(from), "{from}");
        TWO.replacen(from, to, 1)
    };
    refused("garment = []", &["stall.job.toml:4:11", "the list of garments is empty", "add a [[garment]]"]);
    refused(
        &with("pattern = \"bag.pattern.toml\"\n", ""),
        &["the garment `Bag` has no pattern", "add `pattern` to it, or to the job"],
    );
    refused(
        &with("view = \"A\"\n", "").replace("size = \"L\"", "size = \"L\"\nview = \"A\""),
        &["the garment `Bag` has no view"],
    );
    refused(&with("count = 3", "count = 0"), &["0 of the garment `Bag`", "from 1 to 1000"]);
    refused(&with("count = 3", "count = 1000000000000"), &["1000000000000 of the garment `Bag`", "from 1 to 1000"]);
    refused(&with("count = 3", "count = 500"), &["1506 cuts from one cloth", "1000"]);
    refused(&with("name = \"Cap\"", "name = \"Bag\""), &["two garments are called `Bag`", "count = 2"]);
    refused(&with("name = \"Cap\"", "name = \"Bag 2\""), &["two garments are called `Bag 2`"]);
    refused(&with("name = \"Cap\"", "name = \"Bag: small\""), &["has a colon"]);
    refused(&with("name = \"Cap\"\n", ""), &["has no `name`"]);
    refused(&with("cap.pattern.toml", "hat.pattern.toml"), &["the pattern \"hat.pattern.toml\" cannot be used"]);
    refused(
        &with("size = \"L\"", "size = \"XL\""),
        &["stall.job.toml:13:8: error: the pattern has no size `XL`", "did you mean `L`?"],
    );
    let short = "[garment.alter]\nlengthen = [{ line = \"knee\", by = \"1 in\" }]\n";
    refused(&format!("{TWO}{short}"), &["stall.job.toml:15:13: error: ", "line \"knee\" to lengthen or shorten at"]);
    // What is taken over from the job is told with the garment that it does not suit.
    let of_all = with("view = \"A\"", "view = \"A\"\nsize = \"L\"");
    refused(
        &of_all,
        &["stall.job.toml:6:8: error: garment `Bag`: the pattern has no size `L`", "[[garment]] `Bag` itself"],
    );
    let of_bag = with("view = \"A\"", "view = \"B\"").replace("size = \"L\"", "size = \"L\"\nview = \"A\"");
    refused(&of_bag, &["stall.job.toml:5:8: error: garment `Bag`: the pattern has no view `B`"]);
    refused(
        &with("size = \"L\"", "size = \"L\"\nview = \"B\""),
        &["stall.job.toml:14:8: error: view `B` needs a cloth `contrast`"],
    );
    refused(&with("size = \"L\"", "size = \"L\"\nsise = 2"), &["`sise` is not a key of a garment"]);
    let said =
        try_read(&(text(TWO) + "[fabric.fur]\nname = \"f\"\nwidth = \"1 m\"\nnap = \"with\"\nselvage = \"0 in\"\n"))
            .unwrap_err()
            .to_string();
    assert!(said.contains("no garment is cut from a cloth called `fur`; use `main` or `contrast`"), "{said}");
}
