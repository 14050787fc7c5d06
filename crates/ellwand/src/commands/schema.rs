//! `ellwand schema pattern|job`: the JSON Schema that editors complete and check from.

use std::io::Write;

use crate::{args::FileKind, exit::Failure};

/// Writes the schema of `file`.
pub(crate) fn run(file: FileKind, out: &mut impl Write) -> Result<(), Failure> {
    let schema = match file {
        FileKind::Pattern => ellwand_files::pattern_schema(),
        FileKind::Job => ellwand_files::job_schema(),
    };
    writeln!(out, "{}", schema.trim_end())?;
    Ok(())
}
