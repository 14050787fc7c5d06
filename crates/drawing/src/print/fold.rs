//! What is done at a fold edge: a bracket whose arrows point at it, and words along it.

use ellwand_garment::Draft;
use ellwand_geometry::{EdgeAllowance, Point, distance, point};

use crate::{
    boxes::{TurnedBox, turned},
    clearing::Obstacle,
    hatch::{is_crossed, is_inside},
    lettering::Line,
    marks::{Anchor, Ink, Mark},
    strokes::On,
};

use super::{
    inked::down,
    words::{Room, obstacles_of, reading_turn, sizes_on},
};

/// What stands along the bracket: on one line or, at a short edge, on two.
const WORDS: [&[&str]; 2] = [&["place on the fold, do not cut here"], &["place on the fold,", "do not cut here"]];

/// Sizes of the words on paper, points.
const LETTERS: [f64; 3] = [9.0, 7.5, 6.0];

/// Arrow heads on paper are so long, mm.
const HEAD: f64 = 4.5;

/// On paper a bracket stands on every so much of an edge, mm: on each joined page that shows the fold one is whole.
const EVERY: f64 = 115.0;

/// A bracket without words is at most so long on paper, mm.
const LONGEST: f64 = 60.0;

/// Where the middle of a bracket may be, as shares of its part of the edge, the best first.
const MIDDLES: [f64; 9] = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82];

/// Brackets at each fold edge of a draft that has room for them, `y` down.
pub(super) fn fold_brackets(draft: &Draft, room: &Room<'_>, marks: &[Mark]) -> Vec<Mark> {
    let lines: Vec<Obstacle> = marks.iter().flat_map(|mark| obstacles_of(mark, room.clear())).collect();
    let starts = std::iter::once(draft.start).chain(draft.edges.iter().map(|edge| edge.to));
    let folds = starts.zip(&draft.edges).filter(|(_, edge)| edge.allowance == EdgeAllowance::Fold);
    let grainline = down(&draft.grainline);
    folds
        .flat_map(|(from, edge)| {
            let [a, b] = [point(from.x, -from.y), point(edge.to.x, -edge.to.y)];
            let count = (distance(a, b) / (EVERY * room.ground.large())).ceil().max(1.0);
            let part = |k: usize| {
                let [from, to] = [k, k + 1].map(|k| a + (b - a) * (k as f64 / count));
                Edge::new(from, to, room)
            };
            let parts: Vec<Edge<'_>> = (0..count as usize).filter_map(part).collect();
            let said: Vec<Mark> = parts.iter().filter_map(|part| part.said(&grainline, &lines)).flatten().collect();
            if !said.is_empty() {
                return said;
            }
            // In parts too small for words they have room along the whole edge, or the brackets stand alone.
            let whole = Edge::new(a, b, room);
            let whole = whole.and_then(|edge| edge.said(&grainline, &lines).or_else(|| edge.alone(&grainline)));
            whole.unwrap_or_default()
        })
        .collect()
}

/// A fold edge on the page, or a part of one.
struct Edge<'a> {
    a: Point,
    along: Point,
    length: f64,
    /// Into the piece.
    inward: Point,
    turn_deg: f64,
    room: &'a Room<'a>,
}

impl<'a> Edge<'a> {
    fn new(a: Point, b: Point, room: &'a Room<'a>) -> Option<Self> {
        let length = distance(a, b);
        if length < 1.0 {
            return None;
        }
        let along = (b - a) * (1.0 / length);
        let across = point(-along.y, along.x);
        let middle = a + (b - a) * 0.5;
        let inward = [across, across * -1.0].into_iter().find(|&side| is_inside(room.outline, middle + side))?;
        let turn_deg = reading_turn([a, b].map(|p| point(p.x, -p.y)));
        Some(Self { a, along, length, inward, turn_deg, room })
    }

    /// The bracket with its words, where there is room for both.
    fn said(&self, grainline: &[Point], lines: &[Obstacle]) -> Option<Vec<Mark>> {
        for texts in WORDS {
            for points in sizes_on(self.room.ground, &LETTERS) {
                let set: Vec<Line> = texts.iter().map(|text| Line::regular(*text, points)).collect();
                if let Some(marks) = self.with_words(set, grainline, lines) {
                    return Some(marks);
                }
            }
        }
        None
    }

