//! An outline as sides between its corners: straight parts kept, dense polylines as curves, and the same corners in all sizes.

use ellwand_geometry::{Bounds, EdgeShape, Point, distance, point};
use ellwand_vector::Run;

use crate::{
    curve::{Line, angle_between, circle},
    fit::fit,
};

/// A part of an outline between two corners.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// Where it starts.
    pub start: Point,
    /// Its straight parts, curves and arcs.
    pub runs: Vec<Run>,
}

impl Side {
    pub(crate) fn line(&self) -> Line {
        Line { start: self.start, runs: self.runs.clone() }
    }

    /// Its end.
    pub fn end(&self) -> Point {
        self.runs.last().map_or(self.start, |run| run.to)
    }

    /// Its length, mm.
    pub fn length(&self) -> f64 {
        self.line().length()
    }

    /// A point in its middle.
    pub fn middle(&self) -> Point {
        let flat = self.line().flat();
        let mut left = self.length() / 2.0;
        for pair in flat.windows(2) {
            let length = distance(pair[0], pair[1]);
            if length >= left && length > 0.0 {
                return pair[0] + (pair[1] - pair[0]) * (left / length);
            }
            left -= length;
        }
        self.end()
    }

    /// Whether it is one straight line.
    pub fn is_straight(&self) -> bool {
        let flat = self.line().flat();
        let (a, b) = (self.start, self.end());
        let length = distance(a, b);
        length > 0.0 && flat.iter().all(|p| distance(*p, crate::outlines::nearest_of_segment(*p, a, b)) < 0.2)
    }
}

/// How an outline was cut into sides.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Sides {
    pub(crate) sides: Vec<Side>,
    /// How far fitted curves stray from what is drawn, mm.
    pub(crate) off: f64,
    /// Whether all sizes have the same corners.
    pub(crate) agrees: bool,
}

/// Fitted curves stray from what is drawn at most this far, mm.
pub(crate) const FITTED: f64 = 0.08;

/// Where two parts of one outline turn by more than this, degrees, there is a corner. Tried in this order until all sizes agree.
const CORNERS: [f64; 5] = [22.0, 30.0, 15.0, 40.0, 55.0];

/// Runs of a flattened curve turn by less than this from one to the next, degrees.
const SMOOTH: f64 = 22.0;

/// The sides of one piece in all its sizes, the same number in each and starting at the same corner. Where sizes do not agree on corners,
/// each is one side all round, from the corner that comes nearest.
pub(crate) fn sides_of(lines: &[&Line]) -> Vec<Sides> {
    let smoothed: Vec<(Line, f64)> = lines.iter().map(|line| smoothed(line)).collect();
    let agree = |least: &f64| {
        let counts: Vec<usize> = smoothed.iter().map(|(line, _)| corners(line, *least).len()).collect();
        counts[0] > 0 && counts.iter().all(|count| *count == counts[0])
    };
    let least = CORNERS.iter().copied().find(agree);
    // A round piece has no corner in any size.
    let round = smoothed.iter().all(|(line, _)| corners(line, CORNERS[0]).is_empty());
    let cut = smoothed.iter().map(|(line, off)| {
        let at = match least {
            Some(least) => corners(line, least),
            None => vec![sharpest(line)],
        };
        Sides { sides: cut_at(line, &at), off: *off, agrees: least.is_some() || round }
    });
    let mut cut: Vec<Sides> = cut.collect();
    let first = start_of(&cut[0].sides);
    cut[0].sides.rotate_left(first);
    let model = places(&cut[0].sides);
    for other in &mut cut[1..] {
        let own = places(&other.sides);
        let off = |by: usize| -> f64 { (0..model.len()).map(|k| distance(model[k], own[(k + by) % own.len()])).sum() };
        let by = (0..own.len()).min_by(|&a, &b| off(a).total_cmp(&off(b))).unwrap_or(0);
        other.sides.rotate_left(by);
    }
    cut
}

