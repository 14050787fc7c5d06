//! From what a pattern file says to the pattern it means.

mod by_cloth;
mod circles;
pub(crate) mod corner_format;
pub(crate) mod cuts;
pub(crate) mod dart_format;
mod darts;
mod declared;
pub(crate) mod drawing_format;
mod drawn;
mod duplicates;
pub(crate) mod format;
mod like;
pub(crate) mod like_format;
mod marks;
pub(crate) mod measure_format;
mod measured;
mod mixed;
pub(crate) mod option_format;
mod options;
mod outline;
mod picked;
pub(crate) mod picked_format;
mod pieced;
pub(crate) mod seam_format;
mod seams;
mod setting;
pub(crate) mod shape_format;
pub(crate) mod size_format;
mod sizes;
mod sketch;
pub(crate) mod suits_format;
pub(crate) mod supplies;
pub(crate) mod supply_format;
mod taken;
mod tiles_format;
mod upright;
mod wide_panel;
mod within;

use std::{collections::BTreeMap, ops::Range};

use ellwand_garment::{
    Body, CutRule, Draft, FitFault, GarmentKind, Pattern, SizeChart, Sized, Units, View, correspondence,
};

use crate::{
    Place, Shelf, Source,
    document::{At, Name, read_document},
    fault::PatternFault,
    findings::Findings,
    nearest::nearest,
};
pub(crate) use by_cloth::{Room, Trouble};
use declared::Declared;
use duplicates::note_duplicates;
pub(crate) use format::CoordinateUnit;
use format::{PatternFile, PieceEntry, ViewEntry};
pub(crate) use options::PieceOption;
pub(crate) use pieced::Halved;
use pieced::is_band;
pub(crate) use sizes::chosen_by;
pub(crate) use sketch::{ByCloth, Fitting, ForWhom};
use sketch::{Sketch, Sketches};
use suits_format::SuitsEntry;
use supplies::DeclaredSupplies;

/// What could be made of a pattern file. Pieces at fault are left out, so it is a pattern only when nothing was found.
pub(crate) struct Reading<'f> {
    /// In its first size; views list the pieces of every choice.
    pub(crate) pattern: Pattern,
    /// In all its sizes, before allowances.
    pub(crate) sized: Sized,
    /// Its options.
    pub(crate) options: Vec<PieceOption>,
    /// Its notions and trims.
    pub(crate) supplies: DeclaredSupplies,
    /// What it says suits its cloths, by role.
    pub(crate) suits: Vec<(String, &'f SuitsEntry)>,
    /// Every role that is listed or cut from, pieces at fault included.
    pub(crate) roles: Vec<String>,
    /// Whether no fault was found, so that it is the pattern meant.
    pub(crate) sound: bool,
    sketches: Sketches<'f>,
}

