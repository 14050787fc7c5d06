//! What a job asks of a fit: figure type, size, body and alterations; and the pattern that comes of it.

use std::{
    collections::{BTreeMap, BTreeSet},
    ops::Range,
};

use ellwand_garment::{
    Alteration, Body, ChooseBy, Draft, FitFault, FitReport, FitRequest, Fitted, Landmarks, Pattern, Size, SizeChart,
    SizeWish, Units, fit, landmarks,
};

use super::{
    alter,
    fit_format::{AlterEntry, LengthenEntry, SizeWord},
    format::JobFile,
    pieced,
};
use crate::{
    SignedLength, body,
    document::{At, Name},
    fault::{FaultKind, JobFault},
    findings::Findings,
    nearest::nearest,
    pattern::{Fitting, Reading, Room, chosen_by, supplies::DeclaredSupplies},
};

/// How a pattern was fitted.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// What there is to tell.
    pub report: FitReport,
    /// The pattern in the size nearest to it, with the same pieces and nothing altered.
    pub before: Pattern,
    /// The pieces before allowances, fitted and altered, in the order of the pattern; none of a record of pieces.
    pub drafts: Vec<Draft>,
    /// Where to look for what changed, piece by piece.
    pub landmarks: Vec<Landmarks>,
    /// In how many sizes the pattern is drawn.
    pub sizes: usize,
}

/// A job that asks for a fit of a pattern.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) file: &'a JobFile,
    pub(super) reading: &'a Reading<'a>,
    /// The pattern in its first size, with the pieces the job chooses.
    pub(super) chosen: &'a Pattern,
}

