//! How far pages go on, and which lines that run off one page go on at another.

use std::collections::BTreeMap;

use ellwand_geometry::{Bounds, Point, distance, point};
use ellwand_vector::{Drawing, Stroke};

use super::{TileGrid, along, decor::Decor};
use crate::{
    curve::Line,
    outlines::{Look, look_of_style},
};

/// Ends so near to a border run off the page there, and lines so near to each other are one, mm.
pub(super) const NEAR: f64 = 0.5;

/// Lines that are one run in directions that differ by no more, radians.
const TURN: f64 = 0.35;

/// Pages share a strip of at most so many mm.
const WIDEST_OVERLAP: f64 = 60.0;

/// What pages usually overlap by, mm: common practice, round numbers of millimetres and parts of an inch.
const USUAL_OVERLAPS: [f64; 12] = [5.0, 6.0, 6.35, 8.0, 10.0, 12.0, 12.7, 15.0, 19.05, 20.0, 25.0, 25.4];

/// So many distances at which corners come again are tried.
const MOST_VOTED: usize = 8;

/// So many lines of a border are looked at.
const MOST_LINES: usize = 400;

/// What is drawn on pages, as short lines.
pub(super) struct Pages {
    lines: Vec<Vec<Flat>>,
    /// The box around all of it.
    around: Bounds,
}

struct Flat {
    points: Vec<Point>,
    /// Ends of its runs.
    corners: Vec<Point>,
    look: usize,
    closed: bool,
}

/// A line that crosses a seam.
#[derive(Debug, Clone, Copy)]
struct Crossing {
    /// Where along the seam.
    at: f64,
    /// How far it goes along the seam for each mm across it.
    slope: f64,
    look: usize,
}

/// A way in which pages may go on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    /// Where the seam at the low side of a page lies on it, mm.
    pub(super) low: f64,
    /// How far it goes on, mm.
    pub(super) length: f64,
    /// What lies beyond is cut away: the lowest and highest coordinate of what pages show.
    shown: [f64; 2],
}

impl Step {
    /// How much of what a page shows its neighbour shows too, mm.
    pub(super) fn overlap(&self) -> f64 {
        self.shown[1] - self.shown[0] - self.length
    }
}

/// How a stroke looks, and its layer: lines that go on are alike.
pub(super) fn kind_of(drawing: &Drawing, stroke: &Stroke) -> (Look, Option<String>) {
    (look_of_style(&stroke.style), drawing.layer_of(&stroke.origin).map(str::to_owned))
}

impl Pages {
    pub(super) fn of(drawing: &Drawing, members: &[usize], decor: &Decor) -> Self {
        let mut looks: BTreeMap<(Look, Option<String>), usize> = BTreeMap::new();
        let mut lines = Vec::new();
        for &page in members {
            let mut of_page = Vec::new();
            for (number, stroke) in drawing.sheets[page].strokes.iter().enumerate() {
                let line = Line::of(stroke);
                let points = line.flat();
                let is_sound = points.len() > 1 && points.iter().all(|p| p.x.is_finite() && p.y.is_finite());
                if !decor.has_stroke(page, number) && is_sound {
                    let next = looks.len();
                    let look = *looks.entry(kind_of(drawing, stroke)).or_insert(next);
                    let corners = std::iter::once(line.start).chain(line.runs.iter().map(|run| run.to)).collect();
                    of_page.push(Flat { points, corners, look, closed: stroke.closed });
                }
            }
            lines.push(of_page);
        }
        let points: Vec<Point> = lines.iter().flatten().flat_map(|line: &Flat| &line.points).copied().collect();
        let around = Bounds::of(if points.is_empty() { vec![point(0.0, 0.0)] } else { points });
        Self { lines, around }
    }

