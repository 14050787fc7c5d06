//! Files that are not what they should be as a whole: not there, of another kind, empty, broken off, full of slips, hostile.

mod passage;
mod pen;
mod slips;

use std::fs;

use ellwand_files::{
    Fault, FaultKind, Faults, FileFault, JobFault, Limits, PatternFault, Source, parse_job, parse_pattern, read_job,
    read_pattern,
};

use passage::changed;
use slips::only;

const PATTERN: &str = include_str!("good.pattern.toml");
const JOB: &str = include_str!("good.job.toml");

/// The kind of the one fault of a file as a whole.
fn file_fault(faults: &Faults) -> &FileFault {
    let kinds: Vec<&FaultKind> = faults.iter().map(Fault::kind).collect();
    let [FaultKind::File(fault)] = kinds[..] else { panic!("{faults}") };
    assert!(faults.to_string().contains(".toml: "), "{faults}");
    fault
}

#[test]
fn files_that_cannot_be_read_say_why() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let limits = Limits::default();
    assert_eq!(file_fault(&read_job(&at("none.job.toml"), &limits).unwrap_err()), &FileFault::Missing);
    fs::create_dir(at("folder.job.toml")).unwrap();
    assert_eq!(file_fault(&read_job(&at("folder.job.toml"), &limits).unwrap_err()), &FileFault::Directory);
    fs::write(at("binary.pattern.toml"), b"name = \"\xff\"").unwrap();
    assert_eq!(
        file_fault(&read_pattern(&at("binary.pattern.toml"), &limits).unwrap_err()),
        &FileFault::NotUtf8 { byte: 8 }
    );
    // 50 MB that take no room on the disk.
    fs::File::create(at("large.pattern.toml")).unwrap().set_len(50_000_000).unwrap();
    let faults = read_pattern(&at("large.pattern.toml"), &limits).unwrap_err();
    assert_eq!(file_fault(&faults), &FileFault::TooLarge { bytes: 50_000_000, limit: 4_194_304 });
}

#[test]
fn a_job_that_points_at_a_missing_pattern_says_so_at_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.job.toml");
    fs::write(&path, JOB).unwrap();
    let faults = read_job(&path, &Limits::default()).unwrap_err();
    let kind = only((JOB.to_owned(), faults), "pattern = ", "the folder of the job");
    assert!(matches!(kind, FaultKind::Job(JobFault::Pattern { reason: FileFault::Missing, .. })));
    fs::write(folder.path().join("good.pattern.toml"), PATTERN).unwrap();
    assert!(read_job(&path, &Limits::default()).is_ok());
}

#[test]
fn hostile_text_ends_in_faults_and_not_in_a_panic() {
    let deep = format!("format = \"ellwand-job-1\"\nx = {}", "[".repeat(100_000));
    let dotted = format!("format = \"ellwand-job-1\"\n{}x = 1", "a.".repeat(50_000));
    let many = format!("format = \"ellwand-job-1\"\n{}", (0..5000).map(|i| format!("k{i} = 1\n")).collect::<String>());
    for text in
        [deep.as_str(), dotted.as_str(), many.as_str(), "", "\u{0}", "= = =", "[[[", "\"", "name = \"\u{202e}\""]
    {
        let faults = parse_job(&Source::new("j", text), &Source::new("p", text), &Limits::default()).unwrap_err();
        assert!(faults.iter().count() >= 1);
    }
}

