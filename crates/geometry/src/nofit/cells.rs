//! A grid over a no-fit region that remembers, cell by cell, what decides there.
//!
//! A cell lies outside, inside, or on the edge. For an edge cell it lists the clauses that reach into it, each with only those
//! half-planes that cut the cell. Every cell that is not outside lists the boundary segments that are nearest to
//! some point of it.

use std::iter;

use super::HalfPlane;
use super::boundary::Segment;
use crate::{Point, point};

#[derive(Debug, Clone)]
pub(super) struct Cells {
    origin: Point,
    inverse_size: Point,
    across: usize,
    along: usize,
    cells: Vec<Cell>,
    /// For each cell in turn the number of half-planes of each clause, and then the nearest segments.
    lists: Vec<u32>,
    planes: Vec<HalfPlane>,
}

/// Small, because most questions end here and a search has the cells of hundreds of regions in use.
#[derive(Debug, Clone, Copy, Default)]
struct Cell {
    /// Everywhere in the cell the way out is at least this long.
    least_depth: f32,
    /// Where its lists and its half-planes begin.
    lists: u32,
    planes: u32,
    /// None unless the cell lies on the edge.
    clauses: u16,
    /// None when the cell lies outside.
    nearest: u16,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum State {
    Outside,
    Inside,
    Edge,
}

impl Cells {
    /// A grid of `across` times `along` cells from `origin` on, each `step` large and outside.
    pub(super) fn outside(origin: Point, step: Point, across: usize, along: usize) -> Self {
        Self {
            origin,
            inverse_size: point(1.0 / step.x, 1.0 / step.y),
            across,
            along,
            cells: vec![Cell::default(); across * along],
            lists: Vec::new(),
            planes: Vec::new(),
        }
    }

    /// Makes a cell one that lies inside, everywhere at least `least_depth` deep.
    pub(super) fn set_inside(&mut self, cell: (usize, usize), least_depth: f64, nearest: &[u32]) {
        self.set(cell, iter::empty(), least_depth, nearest);
    }

    /// Makes a cell one on the edge, with those half-planes of each clause that cut it.
    pub(super) fn set_edge<'p>(
        &mut self,
        cell: (usize, usize),
        clauses: impl Iterator<Item = &'p [HalfPlane]>,
        nearest: &[u32],
    ) {
        self.set(cell, clauses, f64::NEG_INFINITY, nearest);
    }

    /// # Panics
    ///
    /// Above four thousand million half-planes in all, or 65 535 clauses or segments in one cell.
    fn set<'p>(
        &mut self,
        (column, row): (usize, usize),
        clauses: impl Iterator<Item = &'p [HalfPlane]>,
        least_depth: f64,
        nearest: &[u32],
    ) {
        let (lists, planes) = (self.lists.len(), self.planes.len());
        for clause in clauses {
            self.planes.extend(clause);
            self.lists.push(clause.len() as u32);
        }
        let clauses = self.lists.len() - lists;
        self.lists.extend(nearest);
        let rounded = least_depth as f32;
        let fits = "a region of two pieces is far smaller";
        self.cells[row * self.across + column] = Cell {
            least_depth: if f64::from(rounded) > least_depth { rounded.next_down() } else { rounded },
            lists: lists.try_into().expect(fits),
            planes: planes.try_into().expect(fits),
            clauses: clauses.try_into().expect(fits),
            nearest: nearest.len().try_into().expect(fits),
        };
    }

    /// Gives back the memory that the lists do not fill.
    pub(super) fn shrink_to_fit(&mut self) {
        self.lists.shrink_to_fit();
        self.planes.shrink_to_fit();
    }

    #[inline]
    fn cell_at(&self, v: Point) -> Option<&Cell> {
        let x = (v.x - self.origin.x) * self.inverse_size.x;
        let y = (v.y - self.origin.y) * self.inverse_size.y;
        if !(x >= 0.0 && y >= 0.0) {
            return None;
        }
        let (column, row) = (x as usize, y as usize);
        if column >= self.across || row >= self.along {
            return None;
        }
        Some(&self.cells[row * self.across + column])
    }

    #[inline]
    fn is_inside(&self, cell: &Cell, v: Point) -> bool {
        if cell.clauses == 0 {
            return cell.nearest > 0;
        }
        let mut planes = &self.planes[cell.planes as usize..];
        let lengths = &self.lists[cell.lists as usize..][..cell.clauses as usize];
        lengths.iter().any(|&length| {
            let (clause, rest) = planes.split_at(length as usize);
            planes = rest;
            clause.iter().all(|plane| plane.distance(v) < 0.0)
        })
    }

    #[inline]
    fn nearest_list(&self, cell: &Cell) -> &[u32] {
        &self.lists[cell.lists as usize + cell.clauses as usize..][..cell.nearest as usize]
    }

    #[inline]
    pub(super) fn overlaps(&self, v: Point) -> bool {
        self.cell_at(v).is_some_and(|cell| self.is_inside(cell, v))
    }

    /// Depth at `v`, 0 outside; infinite when the cell alone tells that it exceeds `most`.
    #[inline]
    pub(super) fn depth(&self, v: Point, most: f64, segments: &[Segment]) -> f64 {
        let Some(cell) = self.cell_at(v) else { return 0.0 };
        if f64::from(cell.least_depth) > most {
            return f64::INFINITY;
        }
        if !self.is_inside(cell, v) {
            return 0.0;
        }
        let nearest = self.nearest_list(cell).iter().map(|&s| segments[s as usize].distance_sq(v));
        nearest.fold(f64::INFINITY, f64::min).sqrt()
    }

    /// The nearest boundary point, when `v` lies inside.
    pub(super) fn nearest_point(&self, v: Point, segments: &[Segment]) -> Option<Point> {
        let cell = self.cell_at(v).filter(|cell| self.is_inside(cell, v))?;
        let mut best = (f64::INFINITY, v);
        for &s in self.nearest_list(cell) {
            let to = segments[s as usize].nearest(v);
            let d = to - v;
            let distance_sq = d.x * d.x + d.y * d.y;
            if distance_sq < best.0 {
                best = (distance_sq, to);
            }
        }
        Some(best.1)
    }
}
