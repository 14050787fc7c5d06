//! Input that is larger than one run shall take: one message that names the limit, at once, and no more memory than the input itself.

mod passage;

use std::time::{Duration, Instant};

use ellwand_files::{Counted, FaultKind, Faults, LimitFault, Limits, Source, parse_job, parse_pattern};
use passage::changed;

const PATTERN: &str = include_str!("good.pattern.toml");
const JOB: &str = include_str!("good.job.toml");

/// More than any of these takes, on a machine that does much else beside.
const AT_ONCE: Duration = Duration::from_secs(20);

fn of_pattern(text: &str) -> Faults {
    let start = Instant::now();
    let faults = parse_pattern(&Source::new("p", text), &Limits::default()).expect_err("the pattern was taken");
    assert!(start.elapsed() < AT_ONCE, "it took {:?}", start.elapsed());
    faults
}

fn of_job(text: &str) -> Faults {
    let start = Instant::now();
    let faults = parse_job(&Source::new("j", text), &Source::new("p", PATTERN), &Limits::default());
    assert!(start.elapsed() < AT_ONCE, "it took {:?}", start.elapsed());
    faults.expect_err("the job was taken")
}

/// The only fault is that there is too much of one thing.
fn assert_over(faults: &Faults, counted: Counted, count: usize) {
    let kinds: Vec<&FaultKind> = faults.iter().map(ellwand_files::Fault::kind).collect();
    let [FaultKind::Limit(LimitFault { counted: is, count: found, .. })] = kinds[..] else { panic!("{faults}") };
    assert_eq!((*is, *found), (counted, count), "{faults}");
    assert!(faults.to_string().contains("but the limit is "), "{faults}");
}

#[test]
fn more_of_anything_than_a_garment_has_is_told_in_one_line() {
    let many = |n: usize, of: fn(usize) -> String| (0..n).map(of).collect::<String>();
    let pieces = many(501, |k| format!("[[piece]]\nname = \"P{k}\"\ncut = []\n"));
    assert_over(&of_pattern(&format!("{PATTERN}\n{pieces}")), Counted::Pieces, 504);
    let views = many(101, |k| format!("[[view]]\nname = \"V{k}\"\npieces = [\"Nobody\"]\n"));
    assert_over(&of_pattern(&format!("{PATTERN}\n{views}")), Counted::Views, 102);
    let sizes = many(101, |k| format!("[[size]]\nname = \"{k}\"\n"));
    assert_over(&of_pattern(&format!("{}\n{sizes}", changed(PATTERN, "sizes = [\"38\"]\n", ""))), Counted::Sizes, 101);
    let edges = many(2001, |k| format!("{{ to = [{k}, 0] }},"));
    let band = "shape = { strip = { length = \"80 cm\", width = \"8 cm\" } }";
    assert_over(&of_pattern(&changed(PATTERN, band, &format!("edges = [{edges}]"))), Counted::Edges, 2001);
    let notches = many(1001, |_| "{ at = [0, 0] },".to_owned());
    let one = "notches = [{ name = \"hip\", at = [296, 300] }]";
    assert_over(&of_pattern(&changed(PATTERN, one, &format!("notches = [{notches}]"))), Counted::Entries, 1001);
    let keys = many(1001, |k| format!("key{k} = 1\n"));
    assert_over(&of_pattern(&format!("{keys}{PATTERN}")), Counted::Entries, 1001 + 8);
    let name = "N".repeat(201);
    assert_over(
        &of_pattern(&changed(PATTERN, "name = \"Band\"", &format!("name = \"{name}\""))),
        Counted::NameCharacters,
        201,
    );
    let fabrics = many(51, |k| format!("[fabric.f{k}]\nname = \"cloth\"\nwidth = \"1 m\"\nnap = \"with\"\n"));
    assert_over(&of_job(&format!("{JOB}\n{fabrics}")), Counted::Fabrics, 53);
    let flaws = many(201, |_| "{ at = [\"1 in\", \"1 in\"], size = [\"1 in\", \"1 in\"] },".to_owned());
    let one = "flaws = [{ at = [\"10 in\", \"14 in\"], size = [\"2 in\", \"1 in\"] }]";
    assert_over(&of_job(&changed(JOB, one, &format!("flaws = [{flaws}]"))), Counted::Flaws, 201);
}

