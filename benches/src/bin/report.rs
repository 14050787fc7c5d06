//! Turns files of measurements into tables and plots.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::error::Error;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};
use ellwand_benches::efforts::ClothRun;
use ellwand_benches::growth::Growth;
use ellwand_benches::runs::Run;
use ellwand_benches::{lines, plot, tables};

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