    fn open_ends(&self, page: usize) -> impl Iterator<Item = Point> + '_ {
        let open = self.lines[page].iter().filter(|line| !line.closed);
        open.flat_map(|line| [line.points[0], line.points[line.points.len() - 1]])
    }

    /// Corners in a strip, but not those at its very borders, where pages are cut: the place along it first, in that order.
    fn corners(&self, page: usize, axis: usize, [low, high]: [f64; 2]) -> Vec<[f64; 2]> {
        let inside = |p: &&Point| (low + 2.0 * SAME..=high - 2.0 * SAME).contains(&along(**p, axis));
        let corners = self.lines[page].iter().flat_map(|line| &line.corners).filter(inside);
        let mut corners: Vec<[f64; 2]> = corners.map(|p| [along(*p, 1 - axis), along(*p, axis)]).collect();
        corners.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        corners.dedup_by(|a, b| distance(point(a[0], a[1]), point(b[0], b[1])) <= SAME);
        corners.truncate(2 * MOST_LINES);
        corners
    }

    /// The lines of a page that cross the line on which the coordinate `axis` is `bound`, or end just there.
    fn crossings(&self, page: usize, axis: usize, bound: f64) -> Vec<Crossing> {
        let mut found = Vec::new();
        for line in &self.lines[page] {
            let first = found.len();
            let slope_of = |a: Point, b: Point| {
                let (across, up) = (along(b, axis) - along(a, axis), along(b, 1 - axis) - along(a, 1 - axis));
                (across.abs() > 0.1 * up.abs().max(1e-9)).then(|| up / across)
            };
            for pair in line.points.windows(2) {
                let (a, b) = (pair[0], pair[1]);
                if (along(a, axis) < bound) != (along(b, axis) < bound) {
                    let share = (bound - along(a, axis)) / (along(b, axis) - along(a, axis));
                    let at = along(a + (b - a) * share, 1 - axis);
                    let slope = slope_of(a, b).unwrap_or(f64::MAX);
                    found.push(Crossing { at, slope, look: line.look });
                }
            }
            if line.closed {
                continue;
            }
            let last = line.points.len() - 1;
            for (end, before) in [(0, 1), (last, last - 1)] {
                let (p, q) = (line.points[end], line.points[before]);
                let off = bound - along(p, axis);
                if off.abs() > NEAR {
                    continue;
                }
                let Some(slope) = slope_of(q, p) else { continue };
                let at = along(p, 1 - axis) + slope * off;
                if !found[first..].iter().any(|other: &Crossing| (other.at - at).abs() < 2.0 * NEAR) {
                    found.push(Crossing { at, slope, look: line.look });
                }
            }
        }
        found.sort_by(|a, b| a.at.total_cmp(&b.at));
        found.truncate(MOST_LINES);
        found
    }
}

/// The crossings of two sides that are one line, one with one, the nearest first along the seam.
fn matches(a: &[Crossing], b: &[Crossing]) -> Vec<(usize, usize)> {
    let mut taken = vec![false; b.len()];
    let mut pairs = Vec::new();
    let mut first = 0;
    for (k, one) in a.iter().enumerate() {
        while first < b.len() && b[first].at < one.at - NEAR {
            first += 1;
        }
        let near = (first..b.len()).take_while(|&other| b[other].at <= one.at + NEAR);
        let fits = |other: &usize| {
            let (x, y) = (one.slope.atan(), b[*other].slope.atan());
            let turn = (x - y).abs();
            !taken[*other] && b[*other].look == one.look && turn.min(std::f64::consts::PI - turn) <= TURN
        };
        let best = near.filter(fits).min_by(|x, y| (b[*x].at - one.at).abs().total_cmp(&(b[*y].at - one.at).abs()));
        if let Some(other) = best {
            taken[other] = true;
            pairs.push((k, other));
        }
    }
    pairs
}

/// The likeliest step across and up.
pub(super) fn steps(
    pages: &Pages,
    size: [f64; 2],
    frame: Option<(Point, Point)>,
    stated: Option<&TileGrid>,
) -> [Step; 2] {
    [0, 1].map(|axis| {
        let mut best: Option<(f64, Step)> = None;
        for step in candidates(pages, axis, size[axis], frame, stated) {
            let quality = quality(pages, axis, step);
            if best.is_none_or(|(of, _)| quality > of + 0.25) {
                best = Some((quality, step));
            }
        }
        let whole = Step { low: 0.0, length: size[axis], shown: [0.0, size[axis]] };
        best.map_or(whole, |(_, step)| exact(pages, axis, step))
    })
}

