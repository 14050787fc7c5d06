//! The `ellwand` command: how much of this cloth does this garment need, and how is it cut?
//!
//! Arguments are parsed to plain values, resolved, handed to the libraries, and the answer is printed. This file alone turns
//! failures into text and exit codes.

mod allowance_words;
mod args;
mod candidates;
mod candidates_json;
mod changes;
mod commands;
mod exit;
mod fit_json;
mod fonts;
mod full_size;
mod input;
mod interrupt;
mod leftovers;
mod matching_json;
mod progress;
mod refusal;
mod remnants_json;
// The planned bag that the tests of the report are made with.
#[cfg(test)]
#[path = "../../report/src/sample.rs"]
mod sample;
mod settings;
mod sheets;
mod spending_json;
mod told;
mod ways_json;

use std::{
    io::{self, Write},
    process::ExitCode,
};

use args::{Cli, Command};
use clap::Parser;
use exit::{Exit, Failure};

fn main() -> ExitCode {
    let ended = match Cli::try_parse() {
        Ok(cli) => run(&cli),
        Err(fault) if fault.use_stderr() => {
            let _ = fault.print();
            return Exit::BadInput.into();
        }
        Err(help) => print(&help),
    };
    match ended {
        Ok(()) => Exit::Done.into(),
        Err(failure) => {
            if !matches!(failure, Failure::PipeClosed) {
                // Nothing is left to do when even standard error is closed.
                let _ = writeln!(io::stderr(), "{failure}");
            }
            failure.exit().into()
        }
    }
}

/// Prints help or version, which the parser hands over as if it were a fault.
fn print(help: &clap::Error) -> Result<(), Failure> {
    help.print()?;
    io::stdout().flush()?;
    Ok(())
}

fn run(cli: &Cli) -> Result<(), Failure> {
    let mut stdout = io::stdout().lock();
    match &cli.command {
        Command::Plan(args) => commands::plan::run(args, &mut stdout)?,
        Command::Check(args) => commands::check::run(args, &mut stdout)?,
        Command::Fit(args) => commands::fit::run(args, &mut stdout)?,
        Command::Compare(args) => commands::compare::run(args, &mut stdout)?,
        Command::Chart(args) => commands::chart::run(args, &mut stdout)?,
        Command::Print(args) => commands::print::run(args, &mut stdout)?,
        Command::Read(args) => commands::read::run(args, &mut stdout)?,
        Command::Write(args) => commands::write::run(args, &mut stdout)?,
        Command::Completions { shell } => commands::completions::run(*shell, &mut stdout)?,
        Command::Man => commands::man::run(&mut stdout)?,
        Command::Schema { file } => commands::schema::run(*file, &mut stdout)?,
    }
    stdout.flush()?;
    Ok(())
}
