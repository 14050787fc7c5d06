//! The sizes of a pattern: one by name, or a chart with the body of each.

use ellwand_garment::{ChooseBy, FitFault, Size, SizeChart};

use super::{drawing_format::DrawnEntry, format::PatternFile, size_format::SizeEntry};
use crate::{
    body,
    document::At,
    fault::{DocumentFault, PatternFault, SizeFault},
    findings::Findings,
    nearest::nearest,
};

/// The chart, with every fault noted.
pub(super) fn read(file: &PatternFile, findings: &mut Findings) -> SizeChart {
    let by = file.choose_by.as_ref().map_or(ChooseBy::default(), |by| by.value.into());
    let sizes = match (&file.size, &file.sizes) {
        (Some(size), Some(_)) => {
            let choices = vec!["sizes".to_owned(), "size".to_owned()];
            findings.add(&size.span, DocumentFault::NotExactlyOne { of: "a pattern", choices, found: 2 });
            Vec::new()
        }
        (Some(entries), None) => {
            if let Some(body) = &file.body {
                findings.add(&body.span, SizeFault::BodyBesideSizes);
            }
            if entries.value.is_empty() && entries.sound {
                findings.add(&entries.span, SizeFault::NoSizes);
            }
            several(&entries.value, by, findings)
        }
        (None, _) => only_size(file, findings).into_iter().collect(),
    };
    SizeChart { sizes, by }
}

/// The one size, or a fault.
fn only_size(file: &PatternFile, findings: &mut Findings) -> Option<Size> {
    let body = file.body.as_ref().map(|listed| body::convert(&listed.value, findings)).unwrap_or_default();
    let sizes = file.sizes.as_ref()?;
    if sizes.value.len() != 1 && sizes.sound {
        findings.add(&sizes.span, PatternFault::NotOneSize { found: sizes.value.len() });
    }
    let name = sizes.value.first()?.value.0.clone();
    Some(Size { name, figure: String::new(), body })
}

fn several(entries: &[At<SizeEntry>], by: ChooseBy, findings: &mut Findings) -> Vec<Size> {
    let figures: Vec<String> =
        entries.iter().filter_map(|entry| Some(entry.value.figure.as_ref()?.value.0.clone())).collect();
    let mut sizes: Vec<(&At<SizeEntry>, Size)> = Vec::new();
    for entry in entries {
        let body = entry.value.body.as_ref().map(|listed| body::convert(&listed.value, findings)).unwrap_or_default();
        let Some(name) = &entry.value.name else { continue };
        let figure = entry.value.figure.as_ref().map(|figure| figure.value.0.clone()).unwrap_or_default();
        if figure.is_empty() && !figures.is_empty() {
            let mut known = figures.clone();
            known.dedup();
            findings.add(&entry.span, SizeFault::SizeWithoutFigure { size: name.value.0.clone(), known });
        }
        let size = Size { name: name.value.0.clone(), figure, body };
        if let Some((first, _)) = sizes.iter().find(|(_, of)| of.name == size.name && of.figure == size.figure) {
            let first_line = findings.source().line_and_column(first.span.start).0;
            let name_of_both = label(&size, sizes.iter().map(|(_, size)| size));
            findings.add(&name.span, PatternFault::Duplicate { kind: "size", name: name_of_both, first_line });
            continue;
        }
        sizes.push((entry, size));
    }
    note_measures(&sizes, by, findings);
    sizes.into_iter().map(|(_, size)| size).collect()
}

/// Notes sizes that lack a measure others have, where the choice needs it, and sizes that do not ascend in it.
fn note_measures(sizes: &[(&At<SizeEntry>, Size)], by: ChooseBy, findings: &mut Findings) {
    let label = |size: &Size| label(size, sizes.iter().map(|(_, size)| size));
    for &measure in chosen_by(by) {
        if !sizes.iter().any(|(_, size)| size.body.contains_key(measure)) {
            continue;
        }
        for (k, (entry, size)) in sizes.iter().enumerate() {
            let Some(is) = size.body.get(measure) else {
                // A measure that is there and at fault was told already.
                let told = entry.value.body.iter().flat_map(|body| body.value.names()).any(|name| name == measure);
                if entry.sound && !told {
                    let fault = FitFault::MissingMeasure { size: label(size), measure: measure.to_owned() };
                    findings.add(&entry.span, fault);
                }
                continue;
            };
            let before = sizes[..k].iter().rev().find(|(_, of)| of.figure == size.figure);
            if let Some((_, before)) = before
                && before.body.get(measure).is_some_and(|was| was > is)
            {
                let (size, before) = (label(size), label(before));
                findings.add(&entry.span, SizeFault::SizesOutOfOrder { size, before, measure });
            }
        }
    }
}

/// The measures that a size is chosen by, which every size must tell.
pub(crate) fn chosen_by(by: ChooseBy) -> &'static [&'static str] {
    match by {
        ChooseBy::Bust => &["bust"],
        ChooseBy::HipOrWaist => &["hip", "waist"],
    }
}

/// "38", or with its figure type "38 (petite)" where other sizes have the same name.
pub(super) fn label<'s>(size: &Size, mut sizes: impl Iterator<Item = &'s Size>) -> String {
    let shared = sizes.any(|other| other.name == size.name && other.figure != size.figure);
    if shared { format!("{} ({})", size.name, size.figure) } else { size.name.clone() }
}

/// The size in which a piece is drawn here: its number in the chart.
pub(super) fn find(entry: &DrawnEntry, piece: &str, chart: &SizeChart, findings: &mut Findings) -> Option<usize> {
    let name = entry.size.as_ref()?;
    let figure = entry.figure.as_ref().map(|figure| figure.value.0.as_str());
    let meant = |size: &Size| size.name == name.value.0 && figure.is_none_or(|figure| size.figure == figure);
    let found: Vec<usize> = (0..chart.sizes.len()).filter(|&k| meant(&chart.sizes[k])).collect();
    match found.as_slice() {
        &[only] => return Some(only),
        [] => {
            let known: Vec<String> = chart.sizes.iter().map(|size| label(size, chart.sizes.iter())).collect();
            let size = figure.map_or_else(|| name.value.0.clone(), |figure| format!("{} ({figure})", name.value.0));
            let meant = nearest(&size, known.iter().map(String::as_str)).map(str::to_owned);
            // Without a chart the fault lies there.
            if !known.is_empty() {
                findings.add(&name.span, SizeFault::UnknownSize { piece: piece.to_owned(), size, meant, known });
            }
        }
        several => {
            let figures = several.iter().map(|&k| chart.sizes[k].figure.clone()).collect();
            let size = name.value.0.clone();
            findings.add(&name.span, SizeFault::WhichFigure { piece: piece.to_owned(), size, figures });
        }
    }
    None
}
