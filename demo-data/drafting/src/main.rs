//! Writes the demo patterns, drafted for one body, and prints what each needs by area.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Parser;
use ellwand_demo_drafting::{Body, Garment};

/// Drafts the demo garments from body measures.
#[derive(Debug, Parser)]
struct Arguments {
    /// Body measures; without it each garment is drafted for its own body among the demo data.
    #[arg(long, value_name = "FILE")]
    body: Option<PathBuf>,
    /// The folder to write to: a folder for each garment, with its pattern file.
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Where the demo data lies.
    #[arg(long, value_name = "DIR", default_value = "demo-data")]
    demo_data: PathBuf,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(messages) => {
            for message in messages {
                eprintln!("{message}");
            }
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), Vec<String>> {
    let mut drafted = Vec::new();
    let mut faults = Vec::new();
    for garment in Garment::ALL {
        let path = arguments.body.clone().unwrap_or_else(|| arguments.demo_data.join(garment.body_path()));
        let body = read_body(&path)?;
        let pattern = garment.draft(&body);
        match pattern.check() {
            Ok(()) => drafted.push((garment, body, pattern)),
            Err(found) => faults.extend(found.iter().map(|f| format!("{}: {f}", pattern.name))),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    for (garment, body, pattern) in &drafted {
        let path = arguments.out.join(garment.path());
        write(&path, &pattern.to_toml(body))?;
        println!("{} ({body}) -> {}", pattern.name, path.display());
        for (view, _, _) in &pattern.views {
            for (role, _) in &pattern.roles {
                let (area, cuts) = pattern.cut_area(view, role);
                if cuts > 0 {
                    // 60 in cloth: one yard is 36 by 60 in.
                    let yards = area / (36.0 * 60.0 * 25.4 * 25.4);
                    println!(
                        "  view {view}, {role}: {cuts} cuts, {:.2} m2, at least {yards:.2} yd of 60 in",
                        area / 1e6
                    );
                }
            }
        }
    }
    Ok(())
}

fn read_body(path: &Path) -> Result<Body, Vec<String>> {
    let text = std::fs::read_to_string(path).map_err(|e| vec![format!("{}: {e}", path.display())])?;
    Body::from_toml(&text).map_err(|faults| faults.iter().map(|f| format!("{}: {f}", path.display())).collect())
}

fn write(path: &Path, text: &str) -> Result<(), Vec<String>> {
    let told = |e: std::io::Error| vec![format!("{}: {e}", path.display())];
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(told)?;
    }
    std::fs::write(path, text).map_err(told)
}
