//! `ellwand write JOB|PATTERN|LAYOUT FILE`: pieces or a layout for other programs, as SVG, DXF or PDF.

use std::{ffi::OsStr, io::Write, path::Path};

use ellwand_drawing::{LayerNames, PieceToWrite, layout_strokes, pieces_strokes};
use ellwand_files::{OutputFolder, ReadJob, ReadPattern};
use ellwand_garment::Sized;
use ellwand_vector::{Drawing, Tiling, dxf::CurvesAs, tiled};

use crate::{
    args::{PaperArg, WriteArgs},
    exit::Failure,
    full_size::{self, Named},
    input,
    progress::Show,
    settings,
};

/// What a file is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Svg,
    Dxf,
    Pdf,
}

/// Writes the pieces.
pub(crate) fn run(args: &WriteArgs, out: &mut impl Write) -> Result<(), Failure> {
    let limits = settings::limits(&args.limits);
    let kind = kind_of(&args.to)?;
    if args.tiles.is_some() && kind != Kind::Pdf {
        return Err(Failure::Input(format!(
            "{}: error: only a PDF has pages to cut a drawing into; with --tiles, end the name of the file in .pdf",
            args.to.display()
        )));
    }
    let named = Named::of(&args.file);
    let asked: Vec<String> = args.size.iter().cloned().collect();
    named.refuse_sizes(&args.file, &asked)?;
    let drawing = match named {
        Named::Layout => {
            let laid = input::read_layout(&args.file, &limits)?;
            layout_strokes([laid.width, laid.length], &full_size::cuts(&laid))
        }
        Named::Pattern => {
            let read = input::read_pattern(&args.file, &limits, Show::OnStderr)?;
            let sized = read.sized.clone().ok_or_else(|| full_size::no_seam_lines(&args.file))?;
            let wanted = full_size::wanted_sizes(&args.file, &sized, &asked)?;
            strokes_of_pattern(&read, &sized, &wanted, kind)
        }
        Named::Job => {
            let read = input::read_job(&args.file, &limits, Show::OnStderr)?;
            if read.fit.drafts.is_empty() {
                return Err(full_size::no_seam_lines(&args.file));
            }
            strokes_of_job(&read, kind)
        }
    };
    let drawing = on_pages(drawing, args)?;
    // A bought drawing must not be lost under the pieces that were picked from it.
    if args.to.exists() && !args.replace {
        return Err(Failure::Input(format!(
            "{}: error: there is such a file already; write another, or add --replace",
            args.to.display()
        )));
    }
    let folder = args.to.parent().unwrap_or(Path::new(""));
    let mut output = OutputFolder::new(folder);
    let to = args.to.file_name().map(OsStr::to_string_lossy).unwrap_or_default();
    output.add(to.into_owned(), bytes_of(&drawing, kind));
    output.write().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    writeln!(out, "Written: {}", args.to.display())?;
    Ok(())
}

/// What a home printer leaves empty along the borders of its paper, mm: common practice, no source.
const PRINTER_MARGIN: f64 = 10.0;

/// Cut into pages where that is asked for.
fn on_pages(drawing: Drawing, args: &WriteArgs) -> Result<Drawing, Failure> {
    let paper = match args.tiles {
        None => return Ok(drawing),
        Some(PaperArg::A4) => [210.0, 297.0],
        Some(PaperArg::Letter) => [215.9, 279.4],
    };
    let tiling = Tiling { paper, margin: PRINTER_MARGIN, overlap: args.overlap };
    tiled(&drawing, tiling).map_err(|fault| Failure::Input(format!("{}: error: {fault}", args.to.display())))
}

/// The pieces of a pattern in the sizes of these numbers.
fn strokes_of_pattern(read: &ReadPattern, sized: &Sized, wanted: &[usize], kind: Kind) -> Drawing {
    let is_told = wanted.len() > 1;
    let pieces: Vec<PieceToWrite<'_>> = sized
        .pieces
        .iter()
        .zip(&read.pattern.pieces)
        .map(|(piece, finished)| {
            let of_size = |&k: &usize| (is_told.then(|| sized.chart.sizes[k].label()), &piece.drafts[k]);
            let sizes = if full_size::is_one_for_all(piece) {
                vec![(None, &piece.drafts[0])]
            } else {
                wanted.iter().map(of_size).collect()
            };
            PieceToWrite { cuts: &finished.cuts, sizes }
        })
        .collect();
    pieces_strokes(&read.pattern.name, &pieces, names(kind))
}

/// The pieces that a job makes, as fitted and altered.
fn strokes_of_job(read: &ReadJob, kind: Kind) -> Drawing {
    let made = read.pattern.view(&read.job.view).map_or(&[][..], |view| view.pieces.as_slice());
    let pieces: Vec<PieceToWrite<'_>> = read
        .fit
        .drafts
        .iter()
        .filter(|draft| made.contains(&draft.name))
        .filter_map(|draft| {
            let piece = read.pattern.piece(&draft.name)?;
            Some(PieceToWrite { cuts: &piece.cuts, sizes: vec![(None, draft)] })
        })
        .collect();
    pieces_strokes(&read.pattern.name, &pieces, names(kind))
}

fn names(kind: Kind) -> LayerNames {
    if kind == Kind::Dxf { LayerNames::Interchange } else { LayerNames::Words }
}

fn bytes_of(drawing: &Drawing, kind: Kind) -> Vec<u8> {
    match kind {
        Kind::Svg => ellwand_vector::svg::write(drawing).into_bytes(),
        Kind::Dxf => ellwand_vector::dxf::write(drawing, CurvesAs::Splines).into_bytes(),
        Kind::Pdf => ellwand_vector::pdf::write(drawing),
    }
}

fn kind_of(path: &Path) -> Result<Kind, Failure> {
    let extension = path.extension().map(OsStr::to_string_lossy).unwrap_or_default().to_lowercase();
    match extension.as_str() {
        "svg" => Ok(Kind::Svg),
        "dxf" => Ok(Kind::Dxf),
        "pdf" => Ok(Kind::Pdf),
        _ => Err(Failure::Input(format!(
            "{}: error: this is written as SVG, DXF or PDF; end the name of the file in .svg, .dxf or .pdf",
            path.display()
        ))),
    }
}

#[cfg(test)]
#[path = "write_tests.rs"]
mod tests;
