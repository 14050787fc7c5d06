//! Colours as red, green and blue. Colours are told apart here, not matched: no profile is applied.

use hayro_syntax::object::{Array, Dict, Name, Object, Stream, String as PdfString};

use super::page::unpacked;
use super::tally::Tally;
use crate::{Colour, ReadFault};

/// How deep colour spaces may refer to each other.
const DEEPEST: usize = 4;

/// What the numbers of a colour mean (ISO 32000-1, 8.6).
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Space {
    Gray,
    Rgb,
    Cmyk,
    Lab,
    /// A number into a table, with the colours of the table.
    Indexed(Vec<Colour>),
    /// Named inks: the colour of none and of all of a single one, where its function is a plain one.
    Ink {
        ends: Option<[Colour; 2]>,
        power: f64,
    },
    Pattern,
}

impl Space {
    /// The space of one of these names, which every file knows.
    pub(super) fn device(name: &str) -> Option<Self> {
        match name {
            "DeviceGray" | "CalGray" | "G" => Some(Self::Gray),
            "DeviceRGB" | "CalRGB" | "RGB" => Some(Self::Rgb),
            "DeviceCMYK" | "CMYK" => Some(Self::Cmyk),
            "Pattern" => Some(Self::Pattern),
            _ => None,
        }
    }

    pub(super) fn read(object: Object<'_>, tally: &mut Tally) -> Result<Self, ReadFault> {
        Self::read_within(object, tally, 0)
    }

    fn read_within(object: Object<'_>, tally: &mut Tally, depth: usize) -> Result<Self, ReadFault> {
        if depth > DEEPEST {
            return Ok(Self::Gray);
        }
        let list = match object {
            Object::Name(name) => return Ok(Self::device(name.as_str()).unwrap_or(Self::Gray)),
            Object::Array(list) => list,
            _ => return Ok(Self::Gray),
        };
        tally.looked_up(list.data().len())?;
        let mut items = list.iter::<Object<'_>>();
        let Some(Object::Name(family)) = items.next() else { return Ok(Self::Gray) };
        Ok(match family.as_str() {
            "ICCBased" => match items.next().and_then(Object::into_stream).and_then(|icc| icc.dict().get::<i32>("N")) {
                Some(3) => Self::Rgb,
                Some(4) => Self::Cmyk,
                _ => Self::Gray,
            },
            "Lab" => Self::Lab,
            "Indexed" | "I" => {
                let Some(base) = items.next() else { return Ok(Self::Gray) };
                let base = Self::read_within(base, tally, depth + 1)?;
                Self::Indexed(table(&list, &base, tally)?)
            }
            "Separation" | "DeviceN" => {
                let Some(space) = items.nth(1) else { return Ok(Self::Gray) };
                let space = Self::read_within(space, tally, depth + 1)?;
                ink(items.next(), &space)
            }
            name => Self::device(name).unwrap_or(Self::Gray),
        })
    }

    /// The colour before any is set.
    pub(super) fn first(&self) -> Colour {
        match self {
            Self::Ink { .. } => self.colour(&[1.0]),
            Self::Cmyk => Colour([0; 3]),
            _ => self.colour(&[0.0; 3]),
        }
    }

    /// The colour that some numbers stand for; missing ones are 0.
    pub(super) fn colour(&self, numbers: &[f64]) -> Colour {
        let at = |index: usize| numbers.get(index).copied().filter(|value| value.is_finite()).unwrap_or(0.0);
        match self {
            Self::Gray => rgb([at(0); 3]),
            Self::Rgb => rgb([at(0), at(1), at(2)]),
            Self::Cmyk => cmyk([at(0), at(1), at(2), at(3)]),
            Self::Lab => lab([at(0), at(1), at(2)]),
            Self::Indexed(table) => table.get(at(0).max(0.0) as usize).copied().unwrap_or(Colour([0; 3])),
            Self::Ink { ends: Some([none, all]), power } => {
                let share = at(0).clamp(0.0, 1.0).powf(*power);
                let mix = |index: usize| f64::from(none.0[index]) * (1.0 - share) + f64::from(all.0[index]) * share;
                rgb([mix(0) / 255.0, mix(1) / 255.0, mix(2) / 255.0])
            }
            Self::Ink { ends: None, .. } => rgb([1.0 - numbers.iter().sum::<f64>(); 3]),
            Self::Pattern => Colour([128; 3]),
        }
    }
}

/// A colour from shares of red, green and blue.
pub(super) fn rgb(shares: [f64; 3]) -> Colour {
    Colour(shares.map(|share| (share.clamp(0.0, 1.0) * 255.0).round() as u8))
}

