//! The pieces of a pattern before they are finished: each drawn once or in every size, and what finishes them into a pattern in one size,
//! as drawn or as fitted.

use std::{cell::OnceCell, ops::Range};

use ellwand_garment::{Body, CutRule, Draft, GradedPiece, Pattern, SizeChart, Strips, Units, View};

use super::{
    by_cloth::{self, CutForm, Room, Trouble},
    drawing_format::DrawnEntry,
    drawn,
    format::{CoordinateUnit, PatternFile, PieceEntry},
    like, measured, mixed,
    outline::{Drawing, Drawn, PieceFrame},
    pieced::JoinedAt,
    seam_format::SeamEntry,
    seams,
    size_format::SizeEntry,
    sizes,
    taken::{self, Lengths},
    upright::{self, Finished},
    wide_panel,
};
use crate::{
    document::At,
    fault::{PatternFault, SizeFault},
    findings::Findings,
    limits::Counted,
};

/// The pieces of a pattern whose drawings could be read, and what else is needed to finish them.
pub(super) struct Sketches<'f> {
    file: &'f PatternFile,
    unit: CoordinateUnit,
    /// Names of all pieces, those at fault included.
    known: Vec<String>,
    views: Vec<View>,
    pieces: Vec<Sketch<'f>>,
}

/// A piece before it is finished.
pub(super) struct Sketch<'f> {
    pub(super) entry: &'f PieceEntry,
    pub(super) name: &'f str,
    /// The piece it is like.
    like: Option<&'f str>,
    pub(super) span: &'f Range<usize>,
    pub(super) cuts: Vec<CutRule>,
    /// In each size, or once for all.
    drawings: Vec<Drawn>,
    /// As it is cut, where one drawing serves all sizes; none inside when it is at fault.
    finished: OnceCell<Option<Finished>>,
}

/// Whose body measured pieces go by.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct ForWhom {
    /// The body of the job.
    pub(crate) body: Body,
    /// Whether the garment is made to it, and not to one of the sizes of the pattern.
    pub(crate) to_measure: bool,
}

/// What is cut of the pieces once the cloths are known.
pub(crate) struct ByCloth {
    /// The drafts, one a piece.
    pub(crate) drafts: Vec<Draft>,
    /// How many of each are cut for one.
    pub(crate) times: Vec<u32>,
    /// What the rectangles of each are, where they are joined to one or give bias strips.
    pub(crate) strips: Vec<Option<Strips>>,
    /// Where those are joined that are cut in two.
    pub(super) joined: Vec<Option<JoinedAt>>,
}

/// What a fit makes of the drafts of a pattern.
#[derive(Clone, Copy)]
pub(crate) struct Fitting<'a> {
    /// The fitted drafts, one a piece, and how many of each are cut for one.
    pub(crate) cut: &'a ByCloth,
    /// Those of the size they come nearest to, where faults show.
    pub(crate) near: &'a [Draft],
    /// What that size is called.
    pub(crate) size: &'a str,
    /// The pattern in its first size, read without a fault, with the views and the cloths that are chosen.
    pub(crate) chosen: &'a Pattern,
}

/// A piece about to be finished.
struct ToFinish<'a> {
    sketch: &'a Sketch<'a>,
    /// As drawn or as fitted.
    drawing: Drawing<'a>,
    /// What it is cut from.
    cuts: &'a [CutRule],
}

impl Sketch<'_> {
    /// Where the file names it.
    pub(super) fn place(&self) -> &Range<usize> {
        self.entry.name.as_ref().map_or(self.span, |name| &name.span)
    }

    /// Whether the width of the cloth decides how many of it are cut.
    pub(super) fn is_cut_by_cloth(&self) -> bool {
        self.entry.shape.as_ref().is_some_and(|shape| by_cloth::goes_by_cloth(&shape.value))
    }

    pub(super) fn in_size(&self, size: usize) -> &Drawn {
        self.drawings.get(size).unwrap_or(&self.drawings[0])
    }

    pub(super) fn drafts(&self) -> impl Iterator<Item = &Draft> {
        self.drawings.iter().map(|drawn| &drawn.draft)
    }

    /// The piece in each of so many sizes.
    fn graded(&self, sizes: usize) -> GradedPiece {
        let of_half = if self.in_size(0).is_half() { 2 } else { 1 };
        GradedPiece {
            drafts: (0..sizes).map(|size| self.in_size(size).draft.clone()).collect(),
            sized_by: self.entry.sized_by.as_ref().map(|level| level.value.0.clone()),
            halves: self.cuts.first().map_or(0, |rule| rule.count * of_half),
        }
    }

    /// The drawing that a fitted draft comes nearest to.
    fn nearest(&self, near: &Draft) -> &Drawn {
        self.drawings.iter().find(|drawn| drawn.draft == *near).unwrap_or(&self.drawings[0])
    }
}

