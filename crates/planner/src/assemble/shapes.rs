//! A packing becomes the shapes to cut, exact and both layers of a fold included.

use ellwand_garment::{Cut, Fold, MatchRule, Notch, Piece, Question};
use ellwand_geometry::{Placement, Point, Pose};
use ellwand_nest::Packing;

use crate::prepare::{Prepared, copies::Copies, place::Place, slot::Slot, spread::Table};

/// How far a corner may move when a symmetric piece is turned printed side up, mm: rounding noise only.
const SAME_SHAPE_TOLERANCE: f64 = 1e-9;

/// The shapes that `packing` cuts, in the order of the slots.
pub(crate) fn cuts(prepared: &Prepared, packing: &Packing) -> Vec<Cut> {
    let Prepared { question, slots, spread, .. } = prepared;
    let mut cuts = Vec::new();
    for (slot, place) in slots.iter().zip(&packing.places) {
        let laid = Placement::new(slot.turned(place.pose, place.turn), place.x, place.y);
        let placement = if is_matched(question, &slot.order.piece.name) { laid } else { printed_side_up(slot, laid) };
        let place = slot.place(place.pose);
        let placement = match (place, &spread.table) {
            (Place::FarHalf, Table::Halves(halves)) => halves.far_on_flat(placement, packing.length),
            _ => placement,
        };
        match slot.copies {
            Copies::Single(copy) | Copies::OnFold(copy) => cuts.push(cut(slot, copy, placement)),
            Copies::ThroughBoth(first, second) => {
                let upper = cut(slot, first, placement);
                let lower = image(&upper, second, spread.fold_through(place, packing.length));
                cuts.extend([upper, lower]);
            }
        }
    }
    cuts
}

/// Whether some match speaks of a piece: then it counts which way round it shows the design, and that is told by the face it lies on.
pub(super) fn is_matched(question: &Question, piece: &str) -> bool {
    let rules = question.fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules);
    rules.flat_map(MatchRule::points).any(|point| point.piece == piece)
}

/// `placement`, or one printed side up that cuts the very same shape, where the slot may lie so: what has no hand needs no turning over.
/// Where notches or points make a side, either will do, since the slot takes both.
fn printed_side_up(slot: &Slot, placement: Placement) -> Placement {
    if !placement.pose.mirrored {
        return placement;
    }
    let piece = slot.order.piece;
    let wanted = placement.apply(&piece.outline);
    let as_drawn = |half_turns: f64| {
        let turn_deg = within_a_turn(placement.pose.turn_deg + 180.0 * half_turns);
        let up = Pose { mirrored: false, turn_deg };
        slot.pose_of(up)?;
        let raw = Placement::new(up, 0.0, 0.0).apply(&piece.outline);
        let shift = wanted.bounds().min - raw.bounds().min;
        let turned = Placement::new(up, shift.x, shift.y);
        same_places(wanted.points(), turned.apply(&piece.outline).points()).then_some(turned)
    };
    as_drawn(0.0).or_else(|| as_drawn(1.0)).unwrap_or(placement)
}

/// Whether the two lists name the same places, in any order.
fn same_places(a: &[Point], b: &[Point]) -> bool {
    let near =
        |p: Point, q: Point| (p.x - q.x).abs() <= SAME_SHAPE_TOLERANCE && (p.y - q.y).abs() <= SAME_SHAPE_TOLERANCE;
    a.len() == b.len() && a.iter().all(|&p| b.iter().any(|&q| near(p, q)))
}

/// A turn within 0 to 360 degrees; never -0, which a record would show.
pub(super) fn within_a_turn(turn_deg: f64) -> f64 {
    turn_deg.rem_euclid(360.0) + 0.0
}

pub(super) fn cut(slot: &Slot, copy: u32, placement: Placement) -> Cut {
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

/// The shape that the same stroke of the shears cuts from the other layer of a fold.
fn image(upper: &Cut, copy: u32, fold: Fold) -> Cut {
    let center = upper.outline.bounds().center();
    let under = |p: Point| fold.image(p, center);
    let direction = |v: Point| under(center + v) - under(center);
    Cut {
        copy,
        mirrored: !upper.mirrored,
        turned_deg: within_a_turn(fold.image_turn(upper.turned_deg)),
        outline: upper.outline.map_rigid(under),
        grainline: upper.grainline.map(under),
        notches: (upper.notches.iter())
            .map(|notch| Notch { at: under(notch.at), inward: direction(notch.inward), ..notch.clone() })
            .collect(),
        points: upper.points.iter().map(|(name, &p)| (name.clone(), under(p))).collect(),
        ..upper.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::{CutOrder, CutRule, GrainRule, Hands};
    use ellwand_geometry::{Outline, point};

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
            darts: Vec::new(),
            cuts: vec![CutRule { role: "main".into(), count: 1, on_fold: false, hands: Hands::Any, grain: None }],
            strips: None,
        }
    }

    /// How a copy that the search laid mirrored and turned is recorded, and how it was laid.
    fn recorded(piece: &Piece, poses: Vec<Pose>) -> (Placement, Placement) {
        let order = CutOrder::whole(piece, &piece.cuts[0], 1);
        let slot = Slot { order, copies: Copies::Single(1), poses, places: vec![Place::Anywhere], off_grain_deg: 0.0 };
        let laid = Placement::new(Pose::turned(180.0).mirrored(), 400.0, 300.0);
        (printed_side_up(&slot, laid), laid)
    }

    #[test]
    fn what_has_the_same_shape_printed_side_up_lies_so() {
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
        // A notch makes a side, and this slot takes both.
        shield.notches.push(Notch { name: String::new(), at: point(0.0, 60.0), inward: point(1.0, 0.0) });
        assert_eq!(recorded(&shield, both.clone()).0.pose, turned);
        // Its own mirror image from top to bottom: turned round it is printed side up.
        let pennant = piece(&[(0.0, 0.0), (90.0, 20.0), (90.0, 80.0), (0.0, 100.0)]);
        let all = [both.clone(), vec![Pose::turned(0.0), Pose::turned(0.0).mirrored()]].concat();
        assert_eq!(recorded(&pennant, all).0.pose, Pose::turned(0.0));
        let (kept, laid) = recorded(&piece(&[(0.0, 0.0), (90.0, 0.0), (80.0, 100.0), (0.0, 100.0)]), both);
        assert_eq!(kept, laid);
    }
}
