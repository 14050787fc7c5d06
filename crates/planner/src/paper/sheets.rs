//! Sheets of paper: the fewest, each shape whole on one.
//!
//! The sheets lie one above the other in a strip, with a bar between each two that no shape may cross. So one search moves shapes within sheets and
//! from one to another, and the shorter the strip, the fewer sheets are used.

use ellwand_geometry::{Outline, point};

use super::fault::{all_fit, is_gap, is_room};
use super::plan::filled;
use super::search::{ANY_TURN, Packer, Strip};
use super::shelf::{self, Begin, Room};
use super::{OnPaper, PaperFault, PaperPlan, PaperShape, THREADS};

/// Candidate positions for each shape.
const WORK: u64 = 60_000;
/// Height of a bar, mm.
const BAR: f64 = 10.0;

/// Puts shapes on sheets so many mm wide and high, each whole on one and no two nearer to each other than `gap` mm, so that as few sheets are used
/// as the search finds.
///
/// # Errors
///
/// [`PaperFault::TooLarge`] for a shape that fits no sheet however it is turned; [`PaperFault::NoRoom`] and [`PaperFault::Gap`] for
/// measures that are none.
pub fn on_sheets(shapes: &[PaperShape], sheet: [f64; 2], gap: f64) -> Result<PaperPlan, PaperFault> {
    laid(shapes, sheet, gap, THREADS)
}

fn laid(shapes: &[PaperShape], sheet: [f64; 2], gap: f64, threads: usize) -> Result<PaperPlan, PaperFault> {
    is_room("width", sheet[0])?;
    is_room("height", sheet[1])?;
    is_gap(gap)?;
    all_fit(shapes, sheet)?;
    let [width, length] = sheet;
    let shelves = shelf::all(shapes, Room { width, length, gap }, Begin::Anywhere).into_iter();
    let shelves = shelves.min_by_key(|placed| sheets_of(placed)).unwrap_or_default();
    let (known, least) = (sheets_of(&shelves), filled(shapes, sheet));
    let found = if known > least { searched(shapes, sheet, gap, [least, known], threads) } else { None };
    let placed = found.filter(|found| sheets_of(found) < known).unwrap_or(shelves);
    Ok(PaperPlan { sheets: sheets_of(&placed), length, width, placed })
}

/// How many sheets something lies on.
fn sheets_of(placed: &[OnPaper]) -> usize {
    placed.iter().map(|lies| lies.sheet + 1).max().unwrap_or(0)
}

/// A packing that may take any number of sheets, and all that it takes are sound; `least` and `known` say how few there can be and how many will do.
fn searched(
    shapes: &[PaperShape],
    sheet: [f64; 2],
    gap: f64,
    [least, known]: [usize; 2],
    threads: usize,
) -> Option<Vec<OnPaper>> {
    let [width, length] = sheet;
    let pitch = length + gap + BAR;
    // A shape keeps half the gap away from a bar, and may come up to the border of its sheet.
    let below = |k: usize| point(0.0, k as f64 * pitch - gap / 2.0 - BAR);
    let bar = Outline::rectangle(width, BAR).ok()?;
    let strip = Strip {
        width,
        turns: ANY_TURN,
        // The search may begin with more sheets than will do.
        blocked: (1..=2 * known).map(|k| bar.translated(below(k))).collect(),
        enough: (least - 1) as f64 * pitch + length,
        work: WORK,
    };
    let on_sheet = |lies: OnPaper| {
        let sheet = (lies.outline(shapes).bounds().center().y / pitch).floor() as usize;
        OnPaper { sheet, at: lies.at - point(0.0, sheet as f64 * pitch), ..lies }
    };
    let in_strip = Packer::new(shapes, gap, threads).packed(&strip)?.placed;
    Some(in_strip.into_iter().map(on_sheet).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::sample;

    fn named(name: &str, corners: &[(f64, f64)]) -> PaperShape {
        PaperShape { name: name.into(), outline: Outline::from_pairs(corners).unwrap() }
    }

    #[test]
    fn threads_change_nothing() {
        let shapes = sample::skirt();
        let [one, two] = [1, 2].map(|threads| laid(&shapes, [574.0, 821.0], 3.0, threads).unwrap());
        assert_eq!(format!("{one:?}"), format!("{two:?}"));
    }

    #[test]
    fn two_triangles_share_a_sheet_that_each_box_would_fill() {
        let triangle = |name: &str| named(name, &[(0.0, 0.0), (180.0, 0.0), (0.0, 260.0)]);
        let shapes = ["A", "B", "C", "D"].map(triangle);
        let plan = on_sheets(&shapes, [190.0, 277.0], 3.0).unwrap();
        assert_eq!((plan.sheets, plan.width, plan.length), (2, 190.0, 277.0));
    }

    #[test]
    fn what_fills_its_sheet_lies_on_it_and_a_hair_more_is_too_large() {
        let page = |height: f64| named("Page", &[(0.0, 0.0), (277.0, 0.0), (277.0, height), (0.0, height)]);
        let plan = on_sheets(&[page(190.0), page(190.0)], [190.0, 277.0], 3.0).unwrap();
        assert_eq!(plan.placed.iter().map(|lies| lies.sheet).collect::<Vec<_>>(), [0, 1]);
        let fault = PaperFault::TooLarge { name: "Page".into(), width: 277.0, height: 190.1 };
        assert_eq!(on_sheets(&[page(190.1)], [190.0, 277.0], 3.0), Err(fault));
    }

    #[test]
    fn nothing_takes_no_sheet() {
        assert_eq!(on_sheets(&[], [841.0, 1189.0], 3.0).unwrap().sheets, 0);
        let fault = PaperFault::NoRoom { measure: "width", value: 0.0 };
        assert_eq!(on_sheets(&[], [0.0, 1189.0], 3.0), Err(fault));
    }
}
