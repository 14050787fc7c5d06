//! Faults of a file as a whole.

/// Why a file could not be read as text.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum FileFault {
    /// No such file.
    #[error("there is no such file")]
    Missing,
    /// A folder stands where a file was expected.
    #[error("this is a folder, not a file")]
    Directory,
    /// The system refused.
    #[error("the file cannot be read: {reason}")]
    Unreadable {
        /// In the system's words.
        reason: String,
    },
    /// Over [`Limits::file_bytes`](crate::Limits::file_bytes).
    #[error("the file holds {bytes} bytes or more, and the limit is {limit}")]
    TooLarge {
        /// Its size, or how much of it was looked at.
        bytes: u64,
        /// The limit.
        limit: u64,
    },
    /// Bytes that are no text.
    #[error("the file is not UTF-8 text: byte {byte} starts something else")]
    NotUtf8 {
        /// Offset of the first bad byte, from 0.
        byte: usize,
    },
}

impl FileFault {
    pub(super) fn help(&self) -> String {
        match self {
            Self::Missing => "check the name and the folder; a pattern's path counts from the folder of the job".into(),
            Self::Directory => "name the file inside it, such as `tote.job.toml`".into(),
            Self::Unreadable { .. } => "check that it may be read".into(),
            Self::TooLarge { .. } => {
                "patterns and jobs take a few kilobytes; check that this is the file you meant".into()
            }
            Self::NotUtf8 { .. } => "save it as UTF-8 from a text editor".into(),
        }
    }
}
