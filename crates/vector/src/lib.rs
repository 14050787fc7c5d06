//! What is drawn in a PDF (ISO 32000), SVG (1.1 and 2) or DXF file (R12 to 2018), and writing such files.
//!
//! A [`Drawing`] holds sheets of strokes with their curves kept, texts and dots, each with its style, layer and group; lengths are mm and
//! `y` runs up, whatever the file does. This crate knows nothing of sewing: what the strokes mean is found elsewhere.

mod arc;
mod arrangement;
mod clip;
mod curve;
mod drawing;
pub mod dxf;
mod fault;
mod format;
mod ledger;
mod limits;
pub mod pdf;
mod pen;
pub mod svg;
#[cfg(test)]
mod testing;
mod tiled;
mod window;

pub use drawing::{
    Colour, Dot, Drawing, Group, GroupKind, Layer, Origin, Run, Sheet, Skipped, Stroke, Style, Text, Unit,
};
pub use fault::ReadFault;
pub use format::Format;
pub use limits::{Counted, Limits};
pub use tiled::{Tiling, TilingFault, tiled};

/// Reads a drawing of any of the formats; which one is told from its bytes.
///
/// # Errors
///
/// Why it cannot be read.
pub fn read(bytes: &[u8], limits: &Limits) -> Result<Drawing, ReadFault> {
    let format = Format::of(bytes).ok_or(ReadFault::UnknownFormat)?;
    if bytes.len() as u64 > limits.bytes {
        return Err(ReadFault::TooMuch { format, counted: Counted::Bytes, limit: limits.bytes, at: None });
    }
    match format {
        Format::Pdf => pdf::read(bytes, limits),
        Format::Svg => svg::read(bytes, limits),
        Format::Dxf => dxf::read(bytes, limits),
    }
}
