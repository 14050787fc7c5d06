//! What a problem must satisfy before it is searched: every fault it has, each with its place and the value that is wrong.

use std::ops::RangeInclusive;

use crate::{Axis, Item, NestError, Packing, Problem, ProblemFault};

/// Tilted further, a shape would lie nearer to another quarter turn.
const TILTS: RangeInclusive<f64> = 0.0..=45.0;
/// Lengths beyond this, mm, are no lengths of a strip: products of several of them must still be numbers.
const LONGEST: f64 = 1e9;
/// Lattice steps below this, mm, are no lattice: its positions would lie nearer to each other than arithmetic tells apart.
const LEAST_STEP: f64 = 1e-3;

impl Problem {
    /// Everything that is wrong with the problem; empty when it can be searched.
    ///
    /// ```
    /// use ellwand_nest::{Item, Problem, ProblemFault};
    ///
    /// let mut problem = Problem::in_strip(0.0, 0.0);
    /// problem.items.push(Item { shape: 0, poses: vec![] });
    /// let no_shape = ProblemFault::NoShape { item: 0, shape: 0, shapes: 0 };
    /// let faults = [ProblemFault::Sides { left: 0.0, right: 0.0 }, no_shape, ProblemFault::NoPose { item: 0 }];
    /// assert_eq!(problem.faults(), faults);
    /// ```
    pub fn faults(&self) -> Vec<ProblemFault> {
        faults(self)
    }

    /// That the problem can be searched.
    ///
    /// # Errors
    ///
    /// [`NestError::Malformed`] with all of its [`faults`](Problem::faults).
    pub fn check(&self) -> Result<(), NestError> {
        let faults = self.faults();
        if faults.is_empty() { Ok(()) } else { Err(NestError::Malformed { faults }) }
    }
}

fn faults(problem: &Problem) -> Vec<ProblemFault> {
    let mut faults = Vec::new();
    let Problem { left, right, gap, .. } = *problem;
    if !is_span(left, right) {
        faults.push(ProblemFault::Sides { left, right });
    }
    if !(is_place(gap) && gap >= 0.0) {
        faults.push(ProblemFault::Gap { gap });
    }
    let shapes = problem.shapes.iter().chain(&problem.obstacles);
    if shapes.flat_map(|shape| shape.points()).any(|p| !is_place(p.x) || !is_place(p.y)) {
        faults.push(ProblemFault::ShapeTooFar);
    }
    let bad_steps = problem.phases.iter().enumerate().filter(|(_, step)| !is_step(**step));
    faults.extend(bad_steps.map(|(phase, &step)| ProblemFault::PhaseStep { phase, step }));
    for (index, item) in problem.items.iter().enumerate() {
        item_faults(problem, index, item, &mut faults);
    }
    faults
}

fn item_faults(problem: &Problem, index: usize, item: &Item, faults: &mut Vec<ProblemFault>) {
    let shapes = problem.shapes.len();
    if item.shape >= shapes {
        faults.push(ProblemFault::NoShape { item: index, shape: item.shape, shapes });
    }
    if item.poses.is_empty() {
        faults.push(ProblemFault::NoPose { item: index });
    }
    if item.has_twin() && item.poses.iter().any(|allowed| allowed.twin.is_none()) {
        faults.push(ProblemFault::TwinInSomePoses { item: index });
    }
    for (pose, allowed) in item.poses.iter().enumerate() {
        let (turn_deg, tilt) = (allowed.pose.turn_deg, allowed.tilt);
        if !is_place(turn_deg) {
            faults.push(ProblemFault::Turn { item: index, pose, turn_deg });
        }
        if !TILTS.contains(&tilt) {
            faults.push(ProblemFault::Tilt { item: index, pose, tilt });
        }
        if let Some(axis) = allowed.twin.filter(|&axis| !is_place(axis)) {
            faults.push(ProblemFault::TwinAxis { item: index, pose, axis });
        }
        if let Some((left, right)) = allowed.within.filter(|&(left, right)| !is_span(left, right)) {
            faults.push(ProblemFault::Within { item: index, pose, left, right });
        }
        for axis in [allowed.x, allowed.y] {
            match axis {
                Axis::Fixed(at) | Axis::Lattice { origin: at, .. } | Axis::Shared { origin: at, .. }
                    if !is_place(at) =>
                {
                    faults.push(ProblemFault::Position { item: index, pose, at });
                }
                _ => {}
            }
            match axis {
                Axis::Lattice { step, .. } if !is_step(step) => {
                    faults.push(ProblemFault::Step { item: index, pose, step });
                }
                Axis::Shared { phase, .. } if phase >= problem.phases.len() => {
                    let phases = problem.phases.len();
                    faults.push(ProblemFault::NoPhase { item: index, pose, phase, phases });
                }
                _ => {}
            }
        }
    }
}

