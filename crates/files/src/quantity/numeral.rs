//! Numbers as they stand on tape measures and till receipts: "2", "2.5", "2 3/4", "2-3/4", "5/8", "2½".

use crate::fault::QuantityFault;

/// Fractions with a character of their own, with their value.
const FRACTIONS: [(char, f64, f64); 15] = [
    ('½', 1.0, 2.0),
    ('⅓', 1.0, 3.0),
    ('⅔', 2.0, 3.0),
    ('¼', 1.0, 4.0),
    ('¾', 3.0, 4.0),
    ('⅕', 1.0, 5.0),
    ('⅖', 2.0, 5.0),
    ('⅗', 3.0, 5.0),
    ('⅘', 4.0, 5.0),
    ('⅙', 1.0, 6.0),
    ('⅚', 5.0, 6.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
];

/// Whether `c` can stand in a number, spaces included.
pub(super) fn belongs_to_number(c: char) -> bool {
    c.is_ascii_digit()
        || c.is_whitespace()
        || matches!(c, '.' | ',' | '/' | '⁄' | '-' | '−' | '+')
        || FRACTIONS.iter().any(|&(f, ..)| f == c)
}

/// The value of a number not below zero.
pub(super) fn parse(text: &str) -> Result<f64, QuantityFault> {
    let text = text.trim();
    if text.starts_with(['-', '−']) {
        return Err(QuantityFault::Negative { text: text.to_owned() });
    }
    if text.contains(',') {
        return Err(QuantityFault::DecimalComma { text: text.to_owned(), meant: text.replace(',', ".") });
    }
    let bad = || QuantityFault::NotANumber { text: text.to_owned() };
    if let Some((character, top, bottom)) = FRACTIONS.iter().find(|&&(f, ..)| text.ends_with(f)) {
        let whole = text.trim_end_matches(*character).trim_end_matches(['-', ' ']).trim();
        let whole = if whole.is_empty() { 0.0 } else { whole_number(whole).ok_or_else(bad)? };
        return Ok(whole + top / bottom);
    }
    let Some((before, bottom)) = text.split_once(['/', '⁄']) else { return decimal(text).ok_or_else(bad) };
    let (whole, top) = match before.trim().rsplit_once(|c: char| c == '-' || c.is_whitespace()) {
        Some((whole, top)) => (whole_number(whole.trim()).ok_or_else(bad)?, top),
        None => (0.0, before.trim()),
    };
    let (top, bottom) = (whole_number(top).ok_or_else(bad)?, whole_number(bottom.trim()).ok_or_else(bad)?);
    if bottom == 0.0 {
        return Err(bad());
    }
    Ok(whole + top / bottom)
}

/// Digits only, and not so many that they overflow.
fn whole_number(text: &str) -> Option<f64> {
    let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    digits.then(|| text.parse().ok()).flatten().filter(|value: &f64| value.is_finite())
}

/// Digits with at most one point among them.
fn decimal(text: &str) -> Option<f64> {
    let digits = text.chars().filter(char::is_ascii_digit).count();
    let points = text.chars().filter(|&c| c == '.').count();
    (digits > 0 && points <= 1 && digits + points == text.chars().count()).then(|| text.parse().ok()).flatten()
}
