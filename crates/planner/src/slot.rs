//! What must find a place: cut orders resolved into slots, one for each thing the search moves.
//!
//! On folded cloth a pair is one slot that cuts two shapes at once, and a piece cut on the fold may only slide along it.
//! On an open layer every copy is a slot of its own. Which poses a slot may take comes from the garment's rules; this
//! module only splits them between the hands and keeps those that a fold allows.

use ellwand_garment::{CutOrder, Hands, Layers, RightSide, legal_poses};
use ellwand_geometry::Pose;

use crate::{Lay, PlanError, matching::Matched};

/// One thing the search places.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Slot<'a> {
    /// What it is cut for.
    pub(crate) order: CutOrder<'a>,
    /// Which copies it yields.
    pub(crate) copies: Copies,
    /// The poses it may take; never empty.
    pub(crate) poses: Vec<Pose>,
}

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

/// Every slot of `lay`, in the order of the view and then of the copies.
///
/// # Errors
///
/// [`PlanError::NothingToCut`]; [`PlanError::NoPose`] for a piece that must lie on the fold but whose grain does not
/// run along it; what makes the matches of the cloth impossible.
pub(crate) fn slots<'a>(lay: &Lay<'a>) -> Result<Vec<Slot<'a>>, PlanError> {
    let mut slots = Vec::new();
    let matched = Matched::of(lay)?;
    for order in lay.orders()? {
        let at_border = matched.as_ref().and_then(|matched| matched.border_poses(order.piece));
        let all = at_border.unwrap_or_else(|| legal_poses(&order, &lay.fabric.cloth));
        for copies in copies(&order, lay.layers) {
            let suits = |pose: &Pose| matched.as_ref().is_none_or(|matched| matched.allows(&order, copies, pose));
            let poses: Vec<Pose> =
                all.iter().copied().filter(|pose| allows(&order, lay, copies, pose) && suits(pose)).collect();
            if poses.is_empty() {
                return Err(PlanError::NoPose { piece: order.piece.name.clone(), role: lay.fabric.role.clone() });
            }
            slots.push(Slot { order: order.clone(), copies, poses });
        }
    }
    if let Some(matched) = matched {
        matched.check_places(lay, &slots)?;
    }
    Ok(slots)
}

/// How the copies of one order are cut.
fn copies(order: &CutOrder, layers: Layers) -> Vec<Copies> {
    let count = order.rule.count;
    match layers {
        Layers::CentreFold if order.rule.on_fold => (1..=count).map(Copies::OnFold).collect(),
        Layers::CentreFold if order.rule.hands != Hands::Same => {
            let pairs = (1..=count / 2).map(|pair| Copies::ThroughBoth(2 * pair - 1, 2 * pair));
            pairs.chain((count % 2 == 1).then_some(Copies::Single(count))).collect()
        }
        Layers::Open | Layers::CentreFold => (1..=count).map(Copies::Single).collect(),
    }
}

/// Whether `pose` serves these copies: the right hand, and the grain along the fold.
fn allows(order: &CutOrder, lay: &Lay, copies: Copies, pose: &Pose) -> bool {
    match copies {
        Copies::OnFold(_) => !pose.mirrored && pose.turn_deg.rem_euclid(180.0) == 0.0,
        // The other hand is the mirror image in the other layer, and the search may use either half of the cloth.
        Copies::ThroughBoth(..) => !pose.mirrored,
        Copies::Single(copy) => match (order.rule.hands, lay.fabric.cloth.right_side) {
            (Hands::Any, _) | (_, RightSide::Both) => true,
            (Hands::Same, RightSide::One) => !pose.mirrored,
            // Odd copies as drawn, even ones mirrored.
            (Hands::Pair, RightSide::One) => pose.mirrored == copy.is_multiple_of(2),
        },
    }
}
