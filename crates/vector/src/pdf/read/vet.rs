//! A look at every stream of a file before the library sees it.
//!
//! The library unpacks the streams that hold tables of objects by itself and without a limit. So each stream that could be one is measured
//! first, and pictures, which are of no use here, are blanked so that none of them can pass for a table.

use super::predictor::Predictor;
use super::raw::{after, dictionary, filters, find, is_picture, number, shallow};
use super::unpack::{Packing, UnpackFault};
use crate::{Counted, Format, Limits, ReadFault};

/// A file may have so many streams that never end; finding out costs a walk through all that follows.
const ENDLESS: usize = 16;

/// Dictionaries may lie so deep in each other. Deeper ones, left open, make the library look through the rest of the file over and over.
const DEEPEST: usize = 100;

/// Checks all streams and gives back a copy of the file without its pictures.
pub(super) fn vet(bytes: &[u8], limits: &Limits) -> Result<Vec<u8>, ReadFault> {
    let mut copy = bytes.to_vec();
    let (mut at, mut before, mut endless, mut total) = (0, 0, 0, 0_u64);
    while let Some(found) = find(&bytes[at..], b"stream") {
        let keyword = at + found;
        at = keyword + 6;
        let data = match &bytes[at..] {
            [b'\r', b'\n', ..] => at + 2,
            [b'\n' | b'\r', ..] => at + 1,
            _ => continue,
        };
        let Some(length) = find(&bytes[data..], b"endstream") else {
            endless += 1;
            if endless > ENDLESS {
                return Err(damaged(keyword, "its streams have no end"));
            }
            continue;
        };
        check_depth(bytes, before..keyword)?;
        let text = dictionary(&bytes[before..keyword]);
        before = data + length;
        at = before + b"endstream".len();
        if is_picture(&text) {
            copy[data..data + length].fill(0);
            continue;
        }
        total = total.saturating_add(measure(&text, &bytes[data..data + length], limits, keyword)?);
        if total > limits.unpacked_bytes {
            return Err(too_much(Counted::UnpackedBytes, limits.unpacked_bytes, keyword));
        }
    }
    check_depth(bytes, before..bytes.len())?;
    Ok(copy)
}

/// Checks how deep dictionaries lie in each other between two streams.
fn check_depth(bytes: &[u8], part: std::ops::Range<usize>) -> Result<(), ReadFault> {
    let start = part.start;
    let (mut depth, mut at) = (0_usize, 0);
    let part = &bytes[part];
    while let Some(pair) = part.get(at..at + 2) {
        match pair {
            b"<<" => {
                depth += 1;
                at += 1;
            }
            b">>" => {
                depth = depth.saturating_sub(1);
                at += 1;
            }
            // A new object; what a string before it holds does not count.
            b"ob" if part[at..].starts_with(b"obj") => depth = 0,
            _ => {}
        }
        if depth > DEEPEST {
            return Err(damaged(start + at, "its dictionaries lie within each other without end"));
        }
        at += 1;
    }
    Ok(())
}

fn damaged(at: usize, what: &str) -> ReadFault {
    ReadFault::Damaged { format: Format::Pdf, at: Some(format!("byte {at}")), what: what.to_owned() }
}

fn too_much(counted: Counted, limit: u64, at: usize) -> ReadFault {
    ReadFault::TooMuch { format: Format::Pdf, counted, limit, at: Some(format!("byte {at}")) }
}

