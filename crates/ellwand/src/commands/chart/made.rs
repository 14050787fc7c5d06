//! The cells of a table: found in the folder, or searched and kept there, run by run.

use std::{io, thread, time::Duration};

use ellwand_files::{Cell, CellFolder, CellName, KeptCell, LaidCell, ReadJob};
use ellwand_garment::{Arrangement, Job, Layout, LowerBound, Pattern, SearchNote};
use ellwand_planner::{Case, Found, Options, PlanError, asked, check_job, laid_as, plan_cases};
use ellwand_report::reason;

use super::{
    asked::{Asked, At},
    meter::ChartMeter,
};
use crate::{args::ChartArgs, exit::Failure};

/// How long to wait until a run is looked at again that another program makes.
const WAIT: Duration = Duration::from_millis(200);

/// A table with its folder.
pub(super) struct Making<'a> {
    pub(super) args: &'a ChartArgs,
    pub(super) base: &'a ReadJob,
    pub(super) asked: &'a Asked,
    pub(super) cells: &'a CellFolder,
    pub(super) options: &'a Options,
    /// Work and seed in words: what is found depends on them.
    pub(super) note: &'a SearchNote,
}

/// One cell with its case.
pub(super) struct Made {
    pub(super) at: At,
    pub(super) job: Job,
    pub(super) pattern: Pattern,
    pub(super) name: CellName,
    pub(super) found: Found,
}

/// How the cells of a run were come by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum From {
    /// What is missing is searched, unless another program does so.
    Search,
    /// What is missing stays so.
    Folder,
}

