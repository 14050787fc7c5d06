//! What can be wrong with a problem.

/// One thing that is wrong with a [`Problem`](crate::Problem). Indices count from 0.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ProblemFault {
    /// The strip has no width, or a side that is no number.
    #[error(
        "the right side of the strip, {right}, must lie right of its left side, {left}, both within a thousand kilometres"
    )]
    Sides {
        /// Its left side.
        left: f64,
        /// Its right side.
        right: f64,
    },
    /// The gap is not a length.
    #[error("the gap must be 0 or more, not {gap}")]
    Gap {
        /// What is given.
        gap: f64,
    },
    /// A shape or an obstacle lies farther off than any strip.
    #[error("a shape lies farther from its origin than a thousand kilometres")]
    ShapeTooFar,
    /// The step of a phase is not one.
    #[error("the step of phase {phase} must be at least a thousandth of a mm, not {step}")]
    PhaseStep {
        /// Which phase.
        phase: usize,
        /// What is given.
        step: f64,
    },
    /// An item names a shape that is not there.
    #[error("item {item} names shape {shape}, and there are {shapes}")]
    NoShape {
        /// Which item.
        item: usize,
        /// The shape it names.
        shape: usize,
        /// How many there are.
        shapes: usize,
    },
    /// An item has no pose.
    #[error("item {item} has no pose")]
    NoPose {
        /// Which item.
        item: usize,
    },
    /// An item is two shapes in some of its poses and one in others.
    #[error("item {item} has a twin in some of its poses only")]
    TwinInSomePoses {
        /// Which item.
        item: usize,
    },
    /// The axis of a twin is no place.
    #[error("pose {pose} of item {item} has the axis of its twin at {axis}, which is no place")]
    TwinAxis {
        /// Which item.
        item: usize,
        /// Which of its poses.
        pose: usize,
        /// What is given.
        axis: f64,
    },
    /// The span that a pose must keep within is none.
    #[error(
        "pose {pose} of item {item} must keep within a span from one place to one right of it, not from {left} to {right}"
    )]
    Within {
        /// Which item.
        item: usize,
        /// Which of its poses.
        pose: usize,
        /// Its left end.
        left: f64,
        /// Its right end.
        right: f64,
    },
    /// A turn is not a finite number.
    #[error("pose {pose} of item {item} is turned by {turn_deg} degrees, which is no turn")]
    Turn {
        /// Which item.
        item: usize,
        /// Which of its poses.
        pose: usize,
        /// What is given.
        turn_deg: f64,
    },
    /// A tilt is not one.
    #[error("the tilt of pose {pose} of item {item} must be within 0 to 45 degrees, not {tilt}")]
    Tilt {
        /// Which item.
        item: usize,
        /// Which of its poses.
        pose: usize,
        /// What is given.
        tilt: f64,
    },
    /// A fixed position, or the origin of a lattice, is no place.
    #[error("pose {pose} of item {item} has a position at {at}, which is no place")]
    Position {
        /// Which item.
        item: usize,
        /// Which of its poses.
        pose: usize,
        /// What is given.
        at: f64,
    },
    /// The step of a lattice is not one.
    #[error("pose {pose} of item {item} has a lattice whose step must be at least a thousandth of a mm, not {step}")]
    Step {
        /// Which item.
        item: usize,
        /// Which of its poses.
        pose: usize,
        /// What is given.
        step: f64,
    },
    /// A position follows a phase that is not there.
    #[error("pose {pose} of item {item} follows phase {phase}, and there are {phases}")]
    NoPhase {
        /// Which item.
        item: usize,
        /// Which of its poses.
        pose: usize,
        /// The phase it names.
        phase: usize,
        /// How many there are.
        phases: usize,
    },
}
