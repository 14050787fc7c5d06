//! What is sewn to what: seams whose pieces, edges and points are those of the pattern.

use std::collections::BTreeMap;

use ellwand_garment::{Piece, Seam, SeamKind, SeamSide, TakenUp};
use ellwand_geometry::{Point, contains_point, distance, distance_to_segment};

use super::{
    duplicates::note_duplicates,
    seam_format::{SeamEntry, SeamSideEntry},
    setting::PARALLEL_DEG,
    upright::Finished,
};
use crate::{
    document::{At, Name},
    fault::PatternFault,
    findings::Findings,
    nearest::nearest,
};

/// How far a point of a centre line may lie off the line through its ends, mm.
const BENT_MM: f64 = 0.5;

/// How far outside its piece a meeting point may lie, mm: rounding of a draft.
const OUTSIDE_MM: f64 = 1.0;

/// How near to the fold a point counts as on it, mm.
const ON_FOLD_MM: f64 = 0.01;

/// The seams of a pattern. Notches at which they meet join the points of their pieces. `known` names every piece, those at fault
/// included; of these nothing else is judged.
pub(super) fn convert(
    entries: &[At<SeamEntry>],
    pieces: &mut [Finished],
    known: &[String],
    findings: &mut Findings,
) -> Vec<Seam> {
    let names: Vec<&At<Name>> = entries.iter().filter_map(|entry| entry.value.name.as_ref()).collect();
    note_duplicates("seam", &names, findings);
    entries.iter().filter_map(|entry| convert_seam(entry, pieces, known, findings)).collect()
}

fn convert_seam(
    entry: &At<SeamEntry>,
    pieces: &mut [Finished],
    known: &[String],
    findings: &mut Findings,
) -> Option<Seam> {
    let name = entry.value.name.as_ref()?.value.0.clone();
    let mut side = |side: &At<SeamSideEntry>| convert_side(&side.value, &name, pieces, known, findings);
    let a = entry.value.a.as_ref().and_then(&mut side);
    let b = entry.value.b.as_ref().map(&mut side);
    let kind = SeamKind::from(entry.value.kind.as_ref()?.value);
    let (a, b) = match b {
        Some(other) => (a?, Some(other?)),
        None => (a?, None),
    };
    match &b {
        Some(b) if a.meets.len() != b.meets.len() => {
            let span = &entry.value.b.as_ref()?.value.meets.as_ref()?.span;
            findings.add(span, PatternFault::UnequalMeets { seam: name, a: a.meets.len(), b: b.meets.len() });
            return None;
        }
        None if !meets_itself(kind, &a.piece, pieces) => {
            findings.add(&entry.span, PatternFault::SeamWithoutOtherSide { seam: name, piece: a.piece });
            return None;
        }
        _ => {}
    }
    Some(Seam { name, kind, a, b })
}

/// Whether a seam of this kind needs no other side: at the centre a piece meets its other copy or itself on the fold, and
/// elsewhere two copies of one piece may meet.
fn meets_itself(kind: SeamKind, piece: &str, pieces: &[Finished]) -> bool {
    let at_centre = matches!(kind, SeamKind::CentreFront | SeamKind::CentreBack | SeamKind::Other);
    let copies = |of: &Finished| of.piece.name == piece && of.piece.cuts.iter().any(|rule| rule.count > 1);
    at_centre || pieces.iter().any(copies)
}

