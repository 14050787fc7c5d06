//! One plan of one demo cloth, and how near each effort comes to the shortest layout known.

use std::fmt;
use std::path::{Path, PathBuf};
use std::str::FromStr;
use std::time::Duration;

use ellwand_planner::{Budget, Effort};
use serde::{Deserialize, Serialize};

use crate::runs::median;

/// One plan of one cloth: a line of a run file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClothRun {
    /// The job's name.
    pub job: String,
    /// The cloth's role in it.
    pub cloth: String,
    /// What the plan was given.
    pub given: Given,
    /// Its seed.
    pub seed: u64,
    /// Length of the layout, mm.
    pub length: f64,
    /// The proven lower bound, mm.
    pub bound: f64,
    /// Wall time, s.
    pub seconds: f64,
}

/// What a plan was given: an effort or a wall time.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Given {
    /// [`Effort::Quick`].
    Quick,
    /// [`Effort::Normal`].
    Normal,
    /// [`Effort::Thorough`].
    Thorough,
    /// Wall time, s.
    Seconds(f64),
}

impl Given {
    /// The same in the planner's terms.
    pub fn budget(self) -> Budget {
        match self {
            Self::Quick => Budget::Effort(Effort::Quick),
            Self::Normal => Budget::Effort(Effort::Normal),
            Self::Thorough => Budget::Effort(Effort::Thorough),
            Self::Seconds(seconds) => Budget::Time(Duration::from_secs_f64(seconds)),
        }
    }
}

impl fmt::Display for Given {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Quick => f.pad("quick"),
            Self::Normal => f.pad("normal"),
            Self::Thorough => f.pad("thorough"),
            Self::Seconds(seconds) => f.pad(&format!("{seconds} s")),
        }
    }
}

impl FromStr for Given {
    type Err = String;

    fn from_str(word: &str) -> Result<Self, String> {
        match word {
            "quick" => Ok(Self::Quick),
            "normal" => Ok(Self::Normal),
            "thorough" => Ok(Self::Thorough),
            seconds => match seconds.parse::<f64>() {
                Ok(seconds) if seconds > 0.0 && seconds.is_finite() => Ok(Self::Seconds(seconds)),
                _ => Err(format!("`{seconds}` is neither quick, normal, thorough nor a number of seconds")),
            },
        }
    }
}

/// Every plan of one cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Cloth<'r> {
    /// The job's name.
    pub job: &'r str,
    /// The cloth's role in it.
    pub cloth: &'r str,
    /// Its plans, never none.
    pub runs: Vec<&'r ClothRun>,
}

impl Cloth<'_> {
    /// The shortest layout of all, mm.
    pub fn shortest(&self) -> f64 {
        self.runs.iter().map(|run| run.length).fold(f64::INFINITY, f64::min)
    }

    /// The median of something over the seeds of the plans that were given this; `None` of none.
    pub fn median(&self, given: Given, of: impl Fn(&ClothRun) -> f64) -> Option<f64> {
        median(self.runs.iter().filter(|run| run.given == given).map(|run| of(run)).collect())
    }
}

/// The plans by cloth, in the order in which each cloth first comes.
pub fn cloths(runs: &[ClothRun]) -> Vec<Cloth<'_>> {
    let mut cloths: Vec<Cloth> = Vec::new();
    for run in runs {
        match cloths.iter_mut().find(|cloth| cloth.job == run.job && cloth.cloth == run.cloth) {
            Some(cloth) => cloth.runs.push(run),
            None => cloths.push(Cloth { job: &run.job, cloth: &run.cloth, runs: vec![run] }),
        }
    }
    cloths
}

/// Everything that some plan was given, from the least effort to the longest time.
pub fn givens(runs: &[ClothRun]) -> Vec<Given> {
    let mut givens: Vec<Given> = runs.iter().map(|run| run.given).collect();
    givens.sort_by(|a, b| a.partial_cmp(b).expect("times are numbers"));
    givens.dedup();
    givens
}

/// The name of a job, from its file's.
pub fn name_of(job: &Path) -> String {
    job.file_name().map_or_else(String::new, |name| name.to_string_lossy().replace(".job.toml", ""))
}

/// Every job file one folder below `data` whose path holds one of `words`, by path; all of them when there are no words.
///
/// # Errors
///
/// When a folder cannot be read.
pub fn jobs(data: &Path, words: &[String]) -> std::io::Result<Vec<PathBuf>> {
    let mut jobs = Vec::new();
    for folder in std::fs::read_dir(data)? {
        let folder = folder?.path();
        if folder.is_dir() {
            for file in std::fs::read_dir(folder)? {
                let file = file?.path();
                let path = file.to_string_lossy();
                if path.ends_with(".job.toml") && (words.is_empty() || words.iter().any(|word| path.contains(word))) {
                    jobs.push(file);
                }
            }
        }
    }
    jobs.sort();
    Ok(jobs)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(cloth: &str, given: Given, length: f64) -> ClothRun {
        ClothRun { job: "j".into(), cloth: cloth.into(), given, seed: 1, length, bound: 900.0, seconds: 1.0 }
    }

    #[test]
    fn plans_are_gathered_by_cloth() {
        let runs = [
            run("main", Given::Seconds(600.0), 1000.0),
            run("lining", Given::Quick, 500.0),
            run("main", Given::Quick, 1030.0),
            run("main", Given::Quick, 1010.0),
        ];
        let cloths = cloths(&runs);
        assert_eq!((cloths[0].cloth, cloths[1].cloth, cloths.len()), ("main", "lining", 2));
        assert_eq!(cloths[0].shortest(), 1000.0);
        assert_eq!(cloths[0].median(Given::Quick, |run| run.length), Some(1020.0));
        assert_eq!(cloths[1].median(Given::Normal, |run| run.length), None);
        assert_eq!(givens(&runs), [Given::Quick, Given::Seconds(600.0)]);
    }

    #[test]
    fn efforts_and_times_are_read() {
        let read: Vec<_> = ["quick", "normal", "thorough", "600"].map(str::parse::<Given>).into_iter().collect();
        let wanted = [Given::Quick, Given::Normal, Given::Thorough, Given::Seconds(600.0)];
        assert_eq!(read, wanted.map(Ok));
        assert!("0".parse::<Given>().unwrap_err().contains("neither quick"));
    }
}
