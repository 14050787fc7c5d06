use kurbo::{CubicBez, ParamCurve, Point};

use super::*;

fn spline(degree: usize, knots: &[f64], points: &[[f64; 2]], weights: &[f64]) -> String {
    let knots: String = knots.iter().map(|knot| format!("|40 {knot}")).collect();
    let weights: String = weights.iter().map(|weight| format!("|41 {weight}")).collect();
    let points: String = points.iter().map(|[x, y]| format!("|10 {x}|20 {y}|30 0")).collect();
    format!("0 SPLINE|8 1|70 8|71 {degree}|72 9|73 2000000000{knots}{weights}{points}")
}

/// The value by its recursive definition (Cox and de Boor).
fn value(degree: usize, knots: &[f64], points: &[[f64; 2]], weights: &[f64], at: f64) -> Point {
    fn basis(place: usize, degree: usize, knots: &[f64], at: f64) -> f64 {
        if degree == 0 {
            let is_last = at == knots[knots.len() - 1] && knots[place + 1] == at && knots[place] < at;
            return f64::from(u8::from(knots[place] <= at && at < knots[place + 1] || is_last));
        }
        let part = |numerator: f64, denominator: f64, below: f64| {
            if denominator == 0.0 { 0.0 } else { numerator / denominator * below }
        };
        part(at - knots[place], knots[place + degree] - knots[place], basis(place, degree - 1, knots, at))
            + part(
                knots[place + degree + 1] - at,
                knots[place + degree + 1] - knots[place + 1],
                basis(place + 1, degree - 1, knots, at),
            )
    }
    let (mut x, mut y, mut sum) = (0.0, 0.0, 0.0);
    for (place, point) in points.iter().enumerate() {
        let share = basis(place, degree, knots, at) * weights.get(place).copied().unwrap_or(1.0);
        (x, y, sum) = (x + share * point[0], y + share * point[1], sum + share);
    }
    Point::new(x / sum, y / sum)
}

fn cubics(stroke: &Stroke) -> Vec<CubicBez> {
    let mut from = stroke.start;
    let cubic = |run: &crate::Run| {
        let [a, d] = [from, run.to].map(|at| Point::new(at.x, at.y));
        from = run.to;
        match run.shape {
            EdgeShape::Cubic { first, second } => {
                CubicBez::new(a, Point::new(first.x, first.y), Point::new(second.x, second.y), d)
            }
            EdgeShape::Straight => CubicBez::new(a, a.lerp(d, 1.0 / 3.0), a.lerp(d, 2.0 / 3.0), d),
            EdgeShape::Arc { .. } => panic!("{run:?}"),
        }
    };
    stroke.runs.iter().map(cubic).collect()
}

const POINTS: [[f64; 2]; 7] =
    [[0.0, 0.0], [10.0, 40.0], [30.0, -20.0], [50.0, 60.0], [55.0, 0.0], [90.0, 10.0], [100.0, 50.0]];

#[test]
fn splines_up_to_the_third_degree_are_met_exactly() {
    let cases: [(usize, &[f64]); 4] = [
        (3, &[0.0, 0.0, 0.0, 0.0, 1.0, 2.5, 3.0, 4.0, 4.0, 4.0, 4.0]),
        (3, &[0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0]),
        (2, &[0.0, 0.0, 0.0, 1.0, 2.0, 2.0, 4.0, 5.0, 5.0, 5.0]),
        (1, &[0.0, 0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 6.0]),
    ];
    for (degree, knots) in cases {
        let stroke = only_stroke(&spline(degree, knots, &POINTS, &[]));
        let mut distinct: Vec<f64> = knots[degree..=POINTS.len()].to_vec();
        distinct.dedup();
        let cubics = cubics(&stroke);
        assert_eq!(cubics.len(), distinct.len() - 1, "one part a span");
        for (cubic, span) in cubics.iter().zip(distinct.windows(2)) {
            for share in [0.0, 0.3, 0.7, 0.999] {
                let at = span[0] + (span[1] - span[0]) * share;
                assert!(cubic.eval(share).distance(value(degree, knots, &POINTS, &[], at)) < 1e-9, "{degree} at {at}");
            }
        }
    }
}

