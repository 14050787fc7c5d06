//! The outline of a drawing while it is changed, in the unit of the drawing, edge by edge with what the file says of each.

use std::ops::Range;

use ellwand_geometry::{EdgeShape, Point, point};

use super::super::{
    drawing_format::{DrawingEntry, EdgeEntry},
    format::CoordinateUnit,
};
use crate::{
    document::{At, Coordinate, Pair},
    fault::DocumentFault,
    findings::Findings,
    limits::FARTHEST,
};

/// Changed coordinates are rounded to this part of the unit: far below any thread, and a piece that is written out by hand has the same
/// ones to the bit.
const PARTS: f64 = 1e9;

/// An outline.
#[derive(Clone)]
pub(super) struct Outline {
    pub(super) start: Point,
    pub(super) edges: Vec<Line>,
}

/// One edge of it.
#[derive(Clone)]
pub(super) struct Line {
    /// What the file says of it, its coordinates aside.
    pub(super) entry: At<EdgeEntry>,
    pub(super) to: Point,
    pub(super) shape: EdgeShape,
    /// Its number in the outline of the other piece; none of a new one.
    pub(super) was: Option<usize>,
}

impl Line {
    /// Its name; empty when it has none.
    pub(super) fn name(&self) -> &str {
        self.entry.value.name.as_ref().map_or("", |name| &name.value.0)
    }
}

impl Outline {
    /// The outline of a drawing; none when a part of it is missing or too far out, which is told when the other piece is drawn.
    pub(super) fn of(drawing: &DrawingEntry, unit: CoordinateUnit) -> Option<Self> {
        let start = in_reach(drawing.start.as_ref()?, unit)?;
        let entries = &drawing.edges.as_ref()?.value;
        let edges: Option<Vec<Line>> =
            entries.iter().enumerate().map(|(number, entry)| line(entry, Some(number), unit)).collect();
        let edges = edges.filter(|edges| !edges.is_empty())?;
        Some(Self { start, edges })
    }

    /// Where an edge starts.
    pub(super) fn corner(&self, edge: usize) -> Point {
        match edge {
            0 => self.start,
            k => self.edges[k - 1].to,
        }
    }

    /// All names of edges, in order.
    pub(super) fn names(&self) -> Vec<String> {
        self.edges.iter().map(|edge| edge.name().to_owned()).filter(|name| !name.is_empty()).collect()
    }

    /// The number of the first edge of a name.
    pub(super) fn find(&self, name: &str) -> Option<usize> {
        self.edges.iter().position(|edge| edge.name() == name)
    }

    /// Puts the outline into the drawing. Coordinates that are as they were stay written as they were.
    pub(super) fn put_into(self, drawing: &mut DrawingEntry, place: &Range<usize>, unit: CoordinateUnit) {
        if let Some(start) = &mut drawing.start {
            set(start, self.start, unit);
        }
        let sound = drawing.edges.as_ref().is_none_or(|edges| edges.sound);
        let edges = self.edges.into_iter().map(|line| {
            let mut entry = line.entry;
            if let Some(to) = &mut entry.value.to {
                set(to, line.to, unit);
            } else {
                entry.value.to = Some(At { value: bare(line.to), span: entry.span.clone(), sound: true });
            }
            match (line.shape, &mut entry.value.curve, &mut entry.value.arc) {
                (EdgeShape::Cubic { first, second }, Some(curve), _) => {
                    curve.value.iter_mut().zip([first, second]).for_each(|(pair, p)| set(pair, p, unit));
                }
                (EdgeShape::Arc { through }, _, Some(arc)) => set(arc, through, unit),
                _ => {}
            }
            entry
        });
        drawing.edges = Some(At { value: edges.collect(), span: place.clone(), sound });
    }
}

/// An edge as the file has it.
pub(super) fn line(entry: &At<EdgeEntry>, was: Option<usize>, unit: CoordinateUnit) -> Option<Line> {
    let of = &entry.value;
    let shape = match (&of.curve, &of.arc) {
        (Some(curve), None) => {
            let [first, second] = curve.value.as_slice() else { return None };
            EdgeShape::Cubic { first: in_reach(first, unit)?, second: in_reach(second, unit)? }
        }
        (None, Some(arc)) => EdgeShape::Arc { through: in_reach(arc, unit)? },
        (None, None) => EdgeShape::Straight,
        (Some(_), Some(_)) => return None,
    };
    Some(Line { entry: entry.clone(), to: in_reach(of.to.as_ref()?, unit)?, shape, was })
}

/// A pair in the unit of the drawing.
pub(super) fn place(pair: &At<Pair>, unit: CoordinateUnit) -> Point {
    let [x, y] = pair.value.0.map(|coordinate| match coordinate {
        Coordinate::Bare(number) => number,
        Coordinate::Length(mm) => mm / unit.mm(),
    });
    point(x, y)
}

/// The same, unless it is further out than any drawing.
fn in_reach(pair: &At<Pair>, unit: CoordinateUnit) -> Option<Point> {
    let p = place(pair, unit);
    (p.x.abs().max(p.y.abs()) * unit.mm() <= FARTHEST).then_some(p)
}

/// The same of what a piece says itself, with the fault noted.
pub(super) fn own_place(pair: &At<Pair>, unit: CoordinateUnit, findings: &mut Findings) -> Option<Point> {
    let found = in_reach(pair, unit);
    if found.is_none() {
        let found = findings.source().at(&pair.span).to_owned();
        findings.add(&pair.span, DocumentFault::BadCoordinate { found });
    }
    found
}

/// Puts a place where a pair is; a coordinate that is as it was stays written as it was.
pub(super) fn set(pair: &mut At<Pair>, p: Point, unit: CoordinateUnit) {
    let was = place(pair, unit);
    let [x, y] = &mut pair.value.0;
    if was.x != p.x {
        *x = Coordinate::Bare(rounded(p.x));
    }
    if was.y != p.y {
        *y = Coordinate::Bare(rounded(p.y));
    }
}

/// A place as a pair.
pub(super) fn bare(p: Point) -> Pair {
    Pair([Coordinate::Bare(rounded(p.x)), Coordinate::Bare(rounded(p.y))])
}

fn rounded(number: f64) -> f64 {
    (number * PARTS).round() / PARTS
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moved_coordinate_is_the_one_that_would_be_written() {
        // 12.3 + 8 and 20.3 differ in their last bit, as do many sums of decimals.
        for tenths in -3000..3000 {
            let (at, by) = (f64::from(tenths) / 10.0, 16.7);
            let written = f64::from(tenths + 167) / 10.0;
            assert_eq!(rounded(at + by), written);
        }
    }

    #[test]
    fn what_does_not_move_stays_as_it_is_written() {
        let pair = |value| At { value: Pair(value), span: 0..0, sound: true };
        let mut kept = pair([Coordinate::Length(10.0), Coordinate::Bare(0.123_456_789_123)]);
        let was = kept.value;
        let there = place(&kept, CoordinateUnit::In);
        set(&mut kept, there, CoordinateUnit::In);
        assert_eq!(kept.value, was);
        set(&mut kept, point(there.x, 2.0), CoordinateUnit::In);
        assert_eq!(kept.value, Pair([Coordinate::Length(10.0), Coordinate::Bare(2.0)]));
    }
}
