//! Notches that are part of an outline: a small V, U or slit cut into it, or a small triangle that stands out of it.
//!
//! They are found by their shape and taken out, so that the edge goes on as if they were not there and each is a place on it. Nothing but
//! their size tells them from other shapes of an edge: [`taken_out`] has the rule and its limits, and what it finds is told as a guess.

use ellwand_geometry::{EdgeShape, Point, distance};
use ellwand_vector::Run;

use crate::curve::{Line, angle_between, circle, unit};

/// A notch is so deep, mm: what is shallower is a wobble of the line, what is deeper a slit to sew to, a dart or the point of a collar.
const DEEP: std::ops::RangeInclusive<f64> = 2.0..=9.0;

/// It is at most so wide at the edge, mm.
const WIDEST: f64 = 11.0;

/// It is at least so deep for its width: the points of the allowance at small darts and pleats are flatter.
const STEEP: f64 = 0.4;

/// The mouth of a slit is narrower, mm.
const SLIT: f64 = 0.3;

/// The edge on both sides of a notch goes on in one direction within this angle, radians: 30 degrees.
const GOES_ON: f64 = 0.53;

/// And for so far, mm.
const ROOM: f64 = 3.0;

/// Double and triple notches touch or stand side by side; more of them in a row are the shape of an edge.
const MOST_IN_A_ROW: usize = 3;

/// Notches nearer to each other along the edge than this stand in a row, mm.
const IN_A_ROW: f64 = 10.0;

/// An edge beside a notch is followed over at most so many parts: those of a curve are not that short.
const MOST_STEPS: usize = 400;

/// What is shorter all round is no piece, mm.
const SHORTEST_OUTLINE: f64 = 80.0;

/// Notches taken out of a closed line: what is left, and the place of each on it; none where there are no notches in it.
///
/// A notch is a V of two straight parts, or a U of two straight parts and a bottom of any shape, inwards or outwards, with both feet on
/// the edge. It is 2 to 9 mm deep, at most 11 mm wide at its mouth and at least 0.4 times as deep as wide; a slit has no width. The edge
/// before and behind it runs in the direction of its mouth within 30 degrees, for 3 mm at least: so a corner of the piece is none, nor is
/// a dart (its legs are longer) or a pleat (its point is flatter or deeper). Up to three Vs may touch, as double and triple notches do,
/// and up to three notches stand less than 10 mm apart; more are a zigzag or battlement edge, which is left as it is.
///
/// What it cannot tell: a true dip or tab of that size that is sewn. Common practice, no source.
pub(crate) fn taken_out(line: &Line) -> Option<(Line, Vec<Point>)> {
    let count = line.runs.len();
    if count < 5 || !line.runs.iter().any(|run| run.shape == EdgeShape::Straight) {
        return None;
    }
    let ring = Ring { line, count };
    let mut found: Vec<Nick> = Vec::new();
    let mut at = 0;
    while at < count {
        match ring.nick(at) {
            Some(nick) if found.first().is_none_or(|first| at + nick.runs <= count + first.at) => {
                at += nick.runs;
                found.push(nick);
            }
            _ => at += 1,
        }
    }
    if found.is_empty() || line.length() < SHORTEST_OUTLINE {
        return None;
    }
    let found = ring.without_rows(found);
    let first = found.first()?;
    let start = first.at + first.runs;
    let mut runs: Vec<Run> = Vec::with_capacity(count);
    let mut k = 0;
    while k < count {
        let here = (start + k) % count;
        match found.binary_search_by_key(&here, |nick| nick.at).ok().map(|at| &found[at]) {
            Some(nick) => {
                ring.go_on(nick, &mut runs);
                k += nick.runs;
            }
            None => {
                runs.push(line.runs[here]);
                k += 1;
            }
        }
    }
    let start = ring.from(start);
    runs.last_mut()?.to = start;
    let places = found.into_iter().flat_map(|nick| nick.places).collect();
    Some((Line { start, runs }, places))
}

/// A notch, or up to three that touch.
struct Nick {
    /// Its first run.
    at: usize,
    /// How many runs it has.
    runs: usize,
    places: Vec<Point>,
}

