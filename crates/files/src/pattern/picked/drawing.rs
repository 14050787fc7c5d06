//! The drawing that a pattern names: opened, read, understood, its sizes found.

use std::{ops::Range, path::Component};

use ellwand_trace::{GradeTable, Hints, Remark, Scale, Tiles, Understood, graded, understand};
use ellwand_vector::{Drawing, Format, Unit};

use super::{
    super::{
        format::PatternFile,
        picked_format::{DrawingFileEntry, DrawingKey},
    },
    PatternSize,
};
use crate::{
    FileFault, Shelf,
    document::{At, Name},
    fault::PickedFault,
    findings::Findings,
    note::NoteKind,
};

/// The drawing as it was understood; none when it cannot be, with the fault noted.
pub(super) fn understood(
    named: &At<DrawingKey>,
    shelf: Option<&dyn Shelf>,
    findings: &mut Findings,
) -> Option<Understood> {
    let entry = &named.value.0;
    let file = entry.file.as_ref()?;
    let path = file.value.0.clone();
    if leaves_its_folder(&path) {
        findings.add(&file.span, PickedFault::Elsewhere { path });
        return None;
    }
    let limits = *findings.limits();
    let opened = match shelf {
        Some(shelf) => shelf.drawing(findings.source(), &path, &limits),
        None => Err(FileFault::Missing),
    };
    let bytes = match opened {
        Ok(bytes) => bytes,
        Err(reason) => {
            findings.add(&file.span, PickedFault::File { path, reason });
            return None;
        }
    };
    let read = ellwand_vector::read(&bytes, &limits.drawing);
    let drawing = match read {
        Ok(drawing) => drawing,
        Err(reason) => {
            findings.add(&file.span, PickedFault::Unread { path, reason });
            return None;
        }
    };
    let hints = hints(entry, findings)?;
    let format = Format::of(&bytes).unwrap_or(Format::Svg);
    let drawing = match &entry.grades {
        Some(grades) => in_sizes(&drawing, format, &hints, grades, shelf, findings)?,
        None => drawing,
    };
    let understood = understand(&drawing, format, &hints);
    for (name, _) in entry.layers.iter().flat_map(|layers| &layers.value.0) {
        // A DXF has its layers by number, which an interchange file does not keep as names.
        if !understood.names.contains(&name.value) && format != Format::Dxf {
            let fault = PickedFault::NoSuchLayer { found: name.value.clone(), known: understood.names.clone() };
            findings.add(&name.span, fault);
            return None;
        }
    }
    let is_known =
        judge_pages(entry, &understood, &file.span, findings) && judge_scale(entry, &understood, &file.span, findings);
    is_known.then_some(understood)
}

/// The drawing in every size of its table of grade rules; none where that cannot be, with the fault noted.
fn in_sizes(
    drawing: &Drawing,
    format: Format,
    hints: &Hints,
    named: &At<Name>,
    shelf: Option<&dyn Shelf>,
    findings: &mut Findings,
) -> Option<Drawing> {
    let path = named.value.0.clone();
    let limits = *findings.limits();
    let opened = match shelf {
        _ if leaves_its_folder(&path) => Err(PickedFault::Elsewhere { path: path.clone() }),
        Some(shelf) => shelf
            .drawing(findings.source(), &path, &limits)
            .map_err(|reason| PickedFault::GradesFile { path: path.clone(), reason }),
        None => Err(PickedFault::GradesFile { path: path.clone(), reason: FileFault::Missing }),
    };
    let table = opened
        .and_then(|bytes| GradeTable::read(&bytes).map_err(|reason| PickedFault::Table { path: path.clone(), reason }));
    let in_sizes = table.and_then(|table| {
        graded(drawing, format, hints, &table).map_err(|reason| PickedFault::Grades { path, reason })
    });
    in_sizes.map_err(|fault| findings.add(&named.span, fault)).ok()
}

