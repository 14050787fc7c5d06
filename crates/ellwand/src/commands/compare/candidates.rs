//! The cloths that the parts of a job may be made of, each with the whole job planned.

use std::io::Write;

use ellwand_files::{Candidates, Change, ReadJob};
use ellwand_garment::{Job, Pattern};
use ellwand_planner::{Case, CaseAnswer, plan_cases};
use ellwand_report::{Candidate, Considered, candidates_text, lay_word, reason, total};

use crate::{
    args::{Choices, CompareArgs},
    exit::Failure,
    input,
    interrupt::Interrupt,
    progress::{Meter, Show},
    settings,
};

/// One way to make the garment: a view and choices, with the job as it is then and with each candidate.
struct Way {
    /// In words, such as "view B, pocket welt"; empty for the job as it stands.
    said: String,
    base: (Job, Pattern),
    of_candidates: Vec<(String, Job, Pattern)>,
}

/// Compares and prints.
pub(super) fn run(args: &CompareArgs, base: &ReadJob, show: Show, out: &mut impl Write) -> Result<(), Failure> {
    let asked = asked(args, base)?;
    let ways: Vec<Way> =
        ways(args).into_iter().map(|(said, changes)| way(args, &asked, said, changes)).collect::<Result<_, _>>()?;
    let cases: Vec<Case<'_>> = ways.iter().flat_map(Way::cases).collect();
    let meter = Meter::new(show, base.job.units, Interrupt::listen());
    let answers = plan_cases(&cases, &[], &settings::options(&args.search), &meter);
    meter.finish();
    let mut answers =
        answers.map_err(|fault| input::plan_failure(&args.job, &[fault], &base.places, base.job.units))?.into_iter();
    let compared: Vec<(String, Vec<Considered>)> =
        ways.iter().map(|way| (way.said.clone(), way.considered(&asked, &mut answers))).collect();
    if args.json {
        writeln!(out, "{}", record(&base.job, &compared))?;
    } else if !args.search.quiet {
        write!(out, "{}", candidates_text(&base.job, &compared))?;
    }
    Ok(())
}

/// Every view with every choice that is asked for, in words and as changes; the job as it stands where nothing is.
fn ways(args: &CompareArgs) -> Vec<(String, Vec<Change>)> {
    let mut ways = vec![(Vec::new(), Vec::new())];
    let mut times = |all: Vec<(String, Change)>| {
        if !all.is_empty() {
            ways = (ways.iter())
                .flat_map(|(said, changes): &(Vec<String>, Vec<Change>)| {
                    all.iter().map(move |(word, change)| {
                        let mut longer = (said.clone(), changes.clone());
                        longer.0.push(word.clone());
                        longer.1.push(change.clone());
                        longer
                    })
                })
                .collect();
        }
    };
    times(args.view.iter().map(|view| (format!("view {view}"), Change::View(view.clone()))).collect());
    for Choices { option, choices } in &args.choice {
        let chosen = |choice: &String| {
            let change = Change::Choice { option: option.clone(), choice: choice.clone() };
            (format!("{option} {choice}"), change)
        };
        times(choices.iter().map(chosen).collect());
    }
    ways.into_iter().map(|(said, changes)| (said.join(", "), changes)).collect()
}

/// Reads a way to make the garment, with each candidate.
fn way(args: &CompareArgs, asked: &[Candidates], said: String, changes: Vec<Change>) -> Result<Way, Failure> {
    let read = |more: Option<Change>| -> Result<(Job, Pattern), Failure> {
        let changes: Vec<Change> = changes.iter().cloned().chain(more).collect();
        let read = input::read_changed_job(&args.job, settings::reading(&args.search), &changes)?;
        Ok((read.job, read.pattern))
    };
    let mut of_candidates = Vec::new();
    for Candidates { role, cloths } in asked {
        for index in 0..cloths.len() {
            let (job, pattern) = read(Some(Change::Candidate { role: role.clone(), index }))?;
            of_candidates.push((role.clone(), job, pattern));
        }
    }
    Ok(Way { said, base: read(None)?, of_candidates })
}

