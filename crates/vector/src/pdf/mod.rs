//! PDF files (ISO 32000).

mod read;
mod write;

pub use read::read;
pub use write::write;

/// mm in a point, the unit of PDF: 1/72 in (ISO 32000-1, 8.3.2.3).
const MM_PER_POINT: f64 = 25.4 / 72.0;
