//! Strokes, texts and dots as entities.

use ellwand_geometry::{EdgeShape, Point, point};
use kurbo::{CubicBez, ParamCurve};

use super::CurvesAs;
use super::names::Names;
use super::pairs::{Out, Release, encoded};
use crate::arc::{Arc, bulge};
use crate::dxf::colour::nearest;
use crate::{Colour, Dot, Origin, Stroke, Style, Text};

/// Most straight parts that one curve is made of.
const MOST_PARTS: f64 = 10_000.0;

/// How far a cubic may leave the arc that it stands for, mm.
const ARC_TOLERANCE_MM: f64 = 1e-5;

/// Widths of lines that the format knows, in hundredths of a mm (DXF reference, group 370).
const WEIGHTS: [i64; 24] =
    [0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211];

/// Writes entities of one owner.
pub(super) struct Entities<'a> {
    pub(super) names: &'a Names,
    pub(super) curves: CurvesAs,
    /// The record of the block they lie in.
    pub(super) owner: u64,
    /// How far everything is moved.
    pub(super) shift: Point,
}

impl Entities<'_> {
    fn begin(&self, out: &mut Out, kind: &str, origin: &Origin, style: Option<&Style>) {
        out.begin(kind, None, self.owner);
        out.class("AcDbEntity");
        out.pair(8, self.names.layer(origin));
        let Some(style) = style else { return };
        if let Some(name) = self.names.line_type(style) {
            out.pair(6, name);
        } else {
            out.pair(6, "CONTINUOUS");
        }
        let colour = style.line.or(style.fill).unwrap_or(Colour([0, 0, 0]));
        let (index, is_exact) = nearest(colour);
        out.whole(62, index.into());
        if out.release == Release::Of2004 {
            let weight = (style.width * 100.0).round() as i64;
            out.whole(370, WEIGHTS.into_iter().min_by_key(|known| (known - weight).abs()).unwrap_or(0));
            if !is_exact {
                let [red, green, blue] = colour.0.map(i64::from);
                out.whole(420, red << 16 | green << 8 | blue);
            }
        }
    }

    fn placed(&self, at: Point) -> Point {
        at + self.shift
    }

    pub(super) fn stroke(&self, out: &mut Out, stroke: &Stroke) {
        if let ([run], false) = (stroke.runs.as_slice(), stroke.closed)
            && run.shape == EdgeShape::Straight
        {
            self.begin(out, "LINE", &stroke.origin, Some(&stroke.style));
            out.class("AcDbLine");
            for (code, at) in [(10, stroke.start), (11, run.to)] {
                out.point(code, self.placed(at));
                out.number(code + 20, 0.0);
            }
            return;
        }
        let has_cubic = stroke.runs.iter().any(|run| matches!(run.shape, EdgeShape::Cubic { .. }));
        match self.curves {
            CurvesAs::Splines if has_cubic => self.spline(out, stroke),
            CurvesAs::Splines => self.polyline(out, stroke, ARC_TOLERANCE_MM),
            CurvesAs::Lines { tolerance } => self.polyline(out, stroke, tolerance),
        }
    }

    fn polyline(&self, out: &mut Out, stroke: &Stroke, tolerance: f64) {
        let vertices = self.vertices(stroke, tolerance);
        if out.release == Release::Of2004 {
            self.begin(out, "LWPOLYLINE", &stroke.origin, Some(&stroke.style));
            out.class("AcDbPolyline");
            out.whole(90, vertices.len() as i64);
            out.whole(70, stroke.closed.into());
            for (at, bulge) in vertices {
                out.point(10, at);
                if bulge != 0.0 {
                    out.exact(42, bulge);
                }
            }
            return;
        }
        self.begin(out, "POLYLINE", &stroke.origin, Some(&stroke.style));
        out.whole(66, 1);
        out.point(10, point(0.0, 0.0));
        out.number(30, 0.0);
        out.whole(70, stroke.closed.into());
        for (at, bulge) in vertices {
            self.begin(out, "VERTEX", &stroke.origin, None);
            out.point(10, at);
            out.number(30, 0.0);
            if bulge != 0.0 {
                out.exact(42, bulge);
            }
        }
        self.begin(out, "SEQEND", &stroke.origin, None);
    }

    /// Vertices, each with the bulge of what follows it. The closing line of a closed stroke goes without saying.
    fn vertices(&self, stroke: &Stroke, tolerance: f64) -> Vec<(Point, f64)> {
        let mut vertices = vec![(self.placed(stroke.start), 0.0)];
        let mut from = stroke.start;
        for run in &stroke.runs {
            match run.shape {
                EdgeShape::Straight => {}
                EdgeShape::Arc { through } => {
                    if let Some(last) = vertices.last_mut() {
                        last.1 = bulge(from, through, run.to).unwrap_or(0.0);
                    }
                }
                EdgeShape::Cubic { first, second } => {
                    let cubic = cubic([from, first, second, run.to]);
                    let parts = parts(&cubic, tolerance);
                    let inner = (1..parts).map(|part| cubic.eval(part as f64 / parts as f64));
                    vertices.extend(inner.map(|at| (self.placed(point(at.x, at.y)), 0.0)));
                }
            }
            vertices.push((self.placed(run.to), 0.0));
            from = run.to;
        }
        if stroke.closed && vertices.len() > 2 && stroke.end() == stroke.start {
            vertices.pop();
        }
        vertices
    }

    /// All parts as one spline of the third degree, with three knots where two parts meet.
    fn spline(&self, out: &mut Out, stroke: &Stroke) {
        let cubics = cubics(stroke);
        self.begin(out, "SPLINE", &stroke.origin, Some(&stroke.style));
        out.class("AcDbSpline");
        out.whole(70, 8 + i64::from(stroke.closed));
        let (knots, points) = (3 * cubics.len() + 5, 3 * cubics.len() + 1);
        for (code, count) in [(71, 3), (72, knots as i64), (73, points as i64), (74, 0)] {
            out.whole(code, count);
        }
        for (code, tolerance) in [(42, 1e-7), (43, 1e-7)] {
            out.number(code, tolerance);
        }
        for knot in 0..=cubics.len() {
            let times = if knot == 0 || knot == cubics.len() { 4 } else { 3 };
            for _ in 0..times {
                out.number(40, knot as f64);
            }
        }
        let first = cubics.first().map(|cubic| cubic.p0);
        for at in first.into_iter().chain(cubics.iter().flat_map(|cubic| [cubic.p1, cubic.p2, cubic.p3])) {
            out.point(10, self.placed(point(at.x, at.y)));
            out.number(30, 0.0);
        }
    }

    pub(super) fn text(&self, out: &mut Out, text: &Text) {
        let usual = super::super::text::guess(&text.content, text.height);
        self.begin(out, "TEXT", &text.origin, None);
        out.class("AcDbText");
        out.point(10, self.placed(text.at));
        out.number(30, 0.0);
        out.number(40, text.height);
        out.pair(1, &encoded(&text.content));
        out.number(50, text.turned);
        if (text.length - usual).abs() > 1e-6 && text.length > 0.0 && usual > 0.0 {
            out.exact(41, text.length / usual);
        }
        out.class("AcDbText");
    }

    pub(super) fn dot(&self, out: &mut Out, dot: &Dot) {
        self.begin(out, "POINT", &dot.origin, None);
        out.class("AcDbPoint");
        out.point(10, self.placed(dot.at));
        for (code, value) in [(30, dot.lift), (39, dot.thickness), (50, dot.turned)] {
            if let Some(value) = value {
                out.number(code, value);
            }
        }
    }

    /// Puts a block where it was drawn.
    pub(super) fn insertion(&self, out: &mut Out, name: &str) {
        self.begin(out, "INSERT", &Origin::default(), None);
        out.class("AcDbBlockReference");
        out.pair(2, name);
        out.point(10, point(0.0, 0.0));
        out.number(30, 0.0);
    }
}

