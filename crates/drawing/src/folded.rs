//! What a layout shows on the table: the shapes to draw on folded and on opened cloth.
//!
//! Folded down the middle, the right half is turned over onto the left, right sides together, or on cloth with a design under it, the design outside.
//! Either way what is seen stands where the left half has it, or with other folds whatever part stays where it is: a pair is one shape, a fold piece the half in
//! that part, and a piece cut once waits until the cloth is opened.

use ellwand_garment::{
    CopyName, Cut, CutAtOnce, Fold, FoldedCloth, JOIN, Layout, PlacingRow, UpperLayer, placing_table, tilt_words,
};
use ellwand_geometry::{Bounds, Point, point, signed_area};

use crate::boxes::turned;
use crate::clip::{self, left_of, right_of};
use crate::hatch::inside_spans;
use crate::label::Wording;
use crate::matched::{MatchPoint, Matched, merged};
use crate::measures::Measured;

/// From which layer of folded cloth a piece is cut later.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layer {
    /// The only one where it lies.
    One,
    /// That which lies above.
    Upper,
    /// That which lies below.
    Lower,
}

impl Layer {
    /// What is said of a piece that waits until the cloth is opened.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::One => "from one layer",
            Self::Upper => "from upper layer",
            Self::Lower => "from lower layer",
        }
    }

    /// The same where another piece lies in the same place; nothing where there is one layer only.
    pub(crate) fn briefly(self) -> Option<&'static str> {
        match self {
            Self::One => None,
            Self::Upper => Some("upper"),
            Self::Lower => Some("lower"),
        }
    }
}

/// A shape of the layout as a figure shows it, in cloth millimetres.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Shown {
    /// Name of the piece.
    pub(crate) piece: String,
    /// Outline as drawn.
    pub(crate) outline: Vec<Point>,
    /// How many cuts it stands for: a pair through both layers is one shape.
    pub(crate) cuts: usize,
    /// Words.
    pub(crate) wording: Wording,
    /// What the figure does with it.
    pub(crate) part: Part,
    /// From which layer it is cut, if later.
    pub(crate) layer: Layer,
    /// Whether it is a part of a piece that waits and lies over a fold, in both layers.
    pub(crate) is_over_fold: bool,
    /// Which side of the paper is up and which way its top points, in words; on folded cloth in how many layers, too.
    pub(crate) lies: String,
    /// Which side is up.
    pub(crate) face: Face,
    /// Low and high end of the grainline, if it is drawn.
    pub(crate) grainline: Option<[Point; 2]>,
    /// The edge on the fold, if it has one.
    pub(crate) fold_edge: Option<FoldEdge>,
    /// Notches: place and inward unit vector.
    pub(crate) notches: Vec<(Point, Point)>,
    /// Where its design must meet that of other pieces.
    pub(crate) matches: Vec<MatchPoint>,
    /// Where it is pinned, if that is told.
    pub(crate) measured: Option<Measured>,
    /// The centre line of a piece drawn whole that the pattern draws as a half.
    pub(crate) centre_line: Option<[Point; 2]>,
    /// Whether it is half a piece on paper that is cut whole.
    pub(crate) is_half_cut_whole: bool,
    /// The lines between its bias strips.
    pub(crate) strips: Vec<[Point; 2]>,
}

/// An edge that lies on a fold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FoldEdge {
    /// Its low and its high end.
    pub(crate) ends: [Point; 2],
    /// From the fold into the piece, a unit vector.
    pub(crate) inward: Point,
}

/// What happens to a shape in a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Part {
    /// It is cut now.
    CutNow,
    /// It waits until the cloth is opened, and is cut in a later figure from one layer.
    Waits,
    /// It is cut on another sheet.
    OnOtherSheet,
    /// It has been cut in the figure before.
    Gone,
}

impl Part {
    /// Whether it is drawn but not cut in its figure, and still will be.
    pub(crate) fn is_left(self) -> bool {
        match self {
            Self::Waits | Self::OnOtherSheet => true,
            Self::CutNow | Self::Gone => false,
        }
    }
}

/// Which side of the paper pattern is up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Face {
    /// Printed side up.
    Up,
    /// Printed side down: a mirror image.
    Down,
}

