//! Faults of remnants, in a job or in a stash.

use ellwand_geometry::OutlineFault;

use super::file::FileFault;

/// What is wrong with a remnant, or with the stash it is in.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RemnantFault {
    /// The stash cannot be read.
    #[error("the stash \"{path}\" cannot be used: {reason}")]
    Stash {
        /// As written in the job.
        path: String,
        /// Why.
        reason: FileFault,
    },
    /// Remnants that are not written one below the other.
    #[error("the remnants of this file are not written each under a line [[remnant]], so none can be added")]
    WrittenOtherwise,
    /// What the job is to be cut from belongs to another job by now.
    #[error("the remnant `{name}` is taken: \"{by}\" is cut from it")]
    Taken {
        /// The remnant.
        name: String,
        /// The other job.
        by: String,
    },
    /// What the job left before, another job is cut from.
    #[error("\"{job}\" left the remnant `{name}`, and \"{by}\" is cut from it, so what it leaves cannot be told anew")]
    LeftIsTaken {
        /// The remnant.
        name: String,
        /// The job that left it.
        job: String,
        /// The other job.
        by: String,
    },
    /// No size.
    #[error("the remnant `{name}` has neither a `length` nor an `outline`")]
    NoSize {
        /// The remnant.
        name: String,
    },
    /// A size told twice.
    #[error("the remnant `{name}` has both an `outline` and a `{key}`")]
    SizeTwice {
        /// The remnant.
        name: String,
        /// The other key: `length` or `width`.
        key: &'static str,
    },
    /// An outline that encloses nothing, or is not gone around once.
    #[error("the outline of the remnant `{name}` does not go around it once: {}", told(.fault))]
    Outline {
        /// The remnant.
        name: String,
        /// Why.
        fault: OutlineFault,
    },
    /// Bare numbers without a unit.
    #[error("the outline of the remnant `{name}` has bare numbers, and nothing says in what unit")]
    NoUnit {
        /// The remnant.
        name: String,
    },
    /// Selvages that leave nothing of it.
    #[error("the selvages use up the whole width of the remnant `{name}`, {width:.1} mm")]
    SelvageEatsWidth {
        /// The remnant.
        name: String,
        /// How wide it is, mm.
        width: f64,
    },
    /// A remnant as wide as cloth of which no width is known.
    #[error("the remnant `{name}` has no `width`")]
    NoWidth {
        /// The remnant.
        name: String,
    },
    /// Two remnants of one name.
    #[error("there are two remnants called `{name}`")]
    Twice {
        /// The name.
        name: String,
    },
    /// A remnant of cloth with a design, of which nobody says where it lies.
    #[error("the design of the cloth repeats {direction}, and nothing says where it lies on the remnant `{name}`")]
    NotMeasured {
        /// The remnant.
        name: String,
        /// "across" or "along".
        direction: &'static str,
    },
    /// A remnant of cloth with a border.
    #[error("the remnant `{name}` is of cloth with a border")]
    OfBorder {
        /// The remnant.
        name: String,
    },
}

/// The fault of an outline with corners counted from 1, as a person counts.
fn told(fault: &OutlineFault) -> String {
    match fault {
        OutlineFault::SelfCrossing { first, second, .. } => {
            format!("the edge from corner {} crosses or touches the one from corner {}", first + 1, second + 1)
        }
        OutlineFault::NotFinite { index } => format!("corner {} is not a pair of finite numbers", index + 1),
        other => other.to_string(),
    }
}

impl RemnantFault {
    pub(super) fn help(&self) -> String {
        match self {
            Self::Stash { reason, .. } => reason.help(),
            Self::WrittenOtherwise => "begin each with a line [[remnant]] of its own".into(),
            Self::Taken { .. } => "plan the job again: it will then be cut from something else".into(),
            Self::LeftIsTaken { by, .. } => format!(
                "plan without --leftovers, or plan \"{by}\" again without this stash and take its `used_by` out of the file first"
            ),
            Self::NoSize { .. } => {
                "measure it along the warp: length = \"40 in\"; or give the corners of its edge as `outline`".into()
            }
            Self::SizeTwice { key, .. } => format!("leave `{key}` out, or the outline"),
            Self::Outline { .. } => "give its corners in the order in which its edge passes them".into(),
            Self::NoUnit { .. } => {
                "add coordinates = \"in\", \"cm\" or \"mm\", or give each number a unit: [\"4 in\", \"30 in\"]".into()
            }
            Self::SelvageEatsWidth { .. } => "say which sides still have one: selvage = \"none\"".into(),
            Self::NoWidth { .. } => "measure it from side to side: width = \"20 in\"".into(),
            Self::Twice { .. } => "give each a name of its own".into(),
            Self::NotMeasured { direction: "across", .. } => {
                "measure from its left to the middle of a dominant bar: offset_across = \"2 in\"".into()
            }
            Self::NotMeasured { .. } => {
                "measure from its lower end to the middle of a dominant bar: offset_along = \"2 in\"".into()
            }
            Self::OfBorder { .. } => "a border is laid from a whole width; use `on_hand` for it".into(),
        }
    }
}
