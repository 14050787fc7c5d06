//! Tables as passages, a row each, under a head that stands again on every leaf.

use std::rc::Rc;

use ellwand_drawing::leaves::{Flush, Keep, Passage, Role, Strip, Type};

use super::{
    LABEL, Setting,
    columns::{Wish, widths},
};
use crate::{Align, Column, Table, Totals};

const CELL: Type = Type::plain(8.5);
const HEAD: Type = Type::bold(8.5);
/// Between columns, mm.
const GUTTER: f64 = 3.0;
/// Up to so many lines of a row stay on one leaf.
const WHOLE: usize = 12;

impl Setting {
    pub(super) fn table(&self, table: &Table) -> Vec<Passage> {
        self.rows_under(&table.caption, &table.columns, &table.rows, &[])
    }

    pub(super) fn totals(&self, totals: &Totals) -> Vec<Passage> {
        let columns = [Column::words("for"), Column::figures("cost")];
        let priced = |cost: &Option<String>| cost.clone().unwrap_or_else(|| "no price given".into());
        let lines: Vec<Vec<String>> =
            totals.lines.iter().map(|(what, cost)| vec![what.clone(), priced(cost)]).collect();
        let sums: Vec<Vec<String>> = totals.sums.iter().map(|sum| vec!["Total".into(), sum.clone()]).collect();
        let mut passages = self.rows_under(&totals.caption, &columns, &lines, &sums);
        if !totals.unpriced().is_empty() {
            passages.push(self.paragraph(&format!("{}.", totals.sentence())));
        }
        passages
    }

    fn rows_under(
        &self,
        caption: &str,
        columns: &[Column],
        rows: &[Vec<String>],
        bold_rows: &[Vec<String>],
    ) -> Vec<Passage> {
        let room = self.leaf.measure();
        let wishes: Vec<Wish> = (columns.iter().enumerate())
            .map(|(k, column)| {
                let cells = rows.iter().map(|row| (&row[k], CELL)).chain(bold_rows.iter().map(|row| (&row[k], HEAD)));
                cells.chain([(&column.heading, HEAD)]).map(|(text, set)| wish(text, set)).fold(
                    Wish { least: 0.0, best: 0.0 },
                    |a, b| Wish { least: a.least.max(b.least), best: a.best.max(b.best) },
                )
            })
            .collect();
        let widths = widths(&wishes, room - GUTTER * (columns.len() - 1) as f64);
        let wide = widths.iter().sum::<f64>() + GUTTER * (columns.len() - 1) as f64;
        let headings: Vec<String> = columns.iter().map(|column| column.heading.clone()).collect();
        let mut head = self.cells(&headings, columns, &widths, HEAD);
        if let Some(last) = head.pop() {
            head.push(last.ruled(wide));
        }
        let caption = Passage::new(Role::Words, self.strips(caption, LABEL, room)).keep(Keep::WithNext).after(3.0);
        let top = Passage::new(Role::Words, head.clone()).keep(Keep::WithNext).after(1.0);
        let head = Rc::new(head);
        let row = |(cells, set): (&Vec<String>, Type)| {
            let passage = Passage::new(Role::Words, self.cells(cells, columns, &widths, set)).under(&head).after(0.5);
            if passage.is_longer_than(WHOLE) { passage } else { passage.keep(Keep::Whole) }
        };
        let rows = rows.iter().map(|row| (row, CELL)).chain(bold_rows.iter().map(|row| (row, HEAD)));
        [caption, top].into_iter().chain(rows.map(row)).collect()
    }

    /// A row, a strip for each of its lines.
    fn cells(&self, cells: &[String], columns: &[Column], widths: &[f64], set: Type) -> Vec<Strip> {
        let lines: Vec<Vec<String>> =
            cells.iter().zip(widths).map(|(cell, width)| self.lines(cell, set, *width + 0.01)).collect();
        let deepest = lines.iter().map(Vec::len).max().unwrap_or(0).max(1);
        let strip = |k: usize| {
            let mut strip = Strip::default();
            let mut x = 0.0;
            for ((lines, column), width) in lines.iter().zip(columns).zip(widths) {
                let at = match column.align {
                    Align::Left => Flush::Left(x),
                    Align::Right => Flush::Right(x + width),
                };
                if let Some(line) = lines.get(k) {
                    strip = strip.with(line, set, at);
                }
                x += width + GUTTER;
            }
            strip
        };
        (0..deepest).map(strip).collect()
    }
}

/// What a cell wishes for: measures and other short texts stay on one line.
fn wish(text: &str, set: Type) -> Wish {
    /// Letters of a cell that stays on one line.
    const ONE_LINE: usize = 14;
    let best = set.width(text);
    let least = if text.chars().count() <= ONE_LINE {
        best
    } else {
        text.split_whitespace().map(|word| set.width(word)).fold(0.0, f64::max)
    };
    Wish { least, best }
}
