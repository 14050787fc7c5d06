//! Slots become a packing problem.
//!
//! The search is given the cutting lines themselves and may move simpler shapes that contain them; what is cut is always the
//! exact outline, so a layout can only be looser than its packing and never tighter.

use ellwand_garment::Question;
use ellwand_geometry::{Outline, pockets};
use ellwand_nest::{AllowedPose, Axis, Item, Problem};

use super::{
    design::Matched,
    place::Place,
    slot::Slot,
    spread::{Spread, Table},
};

/// The strip problem that `slots` ask of the cloth of `question`: one item a slot, in order; shapes that are the same are shared.
pub(super) fn problem(question: &Question, spread: &Spread, matched: Option<&Matched>, slots: &[Slot]) -> Problem {
    let cloth = &question.fabric.cloth;
    let (left, right) = spread.strip(question.usable());
    let mut exact: Vec<&Outline> = Vec::new();
    let mut items = Vec::with_capacity(slots.len());
    for slot in slots {
        let outline = &slot.order.piece.outline;
        let shape = exact.iter().position(|known| *known == outline).unwrap_or_else(|| {
            exact.push(outline);
            exact.len() - 1
        });
        let placed = |place: Place, pose| {
            let free = in_place(place, AllowedPose::anywhere(pose).tilting(slot.off_grain_deg), &spread.table);
            matched.map_or(free, |matched| matched.placed(&slot.order.piece.name, free))
        };
        let of_place = |&place: &Place| slot.poses.iter().map(move |&pose| placed(place, pose));
        items.push(Item { shape, poses: slot.places.iter().flat_map(of_place).collect() });
    }
    let shapes = exact.into_iter().cloned().collect();
    let phases = matched.map_or_else(Vec::new, Matched::free_phases);
    Problem { left, right, shapes, items, obstacles: obstacles(question), gap: cloth.piece_gap, phases }
}

/// `free` where it may be in that place.
fn in_place(place: Place, free: AllowedPose, table: &Table) -> AllowedPose {
    match (place, table) {
        (Place::OnFold(at), _) => AllowedPose { x: Axis::Fixed(at), ..free },
        (Place::Across(at), _) => free.mirrored_across(at),
        (Place::NearHalf, Table::Halves(halves)) => free.keeping_within(halves.near().0, halves.near().1),
        (Place::FarHalf, Table::Halves(halves)) => free.keeping_within(halves.far().0, halves.far().1),
        (Place::BothHalves, Table::Halves(halves)) => {
            free.keeping_within(halves.near().0, halves.near().1).mirrored_across(halves.axis)
        }
        _ => free,
    }
}

/// What no piece may lie over: the flaws of the cloth, and within the width what the remnant that it is leaves of the rectangle around it. Beyond
/// its far end the strip goes on, so that what does not fit is told with how much more it would take.
fn obstacles(question: &Question) -> Vec<Outline> {
    let cloth = &question.fabric.cloth;
    let (left, right) = question.usable();
    let outside = cloth.remnant.iter().flat_map(|remnant| pockets(&remnant.outline));
    let in_the_way = |pocket: &Outline| {
        let bounds = pocket.bounds();
        bounds.max.x > left && bounds.min.x < right
    };
    cloth.flaws.iter().cloned().chain(outside.filter(in_the_way)).collect()
}
