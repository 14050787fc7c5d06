//! Nothing lies face down that need not: of a piece that may be cut either way, a copy that the search laid mirrored is laid as drawn where there
//! is room for it in the very same place.
//!
//! The search does not care on which face a piece lies, and a maker does: turning the paper over is work, and a chance to err. A copy is tried both
//! ways up in each corner of the room it has. The length must stay what it was, and the checker must find nothing.

use ellwand_garment::{Cut, Hands, Layout, check};
use ellwand_geometry::{Placement, Pose, area_outside, point};

use super::shapes::{cut, is_matched, within_a_turn};
use crate::prepare::{Prepared, copies::Copies, slot::Slot};

/// A cut that sets the length may not change it by more, mm: rounding.
const SAME_LENGTH: f64 = 1e-9;

/// A turned copy may have no more in common with its neighbours, mm²: rounding.
const SAME_OVERLAP: f64 = 1e-6;

/// `layout`, an answer to the question of `prepared`, with as few copies face down as can be had by turning each by itself.
pub(crate) fn face_up(mut layout: Layout, prepared: &Prepared) -> Layout {
    for slot in &prepared.slots {
        let Copies::Single(copy) = slot.copies else { continue };
        if slot.order.rule.hands != Hands::Any || is_matched(prepared.question, &slot.order.piece.name) {
            continue;
        }
        let is_it = |of: &Cut| of.piece == slot.order.piece.name && of.copy == copy;
        let Some(index) = layout.cuts.iter().position(is_it) else { continue };
        if !layout.cuts[index].lies_face_down() {
            continue;
        }
        if let Some(turned) =
            tries(slot, &layout, index).find_map(|place| turned_over(&layout, index, slot, copy, place, prepared))
        {
            layout = turned;
        }
    }
    layout
}

/// The ways to lay the copy as drawn: each of its turns, in each corner of the room it has.
fn tries<'a>(slot: &'a Slot, layout: &Layout, index: usize) -> impl Iterator<Item = Placement> + use<'a> {
    let of = &layout.cuts[index];
    let (room, turn) = (of.outline.bounds(), of.turned_deg);
    let turns = [turn, turn + 180.0, -turn, 180.0 - turn].map(within_a_turn);
    turns.into_iter().flat_map(move |turn_deg| {
        let up = Pose { mirrored: false, turn_deg };
        let raw = Placement::new(up, 0.0, 0.0).apply(&slot.order.piece.outline).bounds();
        let (right, top) = (room.max.x - raw.max.x, room.max.y - raw.max.y);
        let (left, low) = (room.min.x - raw.min.x, room.min.y - raw.min.y);
        let corners = [point(left, low), point(right, low), point(left, top), point(right, top)];
        let may_lie_so = slot.pose_of(up).is_some();
        corners.into_iter().filter(move |_| may_lie_so).map(move |at| Placement::new(up, at.x, at.y))
    })
}

/// The layout with one copy laid so, if it is as short and sound.
fn turned_over(
    layout: &Layout,
    index: usize,
    slot: &Slot,
    copy: u32,
    place: Placement,
    prepared: &Prepared,
) -> Option<Layout> {
    let mut changed = layout.clone();
    changed.cuts[index] = cut(slot, copy, place);
    let length = changed.cuts.iter().map(|cut| cut.outline.bounds().max.y).fold(0.0, f64::max);
    let as_long = (length - layout.length).abs() <= SAME_LENGTH;
    // The checker lets corners touch by a hundredth of a square millimetre; a piece that is nearly its own mirror image may not use that up.
    let no_nearer = || overlap(&changed, index) <= overlap(layout, index) + SAME_OVERLAP;
    (as_long && no_nearer() && check::check(&changed, prepared.question).is_empty()).then_some(changed)
}

/// The area that a cut has in common with all others, mm².
fn overlap(layout: &Layout, index: usize) -> f64 {
    let own = &layout.cuts[index].outline;
    let others = layout
        .cuts
        .iter()
        .enumerate()
        .filter(|(k, other)| *k != index && other.outline.bounds().overlaps(&own.bounds()));
    others.map(|(_, other)| (own.area() - area_outside(own, &other.outline)).max(0.0)).sum()
}
