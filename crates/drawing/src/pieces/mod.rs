//! The sheets of pieces: every piece of a view at one scale, with its size and how often it is cut from what.
//!
//! Pieces stand in rows by their numbers, which are those of the layouts, on as many sheets as keep them legible. Within the cutting line
//! runs the seam line, with darts and grainline; under each piece stands its caption, with allowances and how its darts are pressed, beside
//! it its width and height.

mod beside;
pub(crate) mod cell;
pub(crate) mod interior;
pub(crate) mod pages;
mod placements;
pub(crate) mod roll_lines;
pub(crate) mod set;
mod taken_up;
mod words;

use ellwand_garment::{Pattern, Piece, TOGETHER, Units, View, size_words, what_is_made};
use ellwand_geometry::Point;

use crate::marks::Sheet;
use cell::PieceCell;
use set::Words;
use taken_up::Taken;

/// Composes the sheets.
pub(crate) fn pieces_sheets(pattern: &Pattern, view: &View, units: Units) -> Vec<Sheet> {
    let size = if pattern.size.is_empty() { String::new() } else { size_words(&pattern.size) };
    let about: Vec<String> = [view_words(view), size].into_iter().filter(|said| !said.is_empty()).collect();
    let numbered = view.pieces.iter().enumerate().filter_map(|(i, name)| Some((i + 1, pattern.piece(name)?)));
    let shown: Vec<Shown<'_>> = numbered
        .map(|(number, piece)| Shown {
            number,
            piece,
            taken_up: taken_up::of_piece(pattern, view, piece),
            placements: placements::placements(pattern, view, piece),
            roll_lines: roll_lines::roll_lines(pattern, view, piece),
        })
        .collect();
    let words = Words {
        title: format!("Pieces: {}", what_is_made(&pattern.name, &view.name, "")),
        name: pattern.name.clone(),
        about: about.join(", "),
        foot: vec![legend(&shown)],
    };
    set::sheets(&words, |scale| shown.iter().map(|shown| PieceCell::new(shown, scale, units)).collect())
}

/// A piece to show.
struct Shown<'a> {
    number: usize,
    piece: &'a Piece,
    taken_up: Vec<Taken>,
    /// Where something is placed or begins on it, by name.
    placements: Vec<(String, Point)>,
    /// The lines about which it turns outward.
    roll_lines: Vec<[Point; 2]>,
}

/// How to read the lines and marks that are there.
fn legend(shown: &[Shown<'_>]) -> String {
    let mut parts = vec!["Within a piece, broken line: the seam line"];
    for mark in shown.iter().flat_map(|shown| &shown.taken_up).filter_map(Taken::legend) {
        if !parts.contains(&mark) {
            parts.push(mark);
        }
    }
    format!("{}.", parts.join("; "))
}

/// "view A: Shirt-dress in one cloth"; nothing for several garments together.
pub(crate) fn view_words(view: &View) -> String {
    if view.name == TOGETHER {
        return String::new();
    }
    if view.title.is_empty() { format!("view {}", view.name) } else { format!("view {}: {}", view.name, view.title) }
}