impl Asked<'_> {
    /// What the job asks for; none when some of it is at fault.
    pub(super) fn request(&self, findings: &mut Findings) -> Option<FitRequest> {
        let Self { file, reading, .. } = *self;
        let before = findings.count();
        let chart = &reading.sized.chart;
        // Of a pattern at fault some pieces are missing.
        if let Some(alter) = file.alter.as_ref().filter(|_| reading.sound) {
            alter::note_unknown(&alter.value, &reading.sized.of_pieces(self.worn()), findings);
        }
        let request = FitRequest {
            figure: figure(file, chart, findings),
            body: body_of(file, reading, findings),
            ease: self.ease(findings),
            alterations: file.alter.as_ref().map_or_else(Vec::new, |alter| alterations(&alter.value, findings)),
            size: size(file, chart, findings).map(|wish| self.wish(wish))?,
            pieces: self.worn().map(<[String]>::to_vec),
            units: file.units.as_ref().map_or(Units::Centimetres, |units| units.value.into()),
        };
        // What could not be read is missing from the request, and the fit would only miss it again.
        let eased = file.ease.as_ref().is_none_or(|ease| ease.sound);
        let read = eased
            && file.body.as_ref().is_none_or(|body| body.sound)
            && file.alter.as_ref().is_none_or(|alter| alter.sound);
        (read && findings.count() == before).then_some(request)
    }

    /// To the body, a pattern in one size whose pieces follow the body themselves is made in that size: no girth need say where they go round it.
    fn wish(&self, wish: SizeWish) -> SizeWish {
        let Self { reading, .. } = *self;
        let goes_by_body = || self.worn().unwrap_or_default().iter().any(|piece| reading.goes_by_body(piece));
        match (&reading.sized.chart.sizes[..], wish) {
            ([only], SizeWish::ToBody) if reading.sized.of_pieces(self.worn()).girths.is_empty() && goes_by_body() => {
                SizeWish::Named(only.name.clone())
            }
            (_, wish) => wish,
        }
    }

    /// The ease wished for at each girth of the pieces that are made.
    fn ease(&self, findings: &mut Findings) -> BTreeMap<String, f64> {
        let Some(listed) = &self.file.ease else { return BTreeMap::new() };
        let girths = self.reading.sized.of_pieces(self.worn()).girths;
        for (girth, _) in &listed.value.0 {
            if self.reading.sound && !girths.iter().any(|of| of.name == girth.value) {
                let known = girths.iter().map(|of| of.name.clone()).collect();
                findings.add(&girth.span, FitFault::UnknownGirth { girth: girth.value.clone(), known });
            }
        }
        listed.value.0.iter().map(|(girth, ease)| (girth.value.clone(), ease.value.mm())).collect()
    }

    /// The pieces of the view that is made.
    fn worn(&self) -> Option<&[String]> {
        let view = self.file.view.as_ref().and_then(|view| self.chosen.view(&view.value.0));
        view.map(|view| view.pieces.as_slice())
    }

    /// The pattern as the job asks for it, what there is to tell about the fit of the pieces of its view, and what it takes beside the cloth. None when it cannot be had.
    pub(super) fn fitted(
        &self,
        request: &FitRequest,
        rooms: &[Room],
        findings: &mut Findings,
        of_pattern: &mut Findings,
    ) -> Option<(Pattern, Fit, DeclaredSupplies)> {
        let Self { file, reading, chosen } = *self;
        let Fitted { drafts, before, report } = match fit(&reading.sized.of_pieces(self.worn()), request) {
            Ok(fitted) => fitted,
            Err(faults) => {
                for fault in faults {
                    match place_in_pattern(&fault, reading) {
                        Some(place) => of_pattern.add(&place.clone(), fault),
                        None => findings.add(&place_in_job(&fault, file), fault),
                    }
                }
                return None;
            }
        };
        let mut unfit = of_pattern.of_the_same_file();
        // "38" alone does not say which where sizes of two figure types have that name.
        let sizes = &reading.sized.chart.sizes;
        let shares = |of: &Size| sizes.iter().any(|other| other.name == of.name && other.figure != of.figure);
        let is_shared = sizes.iter().any(shares);
        let named = |size: &str| if is_shared { format!("{size} ({})", report.figure) } else { size.to_owned() };
        let (size, nearest) = (named(&report.size), named(reading.size_of(&before)));
        let made = self.worn().unwrap_or_default();
        let mut cut = reading.by_cloth(&drafts, (chosen, made), (rooms, request.units), of_pattern);
        let before_joins = findings.count();
        pieced::cut(file, reading, &mut cut, (made, request.units), findings);
        if findings.count() > before_joins {
            return None;
        }
        let fitted = Fitting { cut: &cut, near: &before, size: &size, chosen };
        let pattern = reading.fitted(&fitted, &mut unfit);
        if unfit.count() > 0 {
            let place = file.alter.as_ref().map(|alter| alter.span.clone()).unwrap_or_else(|| place_of_wish(file));
            for (line, fault) in unfit.into_kinds() {
                findings.add(&place, FaultKind::Unfit { fault: Box::new(fault), line });
            }
            return None;
        }
        reading.note_wide_panels((&pattern, made), (&cut.drafts, rooms), request.units, of_pattern);
        let supplies = reading.supplies_of((&drafts, &before), &request.body, (chosen, made), of_pattern);
        let mut plain = reading.by_cloth(&before, (chosen, &[]), (rooms, request.units), of_pattern);
        pieced::cut(file, reading, &mut plain, (&[], request.units), findings);
        let landmarks = landmarks(&cut.drafts, &plain.drafts, &request.alterations);
        let before = reading.fitted(&Fitting { cut: &plain, near: &before, size: &nearest, chosen }, of_pattern);
        let drafts = reading.as_drawn(cut.drafts);
        let fit = Fit { report, before, drafts, landmarks, sizes: reading.sized.chart.sizes.len() };
        Some((pattern, fit, supplies))
    }
}

fn figure(file: &JobFile, chart: &SizeChart, findings: &mut Findings) -> Option<String> {
    let figure = file.figure.as_ref()?;
    let known: Vec<String> =
        chart.figures().into_iter().filter(|figure| !figure.is_empty()).map(str::to_owned).collect();
    if !known.contains(&figure.value.0) {
        findings.add(&figure.span, FitFault::UnknownFigure { figure: figure.value.0.clone(), known });
    }
    Some(figure.value.0.clone())
}