/// The step by the corners that two pages show: the middle one of what each says.
fn exact(pages: &Pages, axis: usize, step: Step) -> Step {
    let half = step.overlap() / 2.0;
    let count = pages.lines.len();
    let strip = |page: usize, at: f64| pages.corners(page, axis, [at - half, at + half]);
    let lows: Vec<Vec<[f64; 2]>> = (0..count).map(|page| strip(page, step.low)).collect();
    let mut said: Vec<f64> = Vec::new();
    for page in 0..count {
        let high = strip(page, step.low + step.length);
        let best = (0..count).filter(|other| *other != page).map(|other| shared(&high, &lows[other], step.length));
        said.extend(best.max_by_key(Vec::len).unwrap_or_default());
    }
    said.sort_by(f64::total_cmp);
    match said.get(said.len() / 2) {
        // The seam stays in the middle of the strip.
        Some(&length) => Step { low: step.low + (step.length - length) / 2.0, length, ..step },
        None => step,
    }
}

/// How many lines go on at the page that fits best, and how many corners are shown twice by pages that overlap, for all pages.
fn quality(pages: &Pages, axis: usize, step: Step) -> f64 {
    let count = pages.lines.len();
    let sides: Vec<[Vec<Crossing>; 2]> =
        (0..count).map(|page| [step.low, step.low + step.length].map(|at| pages.crossings(page, axis, at))).collect();
    let half = step.overlap() / 2.0;
    let strips: Vec<[Vec<[f64; 2]>; 2]> = (0..count)
        .map(|page| [step.low, step.low + step.length].map(|at| pages.corners(page, axis, [at - half, at + half])))
        .collect();
    let best = |page: usize| {
        let fit = |other: usize| {
            let (a, b) = (&sides[page][1], &sides[other][0]);
            let pairs = matches(a, b);
            let met = pairs.len() as f64;
            // Lines that lean tell how far pages go on: they meet best there.
            let off: f64 = pairs.iter().map(|(x, y)| (a[*x].at - b[*y].at).abs() / NEAR).sum();
            let (a_corners, b_corners) = (&strips[page][1], &strips[other][0]);
            let shared = shared(a_corners, b_corners, step.length).len() as f64;
            let alone = |of: f64, both: f64| of - 2.0 * both;
            met - off - 0.25 * alone((a.len() + b.len()) as f64, met) + shared
                - 0.5 * alone((a_corners.len() + b_corners.len()) as f64, shared)
        };
        (0..count).filter(|other| *other != page).map(fit).fold(0.0, f64::max)
    };
    (0..count).map(best).sum()
}

/// Corners so near to each other are one, mm.
const SAME: f64 = 0.1;

/// The corners of one page that are those of another which lies about `by` further on: how far it does by each of them. Both are in order
/// along the seam.
fn shared(a: &[[f64; 2]], b: &[[f64; 2]], by: f64) -> Vec<f64> {
    let mut first = 0;
    let mut found = Vec::new();
    for [at, across] in a {
        while first < b.len() && b[first][0] < at - SAME {
            first += 1;
        }
        let near = b[first..].iter().take_while(|other| other[0] <= at + SAME);
        let off = near.map(|other| across - other[1]).filter(|off| (off - by).abs() <= SAME);
        found.extend(off.min_by(|x, y| (x - by).abs().total_cmp(&(y - by).abs())));
    }
    found.truncate(b.len());
    found
}

