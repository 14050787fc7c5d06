//! Pieces too wide for the cloth in every legal pose, or without a place where their design asks for it, found before any search, each with
//! what would make it fit.

use ellwand_garment::{GrainRule, Nap, Question, Way};
use ellwand_geometry::{Placement, Pose};
use ellwand_nest::{AllowedPose, Axis, fits_across, least_width, place_slack};

use super::{
    copies::Copies,
    design::Matched,
    place::{Place, Room},
    slot::Slot,
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
    let offered = |room: &Room| slot.places.iter().map(|place| place.offers(room)).fold(0.0, f64::max);
    let beside_creases = Room::of(question);
    let on_this_cloth = offered(&beside_creases);
    let cut_through = match slot.copies {
        Copies::Single(_) | Copies::OnFold(_) => CutThrough::OneLayer,
        Copies::ThroughBoth(..) => CutThrough::BothLayers,
    };
    let in_pose = |&pose: &Pose| least_width(outline, &AllowedPose::anywhere(pose).tilting(slot.off_grain_deg));
    let needs = slot.poses.iter().map(in_pose).fold(f64::INFINITY, f64::min);
    if fits_across(needs, on_this_cloth) {
        return None;
    }
    let mut remedies = Vec::new();
    if question.way == Way::CentreFold && fits_across(needs, Place::Anywhere.offers(&beside_creases)) {
        remedies.push(Remedy::OpenLayer);
    }
    // What is too wide for the whole cloth is not told of its creases.
    let on_new_cloth = offered(&Room::without_creases(question));
    let offers = if fits_across(needs, on_new_cloth) {
        remedies.push(Remedy::NewCloth);
        on_this_cloth
    } else {
        on_new_cloth
    };
    let turned = in_pose(&Pose::turned(90.0));
    if cloth.nap == Nap::Without
        && slot.order.grain() == GrainRule::Straight
        && !matches!(slot.copies, Copies::OnFold(_))
        && fits_across(turned, on_this_cloth)
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
        Copies::OnFold(_) => usable - on_new_cloth,
        Copies::ThroughBoth(..) => usable - 2.0 * on_new_cloth - cloth.piece_gap,
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
