//! Why a problem has no answer.

use crate::ProblemFault;

/// Why a problem has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NestError {
    /// The problem is not well formed.
    #[error("the problem is not well formed: {}", listed(faults))]
    Malformed {
        /// Everything that is wrong with it; never empty.
        faults: Vec<ProblemFault>,
    },
    /// An item fits the strip, or the span of it that it must keep within, in none of its poses.
    #[error("item {item} does not fit the strip in any pose; it would need {short_by:.1} mm more width")]
    TooWide {
        /// The item's index.
        item: usize,
        /// How much is missing in the pose that misses least, mm.
        short_by: f64,
    },
    /// An item is narrow enough for the strip and its span of it, but none of the positions it may take lies in it.
    #[error("item {item} has no position across the strip at which it lies within it")]
    NoPosition {
        /// The item's index.
        item: usize,
    },
    /// Items whose `y` is fixed overlap, or what must go between them does, and no arrangement was found.
    #[error("no arrangement without overlap was found; items with fixed positions may be in each other's way")]
    NoPackingFound,
    /// The budget is a time, and there is no clock to measure it by.
    #[error("a budget of time needs a clock")]
    NoClock,
}

fn listed(faults: &[ProblemFault]) -> String {
    faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}
