//! How heavy a cloth is.

use std::{borrow::Cow, fmt, str::FromStr};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::numeral;
use crate::fault::QuantityFault;

/// Grams in an ounce, and square metres in a square yard, both exact.
const OUNCE: f64 = 28.349_523_125;
const SQUARE_YARD: f64 = 0.836_127_36;

/// Units with what one of them is in grams a square metre.
const UNITS: [(&str, f64); 7] = [
    ("g/m2", 1.0),
    ("g/m²", 1.0),
    ("gsm", 1.0),
    ("oz/yd2", OUNCE / SQUARE_YARD),
    ("oz/yd²", OUNCE / SQUARE_YARD),
    ("oz", OUNCE / SQUARE_YARD),
    ("g", 1.0),
];

/// The weight of a cloth by area, such as `180 g/m2` or `5 1/2 oz` (a square yard).
///
/// ```
/// assert_eq!("180 g/m2".parse::<ellwand_files::ClothWeight>().unwrap().grams(), 180.0);
/// assert_eq!("10 oz".parse::<ellwand_files::ClothWeight>().unwrap().to_string(), "339 g/m2");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct ClothWeight(f64);

impl ClothWeight {
    /// Grams a square metre.
    pub fn grams(self) -> f64 {
        self.0
    }
}

impl fmt::Display for ClothWeight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.0} g/m2", self.0)
    }
}

impl FromStr for ClothWeight {
    type Err = QuantityFault;

    fn from_str(text: &str) -> Result<Self, QuantityFault> {
        let trimmed = text.trim();
        let found = UNITS.iter().find_map(|(unit, grams)| Some((trimmed.strip_suffix(unit)?, grams)));
        let Some((number, grams)) = found else { return Err(QuantityFault::NoWeight { text: text.to_owned() }) };
        let weight = numeral::parse(number.trim_end())? * grams;
        if weight > 0.0 && weight <= MOST {
            Ok(Self(weight))
        } else {
            Err(QuantityFault::NoWeight { text: text.to_owned() })
        }
    }
}

/// Heavier than any cloth that is sewn, grams a square metre.
const MOST: f64 = 5000.0;

impl JsonSchema for ClothWeight {
    fn schema_name() -> Cow<'static, str> {
        "ClothWeight".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "How heavy a cloth is, such as \"180 g/m2\" or \"5 1/2 oz/yd2\"",
            "pattern": "[0-9½⅓⅔¼¾⅛⅜⅝⅞]\\s*(g/m2|g/m²|gsm|g|oz/yd2|oz/yd²|oz)\\s*$"
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_are_by_the_square_metre_or_the_square_yard() {
        let grams = |text: &str| text.parse::<ClothWeight>().map(ClothWeight::grams);
        for text in ["180 g/m2", "180g/m²", " 180 gsm", "180 g"] {
            assert_eq!(grams(text), Ok(180.0), "{text}");
        }
        // One ounce a square yard is 33.9 g a square metre (both units are defined exactly).
        for text in ["1 oz", "1 oz/yd2"] {
            assert!((grams(text).unwrap() - 33.9057).abs() < 1e-4, "{text}");
        }
        for bad in ["180", "0 g", "heavy", "9000 g", "180 kg"] {
            assert!(
                matches!(grams(bad), Err(QuantityFault::NoWeight { .. } | QuantityFault::NotANumber { .. })),
                "{bad}"
            );
        }
    }
}