fn is_place(at: f64) -> bool {
    at.abs() <= LONGEST
}

fn is_span(left: f64, right: f64) -> bool {
    is_place(left) && is_place(right) && left < right
}

fn is_step(step: f64) -> bool {
    (LEAST_STEP..=LONGEST).contains(&step)
}

/// Whether `packing` has a place for each item in one of its poses, turned no further than it may be.
pub(crate) fn is_packing(problem: &Problem, packing: &Packing) -> bool {
    packing.places.len() == problem.items.len()
        && problem.items.iter().zip(&packing.places).all(|(item, place)| {
            let allowed = item.poses.get(place.pose);
            is_place(place.x) && is_place(place.y) && allowed.is_some_and(|a| place.turn.abs() <= a.tilt)
        })
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{Outline, Pose};

    use super::*;
    use crate::{AllowedPose, Budget, NestError, Sense, Settings, Silent, solve};

    fn sound() -> Problem {
        let mut problem = Problem::in_strip(0.0, 100.0);
        let square = problem.shape(Outline::rectangle(10.0, 10.0).unwrap());
        problem.items.push(Item::anywhere(square, [Pose::AS_DRAWN]));
        problem
    }

    #[test]
    fn every_fault_is_named_at_once_and_nothing_is_searched() {
        let mut problem = sound();
        (problem.left, problem.gap, problem.phases) = (f64::NAN, -1.0, vec![5.0, 0.0]);
        problem.obstacles.push(Outline::rectangle(1e10, 1.0).unwrap());
        problem.items[0].shape = 3;
        problem.items.push(Item { shape: 0, poses: Vec::new() });
        let lattice = Axis::Lattice { origin: f64::NAN, step: -2.0 };
        let shared = Axis::Shared { phase: 2, sense: Sense::With, origin: 0.0 };
        let anywhere = AllowedPose::anywhere(Pose::turned(f64::NAN)).mirrored_across(f64::INFINITY);
        let pose = AllowedPose { x: lattice, y: shared, tilt: 46.0, ..anywhere.keeping_within(9.0, 8.0) };
        problem.items.push(Item { shape: 0, poses: vec![pose, AllowedPose::anywhere(Pose::AS_DRAWN)] });
        let faults = problem.faults();
        let Err(NestError::Malformed { faults: refused }) = solve(&problem, &Settings::default(), &Silent) else {
            panic!("a malformed problem was searched");
        };
        assert_eq!(format!("{faults:?}"), format!("{refused:?}"));
        let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
        let expected = [
            "the right side of the strip, 100, must lie right of its left side, NaN",
            "the gap must be 0 or more, not -1",
            "a shape lies farther",
            "the step of phase 1 must be at least a thousandth of a mm, not 0",
            "item 0 names shape 3, and there are 1",
            "item 1 has no pose",
            "item 2 has a twin in some of its poses only",
            "pose 0 of item 2 is turned by NaN degrees",
            "the tilt of pose 0 of item 2 must be within 0 to 45 degrees, not 46",
            "pose 0 of item 2 has the axis of its twin at inf",
            "pose 0 of item 2 must keep within a span from one place to one right of it, not from 9 to 8",
            "pose 0 of item 2 has a position at NaN",
            "pose 0 of item 2 has a lattice whose step must be at least a thousandth of a mm, not -2",
            "pose 0 of item 2 follows phase 2, and there are 2",
        ];
        assert_eq!(told.len(), expected.len(), "{told:#?}");
        for (told, expected) in told.iter().zip(expected) {
            assert!(told.starts_with(expected), "{told}");
        }
    }

    #[test]
    fn a_sound_problem_has_no_fault_and_nothing_to_place_takes_no_strip() {
        assert_eq!(sound().faults(), vec![]);
        let nothing = Problem::in_strip(0.0, 100.0);
        assert_eq!(nothing.faults(), vec![]);
        let settings = Settings { budget: Budget::Work(100), ..Settings::default() };
        let outcome = solve(&nothing, &settings, &Silent).unwrap();
        assert_eq!((outcome.best.length, outcome.best.places.len()), (0.0, 0));
    }

    #[test]
    fn what_is_narrow_enough_but_has_no_position_is_told_apart_from_what_is_too_wide() {
        let mut problem = sound();
        problem.items[0].poses[0].x = Axis::Fixed(95.0);
        let refusal = |problem: &Problem| solve(problem, &Settings::default(), &Silent).unwrap_err();
        assert_eq!(refusal(&problem), NestError::NoPosition { item: 0 });
        problem.items[0].poses[0].x = Axis::Lattice { origin: -5.0, step: 110.0 };
        assert_eq!(refusal(&problem), NestError::NoPosition { item: 0 });
        problem.shapes[0] = Outline::rectangle(101.5, 10.0).unwrap();
        assert_eq!(refusal(&problem), NestError::TooWide { item: 0, short_by: 1.5 });
    }
}
