//! Pieces and layouts at full size: on the pages of a home printer, on large sheets and rolls, and for a projector.
//!
//! A piece is inked in its own frame, mm, and laid on paper by quarter turns; where it lies is decided elsewhere. A table of pieces is cut
//! into pages that overlap; what lies in the window of a page shows on it, so that joined pages show every line once and whole.

mod cover;
mod fold;
mod ground;
mod inked;
mod key;
mod layout;
mod paper;
mod places;
mod projected;
mod sheets;
mod size_names;
mod svg;
mod tiles;
mod words;

pub use ground::{Ground, MOST_SIZES};
pub use inked::{OnTable, PieceToPrint, PrintedPiece};
pub use layout::{CutToPrint, LayoutToPrint};
pub use paper::{PageFormat, Paper, PaperFault};
pub use projected::{Mirrored, Projection, projected_square, projector_page};
pub use sheets::sheet_pages;
pub use svg::page_svgs;
pub use tiles::tile_pages;

/// What the pages say of themselves.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PrintWords {
    /// The garment or job.
    pub title: String,
    /// What of it is printed: view, size.
    pub about: String,
    /// What is said of seam and hem allowances; empty where nothing is.
    pub allowances: String,
    /// What the sizes are called, in the order of the drafts of each piece; empty where there is one.
    pub sizes: Vec<String>,
}

#[cfg(test)]
mod tests;
