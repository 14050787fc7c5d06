//! A pattern whose drawn pieces are picked from a drawing: what is typed of them is drawn on a sheet, and the pattern says how to read it.
//!
//! What was typed stays beside the drawing, moved to where it lies on the sheet: the judges hold what is read to it.

use toml::{Table, Value};

use super::{Blanks, Sheet, table, text};
use crate::{
    chance::Chance,
    drawn::{drawn, is_included},
    record::Place,
};

mod sheet;

use sheet::{Look, Plane};

/// How the lines of a sheet are told to be what they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Told {
    /// By the names of layers.
    Named,
    /// By `layers` of the pattern, which says what odd names mean.
    Said,
    /// Not at all: allowances and `outline` tell.
    Unnamed,
}

/// What a wrong pattern gets wrong.
const WRONG: [&str; 12] = [
    "no such piece",
    "no such file",
    "another folder",
    "no columns",
    "a strip wider than a page",
    "no such layer",
    "no such size",
    "no such side",
    "no such dart",
    "no square",
    "a side with two names",
    "a seam line that is included",
];

/// Picks what a pattern draws from a sheet, where that can be: pieces in one size without darts.
pub(super) fn picked(chance: &mut Chance, pattern: &mut Table, blanks: &mut Blanks) -> Option<Sheet> {
    let unit = match pattern.get("coordinates").and_then(Value::as_str) {
        Some("cm") => 10.0,
        Some("in") => 25.4,
        _ => 1.0,
    };
    let pieces = pattern.get("piece")?.as_array()?.clone();
    let can = |piece: &Value| {
        piece.get("start").is_some()
            && piece.get("darts").is_none()
            && piece.get("levels").is_none()
            && is_upright(piece)
    };
    if pattern.contains_key("size") || !pieces.iter().any(can) {
        return None;
    }
    let how = *chance.pick(&[Told::Named, Told::Named, Told::Said, Told::Unnamed]);
    let mut plane = Plane::default();
    let mut typed = Vec::new();
    let mut left = 30.0;
    let mut written = Vec::new();
    let mut lines_are: Vec<bool> = Vec::new();
    for piece in pieces {
        let Some(piece) = piece.as_table().filter(|_| can(&piece)) else {
            written.push(piece);
            continue;
        };
        let (moved, right) = set_down(piece, pattern, unit, left)?;
        left = right + 40.0;
        draw(&mut plane, &moved, pattern, how);
        lines_are.push(is_included(&moved));
        written.push(Value::Table(picking(chance, &moved)));
        typed.push(Value::Table(moved));
    }
    let named = |piece: &Value, name: &str| piece.get("name").and_then(Value::as_str) == Some(name);
    for blank in &mut blanks.pieces {
        if typed.iter().any(|piece| named(piece, &blank.name)) {
            // Sides have numbers, which only the program knows.
            blank.edges = vec!["side 1".to_owned()];
        }
    }
    (blanks.seams, blanks.girths) = (Vec::new(), Vec::new());
    ["seam", "girth", "length"].iter().for_each(|key| drop(pattern.remove(*key)));
    let mut drawing = Table::new();
    let is_one_kind = lines_are.iter().all(|included| *included == lines_are[0]);
    let word = if lines_are[0] { "cutting line" } else { "seam line" };
    match how {
        Told::Named => {}
        Told::Said => {
            let outlines = if is_one_kind { word } else { "cutting line" };
            let meaning = [("rot", outlines), ("blau", "grainline"), ("grau", "fold")];
            let known = meaning.into_iter().filter(|(name, _)| plane.has(name));
            drawing.insert("layers".to_owned(), Value::Table(known.map(|(k, v)| (k.to_owned(), text(v))).collect()));
        }
        Told::Unnamed if is_one_kind && chance.often(0.5) => drop(drawing.insert("outline".to_owned(), text(word))),
        Told::Unnamed => {}
    }
    if is_one_kind && chance.often(0.4) {
        one_allowance(&mut drawing, &mut written, &mut typed);
    }
    // Further layers that the sheet has, so that every word for what lines are comes up.
    if chance.often(0.2) {
        further_layers(chance, &mut plane, &mut drawing);
    }
    let pages = chance.often(0.35).then(|| (chance.whole(1, 3), chance.whole(1, 3), *chance.pick(&[0.0, 0.0, 10.0])));
    let (file, bytes) = match pages {
        None => ("case.svg", plane.svg(scaled(chance, &mut drawing, &mut written)).into_bytes()),
        Some((columns, rows, overlap)) => {
            let order = *chance.pick(&["rows", "columns"]);
            let from = *chance.pick(&["top", "bottom"]);
            tiles(chance, &mut drawing, (columns, order, from), overlap);
            ("case.pdf", plane.pdf([columns, rows], overlap, (order, from)))
        }
    };
    drawing.insert("file".to_owned(), text(file));
    let wrong = chance.often(0.2).then(|| *chance.pick(&WRONG));
    let wrong = wrong.filter(|wrong| spoil(wrong, &mut drawing, &mut written, pages.is_some(), lines_are[0]));
    let plain = drawing.len() == 1 && chance.often(0.5);
    pattern.insert("drawing".to_owned(), if plain { text(file) } else { Value::Table(drawing) });
    pattern.insert("piece".to_owned(), Value::Array(written));
    Some(Sheet { file: file.to_owned(), bytes, typed, wrong: wrong.map(str::to_owned) })
}

