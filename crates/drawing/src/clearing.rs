//! Finding the clearest place for a label in a region of the page.
//!
//! The region is laid out in small cells, once for each reading direction. A cell is free only when all of it lies inside
//! and keeps its distance from every obstacle, so a box of free cells needs no further check. Running sums answer "is this
//! box free" at once.

use ellwand_geometry::{Bounds, Point, distance_to_segment, point};

use crate::boxes::{TurnedBox, turned};
use crate::hatch::inside_spans;

/// A line that a label keeps away from, paper mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Obstacle {
    /// One end.
    pub(crate) a: Point,
    /// The other end.
    pub(crate) b: Point,
    /// Least distance of a label from the line.
    pub(crate) reach: f64,
}

impl Obstacle {
    /// What keeps a label out of a box and `reach` away from it.
    pub(crate) fn around(taken: &TurnedBox, reach: f64) -> Vec<Self> {
        let c = taken.corners();
        let middle = |i: usize, j: usize| (c[i] + c[j]) / 2.0;
        let mut lines: Vec<Self> = (0..4).map(|i| Self { a: c[i], b: c[(i + 1) % 4], reach }).collect();
        let half = taken.height.min(taken.width) / 2.0;
        let (a, b) =
            if taken.width >= taken.height { (middle(3, 0), middle(1, 2)) } else { (middle(0, 1), middle(2, 3)) };
        lines.push(Self { a, b, reach: half });
        lines
    }
}

/// A region with its obstacles, ready for boxes of any size.
#[derive(Debug)]
pub(crate) struct Clearing {
    rasters: Vec<Raster>,
}

/// What is searched: the inside of an outline less the inside of others.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Region<'a> {
    /// The outline.
    pub(crate) outline: &'a [Point],
    /// Outlines whose inside is not free; they may overlap.
    pub(crate) holes: &'a [&'a [Point]],
    /// Distance kept from all of them, paper mm.
    pub(crate) margin: f64,
    /// Most cells of its bounds: more find tighter places, and cost as much more.
    pub(crate) most_cells: f64,
}

/// Which reading directions may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Reading {
    /// Only the first.
    First,
    /// Any, the earlier ones first.
    Any,
}

/// Finest cell, paper mm.
const FINEST_CELL: f64 = 0.12;

impl Clearing {
    /// The free room of `region` for text at each of `turns_deg`.
    pub(crate) fn new(region: Region<'_>, obstacles: &[Obstacle], turns_deg: &[f64]) -> Self {
        Self { rasters: turns_deg.iter().map(|&t| Raster::new(region, obstacles, t)).collect() }
    }

    /// The clearest place for a box of `width` by `height` in the first direction that has one.
    pub(crate) fn clearest(&self, width: f64, height: f64, reading: Reading) -> Option<TurnedBox> {
        let directions = match reading {
            Reading::First => 1,
            Reading::Any => self.rasters.len(),
        };
        self.rasters.iter().take(directions).find_map(|r| r.clearest(width, height))
    }

    /// The free place for a box of `width` by `height` that is nearest to `target`.
    pub(crate) fn nearest(&self, width: f64, height: f64, target: Point) -> Option<TurnedBox> {
        self.rasters.iter().find_map(|r| r.nearest(width, height, 0, target))
    }
}

#[derive(Debug)]
struct Raster {
    turn_deg: f64,
    origin: Point,
    cell: f64,
    columns: usize,
    rows: usize,
    middle: Point,
    /// Blocked cells above and to the left, one row and column wider than the grid.
    sums: Vec<u32>,
}

impl Raster {
    fn new(region: Region<'_>, obstacles: &[Obstacle], turn_deg: f64) -> Self {
        let local = |ring: &[Point]| -> Vec<Point> { ring.iter().map(|&p| turned(p, -turn_deg)).collect() };
        let outline = local(region.outline);
        let holes: Vec<Vec<Point>> = region.holes.iter().map(|ring| local(ring)).collect();
        let bounds = Bounds::of(outline.iter().copied());
        let cell = (bounds.width() * bounds.height() / region.most_cells).sqrt().max(FINEST_CELL);
        let columns = (bounds.width() / cell).ceil() as usize;
        let rows = (bounds.height() / cell).ceil() as usize;
        let origin = bounds.min;
        let mut blocked = vec![true; columns * rows];
        for row in 0..rows {
            let y = origin.y + (row as f64 + 0.5) * cell;
            let line = &mut blocked[row * columns..(row + 1) * columns];
            let mut set = |ring: &[Point], value: bool| {
                for (from, to) in inside_spans(ring, y) {
                    let first = ((from - origin.x) / cell - 0.5).ceil().clamp(0.0, columns as f64) as usize;
                    let end = (((to - origin.x) / cell - 0.5).floor() + 1.0).clamp(0.0, columns as f64) as usize;
                    line[first.min(end)..end].fill(value);
                }
            };
            set(&outline, false);
            holes.iter().for_each(|hole| set(hole, true));
        }
        let mut raster = Self { turn_deg, origin, cell, columns, rows, middle: bounds.center(), sums: Vec::new() };
        for ring in std::iter::once(&outline).chain(&holes) {
            for (i, &a) in ring.iter().enumerate() {
                raster.block(&mut blocked, a, ring[(i + 1) % ring.len()], region.margin);
            }
        }
        for o in obstacles {
            raster.block(&mut blocked, turned(o.a, -turn_deg), turned(o.b, -turn_deg), o.reach);
        }
        raster.sums = running_sums(&blocked, columns, rows);
        raster
    }

