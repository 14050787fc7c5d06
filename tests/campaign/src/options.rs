//! The options of a campaign.

use std::path::PathBuf;

use clap::Parser;

/// Random but plausible jobs over every key of both file formats, each answer judged by means that share nothing with planner and checker
#[derive(Debug, Clone, Parser)]
#[command(name = "campaign")]
pub(crate) struct Options {
    /// Another campaign
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(crate) seed: u64,
    /// The first job
    #[arg(long, value_name = "K", default_value_t = 0)]
    pub(crate) from: u64,
    /// How many random jobs
    #[arg(long, value_name = "M", default_value_t = 300)]
    pub(crate) jobs: u64,
    /// Positions each search may try
    #[arg(long, value_name = "N", default_value_t = 2000)]
    pub(crate) work: u64,
    /// Jobs tried at once
    #[arg(long, value_name = "N", default_value_t = 2, value_parser = clap::value_parser!(u16).range(1..))]
    pub(crate) at_once: u16,
    /// Relations each job is held to, in turn; 15 are all
    #[arg(long, value_name = "N", default_value_t = 2)]
    pub(crate) relations: usize,
    /// A folder for a small pattern and job of each class of failures
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Longest time for making one failure small, seconds
    #[arg(long, value_name = "S", default_value_t = 40)]
    pub(crate) shrink: u64,
    /// Try the pattern and job of this folder, in all relations, and nothing else
    #[arg(long, value_name = "DIR")]
    pub(crate) scene: Option<PathBuf>,
    /// Leave out the kept cases
    #[arg(long)]
    pub(crate) no_cases: bool,
}
