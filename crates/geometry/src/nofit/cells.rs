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
    pub(super) fn new(clauses: &[Clause], segments: &[Segment], bounds: Bounds, touch: f64) -> Self {
        let size = bounds.width().max(bounds.height()) / MOST_CELLS_A_SIDE;
        let across = (bounds.width() / size).ceil().max(1.0) as usize;
        let along = (bounds.height() / size).ceil().max(1.0) as usize;
        let step = point(bounds.width() / across as f64, bounds.height() / along as f64);
        let grid = Self {
            origin: bounds.min,
            inverse_size: point(1.0 / step.x, 1.0 / step.y),
            across,
            along,
            cells: vec![Cell::default(); across * along],
            clause_lengths: Vec::new(),
            planes: Vec::new(),
            nearest: Vec::new(),
        };
        let mut division = Division {
            clauses,
            segments,
            step,
            // Wider than what counts as touching, so that neither that nor rounding in the cell lookup misses anything.
            slack: 4.0 * touch,
            near_clauses: (0..clauses.len() as u32).collect(),
            near_segments: (0..segments.len() as u32).collect(),
            least_distances: Vec::new(),
            grid,
        };
        division.divide(Block { columns: (0, across), rows: (0, along) }, State::Edge, 0, 0);
        division.grid
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

/// A grid in the making. Each block hands what can still matter on to its quarters; the lists of all blocks under way lie
/// one behind the other.
struct Division<'a> {
    clauses: &'a [Clause],
    segments: &'a [Segment],
    step: Point,
    /// Blocks are taken this much larger on all sides.
    slack: f64,
    near_clauses: Vec<u32>,
    near_segments: Vec<u32>,
    /// For each segment of one block, how near it comes to the block at most.
    least_distances: Vec<f64>,
    grid: Cells,
}

impl Division<'_> {
    /// Divides a block, of which the block around it knew `state`, and the lists from `from_clauses` and `from_segments` to their ends.
    fn divide(&mut self, block: Block, mut state: State, from_clauses: usize, from_segments: usize) {
        let rect = self.rectangle(block);
        let (clauses_end, segments_end) = (self.near_clauses.len(), self.near_segments.len());
        let reach = self.measure(&rect, from_segments);
        if state == State::Edge {
            state = self.state(&rect, from_clauses, from_segments);
        }
        if state == State::Outside {
            self.near_clauses.truncate(clauses_end);
            return;
        }
        let mut least_depth = f64::INFINITY;
        for k in from_segments..segments_end {
            let least = self.least_distances[k - from_segments];
            if least <= reach {
                self.near_segments.push(self.near_segments[k]);
                least_depth = least_depth.min(least);
            }
        }
        let (columns, rows) = (block.columns.1 - block.columns.0, block.rows.1 - block.rows.0);
        if columns == 1 && rows == 1 {
            self.fill(block, &rect, state, least_depth, clauses_end, segments_end);
        } else {
            for columns in halves(block.columns) {
                for rows in halves(block.rows) {
                    if columns.0 < columns.1 && rows.0 < rows.1 {
                        self.divide(Block { columns, rows }, state, clauses_end, segments_end);
                    }
                }
            }
        }
        self.near_clauses.truncate(clauses_end);
        self.near_segments.truncate(segments_end);
    }

    fn rectangle(&self, block: Block) -> Bounds {
        let corner =
            |column: usize, row: usize| self.grid.origin + point(column as f64 * self.step.x, row as f64 * self.step.y);
        let (min, max) = (corner(block.columns.0, block.rows.0), corner(block.columns.1, block.rows.1));
        Bounds { min, max }.grown(self.slack)
    }

    /// Measures the segments from `from_segments` on, and returns the distance within which every point of the rectangle has one.
    fn measure(&mut self, rect: &Bounds, from_segments: usize) -> f64 {
        let center = rect.center();
        let half = rect.max - center;
        let mut nearest = (f64::INFINITY, None);
        self.least_distances.clear();
        for &s in &self.near_segments[from_segments..] {
            let segment = &self.segments[s as usize];
            let way = segment.nearest(center) - center;
            let distance = (way.x * way.x + way.y * way.y).sqrt();
            // The segment lies beyond the line square to the way at its end, which comes nearest at a corner.
            let to_corner = if distance > 0.0 { (way.x.abs() * half.x + way.y.abs() * half.y) / distance } else { 0.0 };
            self.least_distances.push(distance - to_corner);
            if distance < nearest.0 {
                nearest = (distance, Some(segment));
            }
        }
        // The distance from one segment is greatest at a corner.
        let corners = [rect.min, point(rect.max.x, rect.min.y), rect.max, point(rect.min.x, rect.max.y)];
        let farthest_sq = |segment: &Segment| corners.iter().map(|&c| segment.distance_sq(c)).fold(0.0, f64::max);
        nearest.1.map_or(f64::INFINITY, farthest_sq).sqrt() * (1.0 + 1e-9)
    }

    /// What is known of the whole rectangle. Adds the clauses that reach into it to the list unless that decides it.
    fn state(&mut self, rect: &Bounds, from_clauses: usize, from_segments: usize) -> State {
        let end = self.near_clauses.len();
        for k in from_clauses..end {
            let clause = &self.clauses[self.near_clauses[k] as usize];
            if !reaches_into(clause, rect) {
                continue;
            }
            if clause.planes.iter().all(|plane| farthest(plane, rect) < 0.0) {
                return State::Inside;
            }
            self.near_clauses.push(self.near_clauses[k]);
        }
        if self.near_clauses.len() == end {
            return State::Outside;
        }
        // Without a piece of the boundary in it, all of the rectangle is like its middle.
        let met = (self.near_segments[from_segments..].iter().zip(&self.least_distances))
            .any(|(&s, &least)| least <= 0.0 && self.segments[s as usize].meets(rect));
        if met {
            return State::Edge;
        }
        let center = rect.center();
        let holds_center = |&c: &u32| self.clauses[c as usize].planes.iter().all(|plane| plane.distance(center) < 0.0);
        if self.near_clauses[end..].iter().any(holds_center) { State::Inside } else { State::Outside }
    }

    /// Writes a cell with the lists from `from_clauses` and `from_segments` to their ends.
    fn fill(
        &mut self,
        block: Block,
        rect: &Bounds,
        state: State,
        least_depth: f64,
        from_clauses: usize,
        from_segments: usize,
    ) {
        let grid = &mut self.grid;
        let near_segments = &self.near_segments[from_segments..];
        let mut cell = Cell {
            state,
            least_depth: if state == State::Inside { least_depth } else { f64::NEG_INFINITY },
            clauses: grid.clause_lengths.len() as u32,
            clause_count: 0,
            nearest_count: near_segments.len() as u32,
            planes: grid.planes.len() as u32,
            nearest: grid.nearest.len() as u32,
        };
        if state == State::Edge {
            for &c in &self.near_clauses[from_clauses..] {
                let before = grid.planes.len();
                let cutting = self.clauses[c as usize].planes.iter().filter(|plane| farthest(plane, rect) >= 0.0);
                grid.planes.extend(cutting);
                grid.clause_lengths.push((grid.planes.len() - before) as u16);
                cell.clause_count += 1;
            }
        }
        grid.nearest.extend(near_segments);
        grid.cells[block.rows.0 * grid.across + block.columns.0] = cell;
    }
}

/// The two halves of a run of columns or rows; the second is empty when the run is one long.
fn halves((from, to): (usize, usize)) -> [(usize, usize); 2] {
    let middle = from + (to - from).div_ceil(2);
    [(from, middle), (middle, to)]
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