/// A star of 1999 straight edges, which cross a million times, and one of 199 curves that leave the drawing board.
#[test]
fn a_scribble_ends_in_faults_soon() {
    let star = |count: usize, edge: &dyn Fn(f64, f64) -> String| {
        let corner = |i: usize| ((i * (count / 2)) as f64 * std::f64::consts::TAU / count as f64).sin_cos();
        let edges: Vec<String> = (1..=count)
            .map(|i| {
                let (x, y) = corner(i % count);
                edge(100.0 * x, 100.0 * y)
            })
            .collect();
        format!("start = [0, 100]\nedges = [{}]", edges.join(", "))
    };
    let whole = "start = [0, 0]\nedges = [{ to = [140, 0] }, { to = [140, 160] }, { to = [0, 160] }, { to = [0, 0] }]";
    let straight = star(1999, &|x, y| format!("{{ to = [{x}, {y}] }}"));
    let curved = star(199, &|x, y| format!("{{ to = [{x}, {y}], curve = [[9000, {x}], [{y}, -9000]] }}"));
    for scribble in [straight, curved] {
        let started = std::time::Instant::now();
        let text = changed(PATTERN, whole, &scribble);
        let faults = parse_pattern(&Source::new("bad.pattern.toml", &text), &Limits::default()).unwrap_err();
        assert!(faults.iter().count() > 50, "{faults}");
        assert!(faults.iter().all(|f| matches!(f.kind(), FaultKind::Pattern(PatternFault::SelfCrossing { .. }))));
        assert!(started.elapsed().as_secs() < 20, "took {:?}", started.elapsed());
    }
}

#[test]
fn every_prefix_of_the_good_files_ends_in_faults_and_not_in_a_panic() {
    for (end, _) in PATTERN.char_indices() {
        let _ = parse_pattern(&Source::new("p", &PATTERN[..end]), &Limits::default());
    }
    for (end, _) in JOB.char_indices() {
        let cut = Source::new("j", &JOB[..end]);
        let read = parse_job(&cut, &Source::new("p", PATTERN), &Limits::default());
        assert!(read.is_ok() || read.unwrap_err().iter().count() >= 1);
    }
}

/// Three thousand seeded slips of the pen: a character changed, dropped or doubled in each file.
#[test]
fn any_slip_ends_in_faults_or_a_sound_job_and_never_in_a_panic() {
    pen::slip(3000, PATTERN, JOB);
}

#[test]
fn a_file_of_another_kind_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("skirt.pattern.toml");
    let said = |bytes: &[u8]| {
        fs::write(&path, bytes).unwrap();
        read_pattern(&path, &Limits::default()).unwrap_err().to_string()
    };
    for (bytes, kind) in [
        (&b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"[..], "this is a PDF"),
        (b"\x89PNG\r\n\x1a\n\0", "this is a picture"),
        (b"PK\x03\x04\x14\0", "this is a zip archive"),
        (b"\n<svg xmlns=\"x\"/>", "this is an SVG drawing"),
        (b"name = 1\0", "this is a file from another program"),
    ] {
        let told = said(bytes);
        let is_drawing = kind.ends_with("PDF") || kind.ends_with("drawing");
        let remedy =
            if is_drawing { "`ellwand read FILE --out DIR`" } else { "begins with format = \"ellwand-pattern-1\"" };
        assert!(told.contains(kind) && told.contains(remedy), "{told}");
    }
    // A pattern of that kind is told where the job names it.
    fs::write(&path, b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n").unwrap();
    let job = folder.path().join("a.job.toml");
    fs::write(&job, changed(JOB, "good.pattern.toml", "skirt.pattern.toml")).unwrap();
    let told = read_job(&job, &Limits::default()).unwrap_err().to_string();
    assert!(
        told.contains("a.job.toml:3:11: error: the pattern \"skirt.pattern.toml\" cannot be used: this is a PDF"),
        "{told}"
    );
}

#[test]
fn an_empty_job_is_told_its_whole_first_line() {
    let faults = parse_job(&Source::new("j", ""), &Source::new("p", PATTERN), &Limits::default()).unwrap_err();
    assert!(faults.to_string().starts_with(
        "j:1:1: error: a job has no `format`; add the first line: format = \"ellwand-job-1\"\nj:1:1: error: a job has no `name`; add"
    ));
    assert!(faults.to_string().contains("a table for each cloth, such as [fabric.main] with its name, width and nap"));
    let faults = parse_pattern(&Source::new("p", "# nothing\n"), &Limits::default()).unwrap_err();
    assert!(faults.to_string().contains("add the first line: format = \"ellwand-pattern-1\""), "{faults}");
    let text = changed(JOB, "format = \"ellwand-job-1\"\n", "");
    let faults = parse_job(&Source::new("j", &text), &Source::new("p", PATTERN), &Limits::default()).unwrap_err();
    only((text, faults), "name = \"Cord", "add the first line: format = \"ellwand-job-1\"");
}
