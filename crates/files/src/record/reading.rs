//! A piece record read back: a pattern in one size, of one view, with its allowances in.

use std::{collections::BTreeMap, ops::Range};

use ellwand_garment::{
    CutRule, Dart, GrainRule, InputFault, Notch, Pattern, Piece, PieceEdge, Seam, SeamSide, View, validate_pattern,
    validate_piece,
};
use ellwand_geometry::{Outline, OutlineFault, Point, distance, point};
use serde::Deserialize;
use serde_json::value::RawValue;

use super::{
    Number,
    pieces::{CutRuleRecord, DartRecord, FORMAT, PieceRecord, SeamRecord, SeamSideRecord, ViewRecord},
    words::{CORNERS, GRAINS, HANDS, KINDS, PRESSED, TAKEN_UP, Words, value},
};
use crate::{
    Place,
    document::is_text,
    fault::{DocumentFault, PatternFault, RecordFault},
    findings::Findings,
    limits::{Counted, FARTHEST, LEAST_AREA},
};

/// What a record without a view is called.
const NO_VIEW: &str = "all pieces";

/// A record that was read without a fault, and where it has its pieces.
pub(crate) struct Recorded {
    pub(crate) pattern: Pattern,
    pub(crate) places: BTreeMap<String, Place>,
}

/// Whether a job that names this file as its pattern names a record.
pub(crate) fn is_record(named: &str) -> bool {
    named.rsplit_once('.').is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("json"))
}

/// The record as it is written, pieces and seams unread.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written<'t> {
    #[serde(rename = "format")]
    _format: String,
    size: String,
    pattern: Option<String>,
    view: Option<ViewRecord>,
    #[serde(borrow)]
    pieces: Vec<&'t RawValue>,
    #[serde(borrow, default)]
    seams: Vec<&'t RawValue>,
}

/// The line that tells what kind of record it is.
#[derive(Deserialize)]
struct FormatLine {
    format: Option<String>,
}

/// The pattern that a record holds; none when something is at fault.
pub(crate) fn read(findings: &mut Findings) -> Option<Recorded> {
    if !is_text(findings) {
        return None;
    }
    let source = findings.source().clone();
    let text = source.text();
    if text.trim().is_empty() {
        findings.add_for_file(RecordFault::Empty);
        return None;
    }
    let line: FormatLine = from_json(text, 0, findings)?;
    if let Some(found) = line.format.filter(|found| found != FORMAT) {
        let at = text.find("\"format\"").unwrap_or(0);
        findings.add(&(at..at), RecordFault::WrongFormat { found, expected: FORMAT });
        return None;
    }
    let written: Written<'_> = from_json(text, 0, findings)?;
    let spans: Vec<Range<usize>> = written.pieces.iter().map(|raw| span_in(text, raw)).collect();
    let all = spans.first().map_or(0..0, |first| first.start..first.start);
    if findings.exceeds(Counted::Pieces, written.pieces.len(), &all) {
        return None;
    }
    if findings.exceeds(Counted::Entries, written.seams.len(), &all) {
        return None;
    }
    let of_view = written.view.iter().flat_map(|view| [&view.name, &view.title].into_iter().chain(&view.pieces));
    let names = std::iter::once(&written.size).chain(&written.pattern).chain(of_view);
    let listed = written.view.as_ref().map_or(0, |view| view.pieces.len());
    if findings.exceeds(Counted::Pieces, listed, &all) || unfit(names.map(String::as_str), &all, findings) {
        return None;
    }
    let before = findings.count();
    let (mut pieces, mut points) = (Vec::new(), 0);
    for (raw, span) in written.pieces.iter().zip(&spans) {
        let Some(record) = from_json::<PieceRecord>(raw.get(), span.start, findings) else { continue };
        points += record.outline.len() + record.edges.iter().map(|edge| edge.line.len()).sum::<usize>();
        let edges = record.edges.iter().map(|edge| edge.name.as_str());
        let notches = record.notches.iter().map(|notch| notch.name.as_str());
        let darts = record.darts.iter().map(|dart| dart.name.as_str());
        let marks = record.points.keys().map(String::as_str);
        let roles = record.cut.iter().map(|rule| rule.fabric.as_str());
        let lists = [record.notches.len(), record.darts.len(), record.points.len(), record.cut.len()];
        if findings.exceeds(Counted::OutlinePoints, record.outline.len(), span)
            || findings.exceeds(Counted::PatternPoints, points, span)
            || findings.exceeds(Counted::Edges, record.edges.len(), span)
            || lists.into_iter().any(|count| findings.exceeds(Counted::Entries, count, span))
            || unfit(edges.chain(notches).chain(darts).chain(marks).chain(roles), span, findings)
        {
            return None;
        }
        pieces.extend(Reader { findings, span, of: &record.piece }.piece(&record).map(|piece| (piece, span.clone())));
    }
    let mut seams = Vec::new();
    for raw in &written.seams {
        let span = span_in(text, raw);
        let Some(record) = from_json::<SeamRecord>(raw.get(), span.start, findings) else { continue };
        let sides = || std::iter::once(&record.a).chain(&record.b);
        let lists = sides().flat_map(|side| [side.edges.len(), side.meets.len(), side.taken_up.len()]);
        let most = lists.max().unwrap_or(0);
        if findings.exceeds(Counted::Entries, most, &span)
            || unfit(std::iter::once(record.name.as_str()), &span, findings)
        {
            return None;
        }
        seams.extend(Reader { findings, span: &span, of: &record.name }.seam(&record));
    }
    let mut places: BTreeMap<String, Place> = BTreeMap::new();
    for (piece, span) in &pieces {
        if let Some(first) = places.get(&piece.name) {
            let (kind, name, first_line) = ("piece", piece.name.clone(), first.line_and_column().0);
            findings.add(span, PatternFault::Duplicate { kind, name, first_line });
        } else {
            places.insert(piece.name.clone(), source.place(span));
        }
    }
    if findings.count() > before {
        return None;
    }
    let pieces: Vec<Piece> = pieces.into_iter().map(|(piece, _)| piece).collect();
    let view = match written.view {
        Some(view) => View { name: view.name, title: view.title, pieces: view.pieces },
        None => View {
            name: NO_VIEW.to_owned(),
            title: String::new(),
            pieces: pieces.iter().map(|piece| piece.name.clone()).collect(),
        },
    };
    let name = written.pattern.unwrap_or_else(|| NO_VIEW.to_owned());
    let pattern = Pattern { name, size: written.size, pieces, views: vec![view], seams, garments: Vec::new() };
    for fault in validate_pattern(&pattern) {
        findings.add(&all, RecordFault::from(fault));
    }
    (findings.count() == before).then_some(Recorded { pattern, places })
}

