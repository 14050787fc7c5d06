//! The cloth of one role, with every key a fabric may have.

use toml::{Table, Value};

use super::{Blanks, Taste, design, matching, table, text, twin, words};
use crate::chance::Chance;

/// The cloth of `role`.
pub(super) fn cloth(chance: &mut Chance, taste: &Taste, blanks: &Blanks, role: &str) -> Value {
    let mut file = Table::new();
    let mut set = |key: &str, value: Value| drop(file.insert(key.to_owned(), value));
    let rich = taste.rich;
    set("name", text(format!("{role} cloth")));
    let selvage = if chance.often(0.4) { *chance.pick(&[0.0, 6.35, 10.0, 12.7]) } else { 0.0 };
    let usual = *chance.pick(&[900.0, 914.4, 1100.0, 1143.0, 1143.0, 1400.0, 1524.0]);
    let width = exactly_full(chance, blanks, role).map_or(usual, |full| full + 2.0 * selvage);
    set("width", words::length(chance, taste, width));
    if selvage > 0.0 || chance.often(0.1) {
        set("selvage", words::length(chance, taste, selvage));
    }
    set("nap", text(*chance.pick(&["with", "without", "without"])));
    if chance.often(0.1 + rich / 2.0) {
        set("right_side", text(*chance.pick(&["one", "both"])));
    }
    if chance.often(0.6) {
        let (key, word) = laid(chance);
        set(key, text(word));
    }
    if chance.often(rich / 2.0) {
        set("off_grain", text(*chance.pick(&["1 deg", "0.5 deg", "2 deg", "3 deg", "0 deg"])));
    }
    if chance.often(rich) {
        let gap = *chance.pick(&[2.0, 3.175, 5.0, 10.0]);
        set("piece_gap", words::length(chance, taste, gap));
    }
    if chance.often(rich / 3.0) {
        set("cross_grain", text("allowed"));
    }
    if chance.often(rich / 2.0) {
        set("kind", text(*chance.pick(&["linen", "Corduroy", "chambray"])));
        set("weight", text(*chance.pick(&["90 g/m2", "180 g", "10 oz/yd2", "5 1/2 oz"])));
        set("stretch", text(*chance.pick(&["0%", "4%", "20%"])));
        set("diagonals", text(*chance.pick(&["obvious", "faint"])));
    }
    let priced = chance.often(0.3 + rich);
    if priced {
        let cents = chance.whole(100, 4999);
        set("price", text(format!("{}.{:02}", cents / 100, cents % 100)));
        if chance.often(0.4) {
            set("price_per", text(*chance.pick(&["yd", "m"])));
        }
        if chance.often(0.15) {
            set("currency", text(*chance.pick(&["GBP", "EUR", "USD"])));
        }
    }
    if chance.often(rich) {
        set(
            "sold_by",
            text(
                *chance
                    .pick(&["25 cm", "10 cm", "1/4 yd", "1/8 yd", "1 in", "1 m", "5 cm", "1/3 yd", "1 cm", "1/6 yd"]),
            ),
        );
    }
    if chance.often(rich) {
        set("shrinkage", shrinkage(chance));
    }
    if chance.often(rich) {
        set("straighten_ends", words::length(chance, taste, 100.0));
    }
    if chance.often(rich) {
        let mm = chance.between(300.0, 4000.0);
        set("on_hand", words::length(chance, taste, mm));
        if chance.often(rich) {
            let creases = (0..chance.whole(1, 2)).map(|_| crease(chance, taste, width)).collect();
            set("creases", Value::Array(creases));
        }
    }
    if chance.often(rich) {
        let flaws = (0..chance.whole(1, 3)).map(|_| flaw(chance, taste, width)).collect();
        set("flaws", Value::Array(flaws));
    }
    // What a twin is for, a slanted seam in stripes, is too rare otherwise.
    let twins = blanks.pieces.iter().any(|piece| piece.name == twin::NAME && piece.roles.iter().any(|of| of == role));
    if chance.often(if twins { 0.75 } else { 0.35 }) {
        let (design, asked) = design::design(chance, taste, width);
        set("design", design);
        if chance.often(if twins { 0.9 } else { 0.65 }) {
            set("matching", matching::matching(chance, taste, blanks, role, &asked, priced));
        }
    }
    if chance.often(0.15) && !has_border(&file) {
        let remnants = (1..=chance.whole(1, 3)).map(|number| remnant(chance, taste, &file, number));
        let remnants = remnants.collect();
        file.insert("remnant".to_owned(), Value::Array(remnants));
    }
    Value::Table(file)
}

/// A way of laying, now and then by the former name of the key and in its words.
fn laid(chance: &mut Chance) -> (&'static str, &'static str) {
    const WORDS: [&str; 13] = [
        "open",
        "open",
        "centre fold",
        "centre fold",
        "off centre",
        "to the middle",
        "part folded",
        "crosswise",
        "cut and turned",
        "either",
        "either",
        "any",
        "fold",
    ];
    if chance.often(0.15) {
        return ("layer", *chance.pick(&["open", "fold", "either"]));
    }
    ("layout", *chance.pick(&WORDS))
}

