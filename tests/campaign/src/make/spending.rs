//! What is bought beside the cloth: notions by count and by length, trims along edges, shipping, tax and a budget, with odd values among them.
//! It comes last, so that the cloths of a number stay as they were.

use toml::{Table, Value};

use super::{Blanks, Taste, table, text, texts, words};
use crate::chance::Chance;

/// What a notion of the pattern needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum By {
    Count,
    Length,
    /// Along edges.
    Edges,
}

/// Adds notions and trims to the pattern, and what is bought of them to the job.
pub(super) fn spending(chance: &mut Chance, taste: &Taste, blanks: &Blanks, pattern: &mut Table, job: &mut Table) {
    let rich = taste.rich;
    let mut known: Vec<(String, By)> = Vec::new();
    let mut notions = Vec::new();
    for name in ["Buttons", "Elastic, narrow", "Zip: \"long\""] {
        if !chance.often(rich) {
            continue;
        }
        let (mut entry, by) = notion(chance, taste, blanks, name);
        if let Value::Table(entry) = &mut entry {
            vary(&mut chance.clone(), taste, (pattern, job), entry);
        }
        notions.push(entry);
        known.push((name.to_owned(), by));
    }
    if !notions.is_empty() {
        pattern.insert("notion".to_owned(), Value::Array(notions));
    }
    for (name, in_job) in [("Braid", false), ("Piping", true)] {
        let Some(entry) = chance.often(rich).then(|| trim(chance, taste, blanks, name)).flatten() else { continue };
        let file = if in_job { &mut *job } else { &mut *pattern };
        file.insert("trim".to_owned(), Value::Array(vec![entry]));
        known.push((name.to_owned(), By::Edges));
    }
    let mut bought = Table::new();
    for (name, by) in &known {
        if chance.often(0.7) {
            bought.insert(name.clone(), buy(chance, taste, *by, None));
        }
    }
    if chance.often(rich) {
        let by = *chance.pick(&[By::Count, By::Length]);
        bought.insert("Thread".to_owned(), buy(chance, taste, by, Some(by)));
    }
    if !bought.is_empty() {
        job.insert("notion".to_owned(), Value::Table(bought));
    }
    let mut set = |key: &str, value: Value| drop(job.insert(key.to_owned(), value));
    if chance.often(rich) {
        set("budget", text(*chance.pick(&["95", "0", "120.50", "999999.99", "0.01"])));
    }
    if chance.often(rich) {
        set("shipping", text(*chance.pick(&["4.95", "0", "12.5", "3.995", "0.005"])));
    }
    if chance.often(rich) {
        set("tax", text(*chance.pick(&["8%", "0%", "100%", "8.875%", "19 %", "0.005%", "7.7 per cent"])));
    }
}

fn notion(chance: &mut Chance, taste: &Taste, blanks: &Blanks, name: &str) -> (Value, By) {
    let mut entry = Table::new();
    let mut set = |key: &str, value: Value| drop(entry.insert(key.to_owned(), value));
    set("name", text(name));
    let by = *chance.pick(&[By::Count, By::Count, By::Length]);
    let mm = chance.between(5.0, 3000.0);
    match by {
        By::Count => set("count", Value::Integer(*chance.pick(&[1, 7, 9, 10, 144]))),
        By::Length | By::Edges => set("length", words::length(chance, taste, mm)),
    }
    if chance.often(0.4) {
        set("size", text(*chance.pick(&["15 mm", "5/8 in, horn", "=1+1"])));
    }
    if chance.often(0.3) {
        set("views", texts(&[chance.pick(&blanks.views).clone()]));
    }
    (Value::Table(entry), by)
}