fn size(file: &JobFile, chart: &SizeChart, findings: &mut Findings) -> Option<SizeWish> {
    let figure = file.figure.as_ref().map(|figure| figure.value.0.as_str());
    let sizes: Vec<&Size> =
        chart.sizes.iter().filter(|size| figure.is_none_or(|figure| size.figure == figure)).collect();
    let mut known: Vec<String> = sizes.iter().map(|size| size.name.clone()).collect();
    known.dedup();
    let mut named = |Name(size): &Name, span: &Range<usize>| {
        if !chart.sizes.iter().any(|of| of.name == *size) && !known.is_empty() {
            let meant = nearest(size, known.iter().map(String::as_str)).map(str::to_owned);
            findings.add(span, JobFault::UnknownSize { size: size.clone(), meant, known: known.clone() });
        }
        size.clone()
    };
    match &file.size {
        Some(At { value: SizeWord::Word(word), span, .. }) => Some(match word.0.as_str() {
            "recommended" => SizeWish::Recommended,
            "to measure" => SizeWish::ToBody,
            _ => SizeWish::Named(named(word, span)),
        }),
        Some(At { value: SizeWord::ByLevel(sizes), .. }) if !sizes.0.is_empty() => {
            let of_level =
                |(level, size): &(At<String>, At<Name>)| (level.value.clone(), named(&size.value, &size.span));
            Some(SizeWish::ByLevel(sizes.0.iter().map(of_level).collect()))
        }
        None if file.size_given => None,
        None if known.len() == 1 => Some(SizeWish::Named(known.remove(0))),
        None if file.body_given => Some(SizeWish::Recommended),
        wish => {
            // Without a size in the chart the fault lies there.
            if !known.is_empty() {
                let asked = wish.as_ref().map(|wish| &wish.span);
                let span = asked.or(file.pattern.as_ref().map(|pattern| &pattern.span));
                findings.add(span.unwrap_or(&(0..0)), JobFault::NoSize { known });
            }
            None
        }
    }
}

fn body_of(file: &JobFile, reading: &Reading<'_>, findings: &mut Findings) -> Body {
    let Some(listed) = &file.body else { return Body::new() };
    let known = known_measures(reading);
    for (measure, _) in listed.value.0.iter().filter(|(measure, _)| !known.contains(measure.value.as_str())) {
        let meant = nearest(&measure.value, known.iter().copied()).map(str::to_owned);
        let known = known.iter().map(|&measure| measure.to_owned()).collect();
        findings.add(&measure.span, JobFault::UnknownMeasure { measure: measure.value.clone(), meant, known });
    }
    body::convert(&listed.value, findings)
}

/// The measures that something makes use of: those of the sizes and girths, and those that figure type and size are chosen by.
fn known_measures<'a>(reading: &'a Reading<'_>) -> BTreeSet<&'a str> {
    let sized = &reading.sized;
    let of_sizes = sized.chart.sizes.iter().flat_map(|size| size.body.keys()).map(String::as_str);
    let of_girths = sized.girths.iter().map(|girth| girth.name.as_str());
    let full = match sized.chart.by {
        ChooseBy::Bust => Some("high bust"),
        ChooseBy::HipOrWaist => None,
    };
    let of_sizes = of_sizes.chain(reading.body_measures());
    of_sizes.chain(of_girths).chain(chosen_by(sized.chart.by).iter().copied()).chain(full).chain(["height"]).collect()
}

fn alterations(entry: &AlterEntry, findings: &mut Findings) -> Vec<Alteration> {
    let mut alterations = Vec::new();
    for at in entry.lengthen.iter().flat_map(|listed| &listed.value) {
        let (Some(line), Some(by)) = (&at.value.line, &at.value.by) else { continue };
        let pieces = at.value.pieces.iter().flat_map(|pieces| &pieces.value).map(|piece| piece.value.0.clone());
        let (line, pieces) = (line.value.0.clone(), pieces.collect());
        alterations.extend(change(by, findings).map(|by| Alteration::Lengthen { line, pieces, by }));
    }
    for at in entry.widen.iter().flat_map(|listed| &listed.value) {
        let (Some(seam), Some(by)) = (&at.value.seam, &at.value.by) else { continue };
        alterations.extend(change(by, findings).map(|by| Alteration::Widen { seam: seam.value.0.clone(), by }));
    }
    for at in entry.allowances.iter().flat_map(|listed| &listed.value) {
        let (Some(edge), Some(depth)) = (&at.value.edge, &at.value.depth) else { continue };
        let (edge, depth) = (edge.value.0.clone(), depth.value.mm());
        let piece = at.value.piece.as_ref().map(|piece| piece.value.0.clone());
        let corner = at.value.corner.as_ref().map(|corner| corner.value.into());
        alterations.push(Alteration::Allowance { piece, edge, depth, corner });
    }
    alterations
}

/// A length to add or take away, which is not zero.
fn change(by: &At<SignedLength>, findings: &mut Findings) -> Option<f64> {
    if by.value.mm() == 0.0 {
        findings.add(&by.span, JobFault::NoChange);
        return None;
    }
    Some(by.value.mm())
}

