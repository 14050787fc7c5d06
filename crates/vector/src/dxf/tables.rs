//! Header and tables: how long a unit is, which layers and line types there are.

use std::collections::HashMap;

use super::colour::of_index;
use super::entity::{Entity, millimetres, true_colour};
use super::pairs::Pairs;
use super::sections::Sections;
use crate::{Colour, Layer, ReadFault, Unit};

/// mm of a unit, by the number that `$INSUNITS` gives.
///
/// Source: the DXF reference, values of `$INSUNITS`.
fn unit_mm(number: i64) -> Option<f64> {
    Some(match number {
        1 => 25.4,
        2 => 304.8,
        3 => 1_609_344.0,
        4 => 1.0,
        5 => 10.0,
        6 => 1000.0,
        7 => 1e6,
        8 => 25.4e-6,
        9 => 25.4e-3,
        10 => 914.4,
        11 => 1e-7,
        12 => 1e-6,
        13 => 1e-3,
        14 => 100.0,
        15 => 1e4,
        16 => 1e5,
        21 => 1_200_000.0 / 3937.0,
        22 => 100_000.0 / 3937.0,
        23 => 3_600_000.0 / 3937.0,
        _ => return None,
    })
}

/// How long the unit of a file is.
pub(super) fn unit(sections: &Sections) -> Result<Unit, ReadFault> {
    let number = sections.header.get("$INSUNITS").map(|pair| pair.whole()).transpose()?;
    Ok(number.and_then(unit_mm).map_or(Unit::Unsaid, |mm| Unit::Said { mm }))
}

/// By how much all line types of a file are longer than they say.
pub(super) fn line_type_scale(sections: &Sections) -> Result<f64, ReadFault> {
    let scale = sections.header.get("$LTSCALE").map(|pair| pair.number()).transpose()?.unwrap_or(1.0);
    Ok(if scale > 0.0 && scale.is_finite() { scale } else { 1.0 })
}

/// How things on a layer look that do not say so themselves.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LayerLook<'a> {
    pub(super) colour: Colour,
    pub(super) line_type: &'a str,
    /// mm.
    pub(super) weight: f64,
}

/// All layers, by number and by name.
#[derive(Default)]
pub(super) struct Layers<'a> {
    pub(super) layers: Vec<Layer>,
    pub(super) looks: Vec<LayerLook<'a>>,
    by_name: HashMap<String, usize>,
}

impl<'a> Layers<'a> {
    /// Those of the table.
    pub(super) fn of(sections: &Sections<'a>) -> Result<Self, ReadFault> {
        let mut layers = Self::default();
        for entry in sections.tables.iter().filter(|entry| entry.kind == "LAYER") {
            let file = &sections.file;
            let Some(name) = entry.text(file, 2) else { continue };
            let at = layers.named(name.trim());
            let [flags, index, full, weight] = entry.numbers(file, [70, 62, 420, 370])?;
            let index = index.unwrap_or(7.0);
            // A layer is off where its colour is negative, and frozen where its flags say so.
            layers.layers[at].is_shown = index >= 0.0 && flags.unwrap_or(0.0) as i64 & 1 == 0;
            layers.looks[at] = LayerLook {
                colour: full.map_or(of_index(index.abs() as u8), |full| Colour(true_colour(full as i64))),
                line_type: entry.text(file, 6).unwrap_or_default().trim(),
                weight: millimetres(weight.unwrap_or(0.0) as i64),
            };
        }
        Ok(layers)
    }

    /// The number of a layer; one that was not known is there from now on. Capital and small letters are alike.
    pub(super) fn named(&mut self, name: &'a str) -> usize {
        let key = name.to_lowercase();
        if let Some(&known) = self.by_name.get(&key) {
            return known;
        }
        self.layers.push(Layer { name: super::letters::plain(name), is_shown: true });
        self.looks.push(LayerLook { colour: of_index(7), line_type: "", weight: 0.0 });
        self.by_name.insert(key, self.layers.len() - 1);
        self.layers.len() - 1
    }
}

/// Dashes of all line types, in units of the file, by their names in small letters.
pub(super) fn line_types(sections: &Sections) -> Result<HashMap<String, Vec<f64>>, ReadFault> {
    let mut types = HashMap::new();
    for entry in sections.tables.iter().filter(|entry| entry.kind == "LTYPE") {
        if let Some(name) = entry.text(&sections.file, 2) {
            types.insert(name.trim().to_lowercase(), dash(entry, &sections.file)?);
        }
    }
    Ok(types)
}

/// Dash and gap in turn. In the file a gap is negative and a dot 0.
fn dash(entry: &Entity, file: &Pairs) -> Result<Vec<f64>, ReadFault> {
    const MOST: usize = 32;
    let mut lengths: Vec<f64> = Vec::new();
    let mut first_gap = 0.0;
    for pair in entry.own(file).filter(|pair| pair.code == 49).take(MOST) {
        let length = pair.number()?;
        if !length.is_finite() {
            return Ok(Vec::new());
        }
        let is_gap = length < 0.0;
        match (is_gap, lengths.len() % 2 == 1) {
            (true, false) if lengths.is_empty() => first_gap -= length,
            // Two gaps, or two dashes, are one.
            (true, false) | (false, true) => {
                if let Some(last) = lengths.last_mut() {
                    *last += length.abs();
                }
            }
            _ => lengths.push(length.abs()),
        }
    }
    match (lengths.len() % 2 == 1, lengths.last_mut()) {
        (true, _) => lengths.push(first_gap),
        (false, Some(last)) => *last += first_gap,
        (false, None) => {}
    }
    let has_gap = lengths.chunks(2).any(|pair| pair[1] > 0.0);
    Ok(if has_gap { lengths } else { Vec::new() })
}