/// A layout on folded cloth, in the steps of the table.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Steps {
    /// One for each stretch of cloth that is folded.
    pub(crate) folded: Vec<FoldedStep>,
    /// On the opened cloth; empty when everything is cut folded.
    pub(crate) opened: Vec<Shown>,
}

/// What is seen of a folded stretch of cloth.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FoldedStep {
    /// How it lies.
    pub(crate) cloth: FoldedCloth,
    /// What is on it, `x` from its left side.
    pub(crate) shown: Vec<Shown>,
}

/// Every cut on flat cloth.
pub(crate) fn flat(layout: &Layout) -> Vec<Shown> {
    let (matched, named) = (Matched::of(layout), Named::of(layout));
    layout.cuts.iter().map(|cut| shown_open(cut, &named, &matched)).collect()
}

/// The steps of cutting on folded cloth; nothing when no cut uses a fold.
pub(crate) fn steps(layout: &Layout) -> Option<Steps> {
    let (matched, named) = (Matched::of(layout), Named::of(layout));
    let cloths = layout.folded_cloth();
    if cloths.is_empty() {
        return None;
    }
    let in_one_layer = |cuts: CutAtOnce| if let CutAtOnce::OneLayer(i) = cuts { Some(i) } else { None };
    let mut single: Vec<usize> = layout.cut_at_once().into_iter().filter_map(in_one_layer).collect();
    single.sort_unstable();
    let folded = cloths.iter().map(|(cloth, cuts)| {
        let mut shown: Vec<Shown> =
            cuts.iter().filter_map(|&cuts| shown_folded(cuts, layout, &named, &matched, cloth)).collect();
        shown.extend(single.iter().flat_map(|&i| shown_later(&layout.cuts[i], &named, cloth)));
        let shown = shown.into_iter().map(|shown| shown.on_table(cloth)).collect();
        FoldedStep { cloth: *cloth, shown }
    });
    let mut opened = Vec::new();
    for (i, cut) in layout.cuts.iter().enumerate() {
        opened.push(if single.contains(&i) {
            let shown = shown_open(cut, &named, &matched);
            Shown { lies: format!("from one layer, {}", shown.lies), ..shown }
        } else {
            shown_flat(cut, &named, Part::Gone)
        });
    }
    if single.is_empty() {
        opened.clear();
    }
    Some(Steps { folded: folded.collect(), opened })
}

/// What is cut on a fold or through both layers, where the part of the cloth has it that stays.
fn shown_folded(
    cuts: CutAtOnce,
    layout: &Layout,
    named: &Named<'_>,
    matched: &Matched<'_>,
    cloth: &FoldedCloth,
) -> Option<Shown> {
    let fold = layout.fold_of(cuts)?;
    let (points, shown) = match cuts {
        CutAtOnce::OnFold(i) => {
            let cut = &layout.cuts[i];
            (matched.on(cut), shown_on_fold(cut, named, fold.lengthwise()?, cloth))
        }
        CutAtOnce::BothLayers(one, other) => {
            let [stays, turned] = layout.stays_and_turned(one, other).map(|i| &layout.cuts[i]);
            ([matched.on(stays), matched.on(turned)].concat(), shown_pair(stays, turned, named))
        }
        CutAtOnce::OneLayer(_) => return None,
    };
    Some(Shown { matches: turned_over(points, fold, cloth), ..shown })
}

/// What of an area is seen of either layer of folded cloth, `x` from its left side.
pub(crate) fn areas_on_table(area: &[Point], cloth: &FoldedCloth) -> Vec<Vec<Point>> {
    let center = Bounds::of(area.iter().copied()).center();
    let images = cloth.folds().into_iter().map(|fold| area.iter().map(|&p| fold.image(p, center)).collect());
    let parts = std::iter::once(area.to_vec()).chain(images).map(|part| clip::to(&part, &cloth.stays()));
    let seen = parts.filter(|part| part.len() >= 3);
    seen.map(|part| part.into_iter().map(|p| cloth.on_table(p)).collect()).collect()
}

