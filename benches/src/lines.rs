//! Files of measurements: one JSON object a line, added to from run to run.

use std::fs::OpenOptions;
use std::io::Write;
use std::path::{Path, PathBuf};

use serde::Serialize;
use serde::de::DeserializeOwned;

/// Why a file of measurements could not be read or added to.
#[derive(Debug, thiserror::Error)]
pub enum LinesError {
    /// The file could not be opened, read or written.
    #[error("{path}: {source}")]
    Io {
        /// Which.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// A line is not what it should be.
    #[error("{path}, line {line}: {source}")]
    Form {
        /// Which file.
        path: PathBuf,
        /// Which line, from 1.
        line: usize,
        /// Why.
        source: serde_json::Error,
    },
}

/// Adds one line to a file, which is made if it is not there.
///
/// # Errors
///
/// [`LinesError::Io`] when the file cannot be written.
pub fn append(path: &Path, value: &impl Serialize) -> Result<(), LinesError> {
    let io = |source| LinesError::Io { path: path.to_path_buf(), source };
    let mut text = serde_json::to_string(value).map_err(|fault| io(fault.into()))?;
    text.push('\n');
    let mut file = OpenOptions::new().create(true).append(true).open(path).map_err(io)?;
    file.write_all(text.as_bytes()).map_err(io)
}

/// Every line of several files, in order.
///
/// # Errors
///
/// [`LinesError`] for the first file or line that cannot be read.
pub fn read<T: DeserializeOwned>(paths: &[PathBuf]) -> Result<Vec<T>, LinesError> {
    let mut values = Vec::new();
    for path in paths {
        let text = std::fs::read_to_string(path).map_err(|source| LinesError::Io { path: path.clone(), source })?;
        for (line, text) in (1..).zip(text.lines()).filter(|(_, text)| !text.trim().is_empty()) {
            let form = |source| LinesError::Form { path: path.clone(), line, source };
            values.push(serde_json::from_str(text).map_err(form)?);
        }
    }
    Ok(values)
}
