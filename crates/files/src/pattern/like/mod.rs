//! Pieces that are like another: each becomes the piece it would be if it were written out, before anything else is made of the pattern.
//!
//! A piece takes over everything of the other one ([`inherit`]). Then, in each size: runs of edges get others in their place ([`run`]),
//! corners move, and what is marked on the outline goes along ([`carry`], [`shift`]); last come the keys that the piece has itself.

mod carry;
mod inherit;
mod join;
mod outline;
mod run;
mod shift;

use std::{collections::BTreeMap, ops::Range};

use super::format::{CoordinateUnit, PatternFile, PieceEntry};
use crate::{
    document::{At, Name},
    fault::{LikeFault, LikeTrouble},
    findings::Findings,
    limits::Counted,
    nearest::nearest,
};

/// What the changes of a piece need to know of its pattern.
struct Task<'a> {
    /// The piece, for messages.
    piece: &'a str,
    /// Where it says what it is like.
    place: &'a Range<usize>,
    /// The unit of its drawing.
    unit: CoordinateUnit,
    /// Every size of the pattern: its name and figure type.
    sizes: &'a [(String, Option<String>)],
}

impl Task<'_> {
    fn fault(&self, place: &Range<usize>, what: LikeTrouble, findings: &mut Findings) {
        findings.add(place, LikeFault { piece: self.piece.to_owned(), what });
    }

    /// Nothing, and the fault that `name` is none of `known`.
    fn unknown<T>(
        &self,
        what: &'static str,
        name: &At<Name>,
        known: Vec<String>,
        findings: &mut Findings,
    ) -> Option<T> {
        self.fault(&name.span, LikeTrouble::Unknown { what, name: name.value.0.clone(), known }, findings);
        None
    }
}

/// Writes out every piece that is like another. One that cannot be is left as it is, with the fault noted.
pub(super) fn write_out(file: &mut PatternFile, findings: &mut Findings) {
    let unit = file.coordinates.as_ref().map_or(CoordinateUnit::Mm, |unit| unit.value);
    let sizes = sizes_of(file);
    let Some(pieces) = &mut file.piece else { return };
    note_strays(&pieces.value, findings);
    let order = in_order(&pieces.value);
    note_unreached(&pieces.value, &order, findings);
    let mut sound: Vec<bool> = pieces.value.iter().map(|piece| piece.sound).collect();
    let mut marks = 0;
    for at in order {
        let Some(other) = like_of(&pieces.value, at) else { continue };
        let own = &pieces.value[at];
        let (Some(name), Some(like)) = (&own.value.name, &own.value.likeness.like) else { continue };
        if !sound[at] || !sound[other] {
            sound[at] = false;
            continue;
        }
        let base = &pieces.value[other].value;
        marks += inherit::count(base);
        if findings.exceeds(Counted::PatternPoints, marks, &like.span) {
            return;
        }
        let task = Task { piece: &name.value.0, place: &like.span, unit, sizes: &sizes };
        match inherit::write_out(base, &own.value, &task, findings) {
            Some(whole) => pieces.value[at].value = whole,
            None => sound[at] = false,
        }
    }
}

/// The numbers of the pieces, each after the one it is like; those that are like no piece in the end are left out.
pub(super) fn in_order(pieces: &[At<PieceEntry>]) -> Vec<usize> {
    let mut numbers: BTreeMap<&str, usize> = BTreeMap::new();
    for (at, piece) in pieces.iter().enumerate() {
        if let Some(name) = &piece.value.name {
            numbers.entry(&name.value.0).or_insert(at);
        }
    }
    let mut order: Vec<usize> = Vec::new();
    let mut alike: Vec<Vec<usize>> = vec![Vec::new(); pieces.len()];
    for (at, piece) in pieces.iter().enumerate() {
        match &piece.value.likeness.like {
            None => order.push(at),
            Some(like) => numbers.get(like.value.0.as_str()).into_iter().for_each(|&other| alike[other].push(at)),
        }
    }
    let mut next = 0;
    while let Some(&of) = order.get(next) {
        order.append(&mut alike[of]);
        next += 1;
    }
    order
}

/// The number of the piece that a piece is like.
pub(super) fn like_of(pieces: &[At<PieceEntry>], at: usize) -> Option<usize> {
    let like = pieces[at].value.likeness.like.as_ref()?;
    pieces.iter().position(|piece| piece.value.name.as_ref().is_some_and(|name| name.value == like.value))
}

/// Every size and its figure type.
fn sizes_of(file: &PatternFile) -> Vec<(String, Option<String>)> {
    let listed = file.size.iter().flat_map(|sizes| &sizes.value);
    let named = listed.filter_map(|size| {
        let figure = size.value.figure.as_ref().map(|figure| figure.value.0.clone());
        Some((size.value.name.as_ref()?.value.0.clone(), figure))
    });
    let only = file.sizes.iter().flat_map(|sizes| &sizes.value).map(|size| (size.value.0.clone(), None));
    named.chain(only).collect()
}

fn name_of(piece: &At<PieceEntry>) -> String {
    piece.value.name.as_ref().map_or_else(|| "without a name".to_owned(), |name| name.value.0.clone())
}

/// Notes changes on pieces that are like none.
fn note_strays(pieces: &[At<PieceEntry>], findings: &mut Findings) {
    for piece in pieces.iter().filter(|piece| piece.value.likeness.like.is_none() && piece.sound) {
        for (key, place) in inherit::changes(&piece.value.likeness) {
            let what = LikeTrouble::LikeNone { key };
            findings.add(place, LikeFault { piece: name_of(piece), what });
        }
    }
}

/// Notes pieces that are like no piece of the pattern, or like one another in a circle; each circle once.
fn note_unreached(pieces: &[At<PieceEntry>], order: &[usize], findings: &mut Findings) {
    let mut told = vec![false; pieces.len()];
    for at in (0..pieces.len()).filter(|at| !order.contains(at)) {
        let Some(like) = &pieces[at].value.likeness.like else { continue };
        let fault = |what| LikeFault { piece: name_of(&pieces[at]), what };
        let Some(mut next) = like_of(pieces, at) else {
            let others = pieces.iter().filter(|piece| !std::ptr::eq(*piece, &pieces[at]));
            let known: Vec<String> =
                others.filter_map(|piece| Some(piece.value.name.as_ref()?.value.0.clone())).collect();
            let meant = nearest(&like.value.0, known.iter().map(String::as_str)).map(str::to_owned);
            findings.add(&like.span, fault(LikeTrouble::UnknownPiece { found: like.value.0.clone(), meant, known }));
            continue;
        };
        let mut round = vec![at];
        while next != at && !round.contains(&next) {
            round.push(next);
            let Some(further) = like_of(pieces, next) else { break };
            next = further;
        }
        if next == at && !told[at] {
            round.iter().for_each(|&piece| told[piece] = true);
            let through = round[1..].iter().map(|&piece| name_of(&pieces[piece])).collect();
            findings.add(&like.span, fault(LikeTrouble::Circle { through }));
        }
    }
}
