//! Pieces in other words: each becomes one that is `like` another, which lies a little beside it, has other names and marks, and is in no view.
//! Written out by hand it is the piece that was there.

use std::collections::BTreeSet;

use toml::{Table, Value};

use crate::make::Scene;

/// A scene in which every piece that can be is like another. None where none can.
pub(crate) fn likened(scene: &Scene) -> Option<Scene> {
    let unit = match scene.pattern.get("coordinates").and_then(Value::as_str) {
        Some("in") => 0.0625,
        Some("cm") => 0.125,
        _ => 1.0,
    };
    let mut scene = scene.clone();
    let pieces = scene.pattern.get_mut("piece")?.as_array_mut()?;
    let mut others = Vec::new();
    for (number, piece) in pieces.iter_mut().enumerate() {
        let Value::Table(table) = piece else { continue };
        if let Some((other, like)) = parted(table, unit, number) {
            *table = like;
            others.push(Value::Table(other));
        }
    }
    let any = !others.is_empty();
    pieces.append(&mut others);
    any.then_some(scene)
}

/// The other piece, and what this one says of it.
fn parted(piece: &Table, by: f64, number: usize) -> Option<(Table, Table)> {
    let name = piece.get("name")?.as_str()?;
    let (mut other, mut like) = (piece.clone(), Table::new());
    let called = format!("{name}, another");
    other.insert("name".to_owned(), text(&called));
    like.insert("name".to_owned(), text(name));
    like.insert("like".to_owned(), text(&called));
    if piece.contains_key("shape") {
        return Some((other, like));
    }
    let first = drawings(piece).first().map(|drawing| (*drawing).clone())?;
    let edges = names(&first, "edges");
    let unique = |names: &[String]| names.iter().collect::<BTreeSet<_>>().len() == names.len();
    let alike = drawings(piece).iter().all(|drawing| names(drawing, "edges") == edges);
    let darts = names(&first, "darts");
    if !unique(&edges) || !unique(&darts) || !alike || edges.iter().any(String::is_empty) || edges.len() < 3 {
        return None;
    }
    unfolded(piece, &first, &mut other, &mut like);
    spared(&mut other, &mut like);
    let renamed = changed(piece, &mut other, &mut like);
    beside(&mut other, by)?;
    let stands_in = stood_in(&edges, renamed, &mut other, &mut like);
    moved(&mut other, &mut like, by, number, stands_in);
    Some((other, like))
}

/// All drawings of a piece.
fn drawings(piece: &Table) -> Vec<&Table> {
    match piece.get("drawn").and_then(Value::as_array) {
        Some(drawn) => drawn.iter().filter_map(Value::as_table).collect(),
        None => vec![piece],
    }
}

fn each_drawing(piece: &mut Table, mut change: impl FnMut(&mut Table)) {
    match piece.get_mut("drawn").and_then(Value::as_array_mut) {
        Some(drawn) => drawn.iter_mut().filter_map(Value::as_table_mut).for_each(change),
        None => change(piece),
    }
}

/// The names in a list of a drawing; of what has none it is empty.
fn names(drawing: &Table, list: &str) -> Vec<String> {
    let entries = drawing.get(list).and_then(Value::as_array).into_iter().flatten();
    entries.map(|entry| entry.get("name").and_then(Value::as_str).unwrap_or_default().to_owned()).collect()
}

fn text(text: &str) -> Value {
    Value::String(text.to_owned())
}

fn edge_of<'t>(drawing: &'t mut Table, name: &str) -> Option<&'t mut Table> {
    let edges = drawing.get_mut("edges")?.as_array_mut()?;
    let named = |edge: &&mut Value| edge.get("name").and_then(Value::as_str) == Some(name);
    edges.iter_mut().find(named)?.as_table_mut()
}

/// A piece on the fold is joined from a half of which two are cut.
fn unfolded(piece: &Table, first: &Table, other: &mut Table, like: &mut Table) {
    let edges = first.get("edges").and_then(Value::as_array).into_iter().flatten();
    let fold = edges.filter(|edge| edge.get("fold").and_then(Value::as_bool) == Some(true));
    let Some(fold) = fold.filter_map(|edge| edge.get("name")?.as_str().map(str::to_owned)).next() else { return };
    each_drawing(other, |drawing| {
        if let Some(edge) = edge_of(drawing, &fold) {
            edge.remove("fold");
        }
    });
    let cuts = piece.get("cut").and_then(Value::as_array).into_iter().flatten();
    let pair = |cut: &Value| {
        let mut pair = Table::new();
        pair.insert("from".to_owned(), cut.get("from")?.clone());
        pair.insert("count".to_owned(), Value::Integer(2));
        Some(Value::Table(pair))
    };
    other.insert("cut".to_owned(), Value::Array(cuts.filter_map(pair).collect()));
    like.extend(piece.get("cut").map(|cut| ("cut".to_owned(), cut.clone())));
    like.insert("joined".to_owned(), Value::String(fold));
}

