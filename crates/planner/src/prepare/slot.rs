//! What must find a place: cut orders resolved into slots, one for each thing the search moves.
//!
//! On folded cloth a pair is one slot that cuts two shapes at once, and a piece cut on the fold may only slide along it.
//! On an open layer every copy is a slot of its own. Which poses a slot may take comes from the garment's rules; this
//! module only splits them between the hands and keeps those that a fold allows.

use ellwand_garment::{CutOrder, Hands, Lie, Question, RightSide, legal_poses};
use ellwand_geometry::Pose;

use super::{copies::Copies, design::Matched};
use crate::PlanError;

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

/// Every slot of `question`, in the order of the view and then of the copies, `matched` being what its matches come to.
///
/// # Errors
///
/// [`PlanError::NoPose`] for a piece that must lie on the fold but whose grain does not run along it.
pub(super) fn slots<'a>(question: &Question<'a>, matched: Option<&Matched>) -> Result<Vec<Slot<'a>>, PlanError> {
    let mut slots = Vec::new();
    for order in question.orders() {
        let at_border = matched.and_then(|matched| matched.border_poses(order.piece));
        let all = at_border.unwrap_or_else(|| legal_poses(&order, &question.fabric.cloth));
        for copies in Copies::of(&order, question.layers) {
            let suits = |pose: &Pose| matched.is_none_or(|matched| matched.allows(&order, copies, pose));
            let poses: Vec<Pose> =
                all.iter().copied().filter(|pose| allows(&order, question, copies, pose) && suits(pose)).collect();
            if poses.is_empty() {
                return Err(PlanError::NoPose { piece: order.piece.name.clone(), role: question.fabric.role.clone() });
            }
            slots.push(Slot { order: order.clone(), copies, poses });
        }
    }
    Ok(slots)
}

/// Whether `pose` serves these copies: the right hand, and the grain along the fold.
fn allows(order: &CutOrder, question: &Question, copies: Copies, pose: &Pose) -> bool {
    match copies {
        Copies::OnFold(_) => !pose.mirrored && Lie::of(pose).is_upright(),
        // The other hand is the mirror image in the other layer, and the search may use either half of the cloth.
        Copies::ThroughBoth(..) => !pose.mirrored,
        Copies::Single(copy) => match (order.rule.hands, question.fabric.cloth.right_side) {
            (Hands::Any, _) | (_, RightSide::Both) => true,
            (Hands::Same, RightSide::One) => !pose.mirrored,
            // Odd copies as drawn, even ones mirrored.
            (Hands::Pair, RightSide::One) => pose.mirrored == copy.is_multiple_of(2),
        },
    }
}
