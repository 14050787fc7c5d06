//! Kept cases: small patterns and jobs that once failed, each with what is right. They run first, always.
//!
//! A folder of `cases` holds `case.pattern.toml`, `case.job.toml` and `right.txt`, whose first line is `planned`, `refused` or `either`;
//! further lines are words that a refusal must hold.

use std::path::Path;

use toml::Table;

use crate::{
    judge::Complaint,
    make::{
        JOB_FILE, PATTERN_FILE, Scene, Sheet, TYPED_FILE,
        stash::{STASH, held},
    },
    relate::{RELATIONS, relate},
    run::Tools,
    summary::{Summary, class},
    trial::{Bench, trial},
};

/// A scene from two files of a folder.
pub(crate) fn read(folder: &Path, pattern: &str, job: &str) -> Result<Scene, String> {
    let table = |name: &str| {
        let path = folder.join(name);
        let text = std::fs::read_to_string(&path).map_err(|fault| format!("{}: {fault}", path.display()))?;
        text.parse::<Table>().map_err(|fault| format!("{}: {fault}", path.display()))
    };
    let mut job = table(job)?;
    job.insert("pattern".to_owned(), toml::Value::String(PATTERN_FILE.to_owned()));
    if let Some(name) = job.get(STASH).and_then(toml::Value::as_str).map(str::to_owned) {
        held(&mut job, table(&name)?);
    }
    Ok(Scene { pattern: table(pattern)?, job, sheet: sheet(folder)? })
}

/// The drawing beside a pattern, where there is one.
fn sheet(folder: &Path) -> Result<Option<Sheet>, String> {
    let Some(file) = ["case.svg", "case.pdf"].into_iter().find(|file| folder.join(file).is_file()) else {
        return Ok(None);
    };
    let read = |name: &str| std::fs::read(folder.join(name)).map_err(|fault| format!("{name}: {fault}"));
    let typed = String::from_utf8_lossy(&read(TYPED_FILE)?).parse::<Table>().map_err(|fault| fault.to_string())?;
    let pieces = typed.get("piece").and_then(toml::Value::as_array).cloned().unwrap_or_default();
    let wrong = typed.get("wrong").and_then(toml::Value::as_str).map(str::to_owned);
    Ok(Some(Sheet { file: file.to_owned(), bytes: read(file)?, typed: pieces, wrong }))
}

/// Runs every kept case in every relation.
pub(crate) fn run(tools: &Tools, home: &Path, work: u64, summary: &mut Summary) -> Result<(), String> {
    let all = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    let Ok(listed) = std::fs::read_dir(&all) else { return Ok(()) };
    let mut folders: Vec<_> =
        listed.filter_map(|entry| Some(entry.ok()?.path())).filter(|path| path.is_dir()).collect();
    folders.sort();
    for folder in folders {
        let name = folder.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let scene = read(&folder, PATTERN_FILE, JOB_FILE)?;
        let right =
            std::fs::read_to_string(folder.join("right.txt")).map_err(|fault| format!("{name}: right.txt: {fault}"))?;
        let bench = Bench { tools, folder: home.to_owned(), work };
        let mut found = judge_case(&bench, &scene, &right);
        if found.is_empty() {
            found.extend(RELATIONS.into_iter().flat_map(|relation| relate(&bench, &scene, relation)));
        }
        summary.cases += 1;
        summary.failed += usize::from(!found.is_empty());
        for complaint in &found {
            println!("case {name}: {}: {}", complaint.judge, complaint.text);
            summary.classes.entry(class(complaint)).or_insert((0, format!("case {name}"))).0 += 1;
        }
    }
    Ok(())
}

fn judge_case(bench: &Bench<'_>, scene: &Scene, right: &str) -> Vec<Complaint> {
    let outcome = trial(bench, scene);
    let mut found = outcome.complaints;
    let mut say = |text: String| found.push(Complaint { judge: "case", text });
    let mut lines = right.lines();
    let first = lines.next().unwrap_or_default().trim();
    match (first, outcome.answered) {
        ("planned", true) | ("refused", false) | ("either", _) => {}
        ("planned", false) => say(format!("refused: {}", outcome.refusal.trim())),
        ("refused", true) => say("planned, and must be refused".to_owned()),
        (other, _) => say(format!("right.txt begins with {other}, and must with planned, refused or either")),
    }
    for words in lines.map(str::trim).filter(|words| !words.is_empty()) {
        if !outcome.refusal.contains(words) {
            say(format!("the refusal does not say {words}"));
        }
    }
    found
}
