//! Where the pieces of a question may begin, from how those of a like question lie: the same garment in another size, or on cloth of another
//! width.

use ellwand_garment::{Arrangement, Lying};
use ellwand_geometry::{Pose, point};
use ellwand_nest::{Packing, Place};

use crate::{
    prepare::{Prepared, copies::Copies, slot::Slot},
    stricter::box_around,
};

/// The places of `known` for the pieces of `prepared`, drawn apart or together as the two cloths differ in width and the pieces in size. Pieces may
/// overlap. `None` when a piece has nothing to stand for it.
pub(crate) fn near_packing(known: &Arrangement, prepared: &Prepared) -> Option<Packing> {
    let (left, right) = prepared.question.usable();
    let across = (right - left) / (known.width - 2.0 * known.selvage);
    let boxes = |slot: &Slot| {
        let size = slot.order.piece.outline.bounds();
        let count = if matches!(slot.copies, Copies::ThroughBoth(..)) { 2.0 } else { 1.0 };
        size.width() * size.height() * count
    };
    let now: f64 = prepared.slots.iter().map(boxes).sum();
    let before: f64 = known.lying.iter().map(|lying| lying.bounds.width() * lying.bounds.height()).sum();
    let along = now / before / across;
    let mut free: Vec<&Lying> = known.lying.iter().collect();
    let mut places = Vec::with_capacity(prepared.slots.len());
    let mut length = 0.0_f64;
    for slot in &prepared.slots {
        let lying = free.remove(stands_for(slot, &free)?);
        if let Copies::ThroughBoth(..) = slot.copies {
            let level = |other: &&Lying| (other.bounds.center().y - lying.bounds.center().y).abs();
            let of_piece = free.iter().enumerate().filter(|(_, other)| other.piece == lying.piece);
            let twin = of_piece.min_by(|a, b| level(a.1).total_cmp(&level(b.1))).map(|(at, _)| at);
            twin.map(|twin| free.remove(twin));
        }
        let (pose, turn) = pose_of(slot, lying).unwrap_or((0, 0.0));
        let (middle, own) = (lying.bounds.center(), box_around(slot, &slot.turned(pose, turn)));
        let to = point(left + (middle.x - known.selvage) * across, middle.y * along) - own.center();
        length = length.max(to.y + own.max.y);
        places.push(Place { pose, turn, x: to.x, y: to.y });
    }
    Some(Packing { length, places })
}

/// Which of `free` stands for a slot: of the same piece, one that lies as the slot may where there is one.
fn stands_for(slot: &Slot, free: &[&Lying]) -> Option<usize> {
    let of_piece = || free.iter().enumerate().filter(|(_, lying)| lying.piece == slot.order.piece.name);
    let alike = of_piece().find(|(_, lying)| pose_of(slot, lying).is_some());
    alike.or_else(|| of_piece().next()).map(|(at, _)| at)
}

fn pose_of(slot: &Slot, lying: &Lying) -> Option<(usize, f64)> {
    slot.pose_of(Pose { mirrored: lying.mirrored, turn_deg: lying.turned_deg })
}