/// Where the pattern has what is at fault, if the pattern is to blame.
fn place_in_pattern<'r>(fault: &FitFault, reading: &'r Reading<'_>) -> Option<&'r Range<usize>> {
    match fault {
        FitFault::NoCorrespondence { piece, .. } | FitFault::MarkMissing { piece, .. } => reading.place_of_piece(piece),
        FitFault::MissingMeasure { size, measure } => reading.place_of_size_without(size, measure),
        _ => None,
    }
}

/// Where the job asks for what is at fault.
fn place_in_job(fault: &FitFault, file: &JobFile) -> Range<usize> {
    let measure = |name: &str| {
        let listed = file.body.iter().flat_map(|listed| &listed.value.0);
        listed.clone().find(|(measure, _)| measure.value == name).map(|(_, length)| length.span.clone())
    };
    let eased = |girth: &str| {
        let mut listed = file.ease.iter().flat_map(|listed| &listed.value.0);
        listed.find(|(of, _)| of.value == girth).map(|(_, ease)| ease.span.clone())
    };
    let found = match fault {
        FitFault::UnknownFigure { .. } => file.figure.as_ref().map(|figure| figure.span.clone()),
        FitFault::UnknownSize { size, .. } | FitFault::OtherFigure { size, .. } => {
            level_where(file, |_, of| of == size)
        }
        FitFault::UnknownLevel { level, .. } => level_where(file, |of, _| of == level),
        FitFault::BodyLacks { .. } => file.body.as_ref().map(|body| body.span.clone()),
        FitFault::TooFar { level, .. } => measure(level),
        FitFault::NoSuchGirth { girth, .. } => eased(girth).or_else(|| measure(girth)),
        FitFault::BodyLacksForEase { measure: girth }
        | FitFault::EaseOfOneSize { girth }
        | FitFault::EaseTooFar { girth, .. }
        | FitFault::GirthDoesNotGrow { girth } => eased(girth),
        FitFault::EaseTwice { girths: [_, second], .. } => eased(second),
        _ => place_of_alteration(fault, file),
    };
    found.unwrap_or_else(|| place_of_wish(file))
}

/// The first level of a size by levels for which a size is named that is meant.
fn level_where(file: &JobFile, meant: impl Fn(&str, &str) -> bool) -> Option<Range<usize>> {
    let SizeWord::ByLevel(sizes) = &file.size.as_ref()?.value else { return None };
    sizes.0.iter().find(|(level, size)| meant(&level.value, &size.value.0)).map(|(level, _)| level.span.clone())
}

/// The alteration at fault.
fn place_of_alteration(fault: &FitFault, file: &JobFile) -> Option<Range<usize>> {
    fn is(name: &Option<At<Name>>, wanted: &str) -> bool {
        name.as_ref().is_some_and(|name| name.value.0 == wanted)
    }
    fn span<T>(at: Option<&At<T>>) -> Option<Range<usize>> {
        at.map(|at| at.span.clone())
    }
    let alter = &file.alter.as_ref()?.value;
    let mut lengthen = alter.lengthen.iter().flat_map(|listed| &listed.value);
    let mut widen = alter.widen.iter().flat_map(|listed| &listed.value);
    let mut allowances = alter.allowances.iter().flat_map(|listed| &listed.value);
    let names = |at: &At<LengthenEntry>, piece: &str| {
        at.value.pieces.iter().flat_map(|pieces| &pieces.value).any(|name| name.value.0 == piece)
    };
    match fault {
        FitFault::PastNextLine { line, piece, .. } => span(lengthen.find(|at| {
            let short = at.value.by.as_ref().is_some_and(|by| by.value.mm() < 0.0);
            short && is(&at.value.line, line) && (at.value.pieces.is_none() || names(at, piece))
        })),
        FitFault::LevelSeam { seam } => span(widen.find(|at| is(&at.value.seam, seam))),
        FitFault::FoldAllowance { edge, piece } => span(
            allowances.find(|at| is(&at.value.edge, edge) && (at.value.piece.is_none() || is(&at.value.piece, piece))),
        ),
        _ => None,
    }
}

/// Where the job says what it wants: its size, its body, what it alters, or else its pattern.
fn place_of_wish(file: &JobFile) -> Range<usize> {
    let size = file.size.as_ref().map(|at| &at.span);
    let wish = size
        .or(file.body.as_ref().map(|at| &at.span))
        .or(file.alter.as_ref().map(|at| &at.span))
        .or(file.pattern.as_ref().map(|at| &at.span));
    wish.cloned().unwrap_or_default()
}
