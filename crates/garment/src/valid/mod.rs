//! Whether a pattern and a job make sense, before anything is planned from them.
//!
//! Patterns and jobs are plain data, so code can put anything into them: a grainline that leans, a pair of three, cloth that
//! is all selvage. Each rule about them stands here once, whether they were built ([`Piece::named`](crate::Piece::named),
//! [`Job::of`](crate::Job::of)), read from files or written as literals. Whether the pieces find a place on the cloth is not asked here; that is the planner's to tell.

mod cloth;
mod concerns;
mod design;
mod fault;
mod job;
mod matching;
mod part;
mod pattern;
mod piece;
mod quantity;
mod seam;
mod spending;

pub use fault::{InputFault, InputFaults};
pub(crate) use job::job_faults;
pub use part::{GrainEnd, Part, PieceMark};
pub(crate) use pattern::{empty_view_fault, faults_beside_pieces, named_alike, pattern_faults};
pub(crate) use piece::{cut_faults, faults_beside_grainline, name_fault, piece_faults};
pub use quantity::Quantity;
pub use spending::SpendingFault;

use crate::{Job, Pattern, Piece};

/// Everything that is wrong with `pattern` and `job`, whoever made them: the pattern's own faults first, piece by piece, then those
/// of the job and its cloths. Empty when both are sound.
///
/// Cost is `O(n log n)` in the corners of a piece for one cut on the fold, else `O(n)` for each of its marks.
///
/// ```
/// use ellwand_garment::{Cloth, CutRule, Fabric, InputFault, Job, Length, Pattern, Piece, Units, validate};
///
/// let pocket = Piece::named("Pocket").corners_mm(&[(0.0, 0.0), (180.0, 0.0), (160.0, 200.0), (0.0, 190.0)]);
/// let pocket = pocket.grainline_mm(80.0, 30.0, 160.0).cut(CutRule::pair("main"));
/// let mut pattern = Pattern::named("Pockets").piece(pocket).build()?;
/// let fabric = Fabric::of("main", Cloth::named("drill", Length::inches(45.0)));
/// let mut job = Job::of(&pattern, "Two pockets", Units::Inches).fabric(fabric).build()?;
/// assert!(validate(&pattern, &job).is_empty());
///
/// pattern.pieces[0].cuts[0].count = 3;
/// job.fabrics[0].role = "lining".into();
/// let faults = validate(&pattern, &job);
/// assert!(matches!(faults[0], InputFault::OddPair { count: 3, .. }));
/// assert!(matches!(faults[1], InputFault::RoleWithoutFabric { .. }));
/// # Ok::<(), ellwand_garment::InputFaults>(())
/// ```
pub fn validate(pattern: &Pattern, job: &Job) -> Vec<InputFault> {
    let mut faults = pattern_faults(pattern);
    faults.extend(job_faults(pattern, job));
    faults
}

/// Everything that is wrong with `pattern` by itself, as [`validate`] tells it beside a job.
pub fn validate_pattern(pattern: &Pattern) -> Vec<InputFault> {
    pattern_faults(pattern)
}

/// Everything that is wrong with one piece of a pattern by itself.
pub fn validate_piece(piece: &Piece) -> Vec<InputFault> {
    piece_faults(piece)
}

#[cfg(test)]
mod tests;
