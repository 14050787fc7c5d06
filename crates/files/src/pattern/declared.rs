//! Girths and lengths that a pattern declares, and the levels its pieces name, each of which must be there to be measured.

use std::collections::BTreeSet;

use ellwand_garment::{DeclaredLength, Draft, Girth, GirthPart};

use super::{
    format::PatternFile,
    size_format::{AlongEntry, GirthEntry, GirthPartEntry, LengthEntry},
    sketch::Sketch,
};
use crate::{
    document::{At, Count, Name},
    fault::{PatternFault, SizeFault},
    findings::Findings,
    nearest::nearest,
};

/// Pieces that could be read, and the names of all.
pub(super) struct Declared<'a, 'f> {
    pub(super) pieces: &'a [Sketch<'f>],
    pub(super) known: &'a [String],
}

impl Declared<'_, '_> {
    /// Every level that some piece is sized by must be one of some piece.
    pub(super) fn note_levels(&self, findings: &mut Findings) {
        let levels = self.levels();
        for sketch in self.pieces {
            if let Some(level) = sketch.entry.sized_by.as_ref().filter(|level| !levels.contains(&level.value.0)) {
                findings.add(&level.span, unknown(format!("the piece `{}`", sketch.name), "level", level, &levels));
            }
        }
    }

    fn levels(&self) -> Vec<String> {
        let mut levels: Vec<String> =
            self.pieces.iter().flat_map(Sketch::drafts).flat_map(|draft| draft.levels.keys().cloned()).collect();
        levels.sort();
        levels.dedup();
        levels
    }

    /// The girths, with every fault noted.
    pub(super) fn girths(&self, file: &PatternFile, findings: &mut Findings) -> Vec<Girth> {
        let entries = file.girth.as_ref().map_or(&[][..], |girths| girths.value.as_slice());
        let pieces = |entry: &GirthEntry| -> BTreeSet<String> {
            let parts = entry.parts.iter().flat_map(|parts| &parts.value);
            parts.filter_map(|part| Some(part.value.piece.as_ref()?.value.0.clone())).collect()
        };
        let named = entries.iter().filter_map(|entry| Some((entry.value.name.as_ref()?, pieces(&entry.value))));
        note_same_pieces("girth", &named.collect::<Vec<_>>(), findings);
        entries.iter().filter_map(|entry| self.girth(&entry.value, findings)).collect()
    }

    fn girth(&self, entry: &GirthEntry, findings: &mut Findings) -> Option<Girth> {
        let (name, level) = (entry.name.as_ref()?, entry.level.as_ref()?);
        let of = format!("the girth `{}`", name.value.0);
        let parts = entry.parts.as_ref()?.value.iter().map(|part| self.part(&part.value, &of, level, findings));
        Some(Girth {
            parts: parts.collect::<Vec<_>>().into_iter().collect::<Option<_>>()?,
            name: name.value.0.clone(),
            level: level.value.0.clone(),
            less: entry.less.as_ref().map_or(0.0, |less| less.value.mm()),
        })
    }

    fn part(&self, entry: &GirthPartEntry, of: &str, level: &At<Name>, findings: &mut Findings) -> Option<GirthPart> {
        let piece = entry.piece.as_ref()?;
        let sketch = self.piece(piece, of, findings)?;
        let levels = |draft: &Draft| draft.levels.keys().cloned().collect::<Vec<_>>();
        let has_level = Mark { what: "level", name: level, of }.is_on(sketch, levels, findings);
        let points = |draft: &Draft| {
            let notches = draft.notches.iter().map(|(name, _)| name).filter(|name| !name.is_empty());
            draft.points.keys().chain(notches).cloned().collect::<Vec<_>>()
        };
        let from = entry.from.as_ref();
        let has_from = from.is_none_or(|name| Mark { what: "point", name, of }.is_on(sketch, points, findings));
        let times = times(&entry.times, of, &piece.value.0, findings)?;
        let from = from.map(|from| from.value.0.clone());
        (has_level && has_from).then(|| GirthPart { piece: piece.value.0.clone(), times, from })
    }

    /// The lengths, with every fault noted.
    pub(super) fn lengths(&self, file: &PatternFile, findings: &mut Findings) -> Vec<DeclaredLength> {
        let entries = file.length.as_ref().map_or(&[][..], |lengths| lengths.value.as_slice());
        let pieces = |entry: &LengthEntry| -> BTreeSet<String> {
            let along = entry.along.iter().flat_map(|along| &along.value);
            along.filter_map(|edge| Some(edge.value.piece.as_ref()?.value.0.clone())).collect()
        };
        let named = entries.iter().filter_map(|entry| Some((entry.value.name.as_ref()?, pieces(&entry.value))));
        note_same_pieces("length", &named.collect::<Vec<_>>(), findings);
        entries.iter().filter_map(|entry| self.length(&entry.value, findings)).collect()
    }

