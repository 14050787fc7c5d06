//! Packs shapes into a strip as short as possible, and proves how short a packing could be at most.
//!
//! A *strip* has a left and a right side and is open upwards: `y` begins at 0, and the length used is to be least. This crate knows shapes and a
//! strip and nothing of what they are cut from; every rule of a trade comes in as one of a few words:
//!
//! - **Shape**: an outline about an origin of its own. Many items may be of one shape.
//! - **Item**: one thing to place, of a shape, in one of its allowed poses.
//! - **Pose**: mirrored or not, and turned. A pose may allow a *tilt*: any further turn up to so many degrees, either way.
//! - **Position**: where the origin may stand, across and along apart: anywhere, at one place, or on a lattice ([`Axis`]).
//! - **Phase**: what lattices may share. Where a phase stands is the search's choice; all items that follow it move together.
//! - **Twin**: an item may be two shapes, the one placed and its mirror image across an upright line, as cut through folded cloth. Across which
//!   line is a property of the pose: where cloth is folded along several, an item has poses for each, and the search chooses.
//! - **Span**: a pose may have to keep within a part of the strip's width, as where layers that lie one on the other are searched side by side.
//! - **Obstacle** and **gap**: regions to keep clear of, which may overlap each other, and a least distance.
//!
//! Two rectangles, one of them with a twin, and a triangle that may be tilted a little:
//!
//! ```
//! use ellwand_geometry::{Outline, Pose};
//! use ellwand_nest::{AllowedPose, Budget, Item, Problem, Settings, Silent, solve};
//!
//! let mut problem = Problem::in_strip(0.0, 300.0);
//! let panel = problem.shape(Outline::rectangle(140.0, 100.0).unwrap());
//! let gusset = problem.shape(Outline::from_pairs(&[(0.0, 0.0), (280.0, 4.0), (140.0, 60.0)]).unwrap());
//! let paired = |pose| AllowedPose::anywhere(pose).mirrored_across(150.0);
//! problem.items.push(Item { shape: panel, poses: [Pose::AS_DRAWN, Pose::turned(180.0)].map(paired).to_vec() });
//! problem.items.push(Item { shape: gusset, poses: vec![AllowedPose::anywhere(Pose::AS_DRAWN).tilting(1.0)] });
//! assert_eq!(problem.faults(), []);
//!
//! let settings = Settings { seed: 1, budget: Budget::Work(20_000), ..Settings::default() };
//! let found = solve(&problem, &settings, &Silent).unwrap();
//! assert!(found.bound.length <= found.best.length && found.best.length <= 160.0);
//! for outline in problem.placed(&found.best) {
//!     println!("{:?}", outline.bounds());
//! }
//! ```
//!
//! [`solve`] starts from a packing that is complete at once, largest items first, and goes on as long as its [`Budget`] lasts: an effort, a count of
//! work, or a time. An [`Observer`] hears of every gain and may stop it. Unless the budget is a time, the same problem, seed and budget give the same
//! bytes, on one thread or several. The [`Bound`] in the [`Outcome`] holds for every packing whatsoever; where the two meet, nothing shorter
//! exists. What a problem may not be, [`Problem::faults`] names, all of it at once; a sound one is refused only when an item has no place
//! ([`NestError`]).
//!
//! Lengths are mm by convention, and in any unit in fact; a strip should be wider than a hundred of them or hold nothing finer than a
//! ten-thousandth of its width. Angles are degrees, counter-clockwise.
//!
//! The features `clock` and `threads` are on by default. Without them the crate needs neither, and builds for `wasm32-unknown-unknown`: a caller may
//! hand in a [`Clock`] of its own.

mod board;
mod body;
mod bound;
mod budget;
mod clearance;
mod clock;
mod error;
mod extent;
mod fault;
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

pub use bound::nowhere::without_room;
pub use bound::{Bound, BoundReason};
pub use clock::Clock;
pub use error::NestError;
pub use extent::least_width;
pub use fault::ProblemFault;
pub use fits::{fits_across, place_slack};
pub use problem::{AllowedPose, Axis, Item, Packing, Place, Problem, Sense};
pub use regions::Regions;
pub use settings::{Budget, Effort, Ended, Event, Gain, Observer, Outcome, Proof, Settings, Silent};
pub use solve::{find_refusal, lower_bound, solve, solve_sharing};
#[cfg(feature = "clock")]
#[doc(hidden)]
pub use sweep::{PressedStrip, Sweep};
