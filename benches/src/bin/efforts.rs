//! Plans every demo cloth with several efforts and seeds, into a file: how near each effort comes to the shortest layout known.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Instant;

use clap::Parser;
use ellwand_benches::efforts::{ClothRun, Given, jobs, name_of};
use ellwand_benches::lines;
use ellwand_files::{Limits, ReadJob, read_job};
use ellwand_planner::{Options, Unheard, plan_cloth, roles};

/// Plans every demo cloth once for each effort and seed.
#[derive(Parser)]
struct Arguments {
    /// Folder of demo jobs, searched one folder deep.
    #[arg(long)]
    data: PathBuf,
    /// Efforts, as a list: quick, normal, thorough, or a number of seconds.
    #[arg(long, value_delimiter = ',', default_value = "quick,normal")]
    given: Vec<Given>,
    /// Seeds of the search, as a list.
    #[arg(long, value_delimiter = ',', default_value = "1")]
    seeds: Vec<u64>,
    /// Adds each plan to this file as one line of JSON.
    #[arg(long)]
    json: PathBuf,
    /// Only this role of each job.
    #[arg(long)]
    cloth: Option<String>,
    /// Only jobs whose path holds one of these words.
    words: Vec<String>,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("efforts: {error}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), Box<dyn std::error::Error>> {
    for &seed in &arguments.seeds {
        for &given in &arguments.given {
            for path in jobs(&arguments.data, &arguments.words)? {
                let ReadJob { job, pattern, .. } =
                    read_job(&path, &Limits::default()).map_err(|faults| faults.to_string())?;
                let mut roles = roles(&job, &pattern, &[]).map_err(|faults| format!("{faults:?}"))?;
                roles.retain(|role| arguments.cloth.as_ref().is_none_or(|only| only == role));
                for role in roles {
                    let options = Options { seed, budget: given.budget(), ..Options::default() };
                    let began = Instant::now();
                    let plan = plan_cloth(&job, &pattern, &role, &[], &options, &Unheard)?;
                    let seconds = began.elapsed().as_secs_f64();
                    let layout = plan.layout();
                    let run = ClothRun {
                        job: name_of(&path),
                        cloth: role,
                        given,
                        seed,
                        length: layout.length,
                        bound: layout.lower_bound.length,
                        seconds,
                    };
                    println!(
                        "{:<16} {:<10} {given:<9} {seed:>4} {:>9.1} {seconds:>7.1} s",
                        run.job, run.cloth, run.length
                    );
                    lines::append(&arguments.json, &run)?;
                }
            }
        }
    }
    Ok(())
}
