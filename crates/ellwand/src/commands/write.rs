//! `ellwand write JOB|PATTERN|LAYOUT FILE`: pieces or a layout for other programs, as SVG, DXF or PDF.

use std::{ffi::OsStr, io::Write, path::Path};

use ellwand_drawing::{CutToWrite, LayerNames, PieceToWrite, layout_strokes, pieces_strokes};
use ellwand_files::{Limits, OutputFolder, ReadJob, ReadPattern};
use ellwand_garment::{Size, Sized};
use ellwand_vector::{Drawing, Tiling, dxf::CurvesAs, tiled};

use crate::{
    args::{PaperArg, WriteArgs},
    exit::Failure,
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
    let name = args.file.file_name().map(OsStr::to_string_lossy).unwrap_or_default();
    let drawing = if name.to_lowercase().ends_with(".json") {
        strokes_of_record(&args.file, &limits)?
    } else if name.ends_with(".pattern.toml") {
        let read = input::read_pattern(&args.file, &limits, Show::OnStderr)?;
        let sized = read.sized.clone().ok_or_else(|| record(&args.file))?;
        if let Some(asked) = args.size.as_deref() {
            let known: Vec<String> = sized.chart.sizes.iter().map(full_name).collect();
            if !known.iter().any(|size| size == asked) {
                let text = format!("error: the pattern has no size `{asked}`; its sizes are {}", known.join(", "));
                return Err(Failure::Input(format!("{}: {text}", args.file.display())));
            }
        }
        strokes_of_pattern(&read, &sized, args.size.as_deref(), kind)
    } else {
        if args.size.is_some() {
            let text = "error: a job says its size itself; --size is for a pattern";
            return Err(Failure::Input(format!("{}: {text}", args.file.display())));
        }
        let read = input::read_job(&args.file, &limits, Show::OnStderr)?;
        if read.fit.drafts.is_empty() {
            return Err(record(&args.file));
        }
        strokes_of_job(&read, kind)
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

/// The pieces of a pattern, in one size or in all.
fn strokes_of_pattern(read: &ReadPattern, sized: &Sized, wanted: Option<&str>, kind: Kind) -> Drawing {
    let known: Vec<String> = sized.chart.sizes.iter().map(full_name).collect();
    let several = known.len() > 1;
    let pieces: Vec<PieceToWrite<'_>> = sized
        .pieces
        .iter()
        .zip(&read.pattern.pieces)
        .map(|(piece, finished)| {
            let is_once = piece.drafts.iter().all(|draft| *draft == piece.drafts[0]);
            let all = piece.drafts.iter().enumerate();
            let sizes = match wanted {
                _ if is_once => vec![(None, &piece.drafts[0])],
                Some(asked) => all.filter(|(k, _)| known[*k] == asked).map(|(_, draft)| (None, draft)).collect(),
                None => all.map(|(k, draft)| (several.then(|| known[k].clone()), draft)).collect(),
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
        .zip(&read.pattern.pieces)
        .filter(|(draft, _)| made.contains(&draft.name))
        .map(|(draft, piece)| PieceToWrite { cuts: &piece.cuts, sizes: vec![(None, draft)] })
        .collect();
    pieces_strokes(&read.pattern.name, &pieces, names(kind))
}

/// A layout, from the record that `plan` wrote.
fn strokes_of_record(path: &Path, limits: &Limits) -> Result<Drawing, Failure> {
    let laid = input::read_layout(path, limits)?;
    let cuts: Vec<CutToWrite<'_>> = laid
        .cuts
        .iter()
        .map(|cut| CutToWrite {
            piece: &cut.piece,
            copy: cut.copy,
            outline: cut.outline.points(),
            grainline: cut.grainline,
        })
        .collect();
    Ok(layout_strokes([laid.width, laid.length], &cuts))
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

/// "38", or "38 short".
fn full_name(size: &Size) -> String {
    if size.figure.is_empty() { size.name.clone() } else { format!("{} {}", size.name, size.figure) }
}

fn record(path: &Path) -> Failure {
    Failure::Input(format!(
        "{}: error: a record of pieces holds no seam lines to write; name the pattern it came from",
        path.display()
    ))
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
