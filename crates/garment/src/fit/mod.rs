//! From the sizes of a pattern to one body: which size, how much ease, made to measure, lengthened and let out.
//!
//! Everything happens on drafts, the seam lines before allowances. Sizes are blended point by point; a garment made to measure takes at
//! each level the size that leaves the pattern's own ease over that body, and passes smoothly from one to the next in between.

mod alter;
mod aside;
mod blend;
mod choose;
mod dart;
mod draft;
mod ease;
mod eased;
mod fault;
mod figure;
mod landmarks;
mod levels;
mod measure;
mod mend;
mod request;
mod suit;
#[cfg(test)]
mod tests;
mod walk;

pub use choose::{Advice, Candidate, ChooseBy, Size, SizeChart, advise};
pub use dart::{DartPlace, DartShape, DraftDart};
pub use draft::{AsDrawn, Draft, DraftEdge, GradedPiece};
pub use ease::{GarmentKind, usual_ease};
pub use fault::FitFault;
pub use landmarks::{Landmarks, Lengthened, LevelDepth, landmarks};
pub use request::{
    Alteration, Body, DeclaredLength, FitReport, FitRequest, Fitted, Girth, GirthPart, LevelRow, SizeWish,
};
pub use suit::{Sized, correspondence, fit};
pub use walk::{WalkedSeam, walk};