fn convert_side(
    entry: &SeamSideEntry,
    seam: &str,
    pieces: &mut [Finished],
    known: &[String],
    findings: &mut Findings,
) -> Option<SeamSide> {
    let piece = entry.piece.as_ref()?;
    let Some(of) = pieces.iter_mut().find(|of| of.piece.name == piece.value.0) else {
        if !known.contains(&piece.value.0) {
            let meant = nearest(&piece.value.0, known.iter().map(String::as_str)).map(str::to_owned);
            let (seam, piece_name, known) = (seam.to_owned(), piece.value.0.clone(), known.to_vec());
            findings.add(&piece.span, PatternFault::UnknownSeamPiece { seam, piece: piece_name, meant, known });
        }
        return None;
    };
    let before = findings.count();
    let mut unknown = |what: &'static str, name: &At<Name>, known: Vec<&str>| {
        let fault = PatternFault::UnknownSeamMark {
            seam: seam.to_owned(),
            piece: piece.value.0.clone(),
            what,
            name: name.value.0.clone(),
            meant: nearest(&name.value.0, known.iter().copied()).map(str::to_owned),
            known: known.into_iter().map(str::to_owned).collect(),
        };
        findings.add(&name.span, fault);
    };
    let edges: Vec<&At<Name>> = entry.edges.iter().flat_map(|edges| &edges.value).collect();
    for name in &edges {
        if !of.piece.edges.iter().any(|edge| edge.name == name.value.0) {
            let names = of.piece.edges.iter().map(|edge| edge.name.as_str()).filter(|name| !name.is_empty());
            unknown("edge", name, names.collect());
        }
    }
    let listed = entry.meets.as_ref()?;
    let centre: Vec<&At<Name>> = entry.centre.iter().flat_map(|points| &points.value).collect();
    let roll: Vec<&At<Name>> = entry.roll.iter().flat_map(|points| &points.value).collect();
    for name in listed.value.iter().chain(centre.iter().copied()).chain(roll.iter().copied()) {
        if !mark(&mut of.piece, &of.notches_on_seam, &name.value.0) {
            unknown(
                "point",
                name,
                of.piece.points.keys().chain(of.notches_on_seam.keys()).map(String::as_str).collect(),
            );
        }
    }
    for name in &listed.value {
        let Some(&at) = of.piece.points.get(&name.value.0) else { continue };
        let off = of.piece.outline.edges().map(|(a, b)| distance_to_segment(at, a, b)).fold(f64::INFINITY, f64::min);
        if off > OUTSIDE_MM && !contains_point(&of.piece.outline, at) {
            let (seam, piece, point) = (seam.to_owned(), piece.value.0.clone(), name.value.0.clone());
            findings.add(&name.span, PatternFault::MeetsOutside { seam, piece, point, by: off });
        }
    }
    if listed.value.is_empty() && listed.sound {
        let (seam, piece) = (seam.to_owned(), piece.value.0.clone());
        findings.add(&listed.span, PatternFault::NoMeetingPoint { seam, piece });
    }
    if findings.count() > before || !listed.sound {
        return None;
    }
    let meets: Vec<String> = listed.value.iter().map(|name| name.value.0.clone()).collect();
    let centre = match &entry.centre {
        Some(at) => Some(centre_line(at, &of.piece, seam, findings)?),
        None => on_fold(&of.piece, &meets),
    };
    let roll = match &entry.roll {
        Some(at) => Some(roll_line(at, &of.piece, seam, findings)?),
        None => None,
    };
    Some(SeamSide {
        piece: piece.value.0.clone(),
        edges: edges.into_iter().map(|edge| edge.value.0.clone()).collect(),
        meets,
        taken_up: [
            (TakenUp::Ease, &entry.ease),
            (TakenUp::Pleats, &entry.pleats),
            (TakenUp::Tucks, &entry.tucks),
            (TakenUp::Gathers, &entry.gathers),
            (TakenUp::Overlap, &entry.overlap),
        ]
        .into_iter()
        .filter_map(|(how, by)| Some((how, by.as_ref()?.value.mm())))
        .collect(),
        centre,
        roll,
    })
}

/// Both points of a roll line, which are two places of the piece.
fn roll_line(listed: &At<Vec<At<Name>>>, piece: &Piece, seam: &str, findings: &mut Findings) -> Option<[String; 2]> {
    let places: Vec<Point> = listed.value.iter().filter_map(|name| piece.points.get(&name.value.0).copied()).collect();
    match (listed.value.as_slice(), places.as_slice()) {
        ([low, high], [a, b]) if distance(*a, *b) > ON_FOLD_MM => Some([low.value.0.clone(), high.value.0.clone()]),
        _ => {
            let (seam, piece) = (seam.to_owned(), piece.name.clone());
            findings.add(&listed.span, PatternFault::RollWithoutLength { seam, piece });
            None
        }
    }
}

/// Whether `name` is a point of the piece; a notch becomes one, on the seam line.
fn mark(piece: &mut Piece, notches: &BTreeMap<String, Point>, name: &str) -> bool {
    if let (false, Some(&at)) = (piece.points.contains_key(name), notches.get(name)) {
        piece.points.insert(name.to_owned(), at);
    }
    piece.points.contains_key(name)
}

/// The centre of a piece that is unfolded about the line it meets itself on: that point says it all.
fn on_fold(piece: &Piece, meets: &[String]) -> Option<[String; 2]> {
    let first = meets.first()?;
    (piece.fold && piece.points.get(first)?.x.abs() < ON_FOLD_MM).then(|| [first.clone(), first.clone()])
}

/// First and last point of a centre line, which is straight and runs along the grain.
fn centre_line(listed: &At<Vec<At<Name>>>, piece: &Piece, seam: &str, findings: &mut Findings) -> Option<[String; 2]> {
    let places: Vec<Point> = listed.value.iter().filter_map(|name| piece.points.get(&name.value.0).copied()).collect();
    let (seam, name) = (seam.to_owned(), piece.name.clone());
    let (&[first, .., last], [low, .., high]) = (places.as_slice(), listed.value.as_slice()) else {
        findings.add(&listed.span, PatternFault::CentreWithoutLength { seam, piece: name });
        return None;
    };
    let line = last - first;
    let length = line.x.hypot(line.y);
    if length < ON_FOLD_MM {
        findings.add(&listed.span, PatternFault::CentreWithoutLength { seam, piece: name });
        return None;
    }
    let off = |p: &Point| ((p.x - first.x) * line.y - (p.y - first.y) * line.x).abs() / length;
    let by = places.iter().map(off).fold(0.0, f64::max);
    if by > BENT_MM {
        findings.add(&listed.span, PatternFault::BentCentre { seam, piece: name, by });
        return None;
    }
    let degrees = line.x.abs().atan2(line.y.abs()).to_degrees();
    if degrees > PARALLEL_DEG {
        findings.add(&listed.span, PatternFault::CentreOffGrain { seam, piece: name, degrees });
        return None;
    }
    Some([low.value.0.clone(), high.value.0.clone()])
}
