//! A strip packing search by overlap removal, with proven lower bounds. Knows shapes and a strip, nothing of sewing.

mod bound;
mod problem;
mod settings;

pub use bound::{Bound, BoundReason};
pub use problem::{AllowedPose, Axis, Item, Packing, Place, Problem};
pub use settings::{Budget, Effort, Ended, Event, NestError, Observer, Outcome, Settings, Silent};

/// Searches for the shortest packing of `problem`.
///
/// # Errors
///
/// [`NestError`] when the problem is not well formed or an item fits nowhere.
pub fn solve(problem: &Problem, settings: &Settings, observer: &dyn Observer) -> Result<Outcome, NestError> {
    let _ = (problem, settings, observer);
    Err(NestError::BadStrip { what: "the search is being built" })
}
