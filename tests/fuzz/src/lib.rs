//! What the fuzz targets share: a job and its pattern in one input, and limits that keep each execution short.

mod by_line;

use ellwand_files::{Limits, Source};
use ellwand_trace::{Hints, Scale, understand};
use ellwand_vector::{Drawing, Format, Limits as DrawingLimits, ReadFault};

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

/// Reads a drawing and understands it; limits keep each execution short.
///
/// # Panics
///
/// When a message is empty, or a piece has no area or no finite outline.
pub fn drawn(bytes: &[u8], read: fn(&[u8], &DrawingLimits) -> Result<Drawing, ReadFault>, format: Format) {
    let usual = DrawingLimits::default();
    let limits = DrawingLimits { unpacked_bytes: 1 << 22, objects: 5_000, runs: 5_000, characters: 5_000, sheets: 20, ..usual };
    match read(bytes, &limits) {
        Ok(drawing) => {
            let understood = understand(&drawing, format, &Hints { scale: Scale::BySquare, ..Hints::default() });
            for piece in &understood.pieces {
                for drawn in &piece.drawn {
                    assert!(drawn.flat().iter().all(|p| p.x.is_finite() && p.y.is_finite()));
                    assert!(!drawn.sides.is_empty());
                }
            }
        }
        Err(fault) => assert!(!fault.to_string().is_empty()),
    }
}
