//! `ellwand compare JOB --width LIST`: the same job on cloths of several widths, in one table.

use std::io::Write;

use comfy_table::{CellAlignment, Table};
use ellwand_files::ReadJob;
use ellwand_garment::{Job, Layout, Units, format_length, format_length_up, size_words};
use ellwand_planner::{PlanError, WidthPlan, compare_widths, roles};

use crate::{
    args::CompareArgs,
    exit::Failure,
    input,
    interrupt::Interrupt,
    misfit_text::{reason, reasons, verdict},
    progress::{Meter, Show},
    settings,
    summary::REMINDER,
    table::ruled_under_its_header,
    told::{self, Told},
};

/// The answers for one role of cloth.
struct Compared {
    role: String,
    widths: Vec<WidthPlan>,
}

/// Compares and prints.
pub(crate) fn run(args: &CompareArgs, out: &mut impl Write) -> Result<(), Failure> {
    let show = if args.search.quiet { Show::Never } else { Show::OnStderr };
    let ReadJob { job, pattern, places, .. } = input::read_job(&args.job, settings::reading(&args.search), show)?;
    let failed = |faults: Vec<PlanError>| input::plan_failure(&args.job, &faults, &places, job.units);
    let roles = roles(&job, &pattern, &args.search.fabrics).map_err(failed)?;
    let widths: Vec<f64> = args.widths.iter().flat_map(|list| &list.0).map(|width| width.mm()).collect();
    refuse_widths_of_nothing(&job, &roles, &widths)?;

    let meter = Meter::new(show, job.units, Interrupt::listen());
    let options = settings::options(&args.search);
    let compared = compare_widths(&job, &pattern, &roles, &widths, &options, &meter);
    meter.finish();
    let compared = compared.map_err(|fault| failed(vec![fault]))?;
    let compared: Vec<Compared> =
        roles.into_iter().zip(compared).map(|(role, widths)| Compared { role, widths }).collect();

    if args.json {
        writeln!(out, "{}", record(&job, &compared))?;
    } else if !args.search.quiet {
        writeln!(out, "{}: {}, view {}, {}\n", job.name, job.pattern, job.view, size_words(&job.size))?;
        writeln!(out, "{}", table(&compared, job.units).trim_fmt())?;
        for (role, said) in
            impossible(&compared, job.units).into_iter().chain(shorter_on_narrower(&compared, job.units))
        {
            writeln!(out, "{role}: {said}")?;
        }
        writeln!(out, "\n{REMINDER}")?;
    }
    Ok(())
}

/// A width that the selvages use up leaves nothing to lay pieces on.
fn refuse_widths_of_nothing(job: &Job, roles: &[String], widths: &[f64]) -> Result<(), Failure> {
    for fabric in roles.iter().filter_map(|role| job.fabric(role)) {
        let selvages = 2.0 * fabric.cloth.selvage;
        if let Some(width) = widths.iter().find(|&&width| width * (1.0 - fabric.shrinkage.across) <= selvages) {
            let argument = format!("--width {}", format_length(*width, job.units));
            let what = format!("the selvages of the cloth \"{}\" take up all of it", fabric.role);
            let least = format_length_up(selvages / (1.0 - fabric.shrinkage.across), job.units);
            let told = Told::of_argument(argument, what, Some(format!("give a width above {least}")));
            return Err(Failure::Input(told::text(&[told])));
        }
    }
    Ok(())
}

fn table(compared: &[Compared], units: Units) -> Table {
    let mut table = ruled_under_its_header();
    table.set_header(["cloth", "width", "layout", "length used", "buy", "cost", "room for improvement"]);
    for Compared { role, widths } in compared {
        for WidthPlan { width, answer, .. } in widths {
            let width = format_length(*width, units);
            let cloth = match answer {
                Ok(cloth) => cloth,
                Err(fault) => {
                    table.add_row([role.as_str(), &width, verdict(fault), "", "", "", ""]);
                    continue;
                }
            };
            let layout = cloth.layout();
            let cost = layout.purchase.cost.as_ref().map(ToString::to_string);
            table.add_row([
                role.clone(),
                width,
                lay_word(layout).to_owned(),
                format_length_up(layout.length, units),
                layout.purchase.buy_text.clone(),
                cost.unwrap_or_default(),
                format!("{:.1} %", 100.0 * layout.gap()),
            ]);
        }
    }
    for column in table.column_iter_mut().skip(3) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    table
}

fn lay_word(layout: &Layout) -> &'static str {
    if layout.uses_fold() { "folded" } else { "open" }
}

/// Rows for which the search found a shorter layout on narrower cloth, which can be cut from the wider cloth just so.
fn shorter_on_narrower(compared: &[Compared], units: Units) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for Compared { role, widths } in compared {
        for WidthPlan { width, shorter_on, .. } in widths {
            if let Some(narrower) = shorter_on {
                let said = format!(
                    "the layout found for {} is shorter, and this width takes it too; a longer search (--effort) may find one as \
                     short here",
                    format_length(*narrower, units)
                );
                all.push((format!("{role}, {} wide", format_length(*width, units)), said));
            }
        }
    }
    all
}

/// Why widths will not do, a line for each piece that is too wide.
fn impossible(compared: &[Compared], units: Units) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for Compared { role, widths } in compared {
        for WidthPlan { width, answer, .. } in widths {
            if let Err(fault) = answer {
                let of = format!("{role}, {} wide", format_length(*width, units));
                all.extend(reasons(fault, units).into_iter().map(|said| (of.clone(), said)));
            }
        }
    }
    all
}

/// The table as one JSON object; lengths in mm.
fn record(job: &Job, compared: &[Compared]) -> String {
    let mut rows = Vec::new();
    for Compared { role, widths } in compared {
        for WidthPlan { width, answer, .. } in widths {
            rows.push(match answer {
                Ok(cloth) => {
                    let layout = cloth.layout();
                    serde_json::json!({
                        "fabric": role, "width": width, "layers": lay_word(layout),
                        "length": layout.length, "lower_bound": layout.lower_bound.length,
                        "buy": layout.purchase.buy, "buy_text": layout.purchase.buy_text,
                        "cost": layout.purchase.cost.as_ref().map(|cost| cost.amount.to_string()),
                        "currency": layout.purchase.cost.as_ref().and_then(|cost| cost.currency.clone()),
                        "on_hand_enough": layout.purchase.on_hand.map(|_| layout.purchase.is_at_home()),
                    })
                }
                Err(fault) => serde_json::json!({
                    "fabric": role, "width": width, "layers": null, "reason": reason(fault, job.units),
                }),
            });
        }
    }
    serde_json::json!({ "format": "ellwand-widths-1", "job": job.name, "length_unit": "mm", "widths": rows })
        .to_string()
}

#[cfg(test)]
mod tests;
