//! Notions and trims of a pattern, whose views, pieces and edges are its own.

use std::ops::Range;

use ellwand_garment::{Amount, Body, Draft, Pattern, Size, SizeChart, Trim, TrimEdge};

use super::{
    declared::{unknown, unknown_edge},
    duplicates::note_duplicates,
    format::PatternFile,
    measure_format::MeasureWord,
    sizes,
    sketch::{ForWhom, Sketches},
    supply_format::{EdgeWord, InSizes, NotionEntry, NotionLength, TrimEntry},
    taken::Lengths,
};
use crate::{
    Length,
    document::{At, Count, Name, Named},
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
    /// In the size of the garment; while none is chosen, in the first.
    pub(crate) needed: Amount,
    pub(crate) size: Option<String>,
    /// What is told of it as a button.
    pub(crate) button: Button,
    /// How it differs between sizes and bodies.
    pub(crate) varies: Box<Varies>,
}

/// What is told of a button, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Button {
    pub(crate) diameter: Option<f64>,
    pub(crate) thickness: Option<f64>,
    /// From the line that it is sewn on to the finished edge.
    pub(crate) extension: Option<f64>,
}

/// Added to the diameter of a button of which nobody tells how thick it is, mm: an eighth of an inch (a home-sewing handbook, pages on buttonholes).
const USUAL_THICKNESS: f64 = 25.4 / 8.0;

/// How much of its diameter a button needs from its line to the finished edge, at least (a home-sewing handbook).
const BEYOND_THE_LINE: f64 = 0.75;

impl Button {
    /// How long its buttonhole is: as it is wide and thick.
    pub(crate) fn hole(&self) -> Option<f64> {
        Some(self.diameter? + self.thickness.unwrap_or(USUAL_THICKNESS))
    }

    /// How far the edge must be from its line, where it is nearer than that.
    pub(crate) fn wants_beyond(&self) -> Option<f64> {
        let wants = self.diameter? * BEYOND_THE_LINE;
        self.extension.filter(|has| *has + 0.05 < wants).map(|_| wants)
    }

    /// The widest button that the edge leaves room for.
    pub(crate) fn widest(&self) -> Option<f64> {
        self.extension.map(|has| has / BEYOND_THE_LINE)
    }
}

/// How a notion differs between sizes and bodies.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Varies {
    /// How much of it each size takes, in the order of the chart; none where it is the same for all.
    needed: Vec<Amount>,
    /// The same of its size in words.
    sizes: Vec<String>,
    /// What its length is taken from, and by what of the pattern that is said.
    taken: Option<(Taken, String)>,
}

/// What the length of a notion is taken from.
#[derive(Debug, Clone)]
struct Taken(At<MeasureWord>);

impl PartialEq for Taken {
    /// What stands at one place of a file is one.
    fn eq(&self, other: &Self) -> bool {
        self.0.span == other.0.span
    }
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

impl DeclaredSupplies {
    /// Those of a garment in one size of the chart, with `lengths` to take theirs from.
    pub(super) fn in_size(
        &self,
        number: usize,
        (made, drawn): (&Lengths<'_>, &Lengths<'_>),
        findings: &mut Findings,
    ) -> Self {
        let mut own = self.clone();
        for notion in &mut own.notions {
            // What is not made has no edges, unless that is all there would be to measure.
            let is_made = |(piece, _): &(String, String)| {
                made.pieces.iter().any(|(draft, often)| draft.name == *piece && *often > 0)
            };
            let lengths = if notion.measured_along(made.known).iter().any(is_made) { made } else { drawn };
            let Varies { needed, sizes, taken } = &*notion.varies;
            let of_body = |(taken, of): &(Taken, String)| lengths.measure(&taken.0, of, findings).map(Amount::Length);
            let of_size = needed.get(number).copied();
            notion.needed = of_size.or_else(|| taken.as_ref().and_then(of_body)).unwrap_or(notion.needed);
            notion.size = sizes.get(number).cloned().or_else(|| notion.size.take());
        }
        own
    }

