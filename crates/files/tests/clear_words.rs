//! Slips of the pen that once got an answer nobody could act on: each is one fault, at its place, with what to write.

mod passage;

use ellwand_files::{Faults, Limits, Source, parse_job, parse_pattern};
use passage::changed;

const PATTERN: &str = include_str!("good.pattern.toml");
const JOB: &str = include_str!("good.job.toml");

fn told(faults: &Faults) -> Vec<String> {
    faults.to_string().lines().map(str::to_owned).collect()
}

const SIZED: &str = include_str!("sizes.pattern.toml");
const SIZED_JOB: &str = include_str!("sizes.job.toml");

/// What is told of a job, and nothing else.
#[track_caller]
fn of_job(job: &str) -> Vec<String> {
    let read = parse_job(&Source::new("j", job), &Source::new("p", PATTERN), &Limits::default());
    told(&read.expect_err("a fault"))
}

#[track_caller]
fn of_pattern(pattern: &str) -> Vec<String> {
    told(&parse_pattern(&Source::new("p", pattern), &Limits::default()).expect_err("a fault"))
}

/// The line of `passage` in `text`, counted from 1.
fn line(text: &str, passage: &str) -> usize {
    text[..text.find(passage).unwrap_or_else(|| panic!("`{passage}` is nowhere"))].matches('\n').count() + 1
}

#[test]
fn a_key_that_stands_twice_is_told_with_the_first_line() {
    let job = changed(JOB, "layout = \"fold\"", "layout = \"fold\"\nwidth = \"60 in\"");
    let (first, second) = (line(&job, "width = \"140 cm\""), line(&job, "width = \"60 in\""));
    assert_eq!(
        of_job(&job),
        [format!(
            "j:{second}:1: error: `width` is written twice in one table; the first is in line {first}: keep one of the two"
        )]
    );
    // Inside a table of one line only that table counts, and of two cloths only the one.
    let job = changed(JOB, "layout = \"fold\"", "layout = \"fold\"\nshrinkage = { along = \"1%\", along = \"2%\" }");
    let here = line(&job, "along = \"1%\"");
    let said = of_job(&job);
    assert!(
        said[0].contains(&format!("`along` is written twice in one table; the first is in line {here}")),
        "{said:?}"
    );
    let job = format!("{}\nname = \"once more\"\n", JOB.trim_end());
    let of_lining = JOB[..JOB.rfind("name =").unwrap()].matches('\n').count() + 1;
    let said = of_job(&job);
    assert!(
        said[0].contains(&format!("`name` is written twice in one table; the first is in line {of_lining}")),
        "{said:?}"
    );
    // A cloth that is told twice.
    let job = format!("{JOB}\n[fabric.lining]\nname = \"lawn\"\n");
    let said = of_job(&job);
    let of_lining = line(JOB, "[fabric.lining]");
    assert_eq!(said.len(), 1, "what stands in it twice comes of that: {said:?}");
    assert!(
        said[0].contains(&format!("`lining` is written twice in one table; the first is in line {of_lining}")),
        "{said:?}"
    );
}

#[test]
fn what_should_be_a_table_is_told_with_one() {
    let job = changed(JOB, "layout = \"fold\"", "layout = \"fold\"\nshrinkage = \"3%\"");
    let at = line(&job, "shrinkage = \"3%\"");
    assert_eq!(
        of_job(&job),
        [format!(
            "j:{at}:13: error: found the text \"3%\" instead of a shrinkage; write {{ along = \"3%\", across = \"1%\" }}"
        )]
    );
    // Of any other table the keys are told that it cannot do without.
    let said = of_job(&changed(JOB, "layout = \"fold\"", "layout = \"fold\"\nflaws = [\"10 in\"]"));
    assert!(said[0].ends_with("instead of a flaw; write { at = …, size = … }"), "{said:?}");
}

