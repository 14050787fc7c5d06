//! A smooth curve through points, for splines that say no more than where they pass.

use kurbo::{Point, Vec2};

use crate::pen::Pen;

/// Draws the cubic spline through `points`, its parameter the length of the chords, with directions at its ends as given, or without
/// bending there. One that is closed is smooth at its end too.
///
/// Source: C. de Boor, "A Practical Guide to Splines", chapter IV: the slopes solve one equation a point.
pub(super) fn draw(points: &[Point], tangents: [Option<Vec2>; 2], is_closed: bool, pen: &mut Pen) {
    let mut points: Vec<Point> = points.to_vec();
    if is_closed && points.first() != points.last() {
        points.push(points[0]);
    }
    points.dedup();
    if points.len() < 2 {
        return;
    }
    let chords: Vec<f64> = points.windows(2).map(|pair| pair[0].distance(pair[1])).collect();
    let slopes =
        if is_closed && points.len() > 3 { closed(&points, &chords) } else { open(&points, &chords, tangents) };
    pen.move_to(points[0]);
    for (at, &chord) in chords.iter().enumerate() {
        let (from, to) = (points[at], points[at + 1]);
        pen.cubic_to(from + slopes[at] * (chord / 3.0), to - slopes[at + 1] * (chord / 3.0), to);
    }
    if is_closed {
        pen.close();
    }
}

/// Row `at` of the equations: what stands before, at and after the slope, and the right side.
fn row(points: &[Point], chords: &[f64], before: usize, at: usize, after: usize) -> ([f64; 3], Vec2) {
    let (left, right) = (chords[before], chords[at]);
    let rise = |from: usize, chord: f64| (points[from + 1] - points[from]) / chord;
    let side = (rise(before, left) * right + rise(after, right) * left) * 3.0;
    ([right, 2.0 * (left + right), left], side)
}

fn open(points: &[Point], chords: &[f64], tangents: [Option<Vec2>; 2]) -> Vec<Vec2> {
    let last = points.len() - 1;
    let along = |tangent: Option<Vec2>| tangent.filter(|way| way.hypot() > 0.0).map(|way| way / way.hypot());
    let rise = |at: usize| (points[at + 1] - points[at]) / chords[at];
    let mut rows = Vec::with_capacity(points.len());
    rows.push(match along(tangents[0]) {
        Some(way) => ([0.0, 1.0, 0.0], way),
        None => ([0.0, 2.0, 1.0], rise(0) * 3.0),
    });
    rows.extend((1..last).map(|at| row(points, chords, at - 1, at, at)));
    rows.push(match along(tangents[1]) {
        Some(way) => ([0.0, 1.0, 0.0], way),
        None => ([1.0, 2.0, 0.0], rise(last - 1) * 3.0),
    });
    solve(rows)
}

/// All points alike: the equations go round. The slope at the seam is taken as an unknown number of its own (Sherman and Morrison).
fn closed(points: &[Point], chords: &[f64]) -> Vec<Vec2> {
    let count = points.len() - 1;
    let mut rows: Vec<_> = (0..count).map(|at| row(points, chords, (at + count - 1) % count, at, at)).collect();
    let (corner_top, corner_low) = (rows[0].0[0], rows[count - 1].0[2]);
    let shift = -rows[0].0[1];
    rows[0].0[1] -= shift;
    rows[count - 1].0[1] -= corner_top * corner_low / shift;
    let mut ones = rows.clone();
    for (at, row) in ones.iter_mut().enumerate() {
        let side = if at == 0 {
            shift
        } else if at == count - 1 {
            corner_low
        } else {
            0.0
        };
        row.1 = Vec2::new(side, side);
    }
    let (plain, around) = (solve(rows), solve(ones));
    let factor = 1.0 + around[0].x + corner_top * around[count - 1].x / shift;
    let excess = (plain[0] + plain[count - 1] * (corner_top / shift)) / factor;
    let mut slopes: Vec<Vec2> = plain.iter().zip(&around).map(|(slope, share)| *slope - excess * share.x).collect();
    slopes.push(slopes[0]);
    slopes
}