impl Reading<'_> {
    /// The pattern with fitted drafts.
    pub(crate) fn fitted(&self, fitting: &Fitting<'_>, findings: &mut Findings) -> Pattern {
        self.sketches.fitted(fitting, findings)
    }

    /// What is cut of fitted drafts from cloths with this room: see [`Sketches::by_cloth`].
    pub(crate) fn by_cloth(
        &self,
        drafts: &[Draft],
        chosen: (&Pattern, &[String]),
        rooms: (&[Room], Units),
        findings: &mut Findings,
    ) -> ByCloth {
        self.sketches.by_cloth(drafts, chosen, rooms, findings)
    }

    /// Cuts a piece in two: see [`Sketches::piece_in_two`].
    pub(crate) fn piece_in_two(
        &self,
        cut: &mut ByCloth,
        piece: &str,
        join: Option<f64>,
    ) -> Option<Result<Halved, Trouble>> {
        self.sketches.piece_in_two(cut, piece, join)
    }

    /// The pieces that may be cut in two: those of which the pattern says so, and long narrow rectangles.
    pub(crate) fn may_be_pieced(&self) -> impl Iterator<Item = &str> {
        let may = |sketch: &&Sketch<'_>| {
            let says_so = sketch.entry.pieced.is_some();
            !sketch.is_cut_by_cloth() && (says_so || sketch.drafts().all(is_band))
        };
        self.sketches.pieces().iter().filter(may).map(|sketch| sketch.name)
    }

    /// The roles of the cloths whose width decides how many of some piece of a view are cut.
    pub(crate) fn cut_to_width(&self, pattern: &Pattern, view: &str) -> Vec<String> {
        let Some(view) = pattern.view(view) else { return Vec::new() };
        let goes_by_it = |piece: &str| self.sketches.pieces().iter().any(|of| of.name == piece && of.is_cut_by_cloth());
        let cut_from = |role: &&str| pattern.cut_orders(view, role).iter().any(|order| goes_by_it(&order.piece.name));
        pattern.roles(view).into_iter().filter(cut_from).map(str::to_owned).collect()
    }

    /// Notes panels of skirts, of the pieces that are made, that are wider than their cloth.
    pub(crate) fn note_wide_panels(
        &self,
        (pattern, made): (&Pattern, &[String]),
        (drafts, rooms): (&[Draft], &[Room]),
        units: Units,
        findings: &mut Findings,
    ) {
        self.sketches.note_wide_panels((pattern, made), (drafts, rooms), units, findings);
    }

    /// Whether a piece goes by a measure of the body.
    pub(crate) fn goes_by_body(&self, piece: &str) -> bool {
        self.sketches.pieces().iter().any(|sketch| sketch.name == piece && taken::body_measure(sketch.entry).is_some())
    }

    /// The measures of the body that pieces or notions go by.
    pub(crate) fn body_measures(&self) -> impl Iterator<Item = &str> {
        self.sketches.body_measures().chain(self.supplies.body_measures())
    }

    /// Notions and trims of a garment: its drafts as fitted, in the size nearest to it, whose drafts are `near`, for `body`.
    pub(crate) fn supplies_of(
        &self,
        (drafts, near): (&[Draft], &[Draft]),
        body: &Body,
        (chosen, made): (&Pattern, &[String]),
        findings: &mut Findings,
    ) -> DeclaredSupplies {
        // What goes by the edges of others is as long as these are by now; what is wrong with that is told where it is cut.
        let drafts = &self.sketches.by_fitted_edges(drafts, chosen, &mut findings.of_the_same_file());
        let number = self.number_of(near);
        self.sketches.supplies_in(&self.supplies, (drafts, number), (&self.sized.chart, body), (chosen, made), findings)
    }

    /// Fitted drafts, each with the cutting line that is drawn for it.
    pub(crate) fn as_drawn(&self, mut drafts: Vec<Draft>) -> Vec<Draft> {
        self.sketches.tell_as_drawn(drafts.iter_mut());
        drafts
    }

    /// All sizes, each draft with the cutting line that is drawn for it.
    pub(crate) fn sized_as_drawn(&self) -> Sized {
        let mut sized = self.sized.clone();
        for size in 0..sized.chart.sizes.len() {
            self.sketches.tell_as_drawn(sized.pieces.iter_mut().filter_map(|piece| piece.drafts.get_mut(size)));
        }
        sized
    }

    /// The size that has these drafts.
    pub(crate) fn size_of(&self, drafts: &[Draft]) -> &str {
        &self.sized.chart.sizes[self.number_of(drafts)].name
    }

    /// Its number in the chart.
    fn number_of(&self, drafts: &[Draft]) -> usize {
        let has =
            |number: usize| self.sized.pieces.iter().zip(drafts).all(|(piece, draft)| piece.drafts[number] == *draft);
        (0..self.sized.chart.sizes.len()).find(|&number| has(number)).unwrap_or(0)
    }

    /// Where the file has a size that does not tell a measure.
    pub(crate) fn place_of_size_without(&self, name: &str, measure: &str) -> Option<&Range<usize>> {
        self.sketches.place_of_size_without(name, measure)
    }

    /// Where the file has a piece.
    pub(crate) fn place_of_piece(&self, name: &str) -> Option<&Range<usize>> {
        self.sketches.pieces().iter().find(|sketch| sketch.name == name).map(|sketch| sketch.span)
    }

    /// Where every piece is in the file it was read from.
    pub(crate) fn places_of_pieces(&self, source: &Source) -> BTreeMap<String, Place> {
        let of_piece = |sketch: &Sketch<'_>| (sketch.name.to_owned(), source.place(sketch.place()));
        self.sketches.pieces().iter().map(of_piece).collect()
    }

    /// The pattern in its first size, with what is taken unless a job chooses.
    pub(crate) fn into_pattern(self) -> Pattern {
        let mut pattern = self.pattern;
        for view in &mut pattern.views {
            self.options.iter().for_each(|option| option.choose(&option.default, view));
        }
        pattern
    }
}

