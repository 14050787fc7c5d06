//! A yardage table, on a terminal.

use std::fmt::Write as _;

use super::table::ruled_under_its_header;
use crate::{
    Column, Table,
    chart::{YardageTable, capital},
};

/// Columns of sizes that stand beside each other.
const BESIDE: usize = 10;

/// The table, ten sizes beside each other, and what there is to know of it.
pub fn chart_text(table: &YardageTable) -> String {
    let mut text = format!("{}\n", table.title());
    for block in table.blocks() {
        for first in (0..block.sizes.len().max(1)).step_by(BESIDE) {
            let beside = first..(first + BESIDE).min(block.sizes.len());
            let words = [block.heading.as_str(), "wide", ""].map(Column::words).into_iter();
            let columns = words.chain(block.sizes[beside.clone()].iter().map(Column::figures)).collect();
            let rows = block.rows.iter().map(|(named, figures)| {
                let named = [&named.cloth, &named.width, &named.kind].map(String::clone);
                [named.to_vec(), figures[beside.clone()].to_vec()].concat()
            });
            let table = Table { caption: String::new(), columns, rows: rows.collect() };
            let _ = writeln!(text, "\n{}", ruled_under_its_header(&table).trim_fmt());
        }
    }
    text.push('\n');
    for remark in table.remarks() {
        let _ = writeln!(text, "{}.", capital(&remark));
    }
    text
}
