//! A piece inked in its own frame, and where it lies on a table.

use std::collections::BTreeSet;

use ellwand_garment::{CutRule, Draft, Pattern, Pressed, View};
use ellwand_geometry::{EdgeShape, Outline, Point, distance, distance_to_segment, place_at_share, point};

use crate::{
    marks::{Closure, Ink, Mark},
    pieces::roll_lines::roll_lines_between,
    strokes::{On, in_its_frame},
};

use super::{Ground, PrintWords, fold::fold_brackets, key::Key, size_names::size_names, words::Room};

/// A piece in the sizes to be printed.
#[derive(Debug, Clone)]
pub struct PieceToPrint<'a> {
    /// Its number in the layouts, from 1.
    pub number: usize,
    /// What is cut from it.
    pub cuts: &'a [CutRule],
    /// Its draft in each size to be printed, the smallest first.
    pub drafts: Vec<&'a Draft>,
    /// Lines about which it turns outward, in the frame of its drafts.
    pub roll_lines: Vec<[Point; 2]>,
}

impl<'a> PieceToPrint<'a> {
    /// A piece of a view: number `number` of its layouts.
    pub fn of_view(pattern: &Pattern, view: &View, number: usize, cuts: &'a [CutRule], drafts: Vec<&'a Draft>) -> Self {
        let largest = drafts.last();
        let roll_lines =
            largest.map(|draft| roll_lines_between(pattern, view, &draft.name, &draft.points)).unwrap_or_default();
        Self { number, cuts, drafts, roll_lines }
    }
}

/// A piece ready for paper.
#[derive(Debug, Clone, PartialEq)]
pub struct PrintedPiece {
    /// Its name.
    pub name: String,
    /// What it takes up, mm, `y` up: the cutting line of one size, and what is around all lines of several.
    pub outline: Outline,
    /// What is named on it and the outlines of that, in the frame of its marks: number and name of the piece, or of every cut of a layout.
    pub(super) named: Vec<(String, Vec<Point>)>,
    /// In the same frame with `y` down.
    pub(super) marks: Vec<Mark>,
    /// The kinds of its lines and marks, for the key.
    pub(super) keys: BTreeSet<Key>,
}

/// A piece that lies on a table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnTable {
    /// Its number in the list of pieces, from 0.
    pub piece: usize,
    /// Turned counter-clockwise by so many quarter turns about its origin,
    pub quarter_turns: u8,
    /// and then moved by this, mm, `y` up from the lower left corner of the table.
    pub at: Point,
}

/// Curves are drawn in straight lines that leave them by less than this, mm.
const FLAT: f64 = 0.02;

/// Points are circles of this radius, mm.
const POINT: f64 = 2.0;

/// Points of two sizes nearer than this are one, mm.
const SAME: f64 = 0.1;