    /// The measures of the body that notions go by.
    pub(super) fn body_measures(&self) -> impl Iterator<Item = &str> {
        let taken = self.notions.iter().filter_map(|notion| notion.varies.taken.as_ref());
        taken.filter_map(|(taken, _)| match &taken.0.value {
            MeasureWord::Taken(taken) => Some(taken.body.as_ref()?.value.0.as_str()),
            MeasureWord::Length(_) => None,
        })
    }
}

impl DeclaredNotion {
    /// Piece and name of each edge that its length is taken from; `known` names every piece.
    pub(crate) fn measured_along(&self, known: &[String]) -> Vec<(String, String)> {
        let taken = self.varies.taken.as_ref().map(|(taken, _)| &taken.0.value);
        let Some(MeasureWord::Taken(taken)) = taken else { return Vec::new() };
        let words = taken.edges.iter().flat_map(|edges| &edges.value);
        let named = words.filter_map(|word| match &word.value {
            EdgeWord::Word(Name(text)) => parted(text, known),
            EdgeWord::Counted(along) => {
                Some((along.piece.as_ref()?.value.0.as_str(), along.edge.as_ref()?.value.0.as_str()))
            }
        });
        named.map(|(piece, edge)| (piece.to_owned(), edge.to_owned())).collect()
    }
}

impl Sketches<'_> {
    /// The supplies of a garment with these drafts, in the size of this number in the chart. A measure is that of `body` where it tells it, else that of
    /// the size; an edge is counted as often as its piece in `chosen` is cut from its first cloth, and of pieces that are not `made` not at all.
    pub(super) fn supplies_in(
        &self,
        supplies: &DeclaredSupplies,
        (drafts, number): (&[Draft], usize),
        (chart, body): (&SizeChart, &Body),
        (chosen, made): (&Pattern, &[String]),
        findings: &mut Findings,
    ) -> DeclaredSupplies {
        let mut of_whom = chart.sizes.get(number).map(|size| size.body.clone()).unwrap_or_default();
        of_whom.extend(body.clone());
        let often = |draft: &Draft| {
            let rule = chosen.piece(&draft.name).and_then(|piece| piece.cuts.first());
            rule.map_or(0, |rule| u64::from(rule.count))
        };
        let size = match &chart.sizes[..] {
            [_, _, ..] => sizes::label(&chart.sizes[number], chart.sizes.iter()),
            _ => String::new(),
        };
        let drawn: Vec<(&Draft, u64)> = drafts.iter().map(|draft| (draft, often(draft))).collect();
        let is_made = |draft: &Draft| made.is_empty() || made.contains(&draft.name);
        let of_made = drawn.iter().map(|&(draft, often)| (draft, if is_made(draft) { often } else { 0 })).collect();
        let lengths =
            |pieces| Lengths { body: &of_whom, size: &size, pieces, known: self.known(), seams: self.seams() };
        let lengths = (&lengths(of_made), &lengths(drawn));
        supplies.in_size(number, lengths, findings)
    }

    /// Notes what the supplies cannot be taken from in some size.
    pub(super) fn note_what_is_taken(
        &self,
        supplies: &DeclaredSupplies,
        (chart, for_whom): (&SizeChart, &ForWhom),
        pattern: &Pattern,
        findings: &mut Findings,
    ) {
        for number in 0..chart.sizes.len() {
            let drafts: Vec<Draft> = self.pieces().iter().map(|piece| piece.in_size(number).draft.clone()).collect();
            let mut of_size = findings.of_the_same_file();
            self.supplies_in(supplies, (&drafts, number), (chart, &for_whom.body), (pattern, &[]), &mut of_size);
            findings.add_new(of_size);
        }
    }
}

/// The notions and trims, with every fault noted. `known` names every piece, those at fault included.
pub(super) fn convert(
    file: &PatternFile,
    pattern: &Pattern,
    (known, chart): (&[String], &SizeChart),
    findings: &mut Findings,
) -> DeclaredSupplies {
    let notions = file.notion.as_ref().map_or(&[][..], |notions| notions.value.as_slice());
    let trims = file.trim.as_ref().map_or(&[][..], |trims| trims.value.as_slice());
    let of_notions = notions.iter().filter_map(|entry| entry.value.name.as_ref());
    let names: Vec<&At<Name>> = of_notions.chain(trims.iter().filter_map(|entry| entry.value.name.as_ref())).collect();
    note_duplicates("notion or trim", &names, findings);
    let of = Of { pattern, known };
    DeclaredSupplies {
        notions: notions.iter().filter_map(|entry| of.notion(entry, chart, findings)).collect(),
        trims: trims.iter().filter_map(|entry| of.declared(&entry.value, findings)).collect(),
    }
}

/// A trim that a job has of its own, on the pieces of `pattern`.
pub(crate) fn trim_of_job(entry: &TrimEntry, pattern: &Pattern, findings: &mut Findings) -> Option<DeclaredTrim> {
    let known: Vec<String> = pattern.pieces.iter().map(|piece| piece.name.clone()).collect();
    Of { pattern, known: &known }.declared(entry, findings)
}