impl Making<'_> {
    /// The cells of every run, in their order; runs that others make are waited for.
    pub(super) fn all(&self, runs: &[Vec<At>], from: From, meter: &ChartMeter) -> Result<Vec<Made>, Failure> {
        let mut made: Vec<Option<Vec<Made>>> = runs.iter().map(|_| None).collect();
        loop {
            let mut waits = false;
            for (run, made) in runs.iter().zip(&mut made).filter(|(_, made)| made.is_none()) {
                *made = self.run(run, from, meter)?;
                waits |= made.is_none();
            }
            if !waits {
                return Ok(made.into_iter().flatten().flatten().collect());
            }
            if meter.is_stopped() {
                let rest = runs.iter().zip(made).map(|(run, made)| made.map_or_else(|| self.looked_up(run, meter), Ok));
                return Ok(rest.collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect());
            }
            thread::sleep(WAIT);
        }
    }

    /// The cells of a run; none when another program is making them.
    fn run(&self, run: &[At], from: From, meter: &ChartMeter) -> Result<Option<Vec<Made>>, Failure> {
        let made = self.looked_up(run, meter)?;
        let unfinished = |made: &[Made]| made.iter().any(|made| made.found == Found::Unfinished);
        if from == From::Folder || meter.is_stopped() || !unfinished(&made) {
            return Ok(Some(made));
        }
        let Some(first) = made.first() else { return Ok(Some(made)) };
        let Some(_taken) = self.cells.take(&first.name).map_err(|fault| self.not_written(&fault))? else {
            return Ok(None);
        };
        // Another program may have made them just before.
        let mut made = self.looked_up(run, meter)?;
        for k in 0..made.len() {
            if made[k].found == Found::Unfinished {
                let near = made[..k].last().and_then(|before| before.layout()).map(Arrangement::of);
                made[k].found = self.searched(&made[k], near, meter)?;
                if meter.is_stopped() {
                    break;
                }
            }
        }
        Ok(Some(made))
    }

    /// The cells of a run as far as they are in the folder.
    fn looked_up(&self, run: &[At], meter: &ChartMeter) -> Result<Vec<Made>, Failure> {
        let mut all: Vec<Made> = Vec::with_capacity(run.len());
        for &at in run {
            let (job, pattern) = self.asked.case(at, self.args, self.base)?;
            let title = self.asked.title(at, self.base);
            let role = &self.asked.groups[at.group].role;
            let case = Case { job: &job, pattern: &pattern };
            let depends =
                |text: &str| format!("{}\n{}\n{}\n{text}", env!("CARGO_PKG_VERSION"), self.note.effort, self.note.seed);
            let (text, refused) = match asked(&case, role) {
                Ok(text) => (text, check_job(&job, &pattern, std::slice::from_ref(role))),
                Err(fault) => (String::new(), vec![fault]),
            };
            let name = CellName::of(&title, &depends(&text), all.last().map(|before| &before.name));
            let found = match refused.first() {
                Some(fault) => Found::Impossible(reason(fault, job.units)),
                None => self.kept(&name, &case, role, meter)?,
            };
            all.push(Made { at, job, pattern, name, found });
        }
        Ok(all)
    }

    /// What the folder has of a cell. A damaged file is told and counts as none.
    fn kept(&self, name: &CellName, case: &Case<'_>, role: &str, meter: &ChartMeter) -> Result<Found, Failure> {
        match self.cells.find(name).map_err(|fault| self.not_written(&fault))? {
            KeptCell::Nothing => Ok(Found::Unfinished),
            KeptCell::Whole(cell) => {
                let found = match *cell {
                    Cell::Impossible { reason, .. } => return Ok(Found::Impossible(reason)),
                    Cell::Laid(ref laid) => self.laid(laid, case, role),
                };
                Ok(found.map_or_else(
                    || {
                        let what = format!("the kept cell \"{}\" does not answer its own question", cell.title());
                        meter.tell_once(&what, "it is made anew");
                        Found::Unfinished
                    },
                    |layout| Found::Layout(Box::new(layout)),
                ))
            }
            KeptCell::Damaged { file, reason } => {
                meter.tell_once(&format!("the cell in {} is damaged: {reason}", file.display()), "it is made anew");
                Ok(Found::Unfinished)
            }
        }
    }

    /// The layout of a cell, judged anew.
    fn laid(&self, cell: &LaidCell, case: &Case<'_>, role: &str) -> Option<Layout> {
        laid_as(case, role, &cell.given_up, &cell.arrangement, &cell.bound, self.note)
    }

    /// Searches a cell, begun near a layout of its neighbour, and keeps it.
    fn searched(&self, made: &Made, near: Option<Arrangement>, meter: &ChartMeter) -> Result<Found, Failure> {
        let role = &self.asked.groups[made.at.group].role;
        let title = self.asked.title(made.at, self.base);
        meter.begins(&title);
        let case = Case { job: &made.job, pattern: &made.pattern };
        let options = Options { near: near.into_iter().collect(), ..self.options.clone() };
        let bug = |fault: &PlanError| Failure::Bug(format!("{title}: error: {fault}"));
        let answers = plan_cases(&[case], std::slice::from_ref(role), &options, meter).map_err(|fault| bug(&fault))?;
        // What was ended early is not what the others got.
        if meter.is_stopped() {
            return Ok(Found::Unfinished);
        }
        let plan = match answers.into_iter().next() {
            Some(Ok(plan)) => plan,
            Some(Err(faults)) => {
                meter.ended();
                let why = faults.first().map_or_else(String::new, |fault| reason(fault, made.job.units));
                let cell = Cell::Impossible { title, reason: why.clone() };
                self.cells.keep(&made.name, &cell).map_err(|fault| self.not_written(&fault))?;
                return Ok(Found::Impossible(why));
            }
            None => return Ok(Found::Unfinished),
        };
        let Some(layout) = plan.cloths.first().map(|cloth| cloth.layout()) else { return Ok(Found::Unfinished) };
        let LowerBound { length, reason } = layout.lower_bound.clone();
        let cell = LaidCell {
            title: title.clone(),
            arrangement: Arrangement::of(layout),
            bound: LowerBound { length, reason },
            given_up: layout.given_up.clone(),
        };
        let layout = self.laid(&cell, &case, role).ok_or_else(|| {
            Failure::Bug(format!("{title}: error: the layout found cannot be laid again; please report this"))
        })?;
        self.cells.keep(&made.name, &Cell::Laid(cell)).map_err(|fault| self.not_written(&fault))?;
        meter.ended();
        Ok(Found::Layout(Box::new(layout)))
    }

    fn not_written(&self, fault: &io::Error) -> Failure {
        let folder = self.cells.path().display();
        Failure::NotWritten(format!(
            "{folder}: the cells of the table cannot be kept: {fault}; those that are there stay"
        ))
    }
}

impl Made {
    fn layout(&self) -> Option<&Layout> {
        match &self.found {
            Found::Layout(layout) => Some(layout),
            Found::Impossible(_) | Found::Unfinished => None,
        }
    }
}
