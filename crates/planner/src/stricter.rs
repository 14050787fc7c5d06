//! A layout made for a stricter question, told again as the answer to a looser one.
//!
//! A layout with nap serves cloth without; one with a copy more serves the garment without it; one cut on the fold can be cut from an
//! open layer. Nothing here decides which of these holds: the layout is told again as a packing of the looser question, each cut in a slot
//! that may take it, and the garment's checker says whether that answers.

use ellwand_garment::{Arrangement, Layout, LowerBound, Lying, SearchNote, Way, check};
use ellwand_geometry::{Bounds, Point, Pose, point};
use ellwand_nest::{Packing, Place as Stands};

use crate::{
    assemble::assemble,
    prepare::{Prepared, place::Place, slot::Slot},
};

/// How far the two shapes of a pair may lie from being mirror images, or a piece on the fold from the fold, mm: rounding noise only.
const TWIN_TOLERANCE: f64 = 1e-6;

/// `known` as a packing of `prepared`, or `None` when it does not answer that.
///
/// Cuts that are not asked for are left out and the others moved across so that either the left selvages or the middles of the two cloths
/// meet. The shorter of the two that the checker passes is kept.
pub(crate) fn retold(known: &Layout, prepared: &Prepared) -> Option<Packing> {
    laid_again(&Arrangement::of(known), prepared, Kept::Grainline)
}

/// What stays where it was when a piece is laid again that may have another shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kept {
    /// The low end of its grainline: of the same shape everything.
    Grainline,
    /// The middle of the box around it.
    Middle,
}

/// As [`retold`], of pieces that may have another shape, such as those of another size.
pub(crate) fn laid_again(known: &Arrangement, prepared: &Prepared, kept: Kept) -> Option<Packing> {
    let cloth = &prepared.question.fabric.cloth;
    let mut shifts = vec![cloth.centre_fold() - known.fold];
    let to_the_left = cloth.selvage - known.selvage;
    if prepared.question.way == Way::Open && to_the_left != shifts[0] {
        shifts.push(to_the_left);
    }
    let packings = shifts.into_iter().filter_map(|across| packing(known, across, prepared, kept));
    let answers = |packing: &Packing| {
        // The bound of this question is not known yet, and the old one holds for another; 0 holds for all.
        let bound = LowerBound { length: 0.0, reason: "no cloth is shorter than nothing".into() };
        let layout = assemble(prepared, packing, bound, unsearched());
        check::check(&layout, prepared.question).is_empty()
    };
    packings.filter(answers).min_by(|a, b| a.length.total_cmp(&b.length))
}

/// The places of the cuts of `known`, moved across, each in a slot that may take it; `None` when some slot is left empty.
fn packing(known: &Arrangement, across: f64, prepared: &Prepared, kept: Kept) -> Option<Packing> {
    let mut free: Vec<&Lying> = known.lying.iter().collect();
    let mut length = 0.0_f64;
    let mut places = Vec::with_capacity(prepared.slots.len());
    for slot in &prepared.slots {
        let (at, place) = free.iter().enumerate().find_map(|(at, cut)| {
            let stands = stands(cut, slot, across, kept)?;
            let fits = |of: &Place| match *of {
                Place::Anywhere => true,
                Place::OnFold(fold) => (stands.x - fold).abs() <= TWIN_TOLERANCE,
                Place::Across(fold) => twin_of(cut, &free, fold - across).is_some(),
                // Where the halves of a cloth lie goes by a length that is another one now.
                Place::NearHalf | Place::FarHalf | Place::BothHalves => false,
            };
            let of = slot.places.iter().position(fits)?;
            Some((at, Stands { pose: slot.known_as(stands.pose, of), ..stands }))
        })?;
        let cut = free.remove(at);
        length = length.max(cut.bounds.max.y);
        if let Place::Across(fold) = slot.place(place.pose) {
            let twin = twin_of(cut, &free, fold - across)?;
            free.remove(twin);
        }
        places.push(place);
    }
    Some(Packing { length, places })
}

/// Where `cut` stands as a copy of `slot`, when it is of that piece and lies in a pose that the slot may take.
fn stands(cut: &Lying, slot: &Slot, across: f64, kept: Kept) -> Option<Stands> {
    let piece = slot.order.piece;
    if cut.piece != piece.name {
        return None;
    }
    let (pose, turn) = slot.pose_of(Pose { mirrored: cut.mirrored, turn_deg: cut.turned_deg })?;
    let lies = slot.turned(pose, turn);
    let stays = match kept {
        Kept::Grainline => cut.grainline[0] - lies.apply_to_point(piece.grainline[0]),
        Kept::Middle => cut.bounds.center() - box_around(slot, &lies).center(),
    };
    let at: Point = stays + point(across, 0.0);
    Some(Stands { pose, turn, x: at.x, y: at.y })
}

/// The box around the piece of a slot as it lies there, its origin at 0.
pub(crate) fn box_around(slot: &Slot, lies: &Pose) -> Bounds {
    Bounds::of(slot.order.piece.outline.points().iter().map(|&corner| lies.apply_to_point(corner)))
}

/// The note of a layout that is only judged.
fn unsearched() -> SearchNote {
    SearchNote { seed: 0, effort: String::new(), seconds: 0.0, start_length: 0.0, trace: Vec::new() }
}

/// The index of the cut that is the mirror image of `cut` across the line `x = fold`, among `cuts`.
fn twin_of(cut: &Lying, cuts: &[&Lying], fold: f64) -> Option<usize> {
    let meets =
        |p: Point, q: Point| (p.x + q.x - 2.0 * fold).abs() < TWIN_TOLERANCE && (p.y - q.y).abs() < TWIN_TOLERANCE;
    cuts.iter().position(|other| {
        other.piece == cut.piece
            && cut.mirrored != other.mirrored
            && meets(cut.grainline[0], other.grainline[0])
            && meets(cut.grainline[1], other.grainline[1])
    })
}

#[cfg(test)]
mod tests;