#[test]
fn a_key_of_the_piece_inside_its_shape_is_sent_to_the_piece() {
    for (shape, of) in [
        ("{ rectangle = { width = \"10 cm\", height = \"8 cm\" }, fold_edge = \"left\" }", "a measured shape"),
        ("{ rectangle = { width = \"10 cm\", height = \"8 cm\", fold_edge = \"left\" } }", "a rectangle"),
    ] {
        let piece = format!(
            "\n[[piece]]\nname = \"Tab\"\ncut = [{{ from = \"main\", count = 1 }}]\nshape = {shape}\nseam_allowance = \"1 cm\"\n"
        );
        let pattern = format!("{PATTERN}{piece}");
        let said = of_pattern(&pattern);
        let at = line(&pattern, "fold_edge = \"left\" }");
        assert!(said[0].starts_with(&format!("p:{at}:")), "{said:?}");
        assert!(
            said[0].ends_with(&format!(
                "`fold_edge` is not a key of {of}; write it in the [[piece]] itself, beside `shape`"
            )),
            "{said:?}"
        );
        assert_eq!(said.len(), 1, "{said:?}");
    }
}

#[test]
fn what_alterations_name_is_told_with_all_else() {
    let alter = "[alter]\n\
        lengthen = [\n  { line = \"skrit\", by = \"2 cm\" },\n  { line = \"skrit\", by = \"3 cm\" },\n  { line = \"skirt\", pieces = [\"Frnt\"], by = \"1 cm\" },\n]\n\
        widen = [{ seam = \"sides\", by = \"2 cm\" }]\n\
        allowances = [{ edge = \"hme\", depth = \"5 cm\" }]\n";
    let job = changed(SIZED_JOB, "[fabric.main]", &format!("{alter}\n[fabric.main]"));
    let job = changed(&job, "size = \"38\"", "size = \"39\"");
    let faults = parse_job(&Source::new("j", &*job), &Source::new("p", SIZED), &Limits::default()).unwrap_err();
    let said = told(&faults);
    let first = line(&job, "{ line = \"skrit\", by = \"2");
    let wanted = [
        (line(&job, "size = \"39\""), "the pattern has no size `39`; use `36`"),
        (first, "no piece has a line \"skrit\" to lengthen or shorten at; did you mean `skirt`?"),
        (first + 1, "no piece has a line \"skrit\" to lengthen or shorten at; did you mean `skirt`?"),
        (first + 2, "the pattern has no piece \"Frnt\"; did you mean `Front`?"),
        (line(&job, "widen ="), "there is no seam \"sides\" with edges to let out or take in; did you mean `side`?"),
        (line(&job, "allowances ="), "no piece has an edge \"hme\"; did you mean `hem`?"),
    ];
    assert_eq!(said.len(), wanted.len(), "{said:#?}");
    for (said, (line, words)) in said.iter().zip(wanted) {
        assert!(said.starts_with(&format!("j:{line}:")) && said.contains(words), "{said}");
    }
}

/// A seam that could not be read is not missed besides.
#[test]
fn what_is_at_fault_in_the_pattern_is_not_missed_in_the_job() {
    let pattern = changed(SIZED, "kind = \"side\"", "kind = \"waist\"");
    let job =
        changed(SIZED_JOB, "[fabric.main]", "[alter]\nwiden = [{ seam = \"side\", by = \"2 cm\" }]\n\n[fabric.main]");
    let faults = parse_job(&Source::new("j", &*job), &Source::new("p", &*pattern), &Limits::default()).unwrap_err();
    let said = told(&faults);
    let [kind] = &said[..] else { panic!("{said:#?}") };
    assert!(
        kind.contains("\"waist\" is not a choice here; use `centre front`, ") && kind.ends_with(" or `other`"),
        "{kind}"
    );
}

