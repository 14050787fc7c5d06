//! Arguments resolved into what the libraries take: limits, options, and what the command line overrides of a job.

use std::{num::NonZero, thread};

use ellwand_files::{Limits, ReadOptions};
use ellwand_planner::{Budget, Effort, Options};

use crate::args::{EffortArg, LayoutArg, LimitArgs, SearchArgs};

/// The limits on input, raised where the command line says so.
pub(crate) fn limits(args: &LimitArgs) -> Limits {
    let usual = Limits::default().times(args.raise_limits);
    Limits { cuts_per_cloth: args.max_cuts.unwrap_or(usual.cuts_per_cloth), ..usual }
}

/// How to search.
pub(crate) fn options(args: &SearchArgs) -> Options {
    let effort = match args.effort {
        EffortArg::Quick => Effort::Quick,
        EffortArg::Normal => Effort::Normal,
        EffortArg::Thorough => Effort::Thorough,
    };
    let processors = || thread::available_parallelism().map_or(1, NonZero::get);
    Options {
        seed: args.seed,
        budget: args.time.map_or(Budget::Effort(effort), Budget::Time),
        threads: args.threads.map_or_else(processors, usize::from),
        ..Options::default()
    }
}

/// How to read a job that is searched: within the limits, every cloth laid as the command line says, if it says so.
pub(crate) fn reading(args: &SearchArgs) -> ReadOptions {
    ReadOptions { limits: limits(&args.limits), ways: args.layout.map(LayoutArg::ways) }
}
