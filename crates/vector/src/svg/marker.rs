//! Markers: the arrow heads that stand at the ends of lines (SVG 2, 13.7).

use ellwand_geometry::EdgeShape;
use kurbo::{Affine, Point, Vec2};
use roxmltree::Node;

use super::viewport::{Along, Measures, fit, view_box};
use crate::Run;
use crate::pen::{Line, Lines};

/// Which end of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    Start,
    Finish,
}

/// An end of a line and the direction in which the line runs there, on the sheet.
pub(super) fn end_of(lines: &Lines, end: End) -> Option<(Point, Vec2)> {
    let point = |at: ellwand_geometry::Point| Point::new(at.x, at.y);
    match end {
        End::Start => {
            let line = lines.lines.first()?;
            let first = line.runs.first()?;
            Some((point(line.start), leaving(point(line.start), first)))
        }
        End::Finish => {
            let line = lines.lines.last()?;
            let last = line.runs.last()?;
            let from = before_last(line);
            Some((point(last.to), -leaving(point(last.to), &backwards(from, last))))
        }
    }
}

fn before_last(line: &Line) -> ellwand_geometry::Point {
    line.runs.len().checked_sub(2).map_or(line.start, |at| line.runs[at].to)
}

fn backwards(from: ellwand_geometry::Point, run: &Run) -> Run {
    let shape = match run.shape {
        EdgeShape::Cubic { first, second } => EdgeShape::Cubic { first: second, second: first },
        other => other,
    };
    Run { shape, to: from }
}

/// The direction in which a part leaves its start.
fn leaving(from: Point, run: &Run) -> Vec2 {
    let to = |at: ellwand_geometry::Point| Point::new(at.x, at.y) - from;
    match run.shape {
        EdgeShape::Straight => to(run.to),
        EdgeShape::Cubic { first, second } => {
            [first, second, run.to].map(to).into_iter().find(|way| way.hypot2() > 0.0).unwrap_or_default()
        }
        // Turned inside out about its start, the circle becomes a straight line along its tangent.
        EdgeShape::Arc { through } => {
            let inverted = |at: ellwand_geometry::Point| to(at) / to(at).hypot2();
            inverted(through) - inverted(run.to)
        }
    }
}

/// From the units of what is in a marker to those of the line it stands on. `way` is the direction of the line there, in the same units.
pub(super) fn placed(
    marker: Node,
    end: End,
    at: Point,
    way: Vec2,
    line_width: f64,
    measures: &Measures,
) -> Option<Affine> {
    let width = measures.attribute(marker, "markerWidth", Along::Width, 3.0);
    let height = measures.attribute(marker, "markerHeight", Along::Height, 3.0);
    if !(width > 0.0 && height > 0.0) {
        return None;
    }
    let angle = match marker.attribute("orient").map(str::trim) {
        Some("auto") => way.atan2(),
        Some("auto-start-reverse") => {
            if end == End::Start {
                (-way).atan2()
            } else {
                way.atan2()
            }
        }
        Some(text) => text.trim_end_matches("deg").parse::<f64>().unwrap_or(0.0).to_radians(),
        None => 0.0,
    };
    let scale = if marker.attribute("markerUnits") == Some("userSpaceOnUse") { 1.0 } else { line_width };
    let inner = view_box(marker).map_or(Affine::IDENTITY, |view| fit(view, marker, [width, height]));
    let reference = Point::new(
        measures.attribute(marker, "refX", Along::Width, 0.0),
        measures.attribute(marker, "refY", Along::Height, 0.0),
    );
    let shift = inner * reference;
    let map = Affine::translate(at.to_vec2())
        * Affine::rotate(angle)
        * Affine::scale(scale)
        * Affine::translate(-shift.to_vec2())
        * inner;
    map.is_finite().then_some(map)
}
