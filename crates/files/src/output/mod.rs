//! Writing a set of files whole or not at all.

mod journal;
mod ledger;
mod source;

use std::{
    ffi::OsStr,
    fs, io,
    io::Write,
    path::{Path, PathBuf},
};

use tempfile::{Builder, NamedTempFile, TempPath};

use journal::Change;
use ledger::{Entry, Print};

/// Files to be written into one folder together.
///
/// Every file is first written beside its place under another name and made durable; only when all are complete do they
/// take their names, replacing what was there. When anything fails, what was in the folder before is there again, and
/// nothing else; a folder that was made for them is removed. A program that is ended while the files take their names leaves a list of them,
/// `.ellwand-journal`, and whoever writes into the folder next brings that to its end first: so the files of one set never stay mixed with
/// those of another.
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
    /// The file that the set is made from, as seen from the folder, where sets of several files share it.
    source: Option<String>,
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
    /// Files that an earlier run was changing when it was ended, which was finished first.
    pub finished: Vec<PathBuf>,
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
    /// A file where the folder would be, or one above it.
    #[error(
        "{} is a file, but drawings go into a folder: name a folder, which is created if missing; nothing was written",
        file.display()
    )]
    NotAFolder {
        /// The file.
        file: PathBuf,
    },
    /// A name that a file made from another source has.
    #[error(
        "{} was made from {source_seen}, another file of the same name; name another folder, or remove what is there; nothing was written",
        file.display()
    )]
    OfAnother {
        /// The file.
        file: PathBuf,
        /// What it was made from, as seen from the folder.
        source_seen: String,
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
        Self { folder, set: None, source: None, parts: Vec::new(), files: Vec::new() }
    }

    /// Gives the set a name, such as that of a command: what was written into the folder under it before and is not written again goes.
    #[must_use]
    pub fn replacing(self, set: impl Into<String>) -> Self {
        Self { set: Some(set.into()), ..self }
    }

    /// Says which file the set is made from: then it takes the place of nothing that was made from another, as long as that is there.
    #[must_use]
    pub fn made_from(self, source: &Path) -> Self {
        let seen = source::seen_from(&self.folder, source);
        Self { source: Some(seen), ..self }
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

    /// Whether a file stands where the folder would be: asked before a long search rather than after it. [`OutputFolder::write`] asks it too.
    ///
    /// # Errors
    ///
    /// [`OutputFault::NotAFolder`].
    pub fn refuse_a_file(&self) -> Result<(), OutputFault> {
        let nearest = self.folder.ancestors().find(|path| path.exists());
        nearest.filter(|path| !path.is_dir()).map_or(Ok(()), |file| Err(OutputFault::NotAFolder { file: file.into() }))
    }

    /// Writes all files, and says what became of the folder.
    ///
    /// # Errors
    ///
    /// [`OutputFault`]; then nothing has changed.
    pub fn write(self) -> Result<Written, OutputFault> {
        self.write_changed(|_| Ok(()))
    }

    /// As [`OutputFolder::write`], with files that are made of what is in the folder: while `change` reads them and adds what becomes of them, and until
    /// that is written, no other run changes the folder. So of two that change a file at once neither is lost.
    ///
    /// # Errors
    ///
    /// [`OutputFault`], and what `change` says; then nothing has changed.
    pub fn write_changed<E: From<OutputFault>>(
        mut self,
        change: impl FnOnce(&mut Self) -> Result<(), E>,
    ) -> Result<Written, E> {
        self.refuse_a_file()?;
        let unusable = |reason| OutputFault::Folder { folder: self.folder.clone(), reason };
        let made = MadeFolders::make(&self.folder).map_err(unusable)?;
        let _turn = turn(&self.folder);
        let finished = journal::finish(&self.folder).map_err(unusable)?;
        change(&mut self)?;
        let written = self.put(finished)?;
        made.keep();
        Ok(written)
    }

    /// Writes all files into the folder, in which earlier runs `finished` some.
    fn put(self, finished: Vec<String>) -> Result<Written, OutputFault> {
        let Self { folder, set, source, parts, files } = self;
        refuse_bad_names(&files)?;
        let set = set.map(|set| source.map_or(set.clone(), |source| source::set_of(&set, &source)));
        if let Some(set) = &set {
            refuse_names_of_another(&folder, set, &files)?;
        }
        let set =
            Set::of(&folder, set, &parts, files).map_err(|(name, reason)| cannot_be_written(&folder, &name, reason))?;
        let staged = set.stage(&folder).map_err(|(name, reason)| cannot_be_written(&folder, &name, reason))?;
        let stuck = staged.put_in_place(&folder).map_err(|(name, reason)| cannot_be_written(&folder, &name, reason))?;
        let paths = |names: Vec<String>| -> Vec<PathBuf> { names.into_iter().map(|name| folder.join(name)).collect() };
        let Set { names, outdated, mut left, .. } = set;
        // What cannot be taken away stays, and is told as such.
        let (kept, removed): (Vec<String>, Vec<String>) = outdated.into_iter().partition(|name| stuck.contains(name));
        left.extend(kept);
        let finished = finished.into_iter().filter(|name| name != ledger::NAME).collect();
        Ok(Written { files: paths(names), removed: paths(removed), left: paths(left), finished: paths(finished) })
    }
}

