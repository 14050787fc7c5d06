//! Draws lines in the units and axes of a file and hands them out as strokes in mm on the sheet, arcs of circles kept as arcs.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use ellwand_geometry::{EdgeShape, point};
use kurbo::{Affine, Point, Vec2};

use crate::Run;

/// How far a curve that had to be put another way may leave the true one, mm.
pub(crate) const CURVE_TOLERANCE_MM: f64 = 1e-4;

/// Farthest a point may be from the corner of its sheet, mm: ten kilometres. What is farther is a slip or a trick.
pub(crate) const REACH_MM: f64 = 1e7;

/// Ends so near to each other are one, mm: they differ by rounding alone.
const SAME_MM: f64 = 1e-7;

/// Largest radius kept as an arc, mm; flatter arcs are as good as cubics.
const LARGEST_RADIUS_MM: f64 = 9e5;

/// An arc that leaves its chord by less is straight, mm.
const FLAT_MM: f64 = 1e-9;

/// How far the usual cubic leaves a quarter of a circle of radius 1. An arc of another angle `a` is missed by this times `(a / 90°)^6`.
const QUARTER_ERROR: f64 = 2.8e-4;

/// A line as it was drawn; see [`Stroke`](crate::Stroke).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    pub(crate) start: ellwand_geometry::Point,
    pub(crate) runs: Vec<Run>,
    pub(crate) closed: bool,
}

/// All lines of one shape.
#[derive(Debug, Default)]
pub(crate) struct Lines {
    /// Those that have a length.
    pub(crate) lines: Vec<Line>,
    /// How many had none.
    pub(crate) without_length: usize,
    /// Whether a point was farther than [`REACH_MM`], or no number. The lines are then of no use.
    pub(crate) is_out_of_reach: bool,
    /// Parts of all lines, also of those that were too many to be kept.
    pub(crate) run_count: usize,
    /// All lines, also those that were too many to be kept.
    pub(crate) line_count: usize,
}

/// How much a pen keeps; what is past it is only counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Budget {
    pub(crate) runs: usize,
    pub(crate) lines: usize,
}

#[cfg(test)]
impl Budget {
    /// As much as there is.
    pub(crate) const ENDLESS: Self = Self { runs: usize::MAX, lines: usize::MAX };
}

/// A pen. Points are given as in the file.
pub(crate) struct Pen {
    /// From the file to the sheet.
    map: Affine,
    at: Point,
    begun: Point,
    line: Option<Line>,
    drawn: Lines,
    budget: Budget,
}

impl Pen {
    pub(crate) fn new(map: Affine, budget: Budget) -> Self {
        Self { map, at: Point::ZERO, begun: Point::ZERO, line: None, drawn: Lines::default(), budget }
    }

    /// Whether more has been drawn than can be kept, so that going on is of no use.
    pub(crate) fn is_full(&self) -> bool {
        self.drawn.run_count > self.budget.runs || self.drawn.line_count > self.budget.lines
    }

    /// Where the pen is.
    pub(crate) fn at(&self) -> Point {
        self.at
    }

    pub(crate) fn move_to(&mut self, to: Point) {
        self.lift();
        (self.at, self.begun) = (to, to);
        let start = self.mapped(to);
        self.line = Some(Line { start, runs: Vec::new(), closed: false });
    }

    pub(crate) fn line_to(&mut self, to: Point) {
        let end = self.mapped(to);
        self.push(EdgeShape::Straight, end);
        self.at = to;
    }

    pub(crate) fn cubic_to(&mut self, first: Point, second: Point, to: Point) {
        let (first, second, end) = (self.mapped(first), self.mapped(second), self.mapped(to));
        self.push(EdgeShape::Cubic { first, second }, end);
        self.at = to;
    }

    pub(crate) fn quadratic_to(&mut self, control: Point, to: Point) {
        let towards = |from: Point| from + (control - from) * (2.0 / 3.0);
        self.cubic_to(towards(self.at), towards(to), to);
    }

