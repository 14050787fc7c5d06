//! The cloths that the parts of a job may be made of, each with the whole job read as it is then.

use std::path::Path;

use ellwand_files::{Candidates, Change, ReadJob, ReadOptions};
use ellwand_garment::{Fabric, Job, Pattern};
use ellwand_planner::{Case, CaseAnswer, JobPlan, Options, Progress, plan_cases};
use ellwand_report::{Candidate, Considered, Impossible};

use crate::{exit::Failure, input};

/// A part made of one of its candidates.
struct WithCandidate {
    role: String,
    /// The candidate as it is listed.
    fabric: Fabric,
    /// The job with it; what is made to fit the cloth may not fit this one.
    made: Result<(Job, Pattern), Impossible>,
}

/// One way to make the garment: a view and choices, with the job as it is then and with each candidate.
pub(crate) struct Way {
    /// In words, such as "view B, pocket welt"; empty for the job as it stands.
    pub(crate) said: String,
    base: (Job, Pattern),
    of_candidates: Vec<WithCandidate>,
}

impl Way {
    /// Reads the job at `path` with `changes`, and with each candidate of the parts asked about.
    pub(crate) fn read(
        path: &Path,
        reading: ReadOptions,
        asked: &[Candidates],
        said: String,
        changes: Vec<Change>,
    ) -> Result<Self, Failure> {
        let base = input::read_changed_job(path, reading, &changes)?;
        let with = |role: &str, index: usize, fabric: &Fabric| {
            let change = Change::Candidate { role: role.to_owned(), index };
            let changes: Vec<Change> = changes.iter().cloned().chain([change]).collect();
            let made = input::read_thought_of(path, reading, &changes).map(|read| (read.job, read.pattern));
            WithCandidate { role: role.to_owned(), fabric: fabric.clone(), made }
        };
        let of_candidates = (asked.iter())
            .flat_map(|Candidates { role, cloths }| {
                cloths.iter().enumerate().map(|(index, fabric)| with(role, index, fabric)).collect::<Vec<_>>()
            })
            .collect();
        Ok(Self { said, base: (base.job, base.pattern), of_candidates })
    }

    /// The job with its own cloths.
    pub(crate) fn base(&self) -> Case<'_> {
        Case { job: &self.base.0, pattern: &self.base.1 }
    }

    /// The job with each candidate that makes one.
    pub(crate) fn others(&self) -> impl Iterator<Item = Case<'_>> {
        let made = self.of_candidates.iter().filter_map(|with| with.made.as_ref().ok());
        made.map(|(job, pattern)| Case { job, pattern })
    }

    /// The cloths of each part with their answers: `own` for the job with its own cloths, and those of [`Way::others`] in their order.
    pub(crate) fn considered(
        &self,
        asked: &[Candidates],
        own: Option<CaseAnswer>,
        others: &mut impl Iterator<Item = CaseAnswer>,
    ) -> Vec<Considered> {
        let own = own.unwrap_or_else(|| Err(Vec::new())).map_err(Impossible::from);
        let (job, _) = &self.base;
        let mut considered: Vec<Considered> = (asked.iter())
            .map(|Candidates { role, .. }| {
                let first = job.fabric(role).map(|fabric| Candidate { fabric: fabric.clone(), answer: own.clone() });
                Considered { role: role.clone(), cloths: first.into_iter().collect() }
            })
            .collect();
        for WithCandidate { role, fabric, made } in &self.of_candidates {
            let (fabric, answer) = match made {
                Ok((job, _)) => {
                    let Some(answer) = others.next() else { break };
                    (job.fabric(role).unwrap_or(fabric), answer.map_err(Impossible::from))
                }
                Err(why) => (fabric, Err(why.clone())),
            };
            if let Some(one) = considered.iter_mut().find(|one| one.role == *role) {
                one.cloths.push(Candidate { fabric: fabric.clone(), answer });
            }
        }
        considered
    }
}

/// The candidates of the parts `chosen`, or of all that have some.
pub(crate) fn of_parts(base: &ReadJob, chosen: &[String]) -> Vec<Candidates> {
    let is_asked = |of: &&Candidates| !of.cloths.is_empty() && (chosen.is_empty() || chosen.contains(&of.role));
    base.candidates.iter().filter(is_asked).cloned().collect()
}

/// The cloths of each part of a job that was planned, the candidates planned as it was.
pub(crate) fn beside(
    path: &Path,
    read: &ReadJob,
    reading: ReadOptions,
    (own, options, chosen): (&JobPlan, &Options, &[String]),
    progress: &dyn Progress,
) -> Result<Vec<Considered>, Failure> {
    let asked = of_parts(read, chosen);
    let way = Way::read(path, reading, &asked, String::new(), Vec::new())?;
    let cases: Vec<Case<'_>> = way.others().collect();
    let answers = plan_cases(&cases, chosen, options, progress)
        .map_err(|fault| input::plan_failure(path, &[fault], &read.places, read.job.units))?;
    Ok(way.considered(&asked, Some(Ok(own.clone())), &mut answers.into_iter()))
}
