//! A length with its unit, as written on a shopping list.

use std::{borrow::Cow, str::FromStr};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::numeral;
use crate::{fault::QuantityFault, nearest::nearest};

/// A length as people write it: `60 in`, `44"`, `2 3/4 yd`, `5/8 in`, `1 yd 9 in`, `150 cm`, `12 mm`, `1.5 m`.
///
/// Not below zero and at most 1 km. A number without a unit is not a length.
///
/// ```
/// use ellwand_files::Length;
///
/// let bought: Length = "2 3/4 yd".parse()?;
/// assert_eq!(bought.mm(), 2.75 * 914.4);
/// assert!("60".parse::<Length>().is_err());
/// # Ok::<(), ellwand_files::QuantityFault>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Length(f64);

/// Longest length accepted, mm: 1 km, more cloth than a mill folds into one piece.
const LONGEST: f64 = 1e6;

/// Names of each unit, the usual sign first, and its length in mm. An inch is 25.4 mm exactly (agreement of 1959).
const UNITS: [(&[&str], f64); 6] = [
    (&["in", "inch", "inches", "\"", "″", "”", "“", "''", "′′", "’’", "‘‘"], 25.4),
    (&["yd", "yds", "yard", "yards"], 914.4),
    (&["cm", "centimetre", "centimetres", "centimeter", "centimeters"], 10.0),
    (&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 1.0),
    (&["m", "metre", "metres", "meter", "meters"], 1000.0),
    (&["ft", "foot", "feet", "'", "′", "’", "‘"], 304.8),
];

impl Length {
    /// The length in mm.
    pub fn mm(self) -> f64 {
        self.0
    }

    /// A length that was measured, mm, not below zero.
    pub(crate) fn measured(mm: f64) -> Self {
        Self(mm.max(0.0))
    }

    /// The usual sign of the unit that some name means.
    pub(super) fn unit_sign(name: &str) -> Option<&'static str> {
        let plain = name.trim_end_matches('.').to_lowercase();
        UNITS.iter().find(|(names, _)| names.contains(&plain.as_str())).map(|(names, _)| names[0])
    }

    /// Every length that `text`, a number with one unit, could have meant with another unit, as it would be written.
    pub(crate) fn in_other_units(text: &str) -> impl Iterator<Item = (String, Self)> {
        let (number, _) = split_where(text.trim(), |c| !numeral::belongs_to_number(c));
        let number = number.trim().to_owned();
        let value = numeral::parse(&number).ok();
        ["cm", "in", "mm"].into_iter().filter_map(move |sign| {
            let mm = unit_length(sign, &number).ok()?;
            Some((format!("{number} {sign}"), Self(value? * mm)))
        })
    }
}

/// A length to add, or below zero to take away: `2 in`, `-1 cm`.
///
/// ```
/// use ellwand_files::SignedLength;
///
/// assert_eq!("-1 cm".parse::<SignedLength>()?.mm(), -10.0);
/// # Ok::<(), ellwand_files::QuantityFault>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SignedLength(f64);

impl SignedLength {
    /// A length that nobody wrote down.
    pub(crate) fn measured(mm: f64) -> Self {
        Self(mm)
    }

    /// The length in mm.
    pub fn mm(self) -> f64 {
        self.0
    }
}

impl FromStr for SignedLength {
    type Err = QuantityFault;

    fn from_str(text: &str) -> Result<Self, QuantityFault> {
        let trimmed = text.trim();
        let (sign, length) = match trimmed.strip_prefix(['-', '−']) {
            Some(length) => (-1.0, length),
            None => (1.0, trimmed.strip_prefix('+').unwrap_or(trimmed)),
        };
        if length.trim_start().starts_with(['-', '−', '+']) {
            return Err(QuantityFault::NotANumber { text: text.to_owned() });
        }
        Ok(Self(sign * length.parse::<Length>()?.mm()))
    }
}

impl FromStr for Length {
    type Err = QuantityFault;

    fn from_str(text: &str) -> Result<Self, QuantityFault> {
        let mut rest = text.trim();
        if rest.is_empty() {
            return Err(QuantityFault::Empty);
        }
        let mut total = 0.0;
        let mut unit_before = f64::INFINITY;
        while !rest.is_empty() {
            let (number, after) = split_where(rest, |c| !numeral::belongs_to_number(c));
            let (unit, after) = split_where(after, |c| c.is_whitespace() || numeral::belongs_to_number(c) && c != '.');
            if ["nan", "inf", "infinity"].contains(&unit.to_lowercase().as_str()) {
                return Err(QuantityFault::NotFinite { text: text.to_owned() });
            }
            if number.trim().is_empty() {
                return Err(QuantityFault::NotANumber { text: text.to_owned() });
            }
            let value = numeral::parse(number)?;
            let unit = unit_length(unit, number.trim())?;
            if unit >= unit_before {
                return Err(QuantityFault::UnitsOutOfOrder { text: text.to_owned() });
            }
            unit_before = unit;
            total += value * unit;
            rest = after.trim();
        }
        if total > LONGEST {
            return Err(QuantityFault::TooLong { text: text.to_owned() });
        }
        Ok(Self(total))
    }
}

impl JsonSchema for Length {
    fn schema_name() -> Cow<'static, str> {
        "Length".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "A length with its unit, such as \"60 in\", \"2 3/4 yd\", \"5/8 in\", \"150 cm\" or \"12 mm\"",
            "pattern": format!("^\\s*{}", length_pattern())
        })
    }
}

impl JsonSchema for SignedLength {
    fn schema_name() -> Cow<'static, str> {
        "SignedLength".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "A length with its unit, below zero to take away, such as \"2 in\" or \"-1 cm\"",
            "pattern": format!("^\\s*[-−+]?\\s*{}", length_pattern())
        })
    }
}

/// A digit, whatever numbers and larger units follow, and a unit that is not the tail of another word.
fn length_pattern() -> String {
    let digit = "0-9½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞";
    let words = "mm|cm|m|in|inch|inches|ft|foot|feet|yds?|yards?|(milli|centi)?met(re|er)s?";
    format!("[{digit}](.*[{digit}\\s])?({words}|[\"'″′”’“‘]{{1,2}})\\.?\\s*$")
}

/// `text` up to the first character that ends it, and the rest.
fn split_where(text: &str, ends: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(ends).unwrap_or(text.len()))
}

/// Length in mm of the unit called `name`; `number` stands before it.
fn unit_length(name: &str, number: &str) -> Result<f64, QuantityFault> {
    let plain = name.trim_end_matches('.').to_lowercase();
    if plain.is_empty() {
        return Err(QuantityFault::NoUnit { number: number.to_owned() });
    }
    let known = UNITS.iter().find(|(names, _)| names.contains(&plain.as_str()));
    known.map(|&(_, mm)| mm).ok_or_else(|| {
        let names = UNITS.iter().flat_map(|(names, _)| names.iter().copied());
        let sign = nearest(&plain, names).map(|near| {
            let (names, _) = UNITS.iter().find(|(names, _)| names.contains(&near)).unwrap_or(&UNITS[0]);
            names[0]
        });
        QuantityFault::UnknownUnit { unit: name.to_owned(), meant: sign.map(|sign| format!("{number} {sign}")) }
    })
}
