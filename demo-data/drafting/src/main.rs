//! Writes the demo patterns, drafted for one body or in all their sizes, and prints what each needs by area.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Parser;
use ellwand_demo_drafting::{Body, Garment, GradedPattern, Pattern};

/// Drafts the demo garments from body measures.
#[derive(Debug, Parser)]
struct Arguments {
    /// Body measures to draft one size for; without it each garment is drafted in all its sizes.
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
        let draft = draft(garment, arguments)?;
        for (body, pattern) in draft.patterns() {
            let found = pattern.check().err().into_iter().flatten();
            faults.extend(found.map(|fault| format!("{}, size {}: {fault}", pattern.name, body.size)));
        }
        drafted.push((garment, draft));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    for (garment, draft) in &drafted {
        let path = arguments.out.join(garment.path());
        write(&path, &draft.text())?;
        println!("{} -> {}", garment.path(), path.display());
        for (body, pattern) in draft.patterns() {
            print_areas(body, pattern);
        }
    }
    Ok(())
}

/// A garment in one size or in all.
enum Draft {
    One(Body, Box<Pattern>),
    Graded(GradedPattern),
}

impl Draft {
    fn text(&self) -> String {
        match self {
            Self::One(body, pattern) => pattern.to_toml(body),
            Self::Graded(graded) => graded.to_toml(),
        }
    }

    fn patterns(&self) -> Vec<(&Body, &Pattern)> {
        match self {
            Self::One(body, pattern) => vec![(body, pattern)],
            Self::Graded(graded) => graded.sizes.iter().map(|(size, pattern)| (&size.body, pattern)).collect(),
        }
    }
}

fn draft(garment: Garment, arguments: &Arguments) -> Result<Draft, Vec<String>> {
    Ok(match &arguments.body {
        Some(path) => {
            let body = read_body(path)?;
            let pattern = Box::new(garment.draft(&body));
            Draft::One(body, pattern)
        }
        None => Draft::Graded(garment.draft_sizes(&read_body(&arguments.demo_data.join(garment.body_path()))?)),
    })
}

/// One line a view; 60 in cloth has 36 by 60 in to the yard.
fn print_areas(body: &Body, pattern: &Pattern) {
    println!("{} ({body})", pattern.name);
    for (view, _, _) in &pattern.views {
        let areas: Vec<String> = (pattern.roles.iter())
            .map(|(role, _)| (role, pattern.cut_area(view, role)))
            .filter(|(_, (_, cuts))| *cuts > 0)
            .map(|(role, (area, cuts))| format!("{role} {cuts} cuts {:.2} yd", area / (36.0 * 60.0 * 25.4 * 25.4)))
            .collect();
        println!("  view {view}, at least, of 60 in cloth: {}", areas.join(", "));
    }
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
