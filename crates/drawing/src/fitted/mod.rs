//! The fit sheets: the pieces that a fit changed, each over what it was, with signed figures where it changed and by how much.
//!
//! A piece that is cut as before is named in a line and not drawn.

mod callout;
mod cell;
mod change;

use ellwand_garment::{Landmarks, Pattern, Rounding, Units, View, format_length, on_the_tape, size_words};
use ellwand_geometry::point;

use crate::lettering::{Weight, wrap};
use crate::marks::Sheet;
use crate::paper::{ARMS_LENGTH, SHORT_SIDE};
use crate::pieces::{cell::write_column, set, view_words};
use cell::FitCell;
use change::{Change, Verdict, judge};

/// Composes the sheets of `pattern`, which was `before`; at least one.
pub(crate) fn fit_sheets(
    pattern: &Pattern,
    before: &Pattern,
    landmarks: &[Landmarks],
    view: &View,
    units: Units,
) -> Vec<Sheet> {
    let mut changes: Vec<Change<'_>> = Vec::new();
    let [mut same, mut slight] = [Vec::new(), Vec::new()];
    for (i, name) in view.pieces.iter().enumerate() {
        let (Some(piece), Some(was)) = (pattern.piece(name), before.piece(name)) else { continue };
        let marks = landmarks.iter().find(|marks| marks.piece == *name);
        match judge(i + 1, piece, was, marks, units) {
            Verdict::Same => same.push(format!("{} {name}", i + 1)),
            Verdict::Slight => slight.push(format!("{} {name}", i + 1)),
            Verdict::Changed(change) => changes.push(change),
        }
    }
    let was = size_words(if before.size.is_empty() { "one size" } else { &before.size });
    let now = size_words(if pattern.size.is_empty() { "one size" } else { &pattern.size });
    let what = if now == was { format!("changes to {was}") } else { format!("changes from {was} to {now}") };
    let title = format!("Fit: {}, view {}", pattern.name, view.name);
    let mut foot = Vec::new();
    if !slight.is_empty() {
        // What a tape does not show.
        let least = if units == Units::Inches { 25.4 / 8.0 } else { 1.0 };
        debug_assert!(on_the_tape(least, units, Rounding::Nearest) > 0.0);
        foot.push(format!("Changed by less than {}: {}.", format_length(least, units), slight.join(", ")));
    }
    let words = set::Words { title, name: pattern.name.clone(), about: format!("{}, {what}", view_words(view)), foot };
    if changes.is_empty() {
        let text = if slight.is_empty() {
            format!("Nothing changed: every piece is cut as in {was}.")
        } else {
            words.foot.join(" ")
        };
        return vec![without_pieces(&words, &text)];
    }
    let mut words = words;
    if !same.is_empty() {
        words.foot.insert(0, format!("Unchanged: {}.", same.join(", ")));
    }
    let on_fold = changes.iter().any(|change| change.piece.fold);
    let halves = if on_fold { ", of a piece with a centre line on each half" } else { "" };
    words.foot.push(format!(
        "Full line: to cut. Broken grey line: {was}. At an edge: by how much its seam is longer (+) or shorter (-){halves}. At a level: by \
         how much the whole piece is wider within its seams."
    ));
    set::sheets(&words, |scale| changes.iter().map(|change| FitCell::new(change, scale, units)).collect())
}

/// A sheet that only says so.
fn without_pieces(words: &set::Words, text: &str) -> Sheet {
    let head = words.head(SHORT_SIDE, (1, 1));
    let lines = wrap(text, ARMS_LENGTH, Weight::Regular, SHORT_SIDE);
    let mut sheet = Sheet {
        width: SHORT_SIDE,
        height: head.height + lines.iter().map(crate::lettering::Line::height).sum::<f64>() + 1.0,
        scale: 1.0,
        title: words.title.clone(),
        marks: Vec::new(),
        labels: Vec::new(),
    };
    write_column(&lines, point(0.0, head.height), &mut sheet.marks);
    sheet.marks.extend(head.into_marks(point(0.0, 0.0)));
    sheet
}