/// Along the line, or against it.
#[derive(Clone, Copy)]
enum Way {
    On,
    Back,
}

struct Ring<'a> {
    line: &'a Line,
    count: usize,
}

impl Ring<'_> {
    fn from(&self, k: usize) -> Point {
        // The first run of a closed line starts where the last one ends.
        self.line.from(k % self.count)
    }

    /// Both ends of a straight run.
    fn straight(&self, k: usize) -> Option<[Point; 2]> {
        let run = self.line.runs[k % self.count];
        (run.shape == EdgeShape::Straight).then(|| [self.from(k), run.to])
    }

    /// What starts at a run: as many Vs that touch as there are, or a U.
    fn nick(&self, at: usize) -> Option<Nick> {
        // No leg is shorter than the notch is deep.
        self.straight(at).filter(|[a, b]| (0.9 * DEEP.start()..DEEP.end() + WIDEST).contains(&distance(*a, *b)))?;
        let rows = (1..=MOST_IN_A_ROW).rev().filter(|vs| vs * 2 + 2 <= self.count);
        let row = rows.filter_map(|vs| self.vs(at, vs)).next();
        row.or_else(|| self.u(at))
    }

    fn vs(&self, at: usize, vs: usize) -> Option<Nick> {
        let (first, last) = (self.from(at), self.from(at + 2 * vs));
        let base = self.base(at, 2 * vs, [first, last])?;
        let mut side = 0.0;
        let mut places = Vec::new();
        for v in 0..vs {
            let [a, tip] = self.straight(at + 2 * v)?;
            let [_, b] = self.straight(at + 2 * v + 1)?;
            let mouth = distance(a, b);
            let middle = (a + b) * 0.5;
            let (along, deep) = of_base(base, tip - middle);
            let is_flush = of_base(base, b - a).0 >= 0.0 && of_base(base, b - a).1.abs() <= 0.3 * mouth + 0.05;
            let is_v = if mouth < SLIT { along.abs() <= GOES_ON * deep.abs() } else { along.abs() <= 0.7 * mouth };
            if !is_v || !is_flush || !is_notch(mouth, deep.abs()) || deep * side < 0.0 {
                return None;
            }
            side = deep;
            places.push(middle);
        }
        self.has_room_beside(at, 2 * vs, base).then_some(Nick { at, runs: 2 * vs, places })
    }

    fn u(&self, at: usize) -> Option<Nick> {
        if self.count < 6 {
            return None;
        }
        let [a, c] = self.straight(at)?;
        let [d, b] = self.straight(at + 2)?;
        let base = self.base(at, 3, [a, b])?;
        let mouth = distance(a, b);
        let [(along_c, deep_c), (along_d, deep_d)] = [of_base(base, c - a), of_base(base, d - a)];
        let is_u = mouth >= SLIT
            && deep_c * deep_d > 0.0
            && (deep_c - deep_d).abs() <= 0.25 * deep_c.abs()
            && along_c < along_d
            && along_c >= -0.3 * mouth
            && along_d <= 1.3 * mouth;
        let bottom = Line { start: c, runs: vec![self.line.runs[(at + 1) % self.count]] };
        let deepest = bottom.flat().iter().map(|p| of_base(base, *p - a).1.abs()).fold(0.0, f64::max);
        let places = vec![(a + b) * 0.5];
        let is_u = is_u && is_notch(mouth.max(along_d - along_c), deepest) && self.has_room_beside(at, 3, base);
        is_u.then_some(Nick { at, runs: 3, places })
    }

    /// Direction of the edge over a mouth, where it goes on at both sides.
    fn base(&self, at: usize, runs: usize, [a, b]: [Point; 2]) -> Option<Point> {
        let before = self.line.arrives((at + self.count - 1) % self.count)?;
        let behind = self.line.leaves((at + runs) % self.count)?;
        let base = if distance(a, b) < SLIT { unit(before + behind)? } else { unit(b - a)? };
        let goes_on = [(before, behind), (before, base), (base, behind)];
        let goes_on = goes_on.into_iter().all(|(from, to)| angle_between(from, to).abs() <= GOES_ON);
        goes_on.then_some(base)
    }

    /// Whether the edge has room on both sides of so many runs.
    fn has_room_beside(&self, at: usize, runs: usize, base: Point) -> bool {
        self.has_room(at + runs, base, Way::On) && self.has_room(at + self.count - 1, base, Way::Back)
    }

    /// Whether the edge runs on along `base` from a run on, forwards or backwards.
    fn has_room(&self, mut k: usize, base: Point, way: Way) -> bool {
        let mut gone = 0.0;
        for _ in 0..self.count.min(MOST_STEPS) {
            let run = k % self.count;
            let near = match way {
                Way::On => self.line.leaves(run),
                Way::Back => self.line.arrives(run),
            };
            if near.is_none_or(|near| angle_between(base, near).abs() > 2.0 * GOES_ON) {
                return false;
            }
            gone += distance(self.from(run), self.line.runs[run].to);
            if gone >= ROOM {
                return true;
            }
            k += match way {
                Way::On => 1,
                Way::Back => self.count - 1,
            };
        }
        false
    }

    /// Without those that stand in rows too long.
    fn without_rows(&self, found: Vec<Nick>) -> Vec<Nick> {
        let count = found.len();
        let near: Vec<bool> = (0..count)
            .map(|k| {
                let next = &found[(k + 1) % count];
                let (mut at, mut gone) = (found[k].at + found[k].runs, 0.0);
                let end = at + MOST_STEPS;
                while count > 1 && at % self.count != next.at && gone < IN_A_ROW && at < end {
                    gone += distance(self.from(at), self.line.runs[at % self.count].to);
                    at += 1;
                }
                count > 1 && gone < IN_A_ROW && at < end
            })
            .collect();
        let marks = |k: usize| found[k].places.len();
        let in_row = |k: usize| {
            let (mut first, mut last, mut all) = (k, k, marks(k));
            for _ in 1..count {
                let before = (first + count - 1) % count;
                if near[before] && before != last {
                    first = before;
                    all += marks(first);
                } else if near[last] && (last + 1) % count != first {
                    last = (last + 1) % count;
                    all += marks(last);
                } else {
                    break;
                }
                if all > MOST_IN_A_ROW {
                    break;
                }
            }
            all
        };
        let kept: Vec<bool> = (0..count).map(|k| in_row(k) <= MOST_IN_A_ROW).collect();
        found.into_iter().zip(kept).filter(|(_, kept)| *kept).map(|(nick, _)| nick).collect()
    }

    /// The edge over a mouth: straight on a straight edge, along its circle on a curve.
    fn go_on(&self, nick: &Nick, runs: &mut Vec<Run>) {
        /// A mouth so narrow needs no part of its own, mm.
        const NOTHING: f64 = 0.05;
        /// The edge over a mouth bulges at least so far, mm; less is straight.
        const BULGES: f64 = 0.01;
        let (a, b) = (self.from(nick.at), self.from(nick.at + nick.runs));
        let mouth = distance(a, b);
        if mouth < NOTHING
            && let Some(last) = runs.last_mut()
        {
            last.to = b;
            return;
        }
        let before = Line {
            start: self.from(nick.at + self.count - 1),
            runs: vec![self.line.runs[(nick.at + self.count - 1) % self.count]],
        };
        let behind = nick.at + nick.runs;
        let behind = Line { start: b, runs: vec![self.line.runs[behind % self.count]] };
        let straight = |line: &Line| line.runs[0].shape == EdgeShape::Straight;
        // Long straight parts are straight whatever angle they meet at; short ones stand for a curve.
        let is_dense = |line: &Line| !straight(line) || line.length() < 2.0 * WIDEST;
        let bulge = |line: &Line, from: usize| {
            let samples = line.samples(if straight(line) { 1 } else { 4 });
            let near = samples[if from == 0 { samples.len() - 2 } else { 1 }];
            bulge_of(near, a, b)
        };
        let bulge =
            if is_dense(&before) && is_dense(&behind) { 0.5 * (bulge(&before, 0) + bulge(&behind, 1)) } else { 0.0 };
        if bulge.abs() > BULGES
            && bulge.abs() < 0.2 * mouth
            && let Some(along) = unit(b - a)
        {
            let out = ellwand_geometry::point(along.y, -along.x);
            let at = |share: f64| a + (b - a) * share + out * (4.0 * share * (1.0 - share) * bulge);
            if straight(&before) && straight(&behind) {
                runs.extend([1.0 / 3.0, 2.0 / 3.0].map(|share| Run { shape: EdgeShape::Straight, to: at(share) }));
            } else {
                // The parabola through its top, as a cubic.
                let (first, second) = (a + (b - a) * (1.0 / 3.0), a + (b - a) * (2.0 / 3.0));
                let by = out * (4.0 / 3.0 * bulge);
                runs.push(Run { shape: EdgeShape::Cubic { first: first + by, second: second + by }, to: b });
                return;
            }
        }
        runs.push(Run { shape: EdgeShape::Straight, to: b });
    }
}

