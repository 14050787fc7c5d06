//! Where a part of a line crosses a border, and what lies between two places of it. Arcs are cut as cubics: see [`crate::arc::as_cubics`].

use ellwand_geometry::{EdgeShape, Point};

use crate::Run;

/// A part of a line with its start.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Span {
    pub(crate) from: Point,
    pub(crate) run: Run,
}

fn between(a: Point, b: Point, t: f64) -> Point {
    a * (1.0 - t) + b * t
}

impl Span {
    fn controls(&self) -> [Point; 4] {
        let to = self.run.to;
        match self.run.shape {
            EdgeShape::Cubic { first, second } => [self.from, first, second, to],
            EdgeShape::Straight | EdgeShape::Arc { .. } => {
                [self.from, between(self.from, to, 1.0 / 3.0), between(self.from, to, 2.0 / 3.0), to]
            }
        }
    }

    /// The place at `t`, 0 to 1.
    pub(crate) fn at(&self, t: f64) -> Point {
        match self.run.shape {
            EdgeShape::Cubic { .. } => split(self.controls(), t).0[3],
            EdgeShape::Straight | EdgeShape::Arc { .. } => between(self.from, self.run.to, t),
        }
    }

    /// What lies between two places, with its start.
    pub(crate) fn part(&self, start: f64, end: f64) -> (Point, Run) {
        if start == 0.0 && end == 1.0 {
            return (self.from, self.run);
        }
        if !matches!(self.run.shape, EdgeShape::Cubic { .. }) {
            return (self.at(start), Run { shape: EdgeShape::Straight, to: self.at(end) });
        }
        let (head, _) = split(self.controls(), end);
        let (_, part) = split(head, start / end);
        (part[0], Run { shape: EdgeShape::Cubic { first: part[1], second: part[2] }, to: part[3] })
    }
}

/// Both halves of a cubic (de Casteljau).
fn split(p: [Point; 4], t: f64) -> ([Point; 4], [Point; 4]) {
    let (ab, bc, cd) = (between(p[0], p[1], t), between(p[1], p[2], t), between(p[2], p[3], t));
    let (abc, bcd) = (between(ab, bc, t), between(bc, cd, t));
    let middle = between(abc, bcd, t);
    ([p[0], ab, abc, middle], [middle, bcd, cd, p[3]])
}

/// Where strictly between its ends a span crosses the line on which one coordinate is `bound`, in order.
pub(crate) fn crossings(span: &Span, axis: usize, bound: f64) -> Vec<f64> {
    let along = |p: Point| if axis == 0 { p.x } else { p.y };
    let height = |t: f64| along(span.at(t)) - bound;
    if !matches!(span.run.shape, EdgeShape::Cubic { .. }) {
        let (from, to) = (along(span.from), along(span.run.to));
        let t = (bound - from) / (to - from);
        return if t > 0.0 && t < 1.0 { vec![t] } else { Vec::new() };
    }
    // Between two extremes the curve rises or falls throughout, so it crosses at most once there.
    let mut stops = vec![0.0];
    stops.extend(extremes(span.controls().map(along)));
    stops.push(1.0);
    let mut found = Vec::new();
    for pair in stops.windows(2) {
        let (mut low, mut high) = (pair[0], pair[1]);
        let rises = height(low) < 0.0;
        if (height(high) < 0.0) == rises {
            continue;
        }
        while let middle = (low + high) / 2.0
            && middle > low
            && middle < high
        {
            if (height(middle) < 0.0) == rises { low = middle } else { high = middle }
        }
        if low > 0.0 && high < 1.0 {
            found.push(high);
        }
    }
    found
}

/// Where between its ends a cubic is highest or lowest, in order: roots of its derivative.
fn extremes(p: [f64; 4]) -> Vec<f64> {
    let (a, b, c) = (p[3] - 3.0 * p[2] + 3.0 * p[1] - p[0], 2.0 * (p[2] - 2.0 * p[1] + p[0]), p[1] - p[0]);
    let root = b * b - 4.0 * a * c;
    let mut found = Vec::new();
    if root >= 0.0 {
        // The form that keeps its digits when `a` is tiny.
        let q = -0.5 * (b + root.sqrt().copysign(b));
        found.extend([q / a, c / q]);
    }
    found.retain(|t| *t > 0.0 && *t < 1.0);
    found.sort_by(f64::total_cmp);
    found
}
