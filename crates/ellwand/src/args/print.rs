//! Options of `print`.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ellwand_files::Length;

use super::LimitArgs;

/// Options of `print`.
#[derive(Debug, Args)]
pub(crate) struct PrintArgs {
    /// The job or pattern whose pieces are printed, or the record of a layout: a file like tote.job.toml, tote.pattern.toml or main.layout.json
    #[arg(value_name = "JOB|PATTERN|LAYOUT")]
    pub(crate) file: PathBuf,
    /// The paper: a4, letter, legal, a3, tabloid, a2, a1, a0, 36x48in; a roll: 36in, 914mm, 24in; or measures such as 60x90cm or 42in; may be
    /// given several times [default: letter for a job or pattern in inches, a4 for one in centimetres]
    #[arg(long, value_name = "PAPER", allow_hyphen_values = true)]
    pub(crate) paper: Vec<String>,
    /// Folder for the files; created if missing
    #[arg(long, value_name = "DIR", default_value = ".")]
    pub(crate) out: PathBuf,
    /// A size of a pattern, such as 38, or "38 short"; may be given several times [default: all, one in the other, each in a colour and dashes of its
    /// own]
    #[arg(long, value_name = "SIZE")]
    pub(crate) size: Vec<String>,
    /// How far pages overlap where they are joined, such as 1/2in or 10mm, a bare number in mm; 0 to butt them [default: 10mm]
    #[arg(long, value_name = "LENGTH", value_parser = length, allow_hyphen_values = true)]
    pub(crate) overlap: Option<f64>,
    /// What the printer leaves empty along every border, such as 1/4in or 8mm, a bare number in mm [default: 8mm]
    #[arg(long, value_name = "LENGTH", value_parser = length, allow_hyphen_values = true)]
    pub(crate) margin: Option<f64>,
    /// One page for a projector, with thick lines, a grid and a square to set it by
    #[arg(long)]
    pub(crate) projector: bool,
    /// The ground of the projected page [default: white]
    #[arg(long, value_enum)]
    pub(crate) ground: Option<GroundArg>,
    /// Left and right changed on the projected page
    #[arg(long)]
    pub(crate) mirrored: bool,
    /// The same pages as SVG files instead of a PDF, one a page, for programs that cut or plot; their words are set in the fonts of whoever shows them, so
    /// that --font has no use
    #[arg(long, conflicts_with = "font")]
    pub(crate) svg: bool,
    /// A font for letters that the built-in one lacks; may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) font: Vec<PathBuf>,
    /// Most pages of one file
    #[arg(long, value_name = "N", default_value_t = 500)]
    pub(crate) max_pages: usize,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// The ground of a projected page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum GroundArg {
    /// Dark lines on white
    White,
    /// Light lines on black
    Black,
}

/// A length of 0 to 1000 mm, as people write it; a bare number in mm.
fn length(text: &str) -> Result<f64, String> {
    let bare = text.trim().parse::<f64>().ok();
    let mm = match bare {
        Some(mm) => mm,
        None if text.trim_start().starts_with(['-', '−']) => -1.0,
        None => text.parse::<Length>().map_err(|fault| format!("{fault}; write it like 8mm or \"1/2 in\""))?.mm(),
    };
    if (0.0..=1000.0).contains(&mm) {
        Ok(mm)
    } else {
        Err("it is 0 or more, and 1 m at most, such as 8mm, \"1/2 in\", or 8 for millimetres".to_owned())
    }
}