/// Steps worth a try, the likelier first.
fn candidates(
    pages: &Pages,
    axis: usize,
    size: f64,
    frame: Option<(Point, Point)>,
    stated: Option<&TileGrid>,
) -> Vec<Step> {
    let around = [along(pages.around.min, axis), along(pages.around.max, axis)];
    let frame = frame.map(|(low, high)| [along(low, axis), along(high, axis)]);
    let of = |[low, high]: [f64; 2], overlap: f64| Step {
        low: low + overlap / 2.0,
        length: high - low - overlap,
        shown: around,
    };
    let (overlap, trim) = stated.map_or((None, None), |grid| (grid.overlap, grid.trim));
    let page = [0.0, size];
    let modal = modal_ends(pages, axis, size);
    let mut found: Vec<Step> = Vec::new();
    match (overlap, trim) {
        (overlap, Some(trim)) => found.push(of([trim, size - trim], overlap.unwrap_or(0.0))),
        (Some(overlap), None) => {
            let windows = [Some(page), frame, Some(around), modal];
            found.extend(windows.into_iter().flatten().map(|window| of(window, overlap)));
        }
        (None, None) => {
            let windows = [frame, Some(around), modal, Some(page)];
            found.extend(windows.into_iter().flatten().map(|window| of(window, 0.0)));
            let shown = around[1] - around[0];
            // Habits; the lines decide whether one of them holds.
            let usual = USUAL_OVERLAPS.iter().map(|overlap| of(around, *overlap));
            found.extend(usual);
            found.extend(repeated(pages, axis, around).into_iter().map(|length| of(around, shown - length)));
        }
    }
    found.retain(|step| step.length > 0.2 * size && step.length <= size + NEAR);
    found
}

/// The borders at which most lines end.
fn modal_ends(pages: &Pages, axis: usize, size: f64) -> Option<[f64; 2]> {
    let mut counts: BTreeMap<i64, (usize, f64)> = BTreeMap::new();
    for end in (0..pages.lines.len()).flat_map(|page| pages.open_ends(page)) {
        let at = along(end, axis);
        let entry = counts.entry((at * 10.0).round() as i64).or_default();
        *entry = (entry.0 + 1, entry.1 + at);
    }
    let most = |is_low: bool| {
        let of = counts.values().map(|(count, sum)| (*count, sum / *count as f64));
        let side = of.filter(|(count, at)| *count > 1 && (*at < size / 3.0) == is_low && (is_low || *at > size / 1.5));
        side.max_by(|a, b| a.0.cmp(&b.0)).map(|(_, at)| at)
    };
    Some([most(true)?, most(false)?])
}

/// Distances at which corners of one page come again on others, the most frequent first: what pages that overlap show twice.
fn repeated(pages: &Pages, axis: usize, around: [f64; 2]) -> Vec<f64> {
    let strip = |page: usize, is_low: bool| {
        let [low, high] = around;
        let range = if is_low { [low, low + WIDEST_OVERLAP] } else { [high - WIDEST_OVERLAP, high] };
        pages.corners(page, axis, range)
    };
    let count = pages.lines.len();
    let lows: Vec<Vec<[f64; 2]>> = (0..count).map(|page| strip(page, true)).collect();
    let mut votes: BTreeMap<i64, (usize, f64)> = BTreeMap::new();
    for page in 0..count {
        let high = strip(page, false);
        for low in lows.iter().enumerate().filter(|(other, _)| *other != page).map(|(_, low)| low) {
            let mut of_pair: BTreeMap<i64, (usize, f64)> = BTreeMap::new();
            let mut first = 0;
            for [y, x] in &high {
                while first < low.len() && low[first][0] < y - SAME / 2.0 {
                    first += 1;
                }
                for [_, other] in low[first..].iter().take_while(|other| other[0] <= y + SAME / 2.0) {
                    let length = x - other;
                    let entry = of_pair.entry((length * 5.0).round() as i64).or_default();
                    *entry = (entry.0 + 1, entry.1 + length);
                }
            }
            // Pages that are no neighbours have one or two corners at any distance; neighbours have all of them at one.
            if let Some((key, (count, sum))) = of_pair.into_iter().max_by_key(|(_, (count, _))| *count) {
                let weight = count * count;
                let entry = votes.entry(key).or_default();
                *entry = (entry.0 + weight, entry.1 + sum / count as f64 * weight as f64);
            }
        }
    }
    let mut votes: Vec<(usize, f64)> = votes.into_values().map(|(count, sum)| (count, sum / count as f64)).collect();
    votes.retain(|(count, _)| *count > 1);
    votes.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.total_cmp(&b.1)));
    votes.into_iter().take(MOST_VOTED).map(|(_, length)| length).collect()
}

