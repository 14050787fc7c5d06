//! Finished layouts and pattern pieces as SVG drawings to cut from.
//!
//! [`layout_svg`] draws one cloth on one sheet that prints on US Letter and on A4; [`pieces_svg`] draws the pieces of a
//! view with their sizes, [`fit_svg`] what a fit changed on them; [`seams_sheet`] shows whether the design of a cloth meets at the seams. One user unit of any
//! drawing is one millimetre of cloth; every drawing says its scale on paper. A sheet is composed in paper millimetres
//! as a list of marks (`marks::Sheet`) and only then written out, so tests look at the marks and not at text.
//!
//! Nothing is told by colour alone: a piece that lies face down is hatched and says so, the fold, the selvages and the cut
//! ends have lines of their own. The same layout gives the same bytes.

mod beside;
mod block;
mod boxes;
#[cfg(test)]
mod checks;
mod clearing;
mod clip;
mod compose;
mod continued;
mod design;
mod drawn;
mod figure;
mod figures;
#[cfg(test)]
mod fits;
mod fitted;
mod folded;
mod frame;
mod hatch;
mod key;
mod label;
pub mod leaves;
mod left_over;
mod lettering;
mod marks;
mod match_marks;
mod matched;
mod measures;
mod off_cut;
mod options;
mod paper;
mod pdf;
mod piece_marks;
mod pieces;
#[cfg(test)]
mod plaid_checks;
#[cfg(test)]
mod plaids;
pub mod print;
mod rest;
mod ruler;
#[cfg(test)]
mod samples;
mod seams;
#[cfg(test)]
mod sheet_checks;
mod strokes;
mod table_sheet;
mod title;
mod understood;
mod write;

pub use marks::Sheet;
pub use options::{Colours, Options, Spread};
pub use pdf::{Faces, LONGEST_PAGE, NotAFont, Pages, Pdf, pdf};
pub use seams::seams_sheet;
pub use strokes::{CutToWrite, LayerNames, PieceToWrite, layout_strokes, pieces_strokes};
pub use table_sheet::{TableRow, table_sheet};
pub use understood::understood_svg;

use ellwand_garment::{Landmarks, Layout, Pattern, Units, View};

/// One cloth's layout as an SVG document: title, cloth to scale, rulers, and a key of the pieces.
///
/// A layout on folded cloth is drawn as it is pinned ([`Spread::AsCut`]): the folded cloth with each pair once and each
/// fold piece as a half against the fold, and beside it the opened cloth when pieces are left to cut from one layer.
/// [`Spread::Flat`] shows every cut on the opened cloth instead.
///
/// A design of the cloth shows under the pieces, and of the points that are matched on it each two carry the same letter.
///
/// The document's `width` and `height` are paper millimetres within the printable area of both US Letter and A4, its
/// `viewBox` millimetres of cloth.
pub fn layout_svg(layout: &Layout, options: &Options) -> String {
    write::document(&compose::layout_sheet(layout, options))
}

/// As [`layout_svg`], but with where every piece lies, and on several sheets where one would be smaller than 1 : 15: the folded cloth and then the
/// opened one, and of long cloth two parts that overlap, with every piece whole on one of them. What has no room in its piece is listed below the key of
/// the last, or on one more. They say which of how many they are.
pub fn layout_sheets(layout: &Layout, options: &Options) -> Vec<Sheet> {
    compose::layout_sheets(layout, options)
}

/// The pieces of `view`, each with its size and how often it is cut from what: in rows at one scale, on as many SVG documents as keep every
/// piece legible. Each prints on US Letter and on A4; where there are several, they say which of how many they are.
///
/// Pieces that `view` names and `pattern` lacks are left out; reading a pattern already refuses such a view.
pub fn pieces_svg(pattern: &Pattern, view: &View, units: Units) -> Vec<String> {
    pieces::pieces_sheets(pattern, view, units).iter().map(write::document).collect()
}

/// The pieces of `view` that a fit changed, each over the outline that it had in `before`, the pattern as it was before the fit: at levels
/// and edges stands by how much they changed. Documents as of [`pieces_svg`], at least one.
///
/// `landmarks` say where the levels are and where pieces were lengthened, and how the two lie over each other; without them the high ends of
/// the grainlines are laid together. Pieces that are cut as before are named and not drawn.
pub fn fit_svg(pattern: &Pattern, before: &Pattern, landmarks: &[Landmarks], view: &View, units: Units) -> Vec<String> {
    fitted::fit_sheets(pattern, before, landmarks, view, units).iter().map(write::document).collect()
}