#[test]
fn limits_are_raised_by_the_caller() {
    let views: String = (0..101).map(|k| format!("[[view]]\nname = \"V{k}\"\npieces = [\"Band\"]\n")).collect();
    let text = format!("{PATTERN}\n{views}");
    assert!(parse_pattern(&Source::new("p", &*text), &Limits::default()).is_err());
    assert!(parse_pattern(&Source::new("p", &*text), &Limits::default().times(2)).is_ok());
    assert!(parse_pattern(&Source::new("p", &*text), &Limits { views: 102, ..Limits::default() }).is_ok());
}

#[test]
fn nesting_without_end_is_no_stack_without_end() {
    for (open, close) in [("[", "]"), ("{a=", "}")] {
        let deep = format!("{PATTERN}\nx = {}1{}", open.repeat(100_000), close.repeat(100_000));
        assert_over(&of_pattern(&deep), Counted::Nesting, 33);
        assert_over(&of_pattern(&format!("x = {}", open.repeat(100_000))), Counted::Nesting, 33);
    }
    assert_over(&of_pattern(&format!("{}z = 1", "a.".repeat(100_000))), Counted::Nesting, 33);
    assert_over(&of_pattern(&format!("[{}z]", "a.".repeat(100_000))), Counted::Nesting, 33);
}

/// Half a mebibyte of each of the things that are dear to read. Whatever takes the square of its length takes minutes for that.
#[test]
fn a_large_file_of_nonsense_is_refused_at_once() {
    let full = 512 * 1024;
    let filled = |of: &str| of.repeat(full / of.len());
    for nonsense in ["a\n", "\"", "[a]\n", "x = 45\"\n", "[[piece]]\n", "= ", "é", "a='\n", "x=[1,2]\n"] {
        assert!(of_pattern(&filled(nonsense)).iter().count() > 0, "{nonsense}");
    }
    let numbered: String = (0..full / 12).map(|k| format!("k{k}=1\n")).collect();
    assert!(of_pattern(&numbered).iter().count() > 0);
    let too_large = " ".repeat(Limits::default().file_bytes as usize + 1);
    assert!(of_pattern(&too_large).to_string().contains("but the limit is 4194304"), "{}", of_pattern(&too_large));
}

/// Each outline is let through, and all of them together are not.
#[test]
fn many_outlines_of_many_points_are_refused() {
    let wave = |k: usize| format!("{{ to = [{k}, 0], curve = [[{k}, 90_000], [-{k}, -90_000]] }},");
    let edges: String = (1..60).map(wave).collect();
    let piece = |k: usize| {
        format!(
            "[[piece]]\nname = \"P{k}\"\ncut = [{{ from = \"main\", count = 1 }}]\nseam_allowance = \"included\"\n\
             grainline = [[1, 1], [1, 5]]\nstart = [0, 0]\nedges = [{edges} {{ to = [0, 0] }}]\n"
        )
    };
    let pieces: String = (0..20).map(piece).collect();
    let faults = of_pattern(&format!("{PATTERN}\n{pieces}"));
    let kinds: Vec<&FaultKind> = faults.iter().map(ellwand_files::Fault::kind).collect();
    let [FaultKind::Limit(LimitFault { counted: Counted::PatternPoints, .. })] = kinds[..] else { panic!("{faults}") };
}

/// Curves as wide as a drawing may be take thousands of short lines each.
#[test]
fn an_outline_of_endless_curves_is_refused() {
    let wave = |k: usize| {
        let y = if k.is_multiple_of(2) { 50_000 } else { -50_000 };
        format!("{{ to = [{k}, 0], curve = [[{k}, {y}], [-{k}, {y}]] }},")
    };
    let edges: String = (1..300).map(wave).collect();
    let band = "shape = { strip = { length = \"80 cm\", width = \"8 cm\" } }";
    let drawn = format!(
        "seam_allowance = \"included\"\ngrainline = [[1, 1], [1, 5]]\nstart = [0, 0]\nedges = [{edges} {{ to = [0, 0] }}]"
    );
    let faults = of_pattern(&changed(PATTERN, band, &drawn));
    let kinds: Vec<&FaultKind> = faults.iter().map(ellwand_files::Fault::kind).collect();
    let [FaultKind::Limit(LimitFault { counted: Counted::OutlinePoints, .. })] = kinds[..] else { panic!("{faults}") };
}
