//! What counts as fitting and as the same place: the tolerances of a problem, in one place.
//!
//! Lengths are made of inches and eighths, of shrinkage and turned outlines, and no two ways of adding them up agree to the last bit. Three
//! questions are asked of numbers that ought to be equal, and each has its tolerance:
//!
//! - *rounding*: did arithmetic alone tell them apart? So positions are compared that the search itself has computed.
//! - *place*: does it fit, is it the same place? So what the caller states is compared: widths, fixed positions, known packings.
//! - *conceded*: would a judge of the packing let it pass? A lower bound gives that much away wherever less of it would turn its argument:
//!   at the sides of the strip, at fixed positions and at lattices. So no packing that passes is shorter than its bound. Where lengths only
//!   add up nothing is given away but rounding, since there a hair of overlap is worth a hair of length.

use ellwand_geometry::Point;

use crate::Problem;

/// Rounding of positions that the search computes, as a share of the strip's width.
const ROUNDING: f64 = 1e-9;
/// What is too wide by no more than this share of the strip's width fits, and what stands no farther apart is at the same place.
const PLACE: f64 = 1e-7;
/// What a judge of packings may let pass, mm: a hundredth of a chalk line, and more than [`PLACE`] on any roll of cloth.
const CONCEDED: f64 = 1e-3;
/// In a strip of other units than mm no more than this share of its width.
const CONCEDED_SHARE: f64 = 1e-4;
/// Lengths this near, as a share, are equal.
const LENGTH: f64 = 1e-9;
/// Turns no farther apart are the same, degrees: over two metres of cloth a thousandth of what [`PLACE`] is.
const TURN: f64 = 1e-10;
/// Rounding of a position in a long strip, as a share of it: far less than what counts as touching.
const SLOT: f64 = 2e-12;

/// The tolerances of one problem, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Slack {
    /// Positions the search computes are the same when no farther apart.
    pub(crate) rounding: f64,
    /// What sticks out by no more fits; what is stated is the same place when no farther off.
    pub(crate) place: f64,
    /// What a bound concedes to each shape at a border and to each two shapes side by side.
    pub(crate) conceded: f64,
}

impl Slack {
    pub(crate) fn of(problem: &Problem) -> Self {
        let width = problem.right - problem.left;
        let conceded = CONCEDED.min(CONCEDED_SHARE * width).max(PLACE * width);
        Self { rounding: ROUNDING * width, place: place_slack(width), conceded }
    }

    /// Whether two points are the same place.
    pub(crate) fn same_place(&self, a: Point, b: Point) -> bool {
        (a.x - b.x).abs() <= self.place && (a.y - b.y).abs() <= self.place
    }

    /// Whether two points that the search computed are the same.
    pub(crate) fn same_point(&self, a: Point, b: Point) -> bool {
        (a.x - b.x).abs() <= self.rounding && (a.y - b.y).abs() <= self.rounding
    }
}

/// Whether a shape `needs` mm wide fits where there are `offers` mm: the rounding of turning a shape as wide as the strip itself is
/// forgiven, as the search forgives it.
///
/// ```
/// use ellwand_nest::fits_across;
///
/// assert!(fits_across(1143.0 + 1e-9, 1143.0));
/// assert!(!fits_across(1143.1, 1143.0));
/// ```
pub fn fits_across(needs: f64, offers: f64) -> bool {
    needs <= offers + place_slack(offers)
}

/// By how much a shape may stick out of a strip `width` mm wide and still count as fitting, mm: a ten-millionth of the width, far below
/// a thread.
pub fn place_slack(width: f64) -> f64 {
    PLACE * width.abs()
}

/// Whether two turns, in degrees, are the same.
pub(crate) fn same_turn(a: f64, b: f64) -> bool {
    (a - b).abs() <= TURN
}

/// Whether a packing of `length` is as short as `bound`.
pub(crate) fn reached(length: f64, bound: f64) -> bool {
    length <= bound * (1.0 + LENGTH)
}

/// Whether `length` is longer than `known`, rounding aside.
pub(crate) fn is_longer(length: f64, known: f64) -> bool {
    !reached(length, known)
}

/// How far below `y` a slot of exactly the right length may seem to end, in a strip so wide.
pub(crate) fn slot_rounding(width: f64, y: f64) -> f64 {
    SLOT * (width + y.abs())
}
