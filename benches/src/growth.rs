//! How the cost of the search grows with the number of pieces.

use ellwand_nest::{NestError, PressedStrip, Problem, Sweep};
use serde::{Deserialize, Serialize};

use crate::memory;

/// What one size took: a line of a growth file.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Growth {
    /// Pieces in the strip.
    pub pieces: usize,
    /// Wall time of the starting packing, s.
    pub start_seconds: f64,
    /// Wall time of one sweep, all no-fit regions known, s.
    pub sweep_seconds: f64,
    /// Candidate positions that sweep evaluated.
    pub candidates: u64,
    /// Pieces it moved.
    pub moved: usize,
    /// Highest memory of the process, MB, where the system tells.
    pub peak_mb: Option<f64>,
}

/// Measures the middle one of `sweeps` sweeps over `problem`, each of another seed. The memory is right only in a process that has measured nothing else.
///
/// # Errors
///
/// As [`solve`](ellwand_nest::solve).
pub fn measure(problem: &Problem, sweeps: u64) -> Result<Growth, NestError> {
    let pressed = PressedStrip::new(problem)?;
    // Each is swept once before, so that its regions are there.
    let warm = |seed| [pressed.sweep(seed), pressed.sweep(seed)][1];
    let mut swept: Vec<Sweep> = (0..sweeps.max(1)).map(warm).collect();
    swept.sort_by_key(|sweep| sweep.time);
    let middle = swept[swept.len() / 2];
    Ok(Growth {
        pieces: problem.items.len(),
        start_seconds: pressed.started().as_secs_f64(),
        sweep_seconds: middle.time.as_secs_f64(),
        candidates: middle.candidates,
        moved: middle.moved,
        peak_mb: memory::peak_mb(),
    })
}

/// The `e` for which the time of a sweep grew as the pieces to the power of `e`.
pub fn exponent(from: &Growth, to: &Growth) -> f64 {
    (to.sweep_seconds / from.sweep_seconds).ln() / (to.pieces as f64 / from.pieces as f64).ln()
}
