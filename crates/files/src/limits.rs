//! How much one run may be asked to read and cut, so that a slip of the pen, or a file meant to do harm, ends in a message and not in
//! a full memory or an endless wait.
//!
//! This is the one place for limits: each field of [`Limits`] says what it counts and how much is let through. Numbers have limits
//! of their own that no caller raises: a length is at most 1 km and a coordinate at most 100 m from the axes of its drawing, a
//! repeat and the step of a shop are at least 1 mm, and an amount of money is below a million.

/// Largest distance of a drawn point from the axes of its drawing, mm: 100 m, more than any cutting table.
pub(crate) const FARTHEST: f64 = 1e5;

/// Least area of a piece, mm²: a thousandth of a button.
pub(crate) const LEAST_AREA: f64 = 0.1;

/// How far off the outline a notch or the leg of a dart may lie and still be on it, mm.
pub(crate) const REACH: f64 = 2.0;

/// Limits on input. The defaults are far above any garment; a caller may raise them, one by one or [all at once](Self::times).
///
/// ```
/// use ellwand_files::Limits;
///
/// let many_flags = Limits { cuts_per_cloth: 5_000, ..Limits::default() };
/// assert!(many_flags.cuts_per_cloth > Limits::default().cuts_per_cloth);
/// assert_eq!(Limits::default().times(3).pieces, 1_500);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Size of one file, bytes; checked before the file is read. 4 MiB unless raised.
    pub file_bytes: u64,
    /// How deep lists and tables may lie in each other. The files need 8; 32 unless raised.
    pub nesting: usize,
    /// Characters of one name. 200 unless raised.
    pub name_characters: usize,
    /// Entries of any list or table that has no limit of its own below. 1000 unless raised.
    pub entries: usize,
    /// Pieces of one pattern. 500 unless raised.
    pub pieces: usize,
    /// Sizes of one pattern. 100 unless raised.
    pub sizes: usize,
    /// Views of one pattern. 100 unless raised.
    pub views: usize,
    /// Edges in the outline of one piece. 2000 unless raised.
    pub edges_per_piece: usize,
    /// Points of one outline, once its curves are drawn as short lines. 100 000 unless raised.
    pub points_per_outline: usize,
    /// Points of all outlines of a pattern together, in all sizes. 500 000 unless raised.
    pub points_per_pattern: usize,
    /// Garments of one job. 100 unless raised.
    pub garments: usize,
    /// Fabrics of one job. 50 unless raised.
    pub fabrics: usize,
    /// Flaws of one cloth. 200 unless raised.
    pub flaws: usize,
    /// Remnants of one cloth, or of a stash. 200 unless raised.
    pub remnants: usize,
    /// Shapes cut from one cloth of one view. 1000 unless raised.
    pub cuts_per_cloth: u64,
    /// What one drawing may hold.
    pub drawing: ellwand_vector::Limits,
    /// Faults and notes reported of one file; the rest of the faults are counted. 200 unless raised.
    pub faults: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            file_bytes: 4 * 1024 * 1024,
            nesting: 32,
            name_characters: 200,
            entries: 1000,
            pieces: 500,
            sizes: 100,
            views: 100,
            edges_per_piece: 2000,
            points_per_outline: 100_000,
            points_per_pattern: 500_000,
            garments: 100,
            fabrics: 50,
            flaws: 200,
            remnants: 200,
            cuts_per_cloth: 1000,
            drawing: ellwand_vector::Limits::default(),
            faults: 200,
        }
    }
}

impl Limits {
    /// Each of them `factor` times as high, except for how deep lists and tables may nest and for how many faults are told.
    #[must_use]
    pub fn times(self, factor: u32) -> Self {
        let by = factor.max(1);
        let times = |limit: usize| limit.saturating_mul(by as usize);
        Self {
            file_bytes: self.file_bytes.saturating_mul(by.into()),
            nesting: self.nesting,
            name_characters: times(self.name_characters),
            entries: times(self.entries),
            pieces: times(self.pieces),
            sizes: times(self.sizes),
            views: times(self.views),
            edges_per_piece: times(self.edges_per_piece),
            points_per_outline: times(self.points_per_outline),
            points_per_pattern: times(self.points_per_pattern),
            garments: times(self.garments),
            fabrics: times(self.fabrics),
            flaws: times(self.flaws),
            remnants: times(self.remnants),
            cuts_per_cloth: self.cuts_per_cloth.saturating_mul(by.into()),
            drawing: self.drawing.times(by),
            faults: self.faults,
        }
    }

    /// How many of something are let through.
    pub(crate) fn of(&self, counted: Counted) -> usize {
        match counted {
            Counted::Nesting => self.nesting,
            Counted::NameCharacters => self.name_characters,
            Counted::Entries => self.entries,
            Counted::Pieces => self.pieces,
            Counted::Sizes => self.sizes,
            Counted::Views => self.views,
            Counted::Edges => self.edges_per_piece,
            Counted::OutlinePoints => self.points_per_outline,
            Counted::PatternPoints => self.points_per_pattern,
            Counted::Garments => self.garments,
            Counted::Fabrics => self.fabrics,
            Counted::Flaws => self.flaws,
            Counted::Remnants => self.remnants,
        }
    }
}

/// What is counted against one of the [`Limits`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Counted {
    /// Lists and tables within each other.
    Nesting,
    /// Characters of a name.
    NameCharacters,
    /// Entries of a list or table.
    Entries,
    /// Pieces of a pattern.
    Pieces,
    /// Sizes of a pattern, or drawings of a piece.
    Sizes,
    /// Views of a pattern.
    Views,
    /// Edges of a piece.
    Edges,
    /// Points of an outline whose curves are drawn as short lines.
    OutlinePoints,
    /// Points of all outlines of a pattern, in all sizes.
    PatternPoints,
    /// Garments of a job.
    Garments,
    /// Fabrics of a job.
    Fabrics,
    /// Flaws of a cloth.
    Flaws,
    /// Remnants of a cloth, or of a stash.
    Remnants,
}
