//! The campaign: random but plausible jobs over every key of both file formats, each answer judged by means that share nothing with the
//! planner and its checker. `--help` tells the options; DEVELOPERS.md the rest.

mod bill;
mod breaks;
mod campaign;
mod cases;
mod chance;
mod drawn;
mod judge;
mod keys;
mod make;
mod motion;
mod options;
mod plane;
mod print;
mod quantity;
mod question;
mod record;
mod refusal;
mod relate;
mod run;
mod shrink;
mod summary;
mod trial;

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    match campaign::run(&options::Options::parse()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(text) => {
            eprintln!("{text}");
            ExitCode::from(2)
        }
    }
}
