//! What stands at the same place of every page and is no part of the drawing: frames, joining marks, and words such as page numbers.

use std::collections::{BTreeMap, BTreeSet};

use ellwand_geometry::{Bounds, EdgeShape, Point, point};
use ellwand_vector::{Drawing, Stroke, Text};

use super::label::Label;
use crate::{curve::Line, found::Ignored, plane::SheetPlace};

/// A joining mark is at most so large, mm.
const MARK: f64 = 24.0;

/// What stands on so many of the pages belongs to none, as a share; marks may be missing at the outer borders.
const MOST: f64 = 0.6;
const MARKS: f64 = 0.4;

/// A frame spans so much of its page at least, each way.
const FRAME: f64 = 0.6;

/// How far a page of words has more of them than a tile.
const MANY_WORDS: usize = 12;

/// What was taken out.
pub(super) struct Decor {
    /// Strokes by page and number.
    strokes: BTreeSet<(usize, usize)>,
    /// Texts by page and number.
    texts: BTreeSet<(usize, usize)>,
    /// The corners of the frame that stands on every page.
    pub(super) frame: Option<(Point, Point)>,
    /// What words say of a page's place.
    pub(super) labels: BTreeMap<usize, Label>,
}

/// A place in hundredths of a millimetre.
type Spot = [i64; 2];

fn spot(p: Point) -> Spot {
    [p.x, p.y].map(|length| (length * 50.0).round() as i64)
}

/// A stroke by the box around it.
type Shape = (Spot, Spot, bool);

fn bounds(stroke: &Stroke) -> Option<Bounds> {
    let flat = Line::of(stroke).flat();
    let is_finite = flat.iter().all(|p| p.x.is_finite() && p.y.is_finite());
    is_finite.then(|| Bounds::of(flat))
}

impl Decor {
    pub(super) fn of(drawing: &Drawing, members: &[usize], size: [f64; 2]) -> Self {
        let mut decor = Self { strokes: BTreeSet::new(), texts: BTreeSet::new(), frame: None, labels: BTreeMap::new() };
        let mut shapes: BTreeMap<Shape, Vec<(usize, usize)>> = BTreeMap::new();
        for &page in members {
            for (number, stroke) in drawing.sheets[page].strokes.iter().enumerate() {
                if let Some(around) = bounds(stroke) {
                    let shape = (spot(around.min), spot(around.max), stroke.closed);
                    shapes.entry(shape).or_default().push((page, number));
                }
            }
        }
        let share = |of: &[(usize, usize)]| {
            let pages: BTreeSet<usize> = of.iter().map(|(page, _)| *page).collect();
            if pages.len() < 2 { 0.0 } else { pages.len() as f64 / members.len() as f64 }
        };
        let mut frames: Vec<(Point, Point)> = Vec::new();
        let mut sides: Vec<(Bounds, &Vec<(usize, usize)>)> = Vec::new();
        for of in shapes.values() {
            let (page, number) = of[0];
            let stroke = &drawing.sheets[page].strokes[number];
            let Some(around) = bounds(stroke) else { continue };
            let (width, height) = (around.width(), around.height());
            let is_large = width > FRAME * size[0] && height > FRAME * size[1];
            let is_frame = is_large && is_rectangle(stroke, &around) && share(of) >= MOST;
            let is_mark = width.max(height) <= MARK && share(of) >= MARKS;
            if is_frame {
                frames.push((around.min, around.max));
            }
            if is_frame || is_mark {
                decor.strokes.extend(of);
            }
            if share(of) >= MOST
                && !is_mark
                && width.min(height) < 0.01
                && width.max(height) > 0.5 * size[0].min(size[1])
            {
                sides.push((around, of));
            }
        }
        if frames.is_empty() {
            frames.extend(decor.four_sides(&sides));
        }
        // The largest one that is not the border of the page itself.
        let area = |(low, high): &(Point, Point)| (high.x - low.x) * (high.y - low.y);
        frames.sort_by(|a, b| area(b).total_cmp(&area(a)));
        let is_inside =
            |(low, high): &&(Point, Point)| high.x - low.x < size[0] - 0.5 || high.y - low.y < size[1] - 0.5;
        decor.frame = frames.iter().find(is_inside).copied();
        decor.take_texts(drawing, members);
        decor
    }

    /// A frame of four lines.
    fn four_sides(&mut self, sides: &[(Bounds, &Vec<(usize, usize)>)]) -> Option<(Point, Point)> {
        let near = |a: f64, b: f64| (a - b).abs() < 0.2;
        let lying: Vec<_> = sides.iter().filter(|(around, _)| around.height() < 0.01).collect();
        let standing: Vec<_> = sides.iter().filter(|(around, _)| around.width() < 0.01).collect();
        let low = lying.iter().min_by(|a, b| a.0.min.y.total_cmp(&b.0.min.y))?;
        let high = lying.iter().max_by(|a, b| a.0.min.y.total_cmp(&b.0.min.y))?;
        let left = standing.iter().min_by(|a, b| a.0.min.x.total_cmp(&b.0.min.x))?;
        let right = standing.iter().max_by(|a, b| a.0.min.x.total_cmp(&b.0.min.x))?;
        let corners = (point(left.0.min.x, low.0.min.y), point(right.0.min.x, high.0.min.y));
        let spans = [low, high].iter().all(|(side, _)| near(side.min.x, corners.0.x) && near(side.max.x, corners.1.x))
            && [left, right].iter().all(|(side, _)| near(side.min.y, corners.0.y) && near(side.max.y, corners.1.y));
        let is_open = corners.1.x > corners.0.x && corners.1.y > corners.0.y;
        if !(spans && is_open) {
            return None;
        }
        for (_, of) in [low, high, left, right] {
            self.strokes.extend(of.iter());
        }
        Some(corners)
    }