fn cubic(points: [Point; 4]) -> CubicBez {
    let [a, b, c, d] = points.map(|at| kurbo::Point::new(at.x, at.y));
    CubicBez::new(a, b, c, d)
}

/// How many straight parts stay within `tolerance` of a cubic: its chord over a share `h` is left by at most `h² / 8` of its second
/// derivative, which is largest at an end.
fn parts(cubic: &CubicBez, tolerance: f64) -> usize {
    let bend =
        |a: kurbo::Point, b: kurbo::Point, c: kurbo::Point| (a.to_vec2() - b.to_vec2() * 2.0 + c.to_vec2()).hypot();
    let most = 6.0 * bend(cubic.p0, cubic.p1, cubic.p2).max(bend(cubic.p1, cubic.p2, cubic.p3));
    let parts = (most / (8.0 * tolerance)).sqrt().ceil();
    if parts.is_finite() { parts.clamp(1.0, MOST_PARTS) as usize } else { 1 }
}

/// All parts of a stroke as cubics: straight ones exactly, arcs to within [`ARC_TOLERANCE_MM`].
fn cubics(stroke: &Stroke) -> Vec<CubicBez> {
    let mut cubics = Vec::new();
    let mut from = stroke.start;
    for run in &stroke.runs {
        let third = |share: f64| point(from.x + (run.to.x - from.x) * share, from.y + (run.to.y - from.y) * share);
        let straight = cubic([from, third(1.0 / 3.0), third(2.0 / 3.0), run.to]);
        match run.shape {
            EdgeShape::Straight => cubics.push(straight),
            EdgeShape::Cubic { first, second } => cubics.push(cubic([from, first, second, run.to])),
            EdgeShape::Arc { through } => match Arc::through(from, through, run.to) {
                None => cubics.push(straight),
                Some(arc) => {
                    let frame =
                        kurbo::Affine::translate((arc.centre.x, arc.centre.y)) * kurbo::Affine::scale(arc.radius);
                    let end = kurbo::Point::new(run.to.x, run.to.y);
                    let begun = cubics.len();
                    crate::pen::unit_arc_cubics(
                        frame,
                        arc.from,
                        arc.sweep,
                        arc.radius,
                        ARC_TOLERANCE_MM,
                        |first, second, to| {
                            let from = cubics
                                .last()
                                .filter(|_| cubics.len() > begun)
                                .map_or(kurbo::Point::new(from.x, from.y), |last: &CubicBez| last.p3);
                            cubics.push(CubicBez::new(from, first, second, to));
                        },
                    );
                    if let Some(last) = cubics.last_mut() {
                        last.p3 = end;
                    }
                }
            },
        }
        from = run.to;
    }
    cubics
}
