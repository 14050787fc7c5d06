//! What is no fault and is told all the same: each note at its line, and what comes of the job.

mod passage;

use ellwand_files::{
    FaultKind, Limits, Note, NoteKind, PatternFault, ReadJob, Source, WhyGivenUp, parse_job, parse_pattern,
};
use passage::changed;

const PATTERN: &str = include_str!("good.pattern.toml");
const JOB: &str = include_str!("good.job.toml");
const PLAID_PATTERN: &str = include_str!("plaid.pattern.toml");
const PLAID_JOB: &str = include_str!("plaid.job.toml");

fn read(pattern: &str, job: &str) -> ReadJob {
    let read = parse_job(&Source::new("j", job), &Source::new("p", pattern), &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}"))
}

/// The note of a kind; it must stand in the line where the passage `at` starts.
fn only<'n>(notes: &'n [Note], text: &str, at: &str, is: impl Fn(&NoteKind) -> bool) -> &'n Note {
    let found: Vec<&Note> = notes.iter().filter(|note| is(note.kind())).collect();
    let [note] = found[..] else { panic!("{} notes of this kind among {notes:?}", found.len()) };
    let line = text[..text.find(at).unwrap()].matches('\n').count() + 1;
    assert_eq!(note.place().line_and_column().0, line, "{note}");
    assert!(note.to_string().contains(": note: "), "{note}");
    note
}

#[test]
fn a_trim_along_a_piece_that_a_choice_leaves_out_is_noted_at_its_edge() {
    let demo = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/jacket");
    let job = std::fs::read_to_string(demo.join("blazer.job.toml")).expect("the demo job");
    let read = |job: &str| {
        let shelf = ellwand_files::Folder::new(demo.clone());
        let read = ellwand_files::parse_changed_job(&Source::new("j", job), &shelf, &Limits::default(), &[]);
        read.unwrap_or_else(|faults| panic!("{faults}"))
    };
    let is = |kind: &NoteKind| matches!(kind, NoteKind::NotTrimmed { .. });
    assert!(!read(&job).notes.iter().any(|note| is(note.kind())));
    let shawl = changed(&job, "options = {", "options = { collar = \"shawl\",");
    let read = read(&shawl);
    let note = only(&read.notes, &shawl, "{ piece = \"Front\", edge = \"front edge\" }", is);
    assert!(note.to_string().contains("`Front` is not made with the collar `shawl`"), "{note}");
}

#[test]
fn a_width_as_bolts_are_labelled_is_the_smaller() {
    let job = changed(JOB, "\"58 in\"", "'58/60\"'");
    let read = read(PATTERN, &job);
    assert_eq!(read.job.fabric("main").unwrap().cloth.width, 58.0 * 25.4 * 0.99);
    let note = only(&read.notes, &job, "58/60", |kind| matches!(kind, NoteKind::BetweenTwoWidths { .. }));
    assert_eq!(
        note.to_string(),
        "j:11:9: note: the width \"58/60\"\" names two widths; the smaller, 58 in, is used; measure the cloth, and write one width"
    );
}

#[test]
fn more_off_the_grain_than_is_usual_is_noted() {
    let of = |angle: &str| changed(JOB, "nap = \"with\"", &format!("nap = \"with\"\noff_grain = \"{angle}\""));
    let is = |kind: &NoteKind| matches!(kind, NoteKind::MuchOffGrain { .. });
    for usual in ["0 deg", "1 deg", "2 deg"] {
        assert!(!read(PATTERN, &of(usual)).notes.iter().any(|note| is(note.kind())), "{usual}");
    }
    for (much, degrees) in [("2.5 deg", 2.5), ("10 deg", 10.0)] {
        let job = of(much);
        let read = read(PATTERN, &job);
        assert_eq!(read.job.fabric("main").unwrap().cloth.off_grain_deg, degrees, "a note changes nothing");
        let note = only(&read.notes, &job, "off_grain", is).to_string();
        assert!(note.contains(&format!("{degrees} degrees off the grain is more than usual")), "{note}");
        assert!(note.ends_with("; write \"1 deg\" or \"2 deg\", or leave it if this is meant"), "{note}");
    }
}

/// Once, however many cloths there are, and not for those that tell it, be it none.
#[test]
fn selvages_that_are_not_told_are_noted_once() {
    let of = |job: &str| {
        let notes = read(PATTERN, job).notes;
        let roles = |note: &Note| match note.kind() {
            NoteKind::NoSelvage { roles } => Some(roles.clone()),
            _ => None,
        };
        notes.iter().filter_map(roles).collect::<Vec<_>>()
    };
    assert_eq!(of(JOB), [["lining"]]);
    let neither = changed(JOB, "selvage = \"1/4 in\"\n", "");
    assert_eq!(of(&neither), [["main", "lining"]]);
    assert!(of(&changed(JOB, "right_side = \"both\"", "selvage = \"0 in\"")).is_empty());
    let job = changed(JOB, "selvage = \"1/4 in\"\n", "");
    let read = read(PATTERN, &job);
    only(&read.notes, &job, "main]", |kind| matches!(kind, NoteKind::NoSelvage { .. }));
}

