//! `ellwand print JOB|PATTERN|LAYOUT`: pieces or a layout at full size, as PDF or SVG pages to print or to project.

use std::io::Write;

use ellwand_drawing::{
    Faces, LONGEST_PAGE, Pages, pdf,
    print::{
        Ground, LayoutToPrint, MOST_SIZES, Mirrored, OnTable, PageFormat, Paper, PieceToPrint, PrintWords,
        PrintedPiece, Projection, page_svgs, projector_page, sheet_pages, tile_pages,
    },
};
use ellwand_files::{LaidCloth, OutputFolder, ReadJob, ReadPattern};
use ellwand_garment::{Draft, Units, size_words};
use ellwand_planner::{OnPaper, PaperPlan, PaperShape, on_roll, on_sheets, on_tiles, pages_touched};
use ellwand_report::missing_letters;

use crate::{
    args::{GroundArg, PrintArgs},
    exit::Failure,
    fonts,
    full_size::{self, Named},
    input,
    progress::Show,
    settings,
};

/// Between pieces on paper, mm: room for the scissors.
const GAP: f64 = 6.0;

/// No table of tiles is wider than so many pages.
const MOST_COLUMNS: usize = 8;

/// A sheet of less than this is one of a home printer, whose pages are joined, mm²: between A3 and A2.
const HOME: f64 = 180_000.0;

/// A projected page is so wide, mm: as wide as usual cloth.
const PROJECTED: f64 = 1400.0;

/// What is printed.
struct Work {
    words: PrintWords,
    pieces: Pieces,
    units: Units,
    /// The beginning of the names of files.
    stem: String,
}

/// Pieces to lay on paper, or a layout that lies already.
enum Pieces {
    Loose(Box<dyn Fn(Ground) -> Vec<PrintedPiece>>),
    Laid { cloth: [f64; 2], print: Box<dyn Fn(Ground) -> PrintedPiece> },
}

