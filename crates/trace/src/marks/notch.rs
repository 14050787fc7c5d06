//! Notches: ticks, triangles and diamonds on the edge, or whatever a layer of that name holds.

use ellwand_geometry::{Point, distance, point};

use super::{Loose, Marks, OnPiece, direction_at, on_outline};
use crate::{curve::angle_between, words::Role};

/// A tick or a triangle is at most so long, mm.
const LONGEST: f64 = 45.0;

/// A mark touches the edge when it comes as near as this, mm.
const TOUCHING: f64 = 1.2;

/// Named notches may stand off the edge this far, mm.
const NAMED_OFF: f64 = 12.0;

pub(super) fn find(on: &OnPiece<'_>, marks: &mut Marks) {
    let mut found: Vec<Point> = Vec::new();
    for &(number, line) in &on.loose {
        if marks.used.contains(&number) {
            continue;
        }
        let is_named = line.role() == Some(Role::Notch);
        if !is_named && (!line.is_told_by_looks() || line.length > LONGEST) {
            continue;
        }
        // A circle on a layer of marks is one where it stands.
        let is_round = line.is_closed && line.flat.len() > 9;
        if is_round && line.role() == Some(Role::Mark) {
            continue;
        }
        if is_bar_of_a_t(on, number, line) {
            marks.used.push(number);
            continue;
        }
        let Some((off, at)) = place(on, line) else { continue };
        let is_notch = if is_named { off <= NAMED_OFF } else { off <= TOUCHING && looks_like_one(on, line, at) };
        if is_notch {
            marks.used.push(number);
            if !found.iter().any(|known| distance(*known, at) < 1.0) {
                found.push(at);
            }
        }
    }
    // Those that were cut into an outline lie on it already.
    for at in on.lines.iter().flat_map(|outline| &outline.cut_in) {
        let at = on_outline(on.outline, *at).1;
        if !found.iter().any(|known| distance(*known, at) < 1.0) {
            found.push(at);
        }
    }
    // In the order of the outline, so that they pair across sizes.
    let along = |at: &Point| {
        let points = on.outline.outline.points();
        (0..points.len())
            .min_by(|&a, &b| {
                let off = |k: usize| {
                    let p = crate::outlines::nearest_of_segment(*at, points[k], points[(k + 1) % points.len()]);
                    distance(p, *at)
                };
                off(a).total_cmp(&off(b))
            })
            .map_or((0, 0.0), |k| (k, distance(points[k], *at)))
    };
    found.sort_by(|a, b| {
        let (a, b) = (along(a), along(b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    marks.notches = found;
}

/// Where a mark meets an outline of the piece: how far off, and the place on the outline its marks refer to.
fn place(on: &OnPiece<'_>, line: &Loose) -> Option<(f64, Point)> {
    let tries: Vec<Point> = if line.flat.len() == 1 { line.flat.clone() } else { samples(line) };
    let mut best: Option<(f64, Point)> = None;
    for outline in &on.lines {
        // Several corners on the edge are the foot of a triangle; its middle is meant.
        let off: Vec<(f64, Point)> = tries.iter().map(|p| on_outline(outline, *p)).collect();
        let least = off.iter().map(|(d, _)| *d).fold(f64::INFINITY, f64::min);
        let touching: Vec<Point> = off.iter().filter(|(d, _)| *d <= least + 0.3).map(|(_, at)| *at).collect();
        let sum = touching.iter().fold(point(0.0, 0.0), |sum, p| sum + *p);
        let middle = sum * (1.0 / touching.len() as f64);
        if best.is_none_or(|(known, _)| least < known - 0.05) {
            best = Some((least, on_outline(outline, middle).1));
        }
    }
    let (off, at) = best?;
    Some((off, on_outline(on.outline, at).1))
}

fn samples(line: &Loose) -> Vec<Point> {
    let mut points = Vec::new();
    for pair in line.flat.windows(2) {
        for k in 0..8 {
            points.push(pair[0] + (pair[1] - pair[0]) * (k as f64 / 8.0));
        }
    }
    // The corner at which a closed line starts counts once.
    if !line.is_closed {
        points.push(line.flat[line.flat.len() - 1]);
    }
    points
}

/// Whether a line is the bar of a T, whose stem ends in its middle: near a corner it touches an edge that it does not mark.
fn is_bar_of_a_t(on: &OnPiece<'_>, number: usize, line: &Loose) -> bool {
    let is_small = |line: &Loose| line.is_straight && (1.0..=25.0).contains(&line.length);
    is_small(line)
        && on.loose.iter().any(|(other, stem)| {
            *other != number
                && is_small(stem)
                && stem.ends().iter().any(|end| distance(*end, line.middle()) < 0.3)
                && angle_between(line.flat[1] - line.flat[0], stem.flat[1] - stem.flat[0]).sin().abs() > 0.9
        })
}

fn looks_like_one(on: &OnPiece<'_>, line: &Loose, at: Point) -> bool {
    let edge = direction_at(on.outline, at);
    let ends = line.ends();
    // A tick stands across the edge.
    has_shape(line) && (!line.is_straight || angle_between(edge, ends[1] - ends[0]).sin().abs() > 0.6)
}

/// Whether a line is small enough for a notch, and a tick, a triangle or a diamond.
pub(super) fn has_shape(line: &Loose) -> bool {
    let is_named = line.role() == Some(Role::Notch);
    if !(is_named || line.is_told_by_looks()) || line.length > LONGEST || line.length < 1.0 {
        return false;
    }
    if line.is_straight {
        return line.length <= 25.0;
    }
    let bounds = line.bounds();
    (line.is_closed && line.corners.len() <= 9 || line.corners.len() == 3)
        && bounds.width().max(bounds.height()) <= 20.0
}
