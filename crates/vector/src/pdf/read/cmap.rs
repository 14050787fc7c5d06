//! Tables from the codes of a font to letters: `ToUnicode` (ISO 32000-1, 9.10.3).

use std::collections::BTreeMap;

use super::layers::utf16;

/// Codes and what they show. A key is the length of the code in bytes and its first code.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct CMap {
    ranges: BTreeMap<(usize, u32), Shown>,
    lengths: Vec<usize>,
}

#[derive(Debug, Clone, PartialEq)]
struct Shown {
    last: u32,
    /// UTF-16 of the first code; each next one has a last unit one higher.
    first: Vec<u8>,
}

enum Token<'a> {
    Bytes(Vec<u8>),
    Open,
    Close,
    Word(&'a [u8]),
}

impl CMap {
    /// Reads what it can; what it does not know it leaves out.
    pub(super) fn read(text: &[u8]) -> Self {
        let mut map = Self::default();
        let (mut rest, mut held, mut depth): (_, Vec<(usize, Vec<u8>)>, usize) = (text, Vec::new(), 0);
        while let Some(token) = token(&mut rest) {
            let word = match token {
                Token::Bytes(bytes) => {
                    held.push((depth, bytes));
                    continue;
                }
                Token::Open => {
                    depth += 1;
                    continue;
                }
                Token::Close => {
                    depth = depth.saturating_sub(1);
                    continue;
                }
                Token::Word(word) => word,
            };
            match word {
                b"endcodespacerange" => {
                    map.lengths.extend(held.iter().map(|(_, bytes)| bytes.len()));
                }
                b"endbfchar" => {
                    for pair in held.chunks_exact(2) {
                        map.add(&pair[0].1, &pair[0].1, pair[1].1.clone());
                    }
                }
                b"endbfrange" => map.add_ranges(&held),
                // Names and numbers outside of the tables.
                _ => {}
            }
            held.clear();
            depth = 0;
        }
        map
    }

    fn add_ranges(&mut self, held: &[(usize, Vec<u8>)]) {
        let mut rest = held;
        while let [(0, first), (0, last), tail @ ..] = rest {
            let list = tail.iter().take_while(|(depth, _)| *depth > 0).count();
            if list == 0 {
                let Some(((_, shown), tail)) = tail.split_first() else { return };
                self.add(first, last, shown.clone());
                rest = tail;
            } else {
                for (step, (_, shown)) in tail[..list].iter().enumerate() {
                    let code = number(first).wrapping_add(step as u32);
                    self.ranges.insert((first.len(), code), Shown { last: code, first: shown.clone() });
                }
                rest = &tail[list..];
            }
        }
    }

    fn add(&mut self, first: &[u8], last: &[u8], shown: Vec<u8>) {
        if (1..=4).contains(&first.len()) && first.len() == last.len() {
            self.ranges.insert((first.len(), number(first)), Shown { last: number(last), first: shown });
        }
    }

    /// What a code shows.
    pub(super) fn letters(&self, code: &[u8]) -> Option<String> {
        let value = number(code);
        let ((length, first), shown) = self.ranges.range(..=(code.len(), value)).next_back()?;
        if *length != code.len() || value > shown.last {
            return None;
        }
        let mut units = shown.first.clone();
        let step = value - first;
        if let [.., high, low] = units.as_mut_slice() {
            let unit = u16::from_be_bytes([*high, *low]).wrapping_add(step as u16);
            [*high, *low] = unit.to_be_bytes();
        } else if let [only] = units.as_slice() {
            // Not allowed, and met: one byte for a letter.
            units = u16::from(*only).wrapping_add(step as u16).to_be_bytes().to_vec();
        }
        Some(utf16(&units))
    }

    /// Whether all codes have one byte.
    pub(super) fn is_of_bytes(&self) -> bool {
        !self.lengths.is_empty() && self.lengths.iter().all(|length| *length == 1)
    }
}

fn number(code: &[u8]) -> u32 {
    code.iter().take(4).fold(0, |value, &byte| value << 8 | u32::from(byte))
}

fn token<'a>(rest: &mut &'a [u8]) -> Option<Token<'a>> {
    loop {
        *rest = rest.trim_ascii_start();
        let (&first, tail) = rest.split_first()?;
        match first {
            b'%' => *rest = &rest[rest.iter().position(|byte| matches!(byte, b'\n' | b'\r')).unwrap_or(rest.len())..],
            b'<' if tail.first() != Some(&b'<') => {
                let end = tail.iter().position(|&byte| byte == b'>').unwrap_or(tail.len());
                let digits: Vec<u8> =
                    tail[..end].iter().filter_map(|&byte| Some((byte as char).to_digit(16)? as u8)).collect();
                *rest = tail.get(end + 1..).unwrap_or_default();
                return Some(Token::Bytes(digits.chunks_exact(2).map(|pair| pair[0] << 4 | pair[1]).collect()));
            }
            b'[' => {
                *rest = tail;
                return Some(Token::Open);
            }
            b']' => {
                *rest = tail;
                return Some(Token::Close);
            }
            _ => {
                let length = 1 + tail
                    .iter()
                    .take_while(|&&byte| !byte.is_ascii_whitespace() && !b"<[]%/".contains(&byte))
                    .count();
                let (word, tail) = rest.split_at(length);
                *rest = tail;
                return Some(Token::Word(word));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn single_codes_ranges_and_lists_are_read() {
        let map = CMap::read(
            b"/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /A def\n\
            1 begincodespacerange <0000> <FFFF> endcodespacerange\n\
            2 beginbfchar <0003> <0020> <0010><00660069> endbfchar\n\
            2 beginbfrange <0024> <0026> <0041> % letters\n <0030> <0031> [ <0078> <D83DDE00> ] endbfrange\n\
            endcmap end",
        );
        assert_eq!(map.letters(&[0, 3]).as_deref(), Some(" "));
        assert_eq!(map.letters(&[0, 0x10]).as_deref(), Some("fi"));
        assert_eq!(map.letters(&[0, 0x26]).as_deref(), Some("C"));
        assert_eq!(map.letters(&[0, 0x27]), None);
        assert_eq!(map.letters(&[0, 0x31]).as_deref(), Some("😀"));
        assert_eq!(map.letters(&[0x31]), None);
        assert!(!map.is_of_bytes());
    }

    #[test]
    fn garbage_is_left_out() {
        for text in [&b"<"[..], b"beginbfrange <01> endbfrange", b"<01> <02> [ <03> endbfrange ] ]", b"\xff\xfe[[[<zz>"]
        {
            assert_eq!(CMap::read(text).letters(&[9]), None);
        }
    }
}
