//! Measures that are taken from the body or from finished edges, and the pieces that must be read first for that.

use ellwand_garment::{Body, Draft, RunsOfPiece, SewnEdges, joined_runs};

use super::{
    declared::{unknown, unknown_edge},
    format::PieceEntry,
    measure_format::{MeasureWord, TakenEntry},
    seam_format::{SeamEntry, SeamSideEntry},
    supplies::{NamedEdge, named_edge},
};
use crate::{
    document::At,
    fault::{DocumentFault, PatternFault, SizeFault},
    findings::Findings,
    nearest::nearest,
};

/// What measures are taken from, in one size.
pub(super) struct Lengths<'a> {
    /// The body.
    pub(super) body: &'a Body,
    /// The size, for messages.
    pub(super) size: &'a str,
    /// The pieces that could be read, each with how often it is cut from its first cloth.
    pub(super) pieces: Vec<(&'a Draft, u64)>,
    /// Names of all pieces, those at fault included.
    pub(super) known: &'a [String],
    /// What is sewn to what.
    pub(super) seams: &'a [At<SeamEntry>],
}

impl Lengths<'_> {
    /// A measure of `of`, such as "the circle skirt", mm, above zero; none, noted, where it cannot be had.
    pub(super) fn measure(&self, at: &At<MeasureWord>, of: &str, findings: &mut Findings) -> Option<f64> {
        let mm = match &at.value {
            MeasureWord::Length(length) => length.mm(),
            MeasureWord::Taken(taken) => {
                let plus = taken.plus.as_ref().map_or(0.0, |plus| plus.value.mm());
                plus + self.taken(taken, at, of, findings)?
            }
        };
        if mm <= 0.0 {
            let problem = format!("the length that {of} goes by is zero or less");
            findings.add(&at.span, PatternFault::Shape { problem, remedy: "write a length above zero" });
            return None;
        }
        Some(mm)
    }

    fn taken(&self, taken: &TakenEntry, at: &At<MeasureWord>, of: &str, findings: &mut Findings) -> Option<f64> {
        match (&taken.body, &taken.edges) {
            (Some(measure), None) => {
                if let Some(overlap) = &taken.overlap {
                    let problem = "what overlaps is counted at edges, and this is a measure of the body".to_owned();
                    findings.add(&overlap.span, PatternFault::Shape { problem, remedy: "write it as `plus`" });
                }
                let found = self.body.get(&measure.value.0).copied();
                if found.is_none() {
                    let known: Vec<String> = self.body.keys().cloned().collect();
                    findings.add(
                        &measure.span,
                        SizeFault::BodyWithout {
                            of: of.to_owned(),
                            measure: measure.value.0.clone(),
                            size: self.size.to_owned(),
                            meant: nearest(&measure.value.0, known.iter().map(String::as_str)).map(str::to_owned),
                        },
                    );
                }
                found
            }
            (None, Some(edges)) => {
                if edges.value.is_empty() && edges.sound {
                    let problem = format!("{of} goes by edges, and names none");
                    let remedy = "name edges, such as edges = [\"Bodice: waist\"]";
                    findings.add(&edges.span, PatternFault::Shape { problem, remedy });
                    return None;
                }
                let overlap = taken.overlap.as_ref().map_or(0.0, |overlap| overlap.value.mm());
                let before = findings.count();
                let named = edges.value.iter().filter_map(|edge| named_edge(edge, self.known, of, findings));
                let named: Vec<NamedEdge> = named.collect();
                let found: Vec<Found<'_>> = named.iter().filter_map(|edge| self.find(edge, of, findings)).collect();
                let all_found = found.len() == edges.value.len() && edges.sound && findings.count() == before;
                all_found.then(|| in_all(&found, overlap, self.seams))
            }
            (body, edges) => {
                if at.sound {
                    let choices = vec!["body".to_owned(), "edges".to_owned()];
                    let found = usize::from(body.is_some()) + usize::from(edges.is_some());
                    let of = "a length that is taken from something";
                    findings.add(&at.span, DocumentFault::NotExactlyOne { of, choices, found });
                }
                None
            }
        }
    }

    /// The edge on its piece; of a piece at fault nothing is said, and none comes of it.
    fn find<'e>(&'e self, edge: &'e NamedEdge, of: &str, findings: &mut Findings) -> Option<Found<'e>> {
        let NamedEdge { piece, edge, times } = edge;
        let Some((draft, cut)) = self.pieces.iter().find(|(draft, _)| draft.name == piece.value.0) else {
            if !self.known.contains(&piece.value.0) {
                findings.add(&piece.span, unknown(of.to_owned(), "piece", piece, self.known));
            }
            return None;
        };
        if draft.along(&[&edge.value.0]).is_none() {
            let along = draft.edges.iter().map(|edge| &edge.name).filter(|name| draft.along(&[name]).is_some());
            findings.add(&edge.span, unknown_edge(of.to_owned(), piece, edge, along.cloned().collect()));
            return None;
        }
        Some(Found { draft, edge: &edge.value.0, times: times.unwrap_or(*cut) })
    }
}