/// Both halves of a part.
fn halved(from: Point, run: Run) -> [Run; 2] {
    let middle = |a: Point, b: Point| (a + b) * 0.5;
    match run.shape {
        EdgeShape::Cubic { first, second } => {
            let (ab, bc, cd) = (middle(from, first), middle(first, second), middle(second, run.to));
            let (abc, bcd) = (middle(ab, bc), middle(bc, cd));
            [
                Run { shape: EdgeShape::Cubic { first: ab, second: abc }, to: middle(abc, bcd) },
                Run { shape: EdgeShape::Cubic { first: bcd, second: cd }, to: run.to },
            ]
        }
        EdgeShape::Straight => [Run { shape: EdgeShape::Straight, to: middle(from, run.to) }, run],
        EdgeShape::Arc { .. } => {
            let quarters = Line { start: from, runs: vec![run] }.samples(4);
            let arc = |through: usize, to: Point| Run { shape: EdgeShape::Arc { through: quarters[through] }, to };
            [arc(1, quarters[2]), arc(3, run.to)]
        }
    }
}

/// An arc, in two halves where it turns by more than 60 degrees, as measured shapes have it.
fn halves(from: Point, through: Point, to: Point) -> Vec<Run> {
    let arc = |through: Point, to: Point| Run { shape: EdgeShape::Arc { through }, to };
    let whole = Line { start: from, runs: vec![arc(through, to)] };
    let quarters = whole.samples(4);
    let turn = angle_between(quarters[1] - quarters[0], quarters[4] - quarters[3]).abs() * 4.0 / 3.0;
    if turn.to_degrees() > 60.0 { vec![arc(quarters[1], quarters[2]), arc(quarters[3], to)] } else { whole.runs }
}

/// Corners as shares of the box around them.
fn places(sides: &[Side]) -> Vec<Point> {
    let bounds = Bounds::of(sides.iter().flat_map(|side| side.line().flat()));
    let of = |p: Point| point((p.x - bounds.min.x) / bounds.width(), (p.y - bounds.min.y) / bounds.height());
    sides.iter().map(|side| of(side.start)).collect()
}

/// The corner at the lower left.
fn start_of(sides: &[Side]) -> usize {
    let places = places(sides);
    (0..places.len()).min_by(|&a, &b| (places[a].x + places[a].y).total_cmp(&(places[b].x + places[b].y))).unwrap_or(0)
}

fn turn_at(line: &Line, k: usize) -> f64 {
    let before = (k + line.runs.len() - 1) % line.runs.len();
    match (line.arrives(before), line.leaves(k)) {
        (Some(a), Some(b)) => angle_between(a, b).to_degrees(),
        _ => 0.0,
    }
}

/// Runs that start at a corner.
fn corners(line: &Line, least: f64) -> Vec<usize> {
    (0..line.runs.len()).filter(|&k| turn_at(line, k).abs() >= least).collect()
}

fn sharpest(line: &Line) -> usize {
    (0..line.runs.len()).max_by(|&a, &b| turn_at(line, a).abs().total_cmp(&turn_at(line, b).abs())).unwrap_or(0)
}

fn cut_at(line: &Line, at: &[usize]) -> Vec<Side> {
    let count = line.runs.len();
    (0..at.len())
        .map(|k| {
            let (from, to) = (at[k], at[(k + 1) % at.len()]);
            let length = if to > from { to - from } else { to + count - from };
            Side { start: line.from(from), runs: (0..length).map(|n| line.runs[(from + n) % count]).collect() }
        })
        .collect()
}

/// The same outline with dense polylines as curves and needless points gone, and how far that strays, mm.
fn smoothed(line: &Line) -> (Line, f64) {
    if let [only] = line.runs.as_slice() {
        // An outline has at least two edges.
        return (Line { start: line.start, runs: halved(line.start, *only).to_vec() }, 0.0);
    }
    let line = without_slivers(line).without_needless_points();
    let count = line.runs.len();
    // Turned so that it starts at a break, not in the middle of a curve.
    let is_break = |k: usize| breaks(&line, k);
    let Some(first) = (0..count).find(|&k| is_break(k)) else {
        return all_round(&line);
    };
    let ring = |n: usize| (first + n) % count;
    let mut runs: Vec<Run> = Vec::new();
    let mut off: f64 = 0.0;
    let mut n = 0;
    while n < count {
        let mut end = n + 1;
        while end < count && !is_break(ring(end)) {
            end += 1;
        }
        let is_curve = end - n >= 4;
        if is_curve {
            let mut points = vec![line.from(ring(n))];
            points.extend((n..end).map(|k| line.runs[ring(k)].to));
            let (fitted, by) = fit(&points, FITTED);
            off = off.max(by);
            runs.extend(fitted);
        } else {
            runs.extend((n..end).map(|k| line.runs[ring(k)]));
        }
        n = end;
    }
    (with_arcs(&Line { start: line.from(first), runs }), off)
}