impl PrintedPiece {
    /// Inks a piece.
    ///
    /// ```
    /// use ellwand_drawing::print::{Ground, PieceToPrint, PrintWords, PrintedPiece};
    /// use ellwand_garment::{Draft, DraftEdge};
    /// use ellwand_geometry::{EdgeAllowance, EdgeShape, point};
    /// let edge = |x, y, drawn| DraftEdge {
    ///     name: String::new(),
    ///     to: point(x, y),
    ///     shape: EdgeShape::Straight,
    ///     allowance: EdgeAllowance::Depth(10.0),
    ///     drawn,
    /// };
    /// let pocket = Draft {
    ///     name: "Pocket".into(),
    ///     start: point(0.0, 0.0),
    ///     edges: vec![edge(150.0, 0.0, 0), edge(150.0, 180.0, 1), edge(0.0, 180.0, 2), edge(0.0, 0.0, 3)],
    ///     grainline: [point(75.0, 20.0), point(75.0, 160.0)],
    ///     notches: Vec::new(),
    ///     points: Default::default(),
    ///     darts: Vec::new(),
    ///     levels: Default::default(),
    ///     lines: Default::default(),
    ///     as_drawn: None,
    /// };
    /// let words = PrintWords { title: "Galley apron".into(), about: "one size".into(), ..PrintWords::default() };
    /// let piece = PieceToPrint { number: 6, cuts: &[], drafts: vec![&pocket], roll_lines: Vec::new() };
    /// let printed = PrintedPiece::new(&piece, &words, Ground::Paper);
    /// assert!((printed.outline.bounds().width() - 170.0).abs() < 1e-9);
    /// ```
    ///
    /// # Panics
    ///
    /// When the piece has no draft.
    pub fn new(piece: &PieceToPrint<'_>, words: &PrintWords, ground: Ground) -> Self {
        let count = piece.drafts.len();
        let mut marks = Vec::new();
        let mut cuttings: Vec<Vec<Point>> = Vec::new();
        let mut said: Vec<(String, Point)> = Vec::new();
        let mut keys = BTreeSet::from([Key::Grain]);
        for (k, draft) in piece.drafts.iter().enumerate() {
            let framed = in_its_frame(draft);
            let mut cutting = framed.cutting;
            let has_cutting_line = cutting.is_some();
            let folds: Vec<[Point; 2]> = (framed.strokes.iter().filter(|(on, _)| *on == On::Fold))
                .filter_map(|(_, stroke)| match through(&flat(stroke), cutting.as_deref())[..] {
                    [from, .., to] => Some([from, to]),
                    _ => None,
                })
                .collect();
            for (on, stroke) in &framed.strokes {
                // Of several sizes the seam lines would make a thicket; heads of grainlines are filled, below.
                let is_head = *on == On::Grain && stroke.runs.len() > 1;
                if is_head || *on == On::Seam && count > 1 && has_cutting_line {
                    continue;
                }
                let line = flat(stroke);
                if cutting.is_none() && matches!(on, On::Seam | On::Cut) {
                    cutting = Some(open(&line));
                }
                // What all sizes share is drawn once; notches go out to the cutting line; points are drawn below.
                if matches!(on, On::Notch | On::Mark) || k + 1 < count && !matches!(on, On::Cut | On::Seam) {
                    continue;
                }
                keys.extend(Key::of(*on));
                let closure = if stroke.closed { Closure::Closed } else { Closure::Open };
                // The cutting line runs past the mouth of a dart even where no allowance is added.
                let around_darts = cutting.as_ref().filter(|_| *on == On::Cut && !draft.pressed_darts().is_empty());
                let points = match around_darts {
                    Some(cutting) => cutting.clone(),
                    None if stroke.closed => open(&line),
                    None => line,
                };
                if matches!(on, On::Level | On::Lengthen) {
                    marks.extend(across(&points, cutting.as_deref(), ground.ink(*on, k, count)));
                    continue;
                }
                let points = if *on == On::Fold { through(&points, cutting.as_deref()) } else { points };
                let ink = ground.ink(*on, k, count);
                if matches!(on, On::Cut | On::Seam) && closure == Closure::Closed {
                    marks.extend(off_the_fold(&points, &folds).into_iter().map(|(points, closure)| Mark::Shape {
                        points: down(&points),
                        closure,
                        ink,
                    }));
                    continue;
                }
                marks.push(Mark::Shape { points: down(&points), closure, ink });
            }
            let shows_seam = count == 1 && framed.strokes.iter().any(|(on, _)| *on == On::Seam);
            if !shows_seam {
                let legs = legs_in_edges(draft, ground.dart_legs(k, count));
                keys.extend((!legs.is_empty()).then_some(Key::Dart));
                marks.extend(legs);
            }
            let larger = piece.drafts.last().filter(|_| k + 1 < count);
            for (name, &at) in &draft.points {
                let is_same =
                    larger.and_then(|draft| draft.points.get(name)).is_some_and(|&of| distance(of, at) < SAME);
                keys.insert(Key::Point);
                if !is_same {
                    let moves = piece
                        .drafts
                        .iter()
                        .any(|other| other.points.get(name).is_none_or(|&of| distance(of, at) >= SAME));
                    let ink = if moves { ground.ink(On::Mark, k, count) } else { ground.ink(On::Mark, 0, 1) };
                    marks.push(Mark::Ring { at: point(at.x, -at.y), radius: POINT, ink });
                }
            }
            for notch in &framed.notches {
                keys.insert(Key::Notch);
                marks.push(Mark::path(down(notch), ground.ink(On::Notch, k, count)));
            }
            if k + 1 == count {
                said.extend(framed.words.into_iter().map(|text| (text.content, text.at)));
            }
            cuttings.extend(cutting);
        }
        let draft = piece.drafts.last().expect("a piece has a draft");
        for line in &piece.roll_lines {
            keys.insert(Key::Roll);
            marks.push(Mark::path(down(line), ground.roll()));
            said.push(("roll line".to_owned(), line[0] + (line[1] - line[0]) * 0.5));
        }
        let outline = around(&cuttings, draft);
        if count > 1 {
            marks.extend(size_names(&cuttings, &words.sizes, ground));
        }
        marks.extend(head_of_grain(draft, ground));
        let room = Room { outline: &down(&outline), ground };
        marks.extend(fold_brackets(draft, &room, &marks));
        for (text, at) in &said {
            marks.extend(room.small_words(text, point(at.x, -at.y), &marks));
        }
        marks.extend(room.label(piece, draft, words, &marks));
        for (name, at) in &draft.points {
            marks.extend(room.point_name(name, point(at.x, -at.y), POINT, &marks));
        }
        let named = vec![(format!("{} {}", piece.number, draft.name), down(&outline))];
        Self { name: draft.name.clone(), outline: outline_of(outline), named, marks, keys }
    }

