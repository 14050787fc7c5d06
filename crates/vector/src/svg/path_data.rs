//! The path data of SVG (SVG 2, 9.3): each command drawn with the pen, arcs as arcs.

use kurbo::{Affine, Point, Vec2};
use svgtypes::{PathParser, PathSegment};

use crate::pen::Pen;

/// Whether path data was sound to its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Soundness {
    Sound,
    /// It has a fault; what comes before it is drawn, as SVG demands.
    BreaksOff,
}

/// Draws path data.
pub(super) fn draw(data: &str, pen: &mut Pen) -> Soundness {
    // The control point that a smooth curve mirrors, if the command before was a curve of its kind.
    let mut cubic: Option<Point> = None;
    let mut quadratic: Option<Point> = None;
    for segment in PathParser::from(data) {
        let Ok(segment) = segment else { return Soundness::BreaksOff };
        if pen.is_full() {
            break;
        }
        let at = pen.at();
        let to = |abs: bool, x: f64, y: f64| if abs { Point::new(x, y) } else { at + Vec2::new(x, y) };
        let mirrored = |control: Option<Point>| control.map_or(at, |control| at + (at - control));
        let (mut next_cubic, mut next_quadratic) = (None, None);
        match segment {
            PathSegment::MoveTo { abs, x, y } => pen.move_to(to(abs, x, y)),
            PathSegment::LineTo { abs, x, y } => pen.line_to(to(abs, x, y)),
            PathSegment::HorizontalLineTo { abs, x } => pen.line_to(Point::new(if abs { x } else { at.x + x }, at.y)),
            PathSegment::VerticalLineTo { abs, y } => pen.line_to(Point::new(at.x, if abs { y } else { at.y + y })),
            PathSegment::CurveTo { abs, x1, y1, x2, y2, x, y } => {
                let second = to(abs, x2, y2);
                pen.cubic_to(to(abs, x1, y1), second, to(abs, x, y));
                next_cubic = Some(second);
            }
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                let second = to(abs, x2, y2);
                pen.cubic_to(mirrored(cubic), second, to(abs, x, y));
                next_cubic = Some(second);
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => {
                let control = to(abs, x1, y1);
                pen.quadratic_to(control, to(abs, x, y));
                next_quadratic = Some(control);
            }
            PathSegment::SmoothQuadratic { abs, x, y } => {
                let control = mirrored(quadratic);
                pen.quadratic_to(control, to(abs, x, y));
                next_quadratic = Some(control);
            }
            PathSegment::EllipticalArc { abs, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
                let arc =
                    SvgArc { radii: [rx.abs(), ry.abs()], turned: x_axis_rotation.to_radians(), large_arc, sweep };
                arc.draw(to(abs, x, y), pen);
            }
            PathSegment::ClosePath { .. } => pen.close(),
        }
        (cubic, quadratic) = (next_cubic, next_quadratic);
    }
    Soundness::Sound
}

struct SvgArc {
    radii: [f64; 2],
    turned: f64,
    large_arc: bool,
    sweep: bool,
}

impl SvgArc {
    /// From the ends to the centre (SVG 2, B.2.4; radii too small are enlarged, B.2.5).
    fn draw(&self, to: Point, pen: &mut Pen) {
        let from = pen.at();
        let [mut rx, mut ry] = self.radii;
        if from == to {
            return;
        }
        if rx == 0.0 || ry == 0.0 {
            return pen.line_to(to);
        }
        let half = Affine::rotate(-self.turned) * ((from - to) / 2.0).to_point();
        let excess = (half.x / rx).powi(2) + (half.y / ry).powi(2);
        // Where rounding alone decides, half an ellipse it is.
        let is_half = excess > 1.0 - 1e-12;
        if excess > 1.0 {
            rx *= excess.sqrt();
            ry *= excess.sqrt();
        }
        let share = if is_half { 0.0 } else { (1.0 / excess - 1.0).max(0.0).sqrt() };
        let side = if self.large_arc == self.sweep { -share } else { share };
        let centre = Point::new(side * rx * half.y / ry, -side * ry * half.x / rx);
        let angle = |x: f64, y: f64| ((y - centre.y) / ry).atan2((x - centre.x) / rx);
        let begin = angle(half.x, half.y);
        let mut swept = angle(-half.x, -half.y) - begin;
        let turn = std::f64::consts::TAU;
        if self.sweep && swept <= 0.0 {
            swept += turn;
        } else if !self.sweep && swept >= 0.0 {
            swept -= turn;
        }
        let middle = from.midpoint(to).to_vec2();
        let frame = Affine::translate(middle)
            * Affine::rotate(self.turned)
            * Affine::translate(centre.to_vec2())
            * Affine::scale_non_uniform(rx, ry);
        pen.arc_to(frame, begin, swept, to);
    }
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::EdgeShape;

