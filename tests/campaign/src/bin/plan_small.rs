//! The path of the command's `plan` and `compare` with a budget smaller than any the command offers: reads a job, plans it, draws it,
//! and prints the records. The only file of the campaign that knows the planner.
//!
//! `plan_small JOB WORK THREADS` prints the layout records and what is bought of each cloth; `plan_small JOB WORK THREADS --widths MM,MM`
//! the lengths on these widths; `--candidates` those of every cloth and candidate. Exit codes are those of the command: 0 done, 1 a fault of the program, 2 a fault of the input.

use std::{path::Path, process::ExitCode};

use ellwand_files::{Change, Limits, ReadJob, layout_record, read_changed_job, read_job};
use ellwand_garment::{CutAtOnce, Job, Layout, Leftover, Pattern};
use ellwand_planner::{
    Budget, Case, ClothPlan, JobPlan, Options, PlanError, Unheard, compare_widths, plan_cases, plan_job, roles,
};
use serde_json::{Value, json};

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    match run(&args) {
        Ok(text) => {
            println!("{text}");
            ExitCode::SUCCESS
        }
        Err((code, text)) => {
            eprintln!("{text}");
            ExitCode::from(code)
        }
    }
}

fn run(args: &[String]) -> Result<Value, (u8, String)> {
    let [path, work, threads, rest @ ..] = args else {
        return Err((3, "plan_small JOB WORK THREADS [--widths MM,MM]".to_owned()));
    };
    let number = |text: &String| text.parse::<u64>().map_err(|fault| (3, format!("{text}: {fault}")));
    let (work, threads) = (number(work)?, number(threads)? as usize);
    let options = Options { budget: Budget::Work(work), threads, ..Options::default() };
    let ReadJob { job, pattern, .. } =
        read_job(Path::new(path), &Limits::default()).map_err(|faults| (2, faults.to_string()))?;
    let roles = roles(&job, &pattern, &[]).map_err(refusal)?;
    match rest {
        [] => {
            let plan = plan_job(&job, &pattern, &roles, &options, &Unheard).map_err(refusal)?;
            Ok(answer(&job, &pattern, &plan))
        }
        [flag, list] if flag == "--widths" => {
            let widths: Vec<f64> = list.split(',').filter_map(|text| text.parse().ok()).collect();
            widths_of(&job, &pattern, &roles, &widths, &options)
        }
        [flag] if flag == "--candidates" => candidates_of(path, &options),
        _ => Err((3, format!("plan_small does not know {rest:?}"))),
    }
}

/// Exit code and text of what the planner will not do.
fn refusal(faults: Vec<PlanError>) -> (u8, String) {
    let code = if faults.iter().all(PlanError::is_of_the_question) { 2 } else { 1 };
    (code, faults.iter().map(PlanError::to_string).collect::<Vec<_>>().join("\n"))
}

fn record(layout: &Layout) -> Value {
    serde_json::from_str(&layout_record(layout)).unwrap_or(Value::Null)
}

/// The rectangles that are left of a cloth, each as place and size.
fn left(cloth: &ClothPlan, job: &Job) -> Vec<[f64; 4]> {
    let place = |left: &Leftover| [left.from_left, left.from_cut_end, left.across, left.along];
    cloth.leftovers(job.units).iter().map(place).collect()
}

/// Copies that the cutting list has cut at once, through two layers.
fn cut_double(layout: &Layout) -> Vec<Value> {
    let copy = |index: usize| json!([layout.cuts[index].piece, layout.cuts[index].copy]);
    let two = |cuts: CutAtOnce| match cuts {
        CutAtOnce::BothLayers(one, other) => Some(json!([copy(one), copy(other)])),
        CutAtOnce::OnFold(_) | CutAtOnce::OneLayer(_) => None,
    };
    layout.cut_at_once().into_iter().filter_map(two).collect()
}

