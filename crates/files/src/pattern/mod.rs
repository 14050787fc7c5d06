//! From what a pattern file says to the pattern it means.

mod cuts;
mod drawn;
pub(crate) mod format;
mod measured;
mod outline;
pub(crate) mod seam_format;
mod seams;
mod setting;
pub(crate) mod shape_format;
mod upright;

use std::ops::Range;

use ellwand_garment::{Pattern, View};

use crate::{
    Limits,
    document::{At, Name},
    fault::{Findings, PatternFault},
    nearest::nearest,
};
use format::{CoordinateUnit, PatternFile, PieceEntry, ViewEntry};
use upright::Finished;

/// What could be made of a pattern file. Pieces at fault are left out, so it is a pattern only when nothing was found.
pub(crate) struct Reading {
    pub(crate) pattern: Pattern,
    /// Every role that is listed or cut from, pieces at fault included.
    pub(crate) roles: Vec<String>,
    /// Whether no fault was found, so that it is the pattern meant.
    pub(crate) sound: bool,
}

/// Converts a whole pattern, noting every fault.
pub(crate) fn convert(file: &PatternFile, limits: &Limits, findings: &mut Findings) -> Reading {
    let before = findings.count();
    let listed_roles: Option<Vec<String>> =
        file.roles.as_ref().map(|roles| roles.value.names().map(str::to_owned).collect());
    let entries = file.piece.as_ref().map_or(&[][..], |pieces| pieces.value.as_slice());
    if file.piece.as_ref().is_some_and(|pieces| pieces.value.is_empty() && pieces.sound) {
        findings.add(&place_of(&file.piece), PatternFault::NoPieces);
    }
    let unit = file.coordinates.as_ref().map_or(CoordinateUnit::Mm, |unit| unit.value);

    let mut roles = listed_roles.clone().unwrap_or_default();
    let mut pieces: Vec<Finished> = Vec::new();
    let names: Vec<&At<Name>> = entries.iter().filter_map(|entry| entry.value.name.as_ref()).collect();
    note_duplicates("piece", &names, findings);
    for entry in entries {
        let cuts = cuts::convert(&entry.value, listed_roles.as_deref(), limits, findings);
        for rule in &cuts {
            if !roles.contains(&rule.role) {
                roles.push(rule.role.clone());
            }
        }
        if let Some(piece) = convert_piece(&entry.value, &entry.span, cuts, unit, limits, findings) {
            pieces.push(piece);
        }
    }

    let known: Vec<String> = names.iter().map(|name| name.value.0.clone()).collect();
    let entries = file.view.as_ref().map_or(&[][..], |views| views.value.as_slice());
    if file.view.as_ref().is_some_and(|views| views.value.is_empty() && views.sound) {
        findings.add(&place_of(&file.view), PatternFault::NoViews);
    }
    let view_names: Vec<&At<Name>> = entries.iter().filter_map(|entry| entry.value.name.as_ref()).collect();
    note_duplicates("view", &view_names, findings);
    let views: Vec<View> = entries.iter().filter_map(|entry| convert_view(&entry.value, &known, findings)).collect();

    let seams = file.seam.as_ref().map_or(&[][..], |seams| seams.value.as_slice());
    let seams = seams::convert(seams, &mut pieces, &known, findings);
    let pattern = Pattern {
        name: file.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default(),
        size: only_size(file, findings).unwrap_or_default(),
        pieces: pieces.into_iter().map(|finished| finished.piece).collect(),
        views,
        seams,
    };
    for (view, entry) in pattern.views.iter().filter_map(|view| {
        let entry = entries.iter().find(|e| e.value.name.as_ref().is_some_and(|name| name.value.0 == view.name));
        entry.map(|entry| (view, entry))
    }) {
        cuts::note_too_many(&pattern, view, &entry.span, limits, findings);
    }
    Reading { pattern, roles, sound: findings.count() == before }
}

/// The one size, or a fault.
fn only_size(file: &PatternFile, findings: &mut Findings) -> Option<String> {
    let sizes = file.sizes.as_ref()?;
    if sizes.value.len() != 1 && sizes.sound {
        findings.add(&sizes.span, PatternFault::NotOneSize { found: sizes.value.len() });
    }
    sizes.value.first().map(|size| size.value.0.clone())
}

fn convert_view(entry: &ViewEntry, known: &[String], findings: &mut Findings) -> Option<View> {
    let (name, pieces) = (entry.name.as_ref()?, entry.pieces.as_ref()?);
    if pieces.value.is_empty() && pieces.sound {
        findings.add(&pieces.span, PatternFault::EmptyView { view: name.value.0.clone() });
    }
    let listed: Vec<&At<Name>> = pieces.value.iter().collect();
    note_duplicates("piece of this view", &listed, findings);
    for piece in listed.iter().filter(|piece| !known.contains(&piece.value.0)) {
        findings.add(
            &piece.span,
            PatternFault::UnknownPiece {
                view: name.value.0.clone(),
                piece: piece.value.0.clone(),
                meant: nearest(&piece.value.0, known.iter().map(String::as_str)).map(str::to_owned),
                known: known.to_vec(),
            },
        );
    }
    Some(View {
        name: name.value.0.clone(),
        title: entry.title.as_ref().map(|title| title.value.clone()).unwrap_or_default(),
        pieces: listed.iter().map(|piece| piece.value.0.clone()).collect(),
    })
}

/// One piece, whole and upright; none when it is at fault.
fn convert_piece(
    entry: &PieceEntry,
    span: &Range<usize>,
    cuts: Vec<ellwand_garment::CutRule>,
    unit: CoordinateUnit,
    limits: &Limits,
    findings: &mut Findings,
) -> Option<Finished> {
    let before = findings.count();
    let name = entry.name.as_ref().map_or("without a name", |name| name.value.0.as_str());
    let frame = outline::PieceFrame { name, span, unit };
    let drawing = if entry.shape.is_some() {
        measured::draw(entry, &frame, findings)
    } else {
        drawn::draw(entry, &frame, limits, findings)
    };
    let piece = upright::finish(drawing?, entry, &frame, cuts, findings)?;
    (findings.count() == before).then_some(piece)
}

/// Notes every name that came before.
fn note_duplicates(kind: &'static str, names: &[&At<Name>], findings: &mut Findings) {
    let mut first: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
    for name in names {
        let line = findings.file().line_and_column(name.span.start).0;
        if let Some(&first_line) = first.get(name.value.0.as_str()) {
            findings.add(&name.span, PatternFault::Duplicate { kind, name: name.value.0.clone(), first_line });
        } else {
            first.insert(&name.value.0, line);
        }
    }
}

fn place_of<T>(at: &Option<At<T>>) -> Range<usize> {
    at.as_ref().map_or(0..0, |at| at.span.clone())
}