    /// An arc on the ellipse that `frame` makes of the circle of radius 1 around (0, 0): from the angle `from` on, radians, over `sweep`
    /// (at most a full turn either way), to `to`, which is known better than it could be worked out.
    pub(crate) fn arc_to(&mut self, frame: Affine, from: f64, sweep: f64, to: Point) {
        let sweep = sweep.clamp(-TAU, TAU);
        let on = self.map * frame;
        let [a, b, c, d, ..] = on.as_coeffs();
        let (across, along) = (Vec2::new(a, b), Vec2::new(c, d));
        let radius = across.hypot().max(along.hypot());
        if !radius.is_finite() || !sweep.is_finite() || !from.is_finite() {
            self.drawn.is_out_of_reach = true;
            return;
        }
        let end = self.mapped(to);
        let is_round = (across.hypot() - along.hypot()).abs() <= 1e-9 * radius
            && across.dot(along).abs() <= 1e-9 * radius * radius;
        let unit = |angle: f64| on * Point::new(angle.cos(), angle.sin());
        if is_round && radius <= LARGEST_RADIUS_MM {
            let parts = (sweep.abs() / PI - 1e-12).ceil().max(1.0);
            let step = sweep / parts;
            for part in 0..parts as usize {
                let begin = from + step * part as f64;
                let to = if part + 1 == parts as usize { end } else { on_sheet(unit(begin + step)) };
                let through = self.reached(unit(begin + step / 2.0));
                let is_flat = radius * (1.0 - (step / 2.0).cos()) < FLAT_MM;
                self.push(if is_flat { EdgeShape::Straight } else { EdgeShape::Arc { through } }, to);
            }
        } else {
            let mut cubics = Vec::new();
            unit_arc_cubics(on, from, sweep, radius, CURVE_TOLERANCE_MM, |first, second, to| {
                cubics.push((first, second, to))
            });
            let count = cubics.len();
            for (at, (first, second, to)) in cubics.into_iter().enumerate() {
                let [first, second, to] = [first, second, to].map(|at| self.reached(at));
                self.push(EdgeShape::Cubic { first, second }, if at + 1 == count { end } else { to });
            }
        }
        self.at = to;
    }

    /// An arc of a circle to `to` that leaves the chord by `bulge` times half its length, to the right for a positive one: the tangent of a
    /// quarter of the angle that it spans (DXF, group 42).
    pub(crate) fn bulge_to(&mut self, to: Point, bulge: f64) {
        let chord = to - self.at;
        if bulge == 0.0 || chord.hypot() == 0.0 {
            return self.line_to(to);
        }
        let to_centre = Vec2::new(-chord.y, chord.x) * ((1.0 - bulge * bulge) / (4.0 * bulge));
        let radius = chord.hypot() * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
        if !radius.is_finite() || !to_centre.is_finite() || radius > 1e12 * chord.hypot() {
            return self.line_to(to);
        }
        let centre = self.at.midpoint(to) + to_centre;
        let from = (self.at - centre).atan2();
        self.arc_to(Affine::translate(centre.to_vec2()) * Affine::scale(radius), from, 4.0 * bulge.atan(), to);
    }

    /// Back to where the line began, and on from there.
    pub(crate) fn close(&mut self) {
        let Some(mut line) = self.line.take() else { return };
        if let Some(last) = line.runs.last_mut() {
            let gap = (last.to.x - line.start.x).hypot(last.to.y - line.start.y);
            if gap <= SAME_MM {
                last.to = line.start;
            } else {
                line.runs.push(Run { shape: EdgeShape::Straight, to: line.start });
            }
            let before = line.runs.len().checked_sub(2).map_or(line.start, |at| line.runs[at].to);
            let is_straight = line.runs.last().is_some_and(|last| last.shape == EdgeShape::Straight);
            if is_straight && before == line.start {
                line.runs.pop();
            }
        }
        line.closed = true;
        self.at = self.begun;
        self.keep(line);
    }

