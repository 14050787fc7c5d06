//! A strip packing search by overlap removal, with proven lower bounds. Knows shapes and a strip, nothing of sewing.

mod board;
mod body;
mod bound;
mod budget;
mod clearance;
mod fits;
mod flip;
mod hull;
mod lane;
mod model;
mod phase;
mod place;
mod positions;
mod problem;
mod random;
mod regions;
mod separate;
mod settings;
mod slide;
mod solve;
mod stance;
mod start;
mod sweep;
mod validity;
mod weights;

pub use bound::{Bound, BoundReason};
pub use fits::{fits_across, place_slack};
pub use problem::{AllowedPose, Axis, Item, Packing, Place, Problem, Sense};
pub use regions::Regions;
pub use settings::{Budget, Effort, Ended, Event, Gain, NestError, Observer, Outcome, Settings, Silent};
pub use solve::{lower_bound, solve, solve_sharing};
#[doc(hidden)]
pub use sweep::{PressedStrip, Sweep};
