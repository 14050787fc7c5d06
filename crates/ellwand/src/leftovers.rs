//! What a plan leaves, kept in a stash for other jobs.

use std::path::Path;

use ellwand_files::{Kept, KeptPiece, Limits, OutputFolder, kept_in};
use ellwand_garment::{CutEnd, Design, DesignAxis, Job, LeftEdge, Leftover, Rounding, Units, write_length};
use ellwand_planner::{ClothPlan, JobPlan};

use crate::{exit::Failure, input};

/// Refuses a file that is there and is no stash, before anything is searched for it.
pub(crate) fn refuse_other_files(path: &Path, limits: &Limits) -> Result<(), Failure> {
    kept_in(path, &Kept::default(), limits).map(drop).map_err(|faults| input::failure(&faults))
}

/// Writes what the plan leaves into the stash at `path`, whole or not at all.
pub(crate) fn keep(path: &Path, job: &Job, plan: &JobPlan, limits: &Limits) -> Result<(), Failure> {
    let text = kept_in(path, &made(job, plan), limits).map_err(|faults| input::failure(&faults))?;
    let name = path.file_name().ok_or_else(|| Failure::NotWritten(format!("{} is no file", path.display())))?;
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut output = OutputFolder::new(folder);
    output.add(name.to_string_lossy(), text);
    output.write().map(drop).map_err(|fault| Failure::NotWritten(fault.to_string()))
}

fn made(job: &Job, plan: &JobPlan) -> Kept {
    let name = |cloth: &ClothPlan| cloth.layout().cloth.name.clone();
    let left_of = |cloth: &ClothPlan| -> Vec<KeptPiece> {
        let left = cloth.leftovers(job.units);
        left.iter().map(|rectangle| left_over(cloth, rectangle, job.units)).collect()
    };
    let used =
        plan.cloths.iter().filter_map(|cloth| Some((name(cloth), cloth.layout().cloth.remnant.as_ref()?.name.clone())));
    let mut cloths: Vec<String> = plan.cloths.iter().map(name).collect();
    cloths.dedup();
    Kept { job: job.name.clone(), cloths, left: plan.cloths.iter().flat_map(left_of).collect(), used: used.collect() }
}

fn left_over(cloth: &ClothPlan, rectangle: &Leftover, units: Units) -> KeptPiece {
    let say = |mm: f64| write_length(mm, units, Rounding::Down);
    let design = cloth.layout().cloth.design.as_ref();
    let offset = |axis: DesignAxis, low: f64| {
        let repeat = design.filter(|design| is_measured(design, axis))?.repeat(axis)?;
        Some(write_length(repeat.within(repeat.offset - low), units, Rounding::Nearest))
    };
    KeptPiece {
        cloth: cloth.layout().cloth.name.clone(),
        width: say(rectangle.across),
        length: say(rectangle.along),
        offsets: [offset(DesignAxis::Across, rectangle.from_left), offset(DesignAxis::Along, rectangle.from_cut_end)],
    }
}

/// Whether somebody knows where a design lies: on cloth from a roll its place is measured on the layout's own.
fn is_measured(design: &Design, axis: DesignAxis) -> bool {
    match axis {
        DesignAxis::Across => design.left_edge == LeftEdge::Measured,
        DesignAxis::Along => design.cut_end == CutEnd::Measured,
    }
}
