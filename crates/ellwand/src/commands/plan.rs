//! `ellwand plan JOB`: lay out every cloth, write what to cut from, and say what to buy.

use std::{io::Write, path::Path};

use ellwand_drawing::{Colours, Faces, Sheet, leaves::Leaf, pdf};
use ellwand_files::{Fit, LayoutRecord, OutputFolder, ReadJob};
use ellwand_garment::{Job, Layout, Pattern, Units};
use ellwand_planner::{ClothPlan, JobPlan, PlanError, plan_job, roles};
use ellwand_report::{
    Considered, Detail, FilesWritten, Pictures, Planned, Weighed, bought_width, changes_text, considered_text,
    fit_notes, hem_notes, html_page, laying_text, paper_pages, placing_text, plan_report, ranked, shopping_csv,
    shopping_text, summary, total,
};

use crate::{
    args::{PlanArgs, ReportPaper},
    candidates, candidates_json, changes,
    exit::Failure,
    fonts, input,
    interrupt::Interrupt,
    matching_json::matching_json,
    progress::{Meter, Show},
    settings,
    sheets::named_sheets,
    spending_json::spending_json,
};

/// Plans the job and prints the answer.
pub(crate) fn run(args: &PlanArgs, out: &mut impl Write) -> Result<(), Failure> {
    let show = if args.search.quiet { Show::Never } else { Show::OnStderr };
    let read = input::read_job(&args.job, settings::reading(&args.search), show)?;
    let ReadJob { job, pattern, fit, places, .. } = &read;
    let faces = fonts::faces(&args.font)?;
    let failed = |faults: Vec<PlanError>| input::plan_failure(&args.job, &faults, places, job.units);
    let roles = roles(job, pattern, &args.search.fabrics).map_err(failed)?;

    if let Some(folder) = &args.out {
        OutputFolder::new(folder).refuse_a_file().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    }
    let interrupt = Interrupt::listen();
    let meter = Meter::new(show, job.units, interrupt.clone());
    let options = settings::options(&args.search);
    let plan = plan_job(job, pattern, &roles, &options, &meter);
    let plan = match plan {
        Ok(plan) => plan,
        Err(faults) => {
            meter.finish();
            return Err(failed(faults));
        }
    };
    let reading = settings::reading(&args.search);
    let considered = if args.candidates && !interrupt.pressed() {
        let asked = (&plan, &options, args.search.fabrics.as_slice());
        let considered = candidates::beside(&args.job, &read, reading, asked, &meter);
        considered.inspect_err(|_| meter.finish())?
    } else {
        Vec::new()
    };
    // What was searched for a moment only is no answer.
    let considered = if interrupt.pressed() { Vec::new() } else { considered };
    let changes = if args.changes {
        let chosen = &args.search.fabrics;
        let weighed = changes::weighed(&args.job, &read, reading, (&options, chosen), &meter);
        meter.finish();
        // What was searched for a moment only is no answer.
        Some(weighed?).filter(|_| !interrupt.pressed())
    } else {
        meter.finish();
        None
    };

    // What has begun to be written is written whole, however impatiently somebody presses Ctrl-C.
    interrupt.stop_listening();
    let files = match &args.out {
        Some(folder) => {
            let cloths = if args.search.fabrics.is_empty() { Cloths::All } else { Cloths::Some };
            let leaf = leaf(args.paper, job.units);
            let changes = changes.as_deref().unwrap_or_default();
            let planned =
                Answer { job, pattern, fit, plan: &plan, changes, considered: &considered, leaf, faces: &faces };
            write_files(folder, &planned, cloths)?
        }
        None => FilesWritten::default(),
    };
    if args.json {
        writeln!(out, "{}", record(job, &plan, changes.as_deref(), &considered))?;
        return Ok(());
    }
    if !args.search.quiet {
        let detail = if args.explain { Detail::Reasons } else { Detail::Figures };
        let hems = pattern.view(&job.view).map(|view| hem_notes(pattern, view, job.units));
        let notes = [fit_notes(&fit.report, job.units), hems.unwrap_or_default()].concat();
        write!(out, "{}", summary(job, &notes, &plan, &files, detail))?;
        if !considered.is_empty() {
            write!(out, "\n{}", considered_text(&considered, job.units))?;
        } else if args.candidates {
            let why = if interrupt.pressed() {
                "Stopped before every candidate was planned"
            } else {
                "The job names no candidates"
            };
            writeln!(out, "\n{why}, so none is told.")?;
        }
        match &changes {
            Some(changes) => write!(out, "\n{}", changes_text(&plan, changes, job.units))?,
            None if args.changes => writeln!(out, "\nStopped before every change was planned, so none is told.")?,
            None => {}
        }
    }
    if args.table {
        for cloth in &plan.cloths {
            write!(out, "\n{}", placing_text(cloth.layout(), job.units))?;
        }
    }
    if args.list {
        for cloth in &plan.cloths {
            write!(out, "\n{}", laying_text(cloth.layout(), job.units))?;
        }
    }
    Ok(())
}

