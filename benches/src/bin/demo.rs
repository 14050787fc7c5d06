//! Plans every demo job and prints how short, how sure and how fast: the figures of the README.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use clap::Parser;
use comfy_table::Table;
use ellwand_benches::efforts::{Given, jobs, name_of};
use ellwand_benches::memory;
use ellwand_benches::runs::median;
use ellwand_benches::tables::table;
use ellwand_files::{Limits, ReadJob, read_job};
use ellwand_garment::{Layout, Question, Units, Way, format_length};
use ellwand_planner::{Budget, Options, Unheard, compare_widths, plan_cloth, plan_question, roles};

/// Plans every demo job and prints how short, how sure and how fast.
#[derive(Parser)]
struct Arguments {
    /// Folder of demo jobs, searched one folder deep.
    #[arg(long)]
    data: PathBuf,
    /// How much to search: quick, normal, thorough, or a number of seconds.
    #[arg(long, default_value_t = Given::Normal)]
    effort: Given,
    /// Seed of the search.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Also plan each job's main cloth at 45 in and 60 in.
    #[arg(long)]
    widths: bool,
    /// Only jobs whose path holds one of these words.
    words: Vec<String>,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("demo: {error}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), Box<dyn std::error::Error>> {
    let jobs = jobs(&arguments.data, &arguments.words)?;
    let options = Options { seed: arguments.seed, budget: arguments.effort.budget(), ..Options::default() };
    println!("{}", lengths(&jobs, &options)?);
    if arguments.widths {
        println!("{}", widths(&jobs, &options)?);
    }
    Ok(())
}

/// Start, end, bound and time of every cloth of every job, and the median gain.
fn lengths(jobs: &[PathBuf], options: &Options) -> Result<Table, Box<dyn std::error::Error>> {
    let mut table = table(&[
        "job",
        "cloth",
        "cuts",
        "lay",
        "start mm",
        "found mm",
        "shorter %",
        "bound mm",
        "gap %",
        "first s",
        "seconds",
        "peak MB",
    ]);
    let mut gains = Vec::new();
    for path in jobs {
        let ReadJob { job, pattern, .. } = read_job(path, &Limits::default()).map_err(|faults| faults.to_string())?;
        for role in roles(&job, &pattern, &[]).map_err(|faults| format!("{faults:?}"))? {
            // No time to search: the starting layout of the open cloth, checked like any other.
            let first_options = Options { budget: Budget::Time(Duration::from_millis(1)), ..options.clone() };
            let open = Question::of(&job, &pattern, &role, Way::Open)?;
            let began = Instant::now();
            plan_question(&open, &[], &first_options, &Unheard)?;
            let first = began.elapsed().as_secs_f64();
            let began = Instant::now();
            let plan = plan_cloth(&job, &pattern, &role, &[], options, &Unheard)?;
            let seconds = began.elapsed().as_secs_f64();
            let layout: &Layout = plan.layout();
            let gain = 100.0 * (1.0 - layout.length / layout.search.start_length);
            // Where the start already is as short as the bound there was nothing to gain.
            if layout.search.start_length > layout.lower_bound.length * (1.0 + 1e-6) {
                gains.push(gain);
            }
            table.add_row([
                name_of(path),
                role.clone(),
                layout.cuts.len().to_string(),
                format!("{:?}", layout.way),
                format!("{:.0}", layout.search.start_length),
                format!("{:.0}", layout.length),
                format!("{gain:.1}"),
                format!("{:.0}", layout.lower_bound.length),
                format!("{:.1}", 100.0 * (1.0 - layout.lower_bound.length / layout.length)),
                format!("{first:.2}"),
                format!("{seconds:.1}"),
                memory::peak_mb().map_or_else(|| "?".into(), |mb| format!("{mb:.0}")),
            ]);
        }
    }
    if let Some(median) = median(gains) {
        table.add_row(["median of those with room to gain", "", "", "", "", "", &format!("{median:.1}")]);
    }
    Ok(table)
}

/// The main cloth of every job at the two commonest widths.
fn widths(jobs: &[PathBuf], options: &Options) -> Result<Table, Box<dyn std::error::Error>> {
    let inch = 25.4;
    let mut table = table(&["job", "45 in", "buy", "60 in", "buy"]);
    for path in jobs {
        let ReadJob { job, pattern, .. } = read_job(path, &Limits::default()).map_err(|faults| faults.to_string())?;
        let mut row = vec![name_of(path)];
        let widths = [45.0 * inch, 60.0 * inch];
        let compared = compare_widths(&job, &pattern, &["main".to_owned()], &widths, options, &Unheard)?;
        for width in compared.into_iter().flatten() {
            match width.answer {
                Ok(plan) => {
                    row.push(format_length(plan.layout().length, Units::Inches));
                    row.push(plan.layout().purchase.buy_text.clone());
                }
                Err(_) => row.extend(["too narrow".to_string(), String::new()]),
            }
        }
        table.add_row(row);
    }
    Ok(table)
}
