//! How much of the budget is used, in work or in time.

use std::time::Duration;

use crate::{Budget, Clock, Effort, NestError};

/// Candidates all lanes evaluate between two exchanges, at most.
const LONGEST_LEG: u64 = 400_000;
/// Exchanges over a whole budget, at least.
const FEWEST_LEGS: u64 = 40;
/// What the start may always take: nobody minds the wait, and without it a stopped search would have little to show.
const UNHURRIED: Duration = Duration::from_secs(1);

/// Measures one search's budget.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Meter {
    clock: Clock,
    began: Option<Duration>,
    limit: Limit,
}

#[derive(Debug, Clone, Copy)]
enum Limit {
    Work(u64),
    Time(Duration),
}

/// A part of the budget, as shares of the whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Part {
    pub(crate) from: f64,
    pub(crate) until: f64,
}

impl Part {
    pub(crate) const WHOLE: Self = Self { from: 0.0, until: 1.0 };
    pub(crate) const FIRST_HALF: Self = Self { from: 0.0, until: 0.5 };
    pub(crate) const SECOND_HALF: Self = Self { from: 0.5, until: 1.0 };

    /// What share of the part a share of the whole is.
    pub(crate) fn within(self, of_whole: f64) -> f64 {
        (of_whole - self.from) / (self.until - self.from)
    }

    /// What share of the whole a share of the part is.
    pub(crate) fn of_whole(self, within: f64) -> f64 {
        self.from + within * (self.until - self.from)
    }
}

impl Meter {
    /// Begins to measure a search of `items` that may spend the budget so many `times` over where it is an effort.
    ///
    /// # Errors
    ///
    /// [`NestError::NoClock`] when the budget is a time and there is no clock.
    pub(crate) fn start(budget: Budget, clock: Clock, items: usize, times: u64) -> Result<Self, NestError> {
        let began = clock.now();
        let limit = match budget {
            Budget::Work(work) => Limit::Work(work),
            Budget::Effort(effort) => Limit::Work(times * effort_work(effort, items)),
            Budget::Time(_) if began.is_none() => return Err(NestError::NoClock),
            Budget::Time(time) => Limit::Time(time),
        };
        Ok(Self { clock, began, limit })
    }

    /// Time since the search began; `None` without a clock.
    pub(crate) fn elapsed(&self) -> Option<Duration> {
        Some(self.clock.now()?.saturating_sub(self.began?))
    }

    /// Share of the budget used after `work` candidates; 1 or more when it is spent.
    pub(crate) fn progress(&self, work: u64) -> f64 {
        match self.limit {
            Limit::Work(total) => work as f64 / total.max(1) as f64,
            Limit::Time(time) => {
                self.elapsed().map_or(1.0, |passed| passed.as_secs_f64() / time.as_secs_f64().max(1e-9))
            }
        }
    }

    /// Candidates until the next exchange, over all lanes, in a part of the budget.
    pub(crate) fn leg(&self, part: Part) -> u64 {
        match self.limit {
            Limit::Work(total) => {
                let share = part.until - part.from;
                LONGEST_LEG.min((total as f64 * share) as u64 / FEWEST_LEGS)
            }
            Limit::Time(_) => LONGEST_LEG,
        }
    }

    /// Whether the budget is time and `share` of it is over.
    pub(crate) fn out_of_time(&self, share: f64) -> bool {
        match self.limit {
            Limit::Work(_) => false,
            Limit::Time(time) => self.elapsed().is_none_or(|passed| passed >= time.mul_f64(share)),
        }
    }

    /// Whether the start has had the time that it may always take; without a clock it always has.
    pub(crate) fn may_hurry(&self) -> bool {
        self.elapsed().is_none_or(|passed| passed > UNHURRIED)
    }
}

impl Budget {
    /// The candidate positions that a search of `items` items without tilts may evaluate; `None` for a time.
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
