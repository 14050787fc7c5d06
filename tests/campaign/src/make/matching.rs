//! What a job asks to be matched on a cloth.

use toml::{Table, Value};

use super::{Blank, Blanks, SeamBlank, Taste, design::Asked, table, text, texts, twin, words};
use crate::chance::Chance;

/// The matching of the cloth of `role`.
pub(super) fn matching(
    chance: &mut Chance,
    taste: &Taste,
    blanks: &Blanks,
    role: &str,
    asked: &Asked,
    priced: bool,
) -> Value {
    let here: Vec<Blank> =
        blanks.pieces.iter().filter(|piece| piece.roles.iter().any(|of| of == role)).cloned().collect();
    let marked: Vec<Blank> = here.iter().filter(|piece| !piece.points.is_empty()).cloned().collect();
    let mut file = Table::new();
    if chance.often(0.3) {
        file.insert("centre".to_owned(), text(*chance.pick(&["midway", "on a bar"])));
    }
    let mut wishes = seams(chance, blanks, &mut file);
    let has_twin = here.iter().any(|piece| piece.name == twin::NAME);
    let often = |seam: &SeamBlank| match (seam.name == twin::SEAM, asked.across && has_twin) {
        (true, true) => 0.8,
        (true, false) => 0.1,
        (false, _) => 0.02,
    };
    let in_points: Vec<&SeamBlank> = blanks.seams.iter().filter(|seam| chance.often(often(seam))).collect();
    if !in_points.is_empty() {
        file.insert("chevrons".to_owned(), texts(&in_points.iter().map(|seam| seam.name.as_str()).collect::<Vec<_>>()));
    }
    if !marked.is_empty() {
        wishes |= marks(chance, taste, &marked, asked, &mut file);
    }
    if asked.border && !here.is_empty() && chance.often(0.6) {
        let of = chance.pick(&here);
        let mm = chance.between(0.0, 60.0);
        let mut entry = Table::new();
        entry.insert("piece".to_owned(), text(&of.name));
        if of.points.is_empty() || chance.often(0.6) {
            entry.insert("edge".to_owned(), text(chance.pick(&of.edges)));
        } else {
            entry.insert("point".to_owned(), text(chance.pick(&of.points)));
        }
        entry.insert("from_edge".to_owned(), words::length(chance, taste, mm));
        if chance.often(0.2) {
            entry.insert("name".to_owned(), text("at the border"));
        }
        file.insert("border".to_owned(), Value::Array(vec![Value::Table(entry)]));
    }
    if !here.is_empty() && chance.often(0.1) {
        file.insert("bias".to_owned(), texts(&[&chance.pick(&here).name]));
    }
    if wishes || chance.often(0.1) {
        if priced && chance.often(0.4) {
            file.insert("limit_cost".to_owned(), text(*chance.pick(&["0.00", "1.50", "3.50", "20.00"])));
        } else {
            file.insert("limit".to_owned(), text(*chance.pick(&["1/8 yd", "1/4 yd", "10 cm", "0 cm", "1 m"])));
        }
    }
    if let Some(seam) = blanks.seams.first().filter(|_| chance.often(0.2)) {
        file.insert("rank".to_owned(), texts(&[&seam.name]));
    }
    Value::Table(file)
}

/// Seams by name; whether some are wished for.
fn seams(chance: &mut Chance, blanks: &Blanks, file: &mut Table) -> bool {
    let mut lists: [(&str, Vec<&str>); 3] = [("require", Vec::new()), ("wish", Vec::new()), ("leave", Vec::new())];
    let mut at = Table::new();
    for SeamBlank { name, meets, .. } in &blanks.seams {
        if chance.often(0.5) {
            let list = *chance.pick(&[0usize, 1, 1, 2]);
            lists[list].1.push(name);
        }
        if chance.often(0.1) {
            at.insert(name.clone(), text(chance.pick(meets)));
        }
    }
    let wishes = !lists[1].1.is_empty();
    for (key, names) in lists.iter().filter(|(_, names)| !names.is_empty()) {
        file.insert((*key).to_owned(), texts(names));
    }
    if !at.is_empty() {
        file.insert("at".to_owned(), Value::Table(at));
    }
    wishes
}

/// Lines, motifs and pairs of points; whether some are wished for.
fn marks(chance: &mut Chance, taste: &Taste, marked: &[Blank], asked: &Asked, file: &mut Table) -> bool {
    let mut wishes = false;
    let mut need = |chance: &mut Chance, entry: &mut Table| {
        if chance.often(0.4) {
            let wished = chance.often(0.6);
            wishes |= wished;
            entry.insert("need".to_owned(), text(if wished { "wished" } else { "required" }));
        }
    };
    if asked.along && chance.often(0.35) {
        let of = chance.pick(marked);
        let on = match chance.whole(0, 2) {
            0 => text("bar"),
            1 => text("midway"),
            _ => words::length(chance, taste, 20.0),
        };
        let Value::Table(mut entry) =
            table([("piece", text(&of.name)), ("point", text(chance.pick(&of.points))), ("on", on)])
        else {
            return false;
        };
        need(chance, &mut entry);
        if chance.often(0.3) {
            entry.insert("name".to_owned(), text("hem line"));
        }
        file.insert("lines".to_owned(), Value::Array(vec![Value::Table(entry)]));
    }
    if asked.along && asked.across && chance.often(0.3) {
        let of = chance.pick(marked);
        let Value::Table(mut entry) = table([("piece", text(&of.name)), ("point", text(chance.pick(&of.points)))])
        else {
            return false;
        };
        need(chance, &mut entry);
        file.insert("motifs".to_owned(), Value::Array(vec![Value::Table(entry)]));
    }
    if (asked.along || asked.across) && chance.often(0.25) {
        let (a, b) = (chance.pick(marked).clone(), chance.pick(marked).clone());
        let side = |chance: &mut Chance, of: &Blank| {
            table([("piece", text(&of.name)), ("point", text(chance.pick(&of.points)))])
        };
        let axis = match (asked.across, asked.along) {
            (true, true) => *chance.pick(&["across", "along", "both"]),
            (true, false) => "across",
            _ => "along",
        };
        let Value::Table(mut entry) =
            table([("name", text("added")), ("a", side(chance, &a)), ("b", side(chance, &b)), ("axis", text(axis))])
        else {
            return false;
        };
        need(chance, &mut entry);
        file.insert("add".to_owned(), Value::Array(vec![Value::Table(entry)]));
    }
    wishes
}
