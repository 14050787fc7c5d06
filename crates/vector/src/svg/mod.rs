//! SVG files.

use crate::{Drawing, Format, Limits, ReadFault};

/// Reads a SVG file.
///
/// # Errors
///
/// Why it cannot be read.
pub fn read(_bytes: &[u8], _limits: &Limits) -> Result<Drawing, ReadFault> {
    Err(ReadFault::Unsupported { format: Format::Svg, at: None, what: "not built yet".to_owned() })
}