/// What a pattern says of its drawing; none where it names none or cannot be read.
pub(crate) fn hints(findings: &mut Findings) -> Option<ellwand_trace::Hints> {
    let file: PatternFile = read_document(format::FORMAT, findings)?;
    picked::hints_of(&file, findings)
}

/// The table of grade rules that a pattern names for its drawing.
pub(crate) fn grades(findings: &mut Findings) -> Option<String> {
    let file: PatternFile = read_document(format::FORMAT, findings)?;
    picked::grades_of(&file)
}

/// Reads a pattern file, and writes out the pieces that are picked from a drawing, which `shelf` has, and those that are like others.
pub(crate) fn read(shelf: Option<&dyn Shelf>, findings: &mut Findings) -> Option<PatternFile> {
    let mut file: PatternFile = read_document(format::FORMAT, findings)?;
    picked::write_out(&mut file, shelf, findings);
    like::write_out(&mut file, findings);
    (!findings.is_over_a_limit()).then_some(file)
}

/// Converts a whole pattern, noting every fault in any of its sizes. `for_whom` it is made says whose body measured pieces go by.
pub(crate) fn convert<'f>(file: &'f PatternFile, for_whom: &ForWhom, findings: &mut Findings) -> Reading<'f> {
    let before = findings.count();
    let chart = sizes::read(file, findings);
    let listed_roles: Option<Vec<String>> =
        file.roles.as_ref().map(|roles| roles.value.names().map(str::to_owned).collect());
    let entries = file.piece.as_ref().map_or(&[][..], |pieces| pieces.value.as_slice());
    if file.piece.as_ref().is_some_and(|pieces| pieces.value.is_empty() && pieces.sound) {
        findings.add(&place_of(&file.piece), PatternFault::NoPieces);
    }
    let names: Vec<&At<Name>> = entries.iter().filter_map(|entry| entry.value.name.as_ref()).collect();
    note_duplicates("piece", &names, findings);
    let known: Vec<String> = names.iter().map(|name| name.value.0.clone()).collect();

    let mut roles = listed_roles.clone().unwrap_or_default();
    let cuts: Vec<Vec<CutRule>> =
        entries.iter().map(|entry| cuts_of(&entry.value, listed_roles.as_deref(), findings)).collect();
    for rule in cuts.iter().flatten() {
        if !roles.contains(&rule.role) {
            roles.push(rule.role.clone());
        }
    }

    let views = convert_views(file, &known, findings);
    let sketches = Sketches::read(file, cuts, (known.clone(), views), (&chart, for_whom), findings);
    let pattern = check_sizes(&sketches, &chart, findings);
    note_too_many(file, &pattern, findings);
    let declared = Declared { pieces: sketches.pieces(), known: &known };
    declared.note_levels(findings);
    let sized = Sized {
        kind: file.kind.as_ref().map_or(GarmentKind::default(), |kind| kind.value.into()),
        pieces: sketches.graded(chart.sizes.len()),
        seams: pattern.seams.clone(),
        girths: declared.girths(file, findings),
        lengths: declared.lengths(file, findings),
        chart,
    };
    if findings.count() == before {
        for fault in correspondence(&sized) {
            let piece = match &fault {
                FitFault::NoCorrespondence { piece, .. } | FitFault::MarkMissing { piece, .. } => piece.as_str(),
                _ => "",
            };
            let place =
                sketches.pieces().iter().find(|sketch| sketch.name == piece).map_or(0..0, |sketch| sketch.span.clone());
            findings.add(&place, fault);
        }
    }
    let options = options::convert(file, &known, findings);
    if findings.count() == before {
        options::note_never_cut(file, &pattern.views, &options, findings);
    }
    let supplies = supplies::convert(file, &pattern, (&known, &sized.chart), findings);
    if findings.count() == before {
        sketches.note_what_is_taken(&supplies, (&sized.chart, for_whom), &pattern, findings);
    }
    let suits = suits(file, &roles, findings);
    Reading { pattern, sized, options, supplies, suits, roles, sound: findings.count() == 0, sketches }
}

