//! Options of the commands that show pieces: `check` and `fit`.

use std::path::PathBuf;

use clap::Args;

use super::LimitArgs;

/// Options of `check`.
#[derive(Debug, Args)]
pub(crate) struct CheckArgs {
    /// The job or pattern: a file like tote.job.toml or tote.pattern.toml
    #[arg(value_name = "JOB|PATTERN")]
    pub(crate) file: PathBuf,
    /// Write the pieces, sized and with their allowances, as a JSON record
    #[arg(long, value_name = "FILE")]
    pub(crate) json: Option<PathBuf>,
    /// Folder for sheets of the pieces; created if missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Say nothing when nothing is wrong
    #[arg(long, short)]
    pub(crate) quiet: bool,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// Options of `fit`.
#[derive(Debug, Args)]
pub(crate) struct FitArgs {
    /// The job: a file like tote.job.toml
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Folder for sheets with each piece over the same piece in the nearest size; created if missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Print the fit as JSON
    #[arg(long)]
    pub(crate) json: bool,
    /// Say nothing when nothing is wrong
    #[arg(long, short)]
    pub(crate) quiet: bool,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}
