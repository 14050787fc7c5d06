//! A text file and where things stand in it; reading refuses what is too large, not a file, or not UTF-8.

use std::{
    fs,
    io::Read,
    ops::Range,
    path::{Path, PathBuf},
    sync::Arc,
};

use miette::NamedSource;

use crate::{Limits, fault::FileFault};

/// A file's name and text. Faults share it, so that each can show its line.
#[derive(Debug)]
pub(crate) struct SourceFile {
    pub(crate) path: PathBuf,
    pub(crate) text: NamedSource<String>,
}

impl SourceFile {
    /// Text that came from somewhere else than the file system, under the name a fault shall show.
    pub(crate) fn from_text(path: &Path, text: &str) -> Arc<Self> {
        let text = NamedSource::new(path.display().to_string(), text.to_owned()).with_language("toml");
        Arc::new(Self { path: path.to_owned(), text })
    }

    pub(crate) fn text(&self) -> &str {
        self.text.inner()
    }

    /// Line and column, both from 1; columns count characters.
    pub(crate) fn line_and_column(&self, offset: usize) -> (usize, usize) {
        let text = self.text();
        let mut offset = offset.min(text.len());
        while !text.is_char_boundary(offset) {
            offset -= 1;
        }
        let before = &text[..offset];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }

    /// The text at `span`, as it stands.
    pub(crate) fn at(&self, span: &Range<usize>) -> &str {
        self.text().get(span.clone()).unwrap_or_default()
    }
}

/// Reads a whole text file, its size checked first.
pub(crate) fn read(path: &Path, limits: &Limits) -> Result<Arc<SourceFile>, FileFault> {
    let reason = |error: std::io::Error| match error.kind() {
        std::io::ErrorKind::NotFound => FileFault::Missing,
        _ => FileFault::Unreadable { reason: error.to_string() },
    };
    let metadata = fs::metadata(path).map_err(reason)?;
    if metadata.is_dir() {
        return Err(FileFault::Directory);
    }
    let limit = limits.file_bytes;
    if metadata.len() > limit {
        return Err(FileFault::TooLarge { bytes: metadata.len(), limit });
    }
    // A pipe or a growing file has no size to check beforehand: one byte past the limit is enough to know.
    let mut bytes = Vec::new();
    fs::File::open(path).map_err(reason)?.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(reason)?;
    if bytes.len() as u64 > limit {
        return Err(FileFault::TooLarge { bytes: bytes.len() as u64, limit });
    }
    let text =
        String::from_utf8(bytes).map_err(|error| FileFault::NotUtf8 { byte: error.utf8_error().valid_up_to() })?;
    Ok(SourceFile::from_text(path, &text))
}
