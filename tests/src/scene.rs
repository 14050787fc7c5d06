//! A folder with a job and a pattern in it, and runs of the command there.

use std::{
    ffi::OsStr,
    fs,
    path::{Path, PathBuf},
    process::{Command, Stdio},
};

use tempfile::TempDir;

/// A small sound pattern: a drawn front on the fold, a drawn pocket as a pair, a measured band, a lined flap.
pub const PATTERN: &str = include_str!("quay-bag.pattern.toml");

/// A small sound job for it.
pub const JOB: &str = include_str!("quay-bag.job.toml");

/// A folder of its own, removed afterwards.
#[derive(Debug)]
pub struct Scene {
    folder: TempDir,
}

/// What one run of the command did.
#[derive(Debug)]
pub struct Run {
    /// Its exit code; `None` when a signal ended it.
    pub code: Option<i32>,
    /// What it printed.
    pub stdout: String,
    /// What it complained of.
    pub stderr: String,
}

impl Scene {
    /// An empty folder.
    ///
    /// # Panics
    ///
    /// When the system gives none; so do all methods when the file system fails.
    pub fn empty() -> Self {
        Self { folder: tempfile::tempdir().expect("a temporary folder") }
    }

    /// A folder with the sound job and its pattern.
    pub fn sound() -> Self {
        Self::with(JOB, PATTERN)
    }

    /// A folder with this job and this pattern.
    pub fn with(job: &str, pattern: &str) -> Self {
        let scene = Self::empty();
        scene.write("quay-bag.job.toml", job);
        scene.write("quay-bag.pattern.toml", pattern);
        scene
    }

    /// A folder with a job as `garment.job.toml`, and its pattern under the name that the job gives it.
    ///
    /// # Panics
    ///
    /// When the job names no pattern on a line of its own.
    pub fn garment(job: &str, pattern: &str) -> Self {
        let named = job.lines().find_map(|line| line.strip_prefix("pattern = ")).expect("the job names its pattern");
        let scene = Self::empty();
        scene.write("garment.job.toml", job);
        scene.write(named.trim_matches('"'), pattern);
        scene
    }

    /// Writes a file.
    pub fn write(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).expect("a file in a temporary folder");
    }

    /// The path of a file in the folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The text of a file.
    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// The bytes of a file as text, what is no text replaced: a PDF says its title in plain letters.
    pub fn lossy(&self, name: &str) -> String {
        let bytes = fs::read(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        String::from_utf8_lossy(&bytes).into_owned()
    }

    /// Every file below the folder `name`, sorted, but for the program's own list of what it wrote there; empty when there is no such folder.
    pub fn files(&self, name: &str) -> Vec<String> {
        let Ok(entries) = fs::read_dir(self.path(name)) else { return Vec::new() };
        let name_of = |entry: std::io::Result<fs::DirEntry>| entry.expect("an entry").file_name();
        let mut names: Vec<String> = entries.map(|entry| name_of(entry).to_string_lossy().into_owned()).collect();
        names.retain(|name| name != ".ellwand-files");
        names.sort();
        names
    }

    /// The command, to be run in the folder with `args`.
    pub fn command<S: AsRef<OsStr>>(&self, args: impl IntoIterator<Item = S>) -> Command {
        let mut command = Command::new(crate::ellwand_path());
        command.args(args).current_dir(self.folder.path()).stdin(Stdio::null());
        command
    }

    /// Runs the command with the words of `line`, split at spaces.
    pub fn run(&self, line: &str) -> Run {
        let output = self.command(line.split_whitespace()).output().expect("the command starts");
        Run {
            code: output.status.code(),
            stdout: String::from_utf8_lossy(&output.stdout).into_owned(),
            stderr: String::from_utf8_lossy(&output.stderr).into_owned(),
        }
    }

    /// Runs the command and expects it to do what it was asked.
    pub fn run_well(&self, line: &str) -> Run {
        let run = self.run(line);
        assert_eq!(run.code, Some(0), "`ellwand {line}` failed:\n{}", run.stderr);
        run
    }

    /// The JSON value in a file.
    pub fn json(&self, name: &str) -> serde_json::Value {
        serde_json::from_str(&self.read(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// The folder itself.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }
}
