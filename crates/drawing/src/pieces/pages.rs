//! Cells in rows, rows on sheets of paper: how large a set of pieces is drawn, and how many sheets it takes.

use std::ops::Range;

use crate::paper::{LONG_SIDE, SHORT_SIDE};

/// Space between cells of a row, paper mm.
pub(crate) const GAP: f64 = 6.0;
/// Scales tried, the largest drawing first.
const SCALES: std::ops::RangeInclusive<u32> = 3..=60;
/// The smallest drawing for whose sake a set does not take another sheet: at 1 : 12 a pocket flap still has room for its number.
const COARSEST: u32 = 12;

/// The room one piece takes with its words, paper mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Extent {
    /// From side to side.
    pub(crate) width: f64,
    /// From its top down to the line on which the pieces of a row stand.
    pub(crate) above: f64,
    /// From that line down.
    pub(crate) below: f64,
}

/// Cells side by side, standing on one line.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Row {
    /// Which cells.
    pub(crate) cells: Range<usize>,
    /// From the top of the row down to the line.
    pub(crate) above: f64,
    /// From the line down to the end of the row.
    pub(crate) below: f64,
}

/// A set laid out.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Pages {
    /// Millimetres of cloth to one of paper.
    pub(crate) scale: f64,
    /// Width of the sheets.
    pub(crate) width: f64,
    /// The rows of each sheet.
    pub(crate) sheets: Vec<Vec<Row>>,
}

/// Lays cells out on as few sheets as show them at 1 : 12 or larger, and on those as large as they go. Where one cell needs a smaller scale
/// than that, all have it.
///
/// `measure` gives the extents of the cells at a scale, `around` the height that head and foot take on a sheet of a width.
pub(crate) fn paginate(measure: impl Fn(f64) -> Vec<Extent>, around: impl Fn(f64) -> f64) -> Pages {
    let papers = [(SHORT_SIDE, LONG_SIDE), (LONG_SIDE, SHORT_SIDE)];
    let mut best: Option<Pages> = None;
    for scale in SCALES {
        if best.is_some() && scale > COARSEST {
            break;
        }
        let extents = measure(f64::from(scale));
        for (width, height) in papers {
            let Some(sheets) = sheets(&extents, width, height - around(width)) else { continue };
            if best.as_ref().is_none_or(|best| sheets.len() < best.sheets.len()) {
                best = Some(Pages { scale: f64::from(scale), width, sheets });
            }
        }
    }
    best.unwrap_or_else(|| {
        // Words alone can be too much for a sheet; then it is longer than the paper.
        let scale = f64::from(*SCALES.end());
        Pages { scale, width: SHORT_SIDE, sheets: vec![rows(&measure(scale), SHORT_SIDE)] }
    })
}

/// The rows of each sheet with so much room; none when a cell is too wide or a row too high for it.
fn sheets(extents: &[Extent], width: f64, height: f64) -> Option<Vec<Vec<Row>>> {
    if extents.iter().any(|cell| cell.width > width) {
        return None;
    }
    let mut sheets: Vec<Vec<Row>> = Vec::new();
    let mut used = 0.0;
    for row in rows(extents, width) {
        let high = row.above + row.below;
        match sheets.last_mut() {
            Some(sheet) if used + high <= height => {
                used += high;
                sheet.push(row);
            }
            _ if high <= height => {
                used = high;
                sheets.push(vec![row]);
            }
            _ => return None,
        }
    }
    Some(sheets)
}

fn rows(extents: &[Extent], width: f64) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    let mut x = 0.0;
    for (i, cell) in extents.iter().enumerate() {
        match rows.last_mut() {
            Some(row) if x + cell.width <= width => {
                row.above = row.above.max(cell.above);
                row.below = row.below.max(cell.below);
                row.cells.end = i + 1;
                x += cell.width + GAP;
            }
            _ => {
                x = cell.width + GAP;
                rows.push(Row { cells: i..i + 1, above: cell.above, below: cell.below });
            }
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pieces of `width` by `height` mm on the cloth, with 10 mm of words under each.
    fn pages(count: usize, width: f64, height: f64) -> Pages {
        let cell = move |scale: f64| Extent { width: width / scale, above: height / scale, below: 10.0 };
        paginate(|scale| vec![cell(scale); count], |_| 20.0)
    }

    #[test]
    fn a_few_pieces_take_one_sheet_and_are_drawn_as_large_as_it_allows() {
        let two = pages(2, 240.0, 500.0);
        assert_eq!((two.scale, two.sheets.len()), (3.0, 1));
        let six = pages(6, 400.0, 600.0);
        assert_eq!(six.sheets.len(), 1);
        assert!(six.scale > 3.0 && six.scale <= 12.0);
    }

    #[test]
    fn many_pieces_take_more_sheets_rather_than_a_smaller_scale() {
        let many = pages(30, 400.0, 800.0);
        assert!(many.sheets.len() > 1 && many.scale <= 12.0, "{} at {}", many.sheets.len(), many.scale);
        let cells: Vec<usize> = many.sheets.iter().flatten().flat_map(|row| row.cells.clone()).collect();
        assert_eq!(cells, (0..30).collect::<Vec<_>>(), "each once, in order");
        for sheet in &many.sheets {
            assert!(sheet.iter().map(|row| row.above + row.below).sum::<f64>() <= LONG_SIDE - 20.0);
        }
    }

    #[test]
    fn a_piece_too_long_for_that_scale_sets_it() {
        let long = pages(1, 300.0, 6000.0);
        assert_eq!(long.sheets.len(), 1);
        assert!(6000.0 / long.scale + 30.0 <= LONG_SIDE && 6000.0 / (long.scale - 1.0) + 30.0 > LONG_SIDE);
    }
}