/// How long a stream is once unpacked.
fn measure(text: &[u8], data: &[u8], limits: &Limits, at: usize) -> Result<u64, ReadFault> {
    let unusual = |what: &str| ReadFault::Unsupported {
        format: Format::Pdf,
        at: Some(format!("byte {at}")),
        what: format!("{what}; print or save it anew as a plain PDF"),
    };
    let predictor = Predictor {
        kind: number(text, b"Predictor", 1),
        colours: number(text, b"Colors", 1),
        bits: number(text, b"BitsPerComponent", 8),
        columns: number(text, b"Columns", 1),
    };
    let own = shallow(text);
    let parameters = after(&own, b"DecodeParms").or_else(|| after(&own, b"DP")).unwrap_or(b"<");
    let parameters = parameters.strip_prefix(b"[").map_or(parameters, <[u8]>::trim_ascii_start);
    if matches!(parameters.first(), Some(b'0'..=b'9')) {
        return Err(unusual("a stream does not say itself how it is packed"));
    }
    if !predictor.is_sound() {
        return Err(damaged(at, "a stream is packed in rows of no sensible length"));
    }
    let limit = usize::try_from(limits.bytes).unwrap_or(usize::MAX);
    let (mut unpacked, mut longest): (Option<Vec<u8>>, u64) = (None, data.len() as u64);
    for name in filters(&own).ok_or_else(|| unusual("a stream does not say itself how it is packed"))? {
        let packing = match name {
            b"FlateDecode" | b"Fl" => Packing::Flate(Predictor::NONE),
            b"LZWDecode" | b"LZW" => Packing::Lzw { predictor: Predictor::NONE, is_early: true },
            b"ASCIIHexDecode" | b"AHx" => Packing::Hex,
            b"ASCII85Decode" | b"A85" => Packing::Base85,
            b"RunLengthDecode" | b"RL" => Packing::Runs,
            _ => break,
        };
        match packing.undo(unpacked.as_deref().unwrap_or(data), limit) {
            Ok(next) => {
                longest = longest.max(next.len() as u64);
                unpacked = Some(next);
            }
            Err(UnpackFault::TooLong) => return Err(too_much(Counted::Bytes, limits.bytes, at)),
            // Told where it is needed; it may be locked, or not needed at all.
            Err(_) => break,
        }
    }
    Ok(longest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use miniz_oxide::deflate::compress_to_vec_zlib;

    fn stream(dictionary: &str, data: &[u8]) -> Vec<u8> {
        [b"%PDF-1.7\n1 0 obj\n", dictionary.as_bytes(), b"\nstream\n", data, b"\nendstream\nendobj\n"].concat()
    }

    fn limits() -> Limits {
        Limits { bytes: 10_000, ..Limits::default() }
    }

    #[test]
    fn bombs_are_measured_however_they_are_packed() {
        let bomb = compress_to_vec_zlib(&[0; 20_000], 6);
        let nested = compress_to_vec_zlib(&compress_to_vec_zlib(&[0; 2_000_000], 6), 6);
        for (dictionary, data) in [
            ("<< /Type /ObjStm /Filter /FlateDecode >>", &bomb),
            ("<</Filter[/Flate#44ecode]>>", &bomb),
            ("<< /Filter [ /FlateDecode /FlateDecode ] >>", &nested),
        ] {
            let fault = vet(&stream(dictionary, data), &limits());
            assert!(
                matches!(fault, Err(ReadFault::TooMuch { counted: Counted::Bytes, .. })),
                "{dictionary}: {fault:?}"
            );
        }
    }

    #[test]
    fn filters_that_stand_elsewhere_are_refused() {
        for dictionary in ["<< /Filter 5 0 R >>", "<< /Filter [ 5 0 R ] >>", "<< /Filter [/FlateDecode 5 0 R] >>"] {
            let fault = vet(&stream(dictionary, b"x"), &limits());
            assert!(matches!(fault, Err(ReadFault::Unsupported { .. })), "{dictionary}: {fault:?}");
        }
        assert!(vet(&stream("<< /Filter /FlateDecode /Length 5 0 R >>", b"x"), &limits()).is_ok());
    }

    #[test]
    fn rows_without_end_are_refused() {
        for parameters in
            ["/Predictor 12 /Columns 99999999999", "/Predictor 2 /Columns 0", "/Predictor 12 /Columns 5 0 R"]
        {
            let fault = vet(&stream(&format!("<< /DecodeParms << {parameters} >> >>"), b"x"), &limits());
            assert!(matches!(fault, Err(ReadFault::Damaged { .. })), "{parameters}: {fault:?}");
        }
        let fault = vet(&stream("<< /DecodeParms [ 5 0 R ] >>", b"x"), &limits());
        assert!(matches!(fault, Err(ReadFault::Unsupported { .. })), "{fault:?}");
    }

    #[test]
    fn dictionaries_without_end_are_refused() {
        let fault = vet(&b"<< /Root 1 0 R ".repeat(200), &limits());
        assert!(matches!(fault, Err(ReadFault::Damaged { .. })), "{fault:?}");
        assert!(vet(&b"1 0 obj << /Root << >> (<<) >> endobj ".repeat(200), &limits()).is_ok());
    }

    #[test]
    fn pictures_are_blanked() {
        let copy = vet(&stream("<< /Subtype /Image /Filter /DCTDecode >>", b"abc"), &limits()).expect("it is sound");
        assert!(find(&copy, b"abc").is_none());
        for dictionary in [
            "<< /Subtype /Form >>",
            "<< /Subtype /Form /Resources << /XObject << /Image 5 0 R >> /Font << /F 6 0 R >> >> /Name (/Subtype /Image) >>",
        ] {
            let file = stream(dictionary, b"abc");
            assert_eq!(vet(&file, &limits()), Ok(file));
        }
    }
}