/// How far the points of a spline are from the cubics that stand for it.
fn farthest(stroke: &Stroke, of: impl Fn(f64) -> Point) -> f64 {
    let cubics = cubics(stroke);
    let line: Vec<Point> =
        cubics.iter().flat_map(|cubic| (0..=400).map(|step| cubic.eval(f64::from(step) / 400.0))).collect();
    let distance = |at: Point| {
        line.windows(2)
            .map(|pair| {
                kurbo::ParamCurveNearest::nearest(&kurbo::Line::new(pair[0], pair[1]), at, 1e-12).distance_sq.sqrt()
            })
            .fold(f64::MAX, f64::min)
    };
    (0..=100).map(|step| distance(of(f64::from(step) / 100.0))).fold(0.0, f64::max)
}

#[test]
fn higher_and_rational_splines_are_followed() {
    let knots = [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0, 4.0, 4.0, 4.0, 4.0, 4.0, 4.0];
    let stroke = only_stroke(&spline(5, &knots, &POINTS, &[]));
    let off = farthest(&stroke, |share| value(5, &knots, &POINTS, &[], share * 4.0));
    assert!(off < 1.5e-4, "{off}");
    let knots = [0.0, 0.0, 0.0, 0.0, 1.0, 2.5, 3.0, 4.0, 4.0, 4.0, 4.0];
    let weights = [1.0, 3.0, 0.5, 2.0, 1.0, 0.2, 1.0];
    let stroke = only_stroke(&spline(3, &knots, &POINTS, &weights));
    let off = farthest(&stroke, |share| value(3, &knots, &POINTS, &weights, share * 4.0));
    assert!(off < 1.5e-4, "{off}");
}

#[test]
fn a_rational_circle_is_round() {
    let half = 0.5_f64.sqrt();
    let points = [[100.0, 0.0], [100.0, 100.0], [0.0, 100.0], [-100.0, 100.0], [-100.0, 0.0]];
    let text = spline(2, &[0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 2.0], &points, &[1.0, half, 1.0, half, 1.0]);
    for cubic in cubics(&only_stroke(&text)) {
        for step in 0..=10 {
            let off = (cubic.eval(f64::from(step) / 10.0).to_vec2().hypot() - 100.0).abs();
            assert!(off < 1e-4, "{off}");
        }
    }
}

#[test]
fn splines_through_points_and_closed_ones() {
    let stroke = only_stroke("0 SPLINE|70 8|71 3|74 3|11 0|21 0|11 10|21 5|11 20|21 0|12 0|22 1");
    assert_eq!(corners(&stroke), [[0.0, 0.0], [10.0, 5.0], [20.0, 0.0]]);
    let EdgeShape::Cubic { first, .. } = stroke.runs[0].shape else { panic!() };
    assert!(first.x == 0.0 && first.y > 0.0);
    let closed = only_stroke(
        &spline(1, &[0.0, 0.0, 1.0, 2.0, 2.0], &[[0.0, 0.0], [1.0, 0.0], [1.0, 1.0]], &[]).replace("70 8", "70 9"),
    );
    assert_eq!((closed.runs.len(), closed.closed), (3, true));
}

#[test]
fn splines_that_do_not_fit_are_told() {
    let good = "|0 LINE|10 0|20 0|11 1|21 0";
    for text in [
        spline(3, &[0.0, 1.0], &POINTS, &[]),
        spline(0, &[0.0; 8], &POINTS, &[]),
        spline(9, &[0.0; 17], &POINTS, &[]),
        spline(3, &[0.0; 11], &POINTS, &[]),
        spline(1, &[0.0, 0.0, 2.0, 1.0, 1.0], &POINTS[..3], &[]),
        spline(1, &[0.0, 0.0, 1.0, 2.0, 2.0], &POINTS[..3], &[1.0, -1.0, 1.0]),
        spline(1, &[0.0, 0.0, 1.0, 2.0, f64::INFINITY], &POINTS[..3], &[]),
        spline(1, &[], &[], &[]),
    ] {
        assert_eq!(skipped(&drawing(&(text + good))), [("a SPLINE", 1)]);
    }
}