/// A colour from shares of the four inks (ISO 32000-1, 10.3.5).
pub(super) fn cmyk([c, m, y, k]: [f64; 4]) -> Colour {
    rgb([c, m, y].map(|ink| 1.0 - (ink.clamp(0.0, 1.0) + k.clamp(0.0, 1.0)).min(1.0)))
}

/// CIE L*a*b* (D50) to sRGB, without adaptation: near enough to tell colours apart.
fn lab([l, a, b]: [f64; 3]) -> Colour {
    let m = (l + 16.0) / 116.0;
    let curve = |t: f64| if t > 6.0 / 29.0 { t.powi(3) } else { 108.0 / 841.0 * (t - 4.0 / 29.0) };
    let (x, y, z) = (0.9505 * curve(m + a / 500.0), curve(m), 1.089 * curve(m - b / 200.0));
    let linear = [
        3.2406 * x - 1.5372 * y - 0.4986 * z,
        -0.9689 * x + 1.8758 * y + 0.0415 * z,
        0.0557 * x - 0.2040 * y + 1.0570 * z,
    ];
    rgb(linear.map(|v| if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * v.powf(1.0 / 2.4) - 0.055 }))
}

/// The colours of an indexed space, from the string or stream that is its last entry.
fn table(list: &Array<'_>, base: &Space, tally: &mut Tally) -> Result<Vec<Colour>, ReadFault> {
    let bytes = match list.iter::<Object<'_>>().nth(3) {
        Some(Object::String(text)) => PdfString::as_bytes(&text).to_vec(),
        Some(Object::Stream(stream)) => unpacked(&Stream::clone(&stream), tally)?,
        _ => Vec::new(),
    };
    let components = match base {
        Space::Rgb | Space::Lab => 3,
        Space::Cmyk => 4,
        _ => 1,
    };
    let share = |byte: &u8| f64::from(*byte) / 255.0;
    Ok(bytes
        .chunks(components)
        .take(256)
        .map(|entry| base.colour(&entry.iter().map(share).collect::<Vec<_>>()))
        .collect())
}

/// A named ink; its function is followed where it is a power between two colours (type 2).
fn ink(function: Option<Object<'_>>, space: &Space) -> Space {
    let dict = function.and_then(Object::into_dict).unwrap_or_else(Dict::empty);
    if dict.get::<i32>("FunctionType") != Some(2) {
        return Space::Ink { ends: None, power: 1.0 };
    }
    let end = |key: &str, usual: f64| {
        let numbers = dict.get::<Array<'_>>(key).map(|list| list.iter::<f64>().take(8).collect::<Vec<_>>());
        space.colour(&numbers.unwrap_or_else(|| vec![usual]))
    };
    let power = dict.get::<f64>("N").filter(|power| power.is_finite() && *power > 0.0).unwrap_or(1.0);
    Space::Ink { ends: Some([end("C0", 0.0), end("C1", 1.0)]), power }
}

/// The space that a resource or a plain name stands for.
pub(super) fn named(name: &Name<'_>, spaces: &Dict<'_>, tally: &mut Tally) -> Result<Space, ReadFault> {
    if let Some(space) = Space::device(name.as_str()) {
        return Ok(space);
    }
    match spaces.get::<Object<'_>>(name) {
        Some(object) => Space::read(object, tally),
        None => Ok(Space::Gray),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_become_colours() {
        assert_eq!(Space::Gray.colour(&[0.5]), Colour([128; 3]));
        assert_eq!(Space::Rgb.colour(&[1.0, 0.0, 0.2]), Colour([255, 0, 51]));
        assert_eq!(Space::Cmyk.colour(&[0.0, 1.0, 1.0, 0.0]), Colour([255, 0, 0]));
        assert_eq!(Space::Cmyk.colour(&[0.0, 0.0, 0.0, 1.0]), Colour([0; 3]));
        let red = Space::Ink { ends: Some([Colour([255; 3]), Colour([255, 0, 0])]), power: 1.0 };
        assert_eq!(red.colour(&[1.0]), Colour([255, 0, 0]));
        assert_eq!(red.first(), Colour([255, 0, 0]));
        assert_eq!(Space::Rgb.colour(&[f64::NAN, 7.0]), Colour([0, 255, 0]));
        let Colour([r, g, b]) = Space::Lab.colour(&[53.24, 80.09, 67.2]);
        assert!(r > 245 && g < 20 && b < 20, "{r} {g} {b}");
    }
}
