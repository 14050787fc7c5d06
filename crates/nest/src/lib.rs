//! A strip packing search by overlap removal, with proven lower bounds. Knows shapes and a strip, nothing of sewing.

mod board;
mod body;
mod bound;
mod budget;
mod clearance;
mod clock;
mod extent;
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
#[cfg(feature = "clock")]
mod sweep;
mod tilts;
mod validity;
mod weights;
mod workers;

pub use bound::{Bound, BoundReason};
pub use fits::{fits_across, place_slack};
pub use clock::Clock;
pub use extent::least_width;
pub use problem::{AllowedPose, Axis, Item, Packing, Place, Problem, Sense};
pub use regions::Regions;
pub use settings::{Budget, Effort, Ended, Event, Gain, NestError, Observer, Outcome, Settings, Silent};
pub use solve::{lower_bound, solve, solve_sharing};
#[cfg(feature = "clock")]
#[doc(hidden)]
pub use sweep::{PressedStrip, Sweep};
