//! Curves through dense polylines: piecewise cubics that stay within a given distance of every point.
//!
//! Least squares with chord-length parameters that are improved by Newton's method, split at the worst point where one cubic is not enough
//! (P. J. Schneider, "An algorithm for automatically fitting digitized curves", Graphics Gems, 1990).

use ellwand_geometry::{EdgeShape, Point, distance, point};
use ellwand_vector::Run;
use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv};

use crate::{
    curve::{angle_between, unit},
    outlines::nearest_of_segment,
};

/// Cubics through `points` that miss none of them, nor the lines between them, by more than `tolerance` mm; and how much they miss.
pub(crate) fn fit(points: &[Point], tolerance: f64) -> (Vec<Run>, f64) {
    let leave = tangent(points);
    let mut back: Vec<Point> = points.to_vec();
    back.reverse();
    let arrive = tangent(&back);
    let mut runs = Vec::new();
    let mut worst = 0.0;
    fit_part(points, leave, arrive, tolerance, &mut runs, &mut worst);
    (runs, worst)
}

/// Direction at the first point: that of the circle through three of them, so that a flattened curve gets its own tangent back.
fn tangent(points: &[Point]) -> Point {
    let first = points.get(1).and_then(|p| unit(*p - points[0])).unwrap_or(point(1.0, 0.0));
    let Some(next) = points.get(2).and_then(|p| unit(*p - points[1])) else { return first };
    let (a, b) = (distance(points[0], points[1]), distance(points[1], points[2]));
    let turn = angle_between(first, next);
    // Half of what the first chord turns, its share of both.
    crate::curve::turned(first, -turn * a / (a + b))
}

fn dot(a: Point, b: Point) -> f64 {
    a.x * b.x + a.y * b.y
}

fn fit_part(points: &[Point], leave: Point, arrive: Point, tolerance: f64, runs: &mut Vec<Run>, worst: &mut f64) {
    let last = points[points.len() - 1];
    if points.len() == 2 {
        runs.push(Run { shape: EdgeShape::Straight, to: last });
        return;
    }
    let mut shares = by_chord(points);
    let mut best: Option<(CubicBez, f64, usize)> = None;
    for _ in 0..8 {
        let cubic = least_squares(points, &shares, leave, arrive);
        let (off, at) = farthest(cubic, points, &shares);
        if best.as_ref().is_none_or(|(_, known, _)| off < *known) {
            best = Some((cubic, off, at));
        }
        if off <= 0.5 * tolerance {
            break;
        }
        for (share, p) in shares.iter_mut().zip(points) {
            *share = nearer(cubic, *p, *share);
        }
        if shares.windows(2).any(|pair| pair[0] >= pair[1]) {
            break;
        }
    }
    let (cubic, off, at) = best.expect("it was fitted once");
    // The points may all be met where the lines between them are not.
    let off = off.max(off_lines(cubic, points));
    if off <= tolerance {
        let of = |p: kurbo::Point| point(p.x, p.y);
        runs.push(Run { shape: EdgeShape::Cubic { first: of(cubic.p1), second: of(cubic.p2) }, to: last });
        *worst = worst.max(off);
        return;
    }
    let split = at.clamp(1, points.len() - 2);
    let through = unit(points[split + 1] - points[split - 1]).unwrap_or(leave);
    let centre = smooth(points, split).unwrap_or(through);
    fit_part(&points[..=split], leave, centre * -1.0, tolerance, runs, worst);
    fit_part(&points[split..], centre, arrive, tolerance, runs, worst);
}

/// Direction at an inner point, of the circle through it and its neighbours.
fn smooth(points: &[Point], at: usize) -> Option<Point> {
    let (before, after) = (unit(points[at] - points[at - 1])?, unit(points[at + 1] - points[at])?);
    let (a, b) = (distance(points[at - 1], points[at]), distance(points[at], points[at + 1]));
    Some(crate::curve::turned(before, angle_between(before, after) * a / (a + b)))
}

fn by_chord(points: &[Point]) -> Vec<f64> {
    let mut gone = 0.0;
    let mut shares = vec![0.0];
    for pair in points.windows(2) {
        gone += distance(pair[0], pair[1]);
        shares.push(gone);
    }
    shares.iter_mut().for_each(|share| *share /= gone);
    shares
}