    /// All that was drawn.
    pub(crate) fn finish(mut self) -> Lines {
        self.lift();
        self.drawn
    }

    fn lift(&mut self) {
        if let Some(line) = self.line.take() {
            self.keep(line);
        }
    }

    fn keep(&mut self, mut line: Line) {
        if line.runs.is_empty() {
            self.drawn.without_length += 1;
            return;
        }
        self.drawn.line_count += 1;
        if self.drawn.line_count <= self.budget.lines {
            line.runs.shrink_to_fit();
            self.drawn.lines.push(line);
        }
    }

    fn push(&mut self, shape: EdgeShape, to: ellwand_geometry::Point) {
        let begun = self.begun;
        if self.line.is_none() {
            let start = self.mapped(begun);
            self.line = Some(Line { start, runs: Vec::new(), closed: false });
        }
        let Some(line) = &mut self.line else { return };
        let from = line.runs.last().map_or(line.start, |run| run.to);
        let has_length = match shape {
            EdgeShape::Straight | EdgeShape::Arc { .. } => from != to,
            EdgeShape::Cubic { first, second } => [first, second, to].iter().any(|&at| at != from),
        };
        if !has_length {
            return;
        }
        self.drawn.run_count += 1;
        if self.drawn.run_count <= self.budget.runs {
            line.runs.push(Run { shape, to });
        }
    }

    fn mapped(&mut self, at: Point) -> ellwand_geometry::Point {
        self.reached(self.map * at)
    }

    /// A point on the sheet, which must not be too far away.
    fn reached(&mut self, at: Point) -> ellwand_geometry::Point {
        // Not a number is no less than the reach either.
        if !(at.x.abs() <= REACH_MM && at.y.abs() <= REACH_MM) {
            self.drawn.is_out_of_reach = true;
        }
        on_sheet(at)
    }
}

/// Cubics that follow part of the ellipse that `on` makes of the circle of radius 1, within a tolerance. `radius` is the longer one of
/// the ellipse. Each is handed over as its control points and its end.
pub(crate) fn unit_arc_cubics(
    on: Affine,
    from: f64,
    sweep: f64,
    radius: f64,
    tolerance: f64,
    mut cubic: impl FnMut(Point, Point, Point),
) {
    let finer = (QUARTER_ERROR * radius / tolerance).max(1.0).powf(1.0 / 6.0);
    let parts = (sweep.abs() / FRAC_PI_2 * finer).ceil().max(1.0);
    let step = sweep / parts;
    let reach = 4.0 / 3.0 * (step / 4.0).tan();
    for part in 0..parts as usize {
        let (begin, stop) = (from + step * part as f64, from + step * (part + 1) as f64);
        let first = Point::new(begin.cos() - reach * begin.sin(), begin.sin() + reach * begin.cos());
        let second = Point::new(stop.cos() + reach * stop.sin(), stop.sin() - reach * stop.cos());
        cubic(on * first, on * second, on * Point::new(stop.cos(), stop.sin()));
    }
}

fn on_sheet(at: Point) -> ellwand_geometry::Point {
    point(at.x, at.y)
}

