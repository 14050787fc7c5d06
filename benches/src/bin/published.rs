//! Runs the search on published strip-packing instances, judges every packing, and prints density against what is published.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use clap::Parser;
use ellwand_benches::copies::density;
use ellwand_benches::instance::{self, Instance};
use ellwand_benches::lines::LinesError;
use ellwand_benches::literature::{Published, published};
use ellwand_benches::runs::{Limit, Moment, PlacedItem, Run};
use ellwand_benches::{judge, lines};
use ellwand_nest::{Budget, Outcome, Problem, Settings, Silent, solve};

/// Runs published instances through the search, once for each seed and limit.
#[derive(Parser)]
struct Arguments {
    /// Folder of instances, every *.json in it.
    #[arg(long)]
    data: PathBuf,
    /// Wall times for each instance, as a list: a search of 60 s is planned otherwise than one of 10 s.
    #[arg(long, value_delimiter = ',', default_value = "60")]
    seconds: Vec<f64>,
    /// Candidates to evaluate, as a list, instead of wall times: repeatable.
    #[arg(long, value_delimiter = ',', conflicts_with = "seconds")]
    work: Vec<u64>,
    /// Seeds of the search, as a list.
    #[arg(long, value_delimiter = ',', default_value = "1")]
    seeds: Vec<u64>,
    /// Threads of the search.
    #[arg(long, default_value_t = 2)]
    threads: usize,
    /// Adds each run to this file as one line of JSON, with its density over time.
    #[arg(long)]
    json: Option<PathBuf>,
    /// The lines hold the placed outlines too.
    #[arg(long, requires = "json")]
    placements: bool,
    /// Runs that the file holds already are told and not made again, so that long ones can be made over several days.
    #[arg(long, requires = "json")]
    resume: bool,
    /// Only these instances.
    names: Vec<String>,
}

impl Arguments {
    fn limits(&self) -> Vec<Limit> {
        if self.work.is_empty() {
            self.seconds.iter().copied().map(Limit::Seconds).collect()
        } else {
            self.work.iter().copied().map(Limit::Work).collect()
        }
    }

    /// The runs that need not be made again.
    ///
    /// # Errors
    ///
    /// [`LinesError`] when the file is none of runs.
    fn made(&self) -> Result<Vec<Run>, LinesError> {
        let Some(path) = self.json.as_ref().filter(|path| self.resume && path.exists()) else { return Ok(Vec::new()) };
        let mut runs: Vec<Run> = lines::read(std::slice::from_ref(path))?;
        // Where placements are asked for, a run without them is not what is wanted.
        runs.retain(|run| !self.placements || !run.placements.is_empty());
        Ok(runs)
    }
}

fn main() -> ExitCode {
    match run_all(&Arguments::parse()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("published: {error}");
            ExitCode::from(2)
        }
    }
}

/// Whether every packing passed the judge.
fn run_all(arguments: &Arguments) -> Result<bool, Box<dyn std::error::Error>> {
    let mut instances = instance::read_folder(&arguments.data)?;
    for name in &arguments.names {
        if !instances.iter().any(|i| i.name == *name) {
            return Err(format!("no instance called {name} in {}", arguments.data.display()).into());
        }
    }
    instances.retain(|i| arguments.names.is_empty() || arguments.names.contains(&i.name));
    println!(
        "{:<10} {:>6} {:>8} {:>5} {:>12} {:>8} {:>8} {:>8} {:>9} {:>7} {:>9}",
        "instance",
        "pieces",
        "limit",
        "seed",
        "length",
        "start",
        "density",
        "seconds",
        "work/1e6",
        "boards",
        "published"
    );
    let made = arguments.made()?;
    let mut all_good = true;
    for &seed in &arguments.seeds {
        for limit in arguments.limits() {
            for instance in &instances {
                if let Some(run) = made.iter().find(|run| run.is_again(&instance.name, limit, seed, arguments.threads))
                {
                    print(run);
                    continue;
                }
                let (run, faults) = run_one(instance, limit, seed, arguments)?;
                print(&run);
                for fault in &faults {
                    eprintln!("{}: {fault}", run.instance);
                }
                all_good &= faults.is_empty();
                if let Some(path) = &arguments.json {
                    lines::append(path, &run)?;
                }
            }
        }
    }
    Ok(all_good)
}

/// One search, and what the judge finds wrong with its packing.
fn run_one(
    instance: &Instance,
    limit: Limit,
    seed: u64,
    arguments: &Arguments,
) -> Result<(Run, Vec<String>), Box<dyn std::error::Error>> {
    let (problem, ids) = instance.problem()?;
    let budget = match limit {
        Limit::Seconds(seconds) => Budget::Time(Duration::from_secs_f64(seconds)),
        Limit::Work(work) => Budget::Work(work),
    };
    let settings = Settings { seed, budget, threads: arguments.threads, ..Settings::default() };
    let began = Instant::now();
    let outcome = solve(&problem, &settings, &Silent)?;
    let seconds = began.elapsed().as_secs_f64();
    let run = Run {
        instance: instance.name.clone(),
        pieces: problem.items.len(),
        limit,
        seed,
        threads: arguments.threads,
        length: outcome.best.length,
        density: density(&problem, outcome.best.length),
        seconds,
        work: outcome.work,
        separations: outcome.separations,
        trace: trace(&problem, &outcome),
        placements: if arguments.placements { placements(&problem, &ids, &outcome) } else { Vec::new() },
    };
    Ok((run, judge::faults(&problem, &outcome.best)))
}

fn trace(problem: &Problem, outcome: &Outcome) -> Vec<Moment> {
    let gains = outcome.trace.iter();
    gains.map(|g| Moment { seconds: g.seconds, work: g.work, density: density(problem, g.length) }).collect()
}

fn placements(problem: &Problem, ids: &[&str], outcome: &Outcome) -> Vec<PlacedItem> {
    let placed = judge::placed(problem, &outcome.best);
    (ids.iter().zip(&placed))
        .map(|(id, outline)| PlacedItem {
            id: (*id).to_owned(),
            outline: outline.points().iter().map(|p| [p.x, p.y]).collect(),
        })
        .collect()
}

fn print(run: &Run) {
    println!(
        "{:<10} {:>6} {:>8} {:>5} {:>12.4} {:>8.2} {:>8.2} {:>8.1} {:>9.1} {:>7} {:>9}",
        run.instance,
        run.pieces,
        run.limit.to_string(),
        run.seed,
        run.length,
        run.trace[0].density,
        run.density,
        run.seconds,
        run.work as f64 / 1e6,
        run.separations,
        published(&run.instance).map(Published::yardstick).map_or_else(String::new, |d| format!("{d:.2}")),
    );
}
