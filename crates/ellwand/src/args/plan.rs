//! Options of `plan`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::SearchArgs;

/// Options of `plan`.
#[derive(Debug, Args)]
pub(crate) struct PlanArgs {
    /// The job: a file like tote.job.toml
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Folder for the sheets, records, placing tables and lists; created if missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Paper of report.pdf; by default letter for a job in inches, a4 for one in centimetres
    #[arg(long, value_name = "PAPER", requires = "out")]
    pub(crate) paper: Option<ReportPaper>,
    /// A font for letters of report.pdf that the built-in one lacks; may be given several times
    #[arg(long, value_name = "FILE", requires = "out")]
    pub(crate) font: Vec<PathBuf>,
    /// Also plan the job with one thing changed at a time, and say what each change would save or cost
    #[arg(long)]
    pub(crate) changes: bool,
    /// Also plan the job with each of the candidates that it names for its cloths, as `compare` does, and put the table into the report
    #[arg(long)]
    pub(crate) candidates: bool,
    /// Keep the largest rectangles that are left of each cloth in this file of remnants, for other jobs; it is made if missing. The sheets show
    /// them
    #[arg(long, value_name = "FILE")]
    pub(crate) leftovers: Option<PathBuf>,
    /// Print how far each piece lies from the selvage and from the cut end
    #[arg(long)]
    pub(crate) table: bool,
    /// Print the same as a list for a narrow screen, a piece a row in the order of laying
    #[arg(long, conflicts_with = "table")]
    pub(crate) list: bool,
    /// Give the reasons: why no layout can be shorter, and each rule of thumb
    #[arg(long, conflicts_with = "json")]
    pub(crate) explain: bool,
    /// Print the layout records as JSON instead of the summary
    #[arg(long, conflicts_with_all = ["table", "list"])]
    pub(crate) json: bool,
    /// How to search
    #[command(flatten)]
    pub(crate) search: SearchArgs,
}

/// Paper of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ReportPaper {
    /// 210 x 297 mm
    A4,
    /// 8 1/2 x 11 in
    Letter,
}
