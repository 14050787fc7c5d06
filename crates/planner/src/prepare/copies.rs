//! Which copies of a piece are cut together.

use ellwand_garment::{CutOrder, Hands, Layers};

/// The copies one slot yields, numbered from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Copies {
    /// One shape, anywhere.
    Single(u32),
    /// One whole shape with its axis on the fold.
    OnFold(u32),
    /// Two shapes cut through both layers; the second is the mirror image across the fold.
    ThroughBoth(u32, u32),
}

impl Copies {
    /// Whether a fold gives nothing that is not asked for: of a pair both hands are, an odd copy and the even one after it.
    pub(crate) fn are_both_hands(order: &CutOrder) -> bool {
        let is_pair = |copies: &[u32]| matches!(*copies, [one, other] if one % 2 == 1 && other == one + 1);
        order.rule.hands != Hands::Pair || order.rule.on_fold || order.copies.chunks(2).all(is_pair)
    }

    /// How the copies of one order are cut.
    pub(crate) fn of(order: &CutOrder, layers: Layers) -> Vec<Self> {
        let each = || order.copies.iter().copied();
        match layers {
            Layers::CentreFold if order.rule.on_fold => each().map(Self::OnFold).collect(),
            Layers::CentreFold if order.rule.hands != Hands::Same => {
                let together = |copies: &[u32]| match *copies {
                    [one, other] => Self::ThroughBoth(one, other),
                    ref alone => Self::Single(alone[0]),
                };
                order.copies.chunks(2).map(together).collect()
            }
            Layers::Open | Layers::CentreFold => each().map(Self::Single).collect(),
        }
    }
}
