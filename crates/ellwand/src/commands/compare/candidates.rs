//! The cloths that the parts of a job may be made of, each with the whole job planned.

use std::io::Write;

use ellwand_files::{Candidates, Change, ReadJob};
use ellwand_garment::Job;
use ellwand_planner::{Case, plan_cases};
use ellwand_report::{Considered, candidates_text};

use crate::{
    args::{Choices, CompareArgs},
    candidates::{Way, of_parts},
    candidates_json,
    exit::Failure,
    input,
    interrupt::Interrupt,
    progress::{Meter, Show},
    settings,
};

/// Compares and prints.
pub(super) fn run(args: &CompareArgs, base: &ReadJob, show: Show, out: &mut impl Write) -> Result<(), Failure> {
    let asked = asked(args, base)?;
    let ways: Vec<Way> = ways(args)
        .into_iter()
        .map(|(said, changes)| Way::read(&args.job, settings::reading(&args.search), &asked, said, changes))
        .collect::<Result<_, _>>()?;
    let cases: Vec<Case<'_>> = ways.iter().flat_map(|way| std::iter::once(way.base()).chain(way.others())).collect();
    let meter = Meter::new(show, base.job.units, Interrupt::listen());
    let answers = plan_cases(&cases, &[], &settings::options(&args.search), &meter);
    meter.finish();
    let mut answers =
        answers.map_err(|fault| input::plan_failure(&args.job, &[fault], &base.places, base.job.units))?.into_iter();
    let compared: Vec<(String, Vec<Considered>)> =
        ways.iter().map(|way| (way.said.clone(), way.considered(&asked, answers.next(), &mut answers))).collect();
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

/// The candidates of the parts asked for, or of all that have some.
fn asked(args: &CompareArgs, base: &ReadJob) -> Result<Vec<Candidates>, Failure> {
    let chosen = &args.search.fabrics;
    let mut asked = of_parts(base, chosen);
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
    let rows: Vec<serde_json::Value> =
        compared.iter().flat_map(|(way, considered)| candidates_json::rows(job, way, considered)).collect();
    serde_json::json!({ "format": "ellwand-candidates-1", "job": job.name, "length_unit": "mm", "cloths": rows })
        .to_string()
}
