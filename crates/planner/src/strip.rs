//! Between cloth and strip: slots become a packing problem, and a packing becomes the shapes to cut.
//!
//! The search is given the cutting lines themselves and may move simpler shapes that contain them; what is cut is always the
//! exact outline, so a layout can only be looser than its packing and never tighter.

use ellwand_garment::{Cut, Layout, Notch, Piece};
use ellwand_geometry::{Outline, Placement, Point, Pose, point};
use ellwand_nest::{AllowedPose, Axis, Item, Packing, Place, Problem};

use crate::{
    Lay,
    slot::{Copies, Slot},
};

/// How far apart the two shapes of a pair may lie from being mirror images, mm: rounding noise only.
const TWIN_TOLERANCE: f64 = 1e-6;

/// The strip problem that `slots` ask of the cloth of `lay`: one item a slot, in order; shapes that are the same are shared.
pub(crate) fn problem(lay: &Lay, slots: &[Slot]) -> Problem {
    let cloth = &lay.fabric.cloth;
    let (left, right) = cloth.usable();
    let mut exact: Vec<&Outline> = Vec::new();
    let mut items = Vec::with_capacity(slots.len());
    for slot in slots {
        let outline = &slot.order.piece.outline;
        let shape = exact.iter().position(|known| *known == outline).unwrap_or_else(|| {
            exact.push(outline);
            exact.len() - 1
        });
        let (x, twin) = match slot.copies {
            Copies::Single(_) => (Axis::Free, None),
            Copies::OnFold(_) => (Axis::Fixed(cloth.centre_fold()), None),
            Copies::ThroughBoth(..) => (Axis::Free, Some(cloth.centre_fold())),
        };
        let poses = slot.poses.iter().map(|&pose| AllowedPose { pose, x, y: Axis::Free }).collect();
        items.push(Item { shape, poses, twin });
    }
    let shapes = exact.into_iter().cloned().collect();
    Problem { left, right, shapes, items, obstacles: cloth.flaws.clone(), gap: cloth.piece_gap }
}

/// The shapes that `packing` cuts, in the order of the slots.
pub(crate) fn cuts(lay: &Lay, slots: &[Slot], packing: &Packing) -> Vec<Cut> {
    let fold = lay.fabric.cloth.centre_fold();
    let mut cuts = Vec::new();
    for (slot, place) in slots.iter().zip(&packing.places) {
        let placement = Placement::new(slot.poses[place.pose], place.x, place.y);
        match slot.copies {
            Copies::Single(copy) | Copies::OnFold(copy) => cuts.push(cut(slot, copy, placement)),
            Copies::ThroughBoth(first, second) => {
                let upper = cut(slot, first, placement);
                let lower = mirrored_cut(&upper, second, fold);
                cuts.extend([upper, lower]);
            }
        }
    }
    cuts
}

/// The packing that `layout` amounts to, when each of its cuts stands in a pose that its slot may take.
pub(crate) fn packing_of(slots: &[Slot], layout: &Layout) -> Option<Packing> {
    let places = slots.iter().map(|slot| {
        let copy = match slot.copies {
            Copies::Single(copy) | Copies::OnFold(copy) | Copies::ThroughBoth(copy, _) => copy,
        };
        let find = |copy| layout.cuts.iter().find(|cut| cut.piece == slot.order.piece.name && cut.copy == copy);
        let cut = find(copy)?;
        if let Copies::ThroughBoth(_, second) = slot.copies
            && !are_twins(cut, find(second)?, layout.cloth.centre_fold())
        {
            return None;
        }
        let pose = slot.poses.iter().position(|pose| same_pose(pose, cut))?;
        let at = cut.grainline[0] - slot.poses[pose].apply_to_point(slot.order.piece.grainline[0]);
        Some(Place { pose, x: at.x, y: at.y })
    });
    Some(Packing { length: layout.length, places: places.collect::<Option<_>>()? })
}

/// Length of cloth that `cuts` take, mm.
pub(crate) fn length_of(cuts: &[Cut]) -> f64 {
    cuts.iter().map(|cut| cut.outline.bounds().max.y).fold(0.0, f64::max)
}

fn same_pose(pose: &Pose, cut: &Cut) -> bool {
    pose.mirrored == cut.mirrored && pose.turn_deg.rem_euclid(360.0) == cut.turned_deg
}

/// Whether `b` is `a` mirrored across the fold.
fn are_twins(a: &Cut, b: &Cut, fold: f64) -> bool {
    let meets =
        |p: Point, q: Point| (p.x + q.x - 2.0 * fold).abs() < TWIN_TOLERANCE && (p.y - q.y).abs() < TWIN_TOLERANCE;
    a.mirrored != b.mirrored && meets(a.grainline[0], b.grainline[0]) && meets(a.grainline[1], b.grainline[1])
}

fn cut(slot: &Slot, copy: u32, placement: Placement) -> Cut {
    let piece: &Piece = slot.order.piece;
    let to_cloth = |p: Point| placement.apply_to_point(p);
    Cut {
        piece: piece.name.clone(),
        number: slot.order.number,
        copy,
        mirrored: placement.pose.mirrored,
        turned_deg: placement.pose.turn_deg.rem_euclid(360.0),
        on_fold: matches!(slot.copies, Copies::OnFold(_)),
        outline: placement.apply(&piece.outline),
        grainline: piece.grainline.map(to_cloth),
        notches: (piece.notches.iter())
            .map(|notch| Notch {
                name: notch.name.clone(),
                at: to_cloth(notch.at),
                inward: placement.pose.apply_to_point(notch.inward),
            })
            .collect(),
        points: piece.points.iter().map(|(name, &p)| (name.clone(), to_cloth(p))).collect(),
    }
}

/// The shape that the same stroke of the shears cuts from the other layer.
fn mirrored_cut(upper: &Cut, copy: u32, fold: f64) -> Cut {
    let across = |p: Point| point(2.0 * fold - p.x, p.y);
    Cut {
        copy,
        mirrored: !upper.mirrored,
        turned_deg: (-upper.turned_deg).rem_euclid(360.0),
        outline: upper.outline.map_rigid(across),
        grainline: upper.grainline.map(across),
        notches: (upper.notches.iter())
            .map(|notch| Notch {
                at: across(notch.at),
                inward: point(-notch.inward.x, notch.inward.y),
                ..notch.clone()
            })
            .collect(),
        points: upper.points.iter().map(|(name, &p)| (name.clone(), across(p))).collect(),
        ..upper.clone()
    }
}
