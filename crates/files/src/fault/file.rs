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
    #[error("the file has {bytes} bytes or more, but the limit is {limit}")]
    TooLarge {
        /// Its size, or how much of it was looked at.
        bytes: u64,
        /// The limit.
        limit: u64,
    },
    /// A file of another kind.
    #[error("this is {kind}, not a pattern or a job")]
    OtherKind {
        /// "a PDF", "a picture", "a zip archive" …
        kind: &'static str,
    },
    /// Bytes that are no text.
    #[error("the file is not UTF-8 text: byte {byte} starts something else")]
    NotUtf8 {
        /// Offset of the first bad byte, from 0.
        byte: usize,
    },
}

/// How files of other kinds begin.
const OTHER_KINDS: [(&[u8], &str); 12] = [
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"PK\x03\x04", "a zip archive, or a document of an office program"),
    (b"\x1f\x8b", "a compressed file"),
    (b"\xd0\xcf\x11\xe0", "a document of an office program"),
    (b"%!PS", "a PostScript drawing"),
    (b"<svg", "an SVG drawing"),
    (b"<?xml", "an XML file, such as a drawing"),
    (b"<!DOCTYPE", "a web page"),
    (b"{\\rtf", "a document of an office program"),
];

impl FileFault {
    /// What a file is that begins like one of another kind.
    pub(crate) fn other_kind(bytes: &[u8]) -> Option<Self> {
        let start = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes).trim_ascii_start();
        let known = OTHER_KINDS.iter().find(|(sign, _)| start.starts_with(sign));
        known.map(|&(_, kind)| Self::OtherKind { kind })
    }

    /// What a file is that holds a byte of zero, which no text does.
    pub(crate) fn not_text(bytes: &[u8]) -> Option<Self> {
        bytes.contains(&0).then_some(Self::OtherKind { kind: "a file from another program" })
    }

    pub(super) fn help(&self) -> String {
        match self {
            Self::OtherKind { kind: "a PDF" | "an SVG drawing" } => {
                "a drawing is understood with `ellwand read FILE --out DIR`, which writes a pattern file to complete"
                    .into()
            }
            Self::OtherKind { .. } => {
                "a pattern is a text file that begins with format = \"ellwand-pattern-1\", and a job begins with \
                 format = \"ellwand-job-1\""
                    .into()
            }
            Self::Missing => {
                "check the name and the folder; a pattern's path is relative to the folder of the job".into()
            }
            Self::Directory => "name the file inside it, such as `tote.job.toml`".into(),
            Self::Unreadable { .. } => "check that you may read it".into(),
            Self::TooLarge { .. } => {
                "patterns and jobs take a few kilobytes; check that this is the file you meant".into()
            }
            Self::NotUtf8 { .. } => "save it as UTF-8 from a text editor".into(),
        }
    }
}
