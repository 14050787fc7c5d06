//! A piece that is another one again, as drawn or mirrored, and the slanted seam between the two: what chevrons need.

use toml::{Table, Value};

use super::{Blanks, SeamBlank, table, text, texts};
use crate::chance::Chance;

/// What the other piece is called.
pub(super) const NAME: &str = "Twin panel";
/// What the seam between the two is called.
pub(super) const SEAM: &str = "twin seam";

/// A twin of some drawn piece, and the seam along an edge of both, for the edges of which both have ends that are named.
pub(super) fn twin(chance: &mut Chance, pieces: &mut Vec<Value>, blanks: &mut Blanks) -> Option<Value> {
    let drawn: Vec<usize> = (0..pieces.len()).filter(|&k| edges(&pieces[k]).is_some_and(|e| e.len() > 2)).collect();
    if drawn.is_empty() {
        return None;
    }
    let of = *chance.pick(&drawn);
    let names = edges(&pieces[of])?;
    let k = chance.whole(0, names.len() as i64 - 1) as usize;
    let before = &names[(k + names.len() - 1) % names.len()];
    let meets = texts(&[&format!("{} end", names[k]), &format!("{before} end")]);
    let mut blank = blanks.pieces[of].clone();
    if !blank.edges.contains(&names[k]) {
        return None;
    }
    let mut piece = pieces[of].clone();
    if chance.often(0.6) {
        mirror(&mut piece);
    }
    if let Value::Table(piece) = &mut piece {
        piece.insert("name".to_owned(), text(NAME));
    }
    let side = |piece: &str| table([("piece", text(piece)), ("edges", texts(&[&names[k]])), ("meets", meets.clone())]);
    let name = SEAM.to_owned();
    let seam = table([
        ("name", text(&name)),
        ("kind", text(*chance.pick(&["side", "side", "other"]))),
        ("a", side(&blank.name)),
        ("b", side(NAME)),
    ]);
    blank.name = NAME.to_owned();
    let points = ["a", "b"].map(|_| format!("{} end", names[k])).into();
    pieces.push(piece);
    blanks.pieces.push(blank);
    blanks.seams.push(SeamBlank { name, meets: points, edged: true });
    Some(seam)
}

/// Names of the edges of a drawn piece, in order.
fn edges(piece: &Value) -> Option<Vec<String>> {
    let piece = piece.as_table()?;
    let first = |sizes: &Value| sizes.as_array()?.first()?.as_table().cloned();
    let drawing: Table = piece.get("drawn").and_then(first).unwrap_or_else(|| piece.clone());
    let edges = drawing.get("edges")?.as_array()?;
    edges.iter().map(|edge| Some(edge.get("name")?.as_str()?.to_owned())).collect()
}

/// Turns every place in it over, left to right.
fn mirror(value: &mut Value) {
    match value {
        Value::Array(list) => match list.as_mut_slice() {
            [Value::Float(x), Value::Float(_) | Value::Integer(_)] => *x = -*x,
            [Value::Integer(x), Value::Float(_) | Value::Integer(_)] => *x = -*x,
            others => others.iter_mut().for_each(mirror),
        },
        Value::Table(table) => table.iter_mut().for_each(|(_, inner)| mirror(inner)),
        _ => {}
    }
}