fn has_border(fabric: &Table) -> bool {
    fabric.get("design").and_then(|design| design.get("border")).is_some()
}

/// A piece of the cloth on hand: an end of the bolt, a rectangle, or something with an edge of its own.
pub(super) fn remnant(chance: &mut Chance, taste: &Taste, fabric: &Table, number: i64) -> Value {
    let mut entry = Table::new();
    let mut set = |key: &str, value: Value| drop(entry.insert(key.to_owned(), value));
    set("name", text(format!("end {number}")));
    let (width, length) = (chance.between(250.0, 1700.0), chance.between(200.0, 3200.0));
    match chance.whole(0, 2) {
        0 => set("length", words::length(chance, taste, length)),
        1 => {
            set("length", words::length(chance, taste, length));
            set("width", words::length(chance, taste, width));
        }
        _ => {
            set("coordinates", text("mm"));
            set("outline", outline(chance, width.round(), length.round()));
        }
    }
    if chance.often(0.4) {
        set("selvage", text(*chance.pick(&["left", "right", "both", "none"])));
    }
    if chance.often(0.3) {
        set("washed", Value::Boolean(chance.often(0.5)));
    }
    if chance.often(0.2) {
        set("flaws", Value::Array(vec![flaw(chance, taste, 200.0)]));
    }
    if chance.often(0.1) {
        set("creases", Value::Array(vec![crease(chance, taste, 150.0)]));
    }
    for (direction, key) in [("across", "offset_across"), ("along", "offset_along")] {
        if fabric.get("design").and_then(|design| design.get(direction)).is_some() {
            let mm = chance.between(0.0, 200.0);
            set(key, words::length(chance, taste, mm));
        }
    }
    Value::Table(entry)
}

/// Corners of an edge within so much cloth, which begins at the origin and reaches as far.
fn outline(chance: &mut Chance, width: f64, length: f64) -> Value {
    let share = |chance: &mut Chance| chance.between(0.1, 0.45);
    let (a, b, c, d) = (share(chance), share(chance), share(chance), share(chance));
    let corners: Vec<(f64, f64)> = match chance.whole(0, 3) {
        // Two corners off.
        0 => vec![(a, 0.0), (1.0, 0.0), (1.0, 1.0 - b), (1.0 - c, 1.0), (0.0, 1.0), (0.0, d)],
        // A bay on a side.
        1 => vec![
            (0.0, 0.0),
            (1.0, 0.0),
            (1.0, a),
            (1.0 - b, a),
            (1.0 - c, 1.0 - d),
            (1.0, 1.0 - d),
            (1.0, 1.0),
            (0.0, 1.0),
        ],
        // What is left beside a neckline.
        2 => vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (1.0 - a, 0.9), (0.5, 1.0 - b), (a, 0.92), (0.0, 0.95)],
        // A hook.
        _ => vec![(0.0, 0.0), (1.0, 0.0), (1.0, 1.0 - a), (1.0 - b, 1.0 - a), (1.0 - b, 1.0), (0.0, 1.0)],
    };
    let place = |(x, y): (f64, f64)| {
        Value::Array([x * width, y * length].map(|mm| Value::Float((mm * 100.0).round() / 100.0)).to_vec())
    };
    Value::Array(corners.into_iter().map(place).collect())
}

/// A width that pieces of round width fill exactly, mm.
fn exactly_full(chance: &mut Chance, blanks: &Blanks, role: &str) -> Option<f64> {
    if !chance.often(0.12) {
        return None;
    }
    let of_role = blanks.pieces.iter().filter(|piece| piece.roles.iter().any(|of| of == role));
    let across: f64 = of_role.filter_map(|piece| Some(piece.across? * piece.count as f64)).sum();
    (200.0..2000.0).contains(&across).then_some(across)
}

fn shrinkage(chance: &mut Chance) -> Value {
    let per_cent = |chance: &mut Chance| text(*chance.pick(&["3%", "5%", "10%", "2.5%", "0%", "1%"]));
    match chance.whole(0, 2) {
        0 => table([("along", per_cent(chance))]),
        1 => table([("across", per_cent(chance))]),
        _ => table([("along", per_cent(chance)), ("across", per_cent(chance))]),
    }
}

fn flaw(chance: &mut Chance, taste: &Taste, width: f64) -> Value {
    let (x, y) = (chance.between(0.0, width * 0.95), chance.between(0.0, 900.0));
    let (across, along) = (chance.between(5.0, 120.0), chance.between(5.0, 120.0));
    let mut pair =
        |a: f64, b: f64| Value::Array(vec![words::length(chance, taste, a), words::length(chance, taste, b)]);
    table([("at", pair(x, y)), ("size", pair(across.max(4.0), along.max(4.0)))])
}

/// An old fold, in the middle more often than anywhere else.
fn crease(chance: &mut Chance, taste: &Taste, width: f64) -> Value {
    let at = if chance.often(0.5) { width / 2.0 } else { chance.between(width * 0.05, width * 0.95) };
    words::length(chance, taste, at)
}
