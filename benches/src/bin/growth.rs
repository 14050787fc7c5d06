//! Measures how time and memory grow with the number of pieces, and whether large layouts come out as dense as small ones.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::error::Error;
use std::path::PathBuf;
use std::process::{Command, ExitCode};
use std::time::Duration;

use clap::Parser;
use ellwand_benches::copies::{copies, density, garment};
use ellwand_benches::growth::{Growth, measure};
use ellwand_benches::{judge, lines, tables};
use ellwand_nest::{Budget, Settings, Silent, solve};

/// Measures one sweep of separation over ever more copies of a garment.
#[derive(Parser)]
struct Arguments {
    /// The garment, as a job file.
    #[arg(long)]
    job: PathBuf,
    /// The role of its cloth.
    #[arg(long, default_value = "main")]
    role: String,
    /// Numbers of pieces, as a list [default: 10,30,100,300,1000; with --layout 30,300].
    #[arg(long, value_delimiter = ',')]
    pieces: Vec<usize>,
    /// Sweeps at each size, each of another seed; the one of median time is told.
    #[arg(long, default_value_t = 9, value_parser = clap::value_parser!(u64).range(1..))]
    sweeps: u64,
    /// Adds each size to this file as one line of JSON.
    #[arg(long)]
    json: Option<PathBuf>,
    /// Searches whole layouts instead and compares their density.
    #[arg(long, conflicts_with = "json")]
    layout: bool,
    /// Wall time of each such search.
    #[arg(long, default_value_t = 60.0, requires = "layout")]
    seconds: f64,
    /// Candidates for each piece of each such search, instead of a wall time: repeatable.
    #[arg(long, requires = "layout", conflicts_with = "seconds")]
    work_each: Option<u64>,
    /// Seed of each such search.
    #[arg(long, default_value_t = 1, requires = "layout")]
    seed: u64,
    /// Measures one size in this process and prints it as JSON: how each size gets a process, and so a peak memory, of its own.
    #[arg(long, hide = true)]
    alone: Option<usize>,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let done = match arguments.alone {
        Some(pieces) => measure_alone(&arguments, pieces),
        None if arguments.layout => layouts(&arguments),
        None => sizes(&arguments),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("growth: {error}");
            ExitCode::from(2)
        }
    }
}

fn measure_alone(arguments: &Arguments, pieces: usize) -> Result<(), Box<dyn Error>> {
    let problem = copies(&garment(&arguments.job, &arguments.role)?, pieces);
    println!("{}", serde_json::to_string(&measure(&problem, arguments.sweeps)?)?);
    Ok(())
}

/// Measures every size in a process of its own.
fn sizes(arguments: &Arguments) -> Result<(), Box<dyn Error>> {
    let mut sizes: Vec<Growth> = Vec::new();
    for &pieces in pieces(arguments, &[10, 30, 100, 300, 1000]) {
        let mut child = Command::new(std::env::current_exe()?);
        child.arg("--job").arg(&arguments.job).args(["--role", &arguments.role]);
        child.args(["--sweeps", &arguments.sweeps.to_string(), "--alone", &pieces.to_string()]);
        let output = child.output()?;
        if !output.status.success() {
            return Err(String::from_utf8_lossy(&output.stderr).into_owned().into());
        }
        let size = serde_json::from_slice(&output.stdout)?;
        if let Some(path) = &arguments.json {
            lines::append(path, &size)?;
        }
        sizes.push(size);
    }
    println!("{}", tables::growth(&sizes));
    Ok(())
}

/// Searches a layout of each size and tells its density, against the first.
fn layouts(arguments: &Arguments) -> Result<(), Box<dyn Error>> {
    let garment = garment(&arguments.job, &arguments.role)?;
    let mut table = tables::table(&["pieces", "start s", "start density", "density", "against the first", "work/1e6"]);
    let mut first = None;
    for &pieces in pieces(arguments, &[30, 300]) {
        let problem = copies(&garment, pieces);
        let budget = match arguments.work_each {
            Some(each) => Budget::Work(each * pieces as u64),
            None => Budget::Time(Duration::from_secs_f64(arguments.seconds)),
        };
        let settings = Settings { seed: arguments.seed, budget, ..Settings::default() };
        let outcome = solve(&problem, &settings, &Silent)?;
        if let Some(fault) = judge::faults(&problem, &outcome.best).first() {
            return Err(fault.clone().into());
        }
        let found = density(&problem, outcome.best.length);
        table.add_row([
            pieces.to_string(),
            format!("{:.1}", outcome.trace[0].seconds),
            format!("{:.2}", density(&problem, outcome.start.length)),
            format!("{found:.2}"),
            format!("{:+.2}", found - *first.get_or_insert(found)),
            format!("{:.1}", outcome.work as f64 / 1e6),
        ]);
    }
    println!("{table}");
    Ok(())
}

fn pieces<'a>(arguments: &'a Arguments, usual: &'a [usize]) -> &'a [usize] {
    if arguments.pieces.is_empty() { usual } else { &arguments.pieces }
}
