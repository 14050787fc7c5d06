//! A job, step by step.

use super::FabricBuilder;
use crate::{InputFaults, Job, Pattern, Spending, Units, valid::job_faults};

/// A job being made.
#[derive(Debug, Clone)]
#[must_use]
pub struct JobBuilder<'p> {
    pattern: &'p Pattern,
    job: Job,
    fabrics: Vec<FabricBuilder>,
}

impl Job {
    /// Begins a job called `name` that makes the first view of `pattern` and tells its lengths in `units`. It needs a fabric for every
    /// role of the view.
    pub fn of(pattern: &Pattern, name: impl Into<String>, units: Units) -> JobBuilder<'_> {
        let job = Job {
            name: name.into(),
            pattern: pattern.name.clone(),
            view: pattern.views.first().map_or_else(String::new, |view| view.name.clone()),
            size: pattern.size.clone(),
            units,
            fabrics: Vec::new(),
            spending: Spending::default(),
        };
        JobBuilder { pattern, job, fabrics: Vec::new() }
    }
}

impl JobBuilder<'_> {
    /// The view to make.
    pub fn view(mut self, name: impl Into<String>) -> Self {
        self.job.view = name.into();
        self
    }

    /// The cloth for one more role.
    pub fn fabric(mut self, fabric: FabricBuilder) -> Self {
        self.fabrics.push(fabric);
        self
    }

    /// What is bought beside the cloth, and the budget; nothing when left out.
    pub fn spending(mut self, spending: Spending) -> Self {
        self.job.spending = spending;
        self
    }

    /// The job.
    ///
    /// # Errors
    ///
    /// Every fault of the job and of all its cloths at once; the pattern's own faults aside, which its builder tells.
    pub fn build(self) -> Result<Job, InputFaults> {
        let Self { pattern, mut job, fabrics } = self;
        job.fabrics = fabrics.into_iter().map(|fabric| fabric.finish(job.units)).collect();
        InputFaults::or(job_faults(pattern, &job), job)
    }
}