/// Reads a part of the record that starts at `start`; what is wrong stands where the reader found it.
fn from_json<'t, T: Deserialize<'t>>(text: &'t str, start: usize, findings: &mut Findings) -> Option<T> {
    match serde_json::from_str(text) {
        Ok(read) => Some(read),
        Err(error) => {
            let lines = text.split_inclusive('\n').take(error.line().saturating_sub(1)).map(str::len);
            let at = start + (lines.sum::<usize>() + error.column().saturating_sub(1)).min(text.len());
            let told = error.to_string();
            let reason = told.split(" at line ").next().unwrap_or_default().to_owned();
            findings.add(&(at..at), RecordFault::NotARecord { reason });
            None
        }
    }
}

/// Whether one of some names is longer than a name may be or cannot be printed, which is noted.
fn unfit<'n>(names: impl Iterator<Item = &'n str> + Clone, span: &Range<usize>, findings: &mut Findings) -> bool {
    if let Some(name) = names.clone().find(|name| name.chars().any(char::is_control)) {
        findings.add(span, DocumentFault::UnprintableName { found: name.chars().take(40).collect() });
        return true;
    }
    let longest = names.map(|name| name.chars().count()).max().unwrap_or(0);
    findings.exceeds(Counted::NameCharacters, longest, span)
}

/// Where a part of the text stands in it.
fn span_in(text: &str, part: &RawValue) -> Range<usize> {
    let part = part.get();
    let start = (part.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
    start..start + part.len()
}

/// Reads one piece or seam.
struct Reader<'a> {
    findings: &'a mut Findings,
    span: &'a Range<usize>,
    /// What is read, for messages.
    of: &'a str,
}

