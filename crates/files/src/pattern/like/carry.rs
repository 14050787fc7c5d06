//! What is marked on an outline goes along when the outline changes: it stays on its edge, at the same share of it.
//!
//! A mark at a corner goes with the edge that ends there. Of an edge that another one took the place of, marks go to the new edge of the
//! same name, and stay where they are when there is none.

use ellwand_geometry::{EdgeShape, Point, distance, nearest_share, place_at_share};

use super::{
    super::{drawing_format::DrawingEntry, format::CoordinateUnit},
    outline::{Line, Outline, place, set},
};
use crate::{
    document::{At, Pair},
    limits::REACH,
};

/// How far a named point may, mm: coordinates are often written to a tenth of a millimetre, both of the curve and of the point.
const POINT_REACH: f64 = 0.25;

/// The notch or named point called `name`.
pub(super) fn mark<'d>(drawing: &'d DrawingEntry, name: &str) -> Option<&'d At<Pair>> {
    let points = drawing.points.iter().flat_map(|points| &points.value.0);
    let named = points.filter(|(of, _)| of.value == name).map(|(_, at)| at).next();
    let notches = drawing.notches.iter().flat_map(|notches| &notches.value);
    named.or_else(|| {
        let called = |of: &&_| -> bool {
            let of: &&At<super::super::drawing_format::NotchEntry> = of;
            of.value.name.as_ref().is_some_and(|of| of.value.0 == name)
        };
        notches.filter(called).find_map(|notch| notch.value.at.as_ref())
    })
}

/// The names of all notches and points.
pub(super) fn marks(drawing: &DrawingEntry) -> Vec<String> {
    let points = drawing.points.iter().flat_map(|points| points.value.names()).map(str::to_owned);
    let notches = drawing.notches.iter().flat_map(|notches| &notches.value);
    let notches = notches.filter_map(|notch| Some(notch.value.name.as_ref()?.value.0.clone()));
    points.chain(notches).collect()
}

/// Carries notches, points and the legs of darts in an edge from one outline to another.
pub(super) fn along(drawing: &mut DrawingEntry, was: &Outline, is: &Outline, unit: CoordinateUnit) {
    let carry = |at: &mut At<Pair>, reach: f64| {
        let p = place(at, unit);
        if let Some(by) = moved_by(p, was, is, reach / unit.mm()) {
            set(at, p + by, unit);
        }
    };
    for notch in drawing.notches.iter_mut().flat_map(|notches| &mut notches.value) {
        notch.value.at.iter_mut().for_each(|at| carry(at, REACH));
    }
    for (_, at) in drawing.points.iter_mut().flat_map(|points| &mut points.value.0) {
        carry(at, POINT_REACH);
    }
    for dart in drawing.darts.iter_mut().flat_map(|darts| &mut darts.value) {
        // Of a dart inside the piece nothing lies on the outline.
        if dart.value.point.is_some() {
            dart.value.legs.iter_mut().flat_map(|legs| &mut legs.value).for_each(|leg| carry(leg, REACH));
        }
    }
}

/// How far a mark on the old outline has moved on the new one; none of a mark that is not on it, or whose edge is gone.
fn moved_by(p: Point, was: &Outline, is: &Outline, reach: f64) -> Option<Point> {
    let mut nearest: Option<(f64, usize, f64)> = None;
    for (edge, line) in was.edges.iter().enumerate() {
        let from = was.corner(edge);
        if is_clear_of(from, line, p, reach) {
            continue;
        }
        let share = nearest_share(from, line.shape, line.to, p);
        let off = distance(place_at_share(from, line.shape, line.to, share), p);
        let nearer = nearest.is_none_or(|(best, ..)| off < best || (off == best && share == 1.0));
        if nearer && off <= reach {
            nearest = Some((off, edge, share));
        }
    }
    let (_, edge, share) = nearest?;
    let next = (edge + 1) % was.edges.len();
    let beyond = (share == 1.0).then_some((next, 0.0));
    std::iter::once((edge, share)).chain(beyond).find_map(|(edge, share)| {
        let there = there(edge, was, is)?;
        let at = |outline: &Outline, edge: usize| {
            place_at_share(outline.corner(edge), outline.edges[edge].shape, outline.edges[edge].to, share)
        };
        let by = at(is, there) - at(was, edge);
        Some(by)
    })
}

/// Whether an edge is out of reach, by a look at the points it is drawn with: a straight edge and a curve lie between them. An arc may not.
fn is_clear_of(from: Point, line: &Line, p: Point, reach: f64) -> bool {
    let mut drawn = vec![from, line.to];
    match line.shape {
        EdgeShape::Straight => {}
        EdgeShape::Cubic { first, second } => drawn.extend([first, second]),
        EdgeShape::Arc { .. } => return false,
    }
    let beyond = |of: fn(&Point) -> f64| {
        drawn.iter().all(|q| of(q) < of(&p) - reach) || drawn.iter().all(|q| of(q) > of(&p) + reach)
    };
    beyond(|q| q.x) || beyond(|q| q.y)
}

/// The edge of the new outline that an old one has become.
fn there(edge: usize, was: &Outline, is: &Outline) -> Option<usize> {
    let kept = is.edges.iter().position(|line| line.was == Some(edge));
    let name = was.edges[edge].name();
    let named = || is.edges.iter().position(|line| line.was.is_none() && !name.is_empty() && line.name() == name);
    kept.or_else(named)
}