/// A point that only the other one has.
fn spared(other: &mut Table, like: &mut Table) {
    each_drawing(other, |drawing| {
        let at = drawing.get("grainline").and_then(|line| line.get(0)).cloned();
        let points = drawing.entry("points").or_insert_with(|| Value::Table(Table::new()));
        if let (Some(at), Value::Table(points)) = (at, points) {
            points.insert("spare".to_owned(), at);
        }
    });
    like.insert("without".to_owned(), Value::Array(vec![text("spare")]));
}

/// The last edge off the fold has another name, and another allowance where it has one of its own. Its name on the piece.
fn changed(piece: &Table, other: &mut Table, like: &mut Table) -> Option<String> {
    let first = (*drawings(piece).first()?).clone();
    let joined = like.get("joined").and_then(Value::as_str).map(str::to_owned);
    let name = names(&first, "edges").into_iter().rfind(|name| Some(name) != joined.as_ref())?;
    let mut first = first;
    let edge = edge_of(&mut first, &name)?.clone();
    let mut change = Table::new();
    change.insert("edge".to_owned(), text("edge by another name"));
    change.insert("name".to_owned(), text(&name));
    for (key, instead) in [("allowance", "7 mm"), ("corner", "square")] {
        // A mitre takes two edges.
        let Some(own) = edge.get(key).filter(|own| own.as_str() != Some("mitred")) else { continue };
        change.insert(key.to_owned(), own.clone());
        each_drawing(other, |drawing| {
            edge_of(drawing, &name).map(|edge| edge.insert(key.to_owned(), text(instead)));
        });
    }
    each_drawing(other, |drawing| {
        edge_of(drawing, &name).map(|edge| edge.insert("name".to_owned(), text("edge by another name")));
    });
    like.insert("change".to_owned(), Value::Array(vec![Value::Table(change)]));
    Some(name)
}

/// Everything drawn of the other piece but its grainline, so far to the left. None where a coordinate is no bare number.
fn beside(other: &mut Table, by: f64) -> Option<()> {
    fn left(pair: &mut Value, by: f64) -> bool {
        let Some(x) = pair.get_mut(0) else { return false };
        let number = x.as_float().or_else(|| x.as_integer().map(|x| x as f64));
        number.map(|number| *x = Value::Float(rounded(number - by))).is_some()
    }
    let mut bare = true;
    each_drawing(other, |drawing| {
        bare &= drawing.get_mut("start").is_some_and(|start| left(start, by));
        for (list, pairs, single) in [
            ("edges", &["curve"][..], &["to", "arc"][..]),
            ("notches", &[][..], &["at"][..]),
            ("darts", &["legs", "points"][..], &["point"][..]),
        ] {
            for entry in drawing.get_mut(list).and_then(Value::as_array_mut).into_iter().flatten() {
                for key in pairs {
                    let pairs = entry.get_mut(*key).and_then(Value::as_array_mut).into_iter().flatten();
                    pairs.for_each(|pair| bare &= left(pair, by));
                }
                single.iter().for_each(|key| {
                    if let Some(pair) = entry.get_mut(*key) {
                        bare &= left(pair, by);
                    }
                });
            }
        }
        for (_, pair) in drawing.get_mut("points").and_then(Value::as_table_mut).into_iter().flatten() {
            bare &= left(pair, by);
        }
    });
    bare.then_some(())
}

