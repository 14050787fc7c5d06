//! `ellwand chart JOB --out DIR`: the yardage table of an envelope, made of cells that are kept as they end.

mod asked;
mod made;
mod meter;
mod record;

use std::{collections::BTreeSet, io::Write, path::Path};

use ellwand_drawing::{TableRow, table_sheet};
use ellwand_files::{CellFolder, CellName, OutputFolder, TakenIn};
use ellwand_garment::SearchNote;
use ellwand_planner::{ChartCell, ChartGroup, ChartRow, Found};
use ellwand_report::{YardageGroup, YardageTable, chart_csv, chart_markdown, chart_text};

use crate::{
    args::{ChartArgs, EffortArg, Share},
    exit::Failure,
    full_size::refused,
    input,
    interrupt::Interrupt,
    progress::Show,
    settings,
};
use asked::{Asked, At, kind_words, label};
use made::{From, Made, Making};
use meter::ChartMeter;

/// Where the cells are, in the folder of the table.
const CELLS: &str = "cells";

/// Makes the table, or a share of it, and prints it.
pub(crate) fn run(args: &ChartArgs, out: &mut impl Write) -> Result<(), Failure> {
    let show = if args.search.quiet { Show::Never } else { Show::OnStderr };
    if args.search.time.is_some() {
        let what = "error: every cell of a table gets the same work, so that one can be held against another: use --effort in place of --time";
        return Err(Failure::Input(what.to_owned()));
    }
    let base = input::read_job_in_any_size(&args.job, settings::reading(&args.search), show)?;
    let asked = Asked::of(args, &base)?;
    OutputFolder::new(&args.out).refuse_a_file().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    let folder = args.out.join(CELLS);
    let cells = CellFolder::open(&folder)
        .map_err(|fault| Failure::NotWritten(format!("{} cannot be made: {fault}", folder.display())))?;
    for other in &args.from {
        take_in(other, &cells)?;
    }
    let interrupt = Interrupt::listen();
    let meter = ChartMeter::new(show, interrupt.clone());
    let note = SearchNote {
        seed: args.search.seed,
        effort: effort_word(args.search.effort).to_owned(),
        seconds: 0.0,
        start_length: 0.0,
        trace: Vec::new(),
    };
    let options = settings::options(&args.search);
    let making = Making { args, base: &base, asked: &asked, cells: &cells, options: &options, note: &note };
    let runs = shared(asked.runs(), args.part);
    let looked = making.all(&runs, From::Folder, &meter)?;
    let to_do = unfinished(&looked);
    meter.expect(to_do);
    tell_of_others(&making, &looked, args, &meter)?;
    let made = if args.gather || to_do == 0 { looked } else { making.all(&runs, From::Search, &meter)? };
    meter.finish();
    interrupt.stop_listening();
    let missing = unfinished(&made);
    if args.gather && missing > 0 {
        return Err(refused(&args.job, &missing_words(&making, &made, missing)));
    }
    if let Some(Share { one, of }) = args.part {
        let (done, all) = (made.len() - missing, made.len());
        if !args.search.quiet {
            writeln!(out, "share {one} of {of}: {done} of {all} cells are in {}", folder.display())?;
            writeln!(
                out,
                "The table is made of all shares: ellwand chart {} --out {} --gather, with the same options.",
                args.job.display(),
                args.out.display()
            )?;
        }
        return Ok(());
    }
    let table = table(&making, made);
    let record = record::record(&base.job, &note, &table);
    let text = chart_text(&table);
    if missing == 0 {
        write_files(&args.out, &table, &text, &record)?;
    }
    if args.json {
        write!(out, "{record}")?;
    } else if !args.search.quiet {
        write!(out, "{text}")?;
        match missing {
            0 => {
                writeln!(out, "\nwritten  {}", FILES.map(|file| args.out.join(file).display().to_string()).join(", "))?
            }
            missing => writeln!(out, "\nStopped: {missing} cells are missing. The same command goes on with them.")?,
        }
    }
    Ok(())
}

/// The files of a table.
const FILES: [&str; 5] = ["chart.txt", "chart.md", "chart.csv", "chart.json", "chart.svg"];

fn effort_word(effort: EffortArg) -> &'static str {
    match effort {
        EffortArg::Quick => "quick",
        EffortArg::Normal => "normal",
        EffortArg::Thorough => "thorough",
    }
}

/// The runs of a share, or all.
fn shared(runs: Vec<Vec<At>>, part: Option<Share>) -> Vec<Vec<At>> {
    let is_of_share = |k: usize| part.is_none_or(|Share { one, of }| k % of as usize == one as usize - 1);
    runs.into_iter().enumerate().filter(|(k, _)| is_of_share(*k)).map(|(_, run)| run).collect()
}

