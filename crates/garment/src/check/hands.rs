//! Pairs come out as left and right in equal number, and pieces that must be cut as drawn are not mirrored.
//!
//! "Cut 2" on one layer means turning the pattern over for the second; on two facing layers the pair comes by itself
//! (school layouts: the piece turned printed side down). Cloth whose two faces serve alike has no hands, nor has a
//! piece that is its own mirror image across the fold.

use super::{Case, CutName, Fault};
use crate::{Hands, RightSide};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    if case.cloth().right_side == RightSide::Both {
        return Vec::new();
    }
    let mut faults = Vec::new();
    for order in case.orders.iter().filter(|order| !order.piece.fold) {
        match order.rule.hands {
            Hands::Any => {}
            Hands::Same => faults.extend(
                case.cuts(order).filter(|cut| cut.mirrored).map(|cut| Fault::WrongHand { cut: CutName::of(cut) }),
            ),
            Hands::Pair => {
                let mirrored = case.cuts(order).filter(|cut| cut.mirrored).count();
                let as_drawn = case.cuts(order).count() - mirrored;
                let is_part = (order.copies.len() as u32) < order.rule.count;
                if is_part {
                    // Where some copies are cut elsewhere, an odd one is for the hand as drawn and an even one for the other.
                    let wrong = case.cuts(order).filter(|cut| cut.mirrored != cut.copy.is_multiple_of(2));
                    faults.extend(wrong.map(|cut| Fault::WrongHand { cut: CutName::of(cut) }));
                } else if mirrored != as_drawn {
                    faults.push(Fault::UnevenHands { piece: order.piece.name.clone(), as_drawn, mirrored });
                }
            }
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::faults_after;
    use crate::sample::{cut, panel, pocket};
    use ellwand_geometry::Pose;

    #[test]
    fn two_left_fronts_are_no_pair() {
        let two_left = |layout: &mut crate::Layout| {
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN, (210.0, 0.0));
        };
        let faults = faults_after(Open, two_left);
        assert_eq!(faults, vec![Fault::UnevenHands { piece: "Panel".into(), as_drawn: 2, mirrored: 0 }]);
        let faults = faults_after(Open, |layout| {
            two_left(layout);
            layout.cloth.right_side = RightSide::Both;
        });
        assert_eq!(faults, vec![]);
    }

    #[test]
    fn a_piece_cut_as_drawn_may_be_turned_over_only_on_cloth_without_a_right_side() {
        let turned_over = |layout: &mut crate::Layout| {
            layout.cuts[3] = cut(&pocket(), 3, 1, Pose::AS_DRAWN.mirrored(), (500.0, 150.0));
        };
        let faults = faults_after(Open, turned_over);
        assert_eq!(faults, vec![Fault::WrongHand { cut: CutName { piece: "Pocket".into(), copy: 1 } }]);
        let faults = faults_after(Open, |layout| {
            turned_over(layout);
            layout.cloth.right_side = RightSide::Both;
        });
        assert_eq!(faults, vec![]);
    }
}
