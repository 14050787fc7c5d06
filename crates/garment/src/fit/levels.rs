//! Finished girths beside body and usual ease, and what there is to say of each.

use super::{
    Body, Draft, FitRequest, Girth, LevelRow, SizeWish,
    blend::Positions,
    figure::{Figure, GIRTH_MM, position_in},
    measure::girth,
    usual_ease,
};
use crate::{Units, format_length};

impl Figure<'_> {
    pub(super) fn rows(&self, positions: &Positions, drafts: &[Draft], body: &Body) -> Vec<LevelRow> {
        let row = |name: &str, level: &str, finished: f64| {
            let of_body = body.get(name).copied();
            LevelRow {
                name: name.to_owned(),
                body: of_body,
                size: self.size_at(positions.of(level)),
                finished,
                ease: of_body.map(|is| finished - is),
                usual: usual_ease(self.pattern.kind, name),
                own: None,
            }
        };
        let own = |of: &Girth| self.ease_at(of, &self.bodies(&of.name)?, positions.of(&of.level)).ok();
        (self.pattern.girths.iter())
            .filter_map(|of| Some(LevelRow { own: own(of), ..row(&of.name, &of.level, girth(of, drafts)?) }))
            .collect()
    }

    /// What every size has as a measure of its body; `None` where one has none.
    pub(super) fn bodies(&self, measure: &str) -> Option<Vec<f64>> {
        self.sizes().map(|size| size.body.get(measure).copied()).collect()
    }

    /// Where a whole size leaves far more ease than the pattern means, as it does at a waist that is small for its bust: by how much, and
    /// which sizes to take instead.
    pub(super) fn take_in(&self, rows: &[LevelRow], request: &FitRequest, positions: &Positions) -> Vec<String> {
        if request.size == SizeWish::ToBody {
            return Vec::new();
        }
        let say = |mm: f64| format_length(mm, request.units);
        let wide = |row: &&LevelRow| {
            let more = row.ease.zip(row.own).is_some_and(|(ease, own)| ease > own + FAR_MORE);
            more && !request.ease.contains_key(&row.name)
        };
        let last = self.indices.len() as f64 - 1.0;
        let names: Vec<&str> = self.sizes().map(|size| size.name.as_str()).collect();
        // A size for each level, the present one where the body tells nothing; of two girths at one level the first is what it is chosen by.
        let mut by_level: Vec<(String, &str)> = Vec::new();
        for of in &self.pattern.girths {
            let bodies = self.bodies(&of.name).filter(|bodies| bodies.windows(2).all(|two| two[1] > two[0]));
            let suited = bodies.zip(request.body.get(&of.name)).map(|(bodies, is)| position_in(&bodies, *is));
            let size = names[suited.unwrap_or(positions.of(&of.level)).round().clamp(0.0, last) as usize];
            if !by_level.iter().any(|(level, _)| *level == of.level) {
                by_level.push((of.level.clone(), size));
            }
        }
        let key = |level: &str| {
            let is_bare = level.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_');
            if is_bare { level.to_owned() } else { format!("\"{level}\"") }
        };
        let sizes: Vec<String> = by_level.iter().map(|(level, size)| format!("{} = \"{size}\"", key(level))).collect();
        let differ = by_level.windows(2).any(|two| two[0].1 != two[1].1);
        (rows.iter().filter(wide))
            .map(|row| {
                let (ease, own) = (row.ease.unwrap_or(0.0), row.own.unwrap_or(0.0));
                let remedy = if differ {
                    format!("write size = {{ {} }} or \"to measure\"", sizes.join(", "))
                } else {
                    "write size = \"to measure\"".to_owned()
                };
                format!(
                    "{}: {} of ease, where the pattern means {}; to take in {} there, {remedy}",
                    row.name,
                    say(ease),
                    say(own),
                    say(ease - own)
                )
            })
            .collect()
    }
}

impl LevelRow {
    /// Whether the pattern itself has clearly more ease there than is usual: the garment is meant to be loose.
    pub fn is_loose_by_design(&self) -> bool {
        self.usual.zip(self.own).is_some_and(|((_, most), own)| own > most + CLEARLY_MORE)
    }
}

/// Ease beyond the pattern's own by more than this is worth taking in, mm (1 1/2 in). Common practice, no source.
const FAR_MORE: f64 = 38.1;

/// A pattern with this much more than the usual ease means it, mm (1 in). Common practice, no source.
const CLEARLY_MORE: f64 = 25.4;

/// A girth with less ease than is usual, or with more than anyone wears, in a sentence.
pub(super) fn doubtful(row: &LevelRow, units: Units) -> Option<String> {
    let (body, ease) = (row.body?, row.ease?);
    let say = |mm: f64| format_length(mm, units);
    match row.usual.map(|(least, _)| least) {
        _ if ease > body => {
            Some(format!("{}: the garment is more than twice the body; check the units of both", row.name))
        }
        Some(least) if ease < least - GIRTH_MM => {
            Some(format!("{}: {} of ease, less than the usual {}", row.name, say(ease), say(least)))
        }
        None if ease < 0.0 => Some(format!("{}: the garment is {} smaller than the body", row.name, say(-ease))),
        _ => None,
    }
}
