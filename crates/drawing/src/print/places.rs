//! Where words of a page stand: on none of its lines where that can be, and else on a blank ground.

use ellwand_geometry::{Bounds, Point, point};

use crate::{
    boxes::TurnedBox,
    clearing::Obstacle,
    hatch::is_inside,
    lettering::Line,
    marks::{Anchor, Mark},
};

use super::{Ground, words::obstacles_of};

/// How near words of a page come to a line, mm.
const CLEAR: f64 = 0.6;

/// Sizes of a name that is repeated, points.
const AGAIN: [f64; 2] = [9.0, 7.0];

/// Places for the name of a piece are tried so far apart, mm.
const STEP: f64 = 8.0;

/// What is drawn on a page.
pub(super) struct Places {
    obstacles: Vec<Obstacle>,
    window: Bounds,
}

impl Places {
    /// The free places of a page between its marks.
    pub(super) fn new(marks: &[Mark], window: Bounds) -> Self {
        let is_near = |line: &Obstacle| Bounds::of([line.a, line.b]).grown(line.reach).overlaps(&window);
        let obstacles = marks.iter().flat_map(|mark| obstacles_of(mark, CLEAR)).filter(is_near).collect();
        Self { obstacles, window }
    }

    fn is_free(&self, space: &TurnedBox) -> bool {
        let is_within = space.corners().iter().all(|&p| holds(&self.window, p));
        is_within && self.obstacles.iter().all(|line| space.grown(line.reach).span_within(line.a, line.b).is_none())
    }

    /// The first of these lines that is free at one of its centers; where none is, the last on a blank ground at its first center.
    pub(super) fn said(&mut self, lines: Vec<(Line, Vec<Point>)>) -> Vec<Mark> {
        let space = |line: &Line, center: Point| TurnedBox {
            center,
            width: line.width(),
            height: line.height(),
            turn_deg: 0.0,
        };
        let free = lines.iter().find_map(|(line, centers)| {
            let center = centers.iter().find(|&&center| self.is_free(&space(line, center)))?;
            Some(centred(line.clone(), *center))
        });
        let marks = match (free, lines.last()) {
            (Some(text), _) => vec![text],
            (None, Some((line, centers))) if !centers.is_empty() => {
                let ground = space(line, centers[0]).corners().to_vec();
                vec![Mark::area(ground, Ground::Paper.blank()), centred(line.clone(), centers[0])]
            }
            _ => Vec::new(),
        };
        self.obstacles.extend(marks.last().into_iter().flat_map(|text| obstacles_of(text, CLEAR)));
        marks
    }
}

fn centred(line: Line, center: Point) -> Mark {
    let at = center + point(0.0, line.baseline_drop());
    Mark::Text { line, at, anchor: Anchor::Middle, turn_deg: 0.0 }
}

/// A piece on a table of pages.
pub(super) struct Named<'a> {
    /// Its number and name.
    pub(super) name: &'a str,
    /// Its outline on the table.
    pub(super) outline: Vec<Point>,
}

impl Named<'_> {
    /// Its name once more, small, on a page that shows a part of it without its name in whole; nothing where there is no room for it.
    ///
    /// `marks` are those of the page, where the table is moved `by`.
    pub(super) fn again(&self, by: Point, marks: &[Mark], places: &mut Places) -> Option<Mark> {
        let outline: Vec<Point> = self.outline.iter().map(|&p| p + by).collect();
        let window = places.window;
        let around = Bounds::of(outline.iter().copied());
        if self.name.is_empty() || !around.overlaps(&window) {
            return None;
        }
        let is_whole = |mark: &Mark| match mark {
            Mark::Text { line, at, turn_deg, .. } if line.text.starts_with(self.name) => {
                let end = *at + crate::boxes::turned(point(line.width(), 0.0), *turn_deg);
                [*at, end].iter().all(|&p| holds(&window, p) && is_inside(&outline, p))
            }
            _ => false,
        };
        if marks.iter().any(is_whole) {
            return None;
        }
        let seen = [
            point(around.min.x.max(window.min.x), around.min.y.max(window.min.y)),
            point(around.max.x.min(window.max.x), around.max.y.min(window.max.y)),
        ];
        let middle = (seen[0] + seen[1]) * 0.5;
        let count = |from: f64, to: f64| ((to - from) / STEP).max(0.0) as usize;
        let (columns, rows) = (count(seen[0].x, seen[1].x), count(seen[0].y, seen[1].y));
        let all = (0..=rows).flat_map(|row| (0..=columns).map(move |column| [column, row]));
        let mut centers: Vec<Point> = all.map(|[x, y]| seen[0] + point(x as f64 * STEP, y as f64 * STEP)).collect();
        let off = |p: &Point| (p.x - middle.x).hypot(p.y - middle.y);
        centers.sort_by(|a, b| off(a).total_cmp(&off(b)));
        AGAIN.into_iter().find_map(|points| {
            let line = Line::regular(self.name, points);
            let space = |center: Point| TurnedBox { center, width: line.width(), height: line.height(), turn_deg: 0.0 };
            let fits = |center: &&Point| {
                let space = space(**center);
                let corners = space.corners();
                corners.iter().all(|&p| is_inside(&outline, p)) && places.is_free(&space)
            };
            let center = *centers.iter().find(fits)?;
            let text = centred(line, center);
            places.obstacles.extend(obstacles_of(&text, CLEAR));
            Some(text)
        })
    }
}

fn holds(window: &Bounds, p: Point) -> bool {
    (window.min.x..=window.max.x).contains(&p.x) && (window.min.y..=window.max.y).contains(&p.y)
}
