//! The rate of a tax, exact.

use std::{borrow::Cow, str::FromStr};

use rust_decimal::Decimal;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::numeral;
use crate::fault::QuantityFault;

/// A tax on top of prices, written in per cent, such as `8%` or `8.875%`: from 0 to 100 per cent. It is decimal, like the money it is worked out on, so
/// fractions such as `8 1/2` are not taken.
///
/// ```
/// assert_eq!("8.875%".parse::<ellwand_files::TaxRate>().unwrap().share().to_string(), "0.08875");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TaxRate(Decimal);

/// Decimals of a rate that are kept: no tax has more.
const DECIMALS: u32 = 6;

impl TaxRate {
    /// The share of one: 0.08 for 8 per cent.
    pub fn share(self) -> Decimal {
        self.0
    }
}

impl FromStr for TaxRate {
    type Err = QuantityFault;

    fn from_str(text: &str) -> Result<Self, QuantityFault> {
        let trimmed = text.trim();
        let number = ["%", "per cent", "percent"].iter().find_map(|sign| trimmed.strip_suffix(sign));
        let Some(number) = number.map(str::trim) else {
            return Err(QuantityFault::TaxWithoutPercent { text: text.to_owned() });
        };
        // For its faults: a sign, a comma, no number at all.
        numeral::parse(number).map_err(|fault| match fault {
            QuantityFault::NotANumber { .. } | QuantityFault::TwoLengths { .. } => {
                QuantityFault::NoRate { text: text.to_owned() }
            }
            fault => fault,
        })?;
        let plain = number.chars().all(|c| c.is_ascii_digit() || c == '.');
        let percent: Option<Decimal> = number.parse().ok().filter(|_| plain);
        match percent {
            Some(percent) if percent > Decimal::ONE_HUNDRED => Err(QuantityFault::TaxTooHigh { text: text.to_owned() }),
            Some(percent) if percent.normalize().scale() <= DECIMALS => Ok(Self(percent / Decimal::ONE_HUNDRED)),
            _ => Err(QuantityFault::NoRate { text: text.to_owned() }),
        }
    }
}

impl JsonSchema for TaxRate {
    fn schema_name() -> Cow<'static, str> {
        "TaxRate".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "A tax in per cent on top of prices, such as \"8%\", up to 100%",
            "pattern": "^\\s*[0-9]+(\\.[0-9]+)?\\s*(%|per cent|percent)\\s*$"
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rate(text: &str) -> Result<String, QuantityFault> {
        text.parse().map(|rate: TaxRate| rate.share().normalize().to_string())
    }

    #[test]
    fn a_rate_is_exact() {
        for (text, share) in [("8%", "0.08"), (" 8.875 % ", "0.08875"), ("0%", "0"), ("100 per cent", "1")] {
            assert_eq!(rate(text).as_deref(), Ok(share));
        }
    }

    #[test]
    fn what_is_no_rate_is_told_as_what_it_is() {
        let text = |text: &str| text.to_owned();
        assert_eq!(rate("100.5%"), Err(QuantityFault::TaxTooHigh { text: text("100.5%") }));
        assert_eq!(rate("8"), Err(QuantityFault::TaxWithoutPercent { text: text("8") }));
        assert_eq!(rate("-8%"), Err(QuantityFault::Negative { text: text("-8") }));
        assert!(matches!(rate("8,5%"), Err(QuantityFault::Comma { .. })));
        for odd in ["eight%", "%", "8 1/2%", "8½%", "1e1%", "0.1234567%"] {
            assert_eq!(rate(odd), Err(QuantityFault::NoRate { text: text(odd) }), "{odd}");
        }
    }
}
