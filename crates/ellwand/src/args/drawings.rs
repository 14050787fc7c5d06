//! Options of `read` and `write`, by which pieces come from other programs and go to them.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::LimitArgs;

/// Options of `read`.
#[derive(Debug, Args)]
pub(crate) struct ReadArgs {
    /// The drawing: a PDF, SVG or DXF file
    #[arg(value_name = "FILE")]
    pub(crate) drawing: PathBuf,
    /// The table of grade rules (.rul) of a DXF file that is drawn in one size
    #[arg(value_name = "TABLE")]
    pub(crate) grades: Option<PathBuf>,
    /// Folder for the pattern file, the sheet and the list; created if missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: PathBuf,
    /// How large the drawing may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// Options of `write`.
#[derive(Debug, Args)]
pub(crate) struct WriteArgs {
    /// The job or pattern whose pieces are written, or the record of a layout: a file like tote.job.toml, tote.pattern.toml or main.layout.json
    #[arg(value_name = "JOB|PATTERN|LAYOUT")]
    pub(crate) file: PathBuf,
    /// The file to write; its ending says how: .svg, .dxf or .pdf
    #[arg(value_name = "FILE")]
    pub(crate) to: PathBuf,
    /// Write over a file that is there
    #[arg(long)]
    pub(crate) replace: bool,
    /// One size of a pattern instead of all, such as 38, or "38 short"
    #[arg(long, value_name = "SIZE")]
    pub(crate) size: Option<String>,
    /// Cut the drawing into pages of this paper for a home printer (PDF only)
    #[arg(long, value_enum, value_name = "PAPER")]
    pub(crate) tiles: Option<PaperArg>,
    /// How far the pages of --tiles overlap, mm
    #[arg(long, value_name = "MM", requires = "tiles", default_value_t = 0.0, hide_default_value = true)]
    pub(crate) overlap: f64,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// A paper of home printers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperArg {
    /// 210 by 297 mm
    A4,
    /// 8 1/2 by 11 in
    Letter,
}
