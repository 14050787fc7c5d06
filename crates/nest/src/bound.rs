//! Lower bounds on the length of a strip, each with the argument that proves it.

use crate::Problem;

/// A length no packing goes below.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// mm.
    pub length: f64,
    /// Which argument proves it.
    pub reason: BoundReason,
}

/// The argument behind a lower bound.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoundReason {
    /// The shapes' area over the strip's width.
    Area,
    /// One item alone is this long.
    LongestItem {
        /// Its index.
        item: usize,
    },
    /// On the line `x = at`, what the items must cover of it adds up.
    Line {
        /// Where the line runs.
        at: f64,
    },
}

impl Bound {
    /// The best bound known for `problem`, which must be well formed.
    pub fn of(problem: &Problem) -> Self {
        let area: f64 = problem
            .items
            .iter()
            .map(|item| problem.shapes[item.shape].area() * if item.twin.is_some() { 2.0 } else { 1.0 })
            .sum();
        Self { length: area / (problem.right - problem.left), reason: BoundReason::Area }
    }
}
