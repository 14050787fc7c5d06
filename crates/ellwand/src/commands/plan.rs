//! `ellwand plan JOB`: lay out every cloth, write what to cut from, and say what to buy.

use std::{io::Write, path::Path};

use ellwand_drawing::{Colours, Faces, Sheet, leaves::Leaf, pdf};
use ellwand_files::{LayoutRecord, Note, OutputFolder, ReadJob};
use ellwand_garment::{Job, Layout, Pattern, Units};
use ellwand_planner::{ClothPlan, JobPlan, PlanError, plan_job, roles as roles_of};
use ellwand_report::{
    Considered, Detail, FilesWritten, FitOf, Kept, OtherRemnant, Pictures, Planned, Remedies, ShareOf, Together,
    Weighed, bought_width, changes_text, considered_text, hem_notes, html_page, is_all_bought, laying_text,
    left_over_text, long_part_notes, paper_pages, placing_text, plan_report, ranked, shopping_csv, shopping_text,
    summary, together, total,
};

use crate::{
    args::{PlanArgs, ReportPaper},
    candidates, candidates_json, changes,
    commands::fit::Fitted,
    exit::Failure,
    fonts, input,
    interrupt::Interrupt,
    leftovers,
    matching_json::matching_json,
    progress::{Meter, Show},
    remnants_json::{left_over_json, remnants_json},
    settings,
    sheets::named_sheets,
    spending_json::spending_json,
    ways_json::ways_json,
};

/// Plans the job and prints the answer.
pub(crate) fn run(args: &PlanArgs, out: &mut impl Write) -> Result<(), Failure> {
    let show = if args.search.quiet { Show::Never } else { Show::OnStderr };
    let read = input::read_job(&args.job, settings::reading(&args.search), show)?;
    let ReadJob { job, pattern, places, .. } = &read;
    let fitted = Fitted::all(&read);
    let fits: Vec<FitOf<'_>> = fitted.iter().map(fit_of).collect();
    let faces = fonts::faces(&args.font)?;
    let failed = |faults: Vec<PlanError>| input::plan_failure(&args.job, &faults, places, job.units);
    let every_role = roles_of(job, pattern, &[]).map_err(failed)?;
    let roles = roles_of(job, pattern, &args.search.fabrics).map_err(failed)?;

    if let Some(folder) = &args.out {
        OutputFolder::new(folder).refuse_a_file().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    }
    let limits = settings::reading(&args.search).limits;
    if let Some(stash) = &args.leftovers {
        let left_out: Vec<String> = every_role.into_iter().filter(|role| !roles.contains(role)).collect();
        leftovers::refuse_a_part(job, &roles, &left_out)?;
        leftovers::refuse_other_files(stash, job, &roles, &limits)?;
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
    let mut plan = plan;
    let reading = settings::reading(&args.search);
    // First, since the job's own plan may become shorter by it.
    let changes = if args.changes && !interrupt.pressed() {
        let asked = (&mut plan, &options, args.search.fabrics.as_slice());
        let weighed = changes::weighed(&args.job, &read, reading, asked, &meter);
        Some(weighed.inspect_err(|_| meter.finish())?)
    } else {
        None
    };
    // What was searched for a moment only is no answer.
    let changes = changes.filter(|_| !interrupt.pressed());
    let considered = if args.candidates && !interrupt.pressed() {
        let asked = (&plan, &options, args.search.fabrics.as_slice());
        let considered = candidates::beside(&args.job, &read, reading, asked, &meter);
        considered.inspect_err(|_| meter.finish())?
    } else {
        Vec::new()
    };
    let considered = if interrupt.pressed() { Vec::new() } else { considered };
    meter.finish();

    let possible = changes::possible(&read, reading, &args.search.fabrics);
    let remedies = changes.as_deref().map_or(Remedies::Possible(&possible), Remedies::Planned);
    let long_parts = long_part_notes(&plan, remedies, job.units);
    // What has begun to be written is written whole, however impatiently somebody presses Ctrl-C.
    interrupt.stop_listening();
    let files = match &args.out {
        Some(folder) => {
            let cloths = if args.search.fabrics.is_empty() { Cloths::All } else { Cloths::Some };
            let leaf = leaf(args.paper, job.units);
            let changes = changes.as_deref().unwrap_or_default();
            let (considered, how_to_cut) = (&considered, &how_to_cut(&read));
            let left = if args.leftovers.is_some() { Left::Drawn } else { Left::NotDrawn };
            let (plan, faces) = (&plan, &faces);
            let planned = Answer {
                job,
                pattern,
                fits: &fits,
                how_to_cut,
                plan,
                long_parts: &long_parts,
                changes,
                considered,
                leaf,
                left,
                faces,
            };
            write_files(folder, &planned, cloths)?
        }
        None => FilesWritten::default(),
    };
    if let Some(stash) = &args.leftovers {
        leftovers::keep(stash, job, &plan, &limits)?;
    }
    if args.json {
        writeln!(out, "{}", record(job, &plan, changes.as_deref(), &considered))?;
        return Ok(());
    }
    if !args.search.quiet {
        let detail = if args.explain { Detail::Reasons } else { Detail::Figures };
        let hems = pattern.view(&job.view).map(|view| hem_notes(pattern, view, job.units));
        let notes =
            [fits.iter().flat_map(|of| of.notes(job.units)).collect(), hems.unwrap_or_default(), long_parts].concat();
        write!(out, "{}", summary(job, &notes, &plan, &files, detail))?;
        if let Some(stash) = &args.leftovers {
            write!(out, "\n{}", left_over_text(&plan, stash, job.units))?;
        }
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

/// How pieces are cut that the cloth decides on, a sentence each.
fn how_to_cut(read: &ReadJob) -> Vec<String> {
    let notes = read.notes.iter().map(Note::kind).filter(|kind| kind.is_how_to_cut());
    notes.map(|kind| format!("{kind}; {}.", kind.help()).replace('`', "")).collect()
}

/// How many of a job's cloths were planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Cloths {
    /// Every one.
    All,
    /// Those asked for: drawings of the others stay.
    Some,
}

/// Whether what is left of a cloth is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Left {
    /// It is kept, and so it is.
    Drawn,
    /// It is only told.
    NotDrawn,
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
    fits: &'a [FitOf<'a>],
    /// How pieces are cut that the cloth decides on.
    how_to_cut: &'a [String],
    plan: &'a JobPlan,
    /// What long narrow parts waste, and what would save it.
    long_parts: &'a [String],
    /// The job with one thing changed at a time, where that was asked for.
    changes: &'a [Weighed],
    /// The cloths that its parts may be made of, where that was asked for.
    considered: &'a [Considered],
    /// What the report is printed on.
    leaf: Leaf,
    /// Whether the sheets show what is left.
    left: Left,
    faces: &'a Faces,
}