    fn length(&self, entry: &LengthEntry, findings: &mut Findings) -> Option<DeclaredLength> {
        let name = entry.name.as_ref()?.value.0.clone();
        let of = format!("the length `{name}`");
        let along = entry.along.as_ref()?.value.iter().map(|edge| self.along(&edge.value, &of, findings));
        Some(DeclaredLength { along: along.collect::<Vec<_>>().into_iter().collect::<Option<_>>()?, name })
    }

    fn along(&self, entry: &AlongEntry, of: &str, findings: &mut Findings) -> Option<(String, String, f64)> {
        let (piece, edge) = (entry.piece.as_ref()?, entry.edge.as_ref()?);
        let sketch = self.piece(piece, of, findings)?;
        let edges = |draft: &Draft| {
            let names = draft.edges.iter().map(|edge| edge.name.clone()).filter(|name| !name.is_empty());
            names.collect::<Vec<_>>()
        };
        let has_edge = Mark { what: "edge", name: edge, of }.is_on(sketch, edges, findings);
        let times = times(&entry.times, of, &piece.value.0, findings)?;
        has_edge.then(|| (piece.value.0.clone(), edge.value.0.clone(), times))
    }

    /// The piece of this name; one at fault is none, and nothing more is said of it.
    fn piece(&self, name: &At<Name>, of: &str, findings: &mut Findings) -> Option<&Sketch<'_>> {
        let found = self.pieces.iter().find(|sketch| sketch.name == name.value.0);
        if found.is_none() && !self.known.contains(&name.value.0) {
            findings.add(&name.span, unknown(of.to_owned(), "piece", name, self.known));
        }
        found
    }
}

/// Girths, or lengths, of one name are those of different choices, such as two fronts; of the same pieces only one can be meant.
fn note_same_pieces(kind: &'static str, named: &[(&At<Name>, BTreeSet<String>)], findings: &mut Findings) {
    for (k, (name, pieces)) in named.iter().enumerate() {
        let same = |(known, of): &&(&At<Name>, BTreeSet<String>)| known.value == name.value && of == pieces;
        if let Some((first, _)) = named[..k].iter().find(same) {
            let first_line = findings.source().line_and_column(first.span.start).0;
            findings.add(&name.span, PatternFault::Duplicate { kind, name: name.value.0.clone(), first_line });
        }
    }
}

/// A mark that something names of one of its pieces.
struct Mark<'a> {
    /// Level, point or edge.
    what: &'static str,
    name: &'a At<Name>,
    /// What names it: "the girth `hip`".
    of: &'a str,
}

impl Mark<'_> {
    /// Whether the piece has it in every size, going by the `marks` of a draft.
    fn is_on(&self, sketch: &Sketch<'_>, marks: impl Fn(&Draft) -> Vec<String>, findings: &mut Findings) -> bool {
        let name = &self.name.value.0;
        let Some(known) = sketch.drafts().map(marks).find(|marks| !marks.contains(name)) else { return true };
        let fault = SizeFault::UnknownMark {
            of: self.of.to_owned(),
            piece: sketch.name.to_owned(),
            what: self.what,
            name: name.clone(),
            meant: nearest(name, known.iter().map(String::as_str)).map(str::to_owned),
            known,
        };
        findings.add(&self.name.span, fault);
        false
    }
}

/// How often something counts: once when it is not said.
fn times(count: &Option<At<Count>>, of: &str, piece: &str, findings: &mut Findings) -> Option<f64> {
    let Some(count) = count else { return Some(1.0) };
    if count.value.0 == 0 {
        findings.add(&count.span, SizeFault::NoTimes { of: of.to_owned(), piece: piece.to_owned() });
        return None;
    }
    Some(count.value.0 as f64)
}

/// An edge that `piece` does not have; of those `known` some may have no name, and one name may come twice.
pub(super) fn unknown_edge(of: String, piece: &At<Name>, edge: &At<Name>, mut known: Vec<String>) -> SizeFault {
    known.retain(|name| !name.is_empty());
    known.dedup();
    SizeFault::UnknownMark {
        of,
        piece: piece.value.0.clone(),
        what: "edge",
        name: edge.value.0.clone(),
        meant: nearest(&edge.value.0, known.iter().map(String::as_str)).map(str::to_owned),
        known,
    }
}

/// A name that is none of `known`.
pub(super) fn unknown(of: String, what: &'static str, name: &At<Name>, known: &[String]) -> SizeFault {
    SizeFault::UnknownPart {
        of,
        what,
        name: name.value.0.clone(),
        meant: nearest(&name.value.0, known.iter().map(String::as_str)).map(str::to_owned),
        known: known.to_vec(),
    }
}
