//! Which copies of a piece are cut together.

use ellwand_garment::{CutOrder, Hands};

use super::place::Place;

/// The copies one slot yields, numbered from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Copies {
    /// One shape, anywhere.
    Single(u32),
    /// One whole shape with its axis on the fold.
    OnFold(u32),
    /// Two shapes cut through both layers; the second is the image of the first in the other layer.
    ThroughBoth(u32, u32),
}

impl Copies {
    /// Whether a fold gives nothing that is not asked for: of a pair both hands are, an odd copy and the even one after it.
    pub(crate) fn are_both_hands(order: &CutOrder) -> bool {
        let is_pair = |copies: &[u32]| matches!(*copies, [one, other] if one % 2 == 1 && other == one + 1);
        order.rule.hands != Hands::Pair || order.rule.on_fold || order.copies.chunks(2).all(is_pair)
    }

    /// Whether copies can be cut two at once, from two layers that lie face to face.
    pub(crate) fn come_in_pairs(order: &CutOrder) -> bool {
        let two = !order.rule.on_fold && order.rule.hands != Hands::Same && order.copies.len() > 1;
        two && Self::are_both_hands(order)
    }

    /// How the copies of one order are cut: two at once, or each on the fold, where it has places for that; else each from one layer.
    pub(crate) fn of(order: &CutOrder, double: &[Place]) -> Vec<Self> {
        let each = || order.copies.iter().copied();
        if double.is_empty() {
            each().map(Self::Single).collect()
        } else if order.rule.on_fold {
            each().map(Self::OnFold).collect()
        } else {
            let together = |copies: &[u32]| match *copies {
                [one, other] => Self::ThroughBoth(one, other),
                ref alone => Self::Single(alone[0]),
            };
            order.copies.chunks(2).map(together).collect()
        }
    }
}