/// One piece with so many points, and a seam that meets at one it does not have.
#[test]
fn a_point_that_a_seam_does_not_have_is_told_with_those_near_it() {
    let points: Vec<String> = (1..=52).map(|k| format!("\"point {k}\" = [{k}, 20]")).collect();
    let pattern = |meets: &str| {
        format!(
            "format = \"ellwand-pattern-1\"\nname = \"P\"\ncoordinates = \"mm\"\nsizes = [\"one\"]\n\
             view = [{{ name = \"A\", pieces = [\"X\"] }}]\n[[piece]]\nname = \"X\"\ncut = [{{ from = \"main\", count = 2 }}]\n\
             shape = {{ rectangle = {{ width = \"9 cm\", height = \"20 cm\" }} }}\npoints = {{ {} }}\n\
             [[seam]]\nname = \"side\"\nkind = \"side\"\na = {{ piece = \"X\", meets = [\"{meets}\"] }}\n",
            points.join(", ")
        )
    };
    let said = of_pattern(&pattern("pont 50"));
    assert_eq!(
        said,
        [
            "p:14:29: error: the piece `X` of the seam `side` has no point `pont 50`; did you mean `point 50`? The names are `point 50`, \
          `point 10`, `point 20`, `point 30`, `point 40`, `point 5`, `point 51`, `point 52` and 44 more"
        ]
    );
    let said = of_pattern(&pattern("underarm"));
    assert!(said[0].contains("has no point `underarm`; use `point ") && said[0].ends_with(" and 44 more"), "{said:?}");
}

/// What is to match is judged even where the pieces cannot be fitted, but for what depends on how they come out.
#[test]
fn matches_and_alterations_at_fault_are_told_together() {
    const PLAID: &str = include_str!("plaid.pattern.toml");
    const PLAID_JOB: &str = include_str!("plaid.job.toml");
    let alter = "[alter]\nlengthen = [{ line = \"nowhere\", by = \"2 cm\" }]\n[fabric.main]";
    let job = changed(PLAID_JOB, "[fabric.main]", alter);
    let job = changed(&job, "centre = \"on a bar\"\n", "centre = \"on a bar\"\nrequire = [\"sides\"]\n");
    let faults = parse_job(&Source::new("j", &*job), &Source::new("p", PLAID), &Limits::default()).unwrap_err();
    let said = told(&faults);
    let [lengthen, require] = &said[..] else { panic!("{said:#?}") };
    assert!(lengthen.starts_with(&format!("j:{}:", line(&job, "lengthen ="))), "{lengthen}");
    assert!(lengthen.contains("no piece has a line \"nowhere\" to lengthen or shorten at; "), "{lengthen}");
    assert!(require.starts_with(&format!("j:{}:", line(&job, "require ="))), "{require}");
    assert!(require.contains("the pattern has no seam `sides`; did you mean `side`?"), "{require}");
}

/// An allowance of a fold, and a seam across the body that is let out: each at its own entry, though the fit finds them.
#[test]
fn what_a_fit_refuses_is_told_at_its_entry() {
    let level = "\n[[seam]]\nname = \"belt\"\nkind = \"other\"\na = { piece = \"Front\", edges = [\"waist\"], meets = [\"side waist\"] }\n\
                 b = { piece = \"Back\", edges = [\"waist\"], meets = [\"side waist\"] }\n";
    let alter = "[alter]\nallowances = [{ edge = \"centre front\", depth = \"2 cm\" }]\nwiden = [{ seam = \"belt\", by = \"2 cm\" }]\n";
    let job = changed(SIZED_JOB, "[fabric.main]", &format!("{alter}\n[fabric.main]"));
    let pattern = format!("{SIZED}{level}");
    let faults = parse_job(&Source::new("j", &*job), &Source::new("p", &*pattern), &Limits::default()).unwrap_err();
    let said = told(&faults);
    let [fold, seam] = &said[..] else { panic!("{said:#?}") };
    assert!(
        fold.starts_with(&format!("j:{}:15: ", line(&job, "allowances ="))) && fold.contains("lies on the fold"),
        "{fold}"
    );
    assert!(
        seam.starts_with(&format!("j:{}:10: ", line(&job, "widen ="))) && seam.contains("runs across the body"),
        "{seam}"
    );
}