/// An edge on its piece.
struct Found<'a> {
    draft: &'a Draft,
    edge: &'a str,
    times: u64,
}

/// How long edges are on all copies of their pieces, with what overlaps at each run of them. Edges of one piece that count equally often make runs together,
/// and so do edges that a seam joins end to end.
fn in_all(found: &[Found<'_>], overlap: f64, seams: &[At<SeamEntry>]) -> f64 {
    let together = |a: &Found<'_>, b: &Found<'_>| a.draft.name == b.draft.name && a.times == b.times;
    let firsts =
        found.iter().enumerate().filter(|(k, first)| !found[..*k].iter().any(|before| together(before, first)));
    let mut in_all = 0.0;
    let mut runs = Vec::new();
    for (_, first) in firsts {
        let mut names: Vec<&str> = found.iter().filter(|other| together(other, first)).map(|of| of.edge).collect();
        names.sort_unstable();
        names.dedup();
        let (ends, length) = first.draft.along(&names).unwrap_or_default();
        in_all += first.times as f64 * length;
        runs.push(RunsOfPiece { piece: &first.draft.name, times: first.times, ends });
    }
    let seams: Vec<SewnEdges<'_>> = seams.iter().filter_map(|seam| sewn(&seam.value)).collect();
    in_all + overlap * joined_runs(&runs, &seams) as f64
}

/// What a seam joins, where it says so.
fn sewn(seam: &SeamEntry) -> Option<SewnEdges<'_>> {
    fn side(side: &SeamSideEntry) -> Option<(&str, Vec<&str>)> {
        let edges = side.edges.iter().flat_map(|edges| &edges.value).map(|edge| edge.value.0.as_str());
        Some((&side.piece.as_ref()?.value.0, edges.collect()))
    }
    let b = match &seam.b {
        None => None,
        Some(b) => Some(side(&b.value)?),
    };
    Some(SewnEdges { a: side(&seam.a.as_ref()?.value)?, b })
}

/// What a piece takes its measure from.
fn taken(entry: &PieceEntry) -> Option<&TakenEntry> {
    match &entry.shape.as_ref()?.value.taken()?.value {
        MeasureWord::Taken(taken) => Some(taken),
        MeasureWord::Length(_) => None,
    }
}

/// The measure of the body that a piece goes by.
pub(super) fn body_measure(entry: &PieceEntry) -> Option<&str> {
    Some(&taken(entry)?.body.as_ref()?.value.0)
}

/// Whether a piece goes by edges of others.
pub(super) fn goes_by_edges(entry: &PieceEntry) -> bool {
    taken(entry).is_some_and(|taken| taken.edges.is_some())
}

/// The pieces whose edges a piece goes by.
pub(super) fn pieces_gone_by(entry: &PieceEntry, known: &[String]) -> Vec<String> {
    let edges = taken(entry).and_then(|taken| taken.edges.as_ref());
    let words = edges.iter().flat_map(|edges| &edges.value);
    words.filter_map(|word| super::supplies::piece_named(&word.value, known)).collect()
}

/// The numbers in `order`, those of pieces that go by edges after those whose edges they go by; last, those that cannot come after all of them since
/// they go by one another.
pub(super) fn in_order(entries: &[At<PieceEntry>], order: Vec<usize>, known: &[String]) -> (Vec<usize>, Vec<usize>) {
    let name = |number: usize| entries[number].value.name.as_ref().map(|name| name.value.0.as_str());
    let (mut done, mut left): (Vec<usize>, Vec<usize>) = (Vec::new(), order);
    loop {
        let waits = |number: &usize| {
            let gone_by = pieces_gone_by(&entries[*number].value, known);
            gone_by.iter().any(|piece| left.iter().any(|&other| name(other) == Some(piece)))
        };
        let (later, ready): (Vec<usize>, Vec<usize>) = left.iter().partition(|number| waits(number));
        done.extend(&ready);
        if ready.is_empty() || later.is_empty() {
            return (done, later);
        }
        left = later;
    }
}
