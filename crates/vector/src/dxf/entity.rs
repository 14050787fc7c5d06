//! One entity, and what all kinds of them have in common.

use super::pairs::{Pair, Pairs};
use crate::ReadFault;

/// An entity as it stands in the file: what follows its name, with the vertices or attributes that belong to it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entity<'a> {
    pub(super) kind: &'a str,
    /// Where its first pair begins and its last ends, bytes.
    pub(super) from: usize,
    pub(super) to: usize,
    /// Lines before its first pair.
    pub(super) line: usize,
}

/// What colour, line type or width an entity names.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Named<T> {
    ByLayer,
    ByBlock,
    Its(T),
}

/// What any entity may have.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Common<'a> {
    pub(super) layer: &'a str,
    pub(super) line_type: Named<&'a str>,
    pub(super) colour: Named<Shade>,
    /// mm.
    pub(super) weight: Named<f64>,
    pub(super) line_type_scale: f64,
    pub(super) is_hidden: bool,
    pub(super) is_on_paper: bool,
    pub(super) extrusion: [f64; 3],
}

/// A colour by its number in the palette, or in full.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shade {
    Index(u8),
    True([u8; 3]),
}

/// All pairs of an entity that are its own: none of its vertices, of embedded objects (101) or of other programs' data (1000 and above).
pub(super) struct Own<'a>(Pairs<'a>);

impl<'a> Iterator for Own<'a> {
    type Item = Pair<'a>;

    fn next(&mut self) -> Option<Pair<'a>> {
        // Codes were looked at when the file was split into entities.
        loop {
            let pair = self.0.next().ok()??;
            match pair.code {
                0 | 101 => return None,
                999.. => {}
                _ => return Some(pair),
            }
        }
    }
}

impl<'a> Entity<'a> {
    /// Its own pairs.
    pub(super) fn own(&self, file: &Pairs<'a>) -> Own<'a> {
        Own(file.part(self.from, self.to, self.line))
    }

    /// Bytes it takes.
    pub(super) fn size(&self) -> usize {
        self.to - self.from
    }

    /// The numbers of some codes, the first of each.
    pub(super) fn numbers<const N: usize>(
        &self,
        file: &Pairs<'a>,
        codes: [i32; N],
    ) -> Result<[Option<f64>; N], ReadFault> {
        let mut found = [None; N];
        for pair in self.own(file) {
            if let Some(at) = codes.iter().position(|&code| code == pair.code)
                && found[at].is_none()
            {
                found[at] = Some(pair.number()?);
            }
        }
        Ok(found)
    }

    /// The text of a code, the first of it.
    pub(super) fn text(&self, file: &Pairs<'a>, code: i32) -> Option<&'a str> {
        self.own(file).find(|pair| pair.code == code).map(|pair| pair.value)
    }

    /// The vertices or attributes that follow it.
    pub(super) fn parts(&self, file: &Pairs<'a>) -> Parts<'a> {
        let mut pairs = file.part(self.from, self.to, self.line);
        let next = skip_own(&mut pairs);
        Parts { pairs, next, to: self.to }
    }

    /// What it has in common with others.
    pub(super) fn common(&self, file: &Pairs<'a>) -> Result<Common<'a>, ReadFault> {
        let mut common = Common {
            layer: "0",
            line_type: Named::ByLayer,
            colour: Named::ByLayer,
            weight: Named::ByLayer,
            line_type_scale: 1.0,
            is_hidden: false,
            is_on_paper: false,
            extrusion: [0.0, 0.0, 1.0],
        };
        for pair in self.own(file) {
            match pair.code {
                8 => common.layer = pair.value.trim(),
                6 => common.line_type = line_type(pair.value.trim()),
                62 if !matches!(common.colour, Named::Its(Shade::True(_))) => {
                    common.colour = match pair.whole()? {
                        0 => Named::ByBlock,
                        index @ 1..=255 => Named::Its(Shade::Index(index as u8)),
                        _ => Named::ByLayer,
                    }
                }
                420 => common.colour = Named::Its(Shade::True(true_colour(pair.whole()?))),
                370 => {
                    common.weight = match pair.whole()? {
                        -1 => Named::ByLayer,
                        -2 => Named::ByBlock,
                        weight => Named::Its(millimetres(weight)),
                    }
                }
                48 => common.line_type_scale = pair.number()?,
                60 => common.is_hidden = pair.whole()? & 1 == 1,
                67 => common.is_on_paper = pair.whole()? == 1,
                210 => common.extrusion[0] = pair.number()?,
                220 => common.extrusion[1] = pair.number()?,
                230 => common.extrusion[2] = pair.number()?,
                _ => {}
            }
        }
        Ok(common)
    }
}

/// Red, green and blue in one number.
pub(super) fn true_colour(number: i64) -> [u8; 3] {
    let [.., red, green, blue] = number.to_be_bytes();
    [red, green, blue]
}

/// A width of line, given in hundredths of a mm; what is below 0 stands for the usual, thin one.
pub(super) fn millimetres(weight: i64) -> f64 {
    weight.clamp(0, 1000) as f64 / 100.0
}

fn line_type(name: &str) -> Named<&str> {
    if name.eq_ignore_ascii_case("BYLAYER") || name.is_empty() {
        Named::ByLayer
    } else if name.eq_ignore_ascii_case("BYBLOCK") {
        Named::ByBlock
    } else {
        Named::Its(name)
    }
}

/// Goes past the pairs of an entity to its first vertex or attribute: its name, and where it begins.
fn skip_own<'a>(pairs: &mut Pairs<'a>) -> Option<&'a str> {
    while let Ok(Some(pair)) = pairs.next() {
        if pair.code == 0 {
            return Some(pair.value.trim());
        }
    }
    None
}

/// Vertices or attributes.
pub(super) struct Parts<'a> {
    pairs: Pairs<'a>,
    next: Option<&'a str>,
    to: usize,
}

impl<'a> Iterator for Parts<'a> {
    type Item = Entity<'a>;

    fn next(&mut self) -> Option<Entity<'a>> {
        let kind = self.next.take()?;
        let (from, line) = self.pairs.position();
        self.next = skip_own(&mut self.pairs);
        // The pairs of the next one would end this one all the same: its name has code 0.
        let to = if self.next.is_some() { self.pairs.position().0 } else { self.to };
        (kind != "SEQEND").then_some(Entity { kind, from, to, line })
    }
}
