//! The outer border of a union of parts, and what of it lies on the piece's side of its folds.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use i_overlay::float::overlay::{FloatOverlay, OverlayOptions};

use super::tidy::{back_onto, tidied};
use super::{FoldEdge, direction};
use crate::outline::signed_area;
use crate::path::distance;
use crate::{Bounds, HAIR_MM, Point, point};

/// How far a part reaches over the line that it joins others at, mm. Parts that only touched there, but for a rounding error, would
/// be taken for separate shapes.
pub(super) const JOIN_MM: f64 = 1e-3;

/// How far from the ends of the line it begins to, mm, so that at sharp corners nothing looks out on the other side.
pub(super) const JOIN_INSET_MM: f64 = 10.0 * JOIN_MM;

/// The two points through which a part reaches over the segment from `a` to `b`, to the left of it, from `b` back to `a`.
pub(super) fn over(a: Point, b: Point) -> [Point; 2] {
    let (along, length) = (direction(a, b), distance(a, b));
    let (inset, into) = (JOIN_INSET_MM.min(length / 2.0), point(-along.y, along.x) * JOIN_MM);
    [b - along * inset + into, a + along * inset + into]
}

type Pairs = Vec<Vec<[f64; 2]>>;

fn pairs<'a>(rings: impl Iterator<Item = &'a Vec<Point>>) -> Pairs {
    rings.filter(|ring| ring.len() >= 3).map(|ring| ring.iter().map(|p| [p.x, p.y]).collect()).collect()
}

/// The outer rings of an overlay, counter-clockwise. The 64 bit engine's grid is finer than the spacing of `f64` over a
/// piece; its OGC shapes have an outer ring that does not touch itself.
fn outer_rings(subject: &Pairs, clip: &Pairs, rule: OverlayRule) -> Vec<Vec<Point>> {
    let options = OverlayOptions::<f64, i64>::ogc();
    FloatOverlay::<[f64; 2], i64>::from_subj_and_clip_custom(subject, clip, options, Solver::default())
        .overlay(rule, FillRule::NonZero)
        .into_iter()
        .filter_map(|shape| shape.into_iter().next())
        .map(|ring| ring.into_iter().map(|[x, y]| point(x, y)).collect::<Vec<_>>())
        .filter(|ring| ring.len() >= 3)
        .collect()
}

fn largest(rings: Vec<Vec<Point>>) -> Vec<Point> {
    let area = |ring: &Vec<Point>| signed_area(ring).abs();
    rings.into_iter().max_by(|a, b| area(a).total_cmp(&area(b))).unwrap_or_default()
}

/// The outer border of `body` and the counter-clockwise `parts` around it. Holes are filled.
pub(super) fn around(body: &Vec<Point>, parts: &[Vec<Point>]) -> Vec<Point> {
    let all = || std::iter::once(body).chain(parts);
    let mut ring = largest(outer_rings(&pairs(all()), &Vec::new(), OverlayRule::Subject));
    back_onto(all().flatten().copied(), &mut ring);
    tidied(ring)
}

/// The largest part of `body` outside of `taken`; `None` when nothing is left.
pub(super) fn apart_from(body: &Vec<Point>, taken: &Vec<Point>) -> Option<Vec<Point>> {
    overlaid(body, taken, OverlayRule::Difference)
}

/// The largest part that two rings have in common; `None` when there is none.
pub(super) fn common(body: &Vec<Point>, other: &Vec<Point>) -> Option<Vec<Point>> {
    overlaid(body, other, OverlayRule::Intersect)
}

fn overlaid(body: &Vec<Point>, other: &Vec<Point>, rule: OverlayRule) -> Option<Vec<Point>> {
    let mut ring = largest(outer_rings(&pairs(std::iter::once(body)), &pairs(std::iter::once(other)), rule));
    back_onto(body.iter().chain(other).copied(), &mut ring);
    (ring.len() >= 3).then_some(ring)
}

/// A contour that may cross itself as the simple rings of what it goes round, whichever way.
pub(super) fn simple_rings(contour: Vec<Point>) -> Vec<Vec<Point>> {
    outer_rings(&pairs(std::iter::once(&contour)), &Vec::new(), OverlayRule::Subject)
}

/// What of `ring` lies on this side of every fold line. A gap between the ring and a fold is filled: unfolded, it would be a
/// hole that allowances of both halves have closed.
pub(super) fn within(folds: &[FoldEdge], ring: Vec<Point>) -> Vec<Point> {
    if folds.is_empty() {
        return ring;
    }
    let bounds = Bounds::of(ring.iter().copied());
    let far = 4.0 * (bounds.width() + bounds.height());
    let beyond: Vec<Vec<Point>> = (folds.iter())
        .map(|fold| {
            let along = point(-fold.outward.y, fold.outward.x);
            let (a, b) = (fold.at - along * far, fold.at + along * far);
            vec![a, a + fold.outward * far, b + fold.outward * far, b]
        })
        .collect();
    let joints = folds.iter().map(|fold| [over(fold.at, fold.to), over(fold.to, fold.at)].concat());
    // The far side of each fold is filled first, so that what it closes in is a hole, and taken away again.
    let filled = around(&ring, &beyond.iter().cloned().chain(joints).collect::<Vec<_>>());
    let mut half =
        largest(outer_rings(&pairs(std::iter::once(&filled)), &pairs(beyond.iter()), OverlayRule::Difference));
    back_onto(ring.iter().copied(), &mut half);
    for p in &mut half {
        for fold in folds {
            let off = fold.beyond(*p);
            if off.abs() < HAIR_MM {
                *p = *p - fold.outward * off;
            }
        }
    }
    tidied(half)
}