/// What a piece is cut from. What a piece takes over from another is judged there, and told once.
fn cuts_of(entry: &PieceEntry, listed_roles: Option<&[String]>, findings: &mut Findings) -> Vec<CutRule> {
    if entry.likeness.like.is_none() {
        return cuts::convert(entry, listed_roles, findings);
    }
    let mut of_piece = findings.of_the_same_file();
    let cuts = cuts::convert(entry, listed_roles, &mut of_piece);
    findings.add_new(of_piece);
    cuts
}

/// Finishes the pattern in every size, and gives it in the first. What is wrong in several sizes alike is told once.
fn check_sizes(sketches: &Sketches<'_>, chart: &SizeChart, findings: &mut Findings) -> Pattern {
    let first = chart.sizes.first().map_or("", |size| &size.name);
    let pattern = sketches.in_size(0, first, findings);
    for (number, size) in chart.sizes.iter().enumerate().skip(1) {
        let mut of_size = findings.of_the_same_file();
        sketches.in_size(number, &size.name, &mut of_size);
        findings.add_new(of_size);
    }
    pattern
}

fn convert_views(file: &PatternFile, known: &[String], findings: &mut Findings) -> Vec<View> {
    let entries = file.view.as_ref().map_or(&[][..], |views| views.value.as_slice());
    if file.view.as_ref().is_some_and(|views| views.value.is_empty() && views.sound) {
        findings.add(&place_of(&file.view), PatternFault::NoViews);
    }
    let names: Vec<&At<Name>> = entries.iter().filter_map(|entry| entry.value.name.as_ref()).collect();
    note_duplicates("view", &names, findings);
    entries.iter().filter_map(|entry| convert_view(&entry.value, known, findings)).collect()
}

/// Notes each view that cuts more from one cloth than the limit.
fn note_too_many(file: &PatternFile, pattern: &Pattern, findings: &mut Findings) {
    for entry in file.view.iter().flat_map(|views| &views.value) {
        if let Some(view) = entry.value.name.as_ref().and_then(|name| pattern.view(&name.value.0)) {
            cuts::note_too_many(pattern, view, &entry.span, findings);
        }
    }
}

fn convert_view(entry: &ViewEntry, known: &[String], findings: &mut Findings) -> Option<View> {
    let (name, pieces) = (entry.name.as_ref()?, entry.pieces.as_ref()?);
    if pieces.value.is_empty() && pieces.sound {
        findings.add(&pieces.span, PatternFault::EmptyView { view: name.value.0.clone() });
    }
    let listed: Vec<&At<Name>> = pieces.value.iter().collect();
    note_duplicates("piece of this view", &listed, findings);
    for piece in listed.iter().filter(|piece| !known.contains(&piece.value.0)) {
        findings.add(
            &piece.span,
            PatternFault::UnknownPiece {
                view: name.value.0.clone(),
                piece: piece.value.0.clone(),
                meant: nearest(&piece.value.0, known.iter().map(String::as_str)).map(str::to_owned),
                known: known.to_vec(),
            },
        );
    }
    Some(View {
        name: name.value.0.clone(),
        title: entry.title.as_ref().map(|title| title.value.clone()).unwrap_or_default(),
        pieces: listed.iter().map(|piece| piece.value.0.clone()).collect(),
    })
}

fn place_of<T>(at: &Option<At<T>>) -> Range<usize> {
    at.as_ref().map_or(0..0, |at| at.span.clone())
}

/// What suits each cloth, with every fault noted.
fn suits<'f>(file: &'f PatternFile, roles: &[String], findings: &mut Findings) -> Vec<(String, &'f SuitsEntry)> {
    let listed = file.suits.as_ref().map_or(&[][..], |listed| listed.value.0.as_slice());
    for (role, entry) in listed {
        if !roles.contains(&role.value) {
            let meant = nearest(&role.value, roles.iter().map(String::as_str)).map(str::to_owned);
            let (role_name, known) = (role.value.clone(), roles.to_vec());
            findings.add(&role.span, PatternFault::UnknownRole { role: role_name, meant, known });
        }
        let Some(weight) = &entry.value.weight else { continue };
        match weight.value.as_slice() {
            [least, most] if least.value > most.value => findings.add(&weight.span, PatternFault::WeightsBackwards),
            [_, _] => {}
            // What could not be read was told.
            others if weight.sound => findings.add(&weight.span, PatternFault::NotTwoWeights { count: others.len() }),
            _ => {}
        }
    }
    listed.iter().map(|(role, entry)| (role.value.clone(), &entry.value)).collect()
}
