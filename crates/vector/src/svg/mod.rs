//! SVG files (SVG 1.1 and 2).
//!
//! The elements are parsed by `roxmltree` and the small languages within attributes by `svgtypes` and `simplecss`. A renderer's reader
//! would do more of the work, but drops ids, groups and whatever is not shown, and makes cubics of all arcs.

mod css;
mod document;
mod drawn;
mod marker;
mod path_data;
mod shapes;
mod style;
#[cfg(test)]
mod tests;
mod text;
mod unpack;
mod used;
mod viewport;
mod walk;
mod write;

pub use write::write;

use crate::ledger::Ledger;
use crate::{Drawing, Format, Limits, ReadFault};

/// Reads an SVG file, also a compressed one (svgz).
///
/// Groups (`g`, `a`, nested `svg`, `switch`, and `use` with a name) become [`Group`](crate::Group)s, called by an attribute `label` of any
/// namespace, their `id` or their `title`, in this order. One with a name that is not shown is read as a group that is not shown: it may
/// be a layer switched off. Everything else that is hidden is passed over and told.
///
/// Where the file gives a width or height in a unit of length and a view box, lengths are right ([`Unit::Said`](crate::Unit)); otherwise
/// a pixel counts as 1/96 in. `y` runs up from the lower edge of the sheet; of a file without a size, from the `y` 0 of the file.
///
/// # Errors
///
/// Why it cannot be read.
pub fn read(bytes: &[u8], limits: &Limits) -> Result<Drawing, ReadFault> {
    let unpacked;
    let bytes = if unpack::is_packed(bytes) {
        unpacked = unpack::unpack(bytes, limits)?;
        &unpacked
    } else {
        bytes
    };
    let text = document::decode(bytes);
    let document = document::parse(&text, limits)?;
    let page = viewport::page(document.root_element());
    let mut walk = walk::Walk::new(&document, Ledger::new(Format::Svg, limits));
    walk.all(&page)?;
    if walk.sheet.strokes.is_empty() {
        if walk.ledger.has_skipped(walk::PICTURE) {
            return Err(ReadFault::OnlyPictures { format: Format::Svg });
        }
        return Err(ReadFault::NothingDrawn { format: Format::Svg, has_text: !walk.sheet.texts.is_empty() });
    }
    let walk::Walk { sheet, groups, ledger, .. } = walk;
    Ok(Drawing { sheets: vec![sheet], layers: Vec::new(), groups, unit: page.unit, skipped: ledger.into_skipped() })
}