/// A piece moved to its place on the sheet, and where it ends at the right, mm.
fn set_down(piece: &Table, pattern: &Table, unit: f64, left: f64) -> Option<(Table, f64)> {
    let mut piece = piece.clone();
    // Sides of a drawing go by numbers that are not known here.
    for edge in piece.get_mut("edges")?.as_array_mut()? {
        let edge = edge.as_table_mut()?;
        ["allowance", "corner"].iter().for_each(|key| drop(edge.remove(*key)));
    }
    let flat = drawn(&piece, pattern)?;
    let places = || flat.edges.iter().flat_map(|edge| &edge.line);
    let low = |k: usize| places().map(|place| place[k]).fold(f64::INFINITY, f64::min);
    // A whole number of units, so that nothing is rounded.
    let by = [0, 1].map(|k| (((if k == 0 { left } else { 40.0 }) - low(k)) / unit).ceil());
    let moved = |value: &mut Value| {
        if let Some([x, y]) = value.as_array().map(Vec::as_slice) {
            let number = |value: &Value| value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64));
            if let (Some(x), Some(y)) = (number(x), number(y)) {
                let round = |v: f64| (v * 1e6).round() / 1e6;
                *value = Value::Array([x + by[0], y + by[1]].map(|v| Value::Float(round(v))).into());
            }
        }
    };
    moved(piece.get_mut("start")?);
    for edge in piece.get_mut("edges")?.as_array_mut()? {
        moved(edge.get_mut("to")?);
        if let Some(through) = edge.get_mut("arc") {
            moved(through);
        }
        edge.get_mut("curve").and_then(Value::as_array_mut).into_iter().flatten().for_each(moved);
    }
    piece.get_mut("grainline")?.as_array_mut()?.iter_mut().for_each(moved);
    for notch in piece.get_mut("notches").and_then(Value::as_array_mut).into_iter().flatten() {
        moved(notch.get_mut("at")?);
    }
    for (_, at) in piece.get_mut("points").and_then(Value::as_table_mut).into_iter().flatten() {
        moved(at);
    }
    let right = places().map(|place| place[0]).fold(f64::NEG_INFINITY, f64::max) + by[0] * unit;
    Some((piece, right))
}

