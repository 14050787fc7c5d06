//! DXF files (R12 to 2018, as text).
//!
//! The reader is our own. The general reader in the registry keeps what is needed of the entities, yet refuses files that end without
//! `EOF` or hold letters that are no UTF-8, both of which happen to pattern files; drops what it does not know (hatches) without a word;
//! knows no limits; tells few line numbers; and brings forty crates, a reader of pictures and one of calendars among them.

mod colour;
mod defined;
mod drawn;
mod entity;
mod fitted;
mod insertion;
mod letters;
mod pairs;
mod plane;
mod polyline;
mod sections;
mod simple;
mod spline;
mod tables;
#[cfg(test)]
mod tests;
mod text;
mod walk;
mod write;

pub use write::{CurvesAs, write};

use kurbo::Affine;

use crate::ledger::Ledger;
use crate::{Drawing, Format, Limits, ReadFault, Unit};

/// Reads a DXF file.
///
/// Each insertion of a block is a [`Group`](crate::Group) of its own with the name of the block. A block that nothing inserts is read where
/// it is defined, as files for the exchange of patterns hold their pieces; not so blocks whose name begins with `*`. Bulges are arcs,
/// cubic splines cubics; other splines, and ellipses, are followed to within 0.0001 mm. Colours 7 and "by block" without a block are black.
///
/// Where the header gives `$INSUNITS`, lengths are right; otherwise the unit is [unsaid](Unit::Unsaid). Coordinates stay where the file has
/// them: they may be negative.
///
/// # Errors
///
/// Why it cannot be read.
pub fn read(bytes: &[u8], limits: &Limits) -> Result<Drawing, ReadFault> {
    if is_binary(bytes) {
        let what = "it is a binary DXF; save it as DXF in text form (ASCII)".to_owned();
        return Err(ReadFault::Unsupported { format: Format::Dxf, at: None, what });
    }
    let mut ledger = Ledger::new(Format::Dxf, limits);
    let text = pairs::decode(bytes);
    let sections = sections::Sections::of(&text, &mut ledger)?;
    let unit = tables::unit(&sections)?;
    let mm = if let Unit::Said { mm } = unit { mm } else { 1.0 };
    let mut walk = walk::Walk::new(sections, mm, ledger, limits)?;
    let map = Affine::scale(mm);
    let entities = std::mem::take(&mut walk.sections.entities);
    walk.list(&entities, &walk::Here { map, lift: mm, group: None, around: None, depth: 0 })?;
    defined::draw(&mut walk, map, mm)?;
    let walk::Walk { sheet, groups, layers, ledger, .. } = walk;
    if sheet.strokes.is_empty() && sheet.dots.is_empty() {
        if ledger.has_skipped(walk::PICTURE) {
            return Err(ReadFault::OnlyPictures { format: Format::Dxf });
        }
        return Err(ReadFault::NothingDrawn { format: Format::Dxf, has_text: !sheet.texts.is_empty() });
    }
    Ok(Drawing { sheets: vec![sheet], layers: layers.layers, groups, unit, skipped: ledger.into_skipped() })
}

/// Whether a file is a binary DXF: its first line ends in these words.
pub(crate) fn is_binary(bytes: &[u8]) -> bool {
    bytes[..bytes.len().min(32)].windows(14).any(|window| window == b" Binary DXF\r\n\x1A")
}
