//! How much of the budget is used, in work or in time.

use std::time::{Duration, Instant};

use crate::{Budget, Effort};

/// Candidates all lanes evaluate between two exchanges, at most.
const LONGEST_LEG: u64 = 400_000;
/// Exchanges over a whole budget, at least.
const FEWEST_LEGS: u64 = 40;

/// Measures one search's budget.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Clock {
    began: Instant,
    limit: Limit,
}

#[derive(Debug, Clone, Copy)]
enum Limit {
    Work(u64),
    Time(Duration),
}

impl Clock {
    pub(crate) fn start(budget: Budget, items: usize, began: Instant) -> Self {
        let limit = match budget {
            Budget::Work(work) => Limit::Work(work),
            Budget::Effort(effort) => Limit::Work(effort_work(effort, items)),
            Budget::Time(time) => Limit::Time(time),
        };
        Self { began, limit }
    }

    /// Share of the budget used after `work` candidates; 1 or more when it is spent.
    pub(crate) fn progress(&self, work: u64) -> f64 {
        match self.limit {
            Limit::Work(total) => work as f64 / total.max(1) as f64,
            Limit::Time(time) => self.began.elapsed().as_secs_f64() / time.as_secs_f64().max(1e-9),
        }
    }

    /// Candidates until the next exchange, over all lanes.
    pub(crate) fn leg(&self) -> u64 {
        match self.limit {
            Limit::Work(total) => LONGEST_LEG.min(total / FEWEST_LEGS),
            Limit::Time(_) => LONGEST_LEG,
        }
    }

    /// Whether the budget is time and `share` of it is over.
    pub(crate) fn out_of_time(&self, share: f64) -> bool {
        match self.limit {
            Limit::Work(_) => false,
            Limit::Time(time) => self.began.elapsed() >= time.mul_f64(share),
        }
    }
}

impl Budget {
    /// The candidate positions that a search of `items` items may evaluate; `None` for a time.
    pub fn work(self, items: usize) -> Option<u64> {
        match self {
            Self::Work(work) => Some(work),
            Self::Effort(effort) => Some(effort_work(effort, items)),
            Self::Time(_) => None,
        }
    }
}

/// Problems with fewer items get as much: even a few pieces have several arrangements to look at.
const FEW: usize = 16;

/// Candidates an effort may evaluate: in proportion to the items, with a floor for small problems. Measured on the demo
/// cloths, see `benches/README.md`.
fn effort_work(effort: Effort, items: usize) -> u64 {
    let for_each_item = match effort {
        Effort::Quick => 40_000,
        Effort::Normal => 450_000,
        Effort::Thorough => 3_000_000,
    };
    for_each_item * items.max(FEW) as u64
}