/// Draws a piece that was set down.
fn draw(plane: &mut Plane, piece: &Table, pattern: &Table, how: Told) {
    let Some(flat) = drawn(piece, pattern) else { return };
    let included = is_included(piece);
    let look = match (how, included) {
        (Told::Named, true) => Look::Layer("Cutting line"),
        (Told::Named, false) => Look::Layer("Seam line"),
        (Told::Said, _) => Look::Layer("rot"),
        (Told::Unnamed, _) => Look::Plain,
    };
    let mut outline: Vec<Place> = Vec::new();
    for edge in &flat.edges {
        // Straight edges have two points, bent ones many more than are needed.
        let step = if edge.line.len() > 2 { 4 } else { 1 };
        outline.extend(edge.line.iter().step_by(step).take(edge.line.len() / step));
        if let (None, Some(a), Some(b)) = (edge.depth, edge.line.first(), edge.line.last()) {
            let look = if how == Told::Said { Look::Layer("grau") } else { Look::Layer("Fold line") };
            plane.line(look, &[*a, *b], false);
        }
    }
    plane.line(look, &outline, true);
    let grain = if how == Told::Said { Look::Layer("blau") } else { Look::Layer("Grainline") };
    plane.line(grain, &flat.grainline, false);
    let name = piece.get("name").and_then(Value::as_str).unwrap_or_default();
    let [low, high] = flat.grainline;
    let middle = [0, 1].map(|k| (low[k] + high[k]) / 2.0);
    plane.text(name, [middle[0] + 3.0, middle[1]]);
    plane.text("Cut 2", [middle[0] + 3.0, middle[1] - 8.0]);
}

/// The middle of two places.
fn middle(low: &Value, high: &Value) -> Value {
    let number = |value: &Value, k: usize| value.get(k).and_then(Value::as_float).unwrap_or_default();
    Value::Array([0, 1].map(|k| Value::Float((number(low, k) + number(high, k)) / 2.0)).into())
}

/// The keys that pick a piece.
fn picking(chance: &mut Chance, typed: &Table) -> Table {
    let mut keys = Table::new();
    for key in ["name", "cut", "grain", "seam_allowance", "points", "notches"] {
        if let Some(value) = typed.get(key) {
            keys.insert(key.to_owned(), value.clone());
        }
    }
    let ends = typed.get("grainline").and_then(Value::as_array).map(Vec::as_slice);
    let pick = match ends {
        Some([low, high]) if chance.often(0.15) => middle(low, high),
        _ => typed.get("name").cloned().unwrap_or_else(|| text("")),
    };
    keys.insert("pick".to_owned(), pick);
    if chance.often(0.2) {
        keys.insert("sides".to_owned(), table([("hem", Value::Integer(1))]));
    }
    keys
}

/// The allowance of all, said once in the drawing.
fn one_allowance(drawing: &mut Table, written: &mut [Value], typed: &mut [Value]) {
    let Some(whole) = typed.first().and_then(|piece| piece.get("seam_allowance")).cloned() else { return };
    for piece in written.iter_mut().filter(|piece| piece.get("pick").is_some()) {
        if let Value::Table(piece) = piece {
            piece.remove("seam_allowance");
        }
    }
    for piece in typed {
        if let Value::Table(piece) = piece {
            piece.insert("seam_allowance".to_owned(), whole.clone());
        }
    }
    drawing.insert("seam_allowance".to_owned(), whole);
}

/// Lines beside the pieces on layers of other names.
fn further_layers(chance: &mut Chance, plane: &mut Plane, drawing: &mut Table) {
    const ROLES: [(&str, &str); 9] = [
        ("drei", "notch"),
        ("vier", "dart"),
        ("fuenf", "lengthen or shorten here"),
        ("sechs", "level of the body"),
        ("sieben", "mark"),
        ("acht", "line inside"),
        ("neun", "cut out"),
        ("zehn", "words"),
        ("elf", "ignored"),
    ];
    let (name, role) = *chance.pick(&ROLES);
    plane.line(Look::Layer(name), &[[2.0, 5.0], [12.0, 5.0]], false);
    let layers = drawing.entry("layers").or_insert_with(|| Value::Table(Table::new()));
    if let Value::Table(layers) = layers {
        layers.insert(name.to_owned(), text(role));
    }
}