/// The paper of the report: that asked for, or what is usual where people measure in the units of the job.
fn leaf(asked: Option<ReportPaper>, units: Units) -> Leaf {
    match (asked, units) {
        (Some(ReportPaper::Letter), _) | (None, Units::Inches) => Leaf::LETTER,
        (Some(ReportPaper::A4), _) | (None, Units::Centimetres) => Leaf::A4,
    }
}

/// How many of a job's cloths were planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Cloths {
    /// Every one.
    All,
    /// Those asked for: drawings of the others stay.
    Some,
}

/// The report for a screen.
const PAGE: &str = "report.html";
/// The report for a printer.
const PAPER: &str = "report.pdf";
/// The shopping list for a phone.
const SHOPPING: &str = "shopping.txt";
/// The shopping list for other programs.
const SHOPPING_TABLE: &str = "shopping.csv";

/// What was asked and what was found.
struct Answer<'a> {
    job: &'a Job,
    pattern: &'a Pattern,
    fit: &'a Fit,
    plan: &'a JobPlan,
    /// The job with one thing changed at a time, where that was asked for.
    changes: &'a [Weighed],
    /// The cloths that its parts may be made of, where that was asked for.
    considered: &'a [Considered],
    /// What the report is printed on.
    leaf: Leaf,
    faces: &'a Faces,
}

/// Writes drawing, record, placing table and laying list of every cloth, of matched cloth the seam preview, and the report of them all; all or none.
/// Returns the files of each cloth.
fn write_files(folder: &Path, answer: &Answer, cloths: Cloths) -> Result<FilesWritten, Failure> {
    let Answer { job, pattern, fit, plan, changes, considered, .. } = *answer;
    let mut output = OutputFolder::new(folder).replacing("plan");
    let mut files = Vec::new();
    let mut stems: Vec<String> = Vec::new();
    let mut pictures = Vec::new();
    for cloth in &plan.cloths {
        let layout = cloth.layout();
        let stem = file_stem(&layout.role, &stems);
        let sheets = drawings(cloth, job, Colours::OfTheCloth);
        let seams = seam_preview(layout, job, pattern);
        let mut outputs: Vec<(String, String)> = named_sheets(&format!("{stem}.layout"), svgs(&sheets)).collect();
        if layout.cloth.design.is_some() {
            outputs.extend(named_sheets(
                &format!("{stem}.layout-plain"),
                svgs(&drawings(cloth, job, Colours::BlackAndWhite)),
            ));
        }
        outputs.extend([
            (format!("{stem}.layout.json"), ellwand_files::layout_record(layout)),
            (format!("{stem}.placing.txt"), placing_text(layout, job.units)),
            (format!("{stem}.placing-phone.txt"), laying_text(layout, job.units)),
        ]);
        outputs.extend(seams.iter().map(|sheet| (format!("{stem}.seams.svg"), sheet.svg())));
        files.push(outputs.iter().map(|(name, _)| folder.join(name)).collect());
        for (name, content) in outputs {
            output.add(name, content);
        }
        stems.push(stem);
        pictures.push(Pictures { sheets, seams });
    }
    let report = plan_report(&Planned {
        job,
        pattern,
        fit: &fit.report,
        sizes: fit.sizes,
        plan,
        pictures: &pictures,
        changes,
        considered,
    });
    output.add(PAGE, html_page(&report));
    let on_paper = pdf(&paper_pages(&report, answer.leaf), answer.faces);
    output.add(PAPER, on_paper.bytes);
    output.add(SHOPPING, shopping_text(job, plan));
    output.add(SHOPPING_TABLE, shopping_csv(job, plan));
    if cloths == Cloths::Some {
        output = output.in_part(stems.iter().map(|stem| format!("{stem}.")).collect());
    }
    let written = output.write().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    let ellwand_files::Written { removed, left, finished, .. } = written;
    let report = [PAGE, PAPER].map(|name| folder.join(name)).to_vec();
    let shopping = [SHOPPING, SHOPPING_TABLE].map(|name| folder.join(name)).to_vec();
    Ok(FilesWritten { of_cloths: files, report, shopping, missing: on_paper.missing, removed, left, finished })
}

