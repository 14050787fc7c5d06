//! `ellwand compare JOB`: the same job of each of its candidates, or on cloths of several widths, in one table.

mod candidates;

use std::io::Write;

use ellwand_files::{Change, Length, Money, ReadJob};
use ellwand_garment::{Job, Pattern, Price, PriceUnit, Units, format_length, format_length_up};
use ellwand_planner::{Offer, PlanError, WidthPlan, compare_as_cut, roles};
use ellwand_report::{Compared, comparing_text, lay_word, reason};

use crate::{
    args::CompareArgs,
    exit::Failure,
    input,
    interrupt::Interrupt,
    progress::{Meter, Show},
    settings,
    told::{self, Told},
};

/// Compares and prints.
pub(crate) fn run(args: &CompareArgs, out: &mut impl Write) -> Result<(), Failure> {
    let show = if args.search.quiet { Show::Never } else { Show::OnStderr };
    let read = input::read_job(&args.job, settings::reading(&args.search), show)?;
    if args.widths.is_empty() {
        return candidates::run(args, &read, show, out);
    }
    let ReadJob { job, pattern, places, cut_to_width, .. } = read;
    let failed = |faults: Vec<PlanError>| input::plan_failure(&args.job, &faults, &places, job.units);
    let roles = roles(&job, &pattern, &args.search.fabrics).map_err(failed)?;
    let per = match job.units {
        Units::Inches => PriceUnit::Yard,
        Units::Centimetres => PriceUnit::Metre,
    };
    let offer = |(width, price): &(Length, Option<Money>)| Offer {
        width: width.mm(),
        price: price.map(|price| Price { amount: price.amount(), per }),
    };
    let offers: Vec<Offer> = args.widths.iter().flat_map(|list| &list.0).map(offer).collect();
    if offers.iter().any(|offer| offer.price.is_some()) && roles.len() > 1 {
        let which = roles.join(" or --fabric ");
        let what = "the prices are of one cloth, and several are compared".to_owned();
        let told = Told::of_argument("--width".to_owned(), what, Some(format!("say which with --fabric {which}")));
        return Err(Failure::Input(told::text(&[told])));
    }
    let widths: Vec<f64> = offers.iter().map(|offer| offer.width).collect();
    refuse_widths_of_nothing(&job, &roles, &widths)?;

    let by_width = as_cut(args, &roles, &cut_to_width, &widths);
    let as_cut =
        |role: &str, width: f64| by_width.iter().find(|of| of.role == role && of.width == width).map(|of| &of.pattern);
    let meter = Meter::new(show, job.units, Interrupt::listen());
    let options = settings::options(&args.search);
    let compared = compare_as_cut(&job, (&pattern, &as_cut), &roles, &offers, &options, &meter);
    meter.finish();
    let compared = compared.map_err(|fault| failed(vec![fault]))?;
    let compared: Vec<Compared> =
        roles.into_iter().zip(compared).map(|(role, widths)| Compared { role, widths }).collect();

    if args.json {
        writeln!(out, "{}", record(&job, &compared))?;
    } else if !args.search.quiet {
        write!(out, "{}", comparing_text(&job, &compared))?;
    }
    Ok(())
}

/// The pattern as it is cut from the cloth of a role in a width as bought, mm.
struct CutFrom {
    role: String,
    width: f64,
    pattern: Pattern,
}

/// The pattern as it is cut from each width, for the cloths that decide by their width how many of some piece are cut. A width from which it cannot be
/// cut is left out: the plan of the pattern as it is tells what is too narrow.
fn as_cut(args: &CompareArgs, roles: &[String], cut_to_width: &[String], widths: &[f64]) -> Vec<CutFrom> {
    let asked = roles.iter().filter(|role| cut_to_width.contains(role));
    let all = asked.flat_map(|role| widths.iter().map(move |&width| (role, width)));
    all.filter_map(|(role, width)| {
        let change = Change::Width { role: role.clone(), width, price: None };
        let read = input::read_changed_job(&args.job, settings::reading(&args.search), &[change]).ok()?;
        Some(CutFrom { role: role.clone(), width, pattern: read.pattern })
    })
    .collect()
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

/// The table as one JSON object; lengths in mm.
fn record(job: &Job, compared: &[Compared]) -> String {
    let mut rows = Vec::new();
    for Compared { role, widths } in compared {
        for WidthPlan { width, answer, .. } in widths {
            rows.push(match answer {
                Ok(cloth) => {
                    let layout = cloth.layout();
                    serde_json::json!({
                        "fabric": role, "width": width, "layers": lay_word(layout), "way": layout.way.name(),
                        "length": layout.length, "lower_bound": layout.lower_bound.length,
                        "buy": layout.purchase.buy, "buy_text": layout.purchase.buy_text,
                        "cost": layout.purchase.cost.as_ref().map(|cost| cost.amount.to_string()),
                        "currency": layout.purchase.cost.as_ref().and_then(|cost| cost.currency.clone()),
                        "on_hand_enough": layout.purchase.on_hand.map(|_| layout.purchase.is_at_home()),
                    })
                }
                Err(fault) => serde_json::json!({
                    "fabric": role, "width": width, "layers": null, "way": null, "reason": reason(fault, job.units),
                }),
            });
        }
    }
    serde_json::json!({ "format": "ellwand-widths-1", "job": job.name, "length_unit": "mm", "widths": rows })
        .to_string()
}

#[cfg(test)]
mod tests;
