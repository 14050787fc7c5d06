//! Pieces too wide for the cloth in every legal pose, or without a place where their design asks for it, found before any search, each with
//! what would make it fit.

use ellwand_garment::{GrainRule, Nap, Question, Way};
use ellwand_geometry::{Placement, Pose};
use ellwand_nest::{AllowedPose, Axis, fits_across, least_width, place_slack};

use super::{
    copies::Copies,
    design::Matched,
    slot::Slot,
    spread::{Place, Room},
};
use crate::{CutThrough, Misfit, PlanError, Remedy};

/// Checks that every slot fits across the cloth in one of its poses.
///
/// # Errors
///
/// [`PlanError::TooNarrow`] with every piece that does not.
pub(super) fn check(question: &Question, slots: &[Slot]) -> Result<(), PlanError> {
    let mut misfits: Vec<Misfit> = Vec::new();
    for slot in slots {
        if misfits.iter().any(|m| m.piece == slot.order.piece.name) {
            continue;
        }
        misfits.extend(misfit(question, slot));
    }
    if misfits.is_empty() { Ok(()) } else { Err(PlanError::TooNarrow(misfits)) }
}

/// Checks that every slot has some place across the cloth, with its design where the matches ask for it.
///
/// # Errors
///
/// [`PlanError::NoPlaceOnDesign`] for the first that has none although it is not too wide.
pub(super) fn check_on_design(question: &Question, matched: &Matched, slots: &[Slot]) -> Result<(), PlanError> {
    let cloth = &question.fabric.cloth;
    let (left, right) = question.usable();
    let slack = place_slack(right - left);
    for slot in slots {
        let piece = slot.order.piece;
        // Where something is matched, cloth is folded along one line at most, and no half lies under another.
        let (left, right) = match slot.places[0] {
            Place::OnFold(_) => continue,
            // Of a pair cut through both layers either half serves: they show the design alike. A fold right of the middle leaves the
            // left half wider than the right one, which the pair needs as well.
            Place::Across(fold) => (left.max(2.0 * fold - right), fold - cloth.piece_gap / 2.0),
            Place::Anywhere | Place::NearHalf | Place::FarHalf | Place::BothHalves => (left, right),
        };
        let fits = |&pose: &Pose| {
            let outline = Placement::new(pose, 0.0, 0.0).apply(&piece.outline).bounds();
            let (least, most) = (left - outline.min.x - slack, right - outline.max.x + slack);
            // What is too wide anyway is told elsewhere, with what it needs.
            match matched.placed(&piece.name, AllowedPose::anywhere(pose)).x {
                _ if least > most => true,
                Axis::Lattice { origin, step } => origin + ((least - origin) / step).ceil() * step <= most,
                Axis::Fixed(x) => (least..=most).contains(&x),
                Axis::Free | Axis::Shared { .. } => true,
            }
        };
        if !slot.poses.iter().any(fits) {
            let (piece, role) = (piece.name.clone(), question.fabric.role.clone());
            return Err(PlanError::NoPlaceOnDesign { piece, role });
        }
    }
    Ok(())
}

fn misfit(question: &Question, slot: &Slot) -> Option<Misfit> {
    let outline = &slot.order.piece.outline;
    let cloth = &question.fabric.cloth;
    let (left, right) = question.usable();
    let usable = right - left;
    let room = Room::of(question);
    let offers = slot.places.iter().map(|place| place.offers(&room)).fold(0.0, f64::max);
    let cut_through = match slot.copies {
        Copies::Single(_) | Copies::OnFold(_) => CutThrough::OneLayer,
        Copies::ThroughBoth(..) => CutThrough::BothLayers,
    };
    let in_pose = |&pose: &Pose| least_width(outline, &AllowedPose::anywhere(pose).tilting(slot.off_grain_deg));
    let needs = slot.poses.iter().map(in_pose).fold(f64::INFINITY, f64::min);
    if fits_across(needs, offers) {
        return None;
    }
    let mut remedies = Vec::new();
    let beside_creases = Place::Anywhere.offers(&room);
    if question.way == Way::CentreFold && fits_across(needs, beside_creases) {
        remedies.push(Remedy::OpenLayer);
    }
    let is_divided = !fits_across(usable, beside_creases);
    if is_divided {
        remedies.push(Remedy::NewCloth);
    }
    let turned = in_pose(&Pose::turned(90.0));
    if cloth.nap == Nap::Without
        && slot.order.grain() == GrainRule::Straight
        && !matches!(slot.copies, Copies::OnFold(_))
        && fits_across(turned, offers)
    {
        remedies.push(Remedy::AllowCrossGrain);
    }
    // What is kept free at the edges since the whole layout may have to be moved to the design.
    let free = cloth.usable_width() - usable;
    if free > 0.0 && question.way == Way::Open && fits_across(needs, usable + free) {
        remedies.push(Remedy::MeasureDesign);
    }
    // The fold keeps its distance from the middle, at worst, whatever the width.
    let layers = if cut_through == CutThrough::BothLayers { 2.0 } else { 1.0 };
    let lost = match slot.copies {
        Copies::Single(_) => 0.0,
        // Wider cloth need not have its creases there.
        _ if is_divided => 0.0,
        Copies::OnFold(_) => usable - offers,
        Copies::ThroughBoth(..) => usable - 2.0 * offers - cloth.piece_gap,
    };
    let gap = if cut_through == CutThrough::BothLayers { cloth.piece_gap } else { 0.0 };
    let washed = needs * layers + gap + lost + cloth.width - usable;
    Some(Misfit {
        piece: slot.order.piece.name.clone(),
        role: question.fabric.role.clone(),
        way: question.way,
        cut_through,
        needs,
        offers,
        width_that_would_do: washed / (1.0 - question.fabric.shrinkage.across),
        remedies,
    })
}
