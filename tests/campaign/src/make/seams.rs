//! Seams between the pieces of a pattern, at points that these have.

use toml::{Table, Value};

use super::{Blank, Blanks, SeamBlank, Taste, text, texts, words};
use crate::chance::Chance;

const KINDS: [&str; 14] = [
    "centre front",
    "centre back",
    "side",
    "side",
    "side",
    "pocket",
    "pocket",
    "sleeve",
    "collar",
    "lapel",
    "lapel",
    "cuff",
    "yoke",
    "other",
];

/// The seams; most patterns have some, since cloth with a design needs them.
pub(super) fn seams(chance: &mut Chance, taste: &Taste, blanks: &mut Blanks) -> Vec<Value> {
    let marked: Vec<Blank> = blanks.pieces.iter().filter(|piece| !piece.points.is_empty()).cloned().collect();
    if marked.is_empty() || chance.often(0.25) {
        return Vec::new();
    }
    let mut seams = Vec::new();
    for number in 0..*chance.pick(&[1, 1, 1, 2, 2, 3, 4]) {
        let kind = *chance.pick(&KINDS);
        let a = chance.pick(&marked).clone();
        let others: Vec<&Blank> = marked.iter().filter(|piece| piece.name != a.name).collect();
        let at_centre = kind.starts_with("centre") || kind == "other";
        let alone = others.is_empty() || (at_centre && chance.often(0.7)) || (a.count > 1 && chance.often(0.15));
        if alone && !at_centre && a.count < 2 {
            continue;
        }
        let name = format!("{kind} {}", number + 1);
        let mut seam = Table::new();
        seam.insert("name".to_owned(), text(&name));
        seam.insert("kind".to_owned(), text(kind));
        let meeting = if chance.often(0.3) { 2 } else { 1 };
        seam.insert("a".to_owned(), side(chance, taste, &a, meeting));
        if !alone {
            let b = (*chance.pick(&others)).clone();
            seam.insert("b".to_owned(), side(chance, taste, &b, meeting));
        }
        let edged = seam.get("a").is_some_and(|a| a.get("edges").is_some());
        let meets = ["a", "b"].into_iter().filter_map(|key| seam.get(key)?.get("meets")?.as_array());
        let points = meets.flatten().filter_map(Value::as_str).map(str::to_owned).collect();
        seams.push(Value::Table(seam));
        blanks.seams.push(SeamBlank { name, meets: points, edged });
    }
    seams
}

fn side(chance: &mut Chance, taste: &Taste, of: &Blank, meeting: usize) -> Value {
    let mut points = of.points.clone();
    chance.shuffle(&mut points);
    points.truncate(meeting);
    while points.len() < meeting {
        points.push(points[0].clone());
    }
    let mut side = Table::new();
    side.insert("piece".to_owned(), text(&of.name));
    if chance.often(0.5) {
        side.insert("edges".to_owned(), texts(&[chance.pick(&of.edges)]));
    }
    side.insert("meets".to_owned(), texts(&points));
    if chance.often(taste.rich) {
        let way = *chance.pick(&["ease", "ease", "pleats", "tucks", "gathers", "overlap"]);
        side.insert(way.to_owned(), words::length(chance, taste, 12.0));
    }
    if chance.often(0.15) {
        let (low, high) = (chance.pick(&of.points).clone(), chance.pick(&of.points).clone());
        side.insert("roll".to_owned(), texts(&[low, high]));
    }
    if chance.often(0.2) {
        side.insert("centre".to_owned(), texts(&of.upright));
    }
    Value::Table(side)
}