    /// Texts at one place of most pages, whatever they say; and what they say of the place of the page.
    fn take_texts(&mut self, drawing: &Drawing, members: &[usize]) {
        let mut places: BTreeMap<(u8, Spot), Vec<(usize, usize)>> = BTreeMap::new();
        let millimetres = |p: Point| [p.x, p.y].map(|length| length.round() as i64);
        for &page in members {
            for (number, text) in drawing.sheets[page].texts.iter().enumerate() {
                // By its start, its middle or its end: numbers of more digits are longer.
                for (k, share) in [0.0, 0.5, 1.0].into_iter().enumerate() {
                    let at = on_line(text, share);
                    places.entry((k as u8, millimetres(at))).or_default().push((page, number));
                }
            }
        }
        let mut by_place: Vec<Vec<(usize, usize)>> = places.into_values().collect();
        by_place.sort_by_key(|of| std::cmp::Reverse(of.len()));
        for of in by_place {
            let pages: BTreeSet<usize> = of.iter().map(|(page, _)| *page).collect();
            if pages.len() < 2 || (pages.len() as f64) < MOST * members.len() as f64 {
                continue;
            }
            let mut said: BTreeMap<usize, Label> = BTreeMap::new();
            for &(page, number) in &of {
                if self.texts.insert((page, number))
                    && let Some(label) = Label::of(&drawing.sheets[page].texts[number].content)
                {
                    said.insert(page, label);
                }
            }
            let distinct =
                said.values().enumerate().all(|(k, label)| !said.values().take(k).any(|other| other == label));
            let is_better = self.labels.is_empty() || said.values().any(|label| matches!(label, Label::Place { .. }));
            if distinct && said.len() > 1 && is_better {
                self.labels = said;
            }
        }
    }

    pub(super) fn has_stroke(&self, page: usize, number: usize) -> bool {
        self.strokes.contains(&(page, number))
    }

    pub(super) fn has_text(&self, page: usize, number: usize) -> bool {
        self.texts.contains(&(page, number))
    }

    /// Whether a page may be part of the drawing: it has what stands on every page, and is no page of words.
    pub(super) fn is_tile(&self, drawing: &Drawing, page: usize) -> bool {
        let sheet = &drawing.sheets[page];
        let own = (0..sheet.strokes.len()).any(|number| !self.has_stroke(page, number));
        let words = (0..sheet.texts.len()).filter(|number| !self.has_text(page, *number)).count();
        let marked = self.strokes.range((page, 0)..=(page, usize::MAX)).next().is_some();
        if self.strokes.is_empty() { own } else { marked && (own || words < MANY_WORDS) }
    }

    /// What is told of it.
    pub(super) fn ignored(&self, drawing: &Drawing, places: &[SheetPlace]) -> Vec<Ignored> {
        let mut ignored = Vec::new();
        if !self.strokes.is_empty() {
            let line = |&(page, number): &(usize, usize)| {
                let mut flat = Line::of(&drawing.sheets[page].strokes[number]).map(|p| p + places[page].at).flat();
                flat.dedup();
                flat
            };
            ignored.push(Ignored {
                what: format!("{} frames and joining marks of pages", self.strokes.len()),
                why: "they stand at the same place of every page".to_owned(),
                piece: None,
                lines: self.strokes.iter().map(line).collect(),
            });
        }
        if !self.texts.is_empty() {
            let (page, number) = self.texts.first().copied().unwrap_or_default();
            let first: String = drawing.sheets[page].texts[number].content.trim().chars().take(60).collect();
            ignored.push(Ignored {
                what: format!("{} texts of pages", self.texts.len()),
                why: format!("they stand at the same place of every page, such as \"{first}\""),
                piece: None,
                lines: Vec::new(),
            });
        }
        ignored
    }
}

fn on_line(text: &Text, share: f64) -> Point {
    let (sin, cos) = text.turned.to_radians().sin_cos();
    text.at + point(cos, sin) * (text.length * share)
}

/// Whether a stroke runs along the four sides of the box around it.
fn is_rectangle(stroke: &Stroke, around: &Bounds) -> bool {
    let is_straight = stroke.runs.iter().all(|run| run.shape == EdgeShape::Straight);
    let on_border = |p: Point| {
        let near = |a: f64, b: f64| (a - b).abs() < 0.05;
        near(p.x, around.min.x) || near(p.x, around.max.x) || near(p.y, around.min.y) || near(p.y, around.max.y)
    };
    let returns = stroke.closed || ellwand_geometry::distance(stroke.start, stroke.end()) < 0.05;
    let length = Line::of(stroke).length();
    is_straight
        && returns
        && stroke.runs.iter().all(|run| on_border(run.to))
        && (length - 2.0 * (around.width() + around.height())).abs() < 0.2
}
