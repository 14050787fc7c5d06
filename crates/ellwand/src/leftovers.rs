//! What a plan leaves, kept in a stash for other jobs.

use std::path::Path;

use ellwand_files::{Kept, KeptPiece, Limits, OutputFolder, kept_in};
use ellwand_garment::{Job, Leftover, Rounding, Shrinkage, design_on, is_of_use, write_length};
use ellwand_planner::{ClothPlan, JobPlan};

use crate::{exit::Failure, input};

/// Refuses to keep what is left of a cloth of which only a part is planned: what is cut for the roles `left_out` lies there too.
pub(crate) fn refuse_a_part(job: &Job, roles: &[String], left_out: &[String]) -> Result<(), Failure> {
    let name = |role: &String| job.fabric(role).map(|fabric| fabric.cloth.name.as_str());
    let both = roles.iter().find_map(|role| Some((role, left_out.iter().find(|other| name(other) == name(role))?)));
    both.map_or(Ok(()), |(role, other)| {
        let cloth = name(role).unwrap_or_default();
        Err(Failure::Input(format!(
            "error: \"{cloth}\" is cut for {role} and for {other}, which --fabric leaves out, so what is left of it cannot be told\nhelp: plan both, or leave --leftovers out"
        )))
    })
}

/// Refuses a file that is there and is no stash, and one of which another job is cut from what `job` left of the cloths of `roles`, before anything is
/// searched for it.
pub(crate) fn refuse_other_files(path: &Path, job: &Job, roles: &[String], limits: &Limits) -> Result<(), Failure> {
    let cloths = roles.iter().filter_map(|role| Some(job.fabric(role)?.cloth.name.clone())).collect();
    let nothing_yet = Kept { job: job.name.clone(), cloths, ..Kept::default() };
    kept_in(path, &nothing_yet, limits).map(drop).map_err(|faults| input::failure(&faults))
}

/// Writes what the plan leaves into the stash at `path`, whole or not at all. Of several jobs that do so at once each finds what the others wrote.
pub(crate) fn keep(path: &Path, job: &Job, plan: &JobPlan, limits: &Limits) -> Result<(), Failure> {
    let name = path.file_name().ok_or_else(|| Failure::NotWritten(format!("{} is no file", path.display())))?;
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    // Whatever stands against it now came while the job was planned.
    let changed = OutputFolder::new(folder).write_changed(|output| {
        let text = kept_in(path, &made(job, plan), limits).map_err(|faults| input::failure(&faults).not_kept())?;
        output.add(name.to_string_lossy(), text);
        Ok(())
    });
    changed.map(drop)
}

fn made(job: &Job, plan: &JobPlan) -> Kept {
    let name = |cloth: &ClothPlan| cloth.layout().cloth.name.clone();
    let left_of = |cloth: &ClothPlan| -> Vec<KeptPiece> {
        let left = cloth.leftovers(job.units);
        // What nobody could lay is not kept.
        let left = left.iter().filter(|rectangle| is_of_use(cloth.layout(), rectangle));
        left.map(|rectangle| left_over(cloth, rectangle, job)).collect()
    };
    let used =
        plan.cloths.iter().filter_map(|cloth| Some((name(cloth), cloth.layout().cloth.remnant.as_ref()?.name.clone())));
    let mut cloths: Vec<String> = plan.cloths.iter().map(name).collect();
    cloths.dedup();
    Kept { job: job.name.clone(), cloths, left: plan.cloths.iter().flat_map(left_of).collect(), used: used.collect() }
}

fn left_over(cloth: &ClothPlan, rectangle: &Leftover, job: &Job) -> KeptPiece {
    let units = job.units;
    let say = |mm: f64| write_length(mm, units, Rounding::Down);
    let offset = |mm: f64| write_length(mm, units, Rounding::Nearest);
    KeptPiece {
        cloth: cloth.layout().cloth.name.clone(),
        width: say(rectangle.across),
        length: say(rectangle.along),
        // What a remnant leaves was washed with it, though the remnant itself shrinks no more.
        washed: job.fabric(&cloth.fabric.role).is_some_and(|fabric| fabric.shrinkage != Shrinkage::default()),
        offsets: design_on(cloth.layout(), rectangle).map(|known| known.map(offset)),
    }
}
