//! The options of a campaign.

use std::path::PathBuf;

/// What to run.
#[derive(Debug, Clone)]
pub(crate) struct Options {
    pub(crate) seed: u64,
    pub(crate) from: u64,
    pub(crate) jobs: u64,
    /// Positions a search may try.
    pub(crate) work: u64,
    /// Jobs tried at once.
    pub(crate) at_once: usize,
    /// Relations each job is held to, of all.
    pub(crate) relations: usize,
    /// Where small scenes of failures go.
    pub(crate) out: Option<PathBuf>,
    /// Longest time spent on making one failure small, seconds.
    pub(crate) shrink_seconds: u64,
    /// A folder with a pattern and a job to try in place of random ones.
    pub(crate) scene: Option<PathBuf>,
    /// Whether the kept cases are left out.
    pub(crate) no_cases: bool,
}

const HELP: &str = "\
campaign [OPTIONS]
  --seed N         another campaign; 1 unless said
  --jobs M         how many random jobs; 300 unless said
  --from K         begin with job K; 0 unless said
  --work N         positions each search may try; 2000 unless said
  --at-once N      jobs tried at once; 2 unless said
  --relations N    relations each job is held to, in turn; 2 unless said, 12 are all
  --out DIR        a folder for each class of failures, with a small pattern and job
  --shrink S       longest time for making one failure small, seconds; 40 unless said
  --scene DIR      try the pattern and job of this folder, in all relations, and nothing else
  --no-cases       leave out the kept cases";

impl Options {
    /// The options of a command line.
    pub(crate) fn read(args: &[String]) -> Result<Self, String> {
        let mut options = Self {
            seed: 1,
            from: 0,
            jobs: 300,
            work: 2000,
            at_once: 2,
            relations: 2,
            out: None,
            shrink_seconds: 40,
            scene: None,
            no_cases: false,
        };
        let mut args = args.iter();
        while let Some(arg) = args.next() {
            let mut value = || args.next().ok_or_else(|| format!("{arg} needs a value\n{HELP}"));
            let number = |text: &String| text.parse::<u64>().map_err(|fault| format!("{text}: {fault}"));
            match arg.as_str() {
                "--seed" => options.seed = number(value()?)?,
                "--jobs" => options.jobs = number(value()?)?,
                "--from" => options.from = number(value()?)?,
                "--work" => options.work = number(value()?)?,
                "--at-once" => options.at_once = number(value()?)?.max(1) as usize,
                "--relations" => options.relations = number(value()?)? as usize,
                "--out" => options.out = Some(value()?.into()),
                "--shrink" => options.shrink_seconds = number(value()?)?,
                "--scene" => options.scene = Some(value()?.into()),
                "--no-cases" => options.no_cases = true,
                _ => return Err(HELP.to_owned()),
            }
        }
        Ok(options)
    }
}