fn refuse_bad_names(files: &[(String, Vec<u8>)]) -> Result<(), OutputFault> {
    for (index, (name, _)) in files.iter().enumerate() {
        let bad = |problem| Err(OutputFault::BadName { name: name.clone(), problem });
        if Path::new(name).file_name() != Some(OsStr::new(name)) {
            return bad("it must be a file name without a folder");
        }
        if name.contains('\n') {
            return bad("it must be one line");
        }
        if files[..index].iter().any(|(earlier, _)| earlier == name) {
            return bad("another file of the set has it");
        }
    }
    Ok(())
}

/// Refuses a name of a file that an earlier run made from another source, if both are still there.
fn refuse_names_of_another(folder: &Path, set: &str, files: &[(String, Vec<u8>)]) -> Result<(), OutputFault> {
    let known = ledger::read(folder).map_err(|reason| cannot_be_written(folder, ledger::NAME, reason))?;
    let is_of_another = |entry: &&Entry| {
        files.iter().any(|(name, _)| *name == entry.name) && entry.set != set && folder.join(&entry.name).exists()
    };
    for entry in known.iter().filter(is_of_another) {
        if let Some(source) = source::of_set(&entry.set).filter(|source| folder.join(source).exists()) {
            return Err(OutputFault::OfAnother { file: folder.join(&entry.name), source_seen: source.to_owned() });
        }
    }
    Ok(())
}

fn cannot_be_written(folder: &Path, name: &str, reason: io::Error) -> OutputFault {
    OutputFault::File { file: folder.join(name), reason }
}

/// Waits until no other run changes names in `folder`, and keeps others waiting as long as it is held. `None` where the system knows no such
/// thing for folders.
fn turn(folder: &Path) -> Option<fs::File> {
    let folder = fs::File::open(folder).ok()?;
    folder.lock().ok()?;
    Some(folder)
}

/// What a folder is to hold, and what it is to lose.
struct Set {
    /// The names of the set.
    names: Vec<String>,
    /// Their contents; the list of the folder's own files comes last.
    contents: Vec<(String, Vec<u8>)>,
    /// Names of an earlier set that go.
    outdated: Vec<String>,
    /// Names of an earlier set that somebody has changed since.
    left: Vec<String>,
}

impl Set {
    /// What `files` of the set `set` make of the folder; of an earlier set only names that begin with one of `parts`, if there are any, go.
    fn of(
        folder: &Path,
        set: Option<String>,
        parts: &[String],
        files: Vec<(String, Vec<u8>)>,
    ) -> Result<Self, (String, io::Error)> {
        let names = files.iter().map(|(name, _)| name.clone()).collect();
        let mut whole = Self { names, contents: files, outdated: Vec::new(), left: Vec::new() };
        let Some(set) = set else { return Ok(whole) };
        let mut known = ledger::read(folder).map_err(|reason| (ledger::NAME.to_owned(), reason))?;
        let is_replaced = |entry: &Entry| {
            entry.set == set && (parts.is_empty() || parts.iter().any(|part| entry.name.starts_with(part.as_str())))
        };
        for entry in known.iter().filter(|entry| is_replaced(entry) && !whole.names.contains(&entry.name)) {
            if ledger::is_unchanged(folder, entry) {
                whole.outdated.push(entry.name.clone());
            } else if folder.join(&entry.name).exists() {
                whole.left.push(entry.name.clone());
            }
        }
        known.retain(|entry| !is_replaced(entry) && !whole.names.contains(&entry.name));
        known.extend(whole.contents.iter().map(|(name, content)| Entry {
            set: set.clone(),
            name: name.clone(),
            print: Print::of(content),
        }));
        whole.contents.push((ledger::NAME.to_owned(), ledger::text(&known).into_bytes()));
        Ok(whole)
    }

