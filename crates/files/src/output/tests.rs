use super::*;

/// Names and contents in a folder, hidden files included.
fn listing(folder: &Path) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| {
            let entry = entry.unwrap();
            let text = if entry.path().is_dir() { "folder".into() } else { fs::read_to_string(entry.path()).unwrap() };
            (entry.file_name().into_string().unwrap(), text)
        })
        .collect();
    all.sort();
    all
}

fn named(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
    pairs.iter().map(|&(name, text)| (name.to_owned(), text.to_owned())).collect()
}

#[test]
fn all_files_arrive_and_old_ones_are_replaced() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("b"), "old").unwrap();
    let mut output = OutputFolder::new(folder.path());
    output.add("a", "1");
    output.add("b", "2");
    let written = output.write().unwrap();
    assert_eq!(written.files, [folder.path().join("a"), folder.path().join("b")]);
    assert_eq!(listing(folder.path()), named(&[("a", "1"), ("b", "2")]));
}

/// Writes files, each with its name as its content, as the set of a command; tells the names of what went and what was left.
fn replace_set(folder: &Path, set: &str, names: &[&str]) -> (Vec<String>, Vec<String>) {
    let mut output = OutputFolder::new(folder).replacing(set);
    for &name in names {
        output.add(name, name);
    }
    let written = output.write().unwrap();
    assert_eq!(written.files.len(), names.len());
    let names = |paths: Vec<PathBuf>| {
        paths.iter().map(|path| path.file_name().unwrap().to_string_lossy().into_owned()).collect::<Vec<_>>()
    };
    (names(written.removed), names(written.left))
}

#[test]
fn what_an_earlier_answer_left_goes_and_what_others_put_there_stays() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("notes.txt"), "mine").unwrap();
    assert_eq!(replace_set(folder.path(), "plan", &["main.svg", "main.seams.svg", "lining.svg"]), (vec![], vec![]));
    replace_set(folder.path(), "fit", &["front.svg"]);
    fs::write(folder.path().join("lining.svg"), "drawn over").unwrap();
    let told = replace_set(folder.path(), "plan", &["main.svg"]);
    assert_eq!(told, (vec!["main.seams.svg".to_owned()], vec!["lining.svg".to_owned()]));
    let names: Vec<String> = listing(folder.path()).into_iter().map(|(name, _)| name).collect();
    assert_eq!(names, [ledger::NAME, "front.svg", "lining.svg", "main.svg", "notes.txt"]);
    // What was left once is nobody's any more.
    assert_eq!(replace_set(folder.path(), "plan", &["main.svg"]), (vec![], vec![]));
    // A file that both sets write belongs to the last.
    replace_set(folder.path(), "plan", &["front.svg"]);
    assert_eq!(replace_set(folder.path(), "fit", &["back.svg"]), (vec![], vec![]));
}

#[test]
fn a_part_of_an_answer_leaves_the_other_parts() {
    let folder = tempfile::tempdir().unwrap();
    replace_set(folder.path(), "plan", &["main.svg", "main.seams.svg", "lining.svg", "lining.seams.svg"]);
    let mut output = OutputFolder::new(folder.path()).replacing("plan").in_part(vec!["main.".into()]);
    output.add("main.svg", "new");
    assert_eq!(output.write().unwrap().removed, [folder.path().join("main.seams.svg")]);
    // The other part is still known.
    let told = replace_set(folder.path(), "plan", &["main.svg"]);
    assert_eq!(told.0, ["lining.svg", "lining.seams.svg"]);
}

#[test]
fn nothing_goes_where_nothing_could_be_written() {
    let folder = tempfile::tempdir().unwrap();
    replace_set(folder.path(), "plan", &["main.svg", "lining.svg"]);
    fs::create_dir(folder.path().join("taken")).unwrap();
    let before = listing(folder.path());
    let mut output = OutputFolder::new(folder.path()).replacing("plan");
    output.add("main.svg", "new");
    output.add("taken", "new");
    assert!(output.write().is_err());
    assert_eq!(listing(folder.path()), before);
}

