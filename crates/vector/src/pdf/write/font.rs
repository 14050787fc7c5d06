//! Fonts of a written file: Helvetica for Western European letters, and further fonts that name their letters for all others.

use std::collections::{BTreeMap, BTreeSet};

use super::Objects;
use crate::Drawing;
use crate::pdf::read::encoding::Base;
use crate::pdf::read::widths::Standard;

/// Letters of one further font: codes 1 to 255.
const LETTERS: usize = 255;

/// Width of each letter of a further font, sizes of the type.
const WIDTH: f64 = 0.6;

/// Fonts of a file; the first is Helvetica.
#[derive(Debug, Default)]
pub(super) struct Fonts {
    western: BTreeMap<char, u8>,
    /// Letters that need a further font, in the order of their codes.
    others: Vec<char>,
}

impl Fonts {
    /// The fonts that the texts of a drawing need.
    pub(super) fn of(drawing: &Drawing) -> Self {
        let western: BTreeMap<char, u8> =
            (0x20..=0xFF).filter_map(|code| Some((Base::WinAnsi.letter(code)?, code))).collect();
        let letters = drawing.sheets.iter().flat_map(|sheet| &sheet.texts).flat_map(|text| text.content.chars());
        let others: BTreeSet<char> =
            letters.filter(|letter| !letter.is_control() && !western.contains_key(letter)).collect();
        Self { western, others: others.into_iter().collect() }
    }

    /// The font and the code of a letter; a control character is a space.
    fn code(&self, letter: char) -> (usize, u8) {
        if let Some(&code) = self.western.get(&letter) {
            return (0, code);
        }
        match self.others.binary_search(&letter) {
            Ok(at) => (1 + at / LETTERS, (1 + at % LETTERS) as u8),
            Err(_) => (0, b' '),
        }
    }

    /// A text as codes, each piece in one font.
    pub(super) fn pieces(&self, content: &str) -> Vec<(usize, Vec<u8>)> {
        let mut pieces: Vec<(usize, Vec<u8>)> = Vec::new();
        for (font, code) in content.chars().map(|letter| self.code(letter)) {
            match pieces.last_mut() {
                Some((last, codes)) if *last == font => codes.push(code),
                _ => pieces.push((font, vec![code])),
            }
        }
        pieces
    }

    /// How long a text is, sizes of the type.
    pub(super) fn width(&self, content: &str) -> f64 {
        let width = |letter| match self.code(letter) {
            (0, _) if letter.is_control() => Standard::Helvetica.width(' ') / 1000.0,
            (0, _) => Standard::Helvetica.width(letter) / 1000.0,
            _ => WIDTH,
        };
        content.chars().map(width).sum()
    }

    /// Adds the fonts to a file; gives back the entries of the resources.
    pub(super) fn add_to(&self, objects: &mut Objects) -> String {
        let helvetica = "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>";
        let mut entries = format!("/F0 {} 0 R", objects.add(helvetica));
        for (index, letters) in self.others.chunks(LETTERS).enumerate() {
            let names: Vec<String> = letters.iter().map(|&letter| glyph_name(letter)).collect();
            let widths = vec!["600"; letters.len()].join(" ");
            let table = objects.add_stream(to_unicode(letters).as_bytes());
            let descriptor = objects.add(
                "<< /Type /FontDescriptor /FontName /Helvetica /Flags 32 /FontBBox [-166 -225 1000 931] /ItalicAngle 0 \
                /Ascent 718 /Descent -207 /CapHeight 718 /StemV 88 >>",
            );
            let font = objects.add(format!(
                "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /FirstChar 1 /LastChar {} /Widths [{widths}] \
                /FontDescriptor {descriptor} 0 R /Encoding << /Type /Encoding /Differences [1 {}] >> /ToUnicode {table} 0 R >>",
                letters.len(),
                names.join(" ")
            ));
            entries += &format!(" /F{} {font} 0 R", index + 1);
        }
        entries
    }
}

/// `/uni0416`, or `/u1F600` past the first plane (Adobe Glyph List Specification).
fn glyph_name(letter: char) -> String {
    let code = letter as u32;
    if code > 0xFFFF { format!("/u{code:X}") } else { format!("/uni{code:04X}") }
}

/// A table from codes to letters (ISO 32000-1, 9.10.3).
fn to_unicode(letters: &[char]) -> String {
    let mut table = "/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n\
        /CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n\
        /CMapName /Adobe-Identity-UCS def /CMapType 2 def\n\
        1 begincodespacerange <00> <FF> endcodespacerange\n"
        .to_owned();
    let lines: Vec<String> = (letters.iter().enumerate())
        .map(|(index, letter)| {
            let units: String = letter.encode_utf16(&mut [0; 2]).iter().map(|unit| format!("{unit:04X}")).collect();
            format!("<{:02X}> <{units}>", index + 1)
        })
        .collect();
    // At most 100 entries in a block.
    for block in lines.chunks(100) {
        table += &format!("{} beginbfchar\n{}\nendbfchar\n", block.len(), block.join("\n"));
    }
    table + "endcmap CMapName currentdict /CMap defineresource pop end end\n"
}
