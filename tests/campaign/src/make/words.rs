//! Lengths in words, in the units and steps people write.

use toml::Value;

use super::{Taste, text};
use crate::chance::Chance;

/// A length near `mm`, as a maker writes it.
pub(super) fn length(chance: &mut Chance, taste: &Taste, mm: f64) -> Value {
    let inches = if chance.often(0.1) { !taste.inches } else { taste.inches };
    text(if inches { in_inches(chance, mm) } else { in_centimetres(chance, mm) })
}

fn in_inches(chance: &mut Chance, mm: f64) -> String {
    let eighths = (mm / 3.175).round().max(0.0) as i64;
    let (whole, rest) = (eighths / 8, eighths % 8);
    let sign = *chance.pick(&["in", "in", "in", "\""]);
    if chance.often(0.1) {
        return format!("{} in", eighths as f64 / 8.0);
    }
    if whole >= 36 && chance.often(0.4) {
        let (yards, inches) = (whole / 36, whole % 36);
        return if inches == 0 && rest == 0 {
            format!("{yards} yd")
        } else {
            format!("{yards} yd {}", short(inches, rest, "in"))
        };
    }
    short(whole, rest, sign)
}

fn short(whole: i64, eighths: i64, sign: &str) -> String {
    let common = if eighths % 4 == 0 {
        4
    } else if eighths % 2 == 0 {
        2
    } else {
        1
    };
    let space = if sign == "\"" { "" } else { " " };
    match (whole, eighths) {
        (whole, 0) => format!("{whole}{space}{sign}"),
        (0, eighths) => format!("{}/{}{space}{sign}", eighths / common, 8 / common),
        (whole, eighths) => format!("{whole} {}/{}{space}{sign}", eighths / common, 8 / common),
    }
}

fn in_centimetres(chance: &mut Chance, mm: f64) -> String {
    let mm = mm.round().max(0.0) as i64;
    match chance.whole(0, 9) {
        0 => format!("{mm} mm"),
        1 if mm >= 1000 => format!("{} m", mm as f64 / 1000.0),
        _ => format!("{} cm", mm as f64 / 10.0),
    }
}

/// A length to add or take away.
pub(super) fn change(chance: &mut Chance, taste: &Taste, mm: f64) -> Value {
    let sign = if chance.often(0.35) { "-" } else { "" };
    let length = length(chance, taste, mm.max(4.0));
    text(format!("{sign}{}", length.as_str().unwrap_or_default()))
}

/// A colour.
pub(super) fn colour(chance: &mut Chance) -> Value {
    text(format!("#{:06x}", chance.whole(0, 0xff_ffff)))
}

/// A word for how an allowance ends beside its neighbours.
pub(super) fn corner(chance: &mut Chance) -> &'static str {
    *chance.pick(&["mirrored", "square", "straight on", "mitred"])
}
