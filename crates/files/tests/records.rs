//! A record of pieces in the place of a pattern: the same pieces again, and one clear fault for each record that is none.

use ellwand_files::{Faults, Limits, ReadJob, Source, parse_job, parse_pattern, pieces_record, view_record};
use ellwand_garment::Pattern;

const PATTERN: &str = include_str!("plaid.pattern.toml");
const JOB: &str = include_str!("plaid.job.toml");

fn first() -> ReadJob {
    let read = parse_job(&Source::new("job", JOB), &Source::new("pattern", PATTERN), &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}"))
}

fn record(read: &ReadJob) -> String {
    view_record(&read.pattern, read.pattern.view(&read.job.view).expect("the view"))
}

/// The job, naming a record; what only a pattern can answer is left out.
fn job_of_record() -> String {
    let answered = ["view = ", "size = ", "figure = "];
    let lines = JOB.lines().filter(|line| !answered.iter().any(|key| line.starts_with(key)));
    let lines = lines.map(|line| if line.starts_with("pattern = ") { "pattern = \"p.json\"" } else { line });
    lines.collect::<Vec<_>>().join("\n")
}

fn again(job: &str, record: &str) -> Result<ReadJob, Faults> {
    parse_job(&Source::new("job", job), &Source::new("p.json", record), &Limits::default())
}

#[test]
fn a_plaid_is_matched_as_from_the_pattern() {
    let first = first();
    let again = again(&job_of_record(), &record(&first)).unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(again.job, first.job);
    let view = first.pattern.view(&first.job.view).unwrap();
    for name in &view.pieces {
        assert_eq!(again.pattern.piece(name), first.pattern.piece(name));
    }
    assert!(again.job.fabrics.iter().any(|fabric| !fabric.matching.matches.is_empty()));
    assert!(again.places.piece(&view.pieces[0]).source().name().ends_with("p.json"));
}

/// The fields that were there before others were added are enough: grain straight, no notches, no seams.
#[test]
fn a_record_of_the_first_fields_alone_is_read() {
    let text = r#"{"format": "ellwand-pieces-1", "size": "12", "pieces": [
        {"piece": "Pocket", "outline": [[0, 0], [180, 0], [160, 200], [0, 190]], "grainline": [[80, 30], [80, 160]],
         "points": {"corner": [0, 190]}, "cut": [{"fabric": "main", "count": 2, "on_fold": false, "hands": "pair"}]}]}"#;
    let read =
        parse_pattern(&Source::new("p.json", text), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    let Pattern { size, pieces, views, .. } = read.pattern;
    assert_eq!((size.as_str(), views[0].pieces.as_slice()), ("12", ["Pocket".to_owned()].as_slice()));
    assert_eq!(pieces[0].outline.points().len(), 4);
}

#[test]
fn the_record_of_a_whole_pattern_is_read() {
    let read = parse_pattern(&Source::new("p", PATTERN), &Limits::default()).unwrap();
    let again = parse_pattern(&Source::new("p.json", pieces_record(&read.pattern)), &Limits::default());
    assert_eq!(again.unwrap_or_else(|faults| panic!("{faults}")).pattern.pieces, read.pattern.pieces);
}

#[test]
fn keys_that_only_a_pattern_answers_are_refused_in_their_lines() {
    let record = record(&first());
    for (line, reason) in [
        ("view = \"A\"", "the pieces of one view"),
        ("size = \"38\"", "in one size"),
        ("figure = \"regular\"", "in one size"),
        ("body = { bust = \"90 cm\" }", "no girths"),
        ("ease = { bust = \"9 cm\" }", "no girths"),
        ("alter = { options = { pocket = \"none\" } }", "altered"),
    ] {
        let job = job_of_record().replace("pattern = \"p.json\"", &format!("pattern = \"p.json\"\n{line}"));
        let faults = again(&job, &record).expect_err(line);
        assert_eq!(faults.iter().count(), 1, "{faults}");
        let fault = faults.iter().next().unwrap();
        let at = job[..job.find(line).unwrap()].matches('\n').count() + 1;
        assert_eq!(fault.place().unwrap().line_and_column().0, at, "{faults}");
        let told = fault.kind().to_string();
        assert!(told.contains(reason) && told.contains(line.split(' ').next().unwrap()), "{told}");
        assert!(fault.kind().help().contains("leave it out"), "{faults}");
    }
}