impl Shown {
    /// From which layer it is cut, where another piece lies in the same place; of what lies in both that it is over the fold, and nothing of one layer.
    pub(crate) fn layer_briefly(&self) -> Option<&'static str> {
        if self.is_over_fold { Some(OVER_THE_FOLD) } else { self.layer.briefly() }
    }

    /// The same on the table.
    fn on_table(self, cloth: &FoldedCloth) -> Self {
        let place = |p: Point| cloth.on_table(p);
        let lines = |line: [Point; 2]| line.map(place);
        Self {
            outline: self.outline.iter().map(|&p| place(p)).collect(),
            grainline: self.grainline.map(lines),
            fold_edge: self.fold_edge.map(|edge| FoldEdge { ends: edge.ends.map(place), ..edge }),
            notches: self.notches.iter().map(|&(at, inward)| (place(at), inward)).collect(),
            matches: self.matches.iter().map(|shown| MatchPoint { at: place(shown.at), ..shown.clone() }).collect(),
            centre_line: self.centre_line.map(lines),
            strips: self.strips.into_iter().map(lines).collect(),
            ..self
        }
    }
}

/// The words of a cut with what its copies are called, the number alone for what is cut once.
fn wording(cut: &Cut, copies: &str, notes: Vec<String>) -> Wording {
    let short_number = cut.number.to_string();
    let number = if copies.is_empty() { short_number.clone() } else { format!("{short_number} {copies}") };
    Wording { number, short_number, name: cut.piece.clone(), notes }
}

/// Which side of the paper is up. A piece that is its own mirror image, notches included, is traced the same either way and
/// counts as up.
fn face(cut: &Cut) -> Face {
    if cut.lies_face_down() { Face::Down } else { Face::Up }
}

fn notes(cut: &Cut) -> Vec<String> {
    let face = (face(cut) == Face::Down).then(|| "face down".to_owned());
    let join = cut.points.contains_key(JOIN).then(|| JOIN.to_owned());
    face.into_iter().chain(tilt_words(cut.turned_deg)).chain(join).collect()
}

/// A layout with what its cuts are called beside the other copies of their pieces.
struct Named<'a> {
    layout: &'a Layout,
    names: Vec<CopyName>,
    rows: Vec<PlacingRow>,
}

impl<'a> Named<'a> {
    fn of(layout: &'a Layout) -> Self {
        Self { layout, names: layout.copy_names(), rows: placing_table(layout) }
    }

    fn index(&self, cut: &Cut) -> Option<usize> {
        self.layout.cuts.iter().position(|known| std::ptr::eq(known, cut))
    }

    fn name(&self, cut: &Cut) -> CopyName {
        self.index(cut).map_or_else(CopyName::default, |index| self.names[index])
    }

    /// How a cut lies, in words.
    fn lies(&self, cut: &Cut) -> String {
        self.index(cut).map_or_else(String::new, |index| self.rows[index].lies_in_words())
    }

    /// Where a cut is pinned, its grainline drawn where `grainline` is.
    fn measured(&self, cut: &Cut, grainline: [Point; 2]) -> Option<Measured> {
        let row = &self.rows[self.index(cut)?];
        Some(Measured::of(row, (grainline[0].x + grainline[1].x) / 2.0))
    }
}

/// The copies of a pair as one: "left + right", "left + right b", "a + b".
fn both_names(one: CopyName, other: CopyName) -> String {
    let (first, second) =
        if (one.side, one.letter) <= (other.side, other.letter) { (one, other) } else { (other, one) };
    if first.side != second.side && first.letter == second.letter {
        let first = CopyName { letter: None, ..first };
        return format!("{first} + {second}");
    }
    format!("{first} + {second}")
}

fn notches(cut: &Cut) -> Vec<(Point, Point)> {
    cut.notches.iter().map(|n| (n.at, n.inward)).collect()
}

/// Whether the part of the cloth left of a lengthwise fold stays where it is.
fn stays_at_left(at: f64, cloth: &FoldedCloth) -> bool {
    cloth.stays().max.x <= at
}

/// A place of either layer as it lies on the part that stays.
fn onto(p: Point, fold: Fold, cloth: &FoldedCloth) -> Point {
    match fold {
        Fold::Lengthwise { at } if stays_at_left(at, cloth) => point(at - (p.x - at).abs(), p.y),
        Fold::Lengthwise { at } => point(at + (p.x - at).abs(), p.y),
        Fold::Crosswise { .. } | Fold::CutAndTurned { .. } if cloth.holds(p) => p,
        Fold::Crosswise { .. } | Fold::CutAndTurned { .. } => fold.image(p, p),
    }
}