/// The table of grade rules that a pattern names for its drawing, however much else of it is at fault.
pub(crate) fn grades_of(file: &PatternFile) -> Option<String> {
    let path = file.drawing.as_ref()?.value.0.grades.as_ref()?.value.0.clone();
    (!leaves_its_folder(&path)).then_some(path)
}

/// What a pattern says of its drawing, however much else of it is at fault.
pub(crate) fn hints_of(file: &PatternFile, findings: &mut Findings) -> Option<Hints> {
    hints(&file.drawing.as_ref()?.value.0, findings)
}

/// What the pattern says of its drawing; none where it cannot be, with the fault noted.
fn hints(entry: &DrawingFileEntry, findings: &mut Findings) -> Option<Hints> {
    let layers = entry.layers.iter().flat_map(|layers| &layers.value.0);
    let tiles = match &entry.tiles {
        None => Tiles::Find,
        Some(tiles) => tiles.value.meaning(findings)?,
    };
    Some(Hints {
        roles: layers.map(|(name, role)| (name.value.clone(), role.value.0)).collect(),
        scale: entry.scale.as_ref().map_or(Scale::AsDrawn, |scale| scale.value.0),
        unit: entry.unit.as_ref().map(|unit| unit.value.mm()),
        tiles,
        cut_notches: entry.cut_notches.as_ref().map(|word| word.value.meaning()).unwrap_or_default(),
    })
}

/// Whether it is known how its pages belong together; noted if not.
fn judge_pages(
    entry: &DrawingFileEntry,
    understood: &Understood,
    span: &Range<usize>,
    findings: &mut Findings,
) -> bool {
    let span = entry.tiles.as_ref().map_or(span, |tiles| &tiles.span);
    let found = understood.remarks.iter().find_map(|remark| match *remark {
        Remark::PagesApart { pages, met, of } => Some((
            format!("lines run off the {pages} pages of the drawing, and how these belong together was not found for sure: at best {met} of {of} ends of lines go on at a next page"),
            "write tiles = { columns = 4 }, with its own number of pages side by side, when they are tiles of one drawing; tiles = \"apart\" when they are not",
        )),
        Remark::TilesDoNotMeet { met, of } => Some((
            format!("with the pages laid like this only {met} of {of} ends of lines at their borders go on at the next page"),
            "look at columns, order, from, overlap and trim; or leave `tiles` out to have them found",
        )),
        Remark::NoTiles => Some((
            "the drawing has no pages that can lie like this".to_owned(),
            "count its pages of the same size, and those of one row; or leave `tiles` out",
        )),
        _ => None,
    });
    let is_known = found.is_none();
    if let Some((what, remedy)) = found {
        findings.add(span, PickedFault::Pages { what, remedy });
    }
    is_known
}

/// Whether a path may lead out of the folder it counts from.
fn leaves_its_folder(path: &str) -> bool {
    let path = std::path::Path::new(path);
    path.components().any(|part| !matches!(part, Component::Normal(_) | Component::CurDir))
        || path.as_os_str().is_empty()
}

