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
pub(crate) fn parse(text: &str) -> Result<f64, QuantityFault> {
    let text = text.trim();
    if text.starts_with(['-', '−']) {
        return Err(QuantityFault::Negative { text: text.to_owned() });
    }
    if text.contains(',') {
        return Err(QuantityFault::Comma { text: text.to_owned(), meant: without_comma(text) });
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
    if whole == 0.0 && are_two_widths(top, bottom) {
        return Err(QuantityFault::TwoLengths { text: text.to_owned(), smaller: top.to_string() });
    }
    Ok(whole + top / bottom)
}

/// Least of two numbers that are read as two widths of cloth and not as a fraction.
const LEAST_WIDTH: f64 = 20.0;

/// How much wider the upper end of a range of widths may be than the lower.
const WIDEST_RANGE: f64 = 1.25;

/// Whether two numbers with a stroke between them are the ends of a range, as bolts are labelled: 44/45, 58/60, 112/115. Rulers are divided
/// into 32 and 64, so those are fractions.
fn are_two_widths(low: f64, high: f64) -> bool {
    let of_a_ruler = high == 32.0 || high == 64.0;
    is_range(low, high) && !of_a_ruler
}

/// Whether two numbers can be the ends of a range of widths.
pub(super) fn is_range(low: f64, high: f64) -> bool {
    low >= LEAST_WIDTH && low < high && high <= low * WIDEST_RANGE
}

/// What a number with commas in it can have meant, the likelier first: commas that part thousands dropped, or the comma a point. Nothing
/// when it can have meant no number.
pub(super) fn without_comma(text: &str) -> Vec<String> {
    let parts_thousands = |text: &str, mark: char| {
        let mut groups = text.split(mark);
        let first = groups.next().unwrap_or_default();
        let mut rest = groups.peekable();
        rest.peek().is_some()
            && (1..=3).contains(&first.len())
            && rest.all(|group| group.len() == 3 && group.bytes().all(|byte| byte.is_ascii_digit()))
    };
    let mut meant = Vec::new();
    match (text.rsplit_once(','), text.rsplit_once('.')) {
        // 1,250.5
        (Some((before, _)), Some((whole, cents))) if before.len() < whole.len() && parts_thousands(whole, ',') => {
            meant.push(format!("{}.{cents}", whole.replace(',', "")));
        }
        // 1.250,5
        (Some((whole, cents)), Some(_)) if parts_thousands(whole, '.') => {
            meant.push(format!("{}.{cents}", whole.replace('.', "")));
        }
        (Some(_), None) => {
            if parts_thousands(text, ',') {
                meant.push(text.replace(',', ""));
            }
            if text.matches(',').count() == 1 {
                meant.push(text.replace(',', "."));
            }
        }
        _ => {}
    }
    meant.retain(|number| parse(number).is_ok());
    meant
}

/// Digits only, and not so many that they overflow.
fn whole_number(text: &str) -> Option<f64> {
    let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    digits.then(|| text.parse().ok()).flatten().filter(|value: &f64| value.is_finite())
}

/// Digits with at most one point among them.
pub(super) fn decimal(text: &str) -> Option<f64> {
    let digits = text.chars().filter(char::is_ascii_digit).count();
    let points = text.chars().filter(|&c| c == '.').count();
    (digits > 0 && points <= 1 && digits + points == text.chars().count()).then(|| text.parse().ok()).flatten()
}