    /// Blocks every cell any part of which is within `reach` of the segment, in the raster's own directions.
    fn block(&self, blocked: &mut [bool], a: Point, b: Point, reach: f64) {
        let reach = reach + self.cell * std::f64::consts::FRAC_1_SQRT_2;
        let bounds = Bounds::of([a, b]).grown(reach);
        let index = |v: f64, low: f64, count: usize| ((v - low) / self.cell).floor().clamp(0.0, count as f64) as usize;
        let columns = index(bounds.min.x, self.origin.x, self.columns)
            ..(index(bounds.max.x, self.origin.x, self.columns) + 1).min(self.columns);
        let rows = index(bounds.min.y, self.origin.y, self.rows)
            ..(index(bounds.max.y, self.origin.y, self.rows) + 1).min(self.rows);
        for row in rows {
            for column in columns.clone() {
                let at = self.cell_middle(column as f64, row as f64);
                if distance_to_segment(at, a, b) <= reach {
                    blocked[row * self.columns + column] = true;
                }
            }
        }
    }

    fn cell_middle(&self, column: f64, row: f64) -> Point {
        self.origin + point((column + 0.5) * self.cell, (row + 0.5) * self.cell)
    }

    /// Where blocks of `wide` by `high` cells are free: their first column and row.
    fn free_blocks(&self, wide: usize, high: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        let stride = self.columns + 1;
        let down = (self.rows + 1).saturating_sub(high);
        let right = (self.columns + 1).saturating_sub(wide);
        (0..down).flat_map(move |row| (0..right).map(move |column| (column, row))).filter(move |&(column, row)| {
            let s = |c: usize, r: usize| self.sums[r * stride + c];
            s(column + wide, row + high) + s(column, row) == s(column + wide, row) + s(column, row + high)
        })
    }

    fn cells(&self, width: f64, height: f64) -> (usize, usize) {
        ((width / self.cell).ceil() as usize, (height / self.cell).ceil() as usize)
    }

    fn clearest(&self, width: f64, height: f64) -> Option<TurnedBox> {
        let (wide, high) = self.cells(width, height);
        let fits = |slack: usize| self.free_blocks(wide + 2 * slack, high + 2 * slack).next().is_some();
        if !fits(0) {
            return None;
        }
        let (mut slack, mut too_much) = (0, self.rows.max(self.columns));
        while too_much - slack > 1 {
            let half = (slack + too_much) / 2;
            if fits(half) { slack = half } else { too_much = half }
        }
        self.nearest(width, height, slack, turned(self.middle, self.turn_deg))
    }

    fn nearest(&self, width: f64, height: f64, slack: usize, target: Point) -> Option<TurnedBox> {
        let (wide, high) = self.cells(width, height);
        let (wide, high) = (wide + 2 * slack, high + 2 * slack);
        let target = turned(target, -self.turn_deg);
        let middle = |(column, row): (usize, usize)| {
            self.origin
                + point((column as f64 + wide as f64 / 2.0) * self.cell, (row as f64 + high as f64 / 2.0) * self.cell)
        };
        let away = |p: Point| (p.x - target.x).powi(2) + (p.y - target.y).powi(2);
        let center = self.free_blocks(wide, high).map(middle).min_by(|&p, &q| away(p).total_cmp(&away(q)))?;
        Some(TurnedBox { center: turned(center, self.turn_deg), width, height, turn_deg: self.turn_deg })
    }
}

fn running_sums(blocked: &[bool], columns: usize, rows: usize) -> Vec<u32> {
    let stride = columns + 1;
    let mut sums = vec![0_u32; stride * (rows + 1)];
    for row in 0..rows {
        let mut line = 0;
        for column in 0..columns {
            line += u32::from(blocked[row * columns + column]);
            sums[(row + 1) * stride + column + 1] = sums[row * stride + column + 1] + line;
        }
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;

    fn region<'a>(outline: &'a [Point], holes: &'a [&'a [Point]]) -> Region<'a> {
        Region { outline, holes, margin: 0.5, most_cells: 20_000.0 }
    }

    fn square(side: f64) -> Vec<Point> {
        [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)].map(|(x, y)| point(x, y)).to_vec()
    }

    #[test]
    fn a_box_goes_to_the_middle_of_an_empty_square() {
        let ring = square(30.0);
        let found = Clearing::new(region(&ring, &[]), &[], &[0.0]).clearest(8.0, 3.0, Reading::Any).unwrap();
        assert!((found.center.x - 15.0).abs() < 0.5 && (found.center.y - 15.0).abs() < 0.5);
    }

    #[test]
    fn a_grainline_pushes_the_box_aside() {
        let ring = square(30.0);
        let grain = Obstacle { a: point(15.0, 0.0), b: point(15.0, 30.0), reach: 1.0 };
        let clearing = Clearing::new(region(&ring, &[]), &[grain], &[0.0]);
        let found = clearing.clearest(8.0, 3.0, Reading::Any).unwrap();
        assert!((found.center.x - 15.0).abs() >= 5.0);
        assert_eq!(clearing.clearest(14.0, 3.0, Reading::Any), None, "half the square less the margins is 13.5 mm");
    }

    #[test]
    fn a_narrow_strip_takes_the_box_upright() {
        let ring: Vec<Point> = [(0.0, 0.0), (5.0, 0.0), (5.0, 60.0), (0.0, 60.0)].map(|(x, y)| point(x, y)).to_vec();
        let found = Clearing::new(region(&ring, &[]), &[], &[0.0, -90.0]).clearest(20.0, 3.0, Reading::Any).unwrap();
        assert_eq!(found.turn_deg, -90.0);
    }

    #[test]
    fn a_hole_is_not_free() {
        let (outer, hole) = (square(30.0), square(28.0));
        let clearing = Clearing::new(region(&outer, &[&hole]), &[], &[0.0]);
        assert_eq!(clearing.clearest(5.0, 5.0, Reading::Any), None);
    }
}
