//! Turns files of measurements into tables and plots.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::error::Error;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};
use ellwand_benches::efforts::ClothRun;
use ellwand_benches::growth::Growth;
use ellwand_benches::instance::{self, Instance};
use ellwand_benches::runs::Run;
use ellwand_benches::{judge, lines, plot, tables};

/// Turns files of measurements into Markdown tables and SVG plots.
#[derive(Parser)]
struct Arguments {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand)]
enum What {
    /// Median and best density of each instance and limit, beside what is published.
    Table {
        /// Files of `published --json`.
        #[arg(required = true)]
        runs: Vec<PathBuf>,
    },
    /// What a change did: median and best of one file, then of the other.
    Compare {
        /// Runs before the change.
        before: PathBuf,
        /// Runs after it.
        after: PathBuf,
    },
    /// Judges the packings that `published --placements` has kept, from their outlines alone.
    Judge {
        /// Folder of instances, every *.json in it.
        #[arg(long)]
        data: PathBuf,
        /// Files of `published --json --placements`.
        #[arg(required = true)]
        runs: Vec<PathBuf>,
    },
    /// Plots density over time of each instance, with the longest time that was given.
    Density {
        /// Files of `published --json`.
        #[arg(required = true)]
        runs: Vec<PathBuf>,
        /// Where the plot goes.
        #[arg(long)]
        out: PathBuf,
    },
    /// How much longer each effort's layouts are than the shortest known, cloth by cloth.
    Efforts {
        /// Files of `efforts --json`.
        #[arg(required = true)]
        runs: Vec<PathBuf>,
    },
    /// Tabulates and plots time and memory over the number of pieces.
    Growth {
        /// A file of `growth --json`.
        sizes: PathBuf,
        /// Where the plot goes.
        #[arg(long)]
        out: Option<PathBuf>,
    },
}

fn main() -> ExitCode {
    match report(Arguments::parse().what) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("report: {error}");
            ExitCode::from(2)
        }
    }
}

fn report(what: What) -> Result<(), Box<dyn Error>> {
    match what {
        What::Table { runs } => println!("{}", tables::densities(&lines::read(&runs)?)),
        What::Compare { before, after } => {
            println!("{}", tables::comparison(&lines::read::<Run>(&[before])?, &lines::read(&[after])?));
        }
        What::Judge { data, runs } => judge_anew(&instance::read_folder(&data)?, &lines::read(&runs)?)?,
        What::Density { runs, out } => {
            let plot = plot::density(&lines::read(&runs)?).ok_or("no run was given a time")?;
            std::fs::write(out, plot)?;
        }
        What::Efforts { runs } => println!("{}", tables::efforts(&lines::read::<ClothRun>(&runs)?)),
        What::Growth { sizes, out } => {
            let mut sizes: Vec<Growth> = lines::read(&[sizes])?;
            sizes.sort_by_key(|size| size.pieces);
            println!("{}", tables::growth(&sizes));
            if let Some(out) = out {
                std::fs::write(out, plot::growth(&sizes).ok_or("there are no sizes to plot")?)?;
            }
        }
    }
    Ok(())
}

/// Says how many packings were judged.
///
/// # Errors
///
/// The faults that were found.
fn judge_anew(instances: &[Instance], runs: &[Run]) -> Result<(), Box<dyn Error>> {
    let mut faults = Vec::new();
    for run in runs {
        let instance = instances.iter().find(|instance| instance.name == run.instance);
        let instance = instance.ok_or_else(|| format!("no instance called {}", run.instance))?;
        let of_run = judge::faults_of_run(instance, run)?;
        faults
            .extend(of_run.iter().map(|fault| format!("{}, {}, seed {}: {fault}", run.instance, run.limit, run.seed)));
    }
    if faults.is_empty() {
        println!("{} packings, all sound", runs.len());
        return Ok(());
    }
    Err(faults.join("\n").into())
}
