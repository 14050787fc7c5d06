//! Blocks that nothing inserts: files for the exchange of patterns hold a piece in each. They are read where they are defined.

use kurbo::Affine;

use super::walk::{Here, Walk};
use crate::ReadFault;

/// Blocks that stand for the arrow heads of dimensions, by the names that the DXF reference lists; they begin with `_`.
const ARROW_HEADS: [&str; 19] = [
    "_closedfilled",
    "_dot",
    "_dotsmall",
    "_dotblank",
    "_origin",
    "_origin2",
    "_open",
    "_open90",
    "_open30",
    "_closed",
    "_small",
    "_none",
    "_oblique",
    "_boxfilled",
    "_boxblank",
    "_closedblank",
    "_datumfilled",
    "_datumblank",
    "_integral",
];

/// Draws the blocks that nothing has drawn: those that others of them insert, as part of these only.
pub(super) fn draw(walk: &mut Walk, map: Affine, lift: f64) -> Result<(), ReadFault> {
    let left: Vec<usize> = (0..walk.sections.blocks.len()).filter(|&at| is_left(walk, at)).collect();
    let mut is_inserted = vec![false; walk.sections.blocks.len()];
    for &at in &left {
        let block = &walk.sections.blocks[at];
        for entity in block.entities.iter().filter(|entity| entity.kind == "INSERT") {
            let name = entity.text(&walk.sections.file, 2).unwrap_or_default().trim().to_lowercase();
            if let Some(&other) = walk.blocks.get(&name).filter(|&&other| other != at) {
                is_inserted[other] = true;
            }
        }
    }
    // Those that insert each other in a circle come last.
    let (inner, outer): (Vec<usize>, Vec<usize>) = left.into_iter().partition(|&at| is_inserted[at]);
    for at in outer.into_iter().chain(inner) {
        if !walk.drawn[at] {
            let layer = walk.layers.named(walk.sections.blocks[at].layer);
            let style = crate::Style { line: Some(walk.layers.looks[layer].colour), ..Default::default() };
            let around = Some((layer, style));
            walk.block(at, &Here { map, lift, group: None, around, depth: 1 }, 0)?;
        }
    }
    Ok(())
}

/// Whether nothing has drawn a block so far, and it is one that a person made.
fn is_left(walk: &mut Walk, at: usize) -> bool {
    const FROM_ANOTHER_FILE: i64 = 4 | 8;
    let block = &walk.sections.blocks[at];
    let name = block.name.to_lowercase();
    if walk.drawn[at] || walk.blocks.get(&name) != Some(&at) && walk.drawn[walk.blocks[&name]] || name.starts_with('*')
    {
        return false;
    }
    if block.flags & FROM_ANOTHER_FILE != 0 {
        walk.ledger.skip("a block from another file", "other files are not opened; put it into this one");
        return false;
    }
    if block.entities.is_empty() {
        return false;
    }
    if ARROW_HEADS.contains(&name.as_str()) || name == "_archtick" {
        walk.ledger.skip("an arrow head for dimensions", "nothing uses it");
        return false;
    }
    true
}
