//! A yardage table as JSON, lengths in mm.

use ellwand_garment::{Job, SearchNote};
use ellwand_planner::{ChartCell, Found};
use ellwand_report::YardageTable;
use serde_json::{Value, json};

/// The table as JSON text that ends with a line break.
pub(super) fn record(job: &Job, note: &SearchNote, table: &YardageTable) -> String {
    let cell = |cell: &ChartCell, size: &str, printed: Option<&ellwand_garment::Purchase>| -> Value {
        match (&cell.found, printed) {
            (Found::Layout(layout), Some(printed)) => json!({
                "size": size, "buy": printed.buy, "buy_text": printed.buy_text,
                "length": layout.length, "lower_bound": layout.lower_bound.length, "buy_of_its_own": layout.purchase.buy,
            }),
            (Found::Impossible(reason), _) => json!({ "size": size, "buy": null, "reason": reason }),
            _ => json!({ "size": size, "buy": null, "reason": "not made yet" }),
        }
    };
    let mut rows = Vec::new();
    for of in &table.groups {
        for ((row, kind), printed) in of.group.rows.iter().zip(&of.kinds).zip(&of.printed) {
            let cells = row.cells.iter().zip(&of.sizes).zip(printed);
            let cells: Vec<Value> = cells.map(|((of, size), printed)| cell(of, size, printed.as_ref())).collect();
            rows.push(json!({
                "view": of.view, "figure": of.figure, "fabric": of.group.role, "width": row.width, "kind": kind, "cells": cells,
            }));
        }
    }
    let record = json!({
        "format": "ellwand-chart-1", "job": job.name, "pattern": job.pattern, "effort": note.effort, "seed": note.seed,
        "length_unit": "mm", "rows": rows,
    });
    format!("{record:#}\n")
}