    /// Its marks as they lie on a table so high, `y` down from its upper left corner.
    pub(super) fn laid(&self, on: &OnTable, height: f64) -> Vec<Mark> {
        let deg = -90.0 * f64::from(on.quarter_turns);
        let to = |p: Point| {
            let p = quarter(p, on.quarter_turns);
            point(p.x + on.at.x, height - on.at.y + p.y)
        };
        self.marks.iter().map(|mark| mark.clone().posed(to, deg)).collect()
    }

    /// What is named on it, with outlines as they lie on such a table.
    pub(super) fn named_laid(&self, on: &OnTable, height: f64) -> Vec<(&str, Vec<Point>)> {
        let to = |&p: &Point| {
            let p = quarter(p, on.quarter_turns);
            point(p.x + on.at.x, height - on.at.y + p.y)
        };
        self.named.iter().map(|(name, outline)| (name.as_str(), outline.iter().map(to).collect())).collect()
    }

    /// Its outline as it lies on such a table.
    pub(super) fn outline_laid(&self, on: &OnTable, height: f64) -> Vec<Point> {
        let to = |p: &Point| {
            let p = quarter(point(p.x, -p.y), on.quarter_turns);
            point(p.x + on.at.x, height - on.at.y + p.y)
        };
        self.outline.points().iter().map(to).collect()
    }
}

/// Turned counter-clockwise as it is seen, `y` running down; exact.
fn quarter(p: Point, turns: u8) -> Point {
    match turns % 4 {
        0 => p,
        1 => point(p.y, -p.x),
        2 => point(-p.x, -p.y),
        _ => point(-p.y, p.x),
    }
}

pub(super) fn down(points: &[Point]) -> Vec<Point> {
    points.iter().map(|p| point(p.x, -p.y)).collect()
}

fn flat(stroke: &ellwand_vector::Stroke) -> Vec<Point> {
    let mut points = vec![stroke.start];
    let mut from = stroke.start;
    for run in &stroke.runs {
        if run.shape == EdgeShape::Straight {
            points.push(run.to);
        } else {
            points.extend(curve_points(|share| place_at_share(from, run.shape, run.to, share)));
        }
        from = run.to;
    }
    points
}

/// Points of a curve but its first: halved until no middle of a part lies farther off its chord than [`FLAT`].
fn curve_points(at: impl Fn(f64) -> Point) -> Vec<Point> {
    /// A curve of a pattern never needs more parts.
    const MOST: usize = 1024;
    let mut parts = 4;
    loop {
        let share = |k: usize| k as f64 / parts as f64;
        let off = |k: usize| {
            let (a, b) = (at(share(k)), at(share(k + 1)));
            distance(at((share(k) + share(k + 1)) / 2.0), (a + b) * 0.5)
        };
        if parts >= MOST || (0..parts).all(|k| off(k) <= FLAT) {
            return (1..=parts).map(|k| at(share(k))).collect();
        }
        parts *= 2;
    }
}

/// The legs of darts at an edge, which are sides of the seam line where that is drawn.
fn legs_in_edges(draft: &Draft, ink: Ink) -> Vec<Mark> {
    let places = draft.darts.iter().zip(draft.dart_places()).filter(|(dart, _)| dart.pressed != Pressed::CutOpen);
    places
        .filter_map(|(_, place)| {
            let place = place?;
            let [tip] = place.tips[..] else { return None };
            Some(Mark::path(down(&[place.legs[0], tip, place.legs[1]]), ink))
        })
        .collect()
}

/// A fold edge through the allowances at its ends, to where the cutting line turns off.
fn through(line: &[Point], cutting: Option<&[Point]>) -> Vec<Point> {
    let ([from, .., to], Some(cutting)) = (line, cutting) else { return line.to_vec() };
    let length = distance(*from, *to);
    if length < 1.0 {
        return line.to_vec();
    }
    let along = (*to - *from) * (1.0 / length);
    let on = cutting.iter().map(|&p| p - *from).filter(|p| (p.x * along.y - p.y * along.x).abs() < SAME);
    let reach = on.map(|p| p.x * along.x + p.y * along.y);
    let [least, most] = reach.fold([0.0, length], |[least, most], at| [at.min(least), at.max(most)]);
    vec![*from + along * least, *from + along * most]
}

