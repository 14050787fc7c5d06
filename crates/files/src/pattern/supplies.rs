//! Notions and trims of a pattern, whose views, pieces and edges are its own.

use ellwand_garment::{Amount, Pattern, Trim, TrimEdge};

use super::{
    declared::{unknown, unknown_edge},
    duplicates::note_duplicates,
    format::PatternFile,
    supply_format::{EdgeWord, NotionEntry, TrimEntry},
};
use crate::{
    Length,
    document::{At, Count, Name},
    fault::{SizeFault, SupplyFault},
    findings::Findings,
};

/// Notions and trims as a pattern declares them.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct DeclaredSupplies {
    pub(crate) notions: Vec<DeclaredNotion>,
    pub(crate) trims: Vec<DeclaredTrim>,
}

/// A notion as a pattern declares it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DeclaredNotion {
    pub(crate) name: String,
    pub(crate) views: Views,
    pub(crate) needed: Amount,
    pub(crate) size: Option<String>,
}

/// A trim as a pattern declares it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DeclaredTrim {
    pub(crate) trim: Trim,
    pub(crate) views: Views,
    pub(crate) size: Option<String>,
}

/// The views that take something.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Views {
    All,
    Some(Vec<String>),
}

impl Views {
    pub(crate) fn have(&self, view: &str) -> bool {
        match self {
            Self::All => true,
            Self::Some(views) => views.iter().any(|known| known == view),
        }
    }
}

/// The notions and trims, with every fault noted. `known` names every piece, those at fault included.
pub(super) fn convert(
    file: &PatternFile,
    pattern: &Pattern,
    known: &[String],
    findings: &mut Findings,
) -> DeclaredSupplies {
    let notions = file.notion.as_ref().map_or(&[][..], |notions| notions.value.as_slice());
    let trims = file.trim.as_ref().map_or(&[][..], |trims| trims.value.as_slice());
    let of_notions = notions.iter().filter_map(|entry| entry.value.name.as_ref());
    let names: Vec<&At<Name>> = of_notions.chain(trims.iter().filter_map(|entry| entry.value.name.as_ref())).collect();
    note_duplicates("notion or trim", &names, findings);
    let of = Of { pattern, known };
    DeclaredSupplies {
        notions: notions.iter().filter_map(|entry| of.notion(entry, findings)).collect(),
        trims: trims.iter().filter_map(|entry| of.declared(&entry.value, findings)).collect(),
    }
}

/// A trim that a job has of its own, on the pieces of `pattern`.
pub(crate) fn trim_of_job(entry: &TrimEntry, pattern: &Pattern, findings: &mut Findings) -> Option<DeclaredTrim> {
    let known: Vec<String> = pattern.pieces.iter().map(|piece| piece.name.clone()).collect();
    Of { pattern, known: &known }.declared(entry, findings)
}

/// How much of a notion there is by its two keys; a fault where both are there or one is nothing. `None` where neither is there, or at fault.
pub(crate) fn amount(
    name: &str,
    count: &Option<At<Count>>,
    length: &Option<At<Length>>,
    findings: &mut Findings,
) -> Option<Amount> {
    let nothing = |what: &'static str| SupplyFault::Nothing { name: name.to_owned(), what };
    match (count, length) {
        (Some(count), Some(_)) => {
            findings.add(&count.span, SupplyFault::CountAndLength { name: name.to_owned() });
            None
        }
        (Some(count), None) if count.value.0 == 0 => {
            findings.add(&count.span, nothing("count"));
            None
        }
        (Some(count), None) => Some(Amount::Count(count.value.0)),
        (None, Some(length)) if length.value.mm() <= 0.0 => {
            findings.add(&length.span, nothing("length"));
            None
        }
        (None, Some(length)) => Some(Amount::Length(length.value.mm())),
        (None, None) => None,
    }
}

/// The pattern whose supplies are read.
struct Of<'a> {
    pattern: &'a Pattern,
    /// Every piece, those at fault included.
    known: &'a [String],
}