    use super::*;
    use crate::pen::{Budget, Line};

    fn drawn(data: &str) -> (Vec<Line>, Soundness) {
        let mut pen = Pen::new(Affine::IDENTITY, Budget::ENDLESS);
        let soundness = draw(data, &mut pen);
        (pen.finish().lines, soundness)
    }

    fn ends(line: &Line) -> Vec<[f64; 2]> {
        line.runs.iter().map(|run| [run.to.x, run.to.y]).collect()
    }

    #[test]
    fn straight_commands_in_both_ways_to_say_them() {
        let (lines, soundness) = drawn("M10-20l30.1.5.1-20z m1 1 H5 h2 V7 v-1 4");
        assert_eq!(soundness, Soundness::Sound);
        assert_eq!(ends(&lines[0]), [[40.1, -19.5], [40.2, -39.5], [10.0, -20.0]]);
        assert!(lines[0].closed);
        assert_eq!((lines[1].start.x, lines[1].start.y), (11.0, -19.0));
        assert_eq!(ends(&lines[1]), [[5.0, -19.0], [7.0, -19.0], [7.0, 7.0], [7.0, 6.0], [7.0, 10.0]]);
    }

    #[test]
    fn smooth_curves_mirror_the_control_point_before_them() {
        let (lines, _) = drawn("M0 0 C0 10 10 10 10 0 S20-10 20 0 s10 10 10 0");
        let EdgeShape::Cubic { first, .. } = lines[0].runs[1].shape else { panic!() };
        assert_eq!((first.x, first.y), (10.0, -10.0));
        let (lines, _) = drawn("M0 0 Q5 10 10 0 T20 0 t10 0 S35 5 40 0");
        let EdgeShape::Cubic { second, .. } = lines[0].runs[1].shape else { panic!() };
        // The mirrored control point is (15, -10).
        assert!((second.x - (20.0 - 10.0 / 3.0)).abs() < 1e-12 && (second.y + 20.0 / 3.0).abs() < 1e-12);
        // After a quadratic a smooth cubic has nothing to mirror.
        let EdgeShape::Cubic { first, .. } = lines[0].runs[3].shape else { panic!() };
        assert_eq!((first.x, first.y), (30.0, 0.0));
    }

    #[test]
    fn arcs_take_the_way_their_flags_say() {
        // From (0, 0) to (10, 10) on circles of radius 10: centres (10, 0) and (0, 10).
        let through = |flags: &str| {
            let (lines, _) = drawn(&format!("M0 0A10 10 0 {flags} 10 10"));
            let EdgeShape::Arc { through } = lines[0].runs[0].shape else { panic!() };
            (lines[0].runs.len(), [through.x, through.y])
        };
        let near = |a: (usize, [f64; 2]), b: (usize, [f64; 2])| {
            a.0 == b.0 && (0..2).all(|at| (a.1[at] - b.1[at]).abs() < 1e-9)
        };
        let d = 10.0 / 2.0_f64.sqrt();
        assert!(near(through("0 0"), (1, [10.0 - d, d])), "{:?}", through("0 0"));
        assert!(near(through("0 1"), (1, [d, 10.0 - d])));
        // Three quarters of a turn in two parts of three eighths each.
        let eighth = std::f64::consts::PI * 3.0 / 8.0;
        assert!(near(through("10"), (2, [-10.0 * eighth.sin(), 10.0 - 10.0 * eighth.cos()])), "{:?}", through("10"));
        assert_eq!(through("11").0, 2);
    }

    #[test]
    fn radii_too_small_are_enlarged_to_half_a_turn() {
        let (lines, _) = drawn("M0 0a1 1 0 0 1 20 0 a0 5 0 0 1 5 5 a5 5 0 1 1 0 0");
        let EdgeShape::Arc { through } = lines[0].runs[0].shape else { panic!() };
        assert!((through.x - 10.0).abs() < 1e-9 && (through.y + 10.0).abs() < 1e-9);
        assert_eq!(lines[0].runs[1].shape, EdgeShape::Straight);
        assert_eq!(lines[0].runs.len(), 2);
    }

    #[test]
    fn what_comes_before_a_fault_is_drawn() {
        let (lines, soundness) = drawn("M0 0L10 0 L10 banana");
        assert_eq!((lines[0].runs.len(), soundness), (1, Soundness::BreaksOff));
        assert_eq!(drawn("L10 10").1, Soundness::BreaksOff);
    }
}
