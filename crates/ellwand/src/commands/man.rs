//! `ellwand man`: the manual page of the command and, after it, of each of its commands.

use std::io::Write;

use clap::CommandFactory;
use clap_mangen::Man;

use crate::{args::Cli, exit::Failure};

/// Writes the page in `man` format.
pub(crate) fn run(out: &mut impl Write) -> Result<(), Failure> {
    let mut command = Cli::command();
    command.build();
    let mut page = Vec::new();
    Man::new(command.clone()).render(&mut page)?;
    for sub in command.get_subcommands().filter(|sub| !sub.is_hide_set() && sub.get_name() != "help") {
        let sub = sub.clone().display_name(format!("ellwand-{}", sub.get_name()));
        Man::new(sub).render(&mut page)?;
    }
    out.write_all(&page)?;
    Ok(())
}
