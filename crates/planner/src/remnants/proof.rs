//! Why pieces can be cut from a remnant in no way whatever.
//!
//! Nothing here is found by trying: a piece has no place on it, all of them cover more than it has, or no strip so short takes them. So what is
//! told impossible is.

use ellwand_garment::{CutOrder, LowerBound, Question, Remnant};
use ellwand_geometry::Pose;
use ellwand_nest::{AllowedPose, Regions, fits_across, least_width, lower_bound, without_room};

use crate::{
    PlanError,
    assemble::bound_in_words,
    prepare::{Prepared, slot::Slot},
};

/// Why everything can be cut from a remnant in no way.
#[derive(Debug, Clone, PartialEq)]
pub enum WhyNot {
    /// These pieces, or one hand of a pair of them, have no place on it, each of them alone.
    NoRoom {
        /// Their names, in the order of the view.
        pieces: Vec<String>,
        /// Whether that is all that is to be cut, every copy of it.
        all: bool,
        /// What the first of them needs where that is more than the remnant has in a direction; none where it is the outline that has no room.
        needs: Option<Extent>,
    },
    /// The pieces cover more than there is, mm².
    Area {
        /// What the pieces cover.
        pieces: f64,
        /// What of the remnant can be used.
        cloth: f64,
    },
    /// No layout of a cloth as wide is so short.
    TooShort(LowerBound),
    /// What stands against cloth of this width, whatever its length.
    Question(PlanError),
}

/// What a piece needs, in the allowed turn that needs least, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Extent {
    /// Along the cloth.
    Along(f64),
    /// From side to side.
    Across(f64),
}

/// What a judge may let pass at the far end, mm; more than the checker does.
const CONCEDED: f64 = 2e-3;
/// The same of an area, as a share of it: a thousandth of a millimetre all around the smallest piece is less.
const CONCEDED_OF_AREA: f64 = 1e-4;

/// The proof that what `question` asks cannot be cut from its remnant, where there is one; nothing for cloth from a roll.
pub(super) fn why_not(question: &Question, regions: &Regions) -> Option<WhyNot> {
    let remnant = question.fabric.cloth.remnant.as_ref()?;
    let prepared = match Prepared::wherever_it_fits(question) {
        Ok(prepared) => prepared,
        Err(fault) => return fault.is_of_the_question().then_some(WhyNot::Question(fault)),
    };
    let length = remnant.length();
    let names = |items: &[usize]| {
        let mut names: Vec<String> = Vec::new();
        for &item in items {
            let name = &prepared.slots[item].order.piece.name;
            if !names.contains(name) {
                names.push(name.clone());
            }
        }
        names
    };
    let without = without_room(&prepared.problem, length);
    if !without.is_empty() {
        let needs = without.first().and_then(|&item| too_large(&prepared.slots[item], remnant));
        return Some(WhyNot::NoRoom { pieces: names(&without), all: without.len() == prepared.slots.len(), needs });
    }
    // What is left to the width: pieces that may be tilted.
    match Prepared::of(question) {
        Ok(_) => {}
        Err(fault @ (PlanError::TooNarrow(_) | PlanError::NoPlaceOnDesign { .. })) => {
            return Some(WhyNot::Question(fault));
        }
        Err(_) => return None,
    }
    let pieces: f64 = question.orders().iter().map(CutOrder::area).sum();
    let cloth = remnant.usable_area(question.fabric.cloth.selvage);
    if pieces > cloth * (1.0 + CONCEDED_OF_AREA) {
        return Some(WhyNot::Area { pieces, cloth });
    }
    let bound = lower_bound(&prepared.problem, regions).ok()?;
    (bound.length > length + CONCEDED).then(|| WhyNot::TooShort(bound_in_words(&bound, &prepared)))
}

/// What a piece needs more of than its remnant has, however it may be turned.
fn too_large(slot: &Slot<'_>, remnant: &Remnant) -> Option<Extent> {
    let extent = |further: f64| {
        let of = |pose: &Pose| {
            let pose = Pose { turn_deg: pose.turn_deg + further, ..*pose };
            least_width(&slot.order.piece.outline, &AllowedPose::anywhere(pose).tilting(slot.off_grain_deg))
        };
        slot.poses.iter().map(of).fold(f64::INFINITY, f64::min)
    };
    let (along, across) = (extent(90.0), extent(0.0));
    if !fits_across(along, remnant.length()) {
        Some(Extent::Along(along))
    } else if !fits_across(across, remnant.width()) {
        Some(Extent::Across(across))
    } else {
        None
    }
}
