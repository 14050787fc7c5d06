//! The file system: a pattern or a job in a file, and the patterns beside it.
//!
//! What is too large, not a file or not UTF-8 is refused before it is read as anything else.

use std::{
    fs,
    io::Read,
    path::{Path, PathBuf},
};

use crate::{
    Change, Faults, Kept, LaidCloth, Limits, ReadJob, ReadOptions, ReadPattern, Shelf, Source,
    fault::FileFault,
    read::{parse_changed_job, parse_pattern_from},
    record::parse_layout,
    stash::kept,
};

/// Reads a job file and the pattern it names, whose path counts from the folder of the job. `options` are [`ReadOptions`], or a
/// borrowed [`Limits`] alone.
///
/// # Errors
///
/// Every fault of both files.
pub fn read_job(path: &Path, options: impl Into<ReadOptions>) -> Result<ReadJob, Faults> {
    read_changed_job(path, options, &[])
}

/// As [`read_job`], with `changes` made in what the job says, one after the other.
///
/// # Errors
///
/// Every fault of both files, as if the changes were written in the job.
pub fn read_changed_job(path: &Path, options: impl Into<ReadOptions>, changes: &[Change]) -> Result<ReadJob, Faults> {
    let options = options.into();
    let folder = Folder::new(path.parent().unwrap_or(Path::new("")));
    parse_changed_job(&opened(path, &options.limits)?, &folder, options, changes)
}

/// Reads a pattern file.
///
/// # Errors
///
/// Every fault found.
pub fn read_pattern(path: &Path, limits: &Limits) -> Result<ReadPattern, Faults> {
    parse_pattern_from(&opened(path, limits)?, &Folder::new(""), limits)
}

/// The stash at `path` once a job is cut, as text to be written there; one is made where there is none.
///
/// # Errors
///
/// Every fault of what is there.
pub fn kept_in(path: &Path, made: &Kept, limits: &Limits) -> Result<String, Faults> {
    let source = match open(path, limits) {
        Ok(source) => Some(source),
        Err(FileFault::Missing) => None,
        Err(fault) => return Err(Faults::of_source(Source::new(path.display().to_string(), ""), fault)),
    };
    kept(source.as_ref(), made, limits)
}

/// Reads the record of a layout.
///
/// # Errors
///
/// What is wrong with it.
pub fn read_layout(path: &Path, limits: &Limits) -> Result<LaidCloth, Faults> {
    parse_layout(&opened(path, limits)?, limits)
}

fn opened(path: &Path, limits: &Limits) -> Result<Source, Faults> {
    open(path, limits).map_err(|fault| Faults::of_source(Source::new(path.display().to_string(), ""), fault))
}

/// A folder with patterns.
#[derive(Debug, Clone)]
pub struct Folder {
    path: PathBuf,
}

impl Folder {
    /// The folder at `path`; an empty path is the current one.
    pub fn new(path: impl Into<PathBuf>) -> Self {
        Self { path: path.into() }
    }
}

impl Shelf for Folder {
    fn pattern(&self, named: &str, limits: &Limits) -> Result<Source, FileFault> {
        open(&self.path.join(named), limits)
    }

    fn stash(&self, named: &str, limits: &Limits) -> Result<Source, FileFault> {
        open(&self.path.join(named), limits)
    }

    fn drawing(&self, pattern: &Source, named: &str, limits: &Limits) -> Result<Vec<u8>, FileFault> {
        let folder = Path::new(pattern.name()).parent().unwrap_or(Path::new(""));
        read_bytes(&folder.join(named), limits.drawing.bytes)
    }
}

/// Reads a whole file of any kind, its size checked first.
///
/// # Errors
///
/// Why it cannot be read.
pub fn read_bytes(path: &Path, limit: u64) -> Result<Vec<u8>, FileFault> {
    let metadata = fs::metadata(path).map_err(reason)?;
    if metadata.is_dir() {
        return Err(FileFault::Directory);
    }
    let mut bytes = Vec::new();
    fs::File::open(path).map_err(reason)?.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(reason)?;
    let size = metadata.len().max(bytes.len() as u64);
    if size > limit { Err(FileFault::TooLarge { bytes: size, limit }) } else { Ok(bytes) }
}

/// Why a file cannot be read, as the system says.
fn reason(error: std::io::Error) -> FileFault {
    match error.kind() {
        std::io::ErrorKind::NotFound => FileFault::Missing,
        _ => FileFault::Unreadable { reason: error.to_string() },
    }
}

/// Reads a whole text file, its size checked first.
fn open(path: &Path, limits: &Limits) -> Result<Source, FileFault> {
    let metadata = fs::metadata(path).map_err(reason)?;
    if metadata.is_dir() {
        return Err(FileFault::Directory);
    }
    let limit = limits.file_bytes;
    let mut bytes = Vec::new();
    // A pipe or a growing file has no size to check beforehand: one byte past the limit is enough to know.
    let most = if metadata.len() > limit { START } else { limit.saturating_add(1) };
    fs::File::open(path).map_err(reason)?.take(most).read_to_end(&mut bytes).map_err(reason)?;
    if let Some(other) = FileFault::other_kind(&bytes) {
        return Err(other);
    }
    let size = metadata.len().max(bytes.len() as u64);
    if size > limit {
        return Err(FileFault::TooLarge { bytes: size, limit });
    }
    if let Some(other) = FileFault::not_text(&bytes) {
        return Err(other);
    }
    let text =
        String::from_utf8(bytes).map_err(|error| FileFault::NotUtf8 { byte: error.utf8_error().valid_up_to() })?;
    Ok(Source::new(path.display().to_string(), text))
}

/// So much of a file that is too large is read, to tell what it is.
const START: u64 = 4096;
