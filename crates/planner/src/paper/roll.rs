//! A roll of paper: the least length.

use super::fault::{all_fit, is_gap, is_room};
use super::plan::length_of;
use super::search::{ANY_TURN, Packer, Strip};
use super::shelf::{self, Begin, Room};
use super::{PaperFault, PaperPlan, PaperShape, THREADS};

/// Candidate positions for each shape.
const WORK: u64 = 100_000;

/// Puts shapes on a roll `width` mm wide, no two nearer to each other than `gap` mm, so that as little of it is used as the search finds.
///
/// # Errors
///
/// [`PaperFault::TooLarge`] for a shape wider than the roll however it is turned; [`PaperFault::NoRoom`] and [`PaperFault::Gap`] for
/// measures that are none.
pub fn on_roll(shapes: &[PaperShape], width: f64, gap: f64) -> Result<PaperPlan, PaperFault> {
    laid(shapes, width, gap, THREADS)
}

fn laid(shapes: &[PaperShape], width: f64, gap: f64, threads: usize) -> Result<PaperPlan, PaperFault> {
    is_room("width", width)?;
    is_gap(gap)?;
    all_fit(shapes, [width, f64::INFINITY])?;
    let room = Room { width, length: f64::INFINITY, gap };
    let shelves = shelf::all(shapes, room, Begin::Anywhere).into_iter();
    let shelves = shelves.min_by(|a, b| length_of(a, shapes).total_cmp(&length_of(b, shapes))).unwrap_or_default();
    let strip = Strip { width, turns: ANY_TURN, blocked: Vec::new(), enough: 0.0, work: WORK };
    let found = Packer::new(shapes, gap, threads).packed(&strip).map(|found| found.placed);
    let is_shorter = |found: &Vec<_>| length_of(found, shapes) < length_of(&shelves, shapes);
    let placed = found.filter(is_shorter).unwrap_or(shelves);
    Ok(PaperPlan { sheets: usize::from(!placed.is_empty()), length: length_of(&placed, shapes), width, placed })
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::Outline;

    use super::*;
    use crate::paper::sample;

    #[test]
    fn threads_change_nothing() {
        let shapes = sample::skirt();
        let [one, two] = [1, 2].map(|threads| laid(&shapes, 914.0, 3.0, threads).unwrap());
        assert_eq!(format!("{one:?}"), format!("{two:?}"));
    }

    #[test]
    fn a_long_strip_lies_along_the_roll_and_nothing_takes_none_of_it() {
        let outline = Outline::rectangle(1200.0, 100.0).unwrap();
        let belt = PaperShape { name: "Belt".into(), outline };
        let plan = on_roll(std::slice::from_ref(&belt), 914.0, 3.0).unwrap();
        assert_eq!((plan.sheets, plan.length), (1, 1200.0));
        assert_eq!(plan.placed[0].quarter_turns % 2, 1);
        let nothing = on_roll(&[], 914.0, 3.0).unwrap();
        assert_eq!((nothing.sheets, nothing.length), (0, 0.0));
        let fault = PaperFault::TooLarge { name: "Belt".into(), width: 1200.0, height: 100.0 };
        assert_eq!(on_roll(&[belt], 99.0, 3.0), Err(fault));
        let fault = PaperFault::Gap { gap: -1.0 };
        assert_eq!(on_roll(&[], 99.0, -1.0), Err(fault));
    }
}
