//! `ellwand print JOB|PATTERN|LAYOUT`: pieces or a layout at full size, as PDF or SVG pages to print or to project.

mod papers;
mod work;

use std::io::Write;

use ellwand_drawing::{
    Faces, LONGEST_PAGE, Pages, pdf,
    print::{
        Ground, Mirrored, OnTable, PageFormat, Paper, PrintedPiece, Projection, page_svgs, projected_square,
        projector_page, sheet_pages, tile_pages,
    },
};
use ellwand_files::OutputFolder;
use ellwand_garment::{Units, format_length_up};
use ellwand_planner::{
    OnPaper, PaperFault as RollFault, PaperPlan, PaperShape, on_roll, on_sheets, on_tiles, pages_touched,
};
use ellwand_report::missing_letters;

use self::{
    papers::{papers, usual_paper},
    work::{Pieces, Work, work},
};
use crate::{
    args::{GroundArg, PrintArgs},
    exit::Failure,
    fonts, full_size,
};

/// Between pieces on paper, mm: room for the scissors.
const GAP: f64 = 6.0;

/// No table of tiles is wider than so many pages.
const MOST_COLUMNS: usize = 8;

/// A sheet of less than this is one of a home printer, whose pages are joined, mm²: between A3 and A2.
const HOME: f64 = 180_000.0;

/// A projected page is so wide, mm: as wide as usual cloth.
const PROJECTED: f64 = 1400.0;

/// Prints.
pub(crate) fn run(args: &PrintArgs, out: &mut impl Write) -> Result<(), Failure> {
    refuse_what_has_no_use(args)?;
    let faces = fonts::faces(&args.font)?;
    let asked = papers(&args.paper)?;
    let work = work(args)?;
    let papers = if asked.is_empty() && !args.projector { vec![usual_paper(work.units)] } else { asked };
    let mut output = OutputFolder::new(&args.out).replacing("print").made_from(&args.file);
    let mut names: Vec<String> = Vec::new();
    output.refuse_a_file().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    let mut said = Vec::new();
    let mut missing: Vec<char> = Vec::new();
    let mut add = |name: String, pages: &Pages, what: String| {
        // Of an earlier print of the same on the same paper nothing stays.
        let endings: &[&str] =
            if args.svg { &[".svg", "-0", "-1", "-2", "-3", "-4", "-5", "-6", "-7", "-8", "-9"] } else { &[".pdf"] };
        names.extend(endings.iter().map(|ending| format!("{name}{ending}")));
        let files = if args.svg { svg_files(&name, pages) } else { pdf_file(&name, pages, &faces, &mut missing) };
        let size: usize = files.iter().map(|(_, bytes)| bytes.len()).sum();
        let written = match files.as_slice() {
            [.., (last, _)] if files.len() > 1 => format!("{} to {last}", args.out.join(&files[0].0).display()),
            _ => args.out.join(&files[0].0).display().to_string(),
        };
        said.push(format!("Written: {written} ({what}, {} kB)", size.div_ceil(1000)));
        files.into_iter().for_each(|(name, bytes)| output.add(name, bytes));
    };
    for (name, paper) in &papers {
        let (pages, what) = on_paper(&work, *paper, args)?;
        if pages.count() > args.max_pages {
            return Err(refused(
                args,
                &format!(
                    "on {name} it would take {} pages, more than {}; use larger paper, or --max-pages {}",
                    pages.count(),
                    args.max_pages,
                    pages.count()
                ),
            ));
        }
        add(format!("{}-{name}", work.stem), &pages, what);
    }
    if args.projector {
        let (pages, what) = projected(&work, args)?;
        add(format!("{}-projector", work.stem), &pages, what);
    }
    let written = output.in_part(names).write().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    for line in said {
        writeln!(out, "{line}")?;
    }
    for (what, files) in [
        ("Removed, of an earlier print", &written.removed),
        ("Left, of an earlier print but changed since", &written.left),
    ] {
        let files: Vec<String> = files.iter().map(|file| file.display().to_string()).collect();
        if !files.is_empty() {
            writeln!(out, "{what}: {}", files.join(", "))?;
        }
    }
    if let Some(note) = missing_letters(missing) {
        writeln!(out, "Note: {note}.")?;
    }
    if !papers.is_empty() {
        writeln!(out, "Print at 100 % (\"actual size\"), and measure the test square before you cut.")?;
    }
    if args.projector {
        let side = projected_square(work.units);
        writeln!(
            out,
            "Open the page for the projector at 100 %, and set the projector until its square measures {side}."
        )?;
    }
    Ok(())
}

