//! The placing table as text: where each piece lies, in tape-measure fractions.

use comfy_table::{CellAlignment, ContentArrangement, Table, presets};
use ellwand_garment::{Layout, MeasuredFrom, PlacingRow, Units, format_length, format_length_up, placing_table};

/// Where to pin every piece of `layout`: a heading, one row a cut, and how to read them.
pub(crate) fn placing_text(layout: &Layout, units: Units) -> String {
    let rows = placing_table(layout);
    format!(
        "{}, {}: where each piece lies on {} of cloth {} wide\n\n{}\n\n{}\n",
        layout.job,
        layout.role,
        format_length_up(layout.length, units),
        format_length(layout.cloth.width, units),
        table(&rows, units),
        how_to_read(layout),
    )
}

fn table(rows: &[PlacingRow], units: Units) -> Table {
    let mut table = Table::new();
    table.load_style(presets::NOTHING).set_content_arrangement(ContentArrangement::Disabled);
    table.set_header(["no.", "piece", "copy", "lies", "measure from", "grain low", "grain high", "cut end"]);
    for row in rows {
        table.add_row([
            row.number.to_string(),
            row.piece.clone(),
            row.copy.to_string(),
            lies(row),
            from(row.from).to_owned(),
            format_length(row.low_end, units),
            format_length(row.high_end, units),
            format_length(row.from_cut_end, units),
        ]);
    }
    for column in table.column_iter_mut().skip(5) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    for column in table.column_iter_mut() {
        column.set_padding((0, 2));
    }
    table
}

/// Face and turn in words.
fn lies(row: &PlacingRow) -> String {
    let face = if row.face_down { "face down" } else { "face up" };
    if row.on_fold {
        return "on the fold".into();
    }
    // A tilt within the off-grain tolerance is read from the two grain distances.
    match row.turned_deg.round() as i64 {
        0 | 360 => face.into(),
        180 => format!("{face}, top down"),
        turn => format!("{face}, turned {turn}°"),
    }
}

fn from(from: MeasuredFrom) -> &'static str {
    match from {
        MeasuredFrom::LeftEdge => "left edge",
        MeasuredFrom::RightEdge => "right edge",
        MeasuredFrom::Fold => "fold",
    }
}

fn how_to_read(layout: &Layout) -> &'static str {
    if layout.uses_fold() {
        "Distances on the cloth opened out, right side up. \"grain low\" and \"grain high\" are the distances of the two ends of \
         the grainline from the fold or that edge, selvage included; \"cut end\" is the distance of the piece's lowest point \
         from the cut end. Two copies that read alike left and right of the fold are cut as one through both layers."
    } else {
        "Cloth right side up. \"grain low\" and \"grain high\" are the distances of the two ends of the grainline from that edge, \
         selvage included; \"cut end\" is the distance of the piece's lowest point from the cut end."
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row() -> PlacingRow {
        PlacingRow {
            piece: "Front".into(),
            number: 3,
            copy: 2,
            face_down: false,
            on_fold: false,
            turned_deg: 0.0,
            from: MeasuredFrom::RightEdge,
            low_end: 110.0,
            high_end: 120.0,
            ends_from_cut_end: [40.0, 240.0],
            from_cut_end: 30.0,
        }
    }

    #[test]
    fn each_distance_stands_in_its_own_column() {
        let text = table(&[row()], Units::Centimetres).to_string();
        let columns = |line: &str| -> Vec<String> {
            line.split("  ").map(str::trim).filter(|word| !word.is_empty()).map(str::to_owned).collect()
        };
        let lines: Vec<Vec<String>> = text.lines().map(columns).collect();
        assert_eq!(lines[0][4..], ["measure from", "grain low", "grain high", "cut end"]);
        assert_eq!(lines[1], ["3", "Front", "2", "face up", "right edge", "11 cm", "12 cm", "3 cm"]);
    }

    #[test]
    fn how_a_piece_lies_is_told_in_words() {
        let said = |face_down, turned_deg| lies(&PlacingRow { face_down, turned_deg, ..row() });
        assert_eq!(said(false, 0.0), "face up");
        assert_eq!(said(true, 360.0), "face down");
        assert_eq!(said(true, 180.0), "face down, top down");
        assert_eq!(said(false, 90.0), "face up, turned 90°");
        assert_eq!(lies(&PlacingRow { on_fold: true, ..row() }), "on the fold");
        assert_eq!((from(MeasuredFrom::LeftEdge), from(MeasuredFrom::Fold)), ("left edge", "fold"));
    }
}
