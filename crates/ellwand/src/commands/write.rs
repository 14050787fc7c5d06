//! `ellwand write JOB|PATTERN FILE`: pieces or a layout for other programs, as SVG, DXF or PDF.

use std::{ffi::OsStr, io::Write, path::Path};

use ellwand_drawing::{LayerNames, PieceToWrite, pieces_strokes};
use ellwand_files::OutputFolder;
use ellwand_garment::{CutRule, Draft};
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
    let names = if kind == Kind::Dxf { LayerNames::Interchange } else { LayerNames::Words };
    let drawing = if name.ends_with(".pattern.toml") {
        let read = input::read_pattern(&args.file, &limits, Show::OnStderr)?;
        let Some(sized) = read.sized else { return Err(record(&args.file)) };
        let wanted = args.size.as_deref();
        let known: Vec<String> = sized.chart.sizes.iter().map(|size| full(&size.name, &size.figure)).collect();
        if let Some(asked) = wanted.filter(|asked| !known.iter().any(|size| size == asked)) {
            let text = format!("error: the pattern has no size `{asked}`; its sizes are {}", known.join(", "));
            return Err(Failure::Input(format!("{}: {text}", args.file.display())));
        }
        let several = known.len() > 1;
        let pieces: Vec<PieceToWrite<'_>> = sized
            .pieces
            .iter()
            .zip(&read.pattern.pieces)
            .map(|(piece, finished)| {
                let is_once = piece.drafts.iter().all(|draft| *draft == piece.drafts[0]);
                let of = |(k, draft): (usize, _)| (several.then(|| known[k].clone()), draft);
                let all = piece.drafts.iter().enumerate();
                let sizes = match wanted {
                    _ if is_once => vec![(None, &piece.drafts[0])],
                    Some(asked) => all.filter(|(k, _)| known[*k] == asked).map(|(_, draft)| (None, draft)).collect(),
                    None => all.map(of).collect(),
                };
                PieceToWrite { cuts: &finished.cuts, sizes }
            })
            .collect();
        pieces_strokes(&read.pattern.name, &pieces, names)
    } else {
        let read = input::read_job(&args.file, &limits, Show::OnStderr)?;
        if read.fit.drafts.is_empty() {
            return Err(record(&args.file));
        }
        let made = read.pattern.view(&read.job.view).map_or(&[][..], |view| view.pieces.as_slice());
        let pieces: Vec<(&Draft, &[CutRule])> = read
            .fit
            .drafts
            .iter()
            .zip(&read.pattern.pieces)
            .filter(|(draft, _)| made.contains(&draft.name))
            .map(|(draft, piece)| (draft, piece.cuts.as_slice()))
            .collect();
        let pieces: Vec<PieceToWrite<'_>> =
            pieces.into_iter().map(|(draft, cuts)| PieceToWrite { cuts, sizes: vec![(None, draft)] }).collect();
        pieces_strokes(&read.pattern.name, &pieces, names)
    };
    let drawing = on_pages(drawing, args)?;
    let bytes = match kind {
        Kind::Svg => ellwand_vector::svg::write(&drawing).into_bytes(),
        Kind::Dxf => ellwand_vector::dxf::write(&drawing, CurvesAs::Splines).into_bytes(),
        Kind::Pdf => ellwand_vector::pdf::write(&drawing),
    };
    let folder = args.to.parent().unwrap_or(Path::new(""));
    let mut output = OutputFolder::new(folder);
    output.add(args.to.file_name().map(OsStr::to_string_lossy).unwrap_or_default().into_owned(), bytes);
    output.write().map_err(|fault| Failure::NotWritten(fault.to_string()))?;
    writeln!(out, "Written: {}", args.to.display())?;
    Ok(())
}

/// What a home printer leaves empty along the borders of its paper, mm: common practice.
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

fn full(name: &str, figure: &str) -> String {
    if figure.is_empty() { name.to_owned() } else { format!("{name} {figure}") }
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
