//! Names of layers, blocks and line types as a DXF file may have them.

use std::collections::{BTreeMap, HashSet};

use super::pairs::encoded;
use crate::{Drawing, GroupKind, Origin, Style};

/// Names for everything in a drawing that has one.
pub(super) struct Names {
    /// Of each layer.
    layers: Vec<String>,
    /// Of each group that is a block.
    pub(super) blocks: Vec<Option<String>>,
    /// Line types by their dashes (in nanometres), with the lengths.
    pub(super) line_types: Vec<(String, Vec<f64>)>,
    line_type_of: BTreeMap<Vec<i64>, usize>,
}

impl Names {
    pub(super) fn of(drawing: &Drawing) -> Self {
        let mut used = HashSet::new();
        let layers = drawing.layers.iter().map(|layer| unique(&layer.name, &mut used)).collect();
        let mut used = HashSet::new();
        let block = |group: &crate::Group| {
            (group.kind == GroupKind::Block).then(|| unique(group.name.as_deref().unwrap_or("BLOCK"), &mut used))
        };
        let blocks = drawing.groups.iter().map(block).collect();
        let mut names = Self { layers, blocks, line_types: Vec::new(), line_type_of: BTreeMap::new() };
        for stroke in
            drawing.sheets.iter().flat_map(|sheet| &sheet.strokes).filter(|stroke| !stroke.style.dash.is_empty())
        {
            let count = names.line_types.len();
            names.line_type_of.entry(key(&stroke.style)).or_insert_with(|| {
                names.line_types.push((format!("DASH{}", count + 1), stroke.style.dash.clone()));
                count
            });
        }
        names
    }

    /// The layer of something; `0` for what is on none.
    pub(super) fn layer(&self, origin: &Origin) -> &str {
        origin.layer.and_then(|at| self.layers.get(at)).map_or("0", String::as_str)
    }

    pub(super) fn layer_names(&self) -> &[String] {
        &self.layers
    }

    /// The line type of a dashed stroke.
    pub(super) fn line_type(&self, style: &Style) -> Option<&str> {
        self.line_type_of.get(&key(style)).map(|&at| self.line_types[at].0.as_str())
    }
}

fn key(style: &Style) -> Vec<i64> {
    style.dash.iter().map(|length| (length * 1e6).round() as i64).collect()
}

/// A name that no other has, capital and small letters being alike, without what names may not hold.
fn unique(name: &str, used: &mut HashSet<String>) -> String {
    let is_bad = |letter: char| letter.is_control() || "<>/\\\":;?*|=`,".contains(letter);
    let plain: String = name.trim().chars().map(|letter| if is_bad(letter) { '_' } else { letter }).collect();
    let plain = if plain.is_empty() { "_".to_owned() } else { plain };
    let mut one = plain.clone();
    let mut count = 1_usize;
    while !used.insert(one.to_lowercase()) {
        count += 1;
        one = format!("{plain}-{count}");
    }
    encoded(&one)
}
