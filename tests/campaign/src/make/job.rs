//! A job: whom it is for, what is changed, and the cloth of every role.

use toml::{Table, Value};

use super::{Blanks, PATTERN_FILE, Taste, cloth, pattern, table, text, texts, words};
use crate::chance::Chance;

/// A job on a pattern.
pub(super) fn job(chance: &mut Chance, taste: &Taste, blanks: &Blanks) -> Table {
    let mut file = Table::new();
    let mut set = |key: &str, value: Value| drop(file.insert(key.to_owned(), value));
    set("format", text("ellwand-job-1"));
    set("name", text("Trial"));
    set("pattern", text(PATTERN_FILE));
    set("view", text(chance.pick(&blanks.views)));
    set("units", text(if taste.inches { "in" } else { "cm" }));
    if chance.often(0.3) {
        set("currency", text(*chance.pick(&["GBP", "EUR"])));
    }
    let several = blanks.sizes.len() > 1;
    let to_measure = several && chance.often(0.3);
    if let Some(size) = size(chance, blanks, to_measure) {
        set("size", size);
    }
    if several || blanks.has_body {
        if let Some((_, Some(figure))) = blanks.sizes.first()
            && chance.often(0.6)
        {
            set("figure", text(figure));
        }
        let size = chance.whole(0, 4);
        set("body", pattern::body(chance, taste, size));
    }
    if several && chance.often(0.15) {
        let girth = *chance.pick(&["bust", "waist", "hip"]);
        let mm = chance.between(0.0, 320.0);
        set("ease", table([(girth, words::length(chance, taste, mm))]));
    }
    if let Some(alter) = alter(chance, taste, blanks) {
        set("alter", alter);
    }
    let mut roles: Vec<String> = Vec::new();
    for role in blanks.pieces.iter().flat_map(|piece| &piece.roles) {
        if !roles.contains(role) {
            roles.push(role.clone());
        }
    }
    let mut fabrics: Table = Table::new();
    for role in roles {
        let mut of_role = cloth::cloth(chance, taste, blanks, &role);
        if let Value::Table(entry) = &mut of_role
            && chance.often(0.15)
        {
            let others = (0..chance.whole(1, 2)).map(|_| cloth::cloth(chance, taste, blanks, &role)).collect();
            entry.insert("candidate".to_owned(), Value::Array(others));
        }
        fabrics.insert(role, of_role);
    }
    set("fabric", Value::Table(fabrics));
    file
}

fn size(chance: &mut Chance, blanks: &Blanks, to_measure: bool) -> Option<Value> {
    let named = |chance: &mut Chance| text(&chance.pick(&blanks.sizes).0);
    if to_measure {
        return Some(text("to measure"));
    }
    if blanks.sizes.len() == 1 {
        return chance.often(0.2).then(|| named(chance));
    }
    match chance.whole(0, 5) {
        0 => None,
        1 => Some(text("recommended")),
        2 if !blanks.levels.is_empty() => {
            let levels = blanks.levels.iter().filter(|_| chance.clone().often(0.8));
            let of_level: Vec<String> = levels.cloned().collect();
            let sizes = of_level.into_iter().map(|level| (level, named(chance)));
            Some(Value::Table(sizes.collect()))
        }
        _ => Some(named(chance)),
    }
}

fn alter(chance: &mut Chance, taste: &Taste, blanks: &Blanks) -> Option<Value> {
    let mut alter = Table::new();
    let rich = taste.rich;
    let piece = |chance: &mut Chance| chance.pick(&blanks.pieces).clone();
    if !blanks.lines.is_empty() && chance.often(rich) {
        let mut entry = Table::new();
        entry.insert("line".to_owned(), text(chance.pick(&blanks.lines)));
        let lined: Vec<&str> =
            blanks.pieces.iter().filter(|piece| !piece.lines.is_empty()).map(|piece| piece.name.as_str()).collect();
        if chance.often(0.3) {
            entry.insert("pieces".to_owned(), texts(&[*chance.pick(&lined)]));
        }
        entry.insert("by".to_owned(), words::change(chance, taste, 25.0));
        alter.insert("lengthen".to_owned(), Value::Array(vec![Value::Table(entry)]));
    }
    let edged: Vec<&str> = blanks.seams.iter().filter(|seam| seam.edged).map(|seam| seam.name.as_str()).collect();
    if !edged.is_empty() && chance.often(rich) {
        let seam = *chance.pick(&edged);
        let entry = table([("seam", text(seam)), ("by", words::change(chance, taste, 20.0))]);
        alter.insert("widen".to_owned(), Value::Array(vec![entry]));
    }
    if chance.often(rich) {
        let of = piece(chance);
        let mm = chance.between(0.0, 50.0);
        let mut entry = Table::new();
        if chance.often(0.6) {
            entry.insert("piece".to_owned(), text(&of.name));
        }
        entry.insert("edge".to_owned(), text(chance.pick(&of.edges)));
        entry.insert("depth".to_owned(), words::length(chance, taste, mm));
        if chance.often(0.3) {
            entry.insert("corner".to_owned(), text(words::corner(chance)));
        }
        alter.insert("allowances".to_owned(), Value::Array(vec![Value::Table(entry)]));
    }
    if let Some((option, choices)) = blanks.options.first()
        && chance.often(0.6)
    {
        alter.insert("options".to_owned(), table([(option.as_str(), text(chance.pick(choices)))]));
    }
    if chance.often(rich / 2.0) {
        let (of, other) = (piece(chance), piece(chance));
        let entry = table([("piece", text(&of.name)), ("from", text(chance.pick(&other.roles)))]);
        alter.insert("cut_from".to_owned(), Value::Array(vec![entry]));
    }
    // What else is made stays as it was.
    let mut own = chance.clone();
    if own.often(rich / 2.0) {
        let of = piece(&mut own);
        let mut entry = Table::new();
        entry.insert("piece".to_owned(), text(&of.name));
        if own.often(0.5) {
            let mm = own.between(0.0, 30.0);
            entry.insert("join".to_owned(), words::length(&mut own, taste, mm));
        }
        alter.insert("pieced".to_owned(), Value::Array(vec![Value::Table(entry)]));
    }
    if own.often(rich / 2.0) {
        let of = piece(&mut own);
        alter.insert("cross_grain".to_owned(), texts(&[of.name.as_str()]));
    }
    (!alter.is_empty()).then_some(Value::Table(alter))
}