impl<'f> Sketches<'f> {
    /// Tells drafts of the cutting line that is drawn for them; those that a fit has changed have none.
    pub(super) fn tell_as_drawn<'d>(&self, drafts: impl Iterator<Item = &'d mut Draft>) {
        for draft in drafts {
            let Some(sketch) = self.pieces.iter().find(|sketch| sketch.name == draft.name) else { continue };
            let mut drawn = sketch.drawings.iter().filter_map(|drawn| drawn.places.cutting.as_ref());
            draft.as_drawn = drawn.find(|drawn| drawn.seam == draft.edges).cloned();
        }
    }

    /// Reads every drawing; what each piece is cut from is given with it.
    pub(super) fn read(
        file: &'f PatternFile,
        cuts: Vec<Vec<CutRule>>,
        (known, views): (Vec<String>, Vec<View>),
        (chart, for_whom): (&SizeChart, &ForWhom),
        findings: &mut Findings,
    ) -> Self {
        let unit = file.coordinates.as_ref().map_or(CoordinateUnit::Mm, |unit| unit.value);
        let entries = file.piece.as_ref().map_or(&[][..], |pieces| pieces.value.as_slice());
        let mut cuts: Vec<Option<Vec<CutRule>>> = cuts.into_iter().map(Some).collect();
        let mut read: Vec<Option<Sketch<'f>>> = entries.iter().map(|_| None).collect();
        // Of a piece that is like one at fault nothing more is said.
        let (order, round) = taken::in_order(entries, like::in_order(entries), &known);
        for number in round {
            let piece = entries[number].value.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default();
            let place = entries[number].value.shape.as_ref().map_or(&entries[number].span, |shape| &shape.span);
            findings.add(place, SizeFault::MeasuredInACircle { piece });
        }
        for number in order {
            let At { value: entry, span, .. } = &entries[number];
            let name = entry.name.as_ref().map_or("without a name", |name| name.value.0.as_str());
            let like = like::like_of(entries, number);
            if like.is_some_and(|other| read[other].is_none()) {
                continue;
            }
            let seams = file.seam.as_ref().map_or(&[][..], |seams| seams.value.as_slice());
            let measured = Measured { chart, for_whom, known: &known, read: &read, seams };
            let drawings = draw(entry, &PieceFrame { name, span, unit }, &measured, findings);
            let like = entry.likeness.like.as_ref().map(|like| like.value.0.as_str());
            read[number] = drawings.zip(cuts[number].take()).map(|(drawings, cuts)| Sketch {
                entry,
                name,
                like,
                span,
                cuts,
                drawings,
                finished: OnceCell::new(),
            });
        }
        let mut pieces: Vec<Sketch<'f>> = read.into_iter().flatten().collect();
        let drawings = pieces.iter().flat_map(|piece| &piece.drawings);
        let points = drawings.map(|drawn| drawn.drawing().point_count()).sum();
        let place = file.piece.as_ref().map_or(0..0, |pieces| pieces.span.clone());
        if findings.exceeds(Counted::PatternPoints, points, &place) {
            pieces.clear();
        }
        Self { file, unit, known, views, pieces }
    }

    /// Names of all pieces, those at fault included.
    pub(super) fn known(&self) -> &[String] {
        &self.known
    }

    /// What is sewn to what.
    pub(super) fn seams(&self) -> &'f [At<SeamEntry>] {
        self.file.seam.as_ref().map_or(&[], |seams| seams.value.as_slice())
    }

    pub(super) fn pieces(&self) -> &[Sketch<'f>] {
        &self.pieces
    }

    /// Where the file has a size that does not tell a measure.
    pub(super) fn place_of_size_without(&self, name: &str, measure: &str) -> Option<&'f Range<usize>> {
        let lacks = |size: &SizeEntry| {
            let tells = size.body.as_ref().is_some_and(|body| body.value.names().any(|name| name == measure));
            size.name.as_ref().is_some_and(|of| of.value.0 == name) && !tells
        };
        let sizes = self.file.size.as_ref()?.value.iter();
        sizes.clone().find(|size| lacks(&size.value)).map(|size| &size.span)
    }

    /// Every piece in each of so many sizes.
    pub(super) fn graded(&self, sizes: usize) -> Vec<GradedPiece> {
        self.pieces.iter().map(|piece| piece.graded(sizes)).collect()
    }

    /// The pattern in one size, as drawn. A piece that is drawn once is finished once.
    pub(super) fn in_size(&self, size: usize, name: &str, findings: &mut Findings) -> Pattern {
        let mut pieces: Vec<Option<Finished>> = self.pieces.iter().map(|_| None).collect();
        // Of a piece that is like one at fault nothing more is said.
        let mut left: Vec<usize> = (0..self.pieces.len()).collect();
        let mut is_done = vec![false; self.pieces.len()];
        while !left.is_empty() {
            let other = |number: &usize| self.pieces.iter().position(|of| Some(of.name) == self.pieces[*number].like);
            let (ready, later): (Vec<usize>, Vec<usize>) =
                left.iter().partition(|number| other(number).is_none_or(|other| is_done[other]));
            for number in ready {
                let sketch = &self.pieces[number];
                is_done[number] = true;
                if other(&number).is_some_and(|other| pieces[other].is_none()) {
                    continue;
                }
                let to_finish = ToFinish { sketch, drawing: sketch.in_size(size).drawing(), cuts: &sketch.cuts };
                pieces[number] = if sketch.drawings.len() == 1 {
                    sketch.finished.get_or_init(|| self.finish(&to_finish, findings)).clone()
                } else {
                    self.finish(&to_finish, findings)
                };
            }
            left = later;
        }
        let pieces = pieces.into_iter().flatten().collect();
        self.put_together(pieces, &self.views, name, findings)
    }

    /// What is cut of fitted drafts from cloths with this room, of the pieces of `chosen`: what goes by edges goes by those that are fitted, and what goes
    /// by the cloth is cut to it. Notes are of the pieces that are made.
    pub(super) fn by_cloth(
        &self,
        drafts: &[Draft],
        (chosen, made): (&Pattern, &[String]),
        (rooms, units): (&[Room], Units),
        findings: &mut Findings,
    ) -> ByCloth {
        let mut drafts = self.by_fitted_edges(drafts, chosen, findings);
        let mut times = vec![1; drafts.len()];
        let mut strips = vec![None; drafts.len()];
        for (k, (sketch, piece)) in self.pieces.iter().zip(&chosen.pieces).enumerate() {
            let Some(shape) = &sketch.entry.shape else { continue };
            let on_fold = piece.cuts.iter().any(|rule| rule.on_fold);
            let of_piece = rooms.iter().filter(|room| piece.cuts.iter().any(|rule| rule.role == room.role));
            let narrowest = of_piece.min_by(|a, b| a.across(on_fold).total_cmp(&b.across(on_fold)));
            let cut = narrowest.and_then(|room| {
                let wholes = piece.cuts.iter().filter(|rule| rule.role == room.role).map(|rule| rule.count).sum();
                by_cloth::cut(&shape.value, &drafts[k], (room, on_fold), (wholes, units))
            });
            let is_made = made.contains(&piece.name);
            match cut {
                Some(Ok(CutForm { draft, times: of_one, strips: of_piece, notes })) => {
                    (drafts[k], times[k], strips[k]) = (draft, of_one, of_piece);
                    for note in notes.into_iter().filter(|_| is_made) {
                        findings.note(&shape.span, note);
                    }
                }
                Some(Err(Trouble { problem, remedy })) if is_made => {
                    findings.add(&shape.span, PatternFault::Shape { problem, remedy });
                }
                _ => {}
            }
        }
        let joined = vec![None; drafts.len()];
        ByCloth { drafts, times, strips, joined }
    }

    /// The drafts, those that go by edges measured anew along the fitted ones. Allowances stay as fitted.
    pub(super) fn by_fitted_edges(&self, drafts: &[Draft], chosen: &Pattern, findings: &mut Findings) -> Vec<Draft> {
        let mut drafts = drafts.to_vec();
        let mut left: Vec<usize> =
            (0..self.pieces.len()).filter(|&k| taken::goes_by_edges(self.pieces[k].entry)).collect();
        while !left.is_empty() {
            let waits = |k: &usize| {
                let gone_by = taken::pieces_gone_by(self.pieces[*k].entry, &self.known);
                gone_by.iter().any(|piece| left.iter().any(|&other| self.pieces[other].name == piece))
            };
            let (later, ready): (Vec<usize>, Vec<usize>) = left.iter().partition(|k| waits(k));
            for &k in &ready {
                let sketch = &self.pieces[k];
                let cut = |k: usize| chosen.pieces.get(k).and_then(|piece| piece.cuts.first());
                let often = |k: usize| cut(k).map_or(0, |rule| u64::from(rule.count));
                let pieces = drafts.iter().enumerate().map(|(k, draft)| (draft, often(k))).collect();
                let lengths = Lengths { body: &Body::new(), size: "", pieces, known: &self.known, seams: self.seams() };
                let frame = PieceFrame { name: sketch.name, span: sketch.span, unit: self.unit };
                let Some(Drawn { mut draft, .. }) = measured::draw(sketch.entry, &lengths, &frame, findings) else {
                    continue;
                };
                for (edge, fitted) in draft.edges.iter_mut().zip(&drafts[k].edges) {
                    edge.allowance = fitted.allowance;
                }
                drafts[k] = draft;
            }
            if ready.is_empty() {
                break;
            }
            left = later;
        }
        drafts
    }

    /// Notes panels of skirts that are wider than the cloth they are cut from.
    pub(super) fn note_wide_panels(
        &self,
        (pattern, made): (&Pattern, &[String]),
        (drafts, rooms): (&[Draft], &[Room]),
        units: Units,
        findings: &mut Findings,
    ) {
        for (sketch, draft) in
            self.pieces.iter().zip(drafts).filter(|(sketch, _)| made.iter().any(|of| of == sketch.name))
        {
            let skirt = sketch.entry.shape.as_ref().and_then(|shape| shape.value.circle_skirt.as_ref());
            let (Some(skirt), Some(piece)) = (skirt, pattern.piece(sketch.name)) else { continue };
            for room in rooms {
                if let Some(note) = wide_panel::note((piece, draft), &skirt.value, room, units) {
                    findings.note(&skirt.span, note);
                }
            }
        }
    }

    /// The measures of the body that pieces go by.
    pub(super) fn body_measures(&self) -> impl Iterator<Item = &str> {
        self.pieces.iter().filter_map(|sketch| taken::body_measure(sketch.entry))
    }

    /// The pattern as fitted.
    pub(super) fn fitted(&self, fitting: &Fitting<'_>, findings: &mut Findings) -> Pattern {
        let ByCloth { drafts, times, strips, joined } = fitting.cut;
        let drafts = drafts.iter().zip(times.iter().zip(strips).zip(joined)).zip(fitting.near);
        let mut pieces = Vec::new();
        for ((sketch, ((draft, ((times, strips), joined)), near)), chosen) in
            self.pieces.iter().zip(drafts).zip(&fitting.chosen.pieces)
        {
            let places = &sketch.nearest(near).places;
            let mut cuts = chosen.cuts.clone();
            cuts.iter_mut().for_each(|rule| rule.count = rule.count.saturating_mul(*times));
            joined.iter().for_each(|at| cuts.iter_mut().for_each(|rule| at.rule(rule)));
            let to_finish = ToFinish { sketch, drawing: Drawing { draft, places }, cuts: &cuts };
            let mut finished = self.finish(&to_finish, findings);
            finished.iter_mut().for_each(|finished| finished.piece.strips = *strips);
            pieces.extend(finished);
        }
        self.put_together(pieces, &fitting.chosen.views, fitting.size, findings)
    }

    /// A piece as it is cut; none when it is at fault.
    fn finish(&self, ToFinish { sketch, drawing, cuts }: &ToFinish<'_>, findings: &mut Findings) -> Option<Finished> {
        let before = findings.count();
        let frame = PieceFrame { name: sketch.name, span: &drawing.places.whole, unit: self.unit };
        let finished = upright::finish(*drawing, sketch.entry, &frame, cuts.to_vec(), findings);
        finished.filter(|_| findings.count() == before)
    }

    /// The pattern of these pieces, with its seams.
    fn put_together(&self, mut pieces: Vec<Finished>, views: &[View], size: &str, findings: &mut Findings) -> Pattern {
        let seams = seams::convert(self.seams(), &mut pieces, &self.known, findings);
        Pattern {
            name: self.file.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default(),
            size: size.to_owned(),
            pieces: pieces.into_iter().map(|finished| finished.piece).collect(),
            views: views.to_vec(),
            seams,
            garments: Vec::new(),
        }
    }
}

