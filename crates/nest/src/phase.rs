//! Phases that lattices share: what each may be, and where they stand on a board.

use ellwand_geometry::Point;

use crate::model::{Model, ModelItem, Stance};
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

impl Phase {
    pub(crate) fn new(index: usize, step: f64, items: &[ModelItem]) -> Self {
        let follows = |stance: &Stance| [stance.x, stance.y].into_iter().any(|axis| follows(axis, index).is_some());
        let members = (0..items.len()).filter(|&item| items[item].stances.iter().any(follows)).collect();
        Self { step, members }
    }
}

impl Phases {
    /// Every phase at 0.
    pub(crate) fn new(model: &Model) -> Self {
        Self(model.phases.iter().map(|phase| (0.0, phase.step)).collect())
    }

    /// Where the phases stand when the items stand at `places`.
    pub(crate) fn of(model: &Model, places: &[(usize, Point)]) -> Self {
        let mut phases = Self::new(model);
        for (index, phase) in model.phases.iter().enumerate() {
            let of_member = phase.members.iter().find_map(|&item| {
                let (stance, at) = *places.get(item)?;
                phase_at(model.items[item].stances.get(stance)?, index, at)
            });
            phases.set(index, of_member.unwrap_or(0.0));
        }
        phases
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
fn follows(axis: Axis, index: usize) -> Option<(Sense, f64)> {
    match axis {
        Axis::Shared { phase, sense, origin } if phase == index => Some((sense, origin)),
        _ => None,
    }
}

/// What the phase is when an item stands at `at` in `stance`, if the stance follows it.
pub(crate) fn phase_at(stance: &Stance, index: usize, at: Point) -> Option<f64> {
    let (sense, origin, position) = match (follows(stance.x, index), follows(stance.y, index)) {
        (Some((sense, origin)), _) => (sense, origin, at.x),
        (None, Some((sense, origin))) => (sense, origin, at.y),
        (None, None) => return None,
    };
    Some(sense.sign() * (position - origin))
}

/// How the positions of a stance change when the phase grows by 1, if they follow it.
pub(crate) fn drift(stance: &Stance, index: usize) -> Option<Point> {
    let sign = |axis| follows(axis, index).map_or(0.0, |(sense, _)| sense.sign());
    let drift = ellwand_geometry::point(sign(stance.x), sign(stance.y));
    (drift.x != 0.0 || drift.y != 0.0).then_some(drift)
}
