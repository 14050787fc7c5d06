//! Why shapes cannot be put on paper, and the questions that find it out before anything is packed.

use ellwand_nest::fits_across;

use super::PaperShape;

/// Why shapes cannot be put on paper.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PaperFault {
    /// A shape that fits the paper neither as drawn nor turned by a quarter.
    #[error(
        "\"{name}\" is {width:.1} mm by {height:.1} mm, and the paper has room for neither that nor the same turned by a quarter"
    )]
    TooLarge {
        /// The shape.
        name: String,
        /// Its width as drawn, mm.
        width: f64,
        /// Its height as drawn, mm.
        height: f64,
    },
    /// A measure of the paper that is no length above zero.
    #[error("the {measure} of the paper must be above 0 mm, not {value}")]
    NoRoom {
        /// Which.
        measure: &'static str,
        /// What is given.
        value: f64,
    },
    /// A distance between shapes that is none.
    #[error("the distance between two shapes must be 0 mm or more, not {gap}")]
    Gap {
        /// What is given.
        gap: f64,
    },
}

/// That `value` is a length of paper that something may lie on.
pub(super) fn is_room(measure: &'static str, value: f64) -> Result<(), PaperFault> {
    if value.is_finite() && value > 0.0 { Ok(()) } else { Err(PaperFault::NoRoom { measure, value }) }
}

/// That `gap` is a distance.
pub(super) fn is_gap(gap: f64) -> Result<(), PaperFault> {
    if gap.is_finite() && gap >= 0.0 { Ok(()) } else { Err(PaperFault::Gap { gap }) }
}

/// That each shape fits into a rectangle of paper in some quarter turn; the height may be infinite.
pub(super) fn all_fit(shapes: &[PaperShape], room: [f64; 2]) -> Result<(), PaperFault> {
    let too_large = |shape: &&PaperShape| {
        let bounds = shape.outline.bounds();
        let (width, height) = (bounds.width(), bounds.height());
        !fits(width, height, room) && !fits(height, width, room)
    };
    match shapes.iter().find(too_large) {
        Some(shape) => {
            let bounds = shape.outline.bounds();
            Err(PaperFault::TooLarge { name: shape.name.clone(), width: bounds.width(), height: bounds.height() })
        }
        None => Ok(()),
    }
}

/// Whether a box fits into a rectangle as it stands.
pub(super) fn fits(width: f64, height: f64, [across, along]: [f64; 2]) -> bool {
    fits_across(width, across) && fits_across(height, along)
}
