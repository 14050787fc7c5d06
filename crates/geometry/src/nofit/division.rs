//! How the cells of a grid come by their lists: the grid is halved again and again, and each block hands on to its quarters only
//! what can still matter there.

use super::boundary::Segment;
use super::cells::{Cells, State};
use super::cover::Cover;
use super::{Clause, HalfPlane};
use crate::{Bounds, Point, point};

/// Cells along the longer side at most; more cells mean shorter lists and more memory.
const MOST_CELLS_A_SIDE: f64 = 24.0;

/// The cells of a region within `bounds`, whose half-planes are drawn in by `touch`.
pub(super) fn divided(clauses: &[Clause<'_>], segments: &[Segment], bounds: Bounds, touch: f64) -> Cells {
    let size = bounds.width().max(bounds.height()) / MOST_CELLS_A_SIDE;
    let across = (bounds.width() / size).ceil().max(1.0) as usize;
    let along = (bounds.height() / size).ceil().max(1.0) as usize;
    let step = point(bounds.width() / across as f64, bounds.height() / along as f64);
    let mut division = Division {
        clauses,
        segments,
        origin: bounds.min,
        step,
        // Wider than what counts as touching, so that neither that nor rounding in the cell lookup misses anything.
        slack: 4.0 * touch,
        near_clauses: (0..clauses.len() as u32).collect(),
        near_segments: (0..segments.len() as u32).collect(),
        least_distances: Vec::new(),
        cover: Cover::default(),
        grid: Cells::outside(bounds.min, step, across, along),
    };
    division.divide(Block { columns: (0, across), rows: (0, along) }, State::Edge, 0, 0);
    let mut grid = division.grid;
    grid.shrink_to_fit();
    grid
}

/// A block of cells still to be divided: columns and rows, both half-open.
#[derive(Clone, Copy)]
struct Block {
    columns: (usize, usize),
    rows: (usize, usize),
}

/// A grid in the making. The lists of all blocks under way lie one behind the other.
struct Division<'a> {
    clauses: &'a [Clause<'a>],
    segments: &'a [Segment],
    origin: Point,
    step: Point,
    /// Blocks are taken this much larger on all sides.
    slack: f64,
    near_clauses: Vec<u32>,
    near_segments: Vec<u32>,
    /// For each segment of one block, how near it comes to the block at most.
    least_distances: Vec<f64>,
    cover: Cover,
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
            |column: usize, row: usize| self.origin + point(column as f64 * self.step.x, row as f64 * self.step.y);
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
        let nearest = &self.near_segments[from_segments..];
        let column_row = (block.columns.0, block.rows.0);
        if state == State::Inside {
            self.grid.set_inside(column_row, least_depth, nearest);
        } else {
            let cutting =
                |&c: &u32| self.clauses[c as usize].planes.iter().filter(|plane| farthest(plane, rect) >= 0.0);
            self.cover.fill(rect, self.near_clauses[from_clauses..].iter().map(cutting), 0.01 * self.slack);
            // Plane by plane a clause may seem to reach in that does not.
            if !self.cover.is_empty() {
                self.grid.set_edge(column_row, self.cover.clauses(), nearest);
            }
        }
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
