//! `ellwand completions SHELL`: a completion script, from the same definitions as the parser.

use std::io::Write;

use clap::CommandFactory;
use clap_complete::{Shell, generate};

use crate::{args::Cli, exit::Failure};

/// Writes the script for `shell`.
pub(crate) fn run(shell: Shell, out: &mut impl Write) -> Result<(), Failure> {
    // Collected first: the generator panics on a closed pipe.
    let mut script = Vec::new();
    generate(shell, &mut Cli::command(), "ellwand", &mut script);
    out.write_all(&script)?;
    Ok(())
}
