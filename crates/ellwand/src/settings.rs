//! Arguments resolved into what the libraries take: limits, options, and the job with what the command line overrides.

use std::{num::NonZero, thread};

use ellwand_files::Limits;
use ellwand_garment::{Job, LayerChoice};
use ellwand_planner::{Budget, Effort, Options};

use crate::args::{EffortArg, LayerArg, LimitArgs, SearchArgs};

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

/// `job` with every cloth laid as the command line says, if it says so.
pub(crate) fn with_layers(mut job: Job, layer: Option<LayerArg>) -> Job {
    if let Some(layer) = layer {
        let choice = match layer {
            LayerArg::Open => LayerChoice::Open,
            LayerArg::Fold => LayerChoice::Fold,
            LayerArg::Either => LayerChoice::Either,
        };
        for fabric in &mut job.fabrics {
            fabric.layer = choice;
        }
    }
    job
}
