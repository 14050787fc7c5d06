//! What is read from files without a fault is sound by the rules that judge patterns and jobs written as literals: the two never
//! disagree about a garment that can be made.

use std::path::{Path, PathBuf};

use ellwand_files::{Limits, read_job};
use ellwand_garment::validate;

/// Every job file below `folder`.
fn jobs(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
        if entry.is_dir() {
            found.extend(jobs(&entry));
        } else if entry.to_string_lossy().ends_with(".job.toml") {
            found.push(entry);
        }
    }
    found.sort();
    found
}

#[test]
fn every_demo_garment_is_sound_as_read() {
    let demo_data = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    let found = jobs(&demo_data);
    assert!(found.len() >= 15, "{found:?}");
    for job in found {
        let read = read_job(&job, &Limits::default()).unwrap_or_else(|faults| panic!("{}: {faults}", job.display()));
        assert_eq!(validate(&read.pattern, &read.job), [], "{}", job.display());
    }
}
