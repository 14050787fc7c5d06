//! The faces that a PDF is set in, and lines of text as their glyphs.

use std::{cell::RefCell, collections::BTreeSet, ops::Range};

use krilla::text::{Font, GlyphId, KrillaGlyph};
use rustybuzz::{Direction, Face, UnicodeBuffer};
use unicode_bidi::BidiInfo;

use crate::lettering::Weight;

const REGULAR: &[u8] = include_bytes!("../../fonts/DejaVuSans.ttf");
const BOLD: &[u8] = include_bytes!("../../fonts/DejaVuSans-Bold.ttf");

/// The faces of a PDF: DejaVu Sans, which has Latin, Greek, Cyrillic, Hebrew, Arabic, Armenian, Georgian and others, and those given for what
/// it lacks.
#[derive(Debug, Clone, Default)]
pub struct Faces {
    more: Vec<Vec<u8>>,
}

/// A font file that cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotAFont;

impl Faces {
    /// With another face, for letters that those before it lack. The bytes are those of a TrueType or OpenType file.
    ///
    /// # Errors
    ///
    /// [`NotAFont`] when they are not.
    ///
    /// ```
    /// use ellwand_drawing::{Faces, NotAFont};
    /// assert_eq!(Faces::default().with(b"no font".to_vec()).err(), Some(NotAFont));
    /// ```
    pub fn with(mut self, bytes: Vec<u8>) -> Result<Self, NotAFont> {
        if Face::from_slice(&bytes, 0).is_none() || Font::new(bytes.clone().into(), 0).is_none() {
            return Err(NotAFont);
        }
        self.more.push(bytes);
        Ok(self)
    }
}