/// What the plan says, with its drawings made and thrown away.
fn answer(job: &Job, pattern: &Pattern, plan: &JobPlan) -> Value {
    let view = pattern.view(&job.view);
    let cloths = plan.cloths.iter().map(|cloth| {
        let layout = cloth.layout();
        let left_over = cloth.leftovers(job.units);
        let drawing = ellwand_drawing::Options { left: left_over, ..ellwand_drawing::Options::new(job.units) };
        let sheet = ellwand_drawing::layout_svg(layout, &drawing);
        let seams = view.and_then(|view| ellwand_drawing::seams_sheet(layout, pattern, view, job.units));
        let given_up = cloth.matching.iter().flat_map(|cost| &cost.given_up).map(|price| {
            let cost = price.cost.as_ref().map(|cost| cost.amount.to_string());
            json!({ "name": price.name, "buy": price.buy, "cost": cost })
        });
        json!({
            "record": record(layout),
            "alone": cloth.alone.iter().map(|alone| alone.layout().map(|layout| layout.length)).collect::<Vec<_>>(),
            "one_after_the_other": cloth.one_after_the_other,
            "given_up": given_up.collect::<Vec<_>>(),
            "left": left(cloth, job),
            "cut_double": cut_double(layout),
            "drawn": [sheet.len(), seams.map_or(0, |sheet| sheet.svg().len())],
        })
    });
    let bill = plan.bill();
    let totals = bill.totals().into_iter().map(|total| json!([total.amount.to_string(), total.currency]));
    json!({
        "cloths": cloths.collect::<Vec<_>>(),
        "totals": totals.collect::<Vec<_>>(),
        "complete": bill.is_complete(),
    })
}

fn widths_of(
    job: &Job,
    pattern: &Pattern,
    roles: &[String],
    widths: &[f64],
    options: &Options,
) -> Result<Value, (u8, String)> {
    let mut rows = Vec::new();
    let compared =
        compare_widths(job, pattern, roles, widths, options, &Unheard).map_err(|fault| refusal(vec![fault]))?;
    for (role, plans) in roles.iter().zip(compared) {
        rows.extend(plans.iter().map(|plan| match &plan.answer {
            Ok(cloth) => json!({ "fabric": role, "width": plan.width, "record": record(cloth.layout()) }),
            Err(fault) => json!({ "fabric": role, "width": plan.width, "record": null, "reason": fault.to_string() }),
        }));
    }
    Ok(json!({ "widths": rows }))
}

/// The cloths of the job, and then each candidate in the place of its part's cloth.
fn candidates_of(path: &str, options: &Options) -> Result<Value, (u8, String)> {
    let read = |changes: &[Change]| {
        read_changed_job(Path::new(path), &Limits::default(), changes).map_err(|faults| (2, faults.to_string()))
    };
    let base = read(&[])?;
    let mut all: Vec<(Option<String>, ReadJob)> = Vec::new();
    for listed in base.candidates.clone() {
        for index in 0..listed.cloths.len() {
            // What is matched on a candidate may be at fault where the job is not.
            if let Ok(changed) = read(&[Change::Candidate { role: listed.role.clone(), index }]) {
                all.push((Some(listed.role.clone()), changed));
            }
        }
    }
    all.insert(0, (None, base));
    let cases: Vec<Case<'_>> = all.iter().map(|(_, read)| Case { job: &read.job, pattern: &read.pattern }).collect();
    let answers = plan_cases(&cases, &[], options, &Unheard).map_err(|fault| refusal(vec![fault]))?;
    let mut rows = Vec::new();
    for ((role, _), answer) in all.iter().zip(&answers) {
        match answer {
            Ok(plan) => {
                rows.extend(plan.cloths.iter().map(
                    |cloth| json!({ "changed": role, "fabric": cloth.fabric.role, "length": cloth.layout().length }),
                ))
            }
            Err(faults) => {
                let (code, text) = refusal(faults.clone());
                if code == 1 {
                    return Err((code, text));
                }
                rows.push(json!({ "changed": role, "reason": text }));
            }
        }
    }
    Ok(json!({ "cloths": rows }))
}
