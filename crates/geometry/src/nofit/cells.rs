//! A grid over a no-fit region that remembers, cell by cell, what decides there.
//!
//! A cell lies outside, inside, or on the edge. For an edge cell it lists the clauses that reach into it, each with only those
//! half-planes that cut the cell. Every cell that is not outside lists the boundary segments that are nearest to
//! some point of it.

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
    /// Number of half-planes of each listed clause, in cell order.
    clause_lengths: Vec<u16>,
    planes: Vec<HalfPlane>,
    nearest: Vec<u32>,
}

#[derive(Debug, Clone, Copy, Default)]
struct Cell {
    state: State,
    /// Everywhere in the cell the way out is at least this long.
    least_depth: f64,
    clauses: u32,
    clause_count: u32,
    nearest_count: u32,
    planes: u32,
    nearest: u32,
}

#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum State {
    #[default]
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
            clause_lengths: Vec::new(),
            planes: Vec::new(),
            nearest: Vec::new(),
        }
    }

    /// Makes a cell one that lies inside, everywhere at least `least_depth` deep.
    pub(super) fn set_inside(&mut self, cell: (usize, usize), least_depth: f64, nearest: &[u32]) {
        self.set(cell, Cell { state: State::Inside, least_depth, ..Cell::default() }, nearest);
    }

    /// Makes a cell one on the edge, with those half-planes of each clause that cut it.
    pub(super) fn set_edge<'p>(
        &mut self,
        cell: (usize, usize),
        clauses: impl Iterator<Item = impl Iterator<Item = &'p HalfPlane>>,
        nearest: &[u32],
    ) {
        let (first, planes) = (self.clause_lengths.len(), self.planes.len());
        for clause in clauses {
            let before = self.planes.len();
            self.planes.extend(clause);
            self.clause_lengths.push((self.planes.len() - before) as u16);
        }
        let edge = Cell {
            state: State::Edge,
            least_depth: f64::NEG_INFINITY,
            clauses: first as u32,
            clause_count: (self.clause_lengths.len() - first) as u32,
            planes: planes as u32,
            ..Cell::default()
        };
        self.set(cell, edge, nearest);
    }

    fn set(&mut self, (column, row): (usize, usize), cell: Cell, nearest: &[u32]) {
        let (start, count) = (self.nearest.len() as u32, nearest.len() as u32);
        self.nearest.extend(nearest);
        self.cells[row * self.across + column] = Cell { nearest: start, nearest_count: count, ..cell };
    }

    /// Gives back the memory that the lists do not fill.
    pub(super) fn shrink_to_fit(&mut self) {
        self.clause_lengths.shrink_to_fit();
        self.planes.shrink_to_fit();
        self.nearest.shrink_to_fit();
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
        match cell.state {
            State::Outside => false,
            State::Inside => true,
            State::Edge => {
                let mut plane = cell.planes as usize;
                let first = cell.clauses as usize;
                for &length in &self.clause_lengths[first..first + cell.clause_count as usize] {
                    let end = plane + length as usize;
                    if self.planes[plane..end].iter().all(|p| p.distance(v) < 0.0) {
                        return true;
                    }
                    plane = end;
                }
                false
            }
        }
    }

    #[inline]
    fn nearest_list(&self, cell: &Cell) -> &[u32] {
        &self.nearest[cell.nearest as usize..cell.nearest as usize + cell.nearest_count as usize]
    }

    #[inline]
    pub(super) fn overlaps(&self, v: Point) -> bool {
        self.cell_at(v).is_some_and(|cell| self.is_inside(cell, v))
    }

    /// Depth at `v`, 0 outside; infinite when the cell alone tells that it exceeds `most`.
    #[inline]
    pub(super) fn depth(&self, v: Point, most: f64, segments: &[Segment]) -> f64 {
        let Some(cell) = self.cell_at(v) else { return 0.0 };
        if cell.least_depth > most {
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
