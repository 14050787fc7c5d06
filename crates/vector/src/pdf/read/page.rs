//! Pages: which part of them is seen, how they lie, and what draws them.

use hayro_syntax::object::{Array, Dict, ObjRef, Stream};
use hayro_syntax::page::{Page, Rotation};
use hayro_syntax::xref::XRef;
use hayro_syntax::{Filter, object::MaybeRef, object::Object};

use super::matrix::Matrix;
use super::predictor::Predictor;
use super::tally::Tally;
use super::unpack::{Packing, UnpackFault};
use crate::pdf::MM_PER_POINT;
use crate::{Counted, ReadFault};

/// No page is longer than a kilometre.
const LONGEST_MM: f64 = 1e6;

/// The size of a page, and where its points lie on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sight {
    /// Width and height as it is seen, mm.
    pub(super) size: [f64; 2],
    /// From points of the page to mm from its lower left corner as it is seen.
    pub(super) place: Matrix,
}

impl Sight {
    pub(super) fn of(page: &Page<'_>, tally: &Tally) -> Result<Self, ReadFault> {
        let unit = page.raw().get::<f64>("UserUnit").filter(|unit| unit.is_finite() && *unit > 0.0).unwrap_or(1.0);
        let crop = page.intersected_crop_box();
        let shown = if crop.width() > 0.0 && crop.height() > 0.0 { crop } else { page.media_box() };
        let mm = unit * MM_PER_POINT;
        let [w, h] = [shown.width() * mm, shown.height() * mm];
        if !(w > 0.0 && h > 0.0 && w.max(h) <= LONGEST_MM && shown.x0.is_finite() && shown.y0.is_finite()) {
            return Err(tally.damaged(format!("its page would be {w:.0} by {h:.0} mm")));
        }
        let upright = Matrix([mm, 0.0, 0.0, mm, -shown.x0 * mm, -shown.y0 * mm]);
        let (size, turn) = match page.rotation() {
            Rotation::None => ([w, h], Matrix::SAME),
            Rotation::Horizontal => ([h, w], Matrix([0.0, -1.0, 1.0, 0.0, 0.0, w])),
            Rotation::Flipped => ([w, h], Matrix([-1.0, 0.0, 0.0, -1.0, w, h])),
            Rotation::FlippedHorizontal => ([h, w], Matrix([0.0, 1.0, -1.0, 0.0, h, 0.0])),
        };
        Ok(Self { size, place: upright.then(turn) })
    }
}

/// What draws a page: its content streams, one after the other.
pub(super) fn content(page: &Page<'_>, xref: &XRef, tally: &mut Tally) -> Result<Vec<u8>, ReadFault> {
    let raw = page.raw();
    if let Some(stream) = raw.get::<Stream<'_>>("Contents") {
        return unpacked(&stream, tally);
    }
    let mut whole = Vec::new();
    for part in raw.get::<Array<'_>>("Contents").iter().flat_map(Array::raw_iter) {
        let stream = match part {
            MaybeRef::Ref(id) => xref.get::<Stream<'_>>(id.into()),
            MaybeRef::NotRef(object) => object.into_stream(),
        };
        let Some(stream) = stream else { return Err(tally.damaged("a part of the page is not in the file")) };
        whole.extend(unpacked(&stream, tally)?);
        whole.push(b'\n');
        if whole.len() as u64 > tally.limits.bytes {
            return Err(tally.too_much(Counted::Bytes, tally.limits.bytes));
        }
    }
    if whole.is_empty() && raw.get_ref("Contents").is_some_and(|id| is_missing(xref, id)) {
        return Err(tally.damaged("what the page draws is not in the file"));
    }
    Ok(whole)
}

fn is_missing(xref: &XRef, id: ObjRef) -> bool {
    xref.get::<Object<'_>>(id.into()).is_none()
}

/// A stream, unpacked within the limits and counted.
pub(super) fn unpacked(stream: &Stream<'_>, tally: &mut Tally) -> Result<Vec<u8>, ReadFault> {
    let limit = usize::try_from(tally.limits.bytes).unwrap_or(usize::MAX);
    let mut data = stream.raw_data();
    for (index, filter) in stream.filters().into_iter().enumerate() {
        let predictor = parameters(stream.dict(), index);
        let packing = match filter {
            Filter::Crypt if index == 0 => continue,
            Filter::FlateDecode => Packing::Flate(predictor.0),
            Filter::LzwDecode => Packing::Lzw { predictor: predictor.0, is_early: predictor.1 },
            Filter::AsciiHexDecode => Packing::Hex,
            Filter::Ascii85Decode => Packing::Base85,
            Filter::RunLengthDecode => Packing::Runs,
            _ => return Err(broken(stream, tally, "is packed like a picture")),
        };
        data = match packing.undo(&data, limit) {
            Ok(next) => next.into(),
            Err(UnpackFault::TooLong) => return Err(tally.too_much(Counted::Bytes, tally.limits.bytes)),
            Err(UnpackFault::Broken) => return Err(broken(stream, tally, "breaks off or cannot be unpacked")),
            Err(UnpackFault::Unknown) => return Err(broken(stream, tally, "is packed in a way no drawing is")),
        };
    }
    tally.unpacked(stream.obj_id(), data.len())?;
    Ok(data.into_owned())
}

fn broken(stream: &Stream<'_>, tally: &Tally, what: &str) -> ReadFault {
    tally.damaged(format!("object {} {what}", stream.obj_id().obj_number))
}

/// The parameters of the filter with this index, and whether LZW codes grow early.
fn parameters(dict: &Dict<'_>, index: usize) -> (Predictor, bool) {
    let found = ["DecodeParms", "DP"].into_iter().find_map(|key| {
        dict.get::<Dict<'_>>(key)
            .filter(|_| index == 0)
            .or_else(|| dict.get::<Array<'_>>(key)?.iter::<Object<'_>>().nth(index)?.into_dict())
    });
    let Some(found) = found else { return (Predictor::NONE, true) };
    let number = |key: &str, usual: i32| found.get::<i32>(key).unwrap_or(usual);
    let predictor = Predictor {
        kind: number("Predictor", 1),
        colours: number("Colors", 1),
        bits: number("BitsPerComponent", 8),
        columns: number("Columns", 1),
    };
    (predictor, number("EarlyChange", 1) != 0)
}