impl Way {
    fn cases(&self) -> impl Iterator<Item = Case<'_>> {
        let own = Case { job: &self.base.0, pattern: &self.base.1 };
        std::iter::once(own).chain(self.of_candidates.iter().map(|(_, job, pattern)| Case { job, pattern }))
    }

    /// The cloths of each part with their answers, which come in the order of the cases.
    fn considered(&self, asked: &[Candidates], answers: &mut impl Iterator<Item = CaseAnswer>) -> Vec<Considered> {
        let own = answers.next().unwrap_or_else(|| Err(Vec::new()));
        let (job, _) = &self.base;
        let mut considered: Vec<Considered> = (asked.iter())
            .map(|Candidates { role, .. }| {
                let first = job.fabric(role).map(|fabric| Candidate { fabric: fabric.clone(), answer: own.clone() });
                Considered { role: role.clone(), cloths: first.into_iter().collect() }
            })
            .collect();
        for ((role, job, _), answer) in self.of_candidates.iter().zip(answers) {
            if let (Some(one), Some(fabric)) = (considered.iter_mut().find(|one| one.role == *role), job.fabric(role)) {
                one.cloths.push(Candidate { fabric: fabric.clone(), answer });
            }
        }
        considered
    }
}

/// The candidates of the parts asked for, or of all that have some.
fn asked(args: &CompareArgs, base: &ReadJob) -> Result<Vec<Candidates>, Failure> {
    let chosen = &args.search.fabrics;
    let is_asked = |of: &&Candidates| !of.cloths.is_empty() && (chosen.is_empty() || chosen.contains(&of.role));
    let mut asked: Vec<Candidates> = base.candidates.iter().filter(is_asked).cloned().collect();
    if asked.is_empty() && !(args.view.is_empty() && args.choice.is_empty()) {
        // The job's own cloth alone, in every view and choice.
        let is_asked = |role: &str| chosen.is_empty() || chosen.iter().any(|of| of == role);
        let first = base.job.fabrics.iter().find(|fabric| is_asked(&fabric.role));
        asked.extend(first.map(|fabric| Candidates { role: fabric.role.clone(), cloths: Vec::new() }));
    }
    if asked.is_empty() {
        let role = chosen.first().or_else(|| base.job.fabrics.first().map(|fabric| &fabric.role));
        let role = role.map_or("main", String::as_str);
        return Err(Failure::Input(format!(
            "{}: error: there is nothing to compare: the job names no candidates; write them as [[fabric.{role}.candidate]] with name, width and nap, \
             or give widths with --width 45in,60in",
            args.job.display()
        )));
    }
    Ok(asked)
}

/// The tables as one JSON object; lengths in mm.
fn record(job: &Job, compared: &[(String, Vec<Considered>)]) -> String {
    let mut rows = Vec::new();
    for (way, one) in compared.iter().flat_map(|(way, considered)| considered.iter().map(move |one| (way, one))) {
        let (standings, tabled) = (one.standings(), one.by_width_table());
        for ((cloth, standing), tabled) in one.cloths.iter().zip(standings).zip(tabled) {
            let fabric = &cloth.fabric;
            let mut row = serde_json::json!({
                "made": way, "fabric": one.role, "name": fabric.cloth.name,
                "width": fabric.cloth.width / (1.0 - fabric.shrinkage.across),
                "by_width_table": tabled,
            });
            let more = match &cloth.answer {
                Ok(plan) => match plan.cloths.iter().find(|cloth| cloth.fabric.role == one.role) {
                    Some(cloth) => {
                        let layout = cloth.layout();
                        let (purchase, total) = (&layout.purchase, total(plan));
                        serde_json::json!({
                            "layers": lay_word(layout), "length": layout.length,
                            "lower_bound": layout.lower_bound.length,
                            "buy": purchase.buy, "buy_text": purchase.buy_text,
                            "cost": purchase.cost.as_ref().map(|cost| cost.amount.to_string()),
                            "currency": purchase.cost.as_ref().and_then(|cost| cost.currency.clone()),
                            "total": total.as_ref().map(|total| total.amount.to_string()),
                            "total_currency": total.and_then(|total| total.currency),
                            "cheapest": standing.cheapest, "shortest": standing.shortest, "at_home": standing.at_home,
                        })
                    }
                    None => serde_json::json!({ "layers": null, "reason": "the view cuts nothing from it" }),
                },
                Err(faults) => {
                    let reasons: Vec<String> = faults.iter().map(|fault| reason(fault, job.units)).collect();
                    serde_json::json!({ "layers": null, "reason": reasons.join("; ") })
                }
            };
            if let (Some(row), serde_json::Value::Object(more)) = (row.as_object_mut(), more) {
                row.extend(more);
            }
            rows.push(row);
        }
    }
    serde_json::json!({ "format": "ellwand-candidates-1", "job": job.name, "length_unit": "mm", "cloths": rows })
        .to_string()
}