const OPTION: &str =
    "\n[[option]]\nname = \"pocket\"\ndefault = \"patch\"\nchoices = { patch = [\"Pocket\"], none = [] }\n";

#[test]
fn a_piece_that_is_never_cut_is_noted() {
    let notes = |text: &str| parse_pattern(&Source::new("p", text), &Limits::default()).unwrap().notes;
    assert!(notes(PATTERN).is_empty());
    // In no view, and in no choice.
    let text = changed(PATTERN, "\"Pocket\", \"Band\"", "\"Pocket\"");
    let found = notes(&text);
    let note = only(&found, &text, "name = \"Band\"", |kind| matches!(kind, NoteKind::InNoView { .. }));
    assert!(note.to_string().contains("`Band` is in no view and in no choice"), "{note}");
    // A choice brings its pieces into a view that lists none of them, but what a view leaves of a choice is left.
    let brought = text.clone()
        + OPTION
        + "[[option]]\nname = \"top\"\ndefault = \"none\"\nchoices = { none = [], band = [\"Band\"] }\n";
    assert!(notes(&brought).is_empty());
    let left = text.clone()
        + OPTION
        + "[[option]]\nname = \"top\"\ndefault = \"none\"\nchoices = { none = [], full = [\"Front\", \"Band\"] }\n";
    let found = notes(&left);
    let note = only(&found, &left, "choices = { none = [], full", |kind| matches!(kind, NoteKind::NeverChosen { .. }));
    assert!(note.to_string().contains("no view has `Band` when `full` is chosen for `top`"), "{note}");
    // In a default choice it is a fault: who chooses nothing would never have it.
    let default = text + &changed(OPTION, "[\"Pocket\"]", "[\"Pocket\", \"Band\"]");
    let faults = parse_pattern(&Source::new("p", &*default), &Limits::default()).unwrap_err();
    let kinds: Vec<&FaultKind> = faults.iter().map(ellwand_files::Fault::kind).collect();
    assert!(matches!(kinds[..], [FaultKind::Pattern(PatternFault::DefaultInNoView { .. })]), "{faults}");
}

/// Names of the matches that are kept.
fn kept(read: &ReadJob) -> Vec<&str> {
    read.job.fabric("main").unwrap().matching.matches.iter().map(|wanted| wanted.name.as_str()).collect()
}

#[test]
fn the_wish_of_less_importance_is_given_up() {
    let lines = |one: &str, other: &str| {
        let line = |name: &str, on: &str, need: &str| {
            format!(
                "{{ name = \"{name}\", piece = \"Front\", point = \"centre low\", on = \"{on}\", need = \"{need}\" }}"
            )
        };
        let matching = format!(
            "centre = \"on a bar\"\nlimit = \"20 cm\"\nlines = [\n  {},\n  {},\n]\n",
            line("low", "bar", one),
            line("high", "midway", other)
        );
        changed(PLAID_JOB, "centre = \"on a bar\"\n", &matching)
    };
    let text = lines("wished", "wished");
    let both = read(PLAID_PATTERN, &text);
    assert!(kept(&both).contains(&"low") && !kept(&both).contains(&"high"), "{:?}", kept(&both));
    assert_eq!(both.job.fabric("main").unwrap().matching.given_up, ["high"]);
    let is_wish = |kind: &NoteKind| matches!(kind, NoteKind::WishGivenUp { why: WhyGivenUp::Matches(_), .. });
    let note = only(&both.notes, &text, "{ name = \"high\"", is_wish);
    assert!(note.to_string().contains("the wish `high` is given up"), "{note}");
    // The wish goes, wherever the required one stands.
    let required = read(PLAID_PATTERN, &lines("wished", "required"));
    assert!(kept(&required).contains(&"high") && !kept(&required).contains(&"low"));
    // Ranked first it is kept, and the other goes.
    let ranked = changed(&text, "limit = \"20 cm\"", "limit = \"20 cm\"\nrank = [\"high\"]");
    let ranked = read(PLAID_PATTERN, &ranked);
    assert!(kept(&ranked).contains(&"high") && !kept(&ranked).contains(&"low"));
    // What is required on both sides cannot be.
    let text = lines("required", "required");
    let faults =
        parse_job(&Source::new("j", &*text), &Source::new("p", PLAID_PATTERN), &Limits::default()).unwrap_err();
    assert!(faults.to_string().contains("contradict each other"), "{faults}");
}