/// How much longer a map makes things, on the whole.
pub(crate) fn scale_of(map: Affine) -> f64 {
    map.determinant().abs().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arc(frame: Affine, map: Affine, from: f64, sweep: f64) -> Line {
        let mut pen = Pen::new(map, Budget::ENDLESS);
        let on = |angle: f64| frame * Point::new(angle.cos(), angle.sin());
        pen.move_to(on(from));
        pen.arc_to(frame, from, sweep, on(from + sweep));
        pen.finish().lines.remove(0)
    }

    #[test]
    fn a_circle_stays_round_when_it_is_turned_and_mirrored() {
        let map = Affine::rotate(0.7) * Affine::scale_non_uniform(-3.0, 3.0) * Affine::translate((5.0, 1.0));
        let line = arc(Affine::scale(10.0), map, 0.3, TAU);
        assert_eq!(line.runs.len(), 2);
        let centre = map * Point::ZERO;
        for run in &line.runs {
            let EdgeShape::Arc { through } = run.shape else { panic!("{run:?}") };
            for at in [through, run.to] {
                assert!(((at.x - centre.x).hypot(at.y - centre.y) - 30.0).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn an_ellipse_is_met_within_the_tolerance() {
        for width in [1.0, 50.0, 3000.0] {
            let line = arc(Affine::IDENTITY, Affine::scale_non_uniform(width, width / 3.0), 1.0, -5.0);
            let mut from = line.start;
            for run in &line.runs {
                let EdgeShape::Cubic { first, second } = run.shape else { panic!("{run:?}") };
                let [a, b, c, d] = [from, first, second, run.to].map(|at| Point::new(at.x, at.y));
                for step in 0..=20 {
                    let at = kurbo::ParamCurve::eval(&kurbo::CubicBez::new(a, b, c, d), f64::from(step) / 20.0);
                    // On the unit circle before it was stretched.
                    let off = ((at.x / width).hypot(at.y * 3.0 / width) - 1.0).abs() * width;
                    assert!(off <= CURVE_TOLERANCE_MM, "{width}: {off}");
                }
                from = run.to;
            }
        }
    }

    #[test]
    fn bulges_are_arcs_of_at_most_half_a_turn() {
        let mut pen = Pen::new(Affine::IDENTITY, Budget::ENDLESS);
        pen.move_to(Point::ZERO);
        pen.bulge_to(Point::new(10.0, 0.0), 1.0);
        pen.bulge_to(Point::new(0.0, 0.0), -0.5);
        pen.bulge_to(Point::new(10.0, 0.0), 3.0);
        pen.bulge_to(Point::new(20.0, 0.0), 1e-15);
        let runs = pen.finish().lines.remove(0).runs;
        // Half a circle, counter-clockwise, goes below its chord.
        let EdgeShape::Arc { through } = runs[0].shape else { panic!() };
        assert!((through.x - 5.0).abs() < 1e-12 && (through.y + 5.0).abs() < 1e-12);
        let EdgeShape::Arc { through } = runs[1].shape else { panic!() };
        assert!((through.x - 5.0).abs() < 1e-12 && (through.y + 2.5).abs() < 1e-12);
        // More than half a turn comes in two parts, which meet at the top of the arc.
        assert!((runs[2].to.x - 5.0).abs() < 1e-9 && (runs[2].to.y + 15.0).abs() < 1e-9);
        assert_eq!(runs[4].shape, EdgeShape::Straight);
        assert_eq!(runs.len(), 5);
    }

    #[test]
    fn closing_leaves_no_hair() {
        let mut pen = Pen::new(Affine::IDENTITY, Budget::ENDLESS);
        pen.move_to(Point::ZERO);
        pen.line_to(Point::new(1.0, 0.0));
        pen.line_to(Point::new(1.0, 1.0));
        pen.line_to(Point::new(1e-12, 0.0));
        pen.close();
        pen.line_to(Point::new(5.0, 5.0));
        pen.move_to(Point::new(3.0, 3.0));
        pen.move_to(Point::new(f64::NAN, 3.0));
        let drawn = pen.finish();
        assert_eq!(drawn.lines[0].runs.len(), 3);
        assert_eq!(drawn.lines[0].runs[2].to, point(0.0, 0.0));
        assert_eq!((drawn.lines[1].start, drawn.lines[1].closed), (point(0.0, 0.0), false));
        assert_eq!(drawn.without_length, 2);
        assert!(drawn.is_out_of_reach);
    }
}
