//! Unpacking streams, never past a limit (ISO 32000-1, 7.4).
//!
//! The library unpacks as well, but knows no limit: a few kilobytes can be packed so that they fill any memory.

use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_with_limit, decompress_to_vec_zlib_with_limit};

use super::predictor::Predictor;

/// Why a stream could not be unpacked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum UnpackFault {
    /// It is longer than the limit.
    TooLong,
    /// It breaks off or makes no sense.
    Broken,
    /// It is packed in a way that only pictures are.
    Unknown,
}

/// A way of packing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Packing {
    Flate(Predictor),
    Lzw { predictor: Predictor, is_early: bool },
    Hex,
    Base85,
    Runs,
}

impl Packing {
    pub(super) fn undo(self, packed: &[u8], limit: usize) -> Result<Vec<u8>, UnpackFault> {
        match self {
            Self::Flate(predictor) => predictor.undo(inflate(packed, limit)?),
            Self::Lzw { predictor, is_early } => predictor.undo(lzw(packed, is_early, limit)?),
            Self::Hex => hex(packed),
            Self::Base85 => base85(packed, limit),
            Self::Runs => runs(packed, limit),
        }
    }
}

/// Zlib data, or bare deflate data as some writers leave it. A wrong checksum at the end is let pass: the data are whole.
fn inflate(packed: &[u8], limit: usize) -> Result<Vec<u8>, UnpackFault> {
    let settle = |fault: miniz_oxide::inflate::DecompressError| match fault.status {
        TINFLStatus::HasMoreOutput => Err(UnpackFault::TooLong),
        TINFLStatus::Adler32Mismatch => Ok(fault.output),
        _ => Err(UnpackFault::Broken),
    };
    // `HasMoreOutput` is what the library says at the limit itself as well.
    let limit = limit.saturating_add(1);
    let unpacked = decompress_to_vec_zlib_with_limit(packed, limit).or_else(settle).or_else(|fault| match fault {
        // An end line before the data is not part of them.
        UnpackFault::Broken if packed.first().is_some_and(|first| matches!(first, b'\r' | b'\n')) => {
            decompress_to_vec_zlib_with_limit(&packed[1..], limit).or_else(settle)
        }
        // The checksum may have been cut off: whole blocks without it are whole.
        UnpackFault::Broken if packed.len() > 2 => decompress_to_vec_with_limit(&packed[2..], limit).or_else(settle),
        fault => Err(fault),
    })?;
    if unpacked.len() >= limit { Err(UnpackFault::TooLong) } else { Ok(unpacked) }
}

fn lzw(packed: &[u8], is_early: bool, limit: usize) -> Result<Vec<u8>, UnpackFault> {
    let mut out = Vec::new();
    // Each code is a stretch of what has been written: where it starts and how long it is.
    let mut table: Vec<(usize, usize)> = Vec::new();
    let (mut bits, mut held, mut width) = (0_u32, 0, 9);
    let mut before: Option<(usize, usize)> = None;
    for &byte in packed {
        bits = (bits << 8) | u32::from(byte);
        held += 8;
        if held < width {
            continue;
        }
        held -= width;
        let code = ((bits >> held) & ((1 << width) - 1)) as usize;
        match code {
            256 => {
                table.clear();
                width = 9;
                before = None;
                continue;
            }
            257 => return Ok(out),
            _ => {}
        }
        let start = out.len();
        if code < 256 {
            out.push(code as u8);
        } else if let Some(&(from, length)) = table.get(code - 258) {
            for at in from..from + length {
                out.push(out[at]);
            }
        } else if let Some((from, length)) = before.filter(|_| code == 258 + table.len()) {
            for at in from..=from + length {
                // The last byte is the first one of this very stretch.
                let byte = if at == from + length { out[from] } else { out[at] };
                out.push(byte);
            }
        } else {
            return Err(UnpackFault::Broken);
        }
        if out.len() > limit {
            return Err(UnpackFault::TooLong);
        }
        if let Some((from, length)) = before
            && table.len() < 4096 - 258
        {
            table.push((from, length + 1));
        }
        before = Some((start, out.len() - start));
        width = match 258 + table.len() + usize::from(is_early) {
            ..=511 => 9,
            512..=1023 => 10,
            1024..=2047 => 11,
            _ => 12,
        };
    }
    Ok(out)
}

fn hex(packed: &[u8]) -> Result<Vec<u8>, UnpackFault> {
    let mut digits = Vec::new();
    for &byte in packed.iter().take_while(|&&byte| byte != b'>') {
        match (byte as char).to_digit(16) {
            Some(digit) => digits.push(digit as u8),
            None if byte.is_ascii_whitespace() || byte == 0 => {}
            None => return Err(UnpackFault::Broken),
        }
    }
    Ok(digits.chunks(2).map(|pair| pair[0] << 4 | pair.get(1).copied().unwrap_or(0)).collect())
}

