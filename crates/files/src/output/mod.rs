//! Writing a set of files whole or not at all.

mod ledger;

use std::{
    ffi::OsStr,
    fs, io,
    io::Write,
    path::{Path, PathBuf},
};

use tempfile::{Builder, NamedTempFile, TempPath};

use ledger::{Entry, Print};

/// Files to be written into one folder together.
///
/// Every file is first written beside its place under another name and made durable; only when all are complete do they
/// take their names, replacing what was there. When anything fails, what was in the folder before is there again, and
/// nothing else; a folder that was made for them is removed.
///
/// A set with a name ([`OutputFolder::replacing`]) takes the place of what was written there under that name before: a file of it that the new
/// set does not have is taken away, unless somebody changed it since. Files of others are never touched. A list in the folder,
/// `.ellwand-files`, tells which files are meant.
///
/// ```
/// use ellwand_files::OutputFolder;
///
/// let folder = tempfile::tempdir()?;
/// let mut output = OutputFolder::new(folder.path().join("out"));
/// output.add("main.placing.txt", "Front 1: 4 1/2 in from the selvage\n");
/// let written = output.write()?;
/// assert_eq!(written.files.len(), 1);
/// assert!(folder.path().join("out/main.placing.txt").is_file());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Default)]
pub struct OutputFolder {
    folder: PathBuf,
    /// The name of the set, where it replaces an earlier one.
    set: Option<String>,
    /// Beginnings of the names that this set may replace; any where there are none.
    parts: Vec<String>,
    files: Vec<(String, Vec<u8>)>,
}

/// What became of a folder.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Written {
    /// The files of the set, in the order they were added.
    pub files: Vec<PathBuf>,
    /// Files of an earlier set that were taken away.
    pub removed: Vec<PathBuf>,
    /// Files of an earlier set that somebody has changed since; they stay.
    pub left: Vec<PathBuf>,
}

/// Why nothing was written.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum OutputFault {
    /// A name that is not a plain file name, or that comes twice.
    #[error("\"{name}\" cannot be the name of an output file: {problem}")]
    BadName {
        /// The name.
        name: String,
        /// Why not.
        problem: &'static str,
    },
    /// The folder cannot be made or used.
    #[error("the folder {} cannot be written to: {reason}; nothing was written", folder.display())]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        #[source]
        reason: io::Error,
    },
    /// A file cannot be written.
    #[error("{} cannot be written: {reason}; nothing was written", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// What the system said, such as a full disk.
        #[source]
        reason: io::Error,
    },
}

impl OutputFolder {
    /// An empty set for `folder`, which is made when it is not there. An empty path is the current folder.
    pub fn new(folder: impl Into<PathBuf>) -> Self {
        let folder = folder.into();
        let folder = if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder };
        Self { folder, set: None, parts: Vec::new(), files: Vec::new() }
    }

    /// Gives the set a name, such as that of a command: what was written into the folder under it before and is not written again goes.
    #[must_use]
    pub fn replacing(self, set: impl Into<String>) -> Self {
        Self { set: Some(set.into()), ..self }
    }

    /// Says that the set is a part of an answer: of an earlier set only files go whose names begin with one of `beginnings`.
    #[must_use]
    pub fn in_part(self, beginnings: Vec<String>) -> Self {
        Self { parts: beginnings, ..self }
    }

    /// Adds a file. Nothing is written yet.
    pub fn add(&mut self, name: impl Into<String>, content: impl Into<Vec<u8>>) {
        self.files.push((name.into(), content.into()));
    }

    /// Writes all files, and says what became of the folder.
    ///
    /// # Errors
    ///
    /// [`OutputFault`]; then nothing has changed.
    pub fn write(self) -> Result<Written, OutputFault> {
        let Self { folder, set, parts, mut files } = self;
        for (index, (name, _)) in files.iter().enumerate() {
            let bad = |problem| Err(OutputFault::BadName { name: name.clone(), problem });
            if Path::new(name).file_name() != Some(OsStr::new(name)) {
                return bad("it must be a file name without a folder");
            }
            if files[..index].iter().any(|(earlier, _)| earlier == name) {
                return bad("another file of the set has it");
            }
        }
        let made =
            MadeFolders::make(&folder).map_err(|reason| OutputFault::Folder { folder: folder.clone(), reason })?;
        let (mut outdated, mut left) = (Vec::new(), Vec::new());
        if let Some(set) = &set {
            let bad = |reason| OutputFault::File { file: folder.join(ledger::NAME), reason };
            let mut known = ledger::read(&folder).map_err(bad)?;
            let is_new = |name: &str| files.iter().any(|(new, _)| new == name);
            let is_replaced = |entry: &Entry| {
                entry.set == *set
                    && (parts.is_empty() || parts.iter().any(|part| entry.name.starts_with(part.as_str())))
            };
            for entry in known.iter().filter(|entry| is_replaced(entry) && !is_new(&entry.name)) {
                let path = folder.join(&entry.name);
                if ledger::is_unchanged(&folder, entry) {
                    outdated.push(path);
                } else if path.exists() {
                    left.push(path);
                }
            }
            known.retain(|entry| !is_replaced(entry) && !is_new(&entry.name));
            known.extend(files.iter().map(|(name, content)| Entry {
                set: set.clone(),
                name: name.clone(),
                print: Print::of(content),
            }));
            files.push((ledger::NAME.to_owned(), ledger::text(&known).into_bytes()));
        }
        let mut staged = Vec::new();
        for (name, content) in files {
            let target = folder.join(name);
            match stage(&folder, |file| file.write_all(&content)) {
                Ok(file) => staged.push((file, target)),
                Err(reason) => return Err(OutputFault::File { file: target, reason }),
            }
        }
        let mut written = put_in_place(&folder, staged)?;
        made.keep();
        if set.is_some() {
            // The ledger, which is no answer.
            written.pop();
        }
        // What cannot be taken away stays, and is told as such.
        let (removed, stuck): (Vec<_>, Vec<_>) = outdated.into_iter().partition(|path| fs::remove_file(path).is_ok());
        left.extend(stuck);
        Ok(Written { files: written, removed, left })
    }
}

