//! Drafts the demo garments from body measures and writes them as pattern files.
//!
//! Each garment is one module that turns a [`Body`] into a [`Pattern`]; a [`GradedPattern`] holds such a draft for each of its sizes.
//! The drafts are ours; where a number comes from a published source the code names it, and elsewhere it says that it is common
//! practice or a choice of the design.
//!
//! ```
//! use ellwand_demo_drafting::{Body, Garment};
//!
//! let body = Body::from_toml(include_str!("../../bodies/landing-38.toml")).unwrap();
//! let skirt = Garment::Skirt.draft(&body);
//! assert!(skirt.check().is_ok());
//! assert!(skirt.piece("Side front").unwrap().seam_length("side") > 300.0);
//! ```

mod blouse;
mod bodice;
mod body;
mod collar;
mod curve;
mod dart;
mod declared;
mod file;
mod garment;
mod grading;
mod jacket;
mod lapel;
mod oversized_jacket;
mod pattern;
mod piece;
mod seam;
mod shirt_dress;
mod skirt;
mod sleeve;
mod small_parts;
mod two_piece_sleeve;

pub use body::{Body, BodyFault};
pub use declared::{Choice, DeclaredLength, Girth, GirthPart};
pub use garment::Garment;
pub use grading::{Figure, Size};
pub use pattern::{DraftFault, GradedPattern, Pattern};
pub use piece::{CutFrom, Dart, Edge, End, Grain, Hands, Like, Piece};
pub use seam::{Seam, SeamSide};
