//! How to plan: seed, budget and threads, and who listens.

use ellwand_garment::{Arrangement, Nap, Way};
use ellwand_nest::{Budget, Clock, Effort, Event, Observer};

/// How to plan a job.
#[derive(Debug, Clone)]
pub struct Options {
    /// Seed of every random choice.
    pub seed: u64,
    /// How much to search. Work is counted a search; a time is for the whole job and is shared between its searches.
    pub budget: Budget,
    /// Threads to use, 1 or more; the answer does not depend on it unless the budget is a time.
    pub threads: usize,
    /// Where the time is read. Without a clock no budget can be a time, and records tell no seconds.
    pub clock: Clock,
    /// How the pieces of like questions lie, such as those of the same garment in the next size: of those for the same way of laying the first is
    /// what a search begins near. They bind nobody, and the answer depends on them.
    pub near: Vec<Arrangement>,
}

impl Default for Options {
    fn default() -> Self {
        Self { seed: 1, budget: Budget::Effort(Effort::Normal), threads: 2, clock: Clock::default(), near: Vec::new() }
    }
}

/// A budget as the layout record names it: "normal", "time limit 30 s".
pub(crate) fn budget_name(budget: Budget) -> String {
    match budget {
        Budget::Effort(Effort::Quick) => "quick".into(),
        Budget::Effort(Effort::Normal) => "normal".into(),
        Budget::Effort(Effort::Thorough) => "thorough".into(),
        Budget::Work(work) => format!("{work} positions"),
        Budget::Time(time) => format!("time limit {} s", time.as_secs_f64()),
    }
}

/// One search of a job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stage {
    /// The role of the cloth.
    pub role: String,
    /// How it lies.
    pub way: Way,
    /// Whether this search treats the cloth as napped.
    pub nap: Nap,
}

/// Listens to the planning of a job and may stop it. Called from the searching threads.
pub trait Progress: Sync {
    /// A search begins.
    fn stage(&self, stage: &Stage) {
        let _ = stage;
    }

    /// Something happened in the search at hand.
    fn event(&self, event: &Event) {
        let _ = event;
    }

    /// Asked often; `true` ends every search with the best so far.
    fn should_stop(&self) -> bool {
        false
    }
}

/// Hears nothing and never stops.
#[derive(Debug, Clone, Copy, Default)]
pub struct Unheard;

impl Progress for Unheard {}

/// Hands the events of one search on.
pub(crate) struct Listener<'p>(pub(crate) &'p dyn Progress);

impl Observer for Listener<'_> {
    fn event(&self, event: &Event) {
        self.0.event(event);
    }

    fn should_stop(&self) -> bool {
        self.0.should_stop()
    }
}

/// Hands on when to stop, and nothing of what is found: a look at a part of a layout, or at one of several, would tell lengths that are nobody's answer.
pub(crate) struct Unsaid<'p>(pub(crate) &'p dyn Progress);

impl Observer for Unsaid<'_> {
    fn should_stop(&self) -> bool {
        self.0.should_stop()
    }
}