#[test]
fn a_name_taken_by_a_folder_puts_everything_back() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a"), "old").unwrap();
    fs::create_dir(folder.path().join("c")).unwrap();
    let mut output = OutputFolder::new(folder.path());
    for name in ["a", "b", "c"] {
        output.add(name, "new");
    }
    let fault = output.write().unwrap_err();
    assert!(matches!(&fault, OutputFault::File { file, .. } if file.ends_with("c")), "{fault}");
    assert_eq!(listing(folder.path()), named(&[("a", "old"), ("c", "folder")]));
}

#[test]
fn what_the_system_said_is_told_without_a_name_nobody_knows() {
    let folder = tempfile::tempdir().unwrap();
    let fault = stage(&folder.path().join("gone"), |_| Ok(())).unwrap_err();
    assert_eq!(fault.kind(), io::ErrorKind::NotFound);
    assert!(!fault.to_string().contains(journal::PREFIX), "{fault}");
    assert!(fault.raw_os_error().is_some(), "{fault:?}");
}

#[test]
fn a_folder_below_a_file_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("out"), "a file").unwrap();
    for below in ["out", "out/deeper"] {
        let mut output = OutputFolder::new(folder.path().join(below));
        output.add("a", "1");
        assert!(matches!(output.write(), Err(OutputFault::NotAFolder { file }) if file == folder.path().join("out")));
    }
    assert_eq!(listing(folder.path()), named(&[("out", "a file")]));
}

#[test]
fn a_folder_made_in_vain_is_removed_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut output = OutputFolder::new(folder.path().join("new/deep"));
    // Longer than any file system's names.
    output.add("a", "1");
    output.add("x".repeat(300), "2");
    assert!(matches!(output.write(), Err(OutputFault::File { .. })));
    assert_eq!(listing(folder.path()), named(&[]));
}

#[test]
fn a_writer_that_fails_midway_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let full = |file: &mut NamedTempFile| {
        file.write_all(b"half of")?;
        Err(io::Error::new(io::ErrorKind::StorageFull, "no space left"))
    };
    let reason = stage(folder.path(), full).unwrap_err();
    assert_eq!(reason.kind(), io::ErrorKind::StorageFull);
    assert_eq!(listing(folder.path()), named(&[]));
}

#[test]
fn names_that_lead_elsewhere_or_come_twice_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    for names in [&["../a"][..], &["b/a"], &[".."], &[""], &["a", "a"]] {
        let mut output = OutputFolder::new(folder.path());
        for &name in names {
            output.add(name, "1");
        }
        assert!(matches!(output.write(), Err(OutputFault::BadName { .. })), "{names:?}");
    }
    assert_eq!(listing(folder.path()), named(&[]));
}

#[cfg(unix)]
#[test]
fn files_can_be_read_by_those_the_mask_allows() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let ordinary = folder.path().join("ordinary");
    fs::write(&ordinary, "").unwrap();
    let mut output = OutputFolder::new(folder.path());
    output.add("a", "1");
    let written = output.write().unwrap();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
    assert_eq!(mode(&written.files[0]), mode(&ordinary));
}

/// A folder with the files of an earlier answer, and what a run that is ended at some point leaves there: it takes away one file, replaces one,
/// and adds one.
fn ended_after(steps: usize, blocked: bool) -> (tempfile::TempDir, Vec<Change>) {
    let folder = tempfile::tempdir().unwrap();
    replace_set(folder.path(), "plan", &["a", "b"]);
    let later = vec![("b".to_owned(), b"new".to_vec()), ("c".to_owned(), b"new".to_vec())];
    let set = Set::of(folder.path(), Some("plan".into()), &[], later).unwrap();
    let staged = set.stage(folder.path()).unwrap();
    if blocked {
        // After everything was found to be free.
        fs::create_dir(folder.path().join("c")).unwrap();
    }
    fs::write(folder.path().join(journal::NAME), journal::text(&staged.changes)).unwrap();
    // Each change is two renames at most; a run may be ended between them too.
    let at = |name: &str| folder.path().join(name);
    let renames = staged.changes.iter().flat_map(|change| {
        let aside = change.old.iter().map(|old| (change.name.clone(), old.clone()));
        aside.chain(change.new.iter().map(|new| (new.clone(), change.name.clone()))).collect::<Vec<_>>()
    });
    for (from, to) in renames.take(steps) {
        let _ = fs::rename(at(&from), at(&to));
    }
    for file in staged.waiting {
        file.keep().unwrap();
    }
    (folder, staged.changes)
}

