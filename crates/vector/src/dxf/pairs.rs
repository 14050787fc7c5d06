//! A DXF file as text is pairs of lines: a group code and its value.

use std::borrow::Cow;

use crate::{Format, ReadFault};

/// A group code, its value, and the line where the value stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pair<'a> {
    pub(super) code: i32,
    pub(super) value: &'a str,
    pub(super) line: usize,
}

impl Pair<'_> {
    /// The value as a number. It may be infinite or no number where the file says so in words.
    pub(super) fn number(&self) -> Result<f64, ReadFault> {
        self.value.trim().parse().map_err(|_| {
            let found: String = self.value.trim().chars().take(40).collect();
            damaged(self.line, &format!("group {} needs a number, found \"{found}\"", self.code))
        })
    }

    /// The value as flags or a count; 0 for what is none.
    pub(super) fn whole(&self) -> Result<i64, ReadFault> {
        let number = self.number()?;
        Ok(if number.is_finite() { number as i64 } else { 0 })
    }
}

pub(super) fn damaged(line: usize, what: &str) -> ReadFault {
    ReadFault::Damaged { format: Format::Dxf, at: Some(format!("line {line}")), what: what.to_owned() }
}

/// The pairs of a text, one after the other.
#[derive(Debug, Clone)]
pub(super) struct Pairs<'a> {
    text: &'a str,
    /// Bytes read.
    at: usize,
    /// Lines read.
    line: usize,
    /// What ends a line; before `\n`, a `\r` goes too.
    end: char,
}

impl<'a> Pairs<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        let is_old = !text.contains('\n') && text.contains('\r');
        Self { text, at: 0, line: 0, end: if is_old { '\r' } else { '\n' } }
    }

    /// The pairs of a part of the same text, `from..to` in bytes, that begins after so many lines.
    pub(super) fn part(&self, from: usize, to: usize, line: usize) -> Self {
        Self { text: &self.text[..to], at: from, line, end: self.end }
    }

    /// Bytes and lines read so far.
    pub(super) fn position(&self) -> (usize, usize) {
        (self.at, self.line)
    }

    fn next_line(&mut self) -> Option<&'a str> {
        let rest = self.text.get(self.at..).filter(|rest| !rest.is_empty())?;
        let (line, read) = match rest.find(self.end) {
            Some(length) => (&rest[..length], length + 1),
            None => (rest, rest.len()),
        };
        self.at += read;
        self.line += 1;
        Some(line.trim_end_matches('\r'))
    }

    /// The next pair; none at the end of the text, and where only a code without its value is left.
    pub(super) fn next(&mut self) -> Result<Option<Pair<'a>>, ReadFault> {
        let Some(code) = self.next_line() else { return Ok(None) };
        let at = self.line;
        let Some(value) = self.next_line() else { return Ok(None) };
        let code = code.trim().parse().map_err(|_| {
            let found: String = code.trim().chars().take(40).collect();
            damaged(at, &format!("a group code is needed, a whole number, and \"{found}\" stands there"))
        })?;
        Ok(Some(Pair { code, value, line: self.line }))
    }
}

/// The letters of a file: UTF-8; anything else as its header says, where that is Windows 1252, and as Latin-1 otherwise.
pub(super) fn decode(bytes: &[u8]) -> Cow<'_, str> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => text.into(),
        Err(_) => {
            let head = &bytes[..bytes.len().min(20_000)];
            let is_1252 = head.windows(9).any(|word| word.eq_ignore_ascii_case(b"ANSI_1252"));
            bytes
                .iter()
                .map(|&byte| if is_1252 { windows_1252(byte) } else { char::from(byte) })
                .collect::<String>()
                .into()
        }
    }
}

/// Windows code page 1252; five bytes of it mean nothing and are kept as Latin-1.
fn windows_1252(byte: u8) -> char {
    const FROM_0X80: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}', '‘',
        '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
    ];
    match byte {
        0x80..=0x9F => FROM_0X80[usize::from(byte - 0x80)],
        _ => char::from(byte),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pairs_with_any_end_of_line() {
        for text in ["  0\nLINE\n 8\nA b \n", "0\r\nLINE\r\n8\r\nA b \r\n", "0\rLINE\r8\rA b \r9"] {
            let mut pairs = Pairs::new(text);
            assert_eq!(pairs.next().unwrap(), Some(Pair { code: 0, value: "LINE", line: 2 }));
            assert_eq!(pairs.next().unwrap(), Some(Pair { code: 8, value: "A b ", line: 4 }));
            assert_eq!(pairs.next().unwrap(), None);
        }
    }

    #[test]
    fn what_is_no_code_is_named_with_its_line() {
        let mut pairs = Pairs::new("0\nLINE\nx\n1\n");
        pairs.next().unwrap();
        let told = pairs.next().unwrap_err().to_string();
        assert!(told.contains("at line 3") && told.contains("\"x\" stands there"), "{told}");
        let pair = Pair { code: 10, value: "1,5", line: 7 };
        assert!(pair.number().unwrap_err().to_string().contains("at line 7: group 10 needs a number, found \"1,5\""));
    }

    #[test]
    fn letters_in_the_page_of_the_file() {
        assert_eq!(decode("é".as_bytes()), "é");
        assert_eq!(decode(b"\xE9\x80"), "é\u{80}");
        assert_eq!(decode(b"ANSI_1252 \xE9\x80"), "ANSI_1252 é€");
    }
}
