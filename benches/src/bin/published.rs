//! Runs the search on published strip-packing instances and prints density against the published best.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use clap::Parser;
use ellwand_benches::{instance, judge};
use ellwand_nest::{Budget, Settings, Silent, solve};

/// Published best densities, per cent: the highest before 2025 as quoted by, and the average and best of, Gardeyn, Vanden Berghe
/// & Wauters, arXiv 2509.13329 (2025), tables 1 to 3.
const PUBLISHED: [(&str, &str, &str, &str); 11] = [
    ("albano", "89.58", "89.47", "89.82"),
    ("dagli", "89.51", "89.26", "90.17"),
    ("dighe1", "100", "", ""),
    ("dighe2", "100", "", ""),
    ("fu", "92.41", "92.24", "92.41"),
    ("shapes0", "68.79", "68.60", "69.98"),
    ("shapes1", "76.73", "75.69", "76.73"),
    ("shapes2", "84.84", "84.68", "86.23"),
    ("shirts", "88.96", "89.66", "90.92"),
    ("swim", "75.94", "78.26", "79.83"),
    ("trousers", "91.06", "91.73", "92.62"),
];

/// Runs published instances through the search.
#[derive(Parser)]
struct Arguments {
    /// Folder of instances, every *.json in it.
    #[arg(long)]
    data: PathBuf,
    /// Wall time for each instance.
    #[arg(long, default_value_t = 60.0)]
    seconds: f64,
    /// Candidates to evaluate, instead of a wall time: repeatable.
    #[arg(long)]
    work: Option<u64>,
    /// Seed of the search.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Threads of the search.
    #[arg(long, default_value_t = 2)]
    threads: usize,
    /// Writes one JSON object a line, placements included.
    #[arg(long)]
    json: Option<PathBuf>,
    /// Only these instances.
    names: Vec<String>,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("published: {error}");
            ExitCode::from(2)
        }
    }
}

/// Whether every packing passed the judge.
fn run(arguments: &Arguments) -> Result<bool, Box<dyn std::error::Error>> {
    let instances = instance::read_folder(&arguments.data)?;
    for name in &arguments.names {
        if !instances.iter().any(|i| i.name == *name) {
            return Err(format!("no instance called {name} in {}", arguments.data.display()).into());
        }
    }
    let mut json = arguments.json.as_ref().map(std::fs::File::create).transpose()?;
    let mut all_good = true;
    println!(
        "{:<10} {:>6} {:>12} {:>8} {:>8} {:>7} {:>9}  {:>7} {:>7} {:>7}",
        "instance", "pieces", "length", "density", "start", "seconds", "work/1e6", "before", "average", "best"
    );
    for instance in instances.iter().filter(|i| arguments.names.is_empty() || arguments.names.contains(&i.name)) {
        let (problem, ids) = instance.problem()?;
        let settings = Settings {
            seed: arguments.seed,
            budget: match arguments.work {
                Some(work) => Budget::Work(work),
                None => Budget::Time(Duration::from_secs_f64(arguments.seconds)),
            },
            threads: arguments.threads,
            known: None,
        };
        let began = Instant::now();
        let outcome = solve(&problem, &settings, &Silent)?;
        let seconds = began.elapsed().as_secs_f64();
        let full = 100.0 * instance.total_area(&problem) / instance.strip_width;
        let density = full / outcome.best.length;
        let (_, before, average, best) =
            PUBLISHED.iter().find(|p| p.0 == instance.name).copied().unwrap_or(("", "", "", ""));
        println!(
            "{:<10} {:>6} {:>12.4} {:>8.2} {:>8.2} {:>7.1} {:>9.1}  {:>7} {:>7} {:>7}",
            instance.name,
            problem.items.len(),
            outcome.best.length,
            density,
            full / outcome.start.length,
            seconds,
            outcome.work as f64 / 1e6,
            before,
            average,
            best
        );
        for fault in judge::faults(&problem, &outcome.best) {
            eprintln!("{}: {fault}", instance.name);
            all_good = false;
        }
        if let Some(file) = &mut json {
            let outlines = judge::placed(&problem, &outcome.best);
            let placement = |(id, outline): (&&str, &ellwand_geometry::Outline)| {
                let points: Vec<[f64; 2]> = outline.points().iter().map(|p| [p.x, p.y]).collect();
                serde_json::json!({"id": id, "outline": points})
            };
            let line = serde_json::json!({
                "instance": instance.name,
                "pieces": problem.items.len(),
                "length": outcome.best.length,
                "density": density,
                "seconds": seconds,
                "seed": arguments.seed,
                "work": outcome.work,
                "placements": ids.iter().zip(&outlines).map(placement).collect::<Vec<_>>(),
            });
            writeln!(file, "{line}")?;
        }
    }
    Ok(all_good)
}