#[test]
fn a_run_ended_between_two_names_is_finished_by_the_next() {
    // b, c, the ledger, and a that goes: two renames, one, two, one.
    for steps in 0..=6 {
        let (folder, changes) = ended_after(steps, false);
        assert_eq!(changes.len(), 4);
        let mut output = OutputFolder::new(folder.path()).replacing("fit");
        output.add("fit.svg", "fit");
        let written = output.write().unwrap();
        let names: Vec<PathBuf> = ["b", "c", "a"].map(|name| folder.path().join(name)).to_vec();
        assert_eq!(written.finished, names, "after {steps}");
        let found = listing(folder.path());
        let names: Vec<&str> = found.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, [ledger::NAME, "b", "c", "fit.svg"], "after {steps}");
        assert!(found[1].1 == "new" && found[2].1 == "new");
        // And the ledger is the later one: what it tells of goes with the next answer.
        assert_eq!(replace_set(folder.path(), "plan", &["d"]).0, ["b", "c"], "after {steps}");
    }
}

#[test]
fn what_cannot_be_finished_is_taken_back() {
    for steps in 0..=6 {
        let (folder, _) = ended_after(steps, true);
        let mut output = OutputFolder::new(folder.path()).replacing("fit");
        output.add("fit.svg", "fit");
        output.write().unwrap();
        let found = listing(folder.path());
        let names: Vec<&str> = found.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, [ledger::NAME, "a", "b", "c", "fit.svg"], "after {steps}");
        assert_eq!((found[2].1.as_str(), found[3].1.as_str()), ("b", "folder"), "after {steps}");
        assert_eq!(replace_set(folder.path(), "plan", &["d"]).0, ["a", "b"], "after {steps}");
    }
}

#[test]
fn what_an_ended_run_had_not_put_in_place_goes_and_the_files_of_others_stay() {
    let folder = tempfile::tempdir().unwrap();
    for (name, content) in
        [(".ellwand-x1.part", "half of"), (".ellwand-x2.old", "old"), ("my.part", "mine"), (".old", "mine")]
    {
        fs::write(folder.path().join(name), content).unwrap();
    }
    let mut output = OutputFolder::new(folder.path());
    output.add("a", "1");
    assert_eq!(output.write().unwrap().finished, Vec::<PathBuf>::new());
    assert_eq!(listing(folder.path()), named(&[(".old", "mine"), ("a", "1"), ("my.part", "mine")]));
}

#[test]
fn runs_that_write_at_once_take_turns() {
    let folder = tempfile::tempdir().unwrap();
    std::thread::scope(|scope| {
        for run in 0..8 {
            let path = folder.path();
            scope.spawn(move || {
                for round in 0..4 {
                    let mut output = OutputFolder::new(path).replacing("plan");
                    for name in ["a", "b", &format!("of-{run}")] {
                        output.add(name, format!("{run} {round}"));
                    }
                    output.write().unwrap();
                }
            });
        }
    });
    let found = listing(folder.path());
    let contents: Vec<&String> = found.iter().skip(1).map(|(_, content)| content).collect();
    assert!(contents.len() == 3 && contents.iter().all(|content| *content == contents[0]), "{found:?}");
}

#[test]
fn what_was_made_from_another_file_of_the_same_name_is_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    for source in ["a", "b"] {
        fs::create_dir(at(source)).unwrap();
        fs::write(at(source).join("x.job.toml"), source).unwrap();
    }
    let print = |source: &str| {
        let mut output = OutputFolder::new(at("paper")).replacing("print").made_from(&at(source).join("x.job.toml"));
        output.add("x.pieces-a4.pdf", source);
        output.in_part(vec!["x.pieces-a4.pdf".into()]).write()
    };
    print("a").unwrap();
    let fault = print("b").unwrap_err();
    assert!(
        matches!(&fault, OutputFault::OfAnother { source_seen, .. } if source_seen == "../a/x.job.toml"),
        "{fault}"
    );
    assert_eq!(fs::read_to_string(at("paper/x.pieces-a4.pdf")).unwrap(), "a");
    print("a").unwrap();
    // Of a file that is gone nobody asks for another print.
    fs::remove_file(at("a/x.job.toml")).unwrap();
    print("b").unwrap();
    assert_eq!(fs::read_to_string(at("paper/x.pieces-a4.pdf")).unwrap(), "b");
}