/// Which lines go on from page to page.
pub(super) struct Links {
    pub(super) steps: [Step; 2],
    pub(super) pages: usize,
    /// The lines at the low and the high seam of each page, across and up.
    seams: Vec<[[Vec<Crossing>; 2]; 2]>,
    /// How many lines run off each page where nothing follows.
    loose: Vec<[[usize; 2]; 2]>,
    /// How many lines go on from one page at another, across and up.
    met: [Vec<usize>; 2],
}

impl Links {
    pub(super) fn of(content: &Pages, across: Step, up: Step) -> Self {
        let steps = [across, up];
        let pages = content.lines.len();
        let at = |page: usize, axis: usize, bound: f64| content.crossings(page, axis, bound);
        let seams: Vec<_> = (0..pages)
            .map(|page| {
                [0, 1].map(|axis| {
                    let step = steps[axis];
                    [step.low, step.low + step.length].map(|bound| at(page, axis, bound))
                })
            })
            .collect();
        let loose =
            (0..pages).map(|page| [0, 1].map(|axis| steps[axis].shown.map(|bound| ends(content, page, axis, bound))));
        let loose = loose.collect();
        let met = [0, 1].map(|axis| {
            let count = |k: usize| {
                let (a, b) = (k / pages, k % pages);
                if a == b { 0 } else { matches(&seams[a][axis][1], &seams[b][axis][0]).len() }
            };
            (0..pages * pages).map(count).collect()
        });
        Self { steps, pages, seams, loose, met }
    }

    /// How many lines go on from `a` at `b`, which lies right of it (0) or above it (1), and how many do not.
    pub(super) fn between(&self, axis: usize, a: usize, b: usize) -> (usize, usize) {
        let met = self.met[axis][a * self.pages + b];
        (met, self.seams[a][axis][1].len() + self.seams[b][axis][0].len() - 2 * met)
    }

    /// Whether lines run off the pages at all: off the paper itself, or at a border at which those of several pages end.
    pub(super) fn run_off(&self, size: [f64; 2]) -> bool {
        [(0, 0), (0, 1), (1, 0), (1, 1)].into_iter().any(|(axis, side)| {
            let bound = self.steps[axis].shown[side];
            let pages = self.loose.iter().filter(|loose| loose[axis][side] > 0).count();
            let is_border = bound <= NEAR || bound >= size[axis] - NEAR;
            pages > 1 || pages > 0 && is_border
        })
    }

    /// How many lines run off a page at its low (0) or high (1) side.
    pub(super) fn loose(&self, page: usize, axis: usize, side: usize) -> usize {
        self.loose[page][axis][side]
    }

    /// The same with seams as far apart as pages are laid: what one leaves the other takes.
    pub(super) fn laid(mut self, vectors: [Point; 2]) -> Self {
        for (axis, step) in self.steps.iter_mut().enumerate() {
            step.length = along(vectors[axis], axis);
        }
        self
    }

    /// How far a page goes on to the right and up, each with what the pages are off the straight, by least squares over the lines that
    /// go on.
    pub(super) fn refined(&self, cells: &[Option<[i32; 2]>]) -> [Point; 2] {
        [0, 1].map(|axis| {
            let mut off: Vec<(f64, f64)> = Vec::new();
            for (a, b) in neighbours(cells, axis) {
                let (low, high) = (&self.seams[a][axis][1], &self.seams[b][axis][0]);
                for (x, y) in matches(low, high) {
                    let slope = (low[x].slope + high[y].slope) / 2.0;
                    if slope.abs() < 5.0 {
                        off.push((slope, low[x].at - high[y].at));
                    }
                }
            }
            let [more, aside] = least_squares(&off);
            let length = self.steps[axis].length + more;
            if axis == 0 { point(length, aside) } else { point(aside, length) }
        })
    }
}

/// Pairs of pages of which the second lies right of the first (0) or above it (1).
pub(super) fn neighbours(cells: &[Option<[i32; 2]>], axis: usize) -> Vec<(usize, usize)> {
    let at: BTreeMap<[i32; 2], usize> =
        cells.iter().enumerate().filter_map(|(page, cell)| cell.map(|cell| (cell, page))).collect();
    let next = |cell: &[i32; 2]| if axis == 0 { [cell[0] + 1, cell[1]] } else { [cell[0], cell[1] + 1] };
    at.iter().filter_map(|(cell, page)| Some((*page, *at.get(&next(cell))?))).collect()
}

