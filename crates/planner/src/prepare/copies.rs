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
    /// How the copies of one order are cut.
    pub(crate) fn of(order: &CutOrder, layers: Layers) -> Vec<Self> {
        let count = order.rule.count;
        match layers {
            Layers::CentreFold if order.rule.on_fold => (1..=count).map(Self::OnFold).collect(),
            Layers::CentreFold if order.rule.hands != Hands::Same => {
                let pairs = (1..=count / 2).map(|pair| Self::ThroughBoth(2 * pair - 1, 2 * pair));
                pairs.chain((count % 2 == 1).then_some(Self::Single(count))).collect()
            }
            Layers::Open | Layers::CentreFold => (1..=count).map(Self::Single).collect(),
        }
    }
}