fn base85(packed: &[u8], limit: usize) -> Result<Vec<u8>, UnpackFault> {
    let packed = packed.trim_ascii_start();
    let packed = packed.strip_prefix(b"<~").unwrap_or(packed);
    let mut out = Vec::with_capacity(packed.len() / 5 * 4 + 4);
    let (mut word, mut held) = (0_u64, 0);
    for &byte in packed {
        match byte {
            b'~' => break,
            b'z' if held == 0 => out.extend([0; 4]),
            b'!'..=b'u' => {
                word = word * 85 + u64::from(byte - b'!');
                held += 1;
                if held == 5 {
                    out.extend(u32::try_from(word).map_err(|_| UnpackFault::Broken)?.to_be_bytes());
                    (word, held) = (0, 0);
                }
            }
            _ if byte.is_ascii_whitespace() || byte == 0 => {}
            _ => return Err(UnpackFault::Broken),
        }
        if out.len() > limit {
            return Err(UnpackFault::TooLong);
        }
    }
    if held > 0 {
        for _ in held..5 {
            word = word * 85 + 84;
        }
        let word = u32::try_from(word).map_err(|_| UnpackFault::Broken)?;
        out.extend(&word.to_be_bytes()[..held - 1]);
    }
    Ok(out)
}

fn runs(packed: &[u8], limit: usize) -> Result<Vec<u8>, UnpackFault> {
    let mut out = Vec::new();
    let mut rest = packed;
    while let [length, tail @ ..] = rest {
        match *length {
            128 => break,
            0..=127 => {
                let (copied, tail) = tail.split_at_checked(*length as usize + 1).ok_or(UnpackFault::Broken)?;
                out.extend(copied);
                rest = tail;
            }
            _ => {
                let (byte, tail) = tail.split_first().ok_or(UnpackFault::Broken)?;
                out.extend(std::iter::repeat_n(*byte, 257 - *length as usize));
                rest = tail;
            }
        }
        if out.len() > limit {
            return Err(UnpackFault::TooLong);
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use miniz_oxide::deflate::compress_to_vec_zlib;

    fn undo(packing: Packing, packed: &[u8]) -> Vec<u8> {
        packing.undo(packed, 1 << 20).expect("it unpacks")
    }

    #[test]
    fn each_packing_is_undone() {
        assert_eq!(undo(Packing::Flate(Predictor::NONE), &compress_to_vec_zlib(b"0 0 m", 6)), b"0 0 m");
        assert_eq!(undo(Packing::Hex, b"41 4\n2 5>"), b"ABP");
        // The example of ISO 32000-1, 7.4.4.2.
        let packed = [0x80, 0x0B, 0x60, 0x50, 0x22, 0x0C, 0x0C, 0x85, 0x01];
        let unpacked = [45, 45, 45, 45, 45, 65, 45, 45, 45, 66];
        assert_eq!(undo(Packing::Lzw { predictor: Predictor::NONE, is_early: true }, &packed), unpacked);
        assert_eq!(undo(Packing::Base85, b"<~87cUR\nD]i,\"Ebo80~>"), b"Hello World!");
        assert_eq!(undo(Packing::Base85, b"zz!!~>"), [0; 9]);
        assert_eq!(undo(Packing::Runs, &[1, 7, 8, 254, 9, 128, 5]), [7, 8, 9, 9, 9]);
    }

    #[test]
    fn rows_of_png_filters_are_undone() {
        let predictor = Predictor { kind: 12, colours: 1, bits: 8, columns: 3 };
        let rows = [0, 1, 2, 3, 2, 1, 1, 1, 1, 5, 1, 1];
        assert_eq!(undo(Packing::Flate(predictor), &compress_to_vec_zlib(&rows, 6)), [1, 2, 3, 2, 3, 4, 5, 6, 7]);
    }

    #[test]
    fn nothing_is_unpacked_past_the_limit() {
        let packed = compress_to_vec_zlib(&[0; 5000], 6);
        assert_eq!(Packing::Flate(Predictor::NONE).undo(&packed, 4999), Err(UnpackFault::TooLong));
        assert_eq!(Packing::Flate(Predictor::NONE).undo(&packed, 5000).map(|all| all.len()), Ok(5000));
        assert_eq!(Packing::Runs.undo(&[129, 0], 100), Err(UnpackFault::TooLong));
    }

    #[test]
    fn a_stream_that_breaks_off_is_broken_but_a_lost_checksum_is_not() {
        let packed = compress_to_vec_zlib(b"0 0 m 100 100 l S 200 200 m 300 300 l S", 6);
        let flate = Packing::Flate(Predictor::NONE);
        assert_eq!(flate.undo(&packed[..packed.len() / 2], 1000), Err(UnpackFault::Broken));
        assert!(flate.undo(&packed[..packed.len() - 4], 1000).is_ok());
    }
}
