//! Shares, angles and money.

use std::{borrow::Cow, str::FromStr};

use rust_decimal::Decimal;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::numeral;
use crate::fault::QuantityFault;

/// A share written in per cent, such as `3%`: at least 0 and below 100 per cent.
///
/// ```
/// assert_eq!("2 1/2 %".parse::<ellwand_files::Share>().unwrap().fraction(), 0.025);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share(f64);

impl Share {
    /// The share of one: 0.03 for 3 per cent.
    pub fn fraction(self) -> f64 {
        self.0
    }
}

impl FromStr for Share {
    type Err = QuantityFault;

    fn from_str(text: &str) -> Result<Self, QuantityFault> {
        let trimmed = text.trim();
        let number = ["%", "per cent", "percent"].iter().find_map(|sign| trimmed.strip_suffix(sign));
        let Some(number) = number else { return Err(QuantityFault::NoPercent { text: text.to_owned() }) };
        let percent = numeral::parse(number)?;
        if percent >= 100.0 {
            return Err(QuantityFault::WholeLost { text: text.to_owned() });
        }
        Ok(Self(percent / 100.0))
    }
}

impl JsonSchema for Share {
    fn schema_name() -> Cow<'static, str> {
        "Share".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "A share in per cent, such as \"3%\", below 100%",
            "pattern": "[0-9½⅓⅔¼¾⅛⅜⅝⅞]\\s*(%|per cent|percent)\\s*$"
        })
    }
}

/// An angle written in degrees, such as `1 deg` or `180°`, from 0 to 360.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Angle(f64);

impl Angle {
    /// An angle that nobody wrote down, degrees.
    pub(crate) fn measured(degrees: f64) -> Self {
        Self(degrees)
    }

    /// The angle in degrees.
    pub fn degrees(self) -> f64 {
        self.0
    }
}

impl FromStr for Angle {
    type Err = QuantityFault;

    fn from_str(text: &str) -> Result<Self, QuantityFault> {
        let trimmed = text.trim();
        let number = ["degrees", "degree", "deg", "°"].iter().find_map(|sign| trimmed.strip_suffix(sign));
        let Some(number) = number else { return Err(QuantityFault::NoDegrees { text: text.to_owned() }) };
        let degrees = numeral::parse(number)?;
        if degrees > 360.0 {
            return Err(QuantityFault::PastFullTurn { text: text.to_owned() });
        }
        Ok(Self(degrees))
    }
}

impl JsonSchema for Angle {
    fn schema_name() -> Cow<'static, str> {
        "Angle".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "An angle in degrees, such as \"180 deg\"",
            "pattern": "[0-9½¼¾]\\s*(deg|degree|degrees|°)\\s*$"
        })
    }
}

/// An amount of money, in quotes so that no cent is lost: `14.50`. Not below zero, below a million.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Money(Decimal);

impl Money {
    /// An amount that nobody wrote down.
    pub(crate) fn known(amount: Decimal) -> Self {
        Self(amount)
    }

    /// The amount.
    pub fn amount(self) -> Decimal {
        self.0
    }
}

impl FromStr for Money {
    type Err = QuantityFault;

    fn from_str(text: &str) -> Result<Self, QuantityFault> {
        let trimmed = text.trim();
        if trimmed.starts_with(['-', '−']) {
            return Err(QuantityFault::Negative { text: text.to_owned() });
        }
        let plain = !trimmed.is_empty() && trimmed.chars().all(|c| c.is_ascii_digit() || c == '.');
        match trimmed.parse::<Decimal>() {
            Ok(amount) if plain && amount < Decimal::from(1_000_000) => Ok(Self(amount)),
            _ => Err(QuantityFault::NotMoney { text: text.to_owned(), meant: likely_amount(trimmed) }),
        }
    }
}

/// What a price with a comma or a currency sign around it most likely says; nothing when a letter stands among the digits.
fn likely_amount(text: &str) -> Option<String> {
    let kept = text.trim_matches(|c: char| !c.is_ascii_digit());
    let kept = if kept.contains(',') { numeral::without_comma(kept).into_iter().next()? } else { kept.to_owned() };
    let plain = kept.chars().all(|c| c.is_ascii_digit() || c == '.');
    let amount: Decimal = kept.parse().ok()?;
    (plain && amount < Decimal::from(1_000_000)).then_some(kept)
}

impl JsonSchema for Money {
    fn schema_name() -> Cow<'static, str> {
        "Money".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "An amount of money as a decimal number in quotes, such as \"14.50\"",
            "pattern": "^\\s*[0-9]+(\\.[0-9]+)?\\s*$"
        })
    }
}
