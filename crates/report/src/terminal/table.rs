//! Tables on a terminal: columns apart, each flush on its side.

use comfy_table::{CellAlignment, ContentArrangement, LineStyle, TableStyle, presets};

use crate::{Align, Table};

const RULED: TableStyle = TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─'));

/// As wide as what it holds, with one rule under the header and none between the rows.
pub(crate) fn ruled_under_its_header(table: &Table) -> comfy_table::Table {
    set(table, RULED)
}

/// As wide as what it holds, without any rule and flush on the left.
pub(crate) fn bare(table: &Table) -> comfy_table::Table {
    let mut set = set(table, presets::NOTHING);
    for column in set.column_iter_mut() {
        column.set_padding((0, 2));
    }
    set
}

fn set(table: &Table, style: TableStyle) -> comfy_table::Table {
    let mut set = comfy_table::Table::new();
    set.load_style(style).set_content_arrangement(ContentArrangement::Disabled);
    set.set_header(table.columns.iter().map(|column| column.heading.as_str()));
    set.add_rows(&table.rows);
    for (column, of) in set.column_iter_mut().zip(&table.columns) {
        if of.align == Align::Right {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    set
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Column;

    #[test]
    fn the_only_rule_is_under_the_header_and_figures_are_flush_on_the_right() {
        let rows = [["side", "7 cm"], ["hem", "12 cm"]].map(|row| row.map(str::to_owned).to_vec()).to_vec();
        let columns = vec![Column::words("seam"), Column::figures("long")];
        let table = Table { caption: "Seams".into(), columns, rows };
        let text = ruled_under_its_header(&table).to_string();
        let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
        assert_eq!((lines[0], lines[2], lines[3]), (" seam    long", " side    7 cm", " hem    12 cm"), "{text}");
        assert!(lines.len() == 4 && lines[1].chars().all(|c| c == '─'), "{text}");
        assert_eq!(bare(&table).to_string().lines().map(str::trim_end).next(), Some("seam   long"));
    }
}