/// Whether it is known how large the drawing is; noted if not. Nothing that changes what is cut is taken in silence.
fn judge_scale(
    entry: &DrawingFileEntry,
    understood: &Understood,
    span: &Range<usize>,
    findings: &mut Findings,
) -> bool {
    let mut fault = |span: &Range<usize>, what: String, remedy| {
        findings.add(span, PickedFault::Scale { what, remedy });
        false
    };
    let scale = entry.scale.as_ref();
    let by_square = scale.is_none_or(|scale| scale.value.0 == Scale::BySquare);
    let distorted = understood.remarks.iter().find(|remark| matches!(remark, Remark::Distorted { .. }));
    if let Some(remark) = distorted.filter(|_| by_square) {
        return fault(span, remark.to_string(), "export the drawing anew, with both directions alike");
    }
    if let Some(remark) = understood.remarks.iter().find(|remark| matches!(remark, Remark::UnitsDisagree { .. })) {
        return fault(span, remark.to_string(), "write unit = \"mm\", or \"cm\" or \"in\", whichever is right");
    }
    match (scale.map(|scale| scale.value.0), &understood.square) {
        (Some(Scale::BySquare), None) => {
            let place = scale.map_or(span, |scale| &scale.span).clone();
            return fault(
                &place,
                "the drawing has no square whose words say how large it is".to_owned(),
                "write \"as drawn\", or how many times as large, such as scale = 1.008",
            );
        }
        (None, Some(square)) if (square.scale() / understood.scaled - 1.0).abs() > 5e-4 => {
            let [width, height] = square.drawn;
            return fault(
                span,
                format!(
                    "the square named {:.1} mm measures {width:.2} mm by {height:.2} mm in this drawing",
                    square.meant
                ),
                "write scale = \"by its square\" when the square is right, or scale = \"as drawn\" when it is not",
            );
        }
        _ => {}
    }
    let is_known = scale.is_some() || entry.unit.is_some() || understood.square.is_some();
    match understood.unit {
        Unit::Said { .. } => true,
        _ if is_known => true,
        Unit::Usual { .. } => fault(
            span,
            "the drawing does not say how long its unit is".to_owned(),
            "write scale = \"as drawn\" when 96 units are an inch, as is usual; or unit = \"mm\" when its unit is that",
        ),
        // An interchange file says its unit in words.
        Unit::Unsaid if !understood.remarks.contains(&Remark::NoUnit) => true,
        Unit::Unsaid => fault(
            span,
            "the drawing does not say how long its unit is".to_owned(),
            "write unit = \"mm\", or \"cm\" or \"in\"",
        ),
    }
}

/// Which size of the drawing each size of the pattern is; none when the pattern names one that is not there.
pub(super) fn sizes(
    entry: &DrawingFileEntry,
    sizes: &[(Name, Option<Name>, Range<usize>)],
    understood: &Understood,
    findings: &mut Findings,
) -> Option<Vec<PatternSize>> {
    let before = findings.count();
    let same = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
    let find = |called: &str| understood.sizes.iter().position(|size| same(&size.name.to_string(), called));
    let said = entry.sizes.as_ref().map_or(&[][..], |sizes| sizes.value.0.as_slice());
    for (_, called) in said {
        if find(&called.value.0).is_none() {
            let known = understood.sizes.iter().map(|size| size.name.to_string()).collect();
            findings.add(&called.span, PickedFault::NoSuchSize { asked: called.value.0.clone(), known });
        }
    }
    let found = sizes.iter().map(|(name, figure, span)| {
        let full = figure.as_ref().map_or_else(|| name.0.clone(), |figure| format!("{} {}", name.0, figure.0));
        let renamed = said.iter().find(|(of, _)| same(&of.value, &full) || same(&of.value, &name.0));
        let drawn = match renamed {
            Some((_, called)) => find(&called.value.0),
            // Without its figure only where no other size has that name.
            None => find(&full).or_else(|| {
                let alike = sizes.iter().filter(|(other, ..)| same(&other.0, &name.0)).count();
                (alike == 1).then(|| find(&name.0)).flatten()
            }),
        };
        // One size each: there is nothing to be mixed up.
        let only = (sizes.len() == 1 && understood.sizes.len() == 1 && understood.sizes[0].is_guess).then_some(0);
        PatternSize { name: name.clone(), figure: figure.clone(), drawn: drawn.or(only), span: span.clone() }
    });
    let found: Vec<PatternSize> = found.collect();
    let is_listed = |k: usize| found.iter().any(|size| size.drawn == Some(k));
    let told = understood.sizes.iter().enumerate().filter(|(k, size)| !size.is_guess && !is_listed(*k));
    let unlisted: Vec<String> = told.map(|(_, size)| size.name.to_string()).collect();
    // A pattern for one size of many need not name the others.
    if let Some(file) = entry.file.as_ref().filter(|_| !unlisted.is_empty() && sizes.len() > 1) {
        findings.note(&file.span, NoteKind::SizesNotListed { sizes: unlisted });
    }
    (findings.count() == before).then_some(found)
}
