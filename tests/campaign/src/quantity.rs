//! Lengths, shares, angles and money as files write them, read exactly: every value is a ratio of whole numbers.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{FromPrimitive, One, ToPrimitive, Zero};

/// An exact number.
pub(crate) type Exact = BigRational;

/// `top / bottom`.
pub(crate) fn ratio(top: i64, bottom: i64) -> Exact {
    Exact::new(BigInt::from(top), BigInt::from(bottom))
}

/// The nearest binary number.
pub(crate) fn float(exact: &Exact) -> f64 {
    exact.to_f64().unwrap_or(f64::NAN)
}

/// A binary number, exactly.
pub(crate) fn exactly(number: f64) -> Exact {
    Exact::from_f64(number).unwrap_or_else(Exact::zero)
}

/// Digits with at most one point, exactly.
fn decimal(text: &str) -> Option<Exact> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits = format!("{whole}{part}");
    if digits.is_empty() || !digits.chars().all(|c| c.is_ascii_digit()) {
        return None;
    }
    let top: BigInt = digits.parse().ok()?;
    Some(Exact::new(top, BigInt::from(10).pow(u32::try_from(part.len()).ok()?)))
}

/// "2", "2.5", "5/8" or "2 5/8".
fn number(text: &str) -> Option<Exact> {
    if text.trim().is_empty() {
        return None;
    }
    let mut total = Exact::zero();
    for word in text.split_whitespace() {
        total += match word.split_once('/') {
            Some((top, bottom)) => {
                let bottom = decimal(bottom)?;
                if bottom.is_zero() {
                    return None;
                }
                decimal(top)? / bottom
            }
            None => decimal(word)?,
        };
    }
    Some(total)
}

/// A length in mm, below zero with a sign before it.
pub(crate) fn length(text: &str) -> Option<Exact> {
    let text = text.trim();
    if let Some(rest) = text.strip_prefix('-') {
        return length(rest).map(|length| -length);
    }
    let mut total = Exact::zero();
    let mut rest = text.strip_prefix('+').unwrap_or(text).trim();
    while !rest.is_empty() {
        let unit_at = rest.find(|c: char| c.is_alphabetic() || c == '"')?;
        let (figures, tail) = rest.split_at(unit_at);
        let end = tail.find(|c: char| c.is_whitespace() || c.is_ascii_digit()).unwrap_or(tail.len());
        let (unit, tail) = tail.split_at(end);
        total += number(figures)? * unit_mm(unit)?;
        rest = tail.trim();
    }
    Some(total)
}

/// One of a unit, mm. An inch is 25.4 mm.
pub(crate) fn unit_mm(unit: &str) -> Option<Exact> {
    Some(match unit {
        "mm" => Exact::one(),
        "cm" => ratio(10, 1),
        "m" => ratio(1000, 1),
        "in" | "\"" => ratio(254, 10),
        "ft" => ratio(3048, 10),
        "yd" => ratio(9144, 10),
        _ => return None,
    })
}

/// A share such as "3%", of one.
pub(crate) fn share(text: &str) -> Option<Exact> {
    Some(number(text.trim().strip_suffix('%')?)? / ratio(100, 1))
}

/// An angle such as "1 deg", degrees.
pub(crate) fn degrees(text: &str) -> Option<f64> {
    Some(float(&number(text.trim().strip_suffix("deg")?)?))
}

/// Money such as "14.50".
pub(crate) fn money(text: &str) -> Option<Exact> {
    decimal(text.trim())
}

/// The next whole number not below.
pub(crate) fn ceiling(exact: &Exact) -> Exact {
    exact.ceil()
}

/// Rounded half up to the hundredth, as it is printed.
pub(crate) fn cents(exact: &Exact) -> String {
    let hundredths = (exact * ratio(100, 1) + ratio(1, 2)).floor().to_integer();
    let hundred = BigInt::from(100);
    let (whole, rest) = (&hundredths / &hundred, &hundredths % &hundred);
    format!("{whole}.{:0>2}", rest.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_as_they_are_written() {
        for (text, mm) in [
            ("60 in", "1524"),
            ("2 3/4 yd", "2514.6"),
            ("1 yd 9 in", "1143"),
            ("5/8 in", "15.875"),
            ("44\"", "1117.6"),
            ("12.5 cm", "125"),
            ("1.2 m", "1200"),
        ] {
            assert_eq!(length(text), decimal(mm), "{text}");
        }
        assert_eq!(length("-1 cm"), Some(ratio(-10, 1)));
        assert_eq!(length("60"), None);
        assert_eq!(length("in"), None);
    }

    #[test]
    fn money_is_rounded_half_up_once() {
        // 1 5/6 yd at 16.47 is 30.195.
        assert_eq!(cents(&(ratio(11, 6) * money("16.47").unwrap())), "30.20");
        assert_eq!(cents(&ratio(5, 1000)), "0.01");
    }
}
