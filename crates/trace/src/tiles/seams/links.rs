//! Which lines go on from page to page, and where pages lie by them.

use std::collections::BTreeMap;

use ellwand_geometry::{Point, point};

use super::{super::along, Crossing, NEAR, Pages, Step, ends, matches, shared};

/// Which lines go on from page to page.
pub(in crate::tiles) struct Links {
    pub(in crate::tiles) steps: [Step; 2],
    pub(in crate::tiles) pages: usize,
    /// The lines at the low and the high seam of each page, across and up.
    seams: Vec<[[Vec<Crossing>; 2]; 2]>,
    /// How many lines run off each page where nothing follows.
    loose: Vec<[[usize; 2]; 2]>,
    /// How many lines go on from one page at another, across and up.
    met: [Vec<usize>; 2],
}

impl Links {
    pub(in crate::tiles) fn of(content: &Pages, across: Step, up: Step) -> Self {
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
    pub(in crate::tiles) fn between(&self, axis: usize, a: usize, b: usize) -> (usize, usize) {
        let met = self.met[axis][a * self.pages + b];
        (met, self.seams[a][axis][1].len() + self.seams[b][axis][0].len() - 2 * met)
    }

    /// Whether lines run off the pages at all: off the paper itself, or at a border at which those of several pages end.
    pub(in crate::tiles) fn run_off(&self, size: [f64; 2]) -> bool {
        [(0, 0), (0, 1), (1, 0), (1, 1)].into_iter().any(|(axis, side)| {
            let bound = self.steps[axis].shown[side];
            let pages = self.loose.iter().filter(|loose| loose[axis][side] > 0).count();
            let is_border = bound <= NEAR || bound >= size[axis] - NEAR;
            pages > 1 || pages > 0 && is_border
        })
    }

    /// How many lines run off a page at its low (0) or high (1) side.
    pub(in crate::tiles) fn loose(&self, page: usize, axis: usize, side: usize) -> usize {
        self.loose[page][axis][side]
    }

    /// The same with seams as far apart as pages are laid: what one leaves the other takes.
    pub(in crate::tiles) fn laid(mut self, vectors: [Point; 2]) -> Self {
        for (axis, step) in self.steps.iter_mut().enumerate() {
            step.length = along(vectors[axis], axis);
        }
        self
    }

    /// How far a page goes on to the right and up, each with what the pages are off the straight, by least squares over the lines that
    /// go on.
    pub(in crate::tiles) fn refined(&self, cells: &[Option<[i32; 2]>]) -> [Point; 2] {
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
pub(in crate::tiles) fn neighbours(cells: &[Option<[i32; 2]>], axis: usize) -> Vec<(usize, usize)> {
    let at: BTreeMap<[i32; 2], usize> =
        cells.iter().enumerate().filter_map(|(page, cell)| cell.map(|cell| (cell, page))).collect();
    let next = |cell: &[i32; 2]| if axis == 0 { [cell[0] + 1, cell[1]] } else { [cell[0], cell[1] + 1] };
    at.iter().filter_map(|(cell, page)| Some((*page, *at.get(&next(cell))?))).collect()
}

/// Pages are moved by no less, mm: lines are only as exact as the short lines that stand for them here.
const LEAST_MOVE: f64 = 0.02;

/// How many corners in the strips that pages share are shown by both, and all of them, counted on each page.
pub(in crate::tiles) fn shown_twice(content: &Pages, links: &Links, cells: &[Option<[i32; 2]>]) -> (usize, usize) {
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
}
