//! Lower bounds on the length of a strip.

/// A length no packing goes below.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// mm.
    pub length: f64,
    /// Which argument proves it.
    pub reason: BoundReason,
}

/// The argument behind a lower bound.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoundReason {
    /// The shapes' area over the strip's width.
    Area,
    /// One item alone is this long.
    LongestItem {
        /// Its index.
        item: usize,
    },
    /// On the line `x = at`, what the items must cover of it adds up.
    Line {
        /// Where the line runs.
        at: f64,
    },
}
