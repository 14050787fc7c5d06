//! How much one file may hold.

/// Limits on what is read; a caller may raise them. What is past one ends in [`ReadFault::TooMuch`](crate::ReadFault::TooMuch), never in a
/// full memory or an endless wait.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Size of one file, bytes, and of any one stream of a PDF once it is unpacked. 64 MiB unless raised.
    pub bytes: u64,
    /// All streams of a PDF together, unpacked, bytes. 512 MiB unless raised.
    pub unpacked_bytes: u64,
    /// Pages. 500 unless raised.
    pub sheets: usize,
    /// Elements, objects or entities, each as often as it is drawn. 1 000 000 unless raised.
    pub objects: usize,
    /// How deep groups, forms, blocks or elements may lie in each other. 64 unless raised.
    pub nesting: usize,
    /// Straight parts, curves and arcs of all strokes together. 4 000 000 unless raised.
    pub runs: usize,
    /// Characters of all texts together. 1 000 000 unless raised.
    pub characters: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            bytes: 64 << 20,
            unpacked_bytes: 512 << 20,
            sheets: 500,
            objects: 1_000_000,
            nesting: 64,
            runs: 4_000_000,
            characters: 1_000_000,
        }
    }
}

impl Limits {
    /// Each of them `factor` times as high, except for how deep things may nest.
    #[must_use]
    pub fn times(self, factor: u32) -> Self {
        let by = factor.max(1);
        let times = |limit: usize| limit.saturating_mul(by as usize);
        Self {
            bytes: self.bytes.saturating_mul(by.into()),
            unpacked_bytes: self.unpacked_bytes.saturating_mul(by.into()),
            sheets: times(self.sheets),
            objects: times(self.objects),
            nesting: self.nesting,
            runs: times(self.runs),
            characters: times(self.characters),
        }
    }
}

/// What is counted against one of the [`Limits`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// Bytes of the file, or of a stream once unpacked.
    Bytes,
    /// Bytes of all streams together, unpacked.
    UnpackedBytes,
    /// Pages.
    Sheets,
    /// Elements, objects or entities.
    Objects,
    /// Things that lie in each other.
    Nesting,
    /// Parts of strokes.
    Runs,
    /// Characters of texts.
    Characters,
}

impl Counted {
    /// "bytes", "pages".
    pub fn name(self) -> &'static str {
        match self {
            Self::Bytes => "bytes",
            Self::UnpackedBytes => "bytes once unpacked",
            Self::Sheets => "pages",
            Self::Objects => "elements",
            Self::Nesting => "groups within each other",
            Self::Runs => "parts of lines",
            Self::Characters => "letters of text",
        }
    }
}