/// Equations each of which knows the slope before and after its own.
fn solve(mut rows: Vec<([f64; 3], Vec2)>) -> Vec<Vec2> {
    for at in 1..rows.len() {
        let ([_, middle, after], side) = rows[at - 1];
        let ([before, ..], _) = rows[at];
        rows[at].0[1] -= before / middle * after;
        rows[at].1 -= side * (before / middle);
    }
    let mut slopes = vec![Vec2::ZERO; rows.len()];
    for at in (0..rows.len()).rev() {
        let ([_, middle, after], side) = rows[at];
        let next = slopes.get(at + 1).copied().unwrap_or_default();
        slopes[at] = (side - next * after) / middle;
    }
    slopes
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::EdgeShape;
    use kurbo::Affine;

    use super::*;
    use crate::pen::Budget;

    fn runs(points: &[(f64, f64)], tangents: [Option<Vec2>; 2], is_closed: bool) -> Vec<[Point; 4]> {
        let mut pen = Pen::new(Affine::IDENTITY, Budget::ENDLESS);
        let points: Vec<Point> = points.iter().map(|&(x, y)| Point::new(x, y)).collect();
        draw(&points, tangents, is_closed, &mut pen);
        let line = pen.finish().lines.remove(0);
        let mut from = line.start;
        let cubic = |run: crate::Run| {
            let EdgeShape::Cubic { first, second } = run.shape else { panic!("{run:?}") };
            let cubic = [from, first, second, run.to].map(|at| Point::new(at.x, at.y));
            from = run.to;
            cubic
        };
        line.runs.into_iter().map(cubic).collect()
    }

    /// Slope and bend at the end of one part and the start of the next, by the length of their chords.
    fn meets_smoothly(one: [Point; 4], next: [Point; 4]) {
        let (a, b) = (one[0].distance(one[3]), next[0].distance(next[3]));
        let slopes = [(one[3] - one[2]) / a, (next[1] - next[0]) / b];
        assert!((slopes[0] - slopes[1]).hypot() < 1e-9, "{slopes:?}");
        let bend = |p: Point, q: Point, r: Point| p.to_vec2() - q.to_vec2() * 2.0 + r.to_vec2();
        let bends = [bend(one[3], one[2], one[1]) / a / a, bend(next[0], next[1], next[2]) / b / b];
        assert!((bends[0] - bends[1]).hypot() < 1e-9, "{bends:?}");
    }

    #[test]
    fn it_is_smooth_at_every_point_and_straight_at_its_ends() {
        let open = runs(&[(0.0, 0.0), (3.0, 4.0), (10.0, 4.0), (11.0, -5.0), (20.0, 0.0)], [None, None], false);
        open.windows(2).for_each(|pair| meets_smoothly(pair[0], pair[1]));
        let [p, q, r, _] = open[0];
        assert!((p.to_vec2() - q.to_vec2() * 2.0 + r.to_vec2()).hypot() < 1e-9);
        let closed = runs(&[(0.0, 0.0), (3.0, 4.0), (10.0, 4.0), (11.0, -5.0)], [None, None], true);
        assert_eq!(closed.len(), 4);
        closed.windows(2).for_each(|pair| meets_smoothly(pair[0], pair[1]));
        meets_smoothly(closed[3], closed[0]);
    }

    #[test]
    fn directions_at_the_ends_are_kept() {
        let ways = [Some(Vec2::new(0.0, 5.0)), Some(Vec2::new(0.0, -1.0))];
        let runs = runs(&[(0.0, 0.0), (10.0, 0.0)], ways, false);
        assert_eq!(runs[0][1].x, 0.0);
        assert!(runs[0][1].y > 0.0 && runs[0][2].y > 0.0 && runs[0][2].x == 10.0);
    }
}
