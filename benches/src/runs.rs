//! One search on one published instance, and many of them grouped.

use std::fmt;

use serde::{Deserialize, Serialize};

/// One search on one instance: a line of a run file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Run {
    /// The instance's name.
    pub instance: String,
    /// Copies placed.
    pub pieces: usize,
    /// What the search was given.
    pub limit: Limit,
    /// Its seed.
    pub seed: u64,
    /// Its threads.
    pub threads: usize,
    /// Length of strip used, in the instance's own unit.
    pub length: f64,
    /// Area of the pieces over the area of strip used, per cent.
    pub density: f64,
    /// Wall time, s.
    pub seconds: f64,
    /// Candidate positions evaluated.
    pub work: u64,
    /// Boards on which overlap was driven towards zero.
    pub separations: u64,
    /// Density over the course of the search, from the start to the best.
    pub trace: Vec<Moment>,
    /// Where everything lies, if that was asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub placements: Vec<PlacedItem>,
}

/// A moment at which a search found something denser.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Moment {
    /// Wall time until then, s.
    pub seconds: f64,
    /// Candidate positions evaluated until then.
    pub work: u64,
    /// The density, per cent.
    pub density: f64,
}

/// One placed copy.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlacedItem {
    /// The item's name.
    pub id: String,
    /// Its corners where they lie.
    pub outline: Vec<[f64; 2]>,
}

/// What a search was given. It plans its phases over the whole, so a run of 60 s is not one of 10 s that went on.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Wall time, s.
    Seconds(f64),
    /// Candidate positions.
    Work(u64),
}

impl fmt::Display for Limit {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Self::Seconds(seconds) => write!(f, "{seconds} s"),
            Self::Work(work) => write!(f, "{} M", *work as f64 / 1e6),
        }
    }
}

impl Run {
    /// Whether it answers what this one answers: the same instance, limit, seed and threads.
    pub fn is_again(&self, instance: &str, limit: Limit, seed: u64, threads: usize) -> bool {
        self.instance == instance && self.limit == limit && self.seed == seed && self.threads == threads
    }

    /// The density reached after `seconds`; `None` before the start was laid.
    pub fn density_at(&self, seconds: f64) -> Option<f64> {
        self.trace.iter().rev().find(|moment| moment.seconds <= seconds).map(|moment| moment.density)
    }
}

/// Runs on one instance with one limit, of different seeds.
#[derive(Debug, Clone, PartialEq)]
pub struct Group<'r> {
    /// The instance's name.
    pub instance: &'r str,
    /// What each was given.
    pub limit: Limit,
    /// The runs, never none.
    pub runs: Vec<&'r Run>,
}

impl Group<'_> {
    /// The median of something over the runs.
    pub fn median(&self, of: impl Fn(&Run) -> f64) -> f64 {
        median(self.runs.iter().map(|run| of(run)).collect()).unwrap_or(f64::NAN)
    }

    /// The highest density.
    pub fn best(&self) -> f64 {
        self.runs.iter().map(|run| run.density).fold(f64::NEG_INFINITY, f64::max)
    }
}

/// The runs by instance and limit, in the order of both.
pub fn groups(runs: &[Run]) -> Vec<Group<'_>> {
    let mut groups: Vec<Group> = Vec::new();
    for run in runs {
        match groups.iter_mut().find(|group| group.instance == run.instance && group.limit == run.limit) {
            Some(group) => group.runs.push(run),
            None => groups.push(Group { instance: &run.instance, limit: run.limit, runs: vec![run] }),
        }
    }
    groups.sort_by(|a, b| a.instance.cmp(b.instance).then(a.limit.partial_cmp(&b.limit).expect("limits are numbers")));
    groups
}

/// The middle value, or the mean of the two in the middle; `None` of none.
pub fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    match values.len() {
        0 => None,
        odd if odd % 2 == 1 => Some(values[middle]),
        _ => Some((values[middle - 1] + values[middle]) / 2.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(instance: &str, limit: Limit, density: f64) -> Run {
        let moment = |seconds, density| Moment { seconds, work: 0, density };
        Run {
            instance: instance.into(),
            pieces: 3,
            limit,
            seed: 1,
            threads: 2,
            length: 100.0,
            density,
            seconds: 10.0,
            work: 1000,
            separations: 7,
            trace: vec![moment(0.5, 60.0), moment(4.0, density)],
            placements: Vec::new(),
        }
    }

    #[test]
    fn runs_are_grouped_by_instance_and_limit() {
        let (short, long) = (Limit::Seconds(10.0), Limit::Seconds(60.0));
        let runs = [run("b", long, 80.0), run("a", long, 70.0), run("b", short, 75.0), run("b", long, 82.0)];
        let groups = groups(&runs);
        let names: Vec<_> = groups.iter().map(|group| (group.instance, group.limit, group.runs.len())).collect();
        assert_eq!(names, [("a", long, 1), ("b", short, 1), ("b", long, 2)]);
        assert_eq!((groups[2].median(|run| run.density), groups[2].best()), (81.0, 82.0));
    }

    #[test]
    fn a_density_holds_until_the_next() {
        let run = run("a", Limit::Work(1000), 70.0);
        assert_eq!([0.4, 0.5, 3.9, 9.0].map(|t| run.density_at(t)), [None, Some(60.0), Some(60.0), Some(70.0)]);
    }

    #[test]
    fn a_run_comes_back_from_its_line() {
        let run = run("a", Limit::Work(1000), 70.25);
        let line = serde_json::to_string(&run).unwrap();
        assert!(line.contains(r#""limit":{"work":1000}"#) && !line.contains("placements"), "{line}");
        assert_eq!(serde_json::from_str::<Run>(&line).unwrap(), run);
    }
}
