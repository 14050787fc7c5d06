//! What is woven or printed on a cloth.

use toml::{Table, Value};

use super::{Taste, table, text, words};
use crate::chance::Chance;

/// What a design has to match.
#[derive(Debug, Clone, Copy)]
pub(super) struct Asked {
    pub(super) across: bool,
    pub(super) along: bool,
    pub(super) border: bool,
}

/// A design, and what it has.
pub(super) fn design(chance: &mut Chance, taste: &Taste, width: f64) -> (Value, Asked) {
    let (across, along) = *chance.pick(&[(true, true), (true, true), (true, false), (false, true), (false, false)]);
    let border = (!across && !along) || chance.often(0.15);
    let even = chance.often(0.7);
    let mut file = Table::new();
    for (key, there) in [("across", across), ("along", along)] {
        if there {
            file.insert(key.to_owned(), repeat(chance, taste, even));
        }
    }
    if across && along && chance.often(0.15) {
        file.insert("drop".to_owned(), text(*chance.pick(&["half", "half", "straight"])));
    }
    if chance.often(taste.rich) {
        file.insert("ground".to_owned(), words::colour(chance));
    }
    if border {
        let along = *chance.pick(&["left selvage", "right selvage", "both selvages"]);
        let reach = width * chance.between(0.05, 0.4);
        let Value::Table(mut border) = table([("along", text(along)), ("width", words::length(chance, taste, reach))])
        else {
            return (Value::Table(file), Asked { across, along: false, border: false });
        };
        if chance.often(taste.rich) {
            border.insert("colour".to_owned(), words::colour(chance));
        }
        file.insert("border".to_owned(), Value::Table(border));
    }
    (Value::Table(file), Asked { across, along, border })
}

fn repeat(chance: &mut Chance, taste: &Taste, even: bool) -> Value {
    let every = chance.between(12.0, 260.0);
    let even = if chance.often(0.1) { !even } else { even };
    let balance = text(if even { "even" } else { "uneven" });
    let Value::Table(mut repeat) = table([("repeat", words::length(chance, taste, every)), ("balance", balance)])
    else {
        return Value::Boolean(false);
    };
    if chance.often(0.6) {
        let offset = chance.between(0.0, every);
        repeat.insert("offset".to_owned(), words::length(chance, taste, offset));
    }
    if chance.often(taste.rich) {
        let bar = table([
            ("at", words::length(chance, taste, every * 0.3)),
            ("width", words::length(chance, taste, (every * 0.2).max(4.0))),
            ("colour", words::colour(chance)),
        ]);
        repeat.insert("bars".to_owned(), Value::Array(vec![bar]));
    }
    Value::Table(repeat)
}
