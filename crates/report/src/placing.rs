//! Where each piece lies, in tape-measure fractions: the placing table, its words, and how to read it.

use ellwand_garment::{Folding, Layout, PlacingRow, Told, Units, format_length, format_length_up, placing_table};

use crate::{Column, Table};

/// One row a cut.
pub(crate) fn table(layout: &Layout, units: Units) -> Table {
    let remnant = layout.cloth.remnant.as_ref().map(|remnant| format!(", remnant \"{}\"", remnant.name));
    let caption = format!(
        "{}, {}{}: where each piece lies on {} of cloth {} wide",
        layout.job,
        layout.role,
        remnant.unwrap_or_default(),
        format_length_up(layout.length, units),
        format_length(layout.cloth.width, units)
    );
    let rows = placing_table(layout);
    of_rows(caption, &rows, layout.layers_in_words(), units)
}

fn of_rows(caption: String, rows: &[PlacingRow], layers: Option<Vec<String>>, units: Units) -> Table {
    let words = ["no.", "piece", "copy", "lies", "measure from"].map(Column::words).into_iter();
    let figures = ["low end", "high end", "cut end"].map(Column::figures);
    let columns = words.chain(figures).chain(layers.is_some().then(|| Column::words("layer"))).collect();
    let cells = |(i, row): (usize, &PlacingRow)| -> Vec<String> {
        let cells = [
            row.number.to_string(),
            row.piece.clone(),
            row.copy_name.to_string(),
            row.lies_in_words(),
            row.from.name().to_owned(),
            format_length(row.low_end, units),
            format_length(row.high_end, units),
            format_length(row.ends_from_cut_end[0], units),
        ];
        cells.into_iter().chain(layers.iter().map(|layers| layers[i].clone())).collect()
    };
    Table { caption, columns, rows: rows.iter().enumerate().map(cells).collect() }
}

/// How to read it.
pub(crate) fn how_to_read(layout: &Layout) -> String {
    let ends = "\"low end\" and \"high end\" are the ends of the grainline, towards the hem and towards the top of the piece: their distances from";
    let cut_end = "\"cut end\" is the distance of the low end from the cut end.";
    let sides = "\"left\" and \"right\" are the wearer's own.";
    let names = if rows_have_sides(layout) { format!(" {sides}") } else { String::new() };
    let face = layout.face_up().words();
    let Some((cloth, _)) = layout.folded_cloth().into_iter().next() else {
        return format!("Cloth {face}, the cut end near you. {ends} that edge, selvage included. {cut_end}{names}");
    };
    let from = match cloth.folding {
        Folding::Middle { .. } | Folding::LeftEdge { .. } | Folding::RightEdge { .. } => "the fold, or from that edge",
        Folding::BothEdges { .. } => "that fold, or from that edge",
        Folding::Across { .. } | Folding::CutAcross { .. } => "that edge",
    };
    let lies = match cloth.folding {
        Folding::Middle { .. } | Folding::RightEdge { .. } => "folded, the fold at your right",
        Folding::LeftEdge { .. } => "folded, the fold at your left",
        Folding::BothEdges { .. } => "folded, a fold at either side",
        Folding::Across { .. } => "folded, the fold at the far end",
        Folding::CutAcross { .. } => "cut across and laid double",
    };
    let opened = if cloth.is_cut_across() { "both parts are laid open" } else { "it is opened" };
    let side = if cloth.is_cut_across() { "in which part of it" } else { "on which side of the fold" };
    let rest = layout.chalked_first(&cloth, Told::AtOnce);
    let rest = rest.map_or(".".to_owned(), |chalk| format!(", the rest from one layer once {opened}. {chalk}"));
    format!(
        "Distances, face and top are those on the cloth opened out, {face}, the cut end near you. {ends} {from}, selvage \
         included. {cut_end} \"layer\" is where a piece lies while the cloth is {lies}, and {side}: an upper and a lower copy \
         are cut as one{rest}{names}"
    )
}

/// What to do with what is cut of each piece that is joined from several or gives bias strips, a sentence each.
pub(crate) fn strips(layout: &Layout, units: Units) -> Vec<String> {
    let said = |piece: &str| Some(format!("{piece}: {}.", layout.strips_words(piece, units)?));
    layout.asked.iter().filter_map(|asked| said(&asked.piece)).collect()
}

/// Whether any copy is called left or right.
pub(crate) fn rows_have_sides(layout: &Layout) -> bool {
    layout.copy_names().iter().any(|name| name.side.is_some())
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::{CopyName, MeasuredFrom, WornSide};

    fn row() -> PlacingRow {
        PlacingRow {
            piece: "Front".into(),
            number: 3,
            copy: 2,
            copy_name: CopyName { side: Some(WornSide::Right), letter: None },
            face_down: false,
            on_fold: false,
            turned_deg: 0.0,
            from: MeasuredFrom::RightEdge,
            from_at: 1000.0,
            low_end: 110.0,
            high_end: 120.0,
            ends_from_cut_end: [40.0, 240.0],
            from_cut_end: 30.0,
        }
    }

    #[test]
    fn each_distance_stands_in_its_own_column() {
        let table = of_rows(String::new(), &[row()], None, Units::Centimetres);
        let headings: Vec<&str> = table.columns.iter().map(|column| column.heading.as_str()).collect();
        assert_eq!(headings[4..], ["measure from", "low end", "high end", "cut end"]);
        assert_eq!(table.rows[0], ["3", "Front", "right", "face up", "right edge", "11 cm", "12 cm", "4 cm"]);
    }
}