    /// The bracket without words.
    fn alone(&self, grainline: &[Point]) -> Option<Vec<Mark>> {
        let scale = self.room.ground.large();
        let sizes = [scale, 1.0].map(|by| ((0.5 * self.length).min(LONGEST * by), 6.0 * by));
        let places = sizes.into_iter().flat_map(|(long, deep)| MIDDLES.map(|middle| (middle, long, deep)));
        let (middle, long, deep) =
            places.into_iter().find(|&(middle, long, deep)| self.has_room(middle, long, deep, grainline))?;
        Some(self.drawn(middle, long, deep))
    }

    fn with_words(&self, set: Vec<Line>, grainline: &[Point], lines: &[Obstacle]) -> Option<Vec<Mark>> {
        let clear = self.room.clear();
        let width = set.iter().map(Line::width).fold(0.0, f64::max);
        let height: f64 = set.iter().map(Line::height).sum();
        let deep = height + 2.0 * clear;
        let least = width + 4.0 * clear + 0.6 * self.head();
        let (middle, words) = MIDDLES.into_iter().find_map(|middle| {
            let center = self.at(middle * self.length) + self.inward * (deep / 2.0);
            let words = TurnedBox { center, width, height, turn_deg: self.turn_deg };
            // The edge itself is as near as it may be.
            let is_off = |line: &Obstacle| words.grown(line.reach - 0.2).span_within(line.a, line.b).is_none();
            (self.has_room(middle, least, deep, grainline) && lines.iter().all(is_off)).then_some((middle, words))
        })?;
        let mut marks = self.drawn(middle, least, deep);
        let mut top = -height / 2.0;
        marks.extend(set.into_iter().map(|line| {
            let baseline = top + line.height() / 2.0 + line.baseline_drop();
            top += line.height();
            let at = words.center + turned(point(0.0, baseline), self.turn_deg);
            Mark::Text { line, at, anchor: Anchor::Middle, turn_deg: self.turn_deg }
        }));
        Some(marks)
    }

    /// Whether a bracket lies in the piece and the grainline neither crosses it nor runs in it.
    fn has_room(&self, middle: f64, long: f64, deep: f64, grainline: &[Point]) -> bool {
        let [from, to] = [middle * self.length - long / 2.0, middle * self.length + long / 2.0];
        if from < 2.0 || to > self.length - 2.0 {
            return false;
        }
        let clear = self.room.clear();
        let corners = [from, to].map(|along| self.at(along) + self.inward * (deep + clear));
        let is_within = corners.iter().all(|&corner| is_inside(self.room.outline, corner))
            && !is_crossed(self.room.outline, corners)
            && [from, to]
                .iter()
                .zip(corners)
                .all(|(&along, corner)| !is_crossed(self.room.outline, [self.at(along) + self.inward * 0.5, corner]));
        // A grainline on the fold itself is in nobody's way.
        let center = self.at((from + to) / 2.0) + self.inward * ((deep + clear) / 2.0 + 0.5);
        let taken = TurnedBox { center, width: long, height: deep + clear - 1.0, turn_deg: self.turn_deg };
        is_within && taken.span_within(grainline[0], grainline[1]).is_none()
    }

    fn drawn(&self, middle: f64, long: f64, deep: f64) -> Vec<Mark> {
        let ground = self.room.ground;
        let ends = [-0.5, 0.5].map(|half| self.at(middle * self.length + half * long));
        let [a, b] = ends;
        let [low, high] = ends.map(|end| end + self.inward * deep);
        let mut marks = vec![Mark::path(vec![a, low, high, b], ground.ink(On::Grain, 0, 1))];
        let head = self.head().min(deep);
        let solid = Ink { fill: Some(ground.letters()), cover: 1.0, stroke: None, width: 0.0, dash: &[] };
        marks.extend(ends.map(|tip| {
            let (back, aside) = (self.inward * head, self.along * (0.3 * head));
            Mark::area(vec![tip, tip + back + aside, tip + back - aside], solid)
        }));
        marks
    }

    fn at(&self, along: f64) -> Point {
        self.a + self.along * along
    }

    fn head(&self) -> f64 {
        HEAD * self.room.ground.large()
    }
}