/// Pages are moved by no less, mm: lines are only as exact as the short lines that stand for them here.
const LEAST_MOVE: f64 = 0.02;

/// How many corners in the strips that pages share are shown by both, and all of them, counted on each page.
pub(super) fn shown_twice(content: &Pages, links: &Links, cells: &[Option<[i32; 2]>]) -> (usize, usize) {
    let (mut twice, mut all) = (0, 0);
    for (axis, step) in links.steps.iter().enumerate() {
        let half = step.overlap() / 2.0;
        let strip = |page: usize, at: f64| content.corners(page, axis, [at - half, at + half]);
        for (a, b) in neighbours(cells, axis) {
            let (high, low) = (strip(a, step.low + step.length), strip(b, step.low));
            twice += 2 * shared(&high, &low, step.length).len();
            all += high.len() + low.len();
        }
    }
    (twice, all)
}

/// How far pages are to be moved on and aside so that lines with these slopes, so far off, meet: `off = aside - slope * more`. Nothing
/// where lines do not meet much better then, or where it is more than lines may be off.
fn least_squares(off: &[(f64, f64)]) -> [f64; 2] {
    let count = off.len() as f64;
    if off.len() < 3 {
        return [0.0, 0.0];
    }
    let mean = |of: &dyn Fn(&(f64, f64)) -> f64| off.iter().map(of).sum::<f64>() / count;
    let (slope, gap) = (mean(&|of| of.0), mean(&|of| of.1));
    let spread = mean(&|of| (of.0 - slope).powi(2));
    let both = mean(&|of| (of.0 - slope) * (of.1 - gap));
    let more = if spread > 0.01 { -both / spread } else { 0.0 };
    let aside = gap + slope * more;
    let sound = |by: f64| if (LEAST_MOVE..=NEAR).contains(&by.abs()) { by } else { 0.0 };
    let (more, aside) = (sound(more), sound(aside));
    let before = mean(&|of| of.1.powi(2));
    let after = mean(&|of| (of.1 - aside + of.0 * more).powi(2));
    if after < 0.5 * before { [more, aside] } else { [0.0, 0.0] }
}

/// How many open lines end at a border.
fn ends(content: &Pages, page: usize, axis: usize, bound: f64) -> usize {
    let is_there = |line: &&Flat| !line.closed;
    let lines = content.lines[page].iter().filter(is_there);
    let ends = lines.flat_map(|line| {
        let last = line.points.len() - 1;
        [(line.points[0], line.points[1]), (line.points[last], line.points[last - 1])]
    });
    ends.filter(|(end, before)| {
        let off = (along(*end, axis) - bound).abs();
        let across = (along(*end, axis) - along(*before, axis)).abs();
        off <= NEAR && across > 0.1 * distance(*end, *before)
    })
    .count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_are_moved_by_what_their_lines_are_off() {
        // 0.2 mm further on, 0.1 mm aside: a line of slope k is 0.1 - 0.2 k off.
        let off: Vec<(f64, f64)> = [-1.0, 0.0, 0.5, 2.0].map(|slope| (slope, 0.1 - 0.2 * slope)).to_vec();
        let [more, aside] = least_squares(&off);
        assert!((more - 0.2).abs() < 1e-12 && (aside - 0.1).abs() < 1e-12, "{more} {aside}");
        // Level lines say nothing of how far on.
        let [more, aside] = least_squares(&[(0.0, 0.1); 4]);
        assert_eq!(more, 0.0);
        assert!((aside - 0.1).abs() < 1e-12);
    }

    #[test]
    fn lines_go_on_once_each_and_only_where_they_are_alike() {
        let line = |at: f64, slope: f64, look: usize| Crossing { at, slope, look };
        let a = [line(10.0, 0.0, 0), line(10.2, 0.0, 0), line(50.0, 1.0, 0), line(80.0, 0.0, 1)];
        let b = [line(10.1, 0.0, 0), line(50.0, -1.0, 0), line(80.0, 0.0, 0)];
        assert_eq!(matches(&a, &b), [(0, 0)]);
    }
}