/// Refuses options about what is not printed.
fn refuse_what_has_no_use(args: &PrintArgs) -> Result<(), Failure> {
    let refuse = |what: &str| Err(Failure::Input(format!("error: {what}")));
    if !args.projector && (args.ground.is_some() || args.mirrored) {
        return refuse(
            "--ground and --mirrored are about the page for a projector: add --projector, or leave them out",
        );
    }
    if args.projector && args.paper.is_empty() && (args.margin.is_some() || args.overlap.is_some()) {
        return refuse(
            "--margin and --overlap are about paper, and a projected page has none: name some, such as --paper letter, or leave them out",
        );
    }
    Ok(())
}

/// What the printer leaves empty, mm.
fn margin(args: &PrintArgs) -> f64 {
    args.margin.unwrap_or(8.0)
}

/// What neighbouring pages show alike, mm.
fn overlap(args: &PrintArgs) -> f64 {
    args.overlap.unwrap_or(10.0)
}

/// A file with its name.
type Written = (String, Vec<u8>);

fn pdf_file(name: &str, pages: &Pages, faces: &Faces, missing: &mut Vec<char>) -> Vec<Written> {
    let file = pdf(pages, faces);
    missing.extend(&file.missing);
    vec![(format!("{name}.pdf"), file.bytes)]
}

/// One file a page, numbered where there are several.
fn svg_files(name: &str, pages: &Pages) -> Vec<Written> {
    let digits = pages.count().to_string().len().max(2);
    let called = |k: usize| match pages.count() {
        1 => format!("{name}.svg"),
        _ => format!("{name}-{:0digits$}.svg", k + 1),
    };
    page_svgs(pages).into_iter().enumerate().map(|(k, text)| (called(k), text.into_bytes())).collect()
}

fn refused(args: &PrintArgs, what: &str) -> Failure {
    full_size::refused(&args.file, what)
}

fn shapes(pieces: &[PrintedPiece]) -> Vec<PaperShape> {
    pieces.iter().map(|piece| PaperShape { name: piece.name.clone(), outline: piece.outline.clone() }).collect()
}

fn on_table(lies: &OnPaper) -> OnTable {
    OnTable { piece: lies.shape, quarter_turns: lies.quarter_turns, at: lies.at }
}

fn on_paper(work: &Work, paper: Paper, args: &PrintArgs) -> Result<(Pages, String), Failure> {
    let told = |fault: ellwand_drawing::print::PaperFault| refused(args, &fault.words(work.units));
    match paper {
        Paper::Roll(width) => {
            let size = [width, LONGEST_PAGE];
            let margin = margin(args);
            PageFormat { size, margin, overlap: 0.0 }.check().map_err(told)?;
            roll(work, width, margin, args)
        }
        Paper::Sheet(size) => {
            let format = PageFormat { size, margin: margin(args), overlap: overlap(args) };
            format.check().map_err(told)?;
            if size[0] * size[1] >= HOME
                && let Some(pages) = whole_pieces(work, format)
            {
                let count = pages.count();
                let sheets = if count == 1 { "sheet" } else { "sheets" };
                return Ok((pages, format!("{count} {sheets}")));
            }
            tiles(work, format, args)
        }
    }
}

/// All pieces on a roll, the title among them.
fn roll(work: &Work, width: f64, margin: f64, args: &PrintArgs) -> Result<(Pages, String), Failure> {
    let mut pieces = match &work.pieces {
        Pieces::Loose(print) => print(Ground::Paper),
        Pieces::Laid { print, .. } => vec![print(Ground::Paper)],
    };
    pieces.push(PrintedPiece::of_words(&work.words, &pieces, Ground::Paper));
    let room = width - 2.0 * margin;
    let plan =
        on_roll(&shapes(&pieces), room, GAP).map_err(|fault| refused(args, &too_narrow(&fault, work, room, margin)))?;
    let length = plan.length + 2.0 * margin;
    if length > LONGEST_PAGE {
        let fault = ellwand_drawing::print::PaperFault::TooLong { side: length };
        return Err(refused(args, &fault.words(work.units)));
    }
    let on: Vec<OnTable> = plan.placed.iter().map(on_table).collect();
    let pages = sheet_pages(&pieces, &[on], [width, length], margin, &work.words);
    Ok((pages, format!("{} of roll", format_length_up(length, work.units))))
}

/// Why something does not fit a roll, and which roll would do.
fn too_narrow(fault: &RollFault, work: &Work, room: f64, margin: f64) -> String {
    let say = |mm: f64| format_length_up(mm, work.units);
    let RollFault::TooLarge { name, width, height } = fault else { return fault.to_string() };
    let needed = width.min(*height) + 2.0 * margin;
    let what = match work.pieces {
        Pieces::Loose(_) => format!("\"{name}\""),
        Pieces::Laid { .. } => "the layout".to_owned(),
    };
    let roll = match work.units {
        Units::Inches => format!("{}in", (needed / 25.4).ceil()),
        Units::Centimetres => format!("{}cm", (needed / 10.0).ceil()),
    };
    let pages = usual_paper(work.units).0;
    format!(
        "{what} is {} by {}, and within its margins the roll has {}; use a roll at least as wide as --paper {roll}, or --paper {pages} to join pages",
        say(*width),
        say(*height),
        ellwand_garment::format_length(room, work.units),
    )
}

