//! Prints how much paper the pieces of every demo pattern take, packed by the search and as boxes in rows.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Instant;

use clap::Parser;
use comfy_table::Table;
use ellwand_benches::efforts::jobs;
use ellwand_benches::paper::{A0, A4_STEP, GAP, MOST_COLUMNS, ROLL, pages_of_rows, rows, shapes};
use ellwand_benches::tables::table;
use ellwand_planner::{PaperFault, PaperPlan, on_roll, on_sheets, on_tiles};

/// Prints how much paper the pieces of every demo pattern take.
#[derive(Parser)]
struct Arguments {
    /// Folder of demo jobs, searched one folder deep; the first job of each pattern tells view and size.
    #[arg(long)]
    data: PathBuf,
    /// Only jobs whose path holds one of these words.
    words: Vec<String>,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(table) => {
            println!("{table}");
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("paper: {error}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<Table, Box<dyn std::error::Error>> {
    let mut table =
        table(&["pattern", "pieces", "filled", "A4", "rows", "s", "A0", "rows", "s", "36 in, mm", "rows, mm", "s"]);
    let mut seen = BTreeSet::new();
    for path in jobs(&arguments.data, &arguments.words)? {
        let (name, shapes) = shapes(&path)?;
        if !seen.insert(name.clone()) {
            continue;
        }
        let area: f64 = shapes.iter().map(|shape| shape.outline.area()).sum();
        let mut row = vec![name, shapes.len().to_string(), format!("{:.1}", area / (A4_STEP[0] * A4_STEP[1]))];
        let sheets = |plan: &PaperPlan| plan.sheets.to_string();
        let length = |plan: &PaperPlan| format!("{:.0}", plan.length);
        row.extend(cells(|| on_tiles(&shapes, A4_STEP, GAP, MOST_COLUMNS), sheets, {
            pages_of_rows(&shapes, A4_STEP, GAP, MOST_COLUMNS).map(|pages| pages.to_string())
        }));
        row.extend(cells(|| on_sheets(&shapes, A0, GAP), sheets, rows(&shapes, A0, GAP).as_ref().map(sheets)));
        let in_rows = rows(&shapes, [ROLL, f64::INFINITY], GAP);
        row.extend(cells(|| on_roll(&shapes, ROLL, GAP), length, in_rows.as_ref().map(length)));
        table.add_row(row);
    }
    Ok(table)
}

/// What the search takes, what rows take, and the seconds of the search.
fn cells(
    search: impl FnOnce() -> Result<PaperPlan, PaperFault>,
    told: impl Fn(&PaperPlan) -> String,
    of_rows: Option<String>,
) -> [String; 3] {
    let began = Instant::now();
    let found = search();
    let seconds = format!("{:.2}", began.elapsed().as_secs_f64());
    let too_large = || "too large".to_owned();
    [found.map_or_else(|_| too_large(), |plan| told(&plan)), of_rows.unwrap_or_else(too_large), seconds]
}
