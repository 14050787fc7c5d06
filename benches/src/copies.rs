//! Many copies of a garment as one strip problem.

use std::path::Path;

use ellwand_files::{Limits, ReadJob, read_job};
use ellwand_garment::{Question, Way};
use ellwand_nest::Problem;
use ellwand_planner::strip_problem;

/// The open cloth of `role` of a job file as the search sees it.
///
/// # Errors
///
/// The faults of the job, or those of the question.
pub fn garment(job: &Path, role: &str) -> Result<Problem, Box<dyn std::error::Error>> {
    let ReadJob { job, pattern, .. } = read_job(job, &Limits::default()).map_err(|faults| faults.to_string())?;
    Ok(strip_problem(&Question::of(&job, &pattern, role, Way::Open)?)?)
}

/// `garment` with `count` items: whole copies of it, and for the rest items taken evenly from its list, so that every size is
/// about the same mixture.
pub fn copies(garment: &Problem, count: usize) -> Problem {
    let each = garment.items.len();
    let rest = count % each;
    let whole = (0..count - rest).map(|k| k % each);
    let items = whole.chain((0..rest).map(|k| k * each / rest)).map(|k| garment.items[k].clone()).collect();
    Problem { items, ..garment.clone() }
}

/// Area of all items over the area of a strip of `length`, per cent.
pub fn density(problem: &Problem, length: f64) -> f64 {
    let area: f64 = problem.items.iter().map(|item| problem.shapes[item.shape].area()).sum();
    100.0 * area / (length * (problem.right - problem.left))
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{Outline, Pose};
    use ellwand_nest::{AllowedPose, Item};

    use super::*;

    #[test]
    fn every_size_is_about_the_same_mixture() {
        let poses = vec![AllowedPose::anywhere(Pose::AS_DRAWN)];
        let garment = Problem {
            left: 0.0,
            right: 500.0,
            shapes: vec![Outline::rectangle(100.0, 100.0).unwrap(); 4],
            items: (0..4).map(|shape| Item { shape, poses: poses.clone() }).collect(),
            obstacles: Vec::new(),
            gap: 0.0,
            phases: Vec::new(),
        };
        let shapes = |count| copies(&garment, count).items.iter().map(|item| item.shape).collect::<Vec<_>>();
        assert_eq!(shapes(2), [0, 2]);
        assert_eq!(shapes(10), [0, 1, 2, 3, 0, 1, 2, 3, 0, 2]);
        assert_eq!(density(&copies(&garment, 10), 250.0), 80.0);
    }
}