impl Reader<'_> {
    fn note(&mut self, fault: impl Into<RecordFault>) {
        self.findings.add(self.span, fault.into());
    }

    fn piece(&mut self, record: &PieceRecord) -> Option<Piece> {
        let before = self.findings.count();
        if self.findings.exceeds(Counted::NameCharacters, record.piece.chars().count(), self.span) {
            return None;
        }
        let points = self.places(&record.outline)?;
        let outline = match Outline::new(points) {
            Ok(outline) if outline.area() < LEAST_AREA => Err(vec![OutlineFault::ZeroArea]),
            other => other,
        };
        let outline = match outline {
            Ok(outline) => outline,
            Err(faults) => {
                // The first tells enough of a shape that no piece has.
                let first = faults.into_iter().next().unwrap_or(OutlineFault::ZeroArea);
                self.note(InputFault::Outline { piece: record.piece.clone(), fault: first });
                return None;
            }
        };
        let [low, high] = record.grainline;
        let grainline = [self.place(low)?, self.place(high)?];
        let grain = self.grain(record.grain.as_ref())?.unwrap_or(GrainRule::Straight);
        let notches = record.notches.iter().map(|notch| {
            Some(Notch { name: notch.name.clone(), at: self.place(notch.at)?, inward: self.place(notch.inward)? })
        });
        let notches = notches.collect::<Option<_>>()?;
        let marks = record.points.iter().map(|(name, at)| Some((name.clone(), self.place(*at)?)));
        let marks = marks.collect::<Option<_>>()?;
        let darts: Vec<Option<Dart>> = record.darts.iter().map(|dart| self.dart(dart)).collect();
        let mut edges = Vec::new();
        for edge in &record.edges {
            let (line, allowance) = (self.places(&edge.line)?, edge.allowance.map(|depth| depth.0));
            if line.len() < 2 || allowance.is_some_and(|depth| !(0.0..=FARTHEST).contains(&depth)) {
                self.note(RecordFault::NoEdge { piece: record.piece.clone(), edge: edge.name.clone() });
            }
            let corner = match &edge.corner {
                None => None,
                Some(corner) => Some(self.word("corner", CORNERS, corner)?),
            };
            edges.push(PieceEdge { name: edge.name.clone(), line, allowance, corner });
        }
        let cuts: Vec<Option<CutRule>> = record.cut.iter().map(|rule| self.cut(rule)).collect();
        let strips = record.strips.as_ref().and_then(|strips| {
            let read = strips.read();
            if read.is_none() {
                self.note(RecordFault::NoStrips { piece: record.piece.clone(), joined: strips.joined.clone() });
            }
            read
        });
        let piece = Piece {
            name: record.piece.clone(),
            outline,
            edges,
            grainline,
            fold: record.fold,
            grain,
            notches,
            darts: darts.into_iter().collect::<Option<_>>()?,
            points: marks,
            cuts: cuts.into_iter().collect::<Option<_>>()?,
            strips,
        };
        for fault in validate_piece(&piece) {
            self.note(fault);
        }
        (self.findings.count() == before).then_some(piece)
    }

    fn cut(&mut self, rule: &CutRuleRecord) -> Option<CutRule> {
        Some(CutRule {
            role: rule.fabric.clone(),
            count: rule.count,
            on_fold: rule.on_fold,
            hands: self.word("hands", HANDS, &rule.hands)?,
            grain: self.grain(rule.grain.as_ref())?,
        })
    }

    fn dart(&mut self, dart: &DartRecord) -> Option<Dart> {
        let (tips, pressed) = (self.places(&dart.tips)?, self.word("way of pressing", PRESSED, &dart.pressed)?);
        let legs = [self.place(dart.legs[0])?, self.place(dart.legs[1])?];
        let apart = |a: Point, b: Point| distance(a, b) > 1e-3;
        let has_shape = matches!(tips.len(), 1 | 2)
            && apart(legs[0], legs[1])
            && tips.iter().all(|tip| legs.iter().all(|leg| apart(*tip, *leg)));
        if !has_shape {
            self.note(RecordFault::NoDart { piece: self.of.to_owned(), dart: dart.name.clone() });
            return None;
        }
        Some(Dart { name: dart.name.clone(), tips, legs, pressed })
    }

    fn seam(&mut self, record: &SeamRecord) -> Option<Seam> {
        let kind = self.word("kind", KINDS, &record.kind)?;
        let a = self.side(&record.a)?;
        let b = match &record.b {
            Some(b) => Some(self.side(b)?),
            None => None,
        };
        Some(Seam { name: record.name.clone(), kind, a, b })
    }

    fn side(&mut self, side: &SeamSideRecord) -> Option<SeamSide> {
        let taken_up: Vec<_> = (side.taken_up.iter())
            .map(|(how, by)| Some((self.word("way of taking up", TAKEN_UP, how)?, by.0)))
            .collect::<Option<_>>()?;
        Some(SeamSide {
            piece: side.piece.clone(),
            edges: side.edges.clone(),
            meets: side.meets.clone(),
            taken_up,
            centre: side.centre.clone(),
            roll: side.roll.clone(),
        })
    }

    /// Nothing where no grain is told, and a fault where it is none.
    fn grain(&mut self, word: Option<&String>) -> Option<Option<GrainRule>> {
        match word {
            None => Some(None),
            Some(word) => self.word("grain", GRAINS, word).map(Some),
        }
    }

    fn word<T: Copy>(&mut self, what: &'static str, words: Words<T>, found: &str) -> Option<T> {
        let meant = value(words, found);
        if meant.is_none() {
            let known = words.iter().map(|(word, _)| (*word).to_owned()).collect();
            self.note(RecordFault::UnknownWord { what, of: self.of.to_owned(), found: found.to_owned(), known });
        }
        meant
    }

    fn place(&mut self, [x, y]: [Number; 2]) -> Option<Point> {
        let far = if x.0.abs() >= y.0.abs() { x.0 } else { y.0 };
        if far.abs() > FARTHEST {
            self.note(RecordFault::TooFar { piece: self.of.to_owned(), found: far });
            return None;
        }
        Some(point(x.0, y.0))
    }

    fn places(&mut self, pairs: &[[Number; 2]]) -> Option<Vec<Point>> {
        pairs.iter().map(|&pair| self.place(pair)).collect()
    }
}