fn unfinished(made: &[Made]) -> usize {
    made.iter().filter(|made| made.found == Found::Unfinished).count()
}

/// Says once that cells of other tables lie in the folder.
fn tell_of_others(making: &Making<'_>, looked: &[Made], args: &ChartArgs, meter: &ChartMeter) -> Result<(), Failure> {
    if args.part.is_some() {
        return Ok(());
    }
    let names: BTreeSet<&CellName> = looked.iter().map(|made| &made.name).collect();
    let others = making.cells.others(&names);
    match others
        .map_err(|fault| Failure::NotWritten(format!("{} cannot be read: {fault}", making.cells.path().display())))?
    {
        0 => {}
        count => {
            let (cells, are) = if count == 1 { ("cell", "is") } else { ("cells", "are") };
            let what = format!(
                "{count} {cells} in {} {are} of another table, of another effort, or of this one before its job or pattern was changed",
                making.cells.path().display()
            );
            meter.tell_once(&what, "they stay and are not used");
        }
    }
    Ok(())
}

/// Which cells are missing, for who gathers them.
fn missing_words(making: &Making<'_>, made: &[Made], missing: usize) -> String {
    let titles =
        made.iter().filter(|made| made.found == Found::Unfinished).map(|made| making.asked.title(made.at, making.base));
    let named: Vec<String> = titles.take(3).map(|title| format!("\"{title}\"")).collect();
    let more = if missing > named.len() { format!(" and {} more", missing - named.len()) } else { String::new() };
    format!(
        "{missing} of {} cells are missing: {}{more}; run the shares that are to make them, or leave --gather out to make them here",
        made.len(),
        named.join(", ")
    )
}

/// Takes in the cells of another folder of a table that are not here yet.
fn take_in(from: &Path, cells: &CellFolder) -> Result<(), Failure> {
    let within = from.join(CELLS);
    let from = if within.is_dir() { within } else { from.to_owned() };
    cells.take_in(&from).map_err(|fault| match fault {
        TakenIn::NotRead(fault) => {
            Failure::Input(format!("{}: error: its cells cannot be read: {fault}", from.display()))
        }
        TakenIn::NotWritten(fault) => {
            Failure::NotWritten(format!("{}: its cells cannot be kept: {fault}", cells.path().display()))
        }
    })
}

/// The table settled: what one cell knows serves the others.
fn table(making: &Making<'_>, mut made: Vec<Made>) -> YardageTable {
    made.sort_by_key(|made| made.at);
    let mut made = made.into_iter().peekable();
    let mut groups = Vec::new();
    for (k, asked) in making.asked.groups.iter().enumerate() {
        let mut rows: Vec<ChartRow> =
            asked.rows.iter().map(|&(width, kind)| ChartRow { width, kind, cells: Vec::new() }).collect();
        while let Some(Made { at, job, pattern, found, .. }) = made.next_if(|made| made.at.group == k) {
            rows[at.row].cells.push(ChartCell { job, pattern, found });
        }
        let mut group = ChartGroup { role: asked.role.clone(), rows };
        group.adopt();
        groups.push(YardageGroup {
            view: asked.view.clone(),
            figure: asked.figure.clone(),
            sizes: asked.sizes.clone(),
            kinds: asked.rows.iter().map(|(_, kind)| kind_words(*kind).to_owned()).collect(),
            printed: group.printed(),
            group,
        });
    }
    let job = &making.base.job;
    let mut roles: Vec<&str> = Vec::new();
    for asked in &making.asked.groups {
        if !roles.contains(&asked.role.as_str()) {
            roles.push(&asked.role);
        }
    }
    let cloths = job.fabrics.iter().filter(|fabric| roles.contains(&fabric.role.as_str()));
    YardageTable {
        job: job.name.clone(),
        pattern: job.pattern.clone(),
        units: job.units,
        cloths: cloths.map(|fabric| (fabric.role.clone(), fabric.cloth.name.clone())).collect(),
        bodies: making.asked.sizes.iter().map(|size| (label(size), size.body.clone())).collect(),
        groups,
    }
}

fn write_files(folder: &Path, table: &YardageTable, text: &str, record: &str) -> Result<(), Failure> {
    let mut output = OutputFolder::new(folder).replacing("chart");
    let rows: Vec<TableRow> = table.rows().into_iter().map(|(heading, cells)| TableRow { heading, cells }).collect();
    let sheet = table_sheet(&table.title(), &table.remarks(), &rows);
    let contents = [text.to_owned(), chart_markdown(table), chart_csv(table), record.to_owned(), sheet.svg()];
    for (file, content) in FILES.iter().zip(contents) {
        output.add(*file, content);
    }
    output.write().map(drop).map_err(|fault| Failure::NotWritten(fault.to_string()))
}
