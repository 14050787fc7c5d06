//! The path that is being built (ISO 32000-1, 8.5.2), in mm on the sheet.

use ellwand_geometry::{EdgeShape, Point};

use crate::Run;
use crate::clip::Window;
use crate::pdf::run_points;

/// A connected part of a path.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Trail {
    pub(super) start: Point,
    pub(super) runs: Vec<Run>,
    pub(super) is_closed: bool,
}

impl Trail {
    /// Ends it at its start, with a straight run if it is not there yet.
    pub(super) fn close(&mut self) {
        self.is_closed = true;
        if self.runs.last().is_some_and(|run| run.to != self.start) {
            self.runs.push(Run { shape: EdgeShape::Straight, to: self.start });
        }
    }
}

/// A path.
#[derive(Debug, Clone, Default)]
pub(super) struct Shape {
    trails: Vec<Trail>,
    /// Where the next run starts.
    here: Option<Point>,
}

impl Shape {
    pub(super) fn move_to(&mut self, p: Point) {
        self.here = Some(p);
        self.trails.push(Trail { start: p, runs: Vec::new(), is_closed: false });
    }

    /// Adds a run; false when there is nowhere to start from.
    #[must_use]
    pub(super) fn run_to(&mut self, to: Point, shape: EdgeShape) -> bool {
        let Some(here) = self.here else { return false };
        if self.trails.last().is_none_or(|trail| trail.is_closed) {
            self.move_to(here);
        }
        let has_length =
            to != here || matches!(shape, EdgeShape::Cubic { first, second } if first != here || second != here);
        if let Some(trail) = self.trails.last_mut().filter(|_| has_length) {
            trail.runs.push(Run { shape, to });
        }
        self.here = Some(to);
        true
    }

    pub(super) fn here(&self) -> Option<Point> {
        self.here
    }

    pub(super) fn close(&mut self) {
        if let Some(trail) = self.trails.last_mut().filter(|trail| !trail.is_closed) {
            trail.close();
            self.here = Some(trail.start);
        }
    }

    /// The rectangle around all of it.
    pub(super) fn around(&self) -> Window {
        Window::around(
            self.trails
                .iter()
                .flat_map(|trail| std::iter::once(trail.start).chain(trail.runs.iter().flat_map(run_points))),
        )
    }

    /// Its parts; the path is empty then.
    pub(super) fn take(&mut self) -> Vec<Trail> {
        self.here = None;
        std::mem::take(&mut self.trails)
    }

    /// Runs so far.
    pub(super) fn len(&self) -> usize {
        self.trails.last().map_or(0, |trail| trail.runs.len()) + self.trails.len()
    }
}
