//! What may be said on the command line, parsed into plain values. No file is opened here and nothing is asked of the machine.

use clap::{Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use crate::exit::EXIT_CODES;

mod chart;
mod compare;
mod drawings;
mod pieces;
mod plan;
mod print;
mod search;

pub(crate) use chart::{ChartArgs, Share};
pub(crate) use compare::{Choices, CompareArgs};
pub(crate) use drawings::{PaperArg, ReadArgs, WriteArgs};
pub(crate) use pieces::{CheckArgs, FitArgs};
pub(crate) use plan::{PlanArgs, ReportPaper};
pub(crate) use print::{GroundArg, PrintArgs};
pub(crate) use search::{EffortArg, LayoutArg, LimitArgs, SearchArgs};

/// How much of this cloth does this garment need, and how is it cut?
///
/// Reads a job (a pattern, a view, and the cloth at hand) and finds a short cutting layout for every cloth: what to buy, what it
/// costs, and sheets to cut from. Every layout is checked piece by piece before it is shown.
#[derive(Debug, Parser)]
#[command(name = "ellwand", version, after_help = EXIT_CODES, max_term_width = 100)]
pub(crate) struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// One command.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Lay out every cloth of a job: what to buy, what it costs, sheets to cut from
    Plan(PlanArgs),
    /// Check a job or a pattern, list every error at once, and draw the pieces
    Check(CheckArgs),
    /// Show how the pieces fit the body: size, finished girths and ease, alterations, seams walked
    Fit(FitArgs),
    /// Lay out the same job on cloth of several widths, in one table
    Compare(CompareArgs),
    /// Make the yardage table of an envelope: sizes, figure types, views, widths, nap or design
    Chart(ChartArgs),
    /// Understand a drawing (PDF, SVG or DXF) as a pattern: a pattern file to complete, and a sheet of what was understood
    Read(ReadArgs),
    /// Write pieces or a layout for other programs, as SVG, DXF or PDF; to sew from paper use `ellwand print`
    Write(WriteArgs),
    /// Print pieces or a layout at full size, to sew from paper: pages to join, large sheets, rolls, or one page for a projector (PDF)
    Print(PrintArgs),
    /// Print a completion script for a shell
    Completions {
        /// The shell
        shell: Shell,
    },
    /// Print the manual page
    Man,
    /// Print the JSON Schema of a kind of file, for editors
    Schema {
        /// The kind of file
        file: FileKind,
    },
}

/// Kinds of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum FileKind {
    /// A pattern: pieces and views
    Pattern,
    /// A job: a view of a pattern and the cloth at hand
    Job,
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_definitions_are_sound() {
        Cli::command().debug_assert();
    }
}
