//! `ellwand read FILE --out DIR`: a drawing understood as a pattern, to be completed.

use std::{
    ffi::OsStr,
    fs,
    io::Write,
    path::{Path, PathBuf},
};

use ellwand_files::{
    OutputFolder, Source, drawing_grades, drawing_hints, left_out_list, pattern_to_complete, read_bytes, renumbered,
};
use ellwand_trace::{GradeTable, Hints, Remark, Scale, Understood, graded, understand};
use ellwand_vector::Format;

use crate::{args::ReadArgs, exit::Failure, settings};

/// Reads the drawing and writes the pattern file, the sheet and the list.
pub(crate) fn run(args: &ReadArgs, out: &mut impl Write) -> Result<(), Failure> {
    let limits = settings::limits(&args.limits);
    let path = &args.drawing;
    let at_fault = |what: String| Failure::Input(format!("{}: error: {what}", path.display()));
    let bytes = read_bytes(path, limits.drawing.bytes).map_err(|fault| at_fault(fault.to_string()))?;
    let drawing = ellwand_vector::read(&bytes, &limits.drawing).map_err(|fault| at_fault(fault.to_string()))?;
    let format = Format::of(&bytes).unwrap_or(Format::Svg);
    let file = path.file_name().map(OsStr::to_string_lossy).unwrap_or_default().into_owned();
    let stem = path.file_stem().map(OsStr::to_string_lossy).unwrap_or_default().into_owned();
    // What a kept pattern says of the drawing holds for the sheet too, so that numbers and rulers are those it uses.
    let kept = fs::read_to_string(args.out.join(format!("{stem}.pattern.toml"))).ok();
    let said = kept.as_ref().and_then(|text| drawing_hints(&Source::new(stem.as_str(), text.as_str()), &limits));
    let usual = Hints { scale: Scale::BySquare, ..Hints::default() };
    let hints = said.unwrap_or(usual);
    let kept_grades =
        kept.as_ref().and_then(|text| drawing_grades(&Source::new(stem.as_str(), text.as_str()), &limits));
    let grades = args.grades.clone().or_else(|| kept_grades.map(|named| args.out.join(named)));
    let grades = grades.map(|path| Grades::read(path, limits.drawing.bytes)).transpose()?;
    let drawing = match &grades {
        Some(Grades { path, table, .. }) => graded(&drawing, format, &hints, table).map_err(|fault| {
            at_fault(format!("the table of grade rules `{}` does not fit it: {fault}", path.display()))
        })?,
        None => drawing,
    };
    let understood = understand(&drawing, format, &hints);
    if understood.pieces.is_empty() {
        let why = understood.remarks.first().map(|remark| format!(" ({remark})")).unwrap_or_default();
        return Err(at_fault(format!(
            "no closed outline larger than a button was found{why}; outlines may be broken by at most 40 mm, and each must be of one colour and layer"
        )));
    }
    let written = write_files(args, &bytes, grades.as_ref(), (&file, &stem), &understood)?;
    say(&file, &understood, out)?;
    if let Some(text) = kept {
        let sure = understood.pieces.iter().filter(|piece| piece.is_sure);
        let named = sure.filter_map(|piece| Some((piece.number, piece.names.first()?)));
        for (number, name) in named.filter(|(_, name)| !text.contains(&format!("\"{name}\""))) {
            writeln!(out, "Not in your pattern: {number} {name}")?;
        }
        for told in renumbered(&text, &understood) {
            writeln!(out, "Changed: {told}")?;
        }
    }
    for line in written {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

/// A table of grade rules with its file.
struct Grades {
    path: PathBuf,
    bytes: Vec<u8>,
    table: GradeTable,
}

impl Grades {
    fn read(path: PathBuf, most: u64) -> Result<Self, Failure> {
        let shown = path.display();
        let bytes = read_bytes(&path, most).map_err(|fault| Failure::Input(format!("{shown}: error: {fault}")))?;
        let table = GradeTable::read(&bytes)
            .map_err(|fault| Failure::Input(format!("{shown}:{}: error: {}", fault.line, fault.fault)))?;
        Ok(Self { path, bytes, table })
    }
}

fn name_of(path: &Path) -> String {
    path.file_name().map(OsStr::to_string_lossy).unwrap_or_default().into_owned()
}

/// Writes everything, and tells what is where.
fn write_files(
    args: &ReadArgs,
    bytes: &[u8],
    grades: Option<&Grades>,
    (file, stem): (&str, &str),
    understood: &Understood,
) -> Result<Vec<String>, Failure> {
    let folder = &args.out;
    let not_written = |fault: ellwand_files::OutputFault| Failure::NotWritten(fault.to_string());
    let mut output = OutputFolder::new(folder);
    let shown = |name: &str| folder.join(name).display().to_string();
    let pattern = format!("{stem}.pattern.toml");
    let (sheet, list) = (format!("{stem}.understood.svg"), format!("{stem}.left-out.txt"));
    let mut told = Vec::new();
    let table = grades;
    let grades = table.map(|grades| name_of(&grades.path));
    if folder.join(&pattern).exists() {
        told.push(format!("Kept:    {} (your words stay; the drawing is read anew)", shown(&pattern)));
    } else {
        output.add(pattern.clone(), pattern_to_complete(stem, file, grades.as_deref(), understood));
        told.push(format!("Written: {} (to complete)", shown(&pattern)));
    }
    let mut copy = |from: &Path, name: &str, bytes: &[u8], what: &str| {
        if !same_file(from, &folder.join(name)) {
            let done = if folder.join(name).exists() { "Replaced:" } else { "Copied: " };
            output.add(name.to_owned(), bytes.to_vec());
            told.push(format!("{done} {} ({what})", shown(name)));
        }
    };
    copy(&args.drawing, file, bytes, "the pattern picks its pieces from it");
    if let (Some(table), Some(name)) = (table, &grades) {
        copy(&table.path, name, &table.bytes, "the pattern makes its sizes by it");
    }
    output.add(sheet.clone(), ellwand_drawing::understood_svg(understood, &format!("What was understood of {file}")));
    output.add(list.clone(), left_out_list(file, understood));
    output.write().map_err(not_written)?;
    told.push(format!("Written: {} (what was understood)", shown(&sheet)));
    told.push(format!("Written: {} (what was left out, and why)", shown(&list)));
    Ok(told)
}

fn same_file(a: &Path, b: &Path) -> bool {
    match (a.canonicalize(), b.canonicalize()) {
        (Ok(a), Ok(b)) => a == b,
        _ => false,
    }
}

/// How much was understood, and what is left to do.
fn say(file: &str, understood: &Understood, out: &mut impl Write) -> Result<(), Failure> {
    let sure = understood.pieces.iter().filter(|piece| piece.is_sure).count();
    let unsure = understood.pieces.len() - sure;
    let sizes: Vec<String> = understood.sizes.iter().map(|size| size.name.to_string()).collect();
    writeln!(out, "{file}: {sure} pieces in {} {}", sizes.len(), if sizes.len() == 1 { "size" } else { "sizes" })?;
    if sizes.len() > 1 {
        writeln!(out, "  sizes: {}", sizes.join(", "))?;
    }
    if let Some(tiles) = &understood.tiles {
        let pages = understood.sheets.iter().filter(|page| page.tile.is_some()).count();
        writeln!(
            out,
            "  {pages} pages joined to one drawing, {} side by side ({} of {} ends of lines go on at the next page)",
            tiles.columns, tiles.met, tiles.of
        )?;
    }
    for piece in &understood.pieces {
        let name = piece.names.first().map_or("without a name", String::as_str);
        let unsure = if piece.is_sure { "" } else { " - a piece? Nothing on it says so" };
        writeln!(out, "  {:>3}  {name}{unsure}", piece.number)?;
    }
    if unsure > 0 {
        writeln!(out, "{unsure} more may be pieces; they stand in the pattern file behind `# `.")?;
    }
    for remark in &understood.remarks {
        writeln!(out, "  {remark}")?;
    }
    let odd = |piece: &&ellwand_trace::FoundPiece| piece.remarks.iter().any(|remark| *remark != Remark::NotSure);
    let odd = understood.pieces.iter().filter(odd).count();
    if odd > 0 {
        writeln!(out, "Something was guessed or is missing of {odd} of them: see the list.")?;
    }
    Ok(())
}
