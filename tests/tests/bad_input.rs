//! Every mistake a maker can make in a file: one clear message with file, line and remedy, exit code 2, no output.

use std::fs::File;

use ellwand_tests::{JOB, PATTERN, Run, Scene};

/// `text` with one passage changed, which must stand there once.
fn changed(text: &str, from: &str, to: &str) -> String {
    assert_eq!(text.matches(from).count(), 1, "`{from}` must stand once in the text");
    text.replacen(from, to, 1)
}

/// The number of the line where `passage` starts.
fn line_of(text: &str, passage: &str) -> usize {
    let at = text.find(passage).unwrap_or_else(|| panic!("`{passage}` is nowhere"));
    text[..at].matches('\n').count() + 1
}

/// Plans the job in `scene` and expects a refusal that names `place` and says each of `words`, and nothing written.
#[track_caller]
fn refused(scene: &Scene, place: &str, words: &[&str]) -> Run {
    let run = scene.run("plan quay-bag.job.toml --effort quick --out out");
    assert_eq!(run.code, Some(2), "{}\n{}", run.stdout, run.stderr);
    assert_eq!(run.stdout, "");
    assert!(run.stderr.contains(place), "`{place}` is not named in:\n{}", run.stderr);
    for word in words {
        assert!(run.stderr.contains(word), "`{word}` is not said in:\n{}", run.stderr);
    }
    assert!(scene.files("out").is_empty(), "files were written: {:?}", scene.files("out"));
    run
}

/// A job with `from` changed to `to` is refused at the line of `at`.
#[track_caller]
fn job(from: &str, to: &str, at: &str, words: &[&str]) {
    let text = changed(JOB, from, to);
    refused(&Scene::with(&text, PATTERN), &format!("quay-bag.job.toml:{}:", line_of(&text, at)), words);
}

/// A pattern with `from` changed to `to` is refused at the line of `at`.
#[track_caller]
fn pattern(from: &str, to: &str, at: &str, words: &[&str]) {
    let text = changed(PATTERN, from, to);
    refused(&Scene::with(JOB, &text), &format!("quay-bag.pattern.toml:{}:", line_of(&text, at)), words);
}

#[test]
fn the_sound_files_are_taken() {
    Scene::sound().run_well("check quay-bag.job.toml");
}

#[test]
fn unknown_key() {
    job("selvage = \"1/4 in\"", "selvedge = \"1/4 in\"", "selvedge", &["selvedge", "selvage"]);
}

#[test]
fn misspelt_unit() {
    job("\"30 in\"", "\"30 inn\"", "30 inn", &["inn", "30 in"]);
}

#[test]
fn missing_unit() {
    job("width = \"30 in\"", "width = \"30\"", "width = \"30\"", &["30"]);
    job("width = \"30 in\"", "width = 30", "width = 30", &["30"]);
}

#[test]
fn negative_or_nan_length() {
    job("\"30 in\"", "\"-30 in\"", "-30 in", &["-30"]);
    job("\"30 in\"", "\"nan in\"", "nan in", &["nan"]);
    pattern("[140, 0]", "[nan, 0]", "[nan, 0]", &[]);
}

#[test]
fn self_crossing_outline() {
    pattern(
        "{ to = [120, 160] }, { to = [0, 150] }",
        "{ to = [0, 160] }, { to = [140, 150] }",
        "edges = [{ to = [140, 0] }",
        &["Pocket", "crosses"],
    );
}

#[test]
fn open_outline() {
    pattern(
        "{ to = [0, 150] }, { to = [0, 0] }",
        "{ to = [0, 150] }",
        "edges = [{ to = [140, 0] }",
        &["open", "150.00 mm from its start"],
    );
}

#[test]
fn zero_area() {
    pattern("{ to = [120, 160] }, { to = [0, 150] }", "{ to = [70, 0] }", "[[piece]]\nname = \"Pocket\"", &["area"]);
}

#[test]
fn duplicate_piece() {
    pattern(
        "name = \"Band\"",
        "name = \"Pocket\"",
        "name = \"Pocket\"\ncut = [{ from = \"main\", count = 1 }]",
        &["Pocket"],
    );
}

#[test]
fn grainline_of_length_zero() {
    pattern("[[70, 20], [70, 140]]", "[[70, 20], [70, 20]]", "[[70, 20], [70, 20]]", &["grainline"]);
}

#[test]
fn fold_edge_not_straight() {
    pattern(
        "to = [0, 0], fold = true",
        "to = [0, 0], arc = [-20, 100], fold = true",
        "arc = [-20, 100]",
        &["fold", "straight"],
    );
}

#[test]
fn fold_edge_not_on_the_outline() {
    // The half bulges across the line of its own fold, below the fold edge.
    pattern(
        "to = [180, 0], allowance = \"20 mm\"",
        "to = [180, 0], curve = [[-90, -60], [90, -60]], allowance = \"20 mm\"",
        "centre",
        &["fold"],
    );
}

