//! A pattern that was written for an earlier state of its drawing: what has moved since.

use ellwand_trace::{FoundPiece, Understood};
use toml::{Table, Value};

use super::around_or_called;

/// The note beside the sides of a piece, from which a later reading knows how many there were.
pub(super) fn sides_note(sides: usize, notches: usize) -> String {
    format!("# it has {sides} sides and {notches} notches, numbered on the sheet; name those that are sewn to others")
}

/// What a kept pattern counts otherwise than its drawing as it is now, one sentence a piece. Numbers of sides are those that were written
/// beside `sides` when the pattern was; where that note is gone nothing is known.
pub fn renumbered(kept: &str, understood: &Understood) -> Vec<String> {
    let unit = match key_of(kept, "coordinates").as_ref().and_then(Value::as_str) {
        Some("cm") => 10.0,
        Some("in") => 25.4,
        _ => 1.0,
    };
    let mut told = Vec::new();
    let (mut name, mut pick): (Option<String>, Option<Value>) = (None, None);
    for line in kept.lines().map(bare) {
        if line.starts_with("[[") {
            (name, pick) = (None, None);
        } else if line.starts_with("name") {
            name = key_of(line, "name").and_then(|value| value.as_str().map(str::to_owned)).or(name);
        } else if line.starts_with("pick") {
            pick = key_of(line, "pick").or(pick);
        }
        let Some(had) = had_sides(line) else { continue };
        let Some(piece) = pick.as_ref().and_then(|pick| find(pick, unit, understood)) else { continue };
        let has = piece.drawn[0].sides.len();
        if has != had {
            let name = name.clone().unwrap_or_else(|| around_or_called(piece, understood));
            told.push(format!(
                "`{name}` had {had} sides when the pattern was written and has {has} now: look at its `sides`, `allowances` and `fold_edge`, then write {has} in the note beside `sides`"
            ));
        }
    }
    told
}

/// A line without what makes it a comment.
fn bare(line: &str) -> &str {
    line.trim_start().trim_start_matches("# ")
}

/// The value of a key that stands on a line of its own.
fn key_of(text: &str, key: &str) -> Option<Value> {
    let line = text.lines().find(|line| line.split('=').next().is_some_and(|before| before.trim() == key))?;
    line.parse::<Table>().ok()?.remove(key)
}

/// How many sides a note says there were.
fn had_sides(line: &str) -> Option<usize> {
    let (_, after) = line.split_once("# it has ")?;
    let (number, rest) = after.split_once(' ')?;
    rest.starts_with("sides").then(|| number.parse().ok()).flatten()
}

fn find<'u>(pick: &Value, unit: f64, understood: &'u Understood) -> Option<&'u FoundPiece> {
    match pick {
        Value::String(name) => {
            let lower = name.trim().to_lowercase();
            let is_called =
                |piece: &&FoundPiece| piece.names.first().is_some_and(|of| of.trim().to_lowercase() == lower);
            understood.pieces.iter().find(is_called)
        }
        Value::Array(pair) => {
            let number = |value: &Value| value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64));
            let [x, y] = pair.as_slice() else { return None };
            let at = ellwand_geometry::point(number(x)?, number(y)?) * (unit * understood.scaled);
            let holding = understood.pieces.iter().filter(|piece| piece.holds(at));
            holding.min_by(|a, b| a.area().total_cmp(&b.area()))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_tells_how_many_sides_there_were() {
        let line = format!("# sides = {{ hem = 1 }}   {}", sides_note(8, 2));
        assert_eq!(had_sides(bare(&line)), Some(8));
        assert_eq!(had_sides(&format!("sides = {{ hem = 1, side = 2 }} {}", sides_note(12, 0))), Some(12));
        assert_eq!(had_sides("sides = { hem = 1 }"), None);
    }

    #[test]
    fn a_name_is_read_behind_its_comment() {
        assert_eq!(key_of(bare("# # pick = \"Apron front\""), "pick"), Some(Value::String("Apron front".to_owned())));
        assert_eq!(key_of("pick = [1.5, 2]   # a point", "pick").unwrap().as_array().unwrap().len(), 2);
    }
}