/// The points of both layers as they lie on the part that stays.
fn turned_over(points: Vec<MatchPoint>, fold: Fold, cloth: &FoldedCloth) -> Vec<MatchPoint> {
    merged(points.into_iter().map(|shown| MatchPoint { at: onto(shown.at, fold, cloth), ..shown }).collect())
}

/// A cut on the open cloth with its match points.
fn shown_open(cut: &Cut, named: &Named<'_>, matched: &Matched<'_>) -> Shown {
    Shown { matches: matched.on(cut), ..shown_flat(cut, named, Part::CutNow) }
}

fn shown_flat(cut: &Cut, named: &Named<'_>, part: Part) -> Shown {
    let fold = named.layout.fold_under(cut).and_then(Fold::lengthwise);
    let is_half_cut_whole = named.layout.is_half_cut_whole(cut);
    let centre_line = match fold {
        _ if part != Part::CutNow => None,
        Some(at) => {
            let b = cut.outline.bounds();
            Some([point(at, b.min.y), point(at, b.max.y)])
        }
        None => is_half_cut_whole.then(|| axis(cut)).flatten(),
    };
    Shown {
        piece: cut.piece.clone(),
        outline: cut.outline.points().to_vec(),
        cuts: 1,
        wording: wording(cut, &named.name(cut).to_string(), notes(cut)),
        part,
        layer: Layer::One,
        is_over_fold: false,
        lies: named.lies(cut),
        face: face(cut),
        grainline: Some(cut.grainline),
        fold_edge: None,
        notches: notches(cut),
        matches: Vec::new(),
        measured: if part == Part::CutNow { named.measured(cut, cut.grainline) } else { None },
        centre_line,
        is_half_cut_whole,
        strips: if part == Part::CutNow { strips(cut, named.layout) } else { Vec::new() },
    }
}

/// The lines between the bias strips of a cut, as it lies.
fn strips(cut: &Cut, layout: &Layout) -> Vec<[Point; 2]> {
    let Some(strips) = layout.strips_of(&cut.piece) else { return Vec::new() };
    let tilt = cut.turned_deg - (cut.turned_deg / 90.0).round() * 90.0;
    let level = Bounds::of(cut.outline.points().iter().map(|&p| turned(p, -tilt)));
    strips.bias_lines(level).into_iter().map(|line| line.map(|p| turned(p, tilt))).collect()
}

/// The centre line of a whole piece, from the cutting line to the cutting line, its end towards the hem first: along the grain through the middle
/// of its width.
fn axis(cut: &Cut) -> Option<[Point; 2]> {
    let along = cut.grainline[1] - cut.grainline[0];
    let turn = along.y.atan2(along.x).to_degrees();
    let level: Vec<Point> = cut.outline.points().iter().map(|&p| turned(p, -turn)).collect();
    let middle = Bounds::of(level.iter().copied()).center().y;
    let spans = inside_spans(&level, middle);
    let (from, to) = (spans.first()?.0, spans.last()?.1);
    Some([from, to].map(|x| turned(point(x, middle), turn)))
}

fn shown_pair(stays: &Cut, turned: &Cut, named: &Named<'_>) -> Shown {
    let names = both_names(named.name(stays), named.name(turned));
    Shown {
        cuts: 2,
        wording: wording(stays, &names, notes(stays)),
        lies: format!("both layers, {}", named.lies(stays)),
        ..shown_flat(stays, named, Part::CutNow)
    }
}