/// What a piece by its measures is drawn from.
struct Measured<'a, 'f> {
    chart: &'a SizeChart,
    for_whom: &'a ForWhom,
    /// Names of all pieces.
    known: &'a [String],
    /// Those that could be read so far.
    read: &'a [Option<Sketch<'f>>],
    /// What is sewn to what.
    seams: &'a [At<SeamEntry>],
}

impl Measured<'_, '_> {
    /// The drawings of a measured piece: one for each size where it is drawn otherwise in some of them.
    fn draw(&self, entry: &PieceEntry, frame: &PieceFrame<'_>, findings: &mut Findings) -> Option<Vec<Drawn>> {
        let sizes = &self.chart.sizes;
        let goes_by_sizes = taken::body_measure(entry).is_some() || taken::goes_by_edges(entry);
        let in_sizes = if goes_by_sizes { sizes.len().max(1) } else { 1 };
        let of_the_job = self.for_whom.to_measure || sizes.len() <= 1;
        let mut drawings: Vec<Drawn> = Vec::new();
        for number in 0..in_sizes {
            let mut body = sizes.get(number).map(|size| size.body.clone()).unwrap_or_default();
            if of_the_job {
                body.extend(self.for_whom.body.clone());
            }
            let read = self.read.iter().flatten();
            let pieces = read.map(|sketch| {
                let cut = sketch.cuts.first().map_or(0, |rule| u64::from(rule.count));
                (&sketch.in_size(number).draft, cut)
            });
            let size = if sizes.len() > 1 { sizes::label(&sizes[number], sizes.iter()) } else { String::new() };
            let lengths =
                Lengths { body: &body, size: &size, pieces: pieces.collect(), known: self.known, seams: self.seams };
            let mut of_size = findings.of_the_same_file();
            drawings.extend(measured::draw(entry, &lengths, frame, &mut of_size));
            findings.add_new(of_size);
        }
        if drawings.len() < in_sizes {
            return None;
        }
        if drawings.windows(2).all(|two| two[0].draft == two[1].draft) {
            drawings.truncate(1);
        }
        Some(drawings)
    }
}

