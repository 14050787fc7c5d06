//! What a problem must satisfy before it is searched.

use crate::{Axis, NestError, Packing, Problem};

/// Tilted further, a shape would lie nearer to another quarter turn.
const MOST_TILT: f64 = 45.0;

/// Names the first thing wrong with `problem`.
pub(crate) fn check(problem: &Problem) -> Result<(), NestError> {
    if !(problem.left.is_finite() && problem.right.is_finite() && problem.left < problem.right) {
        return Err(NestError::BadStrip { what: "its right side must lie right of its left side" });
    }
    if !(problem.gap.is_finite() && problem.gap >= 0.0) {
        return Err(NestError::BadStrip { what: "the gap must be a finite number, 0 or more" });
    }
    if problem.phases.iter().any(|step| !(step.is_finite() && *step > 0.0)) {
        return Err(NestError::BadStrip { what: "the step of a phase must be a finite number above zero" });
    }
    for (index, item) in problem.items.iter().enumerate() {
        let bad = |what| Err(NestError::BadItem { item: index, what });
        if item.shape >= problem.shapes.len() {
            return bad("its shape is not among the shapes");
        }
        if item.poses.is_empty() {
            return bad("it has no allowed pose");
        }
        if item.twin.is_some_and(|axis| !axis.is_finite()) {
            return bad("the axis of its twin is not a finite number");
        }
        for pose in &item.poses {
            if !pose.pose.turn_deg.is_finite() {
                return bad("a turn is not a finite number");
            }
            if !(0.0..=MOST_TILT).contains(&pose.tilt) {
                return bad("a tilt is not within 0 to 45 degrees");
            }
            for axis in [pose.x, pose.y] {
                let fine = match axis {
                    Axis::Free => true,
                    Axis::Fixed(v) => v.is_finite(),
                    Axis::Lattice { origin, step } => origin.is_finite() && step.is_finite() && step > 0.0,
                    Axis::Shared { phase, origin, .. } => origin.is_finite() && phase < problem.phases.len(),
                };
                if !fine {
                    return bad(
                        "an allowed position is not finite, a lattice step is not above zero, or a phase is not there",
                    );
                }
            }
        }
    }
    Ok(())
}

/// Whether `packing` has a place for each item in one of its poses, turned no further than it may be.
pub(crate) fn is_packing(problem: &Problem, packing: &Packing) -> bool {
    packing.places.len() == problem.items.len()
        && problem.items.iter().zip(&packing.places).all(|(item, place)| {
            let allowed = item.poses.get(place.pose);
            place.x.is_finite() && place.y.is_finite() && allowed.is_some_and(|a| place.turn.abs() <= a.tilt)
        })
}
