//! What the fuzz targets share: a job and its pattern in one input, and limits that keep each execution short.

mod by_line;

use ellwand_files::{Limits, Source};

pub use by_line::mutate;

/// The line that parts the job from the pattern in an input of both.
pub const SEPARATOR: &str = "\n#### pattern ####\n";

/// Limits small enough for thousands of executions a second, and large enough to reach everything.
pub fn limits() -> Limits {
    Limits { cuts_per_cloth: 24, points_per_outline: 2_000, points_per_pattern: 10_000, ..Limits::default() }
}

/// The job and the pattern in `text`; without a separator, the same text is both.
pub fn sources(text: &str) -> (Source, Source) {
    let (job, pattern) = text.split_once(SEPARATOR).unwrap_or((text, text));
    (Source::new("fuzz.job.toml", job), Source::new("fuzz.pattern.toml", pattern))
}
