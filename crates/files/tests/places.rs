//! Where a job and its pattern say things, for those who refuse it later.

use ellwand_files::{Limits, Place, Source, parse_job};

const PATTERN: &str = include_str!("plaid.pattern.toml");
const JOB: &str = include_str!("plaid.job.toml");

#[test]
fn every_question_has_a_place() {
    let wishes = "wish = [\"side\"]\nlimit = \"20 cm\"\nlines = [{ name = \"low\", piece = \"Front\", point = \"centre low\", on = \"bar\" }]\n";
    let job = JOB.replace("centre = \"on a bar\"\n", &format!("centre = \"on a bar\"\n{wishes}"));
    let read = parse_job(&Source::new("j", &*job), &Source::new("p", PATTERN), &Limits::default());
    let places = read.unwrap_or_else(|faults| panic!("{faults}")).places;
    let at = |place: &Place, text: &str, passage: &str| {
        let start = text.find(passage).unwrap_or_else(|| panic!("`{passage}` is nowhere"));
        assert_eq!(place.source().text(), text);
        assert!(place.span().contains(&start), "{place} is not where {passage} stands: {:?}, {start}", place.span());
    };
    let view = job.find("view = \"A\"").unwrap() + 7;
    assert_eq!(places.view().span().start, view);
    at(places.cloth("main"), &job, "main]");
    at(places.width("main"), &job, "150 cm");
    at(places.layout("main"), &job, "\"open\"");
    at(places.matched("main", "low"), &job, "{ name = \"low\"");
    at(places.matched("main", "side"), &job, "\"side\"");
    at(places.piece("Pocket"), PATTERN, "\"Pocket\"\ncut");
    // What is not said is at what it belongs to.
    assert_eq!(places.matched("main", "pocket"), places.matching("main"));
    assert_eq!(places.layout("lining"), places.cloth("lining"));
    assert_eq!(places.design("lining"), places.cloth("lining"));
    assert_eq!(places.width("interfacing"), places.view());
    assert_eq!(places.piece("Nobody"), places.view());
    assert_ne!(places.matching("main"), places.design("main"));
}