impl Of<'_> {
    fn notion(&self, entry: &At<NotionEntry>, findings: &mut Findings) -> Option<DeclaredNotion> {
        let NotionEntry { name, views, count, length, size } = &entry.value;
        let name = name.as_ref()?.value.0.clone();
        if count.is_none() && length.is_none() && entry.sound {
            findings.add(&entry.span, SupplyFault::NoAmount { name: name.clone() });
        }
        let views = self.views(views, &format!("the notion `{name}`"), findings);
        let needed = amount(&name, count, length, findings)?;
        Some(DeclaredNotion { name, views, needed, size: size.as_ref().map(|size| size.value.0.clone()) })
    }

    fn declared(&self, entry: &TrimEntry, findings: &mut Findings) -> Option<DeclaredTrim> {
        let name = entry.name.as_ref()?.value.0.clone();
        let of = format!("the trim `{name}`");
        let views = self.views(&entry.views, &of, findings);
        let listed = entry.edges.as_ref()?;
        if listed.value.is_empty() && listed.sound {
            findings.add(&listed.span, SupplyFault::NoEdges { trim: name.clone() });
        }
        let edges = listed.value.iter().filter_map(|edge| self.edge(edge, &of, findings)).collect();
        let turned_ends = entry.turned_ends.as_ref().map_or(0.0, |length| length.value.mm());
        let size = entry.size.as_ref().map(|size| size.value.0.clone());
        Some(DeclaredTrim { trim: Trim { name, edges, turned_ends }, views, size })
    }

    /// The views of this pattern that are listed.
    fn views(&self, listed: &Option<At<Vec<At<Name>>>>, of: &str, findings: &mut Findings) -> Views {
        let Some(listed) = listed else { return Views::All };
        let known: Vec<String> = self.pattern.views.iter().map(|view| view.name.clone()).collect();
        // Of a pattern whose views are all at fault none is known.
        for name in listed.value.iter().filter(|name| !known.is_empty() && !known.contains(&name.value.0)) {
            findings.add(&name.span, unknown(of.to_owned(), "view", name, &known));
        }
        Views::Some(listed.value.iter().map(|name| name.value.0.clone()).collect())
    }

    fn edge(&self, at: &At<EdgeWord>, of: &str, findings: &mut Findings) -> Option<TrimEdge> {
        let NamedEdge { piece, edge, times } = named_edge(at, self.known, of, findings)?;
        self.is_there(&piece, &edge, of, findings).then(|| TrimEdge {
            piece: piece.value.0.clone(),
            edge: edge.value.0.clone(),
            times,
        })
    }

    /// Whether the piece has the edge; of a piece at fault nothing is said.
    fn is_there(&self, piece: &At<Name>, edge: &At<Name>, of: &str, findings: &mut Findings) -> bool {
        let Some(found) = self.pattern.piece(&piece.value.0) else {
            if !self.known.contains(&piece.value.0) {
                findings.add(&piece.span, unknown(of.to_owned(), "piece", piece, self.known));
            }
            return false;
        };
        let mut known: Vec<String> =
            found.edges.iter().map(|edge| edge.name.clone()).filter(|name| !name.is_empty()).collect();
        let is_there = known.contains(&edge.value.0);
        if !is_there {
            known.retain(|name| found.half_of_edge(name) == ellwand_garment::Half::Drawn);
            findings.add(&edge.span, unknown_edge(of.to_owned(), piece, edge, known));
        }
        is_there
    }
}

/// An edge as something names it.
pub(super) struct NamedEdge {
    pub(super) piece: At<Name>,
    pub(super) edge: At<Name>,
    /// How often it counts, where that is told.
    pub(super) times: Option<u64>,
}

/// The edge that `of`, such as "the trim `Braid`", names; none, noted, where it names none.
pub(super) fn named_edge(at: &At<EdgeWord>, known: &[String], of: &str, findings: &mut Findings) -> Option<NamedEdge> {
    let named = |text: &str| At { value: Name(text.trim().to_owned()), span: at.span.clone(), sound: true };
    match &at.value {
        EdgeWord::Word(Name(text)) => {
            let Some((piece, edge)) = parted(text, known) else {
                findings.add(&at.span, SupplyFault::EdgeWithoutPiece { of: of.to_owned(), found: text.clone() });
                return None;
            };
            Some(NamedEdge { piece: named(piece), edge: named(edge), times: None })
        }
        EdgeWord::Counted(along) => {
            let times = along.times.as_ref();
            if let Some(zero) = times.filter(|times| times.value.0 == 0) {
                let piece = along.piece.as_ref().map(|piece| piece.value.0.clone()).unwrap_or_default();
                findings.add(&zero.span, SizeFault::NoTimes { of: of.to_owned(), piece });
                return None;
            }
            let (piece, edge) = (along.piece.clone()?, along.edge.clone()?);
            Some(NamedEdge { piece, edge, times: times.map(|times| times.value.0) })
        }
    }
}

/// The piece of the edge that is named.
pub(super) fn piece_named(word: &EdgeWord, known: &[String]) -> Option<String> {
    match word {
        EdgeWord::Word(Name(text)) => parted(text, known).map(|(piece, _)| piece.to_owned()),
        EdgeWord::Counted(along) => along.piece.as_ref().map(|piece| piece.value.0.clone()),
    }
}

/// Piece and edge of "Cuff: wrist". Where a colon stands in names as well, it is parted behind a piece that is there.
fn parted<'t>(text: &'t str, known: &[String]) -> Option<(&'t str, &'t str)> {
    let parts = || text.match_indices(':').map(|(at, _)| (text[..at].trim(), text[at + 1..].trim()));
    let whole = || parts().filter(|(piece, edge)| !piece.is_empty() && !edge.is_empty());
    whole().find(|(piece, _)| known.iter().any(|known| known == piece)).or_else(|| whole().next())
}