/// The drawings of a piece: one, or one for each size of the chart.
fn draw(
    entry: &PieceEntry,
    frame: &PieceFrame<'_>,
    measured: &Measured<'_, '_>,
    findings: &mut Findings,
) -> Option<Vec<Drawn>> {
    mixed::note(entry, frame, findings);
    let whole = entry.seam_allowance.as_ref().map(|allowance| allowance.value);
    let chart = measured.chart;
    if entry.shape.is_some() {
        return measured.draw(entry, frame, findings);
    }
    let Some(listed) = &entry.drawn else {
        return Some(vec![drawn::draw(&entry.drawing, whole, frame, findings)?]);
    };
    let label = |size: usize| sizes::label(&chart.sizes[size], chart.sizes.iter());
    let mut in_size: Vec<Option<(&At<DrawnEntry>, Option<Drawn>)>> = chart.sizes.iter().map(|_| None).collect();
    let mut placed = 0;
    for at in &listed.value {
        let frame = PieceFrame { span: &at.span, ..*frame };
        let drawn = drawn::draw(&at.value.drawing, whole, &frame, findings);
        let Some(size) = sizes::find(&at.value, frame.name, chart, findings) else { continue };
        if let Some((first, _)) = &in_size[size] {
            let first_line = findings.source().line_and_column(first.span.start).0;
            let (kind, name) = ("drawing of this piece in size", label(size));
            findings.add(&at.span, PatternFault::Duplicate { kind, name, first_line });
        } else {
            in_size[size] = Some((at, drawn));
            placed += 1;
        }
    }
    let missing: Vec<String> = (0..in_size.len()).filter(|&size| in_size[size].is_none()).map(label).collect();
    // A drawing in no size, or in one that has another, is most likely the one that is missing.
    if !missing.is_empty() && listed.sound && placed == listed.value.len() {
        findings.add(&listed.span, SizeFault::SizeNotDrawn { piece: frame.name.to_owned(), missing });
    }
    let drawings: Option<Vec<Drawn>> = in_size.into_iter().map(|drawn| drawn?.1).collect();
    drawings.filter(|drawings| !drawings.is_empty())
}
