//! Every demo job again from the record of its pieces: the same pieces to the bit, and so the same question to the planner.

use std::path::{Path, PathBuf};

use ellwand_files::{FileFault, Folder, Limits, ReadJob, Shelf, Source, parse_job, read_job, view_record};

/// Keys of a job that a record of pieces has answered, and those of what is bought beside the cloth, which it does not hold.
const ANSWERED: [&str; 8] = ["view", "size", "figure", "body", "ease", "alter", "notion", "trim"];

fn demo_data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn jobs() -> Vec<PathBuf> {
    let mut jobs = Vec::new();
    for folder in std::fs::read_dir(demo_data()).expect("the demo data") {
        let folder = folder.expect("an entry").path();
        for file in std::fs::read_dir(&folder).into_iter().flatten() {
            let file = file.expect("an entry").path();
            if file.to_string_lossy().ends_with(".job.toml") {
                jobs.push(file);
            }
        }
    }
    jobs.sort();
    jobs
}

/// A record of pieces, and the folder of the job for all else.
struct Beside<'a> {
    record: Source,
    folder: &'a Path,
}

impl Shelf for Beside<'_> {
    fn pattern(&self, _named: &str, _limits: &Limits) -> Result<Source, FileFault> {
        Ok(self.record.clone())
    }

    fn stash(&self, named: &str, limits: &Limits) -> Result<Source, FileFault> {
        Folder::new(self.folder).stash(named, limits)
    }
}

/// The same job on the record of its pieces.
fn of_record(path: &Path, first: &ReadJob) -> ReadJob {
    let view = first.pattern.view(&first.job.view).expect("the job's view");
    let record = view_record(&first.pattern, view);
    let mut text: toml::Table = std::fs::read_to_string(path).expect("the job").parse().expect("TOML");
    ANSWERED.iter().for_each(|key| drop(text.remove(*key)));
    text.insert("pattern".into(), "altered.pieces.json".into());
    let (job, record) = (Source::new("job", text.to_string()), Source::new("altered.pieces.json", record));
    let shelf = Beside { record, folder: path.parent().expect("a folder") };
    parse_job(&job, &shelf, &Limits::default()).unwrap_or_else(|faults| panic!("{}: {faults}", path.display()))
}

#[test]
fn every_demo_job_is_the_same_from_the_record_of_its_pieces() {
    let jobs = jobs();
    assert_eq!(jobs.len(), 26);
    // A record is of one garment; what several are cut from is asked of each.
    let makes_several = |path: &PathBuf| std::fs::read_to_string(path).expect("the job").contains("[[garment]]");
    let (several, jobs): (Vec<PathBuf>, Vec<PathBuf>) = jobs.into_iter().partition(makes_several);
    assert_eq!(several.len(), 1);
    for path in jobs {
        let first = read_job(&path, &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
        let again = of_record(&path, &first);
        let view = first.pattern.view(&first.job.view).expect("the job's view");
        assert_eq!(again.pattern.views.as_slice(), std::slice::from_ref(view), "{}", path.display());
        for name in &view.pieces {
            let (was, is) = (first.pattern.piece(name), again.pattern.piece(name));
            assert!(was.is_some() && was == is, "{}: {name}", path.display());
        }
        assert_eq!((&again.pattern.name, &again.pattern.size), (&first.pattern.name, &first.pattern.size));
        // What is matched, and what is given up, too.
        let mut fabrics = again.job.fabrics.clone();
        fabrics.sort_by_key(|fabric| first.job.fabrics.iter().position(|of| of.role == fabric.role));
        assert_eq!(fabrics, first.job.fabrics, "{}", path.display());
    }
}