/// How many times too small the sheet is drawn, with what the pattern says of it.
fn scaled(chance: &mut Chance, drawing: &mut Table, written: &mut [Value]) -> f64 {
    let mut say = |key: &str, value: Value| drop(drawing.insert(key.to_owned(), value));
    match chance.whole(0, 5) {
        0 => say("scale", text("as drawn")),
        1 => say("unit", text("mm")),
        2 => {
            say("scale", Value::Float(1.25));
            // A point to pick by is one of the file as it is drawn.
            for piece in written.iter_mut().filter_map(Value::as_table_mut).filter(|piece| piece.contains_key("pick")) {
                if let Some(name) = piece.get("name").cloned() {
                    piece.insert("pick".to_owned(), name);
                }
            }
            return 1.25;
        }
        _ => {}
    }
    1.0
}

/// What the pattern says of the pages.
fn tiles(chance: &mut Chance, drawing: &mut Table, (columns, order, from): (i64, &str, &str), overlap: f64) {
    let mut grid = Table::new();
    grid.insert("columns".to_owned(), Value::Integer(columns));
    grid.insert("order".to_owned(), text(order));
    grid.insert("from".to_owned(), text(from));
    grid.insert("overlap".to_owned(), text(format!("{overlap} mm")));
    if chance.often(0.3) {
        grid.insert("trim".to_owned(), text("0 mm"));
    }
    let value = if chance.often(0.1) { text("apart") } else { Value::Table(grid) };
    if chance.often(0.7) {
        drawing.insert("tiles".to_owned(), value);
    }
}

/// Makes something wrong; whether it could be.
fn spoil(wrong: &str, drawing: &mut Table, written: &mut [Value], has_pages: bool, is_cutting: bool) -> bool {
    let first = written.iter_mut().find(|piece| piece.get("pick").is_some()).and_then(Value::as_table_mut);
    let Some(first) = first else { return false };
    let mut say = |key: &str, value: Value| drop(drawing.insert(key.to_owned(), value));
    match wrong {
        "no such piece" => drop(first.insert("pick".to_owned(), text("Ruff"))),
        "no such file" => say("file", text("gone.svg")),
        "another folder" => say("file", text("../case.svg")),
        "no columns" => say("tiles", table([("columns", Value::Integer(0))])),
        "a strip wider than a page" => {
            say("tiles", table([("columns", Value::Integer(2)), ("overlap", text("40 cm"))]));
        }
        "no such layer" => say("layers", table([("violett", text("grainline"))])),
        "no such size" => say("sizes", table([("one size", text("99"))])),
        "no such side" => drop(first.insert("sides".to_owned(), table([("hem", Value::Integer(99))]))),
        "no such dart" => drop(first.insert("pressed".to_owned(), table([("dart 7", text("down"))]))),
        "no square" if !has_pages => say("scale", text("by its square")),
        "a side with two names" => {
            let sides = table([("hem", Value::Integer(1)), ("top", Value::Array(vec![Value::Integer(1)]))]);
            first.insert("sides".to_owned(), sides);
        }
        "a seam line that is included" if !is_cutting => {
            say("outline", text("seam line"));
            first.insert("seam_allowance".to_owned(), text("1 cm included"));
        }
        _ => return false,
    }
    true
}

/// Whether the grainline of a piece runs up its drawing: no drawing says which end of a level one is its top, and of an upright one the upper
/// end is taken for it.
fn is_upright(piece: &Value) -> bool {
    let end = |k: usize, axis: usize| {
        let place = piece.get("grainline")?.as_array()?.get(k)?.as_array()?.get(axis)?;
        place.as_float().or_else(|| place.as_integer().map(|whole| whole as f64))
    };
    let run = |axis: usize| Some(end(1, axis)? - end(0, axis)?);
    run(0).zip(run(1)).is_none_or(|(across, up)| up > 2.0 * across.abs())
}
