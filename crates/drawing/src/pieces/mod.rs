//! The sheets of pieces: every piece of a view at one scale, with its size and how often it is cut from what.
//!
//! Pieces stand in rows by their numbers, which are those of the layouts, on as many sheets as keep them legible. Within the cutting line
//! runs the seam line, with darts and grainline; under each piece stands its caption, with allowances and how its darts are pressed, beside
//! it its width and height.

pub(crate) mod cell;
pub(crate) mod interior;
pub(crate) mod pages;
pub(crate) mod set;
mod words;

use ellwand_garment::{Pattern, Units, View, size_words};

use crate::marks::Sheet;
use cell::PieceCell;
use set::Words;

/// Composes the sheets.
pub(crate) fn pieces_sheets(pattern: &Pattern, view: &View, units: Units) -> Vec<Sheet> {
    let mut about = view_words(view);
    if !pattern.size.is_empty() {
        about = format!("{about}, {}", size_words(&pattern.size));
    }
    let words = Words {
        title: format!("Pieces: {}, view {}", pattern.name, view.name),
        name: pattern.name.clone(),
        about,
        foot: vec!["Broken lines within: the seam line.".to_owned()],
    };
    let numbered = view.pieces.iter().enumerate().filter_map(|(i, name)| Some((i + 1, pattern.piece(name)?)));
    set::sheets(&words, |scale| {
        numbered.clone().map(|(number, piece)| PieceCell::new(number, piece, scale, units)).collect()
    })
}

/// "view A: Shirt-dress in one cloth".
pub(crate) fn view_words(view: &View) -> String {
    if view.title.is_empty() { format!("view {}", view.name) } else { format!("view {}: {}", view.name, view.title) }
}