/// Whole pieces on sheets, where each fits one.
fn whole_pieces(work: &Work, format: PageFormat) -> Option<Pages> {
    let Pieces::Loose(print) = &work.pieces else { return None };
    let mut pieces = print(Ground::Paper);
    pieces.push(PrintedPiece::of_words(&work.words, &pieces, Ground::Paper));
    let plan: PaperPlan = on_sheets(&shapes(&pieces), format.printable(), GAP).ok()?;
    let of_sheet = |sheet: usize| plan.placed.iter().filter(|lies| lies.sheet == sheet).map(on_table).collect();
    let on: Vec<Vec<OnTable>> = (0..plan.sheets).map(of_sheet).collect();
    Some(sheet_pages(&pieces, &on, format.size, format.margin, &work.words))
}

/// One table cut into pages, upright or on their sides, whichever takes fewer.
fn tiles(work: &Work, format: PageFormat, args: &PrintArgs) -> Result<(Pages, String), Failure> {
    let (pieces, ways): (Vec<PrintedPiece>, Vec<(PageFormat, PaperPlan)>) = match &work.pieces {
        Pieces::Loose(print) => {
            let pieces = print(Ground::Paper);
            let shapes = shapes(&pieces);
            let packed = |format: PageFormat| Some((format, on_tiles(&shapes, format.step(), GAP, MOST_COLUMNS).ok()?));
            (pieces, [format, format.landscape()].into_iter().filter_map(packed).collect())
        }
        Pieces::Laid { cloth, print } => {
            let plan = PaperPlan {
                placed: vec![OnPaper { shape: 0, sheet: 0, quarter_turns: 0, at: Default::default() }],
                sheets: 1,
                length: cloth[1],
                width: cloth[0],
            };
            (vec![print(Ground::Paper)], vec![(format, plan.clone()), (format.landscape(), plan)])
        }
    };
    let shapes = shapes(&pieces);
    let counted = ways.into_iter().map(|(format, plan)| (pages_touched(&shapes, &plan, format.step()), format, plan));
    let (touched, format, plan) = counted.min_by_key(|(touched, ..)| touched.len()).ok_or_else(|| {
        refused(args, "a piece is wider than eight pages; use larger paper, or a roll such as --paper 36in")
    })?;
    // Pages are counted from the lower left corner; they are read from the upper.
    let rows = touched.iter().map(|[_, row]| row + 1).max().unwrap_or(1);
    let needed: Vec<[usize; 2]> = touched.iter().map(|[column, row]| [*column, rows - 1 - row]).collect();
    let height = rows as f64 * format.step()[1];
    let on: Vec<OnTable> = plan.placed.iter().map(on_table).collect();
    let pages = tile_pages(&pieces, &on, height, &needed, format, &work.words);
    let count = pages.count();
    Ok((pages, format!("{count} pages, the first with the test squares and how to join them")))
}

fn projected(work: &Work, args: &PrintArgs) -> Result<(Pages, String), Failure> {
    let ground = match args.ground {
        None | Some(GroundArg::White) => Ground::White,
        Some(GroundArg::Black) => Ground::Black,
    };
    let mirrored = if args.mirrored { Mirrored::Yes } else { Mirrored::No };
    let (pieces, on, size) = match &work.pieces {
        Pieces::Loose(print) => {
            let pieces = print(ground);
            let plan =
                on_roll(&shapes(&pieces), PROJECTED, 2.0 * GAP).map_err(|fault| refused(args, &fault.to_string()))?;
            let on: Vec<OnTable> = plan.placed.iter().map(on_table).collect();
            (pieces, on, [PROJECTED, plan.length])
        }
        Pieces::Laid { cloth, print } => {
            (vec![print(ground)], vec![OnTable { piece: 0, quarter_turns: 0, at: Default::default() }], *cloth)
        }
    };
    let pages = projector_page(&pieces, &on, size, Projection { ground, mirrored, units: work.units }, &work.words);
    if let Some(side) = pages.sizes().flatten().find(|side| *side > LONGEST_PAGE) {
        let fault = ellwand_drawing::print::PaperFault::TooLong { side };
        return Err(refused(args, &fault.words(work.units)));
    }
    Ok((pages, "one page for a projector".to_owned()))
}