/// The pieces of a matched cloth as they are sewn.
fn seam_preview(layout: &Layout, job: &Job, pattern: &Pattern) -> Option<Sheet> {
    ellwand_drawing::seams_sheet(layout, pattern, pattern.view(&job.view)?, job.units)
}

fn svgs(sheets: &[Sheet]) -> Vec<String> {
    sheets.iter().map(Sheet::svg).collect()
}

fn drawings(cloth: &ClothPlan, job: &Job, colours: Colours) -> Vec<Sheet> {
    let bought_width = Some(bought_width(cloth));
    ellwand_drawing::layout_sheets(
        cloth.layout(),
        &ellwand_drawing::Options { bought_width, colours, ..ellwand_drawing::Options::new(job.units) },
    )
}

/// The records of all cloths as one JSON object.
fn record(job: &Job, plan: &JobPlan, changes: Option<&[Weighed]>, considered: &[Considered]) -> String {
    let layouts: Vec<LayoutRecord> = plan.cloths.iter().map(|cloth| LayoutRecord::of(cloth.layout())).collect();
    let bill = plan.bill();
    let totals: Vec<_> = (bill.totals().iter())
        .map(|total| serde_json::json!({ "amount": total.amount.to_string(), "currency": total.currency }))
        .collect();
    // One sum is a sum only in one currency and with every price known.
    let total = match bill.totals().as_slice() {
        [] if bill.lines().is_empty() => Some("0.00".to_owned()),
        [total] if bill.is_complete() => Some(total.amount.to_string()),
        _ => None,
    };
    let mut whole = serde_json::json!({
        "format": "ellwand-plan-1",
        "job": job.name,
        "total": total,
        "totals": totals,
        "layouts": layouts,
        "matching": plan.cloths.iter().filter_map(matching_json).collect::<Vec<_>>(),
    });
    if let Some(keys) = whole.as_object_mut() {
        keys.extend(spending_json(plan, job.units));
        if !considered.is_empty() {
            keys.insert("candidates".to_owned(), candidates_json::rows(job, "", considered).into());
        }
        keys.extend(changes.map(|changes| ("changes".to_owned(), changes_json(plan, changes))));
    }
    whole.to_string()
}

/// Each change with what it saves, the one that saves most first; lengths in mm.
fn changes_json(own: &JobPlan, changes: &[Weighed]) -> serde_json::Value {
    let possible = ranked(own, changes).into_iter().map(|(one, plan, saving)| {
        let bought = |cloth: &ClothPlan| {
            let layout = cloth.layout();
            serde_json::json!({ "fabric": layout.role, "length": layout.length, "buy_text": layout.purchase.buy_text })
        };
        serde_json::json!({
            "change": one.what,
            "total": total(plan).map(|total| total.amount.to_string()),
            "saves": saving.money.map(|money| money.amount.to_string()),
            "saves_length": saving.length,
            "cloths": plan.cloths.iter().map(bought).collect::<Vec<_>>(),
        })
    });
    let impossible = changes.iter().filter(|one| one.answer.is_err());
    let impossible = impossible.map(|one| serde_json::json!({ "change": one.what, "total": null }));
    possible.chain(impossible).collect()
}

/// A file name for a role: letters, digits and dashes of it, told apart from those `taken`.
fn file_stem(role: &str, taken: &[String]) -> String {
    let plain: String =
        (role.chars()).map(|c| if c.is_alphanumeric() || c == '-' || c == '_' { c } else { '-' }).collect();
    let plain = if plain.chars().any(char::is_alphanumeric) { plain } else { "cloth".to_owned() };
    let numbered = (2..).map(|n| format!("{plain}-{n}"));
    std::iter::once(plain.clone()).chain(numbered).find(|name| !taken.contains(name)).unwrap_or(plain)
}

#[cfg(test)]
mod tests {
    use super::file_stem;

    #[test]
    fn roles_become_file_names_that_stay_in_the_folder() {
        assert_eq!(file_stem("main", &[]), "main");
        assert_eq!(file_stem("../etc/passwd", &[]), "---etc-passwd");
        assert_eq!(file_stem("..", &[]), "cloth");
        assert_eq!(file_stem("lining 1", &["lining-1".to_owned()]), "lining-1-2");
    }
}