/// How far the arc from `a` to `b` on the circle through a third point beside them bulges to the right of its chord, mm.
fn bulge_of(beside: Point, a: Point, b: Point) -> f64 {
    let Some((centre, radius)) = circle(beside, a, b) else { return 0.0 };
    let half = 0.5 * distance(a, b);
    let deep = radius - (radius * radius - half * half).max(0.0).sqrt();
    let along = b - a;
    // The centre lies left of the chord: the arc bulges to the right.
    let left = along.x * (centre.y - a.y) - along.y * (centre.x - a.x);
    if left > 0.0 { deep } else { -deep }
}

/// How far along a base and how far to the left of it.
fn of_base(base: Point, v: Point) -> (f64, f64) {
    (base.x * v.x + base.y * v.y, base.x * v.y - base.y * v.x)
}

fn is_notch(mouth: f64, deep: f64) -> bool {
    DEEP.contains(&deep) && mouth <= WIDEST && deep >= STEEP * mouth
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::point;

    use super::*;

    fn line(points: &[(f64, f64)]) -> Line {
        let at = |&(x, y): &(f64, f64)| point(x, y);
        let runs = points[1..].iter().chain(&points[..1]).map(|p| Run { shape: EdgeShape::Straight, to: at(p) });
        Line { start: at(&points[0]), runs: runs.collect() }
    }

    /// A panel of 200 mm by 300 mm with something in the middle of its lower edge.
    fn panel(inside: &[(f64, f64)]) -> Line {
        let mut points = vec![(0.0, 0.0)];
        points.extend_from_slice(inside);
        points.extend([(200.0, 0.0), (200.0, 300.0), (0.0, 300.0)]);
        line(&points)
    }

    fn places(inside: &[(f64, f64)]) -> Vec<(f64, f64)> {
        taken_out(&panel(inside)).map(|(_, places)| places.iter().map(|p| (p.x, p.y)).collect()).unwrap_or_default()
    }

    #[test]
    fn every_shape_of_notch_is_taken_out() {
        let cases: [&[(f64, f64)]; 6] = [
            &[(97.0, 0.0), (100.0, 5.0), (103.0, 0.0)],
            &[(97.0, 0.0), (100.0, -5.0), (103.0, 0.0)],
            &[(100.0, 0.0), (100.0, 6.0), (100.0, 0.0)],
            &[(98.0, 0.0), (98.0, 6.0), (102.0, 6.0), (102.0, 0.0)],
            &[(98.5, 0.0), (98.0, -6.0), (102.0, -6.0), (101.5, 0.0)],
            &[(97.5, 0.0), (97.5, 6.0), (102.5, 0.0)],
        ];
        for inside in cases {
            let (left, places) = taken_out(&panel(inside)).expect("a notch");
            assert_eq!(places, [point(100.0, 0.0)], "{inside:?}");
            let flat = left.flat();
            assert!((ellwand_geometry::signed_area(&flat) - 60_000.0).abs() < 1e-6, "{inside:?}");
            assert_eq!(left.start, left.end());
        }
    }

    #[test]
    fn double_and_triple_notches_are_two_and_three_and_more_are_an_edge() {
        let teeth = |count: usize, step: f64, width: f64| -> Vec<(f64, f64)> {
            (0..count)
                .flat_map(|k| {
                    let at = 60.0 + step * k as f64;
                    [(at, 0.0), (at + width / 2.0, -5.0), (at + width, 0.0)]
                })
                .collect()
        };
        let mut touching = teeth(2, 6.0, 6.0);
        touching.remove(3);
        assert_eq!(places(&touching), [(63.0, 0.0), (69.0, 0.0)]);
        assert_eq!(places(&teeth(3, 9.0, 5.0)).len(), 3);
        assert_eq!(places(&teeth(4, 9.0, 5.0)).len(), 0);
        assert_eq!(places(&teeth(4, 30.0, 5.0)).len(), 4);
        let zigzag: Vec<(f64, f64)> =
            (0..=16).map(|k| (40.0 + 4.0 * f64::from(k), if k % 2 == 0 { 0.0 } else { 4.0 })).collect();
        assert_eq!(places(&zigzag).len(), 0);
    }

    #[test]
    fn corners_darts_pleats_and_steps_stay() {
        let cases: [(&str, &[(f64, f64)]); 7] = [
            ("a dart", &[(95.0, 0.0), (100.0, 60.0), (105.0, 0.0)]),
            ("the point of the allowance at a dart", &[(90.0, 0.0), (100.0, -3.0), (110.0, 0.0)]),
            ("a pleat", &[(80.0, 0.0), (90.0, -6.0), (120.0, 0.0)]),
            ("a step", &[(100.0, 0.0), (100.0, 6.0), (110.0, 6.0)]),
            ("a wobble", &[(99.0, 0.0), (100.0, 1.0), (101.0, 0.0)]),
            ("a belt loop", &[(90.0, 0.0), (90.0, -30.0), (100.0, -30.0), (100.0, 0.0)]),
            ("a wide dip", &[(90.0, 0.0), (100.0, 8.0), (110.0, 0.0)]),
        ];
        for (what, inside) in cases {
            assert_eq!(places(inside), [], "{what}");
        }
        // The point of a collar, cut off at a slant on both sides; and a corner with a small bevel.
        let collar = line(&[(0.0, 0.0), (150.0, 0.0), (156.0, -4.0), (150.0, 50.0), (0.0, 50.0)]);
        assert!(taken_out(&collar).is_none());
        let bevel = line(&[(0.0, 0.0), (145.0, 0.0), (148.0, 2.0), (150.0, 6.0), (150.0, 50.0), (0.0, 50.0)]);
        assert!(taken_out(&bevel).is_none());
    }

    #[test]
    fn the_outline_may_start_within_a_notch() {
        let whole = panel(&[(97.0, 0.0), (100.0, 5.0), (103.0, 0.0)]);
        for first in 0..whole.runs.len() {
            let mut turned = Line { start: whole.from(first), runs: whole.runs.clone() };
            turned.runs.rotate_left(first);
            let (left, places) = taken_out(&turned).expect("a notch");
            assert_eq!(places, [point(100.0, 0.0)]);
            assert!((ellwand_geometry::signed_area(&left.flat()) - 60_000.0).abs() < 1e-6);
        }
    }

    #[test]
    fn a_curve_goes_on_as_a_curve() {
        // A circle of 100 mm as a polyline of two degrees each, with a V in it: what is left strays from the circle by no more than its chords.
        let mut points: Vec<(f64, f64)> = Vec::new();
        for k in 0..180 {
            let (sin, cos) = (f64::from(k) * 2.0).to_radians().sin_cos();
            match k {
                89 => points.push((100.0 * cos, 100.0 * sin)),
                90 => points.push((-95.0, 0.0)),
                _ => points.push((100.0 * cos, 100.0 * sin)),
            }
        }
        let (left, places) = taken_out(&line(&points)).expect("a notch");
        assert_eq!(places.len(), 1);
        for p in left.samples(4) {
            let off = (p.x.hypot(p.y) - 100.0).abs();
            assert!(off < 0.02, "{off} mm off at {p:?}");
        }
    }
}