/// Prints.
pub(crate) fn run(args: &PrintArgs, out: &mut impl Write) -> Result<(), Failure> {
    let papers = papers(args)?;
    let faces = fonts::faces(&args.font)?;
    let work = work(args)?;
    let mut output = OutputFolder::new(&args.out);
    output.refuse_a_file().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    let mut said = Vec::new();
    let mut missing: Vec<char> = Vec::new();
    let mut add = |name: String, pages: &Pages, what: String| {
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
    output.write().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    for line in said {
        writeln!(out, "{line}")?;
    }
    if let Some(note) = missing_letters(missing) {
        writeln!(out, "Note: {note}.")?;
    }
    writeln!(out, "Print at 100 % (\"actual size\"), and measure the test square before you cut.")?;
    Ok(())
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

/// The papers asked for, with the names of their files.
fn papers(args: &PrintArgs) -> Result<Vec<(String, Paper)>, Failure> {
    let asked: Vec<String> = match (args.paper.is_empty(), args.projector) {
        (true, true) => Vec::new(),
        (true, false) => vec!["a4".to_owned()],
        (false, _) => args.paper.clone(),
    };
    let mut papers: Vec<(String, Paper)> = Vec::new();
    for name in asked {
        let paper = Paper::named(&name).ok_or_else(|| {
            let known: Vec<&str> = Paper::names().collect();
            Failure::Input(format!(
                "error: --paper {name}: there is no such paper; use {}, or measures such as \"60x90cm\" for a sheet and \"42in\" for a roll",
                known.join(", ")
            ))
        })?;
        let name = name.trim().to_lowercase().replace(' ', "");
        if !papers.iter().any(|(known, _)| *known == name) {
            papers.push((name, paper));
        }
    }
    Ok(papers)
}

fn work(args: &PrintArgs) -> Result<Work, Failure> {
    let limits = settings::limits(&args.limits);
    let named = Named::of(&args.file);
    named.refuse_sizes(&args.file, &args.size)?;
    let stem = full_size::stem(&args.file);
    match named {
        Named::Layout => Ok(layout_work(input::read_layout(&args.file, &limits)?, stem)),
        Named::Pattern => {
            let read = input::read_pattern(&args.file, &limits, Show::OnStderr)?;
            pattern_work(args, read, format!("{stem}.pieces"))
        }
        Named::Job => {
            let read = input::read_job(&args.file, &limits, Show::OnStderr)?;
            job_work(args, read, format!("{stem}.pieces"))
        }
    }
}

fn layout_work(laid: LaidCloth, stem: String) -> Work {
    let cloth = [laid.width, laid.length];
    let mut about = vec!["cutting layout".to_owned(), laid.fabric.clone()];
    about.push(if laid.view.is_empty() { String::new() } else { format!("view {}", laid.view) });
    about.push(if laid.size.is_empty() { String::new() } else { size_words(&laid.size) });
    about.push(if laid.folds.is_empty() { String::new() } else { "both layers of the fold, opened out".to_owned() });
    about.retain(|part| !part.is_empty());
    let title = if laid.job.is_empty() { stem.clone() } else { laid.job.clone() };
    let words = PrintWords { title, about: about.join(", "), sizes: Vec::new() };
    let print = move |ground: Ground| {
        let cuts = full_size::cuts_to_print(&laid);
        PrintedPiece::of_layout(&LayoutToPrint { cloth, folds: &laid.folds, cuts: &cuts }, ground)
    };
    let pieces = Pieces::Laid { cloth, print: Box::new(print) };
    Work { words, pieces, units: Units::Centimetres, stem: format!("{stem}.layout") }
}

fn job_work(args: &PrintArgs, read: ReadJob, stem: String) -> Result<Work, Failure> {
    if read.fit.drafts.is_empty() {
        return Err(full_size::no_seam_lines(&args.file));
    }
    let about = format!("{}, view {}, {}", read.pattern.name, read.job.view, size_words(&read.job.size));
    let words = PrintWords { title: read.job.name.clone(), about, sizes: Vec::new() };
    let units = read.job.units;
    let own = words.clone();
    let print = move |ground: Ground| {
        let Some(view) = read.pattern.view(&read.job.view) else { return Vec::new() };
        let of = |(at, name): (usize, &String)| {
            let (draft, piece) =
                read.fit.drafts.iter().zip(&read.pattern.pieces).find(|(draft, _)| draft.name == *name)?;
            let piece = PieceToPrint::of_view(&read.pattern, view, at + 1, &piece.cuts, vec![draft]);
            Some(PrintedPiece::new(&piece, &own, ground))
        };
        view.pieces.iter().enumerate().filter_map(of).collect()
    };
    Ok(Work { words, pieces: Pieces::Loose(Box::new(print)), units, stem })
}

fn pattern_work(args: &PrintArgs, read: ReadPattern, stem: String) -> Result<Work, Failure> {
    let sized = read.sized.clone().ok_or_else(|| full_size::no_seam_lines(&args.file))?;
    let wanted = full_size::wanted_sizes(&args.file, &sized, &args.size)?;
    if wanted.len() > MOST_SIZES {
        let what = format!(
            "{} sizes are more than {MOST_SIZES}, which have a line of their own each; name those you need: --size \"{}\"",
            wanted.len(),
            sized.chart.sizes[wanted[0]].label()
        );
        return Err(refused(args, &what));
    }
    let names: Vec<String> = wanted.iter().map(|&k| sized.chart.sizes[k].label()).collect();
    let about = if names.len() == 1 { format!("size {}", names[0]) } else { format!("sizes {}", names.join(", ")) };
    let sizes = if names.len() > 1 { names } else { Vec::new() };
    let words = PrintWords { title: read.pattern.name.clone(), about, sizes };
    let own = words.clone();
    let print = move |ground: Ground| {
        let pieces = sized.pieces.iter().zip(&read.pattern.pieces).enumerate();
        pieces
            .map(|(at, (graded, piece))| {
                let drafts: Vec<&Draft> = if full_size::is_one_for_all(graded) {
                    vec![&graded.drafts[0]]
                } else {
                    wanted.iter().filter_map(|&k| graded.drafts.get(k)).collect()
                };
                let view = read.pattern.views.iter().find(|view| view.pieces.contains(&piece.name));
                let piece = match view {
                    Some(view) => PieceToPrint::of_view(&read.pattern, view, at + 1, &piece.cuts, drafts),
                    None => PieceToPrint { number: at + 1, cuts: &piece.cuts, drafts, roll_lines: Vec::new() },
                };
                PrintedPiece::new(&piece, &own, ground)
            })
            .collect()
    };
    Ok(Work { words, pieces: Pieces::Loose(Box::new(print)), units: Units::Centimetres, stem })
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
            let margin = args.margin;
            PageFormat { size, margin, overlap: 0.0 }.check().map_err(told)?;
            roll(work, width, margin, args)
        }
        Paper::Sheet(size) => {
            let format = PageFormat { size, margin: args.margin, overlap: args.overlap };
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
    pieces.push(PrintedPiece::of_words(&work.words, Ground::Paper));
    let plan = on_roll(&shapes(&pieces), width - 2.0 * margin, GAP)
        .map_err(|fault| refused(args, &format!("{fault}; use a wider roll, or --paper a4 to join pages")))?;
    let length = plan.length + 2.0 * margin;
    if length > LONGEST_PAGE {
        let fault = ellwand_drawing::print::PaperFault::TooLong { side: length };
        return Err(refused(args, &fault.words(work.units)));
    }
    let on: Vec<OnTable> = plan.placed.iter().map(on_table).collect();
    let pages = sheet_pages(&pieces, &[on], [width, length], margin, &work.words);
    Ok((pages, format!("{} of roll", ellwand_garment::format_length_up(length, work.units))))
}

/// Whole pieces on sheets, where each fits one.
fn whole_pieces(work: &Work, format: PageFormat) -> Option<Pages> {
    let Pieces::Loose(print) = &work.pieces else { return None };
    let mut pieces = print(Ground::Paper);
    pieces.push(PrintedPiece::of_words(&work.words, Ground::Paper));
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
        GroundArg::White => Ground::White,
        GroundArg::Black => Ground::Black,
    };
    let mirrored = if args.mirrored { Mirrored::Yes } else { Mirrored::No };
    let grid = match work.units {
        Units::Inches => 25.4,
        Units::Centimetres => 50.0,
    };
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
    let pages = projector_page(&pieces, &on, size, Projection { ground, mirrored, grid }, &work.words);
    if let Some(side) = pages.sizes().flatten().find(|side| *side > LONGEST_PAGE) {
        let fault = ellwand_drawing::print::PaperFault::TooLong { side };
        return Err(refused(args, &fault.words(work.units)));
    }
    Ok((pages, "one page for a projector".to_owned()))
}