/// The faces of one weight, read, and the letters that none of them has.
pub(super) struct Opened<'f> {
    regular: Vec<(Face<'f>, Font)>,
    bold: Vec<(Face<'f>, Font)>,
    missing: RefCell<BTreeSet<char>>,
}

/// Glyphs of one face, from left to right.
pub(super) struct Stretch {
    pub(super) font: Font,
    pub(super) text: String,
    pub(super) glyphs: Vec<KrillaGlyph>,
    /// In ems.
    pub(super) width: f32,
}

impl<'f> Opened<'f> {
    pub(super) fn new(faces: &'f Faces) -> Self {
        let of = |first: &'static [u8]| {
            let all = std::iter::once(first as &'f [u8]).chain(faces.more.iter().map(Vec::as_slice));
            all.filter_map(|bytes| Some((Face::from_slice(bytes, 0)?, Font::new(bytes.to_vec().into(), 0)?))).collect()
        };
        Self { regular: of(REGULAR), bold: of(BOLD), missing: RefCell::default() }
    }

    /// Letters that were set and that no face has, in order.
    pub(super) fn missing(self) -> Vec<char> {
        self.missing.into_inner().into_iter().collect()
    }

    /// A line from left to right as it is read, whichever way its letters run (Unicode Standard Annex 9).
    pub(super) fn set(&self, text: &str, weight: Weight) -> Vec<Stretch> {
        let faces = match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        };
        let bidi = BidiInfo::new(text, None);
        let mut stretches = Vec::new();
        for paragraph in &bidi.paragraphs {
            let (levels, runs) = bidi.visual_runs(paragraph, paragraph.range.clone());
            for run in runs {
                let way = if levels[run.start].is_rtl() { Direction::RightToLeft } else { Direction::LeftToRight };
                let mut parts = self.by_face(text, run, faces);
                if way == Direction::RightToLeft {
                    parts.reverse();
                }
                stretches.extend(parts.into_iter().map(|(face, range)| shaped(&faces[face], &text[range], way)));
            }
        }
        stretches
    }

    /// Parts of a run with the first face that has their letters each; spaces and marks stay with what is before them.
    fn by_face(&self, text: &str, run: Range<usize>, faces: &[(Face<'f>, Font)]) -> Vec<(usize, Range<usize>)> {
        let mut parts: Vec<(usize, Range<usize>)> = Vec::new();
        for (at, letter) in text[run.clone()].char_indices() {
            let range = run.start + at..run.start + at + letter.len_utf8();
            let has = |face: usize| faces[face].0.glyph_index(letter).is_some();
            // The first face is kept as long as it goes; nothing with a shape is looked for where there is none.
            let goes_on = |face: usize| letter.is_whitespace() || is_joiner(letter) || face == 0 && has(0);
            if let Some((_, last)) = parts.last_mut().filter(|(face, _)| goes_on(*face)) {
                last.end = range.end;
                continue;
            }
            let face = (0..faces.len()).find(|&face| has(face)).unwrap_or_else(|| {
                if !letter.is_whitespace() && !is_joiner(letter) {
                    self.missing.borrow_mut().insert(letter);
                }
                0
            });
            match parts.last_mut() {
                Some((last, known)) if *last == face => known.end = range.end,
                _ => parts.push((face, range)),
            }
        }
        parts
    }
}

/// What has no shape of its own: joiners, selectors of variants, marks of direction.
fn is_joiner(letter: char) -> bool {
    matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{fe00}'..='\u{fe0f}')
}

fn shaped((face, font): &(Face<'_>, Font), text: &str, way: Direction) -> Stretch {
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text);
    buffer.guess_segment_properties();
    buffer.set_direction(way);
    let set = rustybuzz::shape(face, &[], buffer);
    let em = font.units_per_em();
    let mut starts: Vec<usize> = set.glyph_infos().iter().map(|info| info.cluster as usize).collect();
    starts.sort_unstable();
    let end_of = |start: usize| starts.iter().copied().find(|&next| next > start).unwrap_or(text.len());
    let mut width = 0.0;
    let glyphs = (set.glyph_infos().iter().zip(set.glyph_positions()))
        .map(|(info, place)| {
            let start = info.cluster as usize;
            let [advance, right, up, down] =
                [place.x_advance, place.x_offset, place.y_offset, place.y_advance].map(|units| units as f32 / em);
            width += advance;
            KrillaGlyph::new(GlyphId::new(info.glyph_id), advance, right, up, down, start..end_of(start), None)
        })
        .collect();
    Stretch { font: font.clone(), text: text.to_owned(), glyphs, width }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(text: &str) -> (Vec<(String, f32)>, Vec<char>) {
        let faces = Faces::default();
        let opened = Opened::new(&faces);
        let set = opened.set(text, Weight::Regular).into_iter().map(|part| (part.text, part.width)).collect();
        (set, opened.missing())
    }

    #[test]
    fn plain_letters_are_as_wide_as_the_table_of_widths_says() {
        let (set, missing) = said("Front 38, cut 2");
        let known = crate::lettering::Line::regular("Front 38, cut 2", 10.0).width() / (10.0 * crate::paper::POINT);
        assert_eq!((set.len(), missing.len()), (1, 0));
        // Kerning only brings letters nearer to each other.
        assert!(f64::from(set[0].1) <= known + 1e-3 && f64::from(set[0].1) > 0.93 * known, "{} {known}", set[0].1);
    }

    #[test]
    fn words_from_right_to_left_stand_where_they_are_read() {
        let (set, missing) = said("Front חזית A");
        assert!(missing.is_empty());
        assert_eq!(set.iter().map(|(text, _)| text.as_str()).collect::<Vec<_>>(), ["Front ", "חזית", " A"]);
        let (set, missing) = said("كم");
        assert!(missing.is_empty() && set.len() == 1);
    }

    #[test]
    fn letters_of_no_face_are_told_once_each() {
        let (set, missing) = said("袖袖 Sleeve 襟");
        assert_eq!(missing, ['袖', '襟']);
        assert_eq!(set.iter().map(|(text, _)| text.as_str()).collect::<String>(), "袖袖 Sleeve 襟");
    }
}