/// One fault a record, in the line of the piece where there is one.
#[test]
fn a_record_that_is_none_is_one_fault() {
    let good = record(&first());
    let piece = good.lines().position(|line| line.contains("\"piece\":")).expect("a piece") + 1;
    let changed = |from: &str, to: &str| {
        assert!(good.contains(from), "`{from}` is nowhere");
        good.replacen(from, to, 1)
    };
    let outline = |points: &str| {
        let from = good.find("\"outline\": [").unwrap();
        let to = from + good[from..].find("]]").unwrap() + 2;
        format!("{}\"outline\": {points}{}", &good[..from], &good[to..])
    };
    let twice = {
        let lines: Vec<&str> = good.lines().collect();
        let of_piece = lines[piece - 1].trim_end_matches(',');
        let mut lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
        lines.insert(piece, format!("{of_piece},"));
        lines[piece - 1] = format!("{of_piece},");
        lines.join("\n")
    };
    let cases: Vec<(String, usize, &str)> = vec![
        (String::new(), 0, "empty"),
        ("  \n".to_owned(), 0, "empty"),
        ("pieces".to_owned(), 1, "no record of pieces"),
        (good[..good.len() / 2].to_owned(), 0, "no record of pieces"),
        (changed("ellwand-pieces-1", "ellwand-pieces-9"), 2, "ellwand-pieces-9"),
        (changed("ellwand-pieces-1", "ellwand-layout-1"), 2, "ellwand-layout-1"),
        (changed("\"format\"", "\"form\""), 2, "unknown field `form`"),
        (changed("\"outline\"", "\"outlines\""), piece, "unknown field `outlines`"),
        (outline("[]"), piece, "three different points"),
        (outline("[[0, 0], [100, 0]]"), piece, "three different points"),
        (outline("[[0, 0], [100, 0], [200, 0]]"), piece, "no area"),
        (outline("[[0, 0], [100, 100], [100, 0], [0, 90]]"), piece, "cross"),
        (outline("[[0, 0], [1e300, 0], [0, 90]]"), piece, "1e300"),
        (outline("[[0, 0], [1e999, 0], [0, 90]]"), piece, "out of range"),
        (outline("[[0, 0], [NaN, 0], [0, 90]]"), piece, "expected value"),
        (outline("[[0, 0], [\"1\", 0], [0, 90]]"), piece, "invalid type"),
        (twice, piece + 1, "already given"),
        (changed("\"hands\": \"pair\"", "\"hands\": \"pairs\""), piece, "`pair`"),
        (changed("\"fabric\": \"main\"", "\"fabric\": \"fleece\""), 3, "fleece"),
        (changed("\"grain\": \"straight\"", "\"grain\": \"crooked\""), piece, "crooked"),
        (changed("\"count\": 2", "\"count\": 0"), piece, "0 times"),
        (changed("\"count\": 2", "\"count\": 4000000000"), 3, "limit"),
        (changed("\"count\": 2", "\"count\": -2"), piece, "invalid value"),
        (changed("\"piece\": \"", "\"piece\": \"\", \"piece\": \""), piece, "duplicate field"),
    ];
    for (text, line, words) in cases {
        let faults = match again(&job_of_record(), &text) {
            Ok(_) => panic!("taken, though {words}"),
            Err(faults) => faults,
        };
        assert_eq!(faults.iter().count(), 1, "{words}: {faults}");
        let fault = faults.iter().next().unwrap();
        let told = format!("{} {}", fault.kind(), fault.kind().help());
        assert!(told.contains(words), "{words}: {told}");
        if line > 0 {
            let found = fault.place().map(|place| place.line_and_column().0);
            assert_eq!(found, Some(line), "{words}: {faults}");
        }
    }
}
