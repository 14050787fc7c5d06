//! Lengths, shares, angles and amounts of money where a file holds them.

use std::str::FromStr;

use toml::de::DeValue;

use super::{
    names::read_text,
    value::{FromToml, Value, wrong_kind},
};
use crate::{
    Angle, ClothWeight, ClothWidth, Length, Money, QuantityFault, Share, SignedLength, TaxRate, findings::Findings,
    note::NoteKind,
};

/// Quantities are texts, so that the unit is never forgotten. A bare number gets the text it should have been.
fn read_quantity<T>(
    value: &Value<'_>,
    expected: &'static str,
    quoted: fn(&str) -> String,
    findings: &mut Findings,
) -> Option<T>
where
    T: FromStr<Err = QuantityFault>,
{
    let number = match value.get_ref() {
        DeValue::Integer(number) => Some(number.to_string()),
        DeValue::Float(number) => Some(number.as_str().to_owned()),
        _ => None,
    };
    if let Some(number) = number {
        wrong_kind(value, expected, Some(quoted(&number)), findings);
        return None;
    }
    let text = read_text(value, expected, findings)?;
    match text.parse() {
        Ok(read) => Some(read),
        Err(fault) => {
            findings.add(&value.span(), fault);
            None
        }
    }
}

/// A bare number as the length it may have been.
fn with_a_unit(number: &str) -> String {
    format!("\"{number} in\", \"{number} cm\", \"{number} mm\" or whichever it is")
}

impl FromToml for Length {
    const EXPECTED: &'static str = "a length with its unit in quotes, such as \"60 in\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, with_a_unit, findings)
    }
}

impl FromToml for ClothWidth {
    const EXPECTED: &'static str = "a width with its unit in quotes, such as \"60 in\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let width: Self = read_quantity(value, Self::EXPECTED, with_a_unit, findings)?;
        if let (Some(taken), Some(written)) = (width.smaller_of_two(), value.get_ref().as_str()) {
            let (written, taken) = (written.to_owned(), taken.to_owned());
            findings.note(&value.span(), NoteKind::BetweenTwoWidths { written, taken });
        }
        Some(width)
    }
}

impl FromToml for SignedLength {
    const EXPECTED: &'static str = "a length with its unit in quotes, below zero to take away, such as \"-1 cm\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, with_a_unit, findings)
    }
}

impl FromToml for Share {
    const EXPECTED: &'static str = "a share in quotes, such as \"3%\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, |number| format!("\"{number}%\""), findings)
    }
}

impl FromToml for Angle {
    const EXPECTED: &'static str = "an angle in quotes, such as \"180 deg\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, |number| format!("\"{number} deg\""), findings)
    }
}

impl FromToml for Money {
    const EXPECTED: &'static str = "an amount of money in quotes, such as \"14.50\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, |number| format!("\"{number}\""), findings)
    }
}

impl FromToml for TaxRate {
    const EXPECTED: &'static str = "a tax in quotes, such as \"8%\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, |number| format!("\"{number}%\""), findings)
    }
}

impl FromToml for ClothWeight {
    const EXPECTED: &'static str = "the weight of a cloth in quotes, such as \"180 g/m2\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_quantity(value, Self::EXPECTED, |number| format!("\"{number} g/m2\" or \"{number} oz/yd2\""), findings)
    }
}