    /// Writes every content under a name of its own, and what is to become of the names.
    fn stage(&self, folder: &Path) -> Result<Staged, (String, io::Error)> {
        let mut staged = Staged { changes: Vec::new(), waiting: Vec::new() };
        for (name, content) in &self.contents {
            let fault = |reason| (name.clone(), reason);
            let is_there = match fs::symlink_metadata(folder.join(name)) {
                Ok(data) if data.is_dir() => {
                    return Err(fault(io::Error::new(io::ErrorKind::IsADirectory, "a folder has this name")));
                }
                Ok(_) => true,
                Err(reason) if reason.kind() == io::ErrorKind::NotFound => false,
                Err(reason) => return Err(fault(reason)),
            };
            let file = stage(folder, |file| file.write_all(content)).map_err(fault)?;
            let new = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            let old = is_there.then(|| new.replace(journal::NEW, journal::OLD));
            staged.changes.push(Change { name: name.clone(), new: Some(new), old });
            staged.waiting.push(file);
        }
        let stem = staged.changes.last().and_then(|change| change.new.as_deref()).unwrap_or_default();
        let stem = stem.trim_end_matches(journal::NEW).to_owned();
        staged.changes.extend(self.outdated.iter().enumerate().map(|(k, name)| Change {
            name: name.clone(),
            new: None,
            old: Some(format!("{stem}-{k}{}", journal::OLD)),
        }));
        Ok(staged)
    }
}

/// Complete, durable files under names of their own, and what is to become of the names in the folder.
struct Staged {
    changes: Vec<Change>,
    /// They vanish when this is dropped, unless they have taken their names.
    waiting: Vec<TempPath>,
}

impl Staged {
    /// Makes every change, or none. Tells the names that could not be taken away.
    fn put_in_place(self, folder: &Path) -> Result<Vec<String>, (String, io::Error)> {
        let list = journal::text(&self.changes);
        let kept = stage(folder, |file| file.write_all(list.as_bytes()))
            .and_then(|list| list.persist(folder.join(journal::NAME)).map_err(|fault| fault.error));
        kept.map_err(|reason| (journal::NAME.to_owned(), reason))?;
        make_durable(folder);
        let made = journal::make_all(folder, &self.changes);
        make_durable(folder);
        let has_served = fs::remove_file(folder.join(journal::NAME)).is_ok();
        let stuck = made?;
        // As long as the list is there, so is what it tells of; then the next run finds that all of it is done.
        for old in self.changes.iter().filter_map(|change| change.old.as_ref()).filter(|_| has_served) {
            let _ = fs::remove_file(folder.join(old));
        }
        // They have taken their names; of a change that failed above they went with it.
        drop(self.waiting);
        Ok(stuck)
    }
}

/// Makes the renames in a folder durable where the system knows how; the files are complete in any case.
fn make_durable(folder: &Path) {
    if let Ok(handle) = fs::File::open(folder) {
        let _ = handle.sync_all();
    }
}

/// A complete, durable file in `folder` under a name of its own. It vanishes when the value is dropped.
fn stage(folder: &Path, write: impl FnOnce(&mut NamedTempFile) -> io::Result<()>) -> io::Result<TempPath> {
    // The system's own words on a failure, without the name for a while that the builder tells with them: nobody knows it.
    let mut said = None;
    // As any new file; a temporary file of the usual kind is private.
    let create = |path: &Path| fs::File::create_new(path).inspect_err(|fault| said = fault.raw_os_error());
    let made = Builder::new().prefix(journal::PREFIX).suffix(journal::NEW).make_in(folder, create);
    let mut file = made.map_err(|fault| said.map_or(fault, io::Error::from_raw_os_error))?;
    write(&mut file)?;
    file.flush()?;
    file.as_file().sync_all()?;
    Ok(file.into_temp_path())
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
mod tests;
