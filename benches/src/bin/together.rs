//! Cuts more and more of one garment together, and prints for each number what it takes, against one after the other, and how densely the pieces lie.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::{path::PathBuf, process::ExitCode, time::Instant};

use clap::Parser;
use ellwand_benches::efforts::Given;
use ellwand_files::{Folder, Limits, ReadJob, Source, parse_job};
use ellwand_planner::{Options, Unheard, plan_job};

/// Plans a job of one garment with more and more of it.
#[derive(Parser)]
struct Arguments {
    /// The job.
    #[arg(long)]
    job: PathBuf,
    /// How many are made, as a list.
    #[arg(long, value_delimiter = ',', default_value = "1,2,3,5,8,10")]
    counts: Vec<u32>,
    /// Quick, normal, thorough, or a number of seconds.
    #[arg(long, default_value = "quick")]
    effort: Given,
    /// The cloth.
    #[arg(long, default_value = "main")]
    cloth: String,
    /// Seed of the search.
    #[arg(long, default_value_t = 1)]
    seed: u64,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("together: {error}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), Box<dyn std::error::Error>> {
    let text = std::fs::read_to_string(&arguments.job)?;
    let folder = Folder::new(arguments.job.parent().unwrap_or(std::path::Path::new("")));
    let roles = [arguments.cloth.clone()];
    println!(
        "| garments | cuts | together, mm | a garment, mm | one after the other, mm | shorter by, % | density, % | s |"
    );
    println!("| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
    for &count in &arguments.counts {
        let several = format!("\n[[garment]]\nname = \"One\"\ncount = {count}\n\n[fabric.");
        let source = Source::new(arguments.job.display().to_string(), text.replacen("\n[fabric.", &several, 1));
        let ReadJob { job, pattern, .. } =
            parse_job(&source, &folder, &Limits::default()).map_err(|faults| faults.to_string())?;
        let options = Options { seed: arguments.seed, budget: arguments.effort.budget(), ..Options::default() };
        let began = Instant::now();
        let plan = plan_job(&job, &pattern, &roles, &options, &Unheard).map_err(|faults| format!("{faults:?}"))?;
        let seconds = began.elapsed().as_secs_f64();
        let cloth = plan.cloths.first().ok_or("nothing is cut from this cloth")?;
        let layout = cloth.layout();
        let row = cloth.one_after_the_other.unwrap_or(layout.length);
        let area: f64 = layout.cuts.iter().map(|cut| cut.outline.area()).sum();
        let usable = layout.cloth.width - 2.0 * layout.cloth.selvage;
        println!(
            "| {count} | {} | {:.0} | {:.0} | {row:.0} | {:.1} | {:.1} | {seconds:.1} |",
            layout.cuts.len(),
            layout.length,
            layout.length / f64::from(count),
            100.0 * (1.0 - layout.length / row),
            100.0 * area / (usable * layout.length),
        );
    }
    Ok(())
}