/// Tells a notion for each size, or by the body of the job. Which size is nearest to a body is not for a judge to say, so only where the job names its
/// size do sizes differ.
fn vary(chance: &mut Chance, taste: &Taste, (pattern, job): (&Table, &Table), entry: &mut Table) {
    let sizes = pattern.get("size").and_then(Value::as_array).into_iter().flatten();
    let names: Vec<&str> = sizes.filter_map(|size| size.get("name")?.as_str()).collect();
    let is_named = job.get("size").and_then(Value::as_str).is_some_and(|size| names.contains(&size));
    let measures: Vec<String> =
        job.get("body").and_then(Value::as_table).into_iter().flat_map(|body| body.keys().cloned()).collect();
    if entry.contains_key("count") && chance.often(0.3) {
        let mut set = |key: &str, mm: f64| drop(entry.insert(key.to_owned(), words::length(chance, taste, mm)));
        set("diameter", 18.0);
        set("thickness", 3.0);
        set("extension", 14.0);
    }
    if let Some(Value::Integer(count)) = entry.get("count").cloned()
        && !names.is_empty()
        && chance.often(0.3)
    {
        let of = |k: usize| Value::Integer(if is_named { count + k as i64 } else { count });
        let each = names.iter().enumerate().map(|(k, name)| ((*name).to_owned(), of(k)));
        entry.insert("count".to_owned(), Value::Table(each.collect()));
    } else if entry.contains_key("length") && !measures.is_empty() && chance.often(0.3) {
        let mut taken = Table::new();
        taken.insert("body".to_owned(), text(chance.pick(&measures)));
        if chance.often(0.5) {
            taken.insert("plus".to_owned(), words::change(chance, taste, 40.0));
        }
        entry.insert("length".to_owned(), Value::Table(taken));
    }
}

fn trim(chance: &mut Chance, taste: &Taste, blanks: &Blanks, name: &str) -> Option<Value> {
    let mut edges = Vec::new();
    for piece in &blanks.pieces {
        let named: Vec<&String> = piece.edges.iter().filter(|edge| !edge.is_empty()).collect();
        if named.is_empty() || !chance.often(0.6) {
            continue;
        }
        let edge = (*chance.pick(&named)).clone();
        edges.push(if chance.often(0.3) {
            table([
                ("piece", text(&piece.name)),
                ("edge", text(edge)),
                ("times", Value::Integer(*chance.pick(&[1, 2, 3]))),
            ])
        } else {
            text(format!("{}: {edge}", piece.name))
        });
    }
    if edges.is_empty() {
        return None;
    }
    let mut entry = Table::new();
    entry.insert("name".to_owned(), text(name));
    entry.insert("edges".to_owned(), Value::Array(edges));
    if chance.often(0.6) {
        entry.insert("turned_ends".to_owned(), words::length(chance, taste, 12.7));
    }
    Some(Value::Table(entry))
}

/// How a notion is bought; `needs` is what the job itself must say of it.
fn buy(chance: &mut Chance, taste: &Taste, by: By, needs: Option<By>) -> Value {
    let mut entry = Table::new();
    let mut set = |key: &str, value: Value| drop(entry.insert(key.to_owned(), value));
    let (mm, pack_mm, have) =
        (chance.between(20.0, 2500.0), chance.between(100.0, 3000.0), chance.between(0.0, 1500.0));
    match needs {
        Some(By::Count) => set("count", Value::Integer(*chance.pick(&[2, 3, 12]))),
        Some(_) => set("length", words::length(chance, taste, mm)),
        None => {}
    }
    let counted = by == By::Count;
    let packed = chance.often(0.3);
    if packed {
        let pack =
            if counted { Value::Integer(*chance.pick(&[1, 3, 5, 100])) } else { words::length(chance, taste, pack_mm) };
        set("pack", pack);
    }
    if chance.often(0.8) {
        set("price", text(*chance.pick(&["0.45", "1.995", "12", "0.005", "0", "3.33"])));
        if packed && chance.often(0.5) {
            set("price_per", text("pack"));
        } else if !packed && chance.often(0.5) {
            set("price_per", text(if counted { "each" } else { *chance.pick(&["yd", "m"]) }));
        }
        if chance.often(0.1) {
            set("currency", text(*chance.pick(&["GBP", "EUR"])));
        }
    }
    if !counted && !packed && chance.often(0.4) {
        set("sold_by", text(*chance.pick(&["10 cm", "1/4 yd", "1 in", "1 m"])));
    }
    if chance.often(0.25) {
        set(
            "on_hand",
            if counted { Value::Integer(*chance.pick(&[0, 2, 9])) } else { words::length(chance, taste, have) },
        );
    }
    Value::Table(entry)
}
