//! Compressed SVG (svgz): a gzip file (RFC 1952) of one member.

use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_with_limit};

use super::document::damaged;
use crate::{Counted, Format, Limits, ReadFault};

/// Whether a file is compressed.
pub(super) fn is_packed(bytes: &[u8]) -> bool {
    bytes.starts_with(&[0x1F, 0x8B])
}

/// What is in a compressed file, no more of it than a file may hold.
pub(super) fn unpack(bytes: &[u8], limits: &Limits) -> Result<Vec<u8>, ReadFault> {
    let packed = past_header(bytes).ok_or_else(|| damaged(None, "it is compressed, and breaks off at once"))?;
    let limit = usize::try_from(limits.bytes).unwrap_or(usize::MAX);
    decompress_to_vec_with_limit(packed, limit).map_err(|fault| match fault.status {
        TINFLStatus::HasMoreOutput => {
            ReadFault::TooMuch { format: Format::Svg, counted: Counted::Bytes, limit: limits.bytes, at: None }
        }
        _ => damaged(None, "it is compressed, and cannot be unpacked"),
    })
}

/// What follows the header with its optional parts (RFC 1952, 2.3).
fn past_header(bytes: &[u8]) -> Option<&[u8]> {
    const CHECKED: u8 = 2;
    const EXTRA: u8 = 4;
    const NAME: u8 = 8;
    const COMMENT: u8 = 16;
    const DEFLATED: u8 = 8;
    let (header, mut rest) = bytes.split_at_checked(10)?;
    let flags = header[3];
    if header[2] != DEFLATED {
        return None;
    }
    if flags & EXTRA != 0 {
        let (length, after) = rest.split_at_checked(2)?;
        rest = after.get(usize::from(u16::from_le_bytes([length[0], length[1]]))..)?;
    }
    for text in [NAME, COMMENT] {
        if flags & text != 0 {
            rest = rest.get(rest.iter().position(|&byte| byte == 0)? + 1..)?;
        }
    }
    if flags & CHECKED != 0 { rest.get(2..) } else { Some(rest) }
}
