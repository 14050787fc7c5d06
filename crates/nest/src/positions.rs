//! Which positions an axis allows, and the one nearest to where something is wanted.

use crate::Axis;

/// Of a step below this share of the lattice's, none is made: the way out leads elsewhere.
const LEAST_STRIDE: f64 = 0.1;
/// Rounding of a count of lattice steps.
const COUNT: f64 = 1e-9;

/// The allowed position nearest to `v` from `low` to `high`; a fixed one may lie outside by `slack`.
#[inline]
pub(crate) fn nearest(axis: Axis, (low, high): (f64, f64), v: f64, slack: f64) -> Option<f64> {
    match axis {
        // A lattice whose phase is not settled can be anywhere.
        Axis::Free | Axis::Shared { .. } => (low <= high).then(|| v.clamp(low, high)),
        Axis::Fixed(fixed) => (fixed >= low - slack && fixed <= high + slack).then_some(fixed),
        Axis::Lattice { origin, step } => {
            let first = ((low - origin) / step - COUNT).ceil();
            let last = ((high - origin) / step + COUNT).floor();
            let k = ((v - origin) / step).round();
            (first <= last).then(|| origin + k.clamp(first, last) * step)
        }
    }
}

/// The first position at or above `v`; of a lattice that shares a phase, the first that some phase gives. One that is fixed or on a lattice
/// may lie below `v` by `slack`.
pub(crate) fn first_from(axis: Axis, v: f64, slack: f64) -> Option<f64> {
    match axis {
        Axis::Free | Axis::Shared { .. } => Some(v),
        Axis::Fixed(fixed) => (fixed >= v - slack).then_some(fixed),
        Axis::Lattice { origin, step } => {
            let k = ((v - slack - origin) / step - COUNT).ceil();
            Some(origin + k * step)
        }
    }
}

/// What a move by `away` comes to on an axis: on a lattice, of some size, to the next position at least.
pub(crate) fn stride(axis: Axis, away: f64) -> f64 {
    match axis {
        Axis::Lattice { step, .. } if away.abs() < step && away.abs() >= LEAST_STRIDE * step => step.copysign(away),
        _ => away,
    }
}

/// The positions of the mirror image across `about`.
pub(crate) fn mirrored(axis: Axis, about: f64) -> Axis {
    match axis {
        Axis::Free => Axis::Free,
        Axis::Fixed(v) => Axis::Fixed(2.0 * about - v),
        Axis::Lattice { origin, step } => Axis::Lattice { origin: 2.0 * about - origin, step },
        Axis::Shared { phase, sense, origin } => {
            Axis::Shared { phase, sense: sense.reversed(), origin: 2.0 * about - origin }
        }
    }
}