/// One edge of a piece that is drawn once takes the place of another, which has its shape; its coordinates are counted from a point. Whether
/// one does.
fn stood_in(edges: &[String], renamed: Option<String>, other: &mut Table, like: &mut Table) -> bool {
    const STAND_IN: &str = "stand-in";
    let joined = like.get("joined").and_then(Value::as_str).map(str::to_owned);
    let free = |name: &&String| Some(*name) != renamed.as_ref() && Some(*name) != joined.as_ref();
    let Some(name) = edges.iter().find(free) else { return false };
    let nameless = names(other, "notches").iter().any(String::is_empty);
    let mark = other.get("points").and_then(Value::as_table).and_then(|points| {
        let (name, at) = points.iter().next()?;
        Some((name.clone(), [0, 1].map(|axis| at.get(axis).and_then(number).unwrap_or(f64::NAN))))
    });
    let Some((mark, from)) = mark.filter(|(_, from)| from.iter().all(|number| number.is_finite())) else {
        return false;
    };
    if other.contains_key("drawn") || nameless {
        return false;
    }
    let Some(edge) = edge_of(other, name) else { return false };
    let mut instead = edge.clone();
    edge.insert("name".to_owned(), text(STAND_IN));
    instead.remove("to");
    let count = |pair: &mut Value| {
        for axis in 0..2 {
            if let Some(value) = pair.get(axis).and_then(number) {
                pair[axis] = Value::Float(rounded(value - from[axis]));
            }
        }
    };
    instead.get_mut("arc").into_iter().for_each(count);
    instead.get_mut("curve").and_then(Value::as_array_mut).into_iter().flatten().for_each(count);
    instead.insert("counted_from".to_owned(), text(&mark));
    let mut run = Table::new();
    run.insert("of".to_owned(), Value::Array(vec![text(STAND_IN)]));
    run.insert("edges".to_owned(), Value::Array(vec![Value::Table(instead)]));
    like.insert("instead".to_owned(), Value::Array(vec![Value::Table(run)]));
    true
}

/// Moves it all back: by its edges or its corners, in all sizes, size by size or by figure type.
fn moved(other: &mut Table, like: &mut Table, by: f64, number: usize, stands_in: bool) {
    let Some(first) = drawings(other).first().map(|drawing| (*drawing).clone()) else { return };
    let stand_in = like.get("instead").and_then(|runs| runs.get(0)?.get("edges")?.get(0)?.get("name")?.as_str());
    let renamed = |name: String| if name == "stand-in" { stand_in.unwrap_or_default().to_owned() } else { name };
    let edges: Vec<String> = names(&first, "edges").into_iter().map(renamed).collect();
    let list = |names: Vec<String>| Value::Array(names.into_iter().map(Value::String).collect());
    let mut entry = Table::new();
    if number.is_multiple_of(2) {
        entry.insert("edges".to_owned(), list(edges));
    } else {
        let corners = edges.iter().zip(edges.iter().cycle().skip(1));
        let corners = corners.map(|(a, b)| Value::Array(vec![text(a), text(b)])).collect();
        entry.insert("corners".to_owned(), Value::Array(corners));
    }
    let mut marks: BTreeSet<String> = names(&first, "notches").into_iter().filter(|name| !name.is_empty()).collect();
    let points = first.get("points").and_then(Value::as_table).into_iter().flatten();
    marks.extend(points.map(|(name, _)| name.clone()));
    entry.insert("points".to_owned(), list(marks.into_iter().collect()));
    let darts = first.get("darts").and_then(Value::as_array).into_iter().flatten();
    // The legs of a dart in an edge go along with the edge.
    let (whole, tips): (Vec<&Value>, Vec<&Value>) = darts.partition(|dart| stands_in || dart.get("points").is_some());
    for (key, darts) in [("darts", whole), ("dart_points", tips)] {
        let darts: Vec<Value> = darts.into_iter().filter_map(|dart| dart.get("name").cloned()).collect();
        if !darts.is_empty() {
            entry.insert(key.to_owned(), Value::Array(darts));
        }
    }
    entry.insert("by".to_owned(), Value::Array(vec![Value::Float(by), Value::Integer(0)]));
    let told = |key: &str| -> BTreeSet<String> {
        let drawn = other.get("drawn").and_then(Value::as_array).into_iter().flatten();
        drawn.filter_map(|drawn| drawn.get(key)?.as_str().map(str::to_owned)).collect()
    };
    let (sizes, figures) = (told("size"), told("figure"));
    let mut entries = Vec::new();
    if number % 3 == 1 && !sizes.is_empty() {
        for size in sizes {
            let mut entry = entry.clone();
            entry.insert("sizes".to_owned(), list(vec![size]));
            entries.push(Value::Table(entry));
        }
    } else if number % 3 == 2 && !figures.is_empty() {
        for figure in figures {
            let mut entry = entry.clone();
            entry.insert("figure".to_owned(), Value::String(figure));
            entries.push(Value::Table(entry));
        }
    } else {
        entries.push(Value::Table(entry));
    }
    like.insert("move".to_owned(), Value::Array(entries));
}

fn number(value: &Value) -> Option<f64> {
    value.as_float().or_else(|| value.as_integer().map(|number| number as f64))
}

/// A decimal as it would be written.
fn rounded(number: f64) -> f64 {
    (number * 1e9).round() / 1e9
}
