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