/// A complete, durable file in `folder` under a name of its own. It vanishes when the value is dropped.
fn stage(folder: &Path, write: impl FnOnce(&mut NamedTempFile) -> io::Result<()>) -> io::Result<TempPath> {
    let mut builder = Builder::new();
    builder.prefix(".ellwand-").suffix(".part");
    #[cfg(unix)]
    {
        // As any new file; the system takes away what the user's mask forbids. Temporary files are private otherwise.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder)?;
    write(&mut file)?;
    file.flush()?;
    file.as_file().sync_all()?;
    Ok(file.into_temp_path())
}

/// Gives every staged file its name. On failure all names lead to what they led to before.
fn put_in_place(folder: &Path, staged: Vec<(TempPath, PathBuf)>) -> Result<Vec<PathBuf>, OutputFault> {
    let mut done: Vec<Replaced> = Vec::new();
    for (file, target) in staged {
        match replace(folder, file, &target) {
            Ok(replaced) => done.push(replaced),
            Err(reason) => {
                while let Some(replaced) = done.pop() {
                    replaced.undo();
                }
                return Err(OutputFault::File { file: target, reason });
            }
        }
    }
    // The renames themselves are made durable where the system knows how; the files are complete in any case.
    if let Ok(handle) = fs::File::open(folder) {
        let _ = handle.sync_all();
    }
    Ok(done.into_iter().map(Replaced::keep).collect())
}

/// A file that has taken its name, and what had the name before.
struct Replaced {
    target: PathBuf,
    before: Option<TempPath>,
}

impl Replaced {
    /// What was there before comes back.
    fn undo(self) {
        match self.before {
            Some(before) => {
                let _ = before.persist(&self.target);
            }
            None => {
                let _ = fs::remove_file(&self.target);
            }
        }
    }

    /// What was there before is given up.
    fn keep(self) -> PathBuf {
        self.target
    }
}

/// Renames `file` to `target`, keeping a second name for what was there.
fn replace(folder: &Path, file: TempPath, target: &Path) -> io::Result<Replaced> {
    let before = match fs::symlink_metadata(target) {
        Ok(metadata) if metadata.is_dir() => {
            return Err(io::Error::new(io::ErrorKind::IsADirectory, "a folder has this name"));
        }
        Ok(_) => {
            // A name that is free, taken by renaming: the old content is never copied.
            let aside = Builder::new().prefix(".ellwand-").suffix(".old").tempfile_in(folder)?.into_temp_path();
            fs::rename(target, &aside)?;
            Some(aside)
        }
        Err(reason) if reason.kind() == io::ErrorKind::NotFound => None,
        Err(reason) => return Err(reason),
    };
    match file.persist(target) {
        Ok(()) => Ok(Replaced { target: target.to_owned(), before }),
        Err(fault) => {
            Replaced { target: target.to_owned(), before }.undo();
            Err(fault.error)
        }
    }
}

/// The folders that had to be made; removed again unless kept.
struct MadeFolders(Vec<PathBuf>);

impl MadeFolders {
    fn make(folder: &Path) -> io::Result<Self> {
        let missing = folder.ancestors().take_while(|path| !path.as_os_str().is_empty() && !path.exists());
        let mut made = Self(missing.map(Path::to_owned).collect());
        // On failure the guard removes what was made so far.
        fs::create_dir_all(folder).inspect_err(|_| made.0.retain(|path| path.is_dir()))?;
        Ok(made)
    }

    fn keep(mut self) {
        self.0.clear();
    }
}

impl Drop for MadeFolders {
    fn drop(&mut self) {
        for folder in &self.0 {
            let _ = fs::remove_dir(folder);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Names and contents in a folder, hidden files included.
    fn listing(folder: &Path) -> Vec<(String, String)> {
        let mut all: Vec<(String, String)> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| {
                let entry = entry.unwrap();
                let text =
                    if entry.path().is_dir() { "folder".into() } else { fs::read_to_string(entry.path()).unwrap() };
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
    fn a_folder_below_a_file_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("out"), "a file").unwrap();
        for below in ["out", "out/deeper"] {
            let mut output = OutputFolder::new(folder.path().join(below));
            output.add("a", "1");
            assert!(matches!(output.write(), Err(OutputFault::Folder { .. })));
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
}