/// What of a closed line does not run along a fold, where nothing is cut or sewn: all of it, or open lines from fold to fold.
fn off_the_fold(ring: &[Point], folds: &[[Point; 2]]) -> Vec<(Vec<Point>, Closure)> {
    let lies_on = |p: Point, [from, to]: [Point; 2]| distance_to_segment(p, from, to) < SAME;
    let count = ring.len();
    let is_fold = |i: usize| folds.iter().any(|&fold| lies_on(ring[i], fold) && lies_on(ring[(i + 1) % count], fold));
    let Some(first) = (0..count).find(|&i| is_fold(i)) else { return vec![(ring.to_vec(), Closure::Closed)] };
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut goes_on = false;
    for i in (1..count).map(|step| (first + step) % count) {
        if is_fold(i) {
            goes_on = false;
            continue;
        }
        match runs.last_mut() {
            Some(run) if goes_on => run.push(ring[(i + 1) % count]),
            _ => runs.push(vec![ring[i], ring[(i + 1) % count]]),
        }
        goes_on = true;
    }
    runs.into_iter().map(|run| (run, Closure::Open)).collect()
}

/// A level line where it lies within the piece.
fn across(line: &[Point], cutting: Option<&[Point]>, ink: Ink) -> Vec<Mark> {
    let Some(cutting) = cutting else { return vec![Mark::path(down(line), ink)] };
    let y = line[0].y;
    let spans = crate::hatch::inside_spans(cutting, y);
    spans.into_iter().map(|(from, to)| Mark::path(down(&[point(from, y), point(to, y)]), ink)).collect()
}

/// A closed line without its first point again.
fn open(line: &[Point]) -> Vec<Point> {
    let end = if line.len() > 1 && line.first() == line.last() { line.len() - 1 } else { line.len() };
    line[..end].to_vec()
}

/// The cutting line of one size; of several the hull around all of them.
fn around(cuttings: &[Vec<Point>], draft: &Draft) -> Vec<Point> {
    match cuttings {
        [one] => one.clone(),
        [] => vec![draft.start, draft.grainline[0], draft.grainline[1]],
        several => hull(several.iter().flatten().copied().collect()),
    }
}

/// An outline of what is drawn; of what cannot be one the hull, and a hair's square of what has no area.
pub(super) fn outline_of(points: Vec<Point>) -> Outline {
    let around = |points: &[Point]| Outline::new(hull(points.to_vec()));
    Outline::new(points.clone()).or_else(|_| around(&points)).unwrap_or_else(|_| {
        let at = points.first().copied().unwrap_or(point(0.0, 0.0));
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(|(x, y)| at + point(x, y));
        Outline::new(square.to_vec()).expect("a square is an outline")
    })
}

/// The convex hull, counter-clockwise.
///
/// Source: A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", Information Processing Letters 9 (1979).
fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut kept: Vec<Point> = Vec::new();
        for p in points {
            while let [.., a, b] = kept[..]
                && (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) <= 0.0
            {
                kept.pop();
            }
            kept.push(p);
        }
        kept.pop();
        kept
    };
    let mut around = half(&mut points.iter().copied());
    around.extend(half(&mut points.iter().rev().copied()));
    around
}

/// Arrow heads at both ends of the grainline of a draft.
fn head_of_grain(draft: &Draft, ground: Ground) -> Vec<Mark> {
    let [low, high] = draft.grainline.map(|p| point(p.x, -p.y));
    [head(low, high, ground), head(high, low, ground)].into_iter().flatten().collect()
}

/// An arrow head at `high` of a line from `low`, `y` down; none on a line too short for one.
pub(super) fn head(low: Point, high: Point, ground: Ground) -> Option<Mark> {
    let length = distance(low, high);
    if length < 1.0 {
        return None;
    }
    let back = (low - high) * ((7.0 * ground.large()).min(length / 4.0) / length);
    let across = point(-back.y, back.x) * 0.3;
    let solid = Ink { fill: Some(ground.letters()), cover: 1.0, stroke: None, width: 0.0, dash: &[] };
    Some(Mark::area(vec![high, high + back + across, high + back - across], solid))
}
