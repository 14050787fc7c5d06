//! Phases that lattices share: what each may be, and where they stand on a board.

use crate::{Axis, Sense};

/// A phase and the items whose positions follow it.
#[derive(Debug, Clone)]
pub(crate) struct Phase {
    /// Where it starts again from 0.
    pub(crate) step: f64,
    pub(crate) members: Vec<usize>,
}

/// Where every phase stands.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Phases(Vec<(f64, f64)>);

impl Phases {
    /// Every phase at 0.
    pub(crate) fn at_zero(phases: &[Phase]) -> Self {
        Self(phases.iter().map(|phase| (0.0, phase.step)).collect())
    }

    pub(crate) fn get(&self, index: usize) -> f64 {
        self.0[index].0
    }

    /// Sets a phase; any number stands for the one that it is within the step.
    pub(crate) fn set(&mut self, index: usize, to: f64) {
        let (value, step) = &mut self.0[index];
        *value = to.rem_euclid(*step);
    }

    /// The positions of an axis as the phases stand.
    #[inline]
    pub(crate) fn settle(&self, axis: Axis) -> Axis {
        match axis {
            Axis::Shared { phase, sense, origin } => {
                let (value, step) = self.0[phase];
                Axis::Lattice { origin: origin + sense.sign() * value, step }
            }
            other => other,
        }
    }
}

/// The sense and origin of an axis that follows the phase.
pub(crate) fn followed(axis: Axis, index: usize) -> Option<(Sense, f64)> {
    match axis {
        Axis::Shared { phase, sense, origin } if phase == index => Some((sense, origin)),
        _ => None,
    }
}