/// Curves that lie on a circle are arcs again: some formats know none. A run of neighbours on one circle becomes one arc of at most half a
/// turn.
fn with_arcs(line: &Line) -> Line {
    /// How far a curve may lie off the circle, mm.
    const OFF: f64 = 0.003;
    let mut runs: Vec<Run> = Vec::new();
    let mut k = 0;
    while k < line.runs.len() {
        let from = line.from(k);
        let mut best: Option<(usize, Point)> = None;
        for end in k + 1..=line.runs.len() {
            if !matches!(line.runs[end - 1].shape, EdgeShape::Cubic { .. }) {
                break;
            }
            let part = Line { start: from, runs: line.runs[k..end].to_vec() };
            let samples = part.samples(16);
            let through = samples[samples.len() / 2];
            let Some((centre, radius)) = circle(from, through, part.end()) else { break };
            let on_it = samples.iter().all(|p| (distance(*p, centre) - radius).abs() < OFF);
            let chord = distance(from, part.end());
            let deep = distance(through, (from + part.end()) * 0.5);
            if !on_it || deep > 0.5 * chord + OFF || radius > 1e5 || deep < 0.2 {
                break;
            }
            best = Some((end, through));
        }
        match best {
            Some((end, through)) => {
                runs.extend(halves(from, through, line.runs[end - 1].to));
                k = end;
            }
            None => {
                runs.push(line.runs[k]);
                k += 1;
            }
        }
    }
    Line { start: line.start, runs }
}

/// A smooth polyline all round, as a circle is drawn.
fn all_round(line: &Line) -> (Line, f64) {
    if line.runs.len() < 8 {
        return (line.clone(), 0.0);
    }
    let flat = line.flat();
    let half = flat.len() / 2;
    let (mut runs, a) = fit(&flat[..=half], FITTED);
    let (rest, b) = fit(&flat[half..], FITTED);
    runs.extend(rest);
    (Line { start: line.start, runs }, a.max(b))
}

/// Whether no curve runs on from the run before into run `k`.
fn breaks(line: &Line, k: usize) -> bool {
    let count = line.runs.len();
    let before = (k + count - 1) % count;
    let straight = |k: usize| line.runs[k].shape == EdgeShape::Straight;
    if !straight(k) || !straight(before) || turn_at(line, k).abs() >= SMOOTH {
        return true;
    }
    let length = |k: usize| distance(line.from(k), line.runs[k].to);
    let (a, b) = (length(before), length(k));
    // A long straight line into a curve of short ones.
    a.max(b) > 25.0 && a.max(b) > 4.0 * a.min(b)
}

/// Without parts shorter than a hair between long ones: a page border that cuts an outline next to a corner leaves such a part, which turns any
/// way.
fn without_slivers(line: &Line) -> Line {
    /// A part shorter than this is a sliver, mm.
    const SLIVER: f64 = 0.08;
    /// Its neighbours are longer than this, mm.
    const LONG: f64 = 1.0;
    let count = line.runs.len();
    let chord = |k: usize| distance(line.from(k), line.runs[k].to);
    let is_sliver = |k: usize| {
        count > 4 && chord(k) < SLIVER && chord((k + 1) % count) > LONG && chord((k + count - 1) % count) > LONG
    };
    if !(0..count).any(is_sliver) {
        return line.clone();
    }
    let mut runs: Vec<Run> = Vec::with_capacity(count);
    let mut start = line.start;
    for k in 0..count {
        match (is_sliver(k), runs.last_mut()) {
            (false, _) => runs.push(line.runs[k]),
            (true, Some(last)) => last.to = line.runs[k].to,
            (true, None) => start = line.runs[k].to,
        }
    }
    if let Some(last) = runs.last_mut() {
        last.to = start;
    }
    Line { start, runs }
}
