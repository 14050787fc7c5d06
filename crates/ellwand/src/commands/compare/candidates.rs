//! The cloths that the parts of a job may be made of, each with the whole job planned.

use std::io::Write;

use ellwand_files::{Candidates, Change, ReadJob};
use ellwand_garment::{Job, Pattern};
use ellwand_planner::{Case, CaseAnswer, plan_cases};
use ellwand_report::{Candidate, Considered, candidates_text, lay_word, reason, total};

use crate::{
    args::CompareArgs,
    exit::Failure,
    input,
    interrupt::Interrupt,
    progress::{Meter, Show},
    settings,
};

/// Compares and prints.
pub(super) fn run(args: &CompareArgs, base: &ReadJob, show: Show, out: &mut impl Write) -> Result<(), Failure> {
    let asked = asked(args, base)?;
    let mut read: Vec<(&str, Job, Pattern)> = Vec::new();
    for Candidates { role, cloths } in &asked {
        for index in 0..cloths.len() {
            let change = Change::Candidate { role: role.clone(), index };
            let changed = input::read_changed_job(&args.job, settings::reading(&args.search), &[change])?;
            read.push((role, changed.job, changed.pattern));
        }
    }
    let own = Case { job: &base.job, pattern: &base.pattern };
    let cases: Vec<Case<'_>> =
        std::iter::once(own).chain(read.iter().map(|(_, job, pattern)| Case { job, pattern })).collect();
    let meter = Meter::new(show, base.job.units, Interrupt::listen());
    let answers = plan_cases(&cases, &[], &settings::options(&args.search), &meter);
    meter.finish();
    let mut answers =
        answers.map_err(|fault| input::plan_failure(&args.job, &[fault], &base.places, base.job.units))?.into_iter();
    let own: CaseAnswer = answers.next().unwrap_or_else(|| Err(Vec::new()));
    let mut considered: Vec<Considered> = (asked.iter())
        .map(|Candidates { role, .. }| {
            let fabric = base.job.fabric(role).cloned();
            let first = fabric.map(|fabric| Candidate { fabric, answer: own.clone() });
            Considered { role: role.clone(), cloths: first.into_iter().collect() }
        })
        .collect();
    for ((role, job, _), answer) in read.iter().zip(answers) {
        if let (Some(one), Some(fabric)) = (considered.iter_mut().find(|one| one.role == *role), job.fabric(role)) {
            one.cloths.push(Candidate { fabric: fabric.clone(), answer });
        }
    }
    if args.json {
        writeln!(out, "{}", record(&base.job, &considered))?;
    } else if !args.search.quiet {
        write!(out, "{}", candidates_text(&base.job, &considered))?;
    }
    Ok(())
}

/// The candidates of the parts asked for, or of all that have some.
fn asked(args: &CompareArgs, base: &ReadJob) -> Result<Vec<Candidates>, Failure> {
    let chosen = &args.search.fabrics;
    let is_asked = |of: &&Candidates| !of.cloths.is_empty() && (chosen.is_empty() || chosen.contains(&of.role));
    let asked: Vec<Candidates> = base.candidates.iter().filter(is_asked).cloned().collect();
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
fn record(job: &Job, considered: &[Considered]) -> String {
    let mut rows = Vec::new();
    for one in considered {
        let (standings, tabled) = (one.standings(), one.by_width_table());
        for ((cloth, standing), tabled) in one.cloths.iter().zip(standings).zip(tabled) {
            let fabric = &cloth.fabric;
            let mut row = serde_json::json!({
                "fabric": one.role, "name": fabric.cloth.name,
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
