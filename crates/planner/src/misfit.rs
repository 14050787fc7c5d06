//! Pieces too wide for the cloth in every legal pose, found before any search, each with what would make it fit.

use ellwand_garment::{GrainRule, Layers, Nap};
use ellwand_geometry::{Outline, Pose};

use crate::{
    CutThrough, Lay, Misfit, PlanError, Remedy,
    slot::{Copies, Slot},
};

/// How far a piece may exceed what the cloth offers and still be said to fit, mm: rounding noise of turning a piece as
/// wide as the cloth itself.
const FIT_TOLERANCE: f64 = 1e-6;

/// Checks that every slot fits across the cloth in one of its poses.
///
/// # Errors
///
/// [`PlanError::TooNarrow`] with every piece that does not.
pub(crate) fn check_widths(lay: &Lay, slots: &[Slot]) -> Result<(), PlanError> {
    let mut misfits: Vec<Misfit> = Vec::new();
    for slot in slots {
        if misfits.iter().any(|m| m.piece == slot.order.piece.name) {
            continue;
        }
        misfits.extend(misfit(lay, slot));
    }
    if misfits.is_empty() { Ok(()) } else { Err(PlanError::TooNarrow(misfits)) }
}

fn misfit(lay: &Lay, slot: &Slot) -> Option<Misfit> {
    let outline = &slot.order.piece.outline;
    let usable = lay.fabric.cloth.usable_width();
    let (cut_through, layers) = match slot.copies {
        Copies::Single(_) | Copies::OnFold(_) => (CutThrough::OneLayer, 1.0),
        Copies::ThroughBoth(..) => (CutThrough::BothLayers, 2.0),
    };
    let offers = usable / layers;
    let needs = (slot.poses.iter()).map(|pose| width_across(outline, pose)).fold(f64::INFINITY, f64::min);
    if needs <= offers + FIT_TOLERANCE {
        return None;
    }
    let mut remedies = Vec::new();
    if lay.layers == Layers::CentreFold && needs <= usable + FIT_TOLERANCE {
        remedies.push(Remedy::OpenLayer);
    }
    let turned = width_across(outline, &Pose::turned(90.0));
    if lay.fabric.cloth.nap == Nap::Without
        && slot.order.piece.grain == GrainRule::Straight
        && !matches!(slot.copies, Copies::OnFold(_))
        && turned <= offers + FIT_TOLERANCE
    {
        remedies.push(Remedy::AllowCrossGrain);
    }
    let washed = needs * layers + 2.0 * lay.fabric.cloth.selvage;
    Some(Misfit {
        piece: slot.order.piece.name.clone(),
        role: lay.fabric.role.clone(),
        layers: lay.layers,
        cut_through,
        needs,
        offers,
        width_that_would_do: washed / (1.0 - lay.fabric.shrinkage.across),
        remedies,
    })
}

/// What `outline` takes of the width in `pose`, mm.
fn width_across(outline: &Outline, pose: &Pose) -> f64 {
    let across = || outline.points().iter().map(|&p| pose.apply_to_point(p).x);
    across().fold(f64::NEG_INFINITY, f64::max) - across().fold(f64::INFINITY, f64::min)
}
