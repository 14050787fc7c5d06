//! A grid over a no-fit region that remembers, cell by cell, what decides there.
//!
//! A cell lies outside, inside, or on the edge. For an edge cell it lists the clauses that reach into it, each with only those
//! half-planes that cut the cell. Every cell that is not outside lists the boundary segments that are nearest to
//! some point of it. Both lists are found by halving the grid and passing on what can still matter.

use super::boundary::Segment;
use super::{Clause, HalfPlane};
use crate::{Bounds, Point, point};

/// Cells along the longer side at most; more cells mean shorter lists and more memory.
const MOST_CELLS_A_SIDE: f64 = 24.0;

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
enum State {
    #[default]
    Outside,
    Inside,
    Edge,
}

/// A block of cells still to be divided: columns and rows, both half-open.
#[derive(Clone, Copy)]
struct Block {
    columns: (usize, usize),
    rows: (usize, usize),
}

impl Cells {
    pub(super) fn new(clauses: &[Clause], segments: &[Segment], bounds: Bounds) -> Self {
        let size = bounds.width().max(bounds.height()) / MOST_CELLS_A_SIDE;
        let across = (bounds.width() / size).ceil().max(1.0) as usize;
        let along = (bounds.height() / size).ceil().max(1.0) as usize;
        let step = point(bounds.width() / across as f64, bounds.height() / along as f64);
        let mut grid = Self {
            origin: bounds.min,
            inverse_size: point(1.0 / step.x, 1.0 / step.y),
            across,
            along,
            cells: vec![Cell::default(); across * along],
            clause_lengths: Vec::new(),
            planes: Vec::new(),
            nearest: Vec::new(),
        };
        let whole = Block { columns: (0, across), rows: (0, along) };
        let all_clauses: Vec<u32> = (0..clauses.len() as u32).collect();
        let all_segments: Vec<u32> = (0..segments.len() as u32).collect();
        grid.divide(clauses, segments, step, whole, &all_clauses, &all_segments);
        grid
    }

    fn divide(
        &mut self,
        clauses: &[Clause],
        segments: &[Segment],
        step: Point,
        block: Block,
        near_clauses: &[u32],
        near_segments: &[u32],
    ) {
        let low = self.origin + point(block.columns.0 as f64 * step.x, block.rows.0 as f64 * step.y);
        let high = self.origin + point(block.columns.1 as f64 * step.x, block.rows.1 as f64 * step.y);
        let rect = Bounds { min: low, max: high };
        // A hair wider, so that rounding in the cell lookup never misses.
        let slack = 1e-9 * step.x.max(step.y);
        let rect = rect.grown(slack);
        let mut kept_clauses: Vec<u32> =
            near_clauses.iter().copied().filter(|&c| reaches_into(&clauses[c as usize], &rect)).collect();
        // A clause that holds the whole block decides alone.
        let holds = |c: &u32| clauses[*c as usize].planes.iter().all(|plane| farthest(plane, &rect) < 0.0);
        if let Some(whole) = kept_clauses.iter().position(holds) {
            kept_clauses = vec![kept_clauses[whole]];
        }
        if kept_clauses.is_empty() {
            return;
        }
        let center = rect.center();
        let half = point(rect.width() / 2.0, rect.height() / 2.0);
        let radius = half.x.hypot(half.y);
        let distances: Vec<f64> =
            near_segments.iter().map(|&s| segments[s as usize].distance_sq(center).sqrt()).collect();
        let least = distances.iter().copied().fold(f64::INFINITY, f64::min);
        // Whoever is nearest to a point of the block is at most `least + 2 radius` from its middle.
        let reach = least + 2.0 * radius * (1.0 + 1e-9);
        let kept_segments: Vec<u32> =
            near_segments.iter().zip(&distances).filter(|&(_, &distance)| distance <= reach).map(|(&s, _)| s).collect();
        let (columns, rows) = (block.columns.1 - block.columns.0, block.rows.1 - block.rows.0);
        if columns == 1 && rows == 1 {
            self.fill(clauses, block, &rect, least - radius, &kept_clauses, &kept_segments);
            return;
        }
        let halves = |(from, to): (usize, usize)| {
            let middle = from + (to - from).div_ceil(2);
            [(from, middle), (middle, to)]
        };
        for columns in halves(block.columns) {
            for rows in halves(block.rows) {
                if columns.0 < columns.1 && rows.0 < rows.1 {
                    self.divide(clauses, segments, step, Block { columns, rows }, &kept_clauses, &kept_segments);
                }
            }
        }
    }

    fn fill(
        &mut self,
        clauses: &[Clause],
        block: Block,
        rect: &Bounds,
        least_depth: f64,
        near_clauses: &[u32],
        near_segments: &[u32],
    ) {
        let mut cell = Cell {
            state: State::Edge,
            least_depth: f64::NEG_INFINITY,
            clauses: self.clause_lengths.len() as u32,
            clause_count: 0,
            nearest_count: near_segments.len() as u32,
            planes: self.planes.len() as u32,
            nearest: self.nearest.len() as u32,
        };
        for &c in near_clauses {
            let before = self.planes.len();
            self.planes.extend(clauses[c as usize].planes.iter().filter(|plane| farthest(plane, rect) >= 0.0));
            if self.planes.len() == before {
                cell.state = State::Inside;
                break;
            }
            self.clause_lengths.push((self.planes.len() - before) as u16);
            cell.clause_count += 1;
        }
        if cell.state == State::Inside {
            cell.least_depth = least_depth;
            self.planes.truncate(cell.planes as usize);
            self.clause_lengths.truncate(cell.clauses as usize);
            cell.clause_count = 0;
        }
        self.nearest.extend(near_segments);
        self.cells[block.rows.0 * self.across + block.columns.0] = cell;
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

/// Highest signed distance from the plane over the rectangle.
fn farthest(plane: &HalfPlane, rect: &Bounds) -> f64 {
    let x = if plane.normal.x > 0.0 { rect.max.x } else { rect.min.x };
    let y = if plane.normal.y > 0.0 { rect.max.y } else { rect.min.y };
    plane.distance(point(x, y))
}

/// Whether some point of the rectangle may lie inside the clause; decided plane by plane, so it may say yes too often.
fn reaches_into(clause: &Clause, rect: &Bounds) -> bool {
    if !clause.bounds.overlaps(rect) {
        return false;
    }
    clause.planes.iter().all(|plane| {
        let x = if plane.normal.x > 0.0 { rect.min.x } else { rect.max.x };
        let y = if plane.normal.y > 0.0 { rect.min.y } else { rect.max.y };
        plane.distance(point(x, y)) < 0.0
    })
}
