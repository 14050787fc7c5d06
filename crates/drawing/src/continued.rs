//! A picture too long for one sheet, parted over two that overlap: every piece is whole on one of them, and what reaches over from the other is
//! shown in broken lines.

use ellwand_garment::{Units, format_length_up};
use ellwand_geometry::Bounds;

use crate::clip;
use crate::figure::{Figure, Sequel};
use crate::folded::{Layer, Part, Shown};

/// A part that is nearly as long as the whole is no gain.
const WORTHWHILE: f64 = 0.8;

/// The two parts of a picture that stand on the sheets `first` and `first + 1`; nothing where a piece is so long that parting gains little.
///
/// Pieces go to the part in which their middle lies; each part reaches as far as its pieces do.
pub(crate) fn parted(figure: &Figure, first: usize) -> Option<[Figure; 2]> {
    let middle = (figure.from + figure.length) / 2.0;
    let bounds = |shown: &Shown| Bounds::of(shown.outline.iter().copied());
    let is_first = |shown: &Shown| bounds(shown).center().y <= middle;
    let now = || figure.shown.iter().filter(|shown| shown.part == Part::CutNow);
    let end = now().filter(|shown| is_first(shown)).map(|shown| bounds(shown).max.y).fold(middle, f64::max);
    let start = now().filter(|shown| !is_first(shown)).map(|shown| bounds(shown).min.y).fold(middle, f64::min);
    // From a mark of the ruler on, and a little beyond the last piece.
    let step = match figure.units {
        Units::Inches => 228.6,
        Units::Centimetres => 100.0,
    };
    let start = (start / step).floor() * step;
    let end = (end + 20.0).min(figure.length);
    let whole = figure.length - figure.from;
    if (end - figure.from).max(figure.length - start) > WORTHWHILE * whole || start <= figure.from {
        return None;
    }
    let (from, to) = (format_length_up(start, figure.units), format_length_up(end, figure.units));
    let other = first + 1;
    let mut one = window(figure, [figure.from, end], is_first, other);
    one.sequel = Sequel::GoesOn;
    one.far_end = vec![format!("goes on: sheet {other}, drawn from {from} on"), format!("goes on: sheet {other}")];
    let mut two = window(figure, [start, figure.length], |shown| !is_first(shown), first);
    two.sequel = Sequel::GoesBack;
    two.near_end =
        vec![format!("drawn from {from} on; sheet {first} goes to {to}"), format!("from {from} on"), from.clone()];
    Some([one, two])
}

/// What of a picture lies between two heights. Pieces that are not its own are cut on the `other` sheet.
fn window(figure: &Figure, [from, to]: [f64; 2], is_own: impl Fn(&Shown) -> bool, other: usize) -> Figure {
    let shown = figure.shown.iter().filter_map(|shown| {
        if shown.part == Part::CutNow && is_own(shown) {
            return Some(shown.clone());
        }
        let outline = clip::below(&clip::above(&shown.outline, from), to);
        let is_seen = outline.len() >= 3 && Bounds::of(outline.iter().copied()).height() > 1.0;
        let mut shown = Shown { outline, ..shown.clone() };
        if shown.part == Part::CutNow {
            shown.wording.notes = vec![format!("on sheet {other}")];
            shown = Shown {
                part: Part::OnOtherSheet,
                layer: Layer::One,
                grainline: None,
                fold_edge: None,
                notches: Vec::new(),
                matches: Vec::new(),
                measured: None,
                centre_line: None,
                strips: Vec::new(),
                ..shown
            };
        }
        is_seen.then_some(shown)
    });
    let off_cut = figure.off_cut.as_ref().map(|off_cut| off_cut.between(from, to));
    let left = figure.left.iter().filter_map(|left| left.between(from, to)).collect();
    Figure { from, length: to, shown: shown.collect(), off_cut, left, ..figure.clone() }
}
