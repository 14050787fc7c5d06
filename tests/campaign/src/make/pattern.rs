//! A pattern: its sizes, pieces, views, options, seams and girths.

use toml::{Table, Value};

use super::{
    Blanks, Taste,
    piece::{Ground, piece},
    seams, table, text, texts,
    twin::twin,
    words,
};
use crate::chance::Chance;

const NAMES: [&str; 14] = [
    "Front",
    "Back",
    "Sleeve",
    "Pocket",
    "Collar",
    "Cuff",
    "Yoke",
    "Facing",
    "Waistband",
    "Flap",
    "Gusset",
    "Belt",
    "Side panel",
    "Tab",
];

/// A pattern, and what a job may say about it.
pub(super) fn pattern(chance: &mut Chance, taste: &Taste) -> (Table, Blanks) {
    let mut blanks = Blanks { by_bust: true, ..Blanks::default() };
    let mut file = Table::new();
    let mut set = |key: &str, value: Value| drop(file.insert(key.to_owned(), value));
    set("format", text("ellwand-pattern-1"));
    set("name", text("Harbour coat"));
    let unit = *chance.pick(&[("mm", 1.0), ("cm", 10.0), ("in", 25.4)]);
    set("coordinates", text(unit.0));
    let graded = chance.often(taste.rich);
    if graded || chance.often(taste.rich / 2.0) {
        let sizes = sizes(chance, taste, &mut blanks);
        set("size", sizes);
        blanks.by_bust = !chance.often(0.3);
        if !blanks.by_bust || chance.often(0.3) {
            set("choose_by", text(if blanks.by_bust { "bust" } else { "hip or waist" }));
        }
    } else {
        set("sizes", texts(&["one size"]));
        blanks.sizes.push(("one size".to_owned(), None));
        if chance.often(taste.rich / 2.0) {
            set("body", body(chance, taste, 0));
            blanks.has_body = true;
        }
    }
    if chance.often(taste.rich) {
        set("kind", text(*chance.pick(&["dress", "skirt", "jacket", "coat"])));
    }
    let roles = roles(chance);
    if chance.often(taste.rich) {
        set("roles", Value::Table(roles.iter().map(|role| (role.clone(), text("firm cloth"))).collect()));
    }
    if chance.often(taste.rich / 2.0) {
        let role = chance.pick(&roles).clone();
        set("suits", table([(role.as_str(), suits(chance))]));
    }

    let ground = Ground { taste, unit, roles: &roles, sizes: &blanks.sizes, graded };
    let mut names: Vec<&str> = NAMES.into();
    chance.shuffle(&mut names);
    let how_many = *chance.pick(&[1, 1, 2, 2, 3, 3, 4, 5, 6]);
    let mut pieces = Vec::new();
    for name in &names[..how_many] {
        let (entry, blank) = piece(chance, &ground, (*name).to_owned());
        pieces.push(entry);
        blanks.pieces.push(blank);
    }
    edges_to_go_by(chance, &mut pieces, &blanks);
    let twin_seam = if chance.often(0.35) { twin(chance, &mut pieces, &mut blanks) } else { None };
    for (list, of) in [(&mut blanks.levels, 0), (&mut blanks.lines, 1)] {
        for piece in &blanks.pieces {
            for name in if of == 0 { &piece.levels } else { &piece.lines } {
                if !list.contains(name) {
                    list.push(name.clone());
                }
            }
        }
    }
    // Nothing may be sized by a level that no piece has.
    if !blanks.levels.iter().any(|level| level == "bust") {
        for piece in &mut pieces {
            if let Value::Table(piece) = piece {
                piece.remove("sized_by");
            }
        }
    }

    let options = options(chance, taste, &mut blanks);
    let views = views(chance, &mut blanks);
    set("view", views);
    set("piece", Value::Array(pieces));
    if let Some(options) = options {
        set("option", options);
    }
    let mut listed = seams::seams(chance, taste, &mut blanks);
    listed.extend(twin_seam);
    if !listed.is_empty() {
        set("seam", Value::Array(listed));
    }
    if let Some(girths) = girths(chance, taste, &mut blanks) {
        set("girth", girths);
    }
    if let Some(lengths) = lengths(chance, taste, &blanks) {
        set("length", lengths);
    }
    (file, blanks)
}

/// Has some strips go by an edge of another piece in place of a length of their own.
fn edges_to_go_by(chance: &mut Chance, pieces: &mut [Value], blanks: &Blanks) {
    let others: Vec<(&str, &str)> = (blanks.pieces.iter())
        .filter(|other| !other.shape_counts)
        .filter_map(|other| Some((other.name.as_str(), other.edges.first()?.as_str())))
        .collect();
    for piece in pieces {
        let strip =
            piece.get_mut("shape").and_then(|shape| shape.get_mut("joined_strip")).and_then(Value::as_table_mut);
        let Some(strip) = strip.filter(|_| !others.is_empty() && chance.often(0.4)) else { continue };
        let (other, edge) = *chance.pick(&others);
        let Value::Table(mut length) = table([("edges", texts(&[&format!("{other}: {edge}")]))]) else { continue };
        if chance.often(0.3) {
            length.insert("plus".to_owned(), text("2 in"));
        }
        strip.insert("length".to_owned(), Value::Table(length));
    }
}

fn roles(chance: &mut Chance) -> Vec<String> {
    let mut roles = vec!["main".to_owned()];
    for role in ["lining", "contrast"] {
        if chance.often(0.2) {
            roles.push(role.to_owned());
        }
    }
    roles
}