fn least_squares(points: &[Point], shares: &[f64], leave: Point, arrive: Point) -> CubicBez {
    let (first, last) = (points[0], points[points.len() - 1]);
    let (mut c00, mut c01, mut c11, mut x0, mut x1) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (p, &t) in points.iter().zip(shares) {
        let s = 1.0 - t;
        let (b0, b1, b2, b3) = (s * s * s, 3.0 * t * s * s, 3.0 * t * t * s, t * t * t);
        let (a0, a1) = (leave * b1, arrive * b2);
        c00 += dot(a0, a0);
        c01 += dot(a0, a1);
        c11 += dot(a1, a1);
        let rest = *p - (first * (b0 + b1) + last * (b2 + b3));
        x0 += dot(a0, rest);
        x1 += dot(a1, rest);
    }
    let determinant = c00 * c11 - c01 * c01;
    let chord = distance(first, last);
    let (mut one, mut other) = if determinant.abs() > 1e-12 {
        ((x0 * c11 - x1 * c01) / determinant, (c00 * x1 - c01 * x0) / determinant)
    } else {
        (0.0, 0.0)
    };
    if one < 1e-3 * chord || other < 1e-3 * chord || one > 3.0 * chord || other > 3.0 * chord {
        (one, other) = (chord / 3.0, chord / 3.0);
    }
    let of = |p: Point| kurbo::Point::new(p.x, p.y);
    CubicBez::new(of(first), of(first + leave * one), of(last + arrive * other), of(last))
}

fn farthest(cubic: CubicBez, points: &[Point], shares: &[f64]) -> (f64, usize) {
    let mut worst = (0.0, points.len() / 2);
    for (k, (p, &t)) in points.iter().zip(shares).enumerate() {
        let q = cubic.eval(t);
        let off = (q.x - p.x).hypot(q.y - p.y);
        if off > worst.0 {
            worst = (off, k);
        }
    }
    worst
}

fn nearer(cubic: CubicBez, p: Point, t: f64) -> f64 {
    let (q, d1, d2) = (cubic.eval(t), cubic.deriv().eval(t), cubic.deriv().deriv().eval(t));
    let (x, y) = (q.x - p.x, q.y - p.y);
    let slope = d1.x * d1.x + d1.y * d1.y + x * d2.x + y * d2.y;
    if slope.abs() < 1e-12 { t } else { (t - (x * d1.x + y * d1.y) / slope).clamp(0.0, 1.0) }
}

/// How far a cubic strays from the polyline.
fn off_lines(cubic: CubicBez, points: &[Point]) -> f64 {
    let count = 4 * points.len();
    let mut at = 0;
    let mut worst: f64 = 0.0;
    for k in 1..count {
        let q = cubic.eval(k as f64 / count as f64);
        let q = point(q.x, q.y);
        let off = |k: usize| distance(q, nearest_of_segment(q, points[k], points[k + 1]));
        while at + 2 < points.len() && off(at + 1) <= off(at) {
            at += 1;
        }
        worst = worst.max(off(at));
    }
    worst
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flattened_quarter_circle_becomes_few_cubics() {
        let points: Vec<Point> = (0..=45)
            .map(|k| f64::from(k) * 2.0f64)
            .map(|d| d.to_radians().sin_cos())
            .map(|(s, c)| point(200.0 * c, 200.0 * s))
            .collect();
        let (runs, off) = fit(&points, 0.1);
        assert!(runs.len() <= 2 && off <= 0.1, "{} runs, {off} mm", runs.len());
        assert_eq!(runs[runs.len() - 1].to, points[45]);
    }

    #[test]
    fn an_s_of_tenths_of_millimetres_stays_within_tolerance() {
        let points: Vec<Point> = (0..=200)
            .map(|k| {
                let x = f64::from(k) * 1.5;
                point(x, ((40.0 * (x / 60.0).sin() + 0.002 * x * x) * 10.0).round() / 10.0)
            })
            .collect();
        let (runs, off) = fit(&points, 0.15);
        assert!(off <= 0.15 && runs.len() < 40, "{} runs, {off} mm", runs.len());
    }
}
