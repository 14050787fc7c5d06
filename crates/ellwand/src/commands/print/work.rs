//! What is printed: the pieces of a job or a pattern, or a layout, and what the pages say of them.

use ellwand_drawing::print::{Ground, LayoutToPrint, MOST_SIZES, PieceToPrint, PrintWords, PrintedPiece};
use ellwand_files::{LaidCloth, ReadJob, ReadPattern};
use ellwand_garment::{Draft, TOGETHER, Units, size_words, what_is_made};

use super::refused;
use crate::{
    allowance_words::allowance_words,
    args::PrintArgs,
    exit::Failure,
    full_size::{self, Named},
    input,
    progress::Show,
    settings,
};

/// What is printed.
pub(super) struct Work {
    pub(super) words: PrintWords,
    pub(super) pieces: Pieces,
    pub(super) units: Units,
    /// The beginning of the names of files.
    pub(super) stem: String,
}

/// Pieces to lay on paper, or a layout that lies already.
pub(super) enum Pieces {
    Loose(Box<dyn Fn(Ground) -> Vec<PrintedPiece>>),
    Laid { cloth: [f64; 2], print: Box<dyn Fn(Ground) -> PrintedPiece> },
}

/// Reads what is named.
pub(super) fn work(args: &PrintArgs) -> Result<Work, Failure> {
    let limits = settings::limits(&args.limits);
    full_size::refuse_others(&args.file)?;
    let named = Named::of(&args.file);
    named.refuse_sizes(&args.file, &args.size)?;
    let stem = full_size::stem(&args.file);
    match named {
        Named::Layout => {
            let laid = input::read_layout(&args.file, &limits)?;
            let stem = full_size::layout_stem(&args.file, &laid.job);
            Ok(layout_work(laid, stem))
        }
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
    let units = laid.units;
    let mut about = vec!["cutting layout".to_owned(), laid.fabric.clone()];
    about.push(if laid.view.is_empty() || laid.view == TOGETHER {
        String::new()
    } else {
        format!("view {}", laid.view)
    });
    about.push(if laid.size.is_empty() { String::new() } else { size_words(&laid.size) });
    about.push(if laid.folds.is_empty() { String::new() } else { "both layers of the fold, opened out".to_owned() });
    about.retain(|part| !part.is_empty());
    let title = if laid.job.is_empty() { stem.clone() } else { laid.job.clone() };
    let words = PrintWords { title, about: about.join(", "), ..PrintWords::default() };
    let print = move |ground: Ground| {
        let cuts = full_size::cuts_to_print(&laid);
        PrintedPiece::of_layout(&LayoutToPrint { cloth, folds: &laid.folds, cuts: &cuts }, ground)
    };
    let pieces = Pieces::Laid { cloth, print: Box::new(print) };
    Work { words, pieces, units, stem: format!("{stem}.layout") }
}

fn job_work(args: &PrintArgs, read: ReadJob, stem: String) -> Result<Work, Failure> {
    if read.fit.drafts.is_empty() {
        return Err(full_size::no_seam_lines(&args.file));
    }
    let about = what_is_made(&read.pattern.name, &read.job.view, &read.job.size);
    let units = read.job.units;
    let drawn = read.pattern.view(&read.job.view).map(|view| view.pieces.as_slice()).unwrap_or_default();
    let drafts = read.fit.drafts.iter().filter(|draft| drawn.contains(&draft.name));
    let allowances = allowance_words(drafts, units);
    let words = PrintWords { title: read.job.name.clone(), about, allowances, sizes: Vec::new() };
    let own = words.clone();
    let print = move |ground: Ground| {
        let Some(view) = read.pattern.view(&read.job.view) else { return Vec::new() };
        let of = |(at, name): (usize, &String)| {
            let draft = read.fit.drafts.iter().find(|draft| draft.name == *name)?;
            let piece = read.pattern.piece(name)?;
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
    let units = read.units;
    let drafts = sized.pieces.iter().flat_map(|piece| wanted.iter().filter_map(|&k| piece.drafts.get(k)));
    let mut allowances = allowance_words(drafts, units);
    if !sizes.is_empty() {
        allowances.push_str(" Lines of sizes are cutting lines; no seam lines are drawn.");
    }
    let words = PrintWords { title: read.pattern.name.clone(), about, allowances, sizes };
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
    Ok(Work { words, pieces: Pieces::Loose(Box::new(print)), units, stem })
}
