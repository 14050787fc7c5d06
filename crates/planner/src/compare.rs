//! The same cloth of a job on several widths, narrow to wide, each width keeping the narrower answers as candidates.

use ellwand_garment::{Job, Layout, Pattern};
use ellwand_nest::Regions;

use crate::{
    ClothPlan, Options, PlanError, Progress,
    cloth::plan_ways,
    job::{searches, shared},
    matching_cost::Weighing,
};

/// One width of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct WidthPlan {
    /// Full width as bought, mm.
    pub width: f64,
    /// The answer, or why the cloth of this width will not do.
    pub answer: Result<ClothPlan, PlanError>,
}

/// Plans the cloth of `role` on each of `widths` (full width as bought, mm), returned narrow to wide. Everything else about
/// the cloth stays as the job says; wider cloth never comes out longer, because the layouts of narrower cloth stay
/// candidates.
///
/// # Errors
///
/// A fault of the program, or of the job whatever the width. A width that is too narrow is an entry with its reason.
pub fn compare_widths(
    job: &Job,
    pattern: &Pattern,
    role: &str,
    widths: &[f64],
    options: &Options,
    progress: &dyn Progress,
) -> Result<Vec<WidthPlan>, PlanError> {
    let mut widths = widths.to_vec();
    widths.sort_by(f64::total_cmp);
    widths.dedup();
    let options = shared(options, widths.len() * searches(job, &[role.to_owned()]));
    let mut known: Vec<Layout> = Vec::new();
    let regions = Regions::default();
    let mut plans = Vec::with_capacity(widths.len());
    for width in widths {
        let job = on_width(job, role, width);
        let answer_of = |job: &Job| {
            let plan = plan_ways(job, pattern, role, &known, &options, progress, &regions)?;
            let weighing = Weighing { pattern, role, options: &options, progress, regions: &regions };
            Ok(weighing.settle_wishes(job, plan)?.1)
        };
        let answer = match answer_of(&job) {
            Err(fault) if !is_of_the_width(&fault) => return Err(fault),
            answer => answer,
        };
        known.extend(answer.iter().flat_map(ClothPlan::layouts).cloned());
        plans.push(WidthPlan { width, answer });
    }
    Ok(plans)
}

/// Whether cloth of another width might do.
fn is_of_the_width(fault: &PlanError) -> bool {
    matches!(fault, PlanError::TooNarrow(_) | PlanError::NoPlaceOnDesign { .. } | PlanError::NoCommonPhase { .. })
}

/// `job` with the cloth of `role` bought `width` mm wide.
pub fn on_width(job: &Job, role: &str, width: f64) -> Job {
    let mut job = job.clone();
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == role) {
        fabric.cloth.width = width * (1.0 - fabric.shrinkage.across);
    }
    job
}
