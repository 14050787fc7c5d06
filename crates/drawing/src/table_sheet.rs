//! A table as a sheet to print: headings in bold over a line, words on the left, figures flush on the right.

use ellwand_geometry::point;

use crate::lettering::{Line, Weight, wrap};
use crate::marks::{Anchor, Closure, Ink, Mark, Sheet};
use crate::paper::{LONG_SIDE, POINT};

/// A row of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableRow {
    /// Whether it stands over the rows after it.
    pub heading: bool,
    /// Its cells: words first, then figures.
    pub cells: Vec<String>,
}

/// Size of words, points.
const SIZE: f64 = 9.0;
/// From a column to the next, and around the table, mm.
const APART: f64 = 3.5;
const MARGIN: f64 = 10.0;

/// A table under its title, with remarks below, each without its full stop: as wide as what it holds, at least as the long side of a leaf of paper.
pub fn table_sheet(title: &str, remarks: &[String], rows: &[TableRow]) -> Sheet {
    let line = |row: &TableRow, text: &str| {
        if row.heading { Line::bold(text, SIZE) } else { Line::regular(text, SIZE) }
    };
    let columns = rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
    let widths: Vec<f64> = (0..columns)
        .map(|k| {
            let cells = rows.iter().filter_map(|row| Some(line(row, row.cells.get(k)?).width()));
            cells.fold(0.0, f64::max)
        })
        .collect();
    let inner = (widths.iter().sum::<f64>() + APART * widths.len().saturating_sub(1) as f64).max(LONG_SIDE);
    let (mut marks, mut y) = (Vec::new(), MARGIN);
    let step = 1.5 * SIZE * POINT;
    let mut write = |line: Line, x: f64, y: f64, anchor: Anchor| {
        marks.push(Mark::Text { line, at: point(x, y), anchor, turn_deg: 0.0 });
    };
    for line in wrap(title, 1.5 * SIZE, Weight::Bold, inner) {
        y += 1.5 * step;
        write(line, MARGIN, y, Anchor::Start);
    }
    let mut rules = Vec::new();
    for row in rows {
        y += if row.heading { 2.0 * step } else { step };
        let mut right = MARGIN;
        for (k, cell) in row.cells.iter().enumerate() {
            let (left, anchor) = if k == 0 { (right, Anchor::Start) } else { (right + widths[k], Anchor::End) };
            write(line(row, cell), left, y, anchor);
            right += widths[k] + APART;
        }
        if row.heading {
            let below = y + 0.35 * step;
            rules.push([point(MARGIN, below), point(right - APART, below)]);
            y += 0.2 * step;
        }
    }
    y += step;
    for remark in remarks {
        let mut letters = remark.chars();
        let said: String = letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect();
        for line in wrap(&format!("{said}."), 8.0, Weight::Regular, inner) {
            y += step;
            write(line, MARGIN, y, Anchor::Start);
        }
    }
    let ruled =
        rules.into_iter().map(|ends| Mark::Shape { points: ends.to_vec(), closure: Closure::Open, ink: Ink::AFTER });
    let marks = marks.into_iter().chain(ruled).collect();
    Sheet {
        width: inner + 2.0 * MARGIN,
        height: y + MARGIN,
        scale: 1.0,
        title: title.to_owned(),
        marks,
        labels: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_flush_on_the_right_and_nothing_leaves_the_sheet() {
        let row =
            |heading, cells: &[&str]| TableRow { heading, cells: cells.iter().map(|c| (*c).to_owned()).collect() };
        let rows = [row(true, &["view A", "34", "36"]), row(false, &["main, 45 in, with nap", "2 3/4", "12 7/8"])];
        let sheet = table_sheet("Dress: yards to buy", &["each is checked".to_owned()], &rows);
        let ends: Vec<f64> = (sheet.marks.iter())
            .filter_map(|mark| match mark {
                Mark::Text { line, at, anchor: Anchor::End, .. } if line.text.contains("3/4") || line.text == "34" => {
                    Some(at.x)
                }
                _ => None,
            })
            .collect();
        assert!(ends.len() == 2 && ends[0] == ends[1], "{ends:?}");
        for mark in &sheet.marks {
            if let Mark::Text { line, at, anchor, .. } = mark {
                let left = if *anchor == Anchor::End { at.x - line.width() } else { at.x };
                assert!(left >= 0.0 && left + line.width() <= sheet.width && at.y < sheet.height, "{line:?}");
            }
        }
        assert!(sheet.svg().contains("Each is checked."));
    }
}
