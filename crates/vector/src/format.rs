//! Which kind of file it is, told from its first bytes.

/// A kind of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Format {
    /// ISO 32000.
    Pdf,
    /// Scalable Vector Graphics.
    Svg,
    /// Drawing exchange format, as text.
    Dxf,
}

impl std::fmt::Display for Format {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Pdf => "PDF",
            Self::Svg => "SVG",
            Self::Dxf => "DXF",
        })
    }
}

/// So much of a file is looked at to tell what it is.
const START: usize = 4096;

impl Format {
    /// What a file is, from its bytes; none when it is none of these.
    pub fn of(bytes: &[u8]) -> Option<Self> {
        let start = &bytes[..bytes.len().min(START)];
        // Letters of two bytes (UTF-16) are told by their mark; those of a file's beginning are ASCII.
        let is_wide = start.starts_with(&[0xFF, 0xFE]) || start.starts_with(&[0xFE, 0xFF]);
        let narrow: Vec<u8> = start.iter().copied().filter(|&byte| !is_wide || byte.is_ascii() && byte != 0).collect();
        let start = narrow.as_slice();
        let has = |text: &[u8]| start.windows(text.len()).any(|window| window == text);
        // A PDF may have up to 1024 bytes before its header (ISO 32000-1, H.3).
        if start[..start.len().min(1024 + 5)].windows(5).any(|window| window == b"%PDF-") {
            return Some(Self::Pdf);
        }
        // Compressed, it can only be an SVG.
        if start.starts_with(&[0x1F, 0x8B, 8]) {
            return Some(Self::Svg);
        }
        if crate::dxf::is_binary(bytes) {
            return Some(Self::Dxf);
        }
        if has(b"<svg") || has(b":svg") || (has(b"<?xml") && has(b"svg")) {
            return Some(Self::Svg);
        }
        let text = String::from_utf8_lossy(start);
        let mut lines = text.trim_start_matches('\u{feff}').lines().map(str::trim);
        // Comments (code 999) may stand before the first section.
        loop {
            match (lines.next()?, lines.next()?) {
                ("999", _) => {}
                ("0", value) if value.eq_ignore_ascii_case("SECTION") => return Some(Self::Dxf),
                _ => return None,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Format;

    #[test]
    fn kinds_are_told_apart() {
        assert_eq!(Format::of(b"%PDF-1.7\n"), Some(Format::Pdf));
        assert_eq!(Format::of(b"junk\n%PDF-1.4"), Some(Format::Pdf));
        assert_eq!(Format::of(b"<?xml version=\"1.0\"?>\n<!-- a --><svg width=\"1mm\">"), Some(Format::Svg));
        assert_eq!(Format::of(b"<svg:svg xmlns:svg='x'>"), Some(Format::Svg));
        assert_eq!(Format::of(b"999\r\nmade by hand\r\n  0\r\nSECTION\r\n"), Some(Format::Dxf));
        assert_eq!(Format::of(b"Some Binary DXF\r\n\x1A\0"), Some(Format::Dxf));
        assert_eq!(Format::of(b"\x1F\x8B\x08\0more"), Some(Format::Svg));
        assert_eq!(Format::of(b"\xFF\xFE<\0s\0v\0g\0"), Some(Format::Svg));
        assert_eq!(Format::of(b"hello"), None);
        assert_eq!(Format::of(b""), None);
    }
}
