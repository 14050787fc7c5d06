//! Between cloth and strip: slots become a packing problem, and a packing becomes the shapes to cut.
//!
//! The search is given the cutting lines themselves and may move simpler shapes that contain them; what is cut is always the
//! exact outline, so a layout can only be looser than its packing and never tighter.

use ellwand_garment::{Cut, Layout, Notch, Piece};
use ellwand_geometry::{Outline, Placement, Point, Pose, point};
use ellwand_nest::{AllowedPose, Axis, Item, Packing, Place, Problem};

use crate::{
    Lay, PlanError,
    matching::Matched,
    slot::{Copies, Slot, slots},
};

/// How far apart the two shapes of a pair may lie from being mirror images, mm: rounding noise only.
const TWIN_TOLERANCE: f64 = 1e-6;

/// How far a corner may move when a symmetric piece is turned printed side up, mm: rounding noise only.
const SAME_SHAPE_TOLERANCE: f64 = 1e-9;

/// The packing problem that a search for `lay` is given, for measuring the search by itself.
///
/// # Errors
///
/// The faults of the question, as [`plan_lay`](crate::plan_lay).
pub fn strip_problem(lay: &Lay) -> Result<Problem, PlanError> {
    problem(lay, &slots(lay)?)
}

/// The strip problem that `slots` ask of the cloth of `lay`: one item a slot, in order; shapes that are the same are shared.
///
/// # Errors
///
/// [`PlanError::Unmatchable`].
pub(crate) fn problem(lay: &Lay, slots: &[Slot]) -> Result<Problem, PlanError> {
    let cloth = &lay.fabric.cloth;
    let (left, right) = cloth.usable();
    let matched = Matched::of(lay)?;
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
        let placed = |pose| {
            let free = AllowedPose { pose, x, y: Axis::Free };
            matched.as_ref().map_or(free, |matched| matched.placed(&slot.order.piece.name, free))
        };
        let poses = slot.poses.iter().map(|&pose| placed(pose)).collect();
        items.push(Item { shape, poses, twin });
    }
    let shapes = exact.into_iter().cloned().collect();
    let phases = matched.map_or_else(Vec::new, |matched| matched.free_phases());
    Ok(Problem { left, right, shapes, items, obstacles: cloth.flaws.clone(), gap: cloth.piece_gap, phases })
}

/// The shapes that `packing` cuts, in the order of the slots.
pub(crate) fn cuts(lay: &Lay, slots: &[Slot], packing: &Packing) -> Vec<Cut> {
    let fold = lay.fabric.cloth.centre_fold();
    let mut cuts = Vec::new();
    for (slot, place) in slots.iter().zip(&packing.places) {
        let placement = printed_side_up(slot, Placement::new(slot.poses[place.pose], place.x, place.y));
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

/// `placement`, or one printed side up that cuts the very same shape and notches, where the slot may lie so: a piece that is its
/// own mirror image needs no turning over.
fn printed_side_up(slot: &Slot, placement: Placement) -> Placement {
    let up = Pose { mirrored: false, ..placement.pose };
    if !placement.pose.mirrored || !slot.poses.contains(&up) {
        return placement;
    }
    let piece = slot.order.piece;
    let (wanted, raw) = (placement.apply(&piece.outline), Placement::new(up, 0.0, 0.0).apply(&piece.outline));
    let shift = wanted.bounds().min - raw.bounds().min;
    let turned = Placement::new(up, shift.x, shift.y);
    let notches = |by: Placement| piece.notches.iter().map(|n| by.apply_to_point(n.at)).collect::<Vec<_>>();
    let same = same_places(wanted.points(), turned.apply(&piece.outline).points())
        && same_places(&notches(placement), &notches(turned));
    if same { turned } else { placement }
}

/// Whether the two lists name the same places, in any order.
fn same_places(a: &[Point], b: &[Point]) -> bool {
    let near =
        |p: Point, q: Point| (p.x - q.x).abs() <= SAME_SHAPE_TOLERANCE && (p.y - q.y).abs() <= SAME_SHAPE_TOLERANCE;
    a.len() == b.len() && a.iter().all(|&p| b.iter().any(|&q| near(p, q)))
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

/// A turn within 0 to 360 degrees; never -0, which a record would show.
fn within_a_turn(turn_deg: f64) -> f64 {
    turn_deg.rem_euclid(360.0) + 0.0
}

fn cut(slot: &Slot, copy: u32, placement: Placement) -> Cut {
    let piece: &Piece = slot.order.piece;
    let to_cloth = |p: Point| placement.apply_to_point(p);
    Cut {
        piece: piece.name.clone(),
        number: slot.order.number,
        copy,
        mirrored: placement.pose.mirrored,
        turned_deg: within_a_turn(placement.pose.turn_deg),
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
        turned_deg: within_a_turn(-upper.turned_deg),
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

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::{CutOrder, CutRule, GrainRule, Hands};

    fn piece(corners: &[(f64, f64)]) -> Piece {
        Piece {
            name: "Pocket".into(),
            outline: Outline::from_pairs(corners).unwrap(),
            grainline: [point(5.0, 20.0), point(5.0, 80.0)],
            edges: Vec::new(),
            fold: false,
            grain: GrainRule::Straight,
            notches: Vec::new(),
            points: Default::default(),
            cuts: vec![CutRule { role: "main".into(), count: 1, on_fold: false, hands: Hands::Any }],
        }
    }

    /// How a copy that the search laid mirrored and turned is recorded, and how it was laid.
    fn recorded(piece: &Piece, poses: Vec<Pose>) -> (Placement, Placement) {
        let order = CutOrder { piece, rule: &piece.cuts[0], number: 1 };
        let slot = Slot { order, copies: Copies::Single(1), poses };
        let laid = Placement::new(Pose::turned(180.0).mirrored(), 400.0, 300.0);
        (printed_side_up(&slot, laid), laid)
    }

    #[test]
    fn only_a_piece_that_is_its_own_mirror_image_is_turned_printed_side_up() {
        let turned = Pose::turned(180.0);
        let both = vec![turned, turned.mirrored()];
        // Symmetric about x = 45, away from its own origin.
        let mut shield = piece(&[(0.0, 30.0), (45.0, 0.0), (90.0, 30.0), (90.0, 100.0), (0.0, 100.0)]);
        let (up, laid) = recorded(&shield, both.clone());
        assert_eq!(up.pose, turned);
        assert!(same_places(up.apply(&shield.outline).points(), laid.apply(&shield.outline).points()));
        // Where the other hand is wanted it stays.
        let (kept, laid) = recorded(&shield, vec![turned.mirrored()]);
        assert_eq!(kept, laid);
        shield.notches.push(Notch { name: String::new(), at: point(0.0, 60.0), inward: point(1.0, 0.0) });
        let (kept, laid) = recorded(&shield, both.clone());
        assert_eq!(kept, laid, "a notch makes a side");
        let (kept, laid) = recorded(&piece(&[(0.0, 0.0), (90.0, 0.0), (80.0, 100.0), (0.0, 100.0)]), both);
        assert_eq!(kept, laid);
    }
}
