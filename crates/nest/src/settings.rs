//! How long to search, from which seed, and what is told on the way.

use std::time::Duration;

use crate::{Bound, Clock, Packing};

/// How to search.
#[derive(Debug, Clone)]
pub struct Settings {
    /// Seed of every random choice.
    pub seed: u64,
    /// When to stop.
    pub budget: Budget,
    /// Threads to use, 1 or more; without the feature `threads` it is one. The answer does not depend on it unless the budget is time.
    pub threads: usize,
    /// A packing already known, to be improved on; the answer is never longer. It counts when every item stands as the problem allows; that its
    /// shapes do not overlap the caller vouches for. Where poses may be tilted it stands for what a search without tilts would find.
    pub known: Option<Packing>,
    /// Where the items of a like problem stood, such as the same garment in the next size. The search begins with everything near there and moved
    /// apart, where that is shorter than what it would begin with. Nothing is asked of it: items may overlap, stand where they may not, or be
    /// of other poses.
    pub near: Option<Packing>,
    /// A length that is short enough: a packing no longer than this ends the search. 0 for none.
    pub enough: f64,
    /// How hard to try to prove that nothing shorter exists.
    pub proof: Proof,
    /// Where the time is read.
    pub clock: Clock,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            seed: 1,
            budget: Budget::Effort(Effort::Normal),
            threads: 2,
            known: None,
            near: None,
            enough: 0.0,
            proof: Proof::Best,
            clock: Clock::default(),
        }
    }
}

/// When to stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Budget {
    /// A measure of work that grows with the problem, twice as much where poses may be tilted and no packing is known; repeatable.
    Effort(Effort),
    /// A count of evaluated candidate positions over all lanes; repeatable.
    Work(u64),
    /// Wall time, the start included; two runs may differ.
    Time(Duration),
}

/// How hard a search tries to prove that nothing shorter exists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// By every argument there is; what a bound that is told deserves.
    Best,
    /// By the area and the longest item alone, which takes no time: for many short searches whose bounds nobody reads.
    Simple,
}

/// Named amounts of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effort {
    /// A first look.
    Quick,
    /// What a layout to cut from deserves.
    Normal,
    /// When cloth is dear.
    Thorough,
}

/// What a search reports on the way.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Event {
    /// The first packing, largest first at the lowest fit.
    Started {
        /// Its length, mm.
        length: f64,
        /// The proven lower bound, mm.
        bound: f64,
    },
    /// A shorter packing.
    Shorter {
        /// Its length, mm.
        length: f64,
        /// Share of the budget used, 0 to 1.
        progress: f64,
    },
    /// Nothing new, still at work.
    Working {
        /// Share of the budget used, 0 to 1.
        progress: f64,
    },
}

/// Listens to a search and may stop it. Called from the searching threads.
pub trait Observer: Sync {
    /// Something happened.
    fn event(&self, event: &Event) {
        let _ = event;
    }

    /// Asked often; `true` ends the search with the best so far.
    fn should_stop(&self) -> bool {
        false
    }
}

/// An observer that hears nothing and never stops.
#[derive(Debug, Clone, Copy, Default)]
pub struct Silent;

impl Observer for Silent {}

/// The end of a search.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// The shortest packing found.
    pub best: Packing,
    /// The packing it began from: largest first, lowest fit.
    pub start: Packing,
    /// The proven lower bound.
    pub bound: Bound,
    /// Why it ended.
    pub ended: Ended,
    /// Candidate positions evaluated.
    pub work: u64,
    /// Boards on which overlap was driven towards zero.
    pub separations: u64,
    /// Length over work and time: `start` first, `best` last, each shorter than the one before.
    pub trace: Vec<Gain>,
}

/// A moment of a search at which its shortest packing became shorter, as seen at the next exchange of its lanes.
///
/// Unless the budget is a time, length and work are the same on every run; the seconds never are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// Candidate positions evaluated until then.
    pub work: u64,
    /// Wall time since the search began, the start included, s; 0 without a clock.
    pub seconds: f64,
    /// The new length, mm.
    pub length: f64,
}

/// Why a search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// The packing is as short as the lower bound: nothing shorter exists.
    ShortestPossible,
    /// The packing is as short as the caller asked for.
    ShortEnough,
    /// The budget is used up.
    BudgetSpent,
    /// The observer said stop.
    Stopped,
}