/// Writes drawing, record, placing table and laying list of every cloth, of matched cloth the seam preview, and the report of them all; all or none.
/// Returns the files of each cloth.
fn write_files(folder: &Path, answer: &Answer, cloths: Cloths) -> Result<FilesWritten, Failure> {
    let Answer { job, pattern, fits, how_to_cut, plan, long_parts, changes, considered, .. } = *answer;
    let mut output = OutputFolder::new(folder).replacing("plan");
    let mut files = Vec::new();
    let mut stems: Vec<String> = Vec::new();
    let mut pictures = Vec::new();
    for cloth in &plan.cloths {
        let layout = cloth.layout();
        let stem = file_stem(&called(layout), &stems);
        let sheets = drawings(cloth, answer, Colours::OfTheCloth);
        let seams = seam_preview(layout, job, pattern);
        let mut outputs: Vec<(String, String)> = named_sheets(&format!("{stem}.layout"), svgs(&sheets)).collect();
        if layout.cloth.design.is_some() {
            outputs.extend(named_sheets(
                &format!("{stem}.layout-plain"),
                svgs(&drawings(cloth, answer, Colours::BlackAndWhite)),
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
    let mut others = Vec::new();
    let mut of_others = Vec::new();
    for (remnant, layout) in plan.fitting_besides() {
        let stem = file_stem(&called(layout), &stems);
        let drawn = ellwand_drawing::layout_sheets(layout, &ellwand_drawing::Options::new(job.units));
        let mut outputs: Vec<(String, String)> = named_sheets(&format!("{stem}.layout"), svgs(&drawn)).collect();
        outputs.extend([
            (format!("{stem}.layout.json"), ellwand_files::layout_record(layout)),
            (format!("{stem}.placing.txt"), placing_text(layout, job.units)),
            (format!("{stem}.placing-phone.txt"), laying_text(layout, job.units)),
        ]);
        for (name, content) in outputs {
            of_others.push(folder.join(&name));
            output.add(name, content);
        }
        stems.push(stem);
        others.push(OtherRemnant { role: layout.role.clone(), remnant: remnant.name.clone(), sheets: drawn });
    }
    let report = plan_report(&Planned {
        job,
        pattern,
        fits,
        how_to_cut,
        plan,
        pictures: &pictures,
        others: &others,
        long_parts,
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
    Ok(FilesWritten {
        of_cloths: files,
        of_others,
        report,
        shopping,
        missing: on_paper.missing,
        removed,
        left,
        finished,
    })
}

/// What the files of a layout are called by: the role of its cloth, and the remnant that it is cut from.
fn called(layout: &Layout) -> String {
    match &layout.cloth.remnant {
        Some(remnant) => format!("{}-{}", layout.role, remnant.name),
        None => layout.role.clone(),
    }
}

fn fit_of<'a>(of: &Fitted<'a>) -> FitOf<'a> {
    let Fitted { name: garment, job, pattern, fit } = *of;
    FitOf { garment, job, pattern, report: &fit.report, sizes: fit.sizes }
}

/// The pieces of a matched cloth as they are sewn.
fn seam_preview(layout: &Layout, job: &Job, pattern: &Pattern) -> Option<Sheet> {
    ellwand_drawing::seams_sheet(layout, pattern, pattern.view(&job.view)?, job.units)
}

fn svgs(sheets: &[Sheet]) -> Vec<String> {
    sheets.iter().map(Sheet::svg).collect()
}

fn drawings(cloth: &ClothPlan, answer: &Answer, colours: Colours) -> Vec<Sheet> {
    let units = answer.job.units;
    let left = match answer.left {
        Left::Drawn => cloth.leftovers(units),
        Left::NotDrawn => Vec::new(),
    };
    let bought_width = Some(bought_width(cloth));
    ellwand_drawing::layout_sheets(
        cloth.layout(),
        &ellwand_drawing::Options { bought_width, colours, left, ..ellwand_drawing::Options::new(units) },
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
    let total = bill.total().map(|total| total.amount.to_string());
    let mut whole = serde_json::json!({
        "format": "ellwand-plan-1",
        "job": job.name,
        "total": total,
        "totals": totals,
        "layouts": layouts,
        "ways": plan.cloths.iter().map(|cloth| ways_json(cloth, job.units)).collect::<Vec<_>>(),
        "matching": plan.cloths.iter().filter_map(matching_json).collect::<Vec<_>>(),
    });
    if let Some(keys) = whole.as_object_mut() {
        keys.extend(spending_json(plan, job.units));
        if !considered.is_empty() {
            keys.insert("candidates".to_owned(), candidates_json::rows(job, "", considered).into());
        }
        keys.extend(garments_json(plan));
        keys.insert("left_over".to_owned(), left_over_json(plan, job.units));
        if !plan.stashes.is_empty() {
            keys.insert("remnants".to_owned(), remnants_json(plan));
        }
        keys.extend(changes.map(|changes| ("changes".to_owned(), changes_json(plan, changes, job.units))));
    }
    whole.to_string()
}

/// Of several garments what each takes alone of each cloth, with its share of what that costs; lengths in mm.
fn garments_json(plan: &JobPlan) -> Option<(String, serde_json::Value)> {
    let wishes = |found: &Together, kept: Kept| -> Vec<String> {
        found.not_alike.iter().filter(|wish| wish.kept == kept).map(|wish| wish.name.clone()).collect()
    };
    let of_cloth = |cloth: &ClothPlan| {
        let found = together(cloth)?;
        // What is cut from remnants was not laid alone.
        let all_bought = is_all_bought(cloth);
        let garment = |of: &ShareOf| {
            serde_json::json!({
                "garment": of.garment, "count": of.count, "area": of.area, "alone": of.alone, "alone_buy_text": of.buy_text,
                "share": of.share.as_ref().map(|share| share.amount.to_string()),
            })
        };
        Some(serde_json::json!({
            "fabric": cloth.layout().role, "length": all_bought.then_some(cloth.layout().length),
            "one_after_the_other": found.one_after_the_other,
            "given_up_together": wishes(&found, Kept::Alone), "given_up_alone": wishes(&found, Kept::Together),
            "buy_each_alone": all_bought.then_some(found.bought_alone),
            "cost_each_alone": found.cost_alone.filter(|_| all_bought).map(|cost| cost.amount.to_string()),
            "garments": found.garments.iter().map(garment).collect::<Vec<_>>(),
        }))
    };
    let cloths: Vec<serde_json::Value> = plan.cloths.iter().filter_map(of_cloth).collect();
    (!cloths.is_empty()).then(|| ("together".to_owned(), cloths.into()))
}

/// Each change with what it saves, the one that saves most first; lengths in mm.
fn changes_json(own: &JobPlan, changes: &[Weighed], units: Units) -> serde_json::Value {
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
    let impossible = impossible.map(|one| {
        let why = one.answer.as_ref().err().map(|why| why.reasons(units).join("; "));
        serde_json::json!({ "change": one.what, "total": null, "reason": why })
    });
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
