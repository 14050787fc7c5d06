//! Pieces that a job cuts in two and joins with a seam.

use ellwand_garment::{Fabric, JOIN, Pattern, Units, format_length, own_name};

use super::{fit_format::PiecedEntry, format::JobFile};
use crate::{
    document::{At, Name},
    fault::{JobFault, PatternFault},
    findings::Findings,
    nearest::nearest,
    note::NoteKind,
    pattern::{ByCloth, Halved, Reading, Trouble, supplies::trim_of_job},
};

/// The entries of a job.
fn entries(file: &JobFile) -> impl Iterator<Item = (&At<PiecedEntry>, &At<Name>)> {
    let alter = file.alter.iter().filter_map(|alter| alter.value.pieced.as_ref());
    alter.flat_map(|listed| &listed.value).filter_map(|entry| Some((entry, entry.value.piece.as_ref()?)))
}

/// Whether the job cuts the piece in two.
pub(super) fn is_asked(file: &JobFile, piece: &str) -> bool {
    entries(file).any(|(_, of)| of.value.0 == piece)
}

/// A join that is told twice, or of a piece that is not there.
pub(super) fn note_unknown(file: &JobFile, reading: &Reading<'_>, findings: &mut Findings) {
    let mut told: Vec<&At<Name>> = Vec::new();
    for (_, piece) in entries(file) {
        if let Some(first) = told.iter().find(|first| first.value == piece.value) {
            let first_line = findings.source().line_and_column(first.span.start).0;
            let (kind, name) = ("`pieced` entry for a piece", piece.value.0.clone());
            findings.add(&piece.span, PatternFault::Duplicate { kind, name, first_line });
        }
        told.push(piece);
        if reading.pattern.piece(&piece.value.0).is_none() && reading.sound {
            let known = || reading.pattern.pieces.iter().map(|piece| piece.name.as_str());
            let meant = nearest(&piece.value.0, known()).map(str::to_owned);
            let known = known().map(str::to_owned).collect();
            findings.add(&piece.span, JobFault::UnknownPiece { piece: piece.value.0.clone(), meant, known });
        }
    }
}

/// Cuts the pieces in two, with what keeps one from that noted, and what becomes of those that are made.
pub(super) fn cut(
    file: &JobFile,
    reading: &Reading<'_>,
    cut: &mut ByCloth,
    (made, units): (&[String], Units),
    findings: &mut Findings,
) {
    for (entry, piece) in entries(file) {
        let join = entry.value.join.as_ref().map(|join| join.value.mm());
        match reading.piece_in_two(cut, &piece.value.0, join) {
            Some(Ok(halved)) => {
                if let Some(edge) = trimmed_and_lost(file, reading, &piece.value.0, &halved, findings) {
                    let problem =
                        format!("a trim runs along \"{edge}\" of `{}`, which is joined there or halved", piece.value.0);
                    let remedy = "name the edge of the other end in the trim, or leave the piece in one";
                    findings.add(&piece.span, JobFault::NotPieced { problem, remedy });
                } else if made.contains(&piece.value.0) {
                    let note = NoteKind::CutInTwo {
                        piece: piece.value.0.clone(),
                        each: format_length(halved.each, units),
                        join: format_length(halved.join, units),
                    };
                    findings.note(&piece.span, note);
                }
            }
            Some(Err(Trouble { problem, remedy })) => {
                findings.add(&piece.span, JobFault::NotPieced { problem, remedy });
            }
            // What is not there was told.
            None => {}
        }
    }
}

/// An edge of the whole that a trim goes along and that no half has.
fn trimmed_and_lost(
    file: &JobFile,
    reading: &Reading<'_>,
    piece: &str,
    halved: &Halved,
    findings: &Findings,
) -> Option<String> {
    let own = file.trim.iter().flat_map(|trims| &trims.value);
    // What is wrong with a trim is told where it is bought.
    let own = own.filter_map(|entry| trim_of_job(&entry.value, &reading.pattern, &mut findings.of_the_same_file()));
    let edges = own.chain(reading.supplies.trims.iter().cloned()).flat_map(|trim| trim.trim.edges);
    let mut on_piece = edges.filter(|edge| edge.piece == piece).map(|edge| edge.edge);
    on_piece.find(|edge| halved.lost.contains(edge))
}

/// Notes pieces in two parts that are to match on a design: what would run on across their join is nobody's to say.
pub(super) fn note_matched(file: &JobFile, fabrics: &[Fabric], pattern: &Pattern, findings: &mut Findings) {
    let garments = file.garment.iter().flat_map(|listed| &listed.value);
    let of_garments = garments.clone().filter_map(|garment| garment.value.alter.as_ref());
    let of_garments = of_garments.filter_map(|alter| alter.value.pieced.as_ref());
    let of_job = file.alter.iter().filter_map(|alter| alter.value.pieced.as_ref());
    let entries: Vec<&At<Name>> = (of_job.chain(of_garments).flat_map(|listed| &listed.value))
        .filter_map(|entry| entry.value.piece.as_ref())
        .collect();
    let names = pattern.names_of_garments();
    for fabric in fabrics {
        for wanted in &fabric.matching.matches {
            let mut points = wanted.rules.iter().flat_map(|rule| rule.points());
            let is_joined = |piece: &str| pattern.piece(piece).is_some_and(|piece| piece.points.contains_key(JOIN));
            let Some(at) = points.find(|at| is_joined(&at.piece)) else { continue };
            let own = own_name(&at.piece, &names);
            let Some(entry) = entries.iter().find(|entry| entry.value.0 == own) else { continue };
            let problem = format!("`{own}` is matched at \"{}\", and a join in it would break the design", wanted.name);
            let remedy = "leave it in one, or leave that match out";
            findings.add(&entry.span, JobFault::NotPieced { problem, remedy });
        }
    }
}
