//! PDF files (ISO 32000).

mod read;
mod write;

use ellwand_geometry::{EdgeShape, Point};

pub use read::read;
pub use write::write;

use crate::Run;

/// mm in a point, the unit of PDF: 1/72 in (ISO 32000-1, 8.3.2.3).
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// End and control points of a run; the point an arc passes through.
pub(crate) fn run_points(run: &Run) -> impl Iterator<Item = Point> + use<> {
    let (first, second) = match run.shape {
        EdgeShape::Straight => (None, None),
        EdgeShape::Cubic { first, second } => (Some(first), Some(second)),
        EdgeShape::Arc { through } => (Some(through), None),
    };
    first.into_iter().chain(second).chain([run.to])
}
