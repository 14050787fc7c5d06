//! Plans every demo cloth in each way of laying and prints what each takes: which ways pay, and which one is taken.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Instant;

use clap::Parser;
use comfy_table::Table;
use ellwand_benches::efforts::{Given, jobs, name_of};
use ellwand_benches::tables::table;
use ellwand_files::{Limits, ReadJob, read_job};
use ellwand_garment::{Job, Layout, Pattern, Way, WayChoice};
use ellwand_planner::{Options, PlanError, Unheard, plan_cloth, roles};

/// Plans every demo cloth in each way of laying and prints what each takes.
#[derive(Parser)]
struct Arguments {
    /// Folder of demo jobs, searched one folder deep.
    data: PathBuf,
    /// How much to search: quick, normal, thorough, or a number of seconds.
    #[arg(long, default_value_t = Given::Normal)]
    effort: Given,
    /// Seed of the search.
    #[arg(long, default_value_t = 1)]
    seed: u64,
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
            eprintln!("ways: {error}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<Table, Box<dyn std::error::Error>> {
    let options = Options { seed: arguments.seed, budget: arguments.effort.budget(), ..Options::default() };
    let mut table = table(&["job", "cloth", "way", "length mm", "buy", "things", "folded", "folds", "seconds"]);
    for path in jobs(&arguments.data, &arguments.words)? {
        let ReadJob { job, pattern, .. } = read_job(&path, &Limits::default()).map_err(|faults| faults.to_string())?;
        for role in roles(&job, &pattern, &[]).map_err(|faults| format!("{faults:?}"))? {
            for ways in Way::ALL.map(WayChoice::Only).into_iter().chain([WayChoice::Any]) {
                let began = Instant::now();
                let answer = laid(&job, &pattern, &role, ways, &options)?;
                let seconds = began.elapsed().as_secs_f64();
                let asked = match (&answer, ways) {
                    (_, WayChoice::Only(way)) => way.name().to_owned(),
                    (Ok(layout), _) => format!("any: {}", layout.way.name()),
                    (Err(_), _) => "any".to_owned(),
                };
                let found = found(&answer);
                table.add_row(
                    [vec![name_of(&path), role.clone(), asked], found, vec![format!("{seconds:.1}")]].concat(),
                );
            }
        }
    }
    Ok(table)
}

/// The layout of a cloth in some way, or why there is none.
///
/// # Errors
///
/// Faults of the program.
fn laid(
    job: &Job,
    pattern: &Pattern,
    role: &str,
    ways: WayChoice,
    options: &Options,
) -> Result<Result<Layout, PlanError>, PlanError> {
    let mut job = job.clone();
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == role) {
        fabric.ways = ways;
    }
    match plan_cloth(&job, pattern, role, &[], options, &Unheard) {
        Err(fault @ PlanError::Bug { .. }) => Err(fault),
        answer => Ok(answer.map(|plan| plan.plan.layout)),
    }
}

/// What a layout takes: its length, what is bought, and the work.
fn found(answer: &Result<Layout, PlanError>) -> Vec<String> {
    match answer {
        Ok(layout) => {
            let ease = layout.ease();
            vec![
                format!("{:.0}", layout.length),
                layout.purchase.buy_text.clone(),
                ease.things.to_string(),
                ease.folded.to_string(),
                ease.folds.to_string(),
            ]
        }
        Err(fault) => {
            let why = match fault {
                PlanError::WayRefused { why, .. } => why.to_string(),
                PlanError::TooNarrow(_) => "too narrow".to_owned(),
                other => other.to_string(),
            };
            vec!["none".to_owned(), why, String::new(), String::new(), String::new()]
        }
    }
}
