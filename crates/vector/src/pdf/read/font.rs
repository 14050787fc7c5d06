//! Fonts: what the codes of a text show and how wide it is (ISO 32000-1, 9.5 to 9.10). Shapes of letters are of no interest here.

use std::collections::BTreeMap;

use hayro_syntax::object::{Array, Dict, Name, Object, Stream};

use super::cmap::CMap;
use super::encoding::{Base, glyph};
use super::layers::utf16;
use super::page::unpacked;
use super::tally::Tally;
use super::widths::Standard;
use crate::ReadFault;

/// A font.
#[derive(Debug)]
pub(super) struct Font {
    unicode: Option<CMap>,
    kind: Kind,
}

#[derive(Debug)]
enum Kind {
    /// Codes of one byte.
    Simple { letters: Vec<Option<String>>, widths: Vec<f64> },
    /// Codes of one or two bytes that number the glyphs of another font.
    Composite { is_utf16: bool, is_of_bytes: bool, widths: BTreeMap<u32, f64>, usual: f64 },
}

/// One letter of a text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Letter {
    /// What it shows; none when the file does not say.
    pub(super) shown: Option<String>,
    /// How far the next one is away, in sizes of the type.
    pub(super) width: f64,
    /// Whether it is the code that word spacing widens.
    pub(super) is_space: bool,
}

impl Font {
    /// A font from its dictionary.
    pub(super) fn read(dict: &Dict<'_>, tally: &mut Tally) -> Result<Self, ReadFault> {
        tally.looked_up(dict.data().len())?;
        let unicode = match dict.get::<Stream<'_>>("ToUnicode") {
            Some(stream) => Some(CMap::read(&unpacked(&stream, tally)?)),
            None => None,
        };
        let subtype = dict.get::<Name<'_>>("Subtype");
        let kind = match subtype.as_ref().map_or("", Name::as_str) {
            "Type0" => composite(dict, unicode.as_ref()),
            subtype => simple(dict, subtype),
        };
        Ok(Self { unicode, kind })
    }

    /// The letters of a text.
    pub(super) fn letters(&self, codes: &[u8]) -> Vec<Letter> {
        match &self.kind {
            Kind::Simple { letters, widths } => (codes.iter())
                .map(|&code| Letter {
                    shown: self.told(&[code]).or_else(|| letters[usize::from(code)].clone()),
                    width: widths[usize::from(code)],
                    is_space: code == b' ',
                })
                .collect(),
            Kind::Composite { is_utf16, is_of_bytes, widths, usual } => {
                (codes.chunks(if *is_of_bytes { 1 } else { 2 }))
                    .map(|code| {
                        let number = code.iter().fold(0, |value, &byte| value << 8 | u32::from(byte));
                        Letter {
                            shown: self.told(code).or_else(|| is_utf16.then(|| utf16(code))),
                            width: widths.get(&number).copied().unwrap_or(*usual),
                            is_space: code == b" ",
                        }
                    })
                    .collect()
            }
        }
    }

    fn told(&self, code: &[u8]) -> Option<String> {
        let shown = self.unicode.as_ref()?.letters(code)?;
        (!shown.is_empty() && shown != "\0").then_some(shown)
    }
}

/// A width if it is one.
fn sane(width: f64) -> f64 {
    if width.is_finite() && width.abs() < 1e6 { width } else { 0.0 }
}

fn simple(dict: &Dict<'_>, subtype: &str) -> Kind {
    let letters = encoding(dict);
    let base_font = dict.get::<Name<'_>>("BaseFont");
    let standard = Standard::nearest(base_font.as_ref().map_or("", Name::as_str));
    let unit = match subtype {
        "Type3" => dict.get::<[f64; 6]>("FontMatrix").map_or(0.001, |matrix| matrix[0]),
        _ => 0.001,
    };
    let own: Option<Vec<f64>> = dict.get::<Array<'_>>("Widths").map(|list| list.iter::<f64>().take(256).collect());
    let first = dict.get::<i32>("FirstChar").and_then(|code| usize::try_from(code).ok()).unwrap_or(0);
    let missing =
        dict.get::<Dict<'_>>("FontDescriptor").and_then(|font| font.get::<f64>("MissingWidth")).unwrap_or(0.0);
    let widths = (0..256_usize)
        .map(|code| match &own {
            Some(own) => sane(code.checked_sub(first).and_then(|at| own.get(at)).copied().unwrap_or(missing) * unit),
            None => {
                let letter = letters[code].as_ref().and_then(|shown| shown.chars().next());
                standard.width(letter.unwrap_or('\u{FFFD}')) / 1000.0
            }
        })
        .collect();
    Kind::Simple { letters, widths }
}

/// What each code shows, by the encoding of the font.
fn encoding(dict: &Dict<'_>) -> Vec<Option<String>> {
    let own = dict.get::<Dict<'_>>("Encoding");
    let name = match &own {
        Some(own) => own.get::<Name<'_>>("BaseEncoding"),
        None => dict.get::<Name<'_>>("Encoding"),
    };
    let base = name.and_then(|name| Base::named(name.as_str())).unwrap_or(Base::Standard);
    let mut letters: Vec<Option<String>> = (0..=255).map(|code| base.letter(code).map(String::from)).collect();
    let mut code = 0;
    for item in own.and_then(|own| own.get::<Array<'_>>("Differences")).iter().flat_map(Array::iter::<Object<'_>>) {
        match item {
            Object::Number(number) => code = usize::try_from(number.as_i64()).unwrap_or(256),
            Object::Name(name) => {
                if let Some(letter) = letters.get_mut(code) {
                    *letter = glyph(name.as_str());
                }
                code = code.saturating_add(1);
            }
            _ => {}
        }
    }
    letters
}

fn composite(dict: &Dict<'_>, unicode: Option<&CMap>) -> Kind {
    let encoding = dict.get::<Name<'_>>("Encoding");
    let encoding = encoding.as_ref().map_or("", Name::as_str);
    let inner = dict.get::<Array<'_>>("DescendantFonts").and_then(|list| list.iter::<Dict<'_>>().next());
    let inner = inner.unwrap_or_default();
    let mut widths = BTreeMap::new();
    // `c [w1 w2 ...]` or `first last w` (9.7.4.3).
    let mut held: Vec<f64> = Vec::new();
    for item in inner.get::<Array<'_>>("W").iter().flat_map(Array::iter::<Object<'_>>) {
        match item {
            Object::Number(number) => held.push(number.as_f64()),
            Object::Array(list) => {
                if let Some(first) = held.pop() {
                    for (step, width) in list.iter::<f64>().take(0x1_0000).enumerate() {
                        widths.insert(first as u32 + step as u32, sane(width / 1000.0));
                    }
                }
                held.clear();
            }
            _ => {}
        }
        if let [first, last, width] = held[..] {
            for code in (first.max(0.0) as u32)..=(last.min(65535.0) as u32) {
                widths.insert(code, sane(width / 1000.0));
            }
            held.clear();
        }
        if widths.len() > 0x1_0000 {
            break;
        }
    }
    Kind::Composite {
        is_utf16: encoding.contains("UCS2") || encoding.contains("UTF16"),
        is_of_bytes: !encoding.starts_with("Identity") && unicode.is_some_and(CMap::is_of_bytes),
        widths,
        usual: sane(inner.get::<f64>("DW").unwrap_or(1000.0) / 1000.0),
    }
}
