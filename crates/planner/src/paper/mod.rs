//! Pieces packed on paper: on a roll, on sheets, and on one large table that is cut into the pages of a home printer.
//!
//! A [`PaperShape`] is an outline that holds all that is printed of a piece. It may be turned by quarter turns, since what is written on it turns
//! along, and is never mirrored. [`on_roll`] makes the length least, [`on_sheets`] the number of sheets, [`on_tiles`] the number of pages that
//! carry something ([`pages_touched`]). Each begins from boxes in rows and hands the outlines to the search of `ellwand_nest`, whose
//! answer is taken only where it is better: nothing here needs more paper than the best of those rows do. What is handed in decides the answer,
//! not the machine: work is counted, never time.
//!
//! Lengths are mm, `x` runs across the paper, `y` along it and up, and margins are left to the caller.
//!
//! ```
//! use ellwand_geometry::Outline;
//! use ellwand_planner::{PaperShape, on_tiles, pages_touched};
//!
//! // Two triangles of 180 by 260 mm: each fills the half of a page of 190 by 277 mm, and they lie on one together.
//! let outline = Outline::from_pairs(&[(0.0, 0.0), (180.0, 0.0), (0.0, 260.0)]).unwrap();
//! let shapes = ["Left", "Right"].map(|name| PaperShape { name: name.into(), outline: outline.clone() });
//! let plan = on_tiles(&shapes, [190.0, 277.0], 3.0, 5)?;
//! assert_eq!((plan.sheets, pages_touched(&shapes, &plan, [190.0, 277.0])), (1, vec![[0, 0]]));
//! # Ok::<(), ellwand_planner::PaperFault>(())
//! ```

mod fault;
mod kept_clear;
mod pages;
mod plan;
mod roll;
#[cfg(test)]
mod sample;
mod search;
mod sheets;
mod shelf;
mod tiles;

pub use fault::PaperFault;
pub use pages::pages_touched;
pub use plan::{OnPaper, PaperPlan, PaperShape};
pub use roll::on_roll;
pub use sheets::on_sheets;
pub use tiles::on_tiles;

/// Threads of a search; the answer does not depend on them.
const THREADS: usize = 2;
