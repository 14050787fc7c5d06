//! What suits a pattern: a cloth that does not is noted at its place and laid out all the same.

use ellwand_files::{Limits, Source, parse_job, parse_pattern};

const PATTERN: &str = r#"
format = "ellwand-pattern-1"
name = "Scarf"
sizes = ["one"]
view = [{ name = "A", pieces = ["Scarf"] }]
piece = [{ name = "Scarf", cut = [{ from = "main", count = 1 }], shape = { strip = { length = "5 ft", width = "12 in" } } }]

[suits.main]
kinds = ["Linen", "chambray"]
weight = ["100 g/m2", "7 oz/yd2"]
stretch = "5%"
not_for = ["obvious diagonals", "plaids", "nap"]
"#;

/// The notes on a cloth that says these lines of itself.
fn notes(lines: &str) -> Vec<String> {
    let job = format!(
        "format = \"ellwand-job-1\"\nname = \"Scarf\"\npattern = \"scarf.pattern.toml\"\nview = \"A\"\nunits = \"in\"\n\n[fabric.main]\n\
         name = \"cloth\"\nwidth = \"45 in\"\nselvage = \"1/4 in\"\n{lines}"
    );
    let pattern = Source::new("scarf.pattern.toml", PATTERN);
    let read = parse_job(&Source::new("scarf.job.toml", job), &pattern, &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}")).notes.iter().map(ToString::to_string).collect()
}

#[test]
fn what_suits_and_what_says_nothing_is_not_noted() {
    assert_eq!(notes("nap = \"without\"\n"), Vec::<String>::new());
    let all = "nap = \"without\"\nkind = \"linen\"\nweight = \"180 g/m2\"\nstretch = \"8%\"\ndiagonals = \"faint\"\n";
    assert_eq!(notes(all), Vec::<String>::new());
    let stripe = "nap = \"without\"\ndesign = { across = { repeat = \"2 in\", balance = \"even\" } }\n";
    assert!(!notes(stripe).iter().any(|note| note.contains("is not for")), "a stripe is no plaid");
}

#[test]
fn each_thing_that_does_not_suit_is_noted_at_its_place() {
    for (lines, place, said) in [
        (
            "nap = \"without\"\nkind = \"corduroy\"\n",
            "12:8",
            "\"cloth\" is corduroy, and the pattern is meant for Linen, chambray",
        ),
        (
            "nap = \"without\"\nweight = \"340 g/m2\"\n",
            "12:10",
            "weighs 340 g/m2, and the pattern is meant for 100 to 237 g/m2",
        ),
        ("nap = \"without\"\nweight = \"2 oz\"\n", "12:10", "weighs 68 g/m2"),
        ("nap = \"without\"\nstretch = \"2%\"\n", "12:11", "stretches by 2 %, and the pattern needs 5 % at least"),
        (
            "nap = \"without\"\ndiagonals = \"obvious\"\n",
            "12:13",
            "has obvious diagonals, and the pattern is not for obvious diagonals",
        ),
        ("nap = \"with\"\n", "11:7", "has a nap, and the pattern is not for nap"),
        (
            "nap = \"without\"\ndesign = { across = { repeat = \"2 in\", balance = \"even\" }, along = { repeat = \"2 in\", balance = \"even\" } }\n",
            "12:10",
            "has a design that repeats both ways, and the pattern is not for plaids",
        ),
    ] {
        let told = notes(lines);
        let found = told.iter().find(|note| note.contains(said)).unwrap_or_else(|| panic!("{said} in {told:?}"));
        assert!(found.starts_with(&format!("scarf.job.toml:{place}: note: ")), "{found}");
        assert!(found.contains("laid out all the same"), "{found}");
    }
}

#[test]
fn a_candidate_that_does_not_suit_is_noted_too() {
    let candidate = "nap = \"without\"\n\n[[fabric.main.candidate]]\nname = \"cord\"\nwidth = \"1 m\"\nnap = \"with\"\nkind = \"corduroy\"\n";
    let told = notes(candidate);
    for said in ["\"cord\" is corduroy", "\"cord\" has a nap"] {
        assert!(told.iter().any(|note| note.contains(said)), "{said} in {told:?}");
    }
}

#[test]
fn what_cannot_suit_is_a_fault_of_the_pattern() {
    let faults = |from: &str, to: &str| {
        let text = PATTERN.replacen(from, to, 1);
        assert_ne!(text, PATTERN);
        parse_pattern(&Source::new("scarf.pattern.toml", text), &Limits::default()).expect_err("a fault").to_string()
    };
    assert!(
        faults("[suits.main]", "[suits.mian]").contains("`mian` is not listed"),
        "{}",
        faults("[suits.main]", "[suits.mian]")
    );
    let backwards = faults("[\"100 g/m2\", \"7 oz/yd2\"]", "[\"300 g/m2\", \"7 oz/yd2\"]");
    assert!(backwards.contains("the other way round") && backwards.contains("such as weight = "), "{backwards}");
    assert!(faults("[\"100 g/m2\", \"7 oz/yd2\"]", "[\"100 g/m2\"]").contains("names 1"));
    assert!(faults("\"100 g/m2\"", "100").contains("100 g/m2"));
    let checks = faults("\"nap\"]", "\"checks\"]");
    assert!(checks.contains("`obvious diagonals`, `stripes`, `plaids`"), "{checks}");
    assert!(faults("stretch = \"5%\"", "strech = \"5%\"").contains("stretch"));
}