/// Measures of a body so many sizes up.
pub(super) fn body(chance: &mut Chance, taste: &Taste, size: i64) -> Value {
    let mut body = Table::new();
    for (measure, base) in [("bust", 800), ("waist", 640), ("hip", 880), ("height", 1640)] {
        let step = if measure == "height" { 0 } else { 40 };
        body.insert(measure.to_owned(), words::length(chance, taste, (base + step * size) as f64));
    }
    if chance.often(0.2) {
        body.insert("high bust".to_owned(), words::length(chance, taste, (780 + 38 * size) as f64));
    }
    Value::Table(body)
}

fn sizes(chance: &mut Chance, taste: &Taste, blanks: &mut Blanks) -> Value {
    let figures: &[Option<&str>] = if chance.often(0.25) { &[Some("regular"), Some("tall")] } else { &[None] };
    let how_many = chance.whole(2, 3);
    let mut sizes = Vec::new();
    for figure in figures {
        for number in 0..how_many {
            let name = (34 + 2 * number).to_string();
            let mut size = Table::new();
            size.insert("name".to_owned(), text(&name));
            if let Some(figure) = figure {
                size.insert("figure".to_owned(), text(*figure));
            }
            // Whole centimetres, so that sizes ascend whatever the units.
            size.insert("body".to_owned(), body(chance, taste, number * 2));
            sizes.push(Value::Table(size));
            blanks.sizes.push((name, figure.map(str::to_owned)));
        }
    }
    Value::Array(sizes)
}

fn options(chance: &mut Chance, taste: &Taste, blanks: &mut Blanks) -> Option<Value> {
    if blanks.pieces.len() < 2 || !chance.often(taste.rich) {
        return None;
    }
    let mut names: Vec<String> = blanks.pieces.iter().map(|piece| piece.name.clone()).collect();
    chance.shuffle(&mut names);
    let (one, other) = (names[0].clone(), names[1].clone());
    let mut choices = Table::new();
    choices.insert("one".to_owned(), texts(&[&one]));
    choices.insert("other".to_owned(), texts(&[&other]));
    if chance.often(0.4) {
        choices.insert("none".to_owned(), Value::Array(Vec::new()));
    }
    let words: Vec<String> = choices.iter().map(|(name, _)| name.clone()).collect();
    let default = chance.pick(&["one", "other"]).to_owned();
    blanks.options.push(("finish".to_owned(), words));
    let option = table([("name", text("finish")), ("default", text(default)), ("choices", Value::Table(choices))]);
    Some(Value::Array(vec![option]))
}

fn views(chance: &mut Chance, blanks: &mut Blanks) -> Value {
    let all: Vec<String> = blanks.pieces.iter().map(|piece| piece.name.clone()).collect();
    let mut views = vec![table([("name", text("A")), ("pieces", texts(&all))])];
    blanks.views.push("A".to_owned());
    if chance.often(0.2) {
        let some: Vec<String> = all.iter().filter(|_| chance.often(0.7)).cloned().collect();
        if !some.is_empty() {
            views.push(table([("name", text("B")), ("title", text("Short version")), ("pieces", texts(&some))]));
            blanks.views.push("B".to_owned());
        }
    }
    Value::Array(views)
}

fn girths(chance: &mut Chance, taste: &Taste, blanks: &mut Blanks) -> Option<Value> {
    let levelled: Vec<(String, i64)> = blanks
        .pieces
        .iter()
        .filter(|piece| !piece.levels.is_empty())
        .map(|piece| (piece.name.clone(), piece.count))
        .collect();
    if levelled.is_empty() {
        return None;
    }
    let mut girths = Vec::new();
    for name in ["hip", "bust"] {
        if !chance.often(0.7) {
            continue;
        }
        let parts = levelled.iter().map(|(piece, count)| {
            let Value::Table(mut part) = table([("piece", text(piece)), ("times", Value::Integer(*count))]) else {
                return text("");
            };
            if chance.often(0.2) {
                part.insert("from".to_owned(), text("centre low"));
            }
            Value::Table(part)
        });
        let parts = Value::Array(parts.collect());
        let Value::Table(mut girth) = table([("name", text(name)), ("level", text(name)), ("parts", parts)]) else {
            continue;
        };
        if chance.often(taste.rich) {
            girth.insert("less".to_owned(), words::length(chance, taste, 20.0));
        }
        girths.push(Value::Table(girth));
        blanks.girths.push(name.to_owned());
    }
    (!girths.is_empty()).then_some(Value::Array(girths))
}

fn lengths(chance: &mut Chance, taste: &Taste, blanks: &Blanks) -> Option<Value> {
    if !chance.often(taste.rich / 2.0) {
        return None;
    }
    let piece = chance.pick(&blanks.pieces);
    let edge = chance.pick(&piece.edges);
    let along = table([("piece", text(&piece.name)), ("edge", text(edge)), ("times", Value::Integer(2))]);
    Some(Value::Array(vec![table([("name", text("walked")), ("along", Value::Array(vec![along]))])]))
}

/// What suits a cloth: notes are all that comes of it.
fn suits(chance: &mut Chance) -> Value {
    let mut entry = Table::new();
    if chance.often(0.7) {
        entry.insert("kinds".to_owned(), texts(&["linen", "chambray"]));
    }
    if chance.often(0.5) {
        entry.insert("weight".to_owned(), texts(&["100 g/m2", "8 oz/yd2"]));
    }
    if chance.often(0.5) {
        entry.insert("stretch".to_owned(), text("5%"));
    }
    if chance.often(0.5) {
        let all = ["obvious diagonals", "stripes", "plaids", "nap", "borders"];
        entry.insert("not_for".to_owned(), texts(&all[chance.whole(0, 4) as usize..]));
    }
    Value::Table(entry)
}
