//! How much one run may be asked to read and cut, so that a slip of the pen ends in a message and not in a full memory.

/// Limits on input. The defaults are far above any garment; a caller may raise them.
///
/// ```
/// use ellwand_files::Limits;
///
/// let many_flags = Limits { cuts_per_cloth: 5_000, ..Limits::default() };
/// assert!(many_flags.cuts_per_cloth > Limits::default().cuts_per_cloth);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Size of one file, bytes; checked before the file is read. 4 MiB unless raised.
    pub file_bytes: u64,
    /// Shapes cut from one cloth of one view. 1000 unless raised.
    pub cuts_per_cloth: u64,
    /// Edges in the outline of one piece. 2000 unless raised.
    pub edges_per_piece: usize,
    /// Faults reported in one run; the rest are counted. 200 unless raised.
    pub faults: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self { file_bytes: 4 * 1024 * 1024, cuts_per_cloth: 1000, edges_per_piece: 2000, faults: 200 }
    }
}