#[test]
fn unknown_role() {
    job("[fabric.lining]", "[fabric.linning]", "linning", &["linning", "lining"]);
}

#[test]
fn count_of_zero() {
    pattern("{ from = \"main\", count = 2 }", "{ from = \"main\", count = 0 }", "count = 0", &["0"]);
}

#[test]
fn piece_wider_than_the_cloth_in_every_legal_turn() {
    // The flap is 20 cm across, and its allowances add 1 cm square to each slanting side: a little over 8 3/4 in,
    // said as the next eighth above so that the width named is never too narrow.
    let text = changed(JOB, "width = \"36 in\"", "width = \"8 in\"");
    let place = format!("quay-bag.job.toml:{}:", line_of(&text, "8 in"));
    let run =
        refused(&Scene::with(&text, PATTERN), &place, &["Flap", "too narrow", "use cloth at least 8 7/8 in wide"]);
    assert!(!run.stderr.contains("across the grain"), "with nap no piece may lie across the grain: {}", run.stderr);

    let text = changed(&text, "nap = \"with\"", "nap = \"without\"");
    refused(&Scene::with(&text, PATTERN), &place, &["Flap", "too narrow", "let the piece lie across the grain"]);
}

#[test]
fn fold_piece_wider_than_the_cloth() {
    let text = changed(JOB, "width = \"30 in\"", "width = \"15 in\"");
    let run = refused(
        &Scene::with(&text, PATTERN),
        &format!("quay-bag.job.toml:{}:", line_of(&text, "15 in")),
        &["Front", "too narrow"],
    );
    assert!(run.stderr.contains("wide"), "{}", run.stderr);
}

#[test]
fn shrinkage_of_a_hundred_per_cent() {
    job("along = \"3%\"", "along = \"100%\"", "100%", &["100"]);
}

#[test]
fn price_with_a_typo() {
    job("\"12.50\"", "\"12.5o\"", "12.5o", &["12.5o"]);
}

#[test]
fn empty_view() {
    pattern(
        "pieces = [\"Front\", \"Pocket\", \"Band\", \"Flap\"]",
        "pieces = []",
        "pieces = []",
        &["no pieces", "list the pieces"],
    );
}

#[test]
fn job_that_points_at_a_missing_pattern() {
    job("quay-bag.pattern.toml", "quay-bga.pattern.toml", "quay-bga", &["quay-bga.pattern.toml", "no such file"]);
}

#[test]
fn missing_job() {
    let run = Scene::empty().run("plan nowhere.job.toml --out out");
    assert_eq!(run.code, Some(2));
    assert!(run.stderr.contains("nowhere.job.toml"), "{}", run.stderr);
}

#[test]
fn file_of_fifty_megabytes() {
    let scene = Scene::with(JOB, "");
    let pattern = File::options().write(true).open(scene.path("quay-bag.pattern.toml")).expect("the file");
    pattern.set_len(50 * 1024 * 1024).expect("a file with a hole in it");
    refused(&scene, "quay-bag", &["limit"]);
}

#[test]
fn ten_thousand_copies_and_the_option_that_raises_the_limit() {
    let text = changed(
        PATTERN,
        "name = \"Band\"\ncut = [{ from = \"main\", count = 1 }]",
        "name = \"Band\"\ncut = [{ from = \"main\", count = 10000 }]",
    );
    let scene = Scene::with(JOB, &text);
    refused(&scene, &format!("quay-bag.pattern.toml:{}:", line_of(&text, "count = 10000")), &["1000", "--max-cuts"]);
    scene.run_well("check quay-bag.job.toml --max-cuts 20000");
}

#[test]
fn every_fault_is_told_at_once() {
    let job = changed(&changed(JOB, "\"30 in\"", "\"30 inn\""), "\"12.50\"", "\"12.5o\"");
    let pattern = changed(PATTERN, "[[70, 20], [70, 140]]", "[[70, 20], [70, 20]]");
    let run = refused(&Scene::with(&job, &pattern), "quay-bag.job.toml:", &["inn", "12.5o", "grainline"]);
    assert!(run.stderr.lines().count() >= 3, "{}", run.stderr);
}

#[test]
fn unknown_option_or_fabric() {
    let scene = Scene::sound();
    assert_eq!(scene.run("plan quay-bag.job.toml --fast").code, Some(2));
    assert_eq!(scene.run("plan quay-bag.job.toml --time 3").code, Some(2));
    let run = scene.run("plan quay-bag.job.toml --fabric fur");
    assert_eq!(run.code, Some(2));
    assert!(run.stderr.contains("fur"), "{}", run.stderr);
}