/// The edges of a trim that a job has of its own, each with where it is named; those at fault are left out.
pub(crate) fn edges_of_job(
    entry: &TrimEntry,
    pattern: &Pattern,
    findings: &mut Findings,
) -> Vec<(Range<usize>, TrimEdge)> {
    let known: Vec<String> = pattern.pieces.iter().map(|piece| piece.name.clone()).collect();
    let of = Of { pattern, known: &known };
    let listed = entry.edges.iter().flat_map(|edges| &edges.value);
    listed.filter_map(|edge| Some((edge.span.clone(), of.edge(edge, "the trim", findings)?))).collect()
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

/// A button of no width has no buttonhole.
pub(crate) fn note_no_diameter(name: &str, diameter: &Option<At<Length>>, findings: &mut Findings) {
    if let Some(at) = diameter.as_ref().filter(|at| at.value.mm() <= 0.0) {
        findings.add(&at.span, SupplyFault::Nothing { name: name.to_owned(), what: "diameter" });
    }
}

fn as_at<T, U>(at: &At<T>, value: U) -> At<U> {
    At { value, span: at.span.clone(), sound: at.sound }
}

/// What is said of each size, in the order of the chart; sizes that are not there, and those of which nothing is said, are noted, and then there is
/// none.
fn in_order<'e, T>(
    each: &'e Named<T>,
    span: &Range<usize>,
    of: &str,
    chart: &SizeChart,
    findings: &mut Findings,
) -> Vec<&'e At<T>> {
    let label = |size: &Size| sizes::label(size, chart.sizes.iter());
    let mut known: Vec<String> = chart.sizes.iter().map(label).collect();
    let is_called = |size: &Size, name: &str| size.name == name || label(size) == name;
    known.dedup();
    let before = findings.count();
    for (name, _) in each.0.iter().filter(|(name, _)| !chart.sizes.iter().any(|size| is_called(size, &name.value))) {
        let named = At { value: Name(name.value.clone()), span: name.span.clone(), sound: true };
        findings.add(&name.span, unknown(of.to_owned(), "size", &named, &known));
    }
    let said = |size: &Size| {
        let by_label = each.0.iter().find(|(name, _)| name.value == label(size));
        by_label.or_else(|| each.0.iter().find(|(name, _)| name.value == size.name)).map(|(_, said)| said)
    };
    let missing: Vec<String> = chart.sizes.iter().filter(|size| said(size).is_none()).map(label).collect();
    // A size that is misspelt most likely is the one that is missing.
    if !missing.is_empty() && findings.count() == before {
        findings.add(span, SupplyFault::SizesMissing { of: of.to_owned(), missing });
    }
    if findings.count() > before { Vec::new() } else { chart.sizes.iter().filter_map(said).collect() }
}

/// The pattern whose supplies are read.
struct Of<'a> {
    pattern: &'a Pattern,
    /// Every piece, those at fault included.
    known: &'a [String],
}

impl Of<'_> {
    fn notion(&self, entry: &At<NotionEntry>, chart: &SizeChart, findings: &mut Findings) -> Option<DeclaredNotion> {
        let NotionEntry { name, views, count, length, size, diameter, thickness, extension } = &entry.value;
        let name = name.as_ref()?.value.0.clone();
        if count.is_none() && length.is_none() && entry.sound {
            findings.add(&entry.span, SupplyFault::NoAmount { name: name.clone() });
        }
        let of = format!("the notion `{name}`");
        let views = self.views(views, &of, findings);
        let size = size.as_ref().map(|size| (&size.span, &size.value));
        let sizes: Vec<String> = match size {
            Some((span, InSizes::Each(each))) => {
                let sizes = in_order(each, span, &of, chart, findings);
                sizes.into_iter().map(|size| size.value.0.clone()).collect()
            }
            _ => Vec::new(),
        };
        let one_size = match size {
            Some((_, InSizes::All(size))) => Some(size.0.clone()),
            _ => sizes.first().cloned(),
        };
        let (mut needed, mut taken) = (Vec::new(), None);
        let first = match (count.as_ref().map(|at| (at, &at.value)), length.as_ref().map(|at| (at, &at.value))) {
            (Some((at, _)), Some(_)) => {
                findings.add(&at.span, SupplyFault::CountAndLength { name: name.clone() });
                None
            }
            (Some((at, InSizes::All(count))), None) => amount(&name, &Some(as_at(at, *count)), &None, findings),
            (Some((at, InSizes::Each(each))), None) => {
                for count in in_order(each, &at.span, &of, chart, findings) {
                    needed.extend(amount(&name, &Some(count.clone()), &None, findings));
                }
                needed.first().copied()
            }
            (None, Some((at, NotionLength::Measure(MeasureWord::Length(length))))) => {
                amount(&name, &None, &Some(as_at(at, *length)), findings)
            }
            (None, Some((at, NotionLength::Measure(measure)))) => {
                taken = Some((Taken(as_at(at, measure.clone())), of.clone()));
                // What it comes to is worked out for a garment.
                Some(Amount::Length(0.0))
            }
            (None, Some((at, NotionLength::Each(each)))) => {
                for length in in_order(each, &at.span, &of, chart, findings) {
                    needed.extend(amount(&name, &None, &Some(length.clone()), findings));
                }
                needed.first().copied()
            }
            (None, None) => None,
        };
        let varies = Box::new(Varies { needed, sizes, taken });
        note_no_diameter(&name, diameter, findings);
        let mm = |length: &Option<At<Length>>| length.as_ref().map(|length| length.value.mm());
        let button = Button { diameter: mm(diameter), thickness: mm(thickness), extension: mm(extension) };
        Some(DeclaredNotion { name, views, needed: first?, size: one_size, button, varies })
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