fn shown_on_fold(cut: &Cut, named: &Named<'_>, fold: f64, cloth: &FoldedCloth) -> Shown {
    let at_left = stays_at_left(fold, cloth);
    let (outline, inward) = if at_left {
        (left_of(cut.outline.points(), fold), point(-1.0, 0.0))
    } else {
        (right_of(cut.outline.points(), fold), point(1.0, 0.0))
    };
    let on_fold = outline.iter().filter(|p| (p.x - fold).abs() < 1e-6);
    let (low, high) = on_fold.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.y), h.max(p.y)));
    let up = cut.grainline[1].y >= cut.grainline[0].y;
    let (low, high) = if up { (low, high) } else { (high, low) };
    let away = cut.grainline.iter().all(|p| (p.x - fold).abs() >= 1.0);
    let grainline = cut.grainline.map(|p| onto(p, Fold::Lengthwise { at: fold }, cloth));
    let is_seen = |at: Point| if at_left { at.x <= fold + 1e-6 } else { at.x >= fold - 1e-6 };
    Shown {
        outline,
        wording: wording(
            cut,
            &named.name(cut).to_string(),
            std::iter::once("on fold".to_owned()).chain(tilt_words(cut.turned_deg)).collect(),
        ),
        grainline: away.then_some(grainline),
        measured: named.measured(cut, grainline),
        fold_edge: Some(FoldEdge { ends: [point(fold, low), point(fold, high)], inward }),
        notches: notches(cut).into_iter().filter(|(at, _)| is_seen(*at)).collect(),
        centre_line: None,
        face: Face::Up,
        ..shown_flat(cut, named, Part::CutNow)
    }
}

/// A single piece on folded cloth: what of it lies in the part that stays, and what in a part that is folded onto that.
fn shown_later(cut: &Cut, named: &Named<'_>, cloth: &FoldedCloth) -> Vec<Shown> {
    let outline = cut.outline.points();
    let center = cut.outline.bounds().center();
    let [stays, turned] = match named.layout.upper_layer() {
        Some(UpperLayer::Stays) => [Layer::Upper, Layer::Lower],
        Some(UpperLayer::Turned) | None => [Layer::Lower, Layer::Upper],
    };
    let over = cloth.folds().into_iter().map(|fold| outline.iter().map(|&p| fold.image(p, center)).rev().collect());
    let parts: Vec<(Layer, Vec<Point>)> = std::iter::once((stays, outline.to_vec()))
        .chain(over.map(|part: Vec<Point>| (turned, part)))
        .map(|(layer, part)| (layer, clip::to(&part, &cloth.stays())))
        .collect();
    let least = if cloth.from > 0.0 || cloth.to.is_finite() { cut.outline.area() } else { 0.0 };
    let biggest = parts.iter().map(|(_, p)| signed_area(p).abs()).fold(least, f64::max);
    let parts: Vec<(Layer, Vec<Point>)> = parts
        .into_iter()
        .filter(|(_, p)| p.len() >= 3 && signed_area(p).abs() > 1e-3 * biggest)
        .map(|(layer, outline)| (if is_mostly_double(&outline, cloth) { layer } else { Layer::One }, outline))
        .collect();
    // What hangs past the cut end of the table has no place in the picture.
    let table = Bounds { min: point(f64::NEG_INFINITY, 0.0), max: point(f64::INFINITY, f64::INFINITY) };
    let is_over_fold = parts.len() > 1;
    parts
        .into_iter()
        .map(|(layer, outline)| (layer, clip::to(&outline, &table)))
        .filter(|(_, outline)| outline.len() >= 3)
        .map(|(layer, outline)| {
            // A piece over the fold lies in both layers, and is one piece for all that.
            let note = if is_over_fold { OVER_THE_FOLD } else { layer.words() };
            Shown {
                outline,
                wording: wording(cut, &named.name(cut).to_string(), vec![note.to_owned()]),
                part: Part::Waits,
                layer,
                is_over_fold,
                face: Face::Up,
                grainline: None,
                notches: Vec::new(),
                ..shown_flat(cut, named, Part::Waits)
            }
        })
        .collect()
}

/// What is said of a piece that lies over a fold and waits until the cloth is opened.
const OVER_THE_FOLD: &str = "over the fold";

/// Whether most of what lies in the part that stays lies where the cloth is double: between the edges of both layers, and not past the cut end.
fn is_mostly_double(outline: &[Point], cloth: &FoldedCloth) -> bool {
    let on_table: Vec<Point> = outline.iter().map(|&p| cloth.on_table(p)).collect();
    let within = |&[from, to]: &[f64; 2]| {
        let double = Bounds { min: point(from, 0.0), max: point(to, f64::INFINITY) };
        signed_area(&clip::to(&on_table, &double)).abs()
    };
    2.0 * cloth.double().iter().map(within).sum::<f64>() > signed_area(outline).abs()
}

#[cfg(test)]
mod tests;
