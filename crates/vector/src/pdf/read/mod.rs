//! Reading a PDF: the library `hayro-syntax` gives objects, this module follows what the pages draw.

mod cmap;
mod colour;
mod content;
pub(super) mod encoding;
mod font;
mod form;
mod layers;
mod line;
mod matrix;
mod page;
mod paint;
mod path;
mod predictor;
mod raw;
mod shape;
mod state;
mod tally;
#[cfg(test)]
mod tests;
mod text;
mod unpack;
mod vet;
pub(super) mod widths;

use std::collections::BTreeMap;

use hayro_syntax::object::Array;
use hayro_syntax::{DecryptionError, LoadPdfError, Pdf};

use self::content::{Frame, Interpreter};
use self::layers::Layers;
use self::line::Line;
use self::page::Sight;
use self::tally::{Passed, Tally};
use super::MM_PER_POINT;
use crate::{Counted, Drawing, Format, Limits, Origin, ReadFault, Sheet, Unit};

/// Reads a PDF file: lines, areas and text of every page, with curves kept, in mm from the lower left corner of the page as it is seen.
///
/// What lies outside of the page or of a clip is cut away; a clip is taken as the rectangle around it. Forms become groups, optional content
/// becomes layers, read whether they are shown or not. A path that is painted counts as one stroke for each of its parts. Pictures, shadings
/// and annotations are passed over and counted ([`Drawing::skipped`]).
///
/// # Errors
///
/// Why it cannot be read: damaged, locked, without lines, or past one of the limits.
pub fn read(bytes: &[u8], limits: &Limits) -> Result<Drawing, ReadFault> {
    if bytes.len() as u64 > limits.bytes {
        return Err(ReadFault::TooMuch { format: Format::Pdf, counted: Counted::Bytes, limit: limits.bytes, at: None });
    }
    let pdf = open(vet::vet(bytes, limits)?)?;
    let mut interpreter = Interpreter {
        xref: pdf.xref(),
        tally: Tally::new(*limits),
        layers: Layers::of(pdf.xref()),
        groups: Vec::new(),
        fonts: BTreeMap::new(),
        sheet: Sheet::default(),
        line: Line::default(),
    };
    if pdf.pages().len() > limits.sheets {
        return Err(interpreter.tally.too_much(Counted::Sheets, limits.sheets as u64));
    }
    let mut sheets = Vec::new();
    for page in pdf.pages().iter() {
        interpreter.tally.sheet = sheets.len() + 1;
        let sight = Sight::of(page, &interpreter.tally)?;
        let notes = page.raw().get::<Array<'_>>("Annots").map_or(0, |list| list.raw_iter().count());
        interpreter.tally.pass_all(Passed::Annotation, notes);
        let content = page::content(page, pdf.xref(), &mut interpreter.tally)?;
        let state = Interpreter::first_state(sight.place, sight.size);
        let mut frame = Frame::new(state, page.resources().clone(), Origin::default(), Vec::new());
        interpreter.follow(content, &mut frame)?;
        let mut sheet = interpreter.take_sheet();
        sheet.size = Some(sight.size);
        sheets.push(sheet);
    }
    let has_text = sheets.iter().any(|sheet| !sheet.texts.is_empty());
    if sheets.iter().all(|sheet| sheet.strokes.is_empty()) {
        return Err(match interpreter.tally.pictures() {
            0 => ReadFault::NothingDrawn { format: Format::Pdf, has_text },
            _ => ReadFault::OnlyPictures { format: Format::Pdf },
        });
    }
    Ok(Drawing {
        sheets,
        layers: interpreter.layers.list,
        groups: interpreter.groups,
        unit: Unit::Said { mm: MM_PER_POINT },
        skipped: interpreter.tally.into_skipped(),
    })
}

fn open(bytes: Vec<u8>) -> Result<Pdf, ReadFault> {
    Pdf::new(bytes).map_err(|fault| match fault {
        LoadPdfError::Decryption(DecryptionError::PasswordProtected | DecryptionError::UnsupportedAlgorithm) => {
            ReadFault::Locked
        }
        LoadPdfError::Decryption(_) => {
            ReadFault::Damaged { format: Format::Pdf, at: None, what: "its lock makes no sense".to_owned() }
        }
        LoadPdfError::Invalid => ReadFault::Damaged {
            format: Format::Pdf,
            at: None,
            what: "it has no table of its objects and pages".to_owned(),
        },
    })
}
