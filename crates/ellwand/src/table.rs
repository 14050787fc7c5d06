//! Tables on a terminal: columns apart, one rule under the header and none between the rows.

use comfy_table::{ContentArrangement, LineStyle, Table, TableStyle};

const STYLE: TableStyle = TableStyle::new().header_separator(LineStyle::none().fill('─').junction('─'));

/// A table without rows, as wide as what it holds.
pub(crate) fn ruled_under_its_header() -> Table {
    let mut table = Table::new();
    table.load_style(STYLE).set_content_arrangement(ContentArrangement::Disabled);
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_only_rule_is_under_the_header() {
        let mut table = ruled_under_its_header();
        table.set_header(["seam", "fits"]).add_row(["side", "yes"]).add_row(["hem", "no"]);
        let text = table.to_string();
        let rules: Vec<usize> =
            (0..).zip(text.lines()).filter(|(_, line)| line.contains('─')).map(|(k, _)| k).collect();
        assert_eq!((text.lines().count(), rules), (4, vec![1]), "{text}");
    }
}
