//! From cloth to paper: how a figure's cloth lies on the page.

use ellwand_geometry::{Point, point};

/// Which way the cloth's length runs on the page. Neither mirrors the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Run {
    /// Up the page: the left selvage is on the left, the first cut end at the bottom.
    Up,
    /// From left to right: the left selvage is at the top, the first cut end on the left.
    Across,
}

/// Maps cloth millimetres to paper millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Frame {
    /// How the length runs.
    pub(crate) run: Run,
    /// Where the corner of left selvage and first cut end lies on the paper.
    pub(crate) origin: Point,
    /// Millimetres of cloth to one of paper.
    pub(crate) scale: f64,
}

impl Frame {
    /// The place on paper of a place on the cloth.
    pub(crate) fn at(&self, p: Point) -> Point {
        self.origin + self.direction(p) / self.scale
    }

    /// A displacement on the cloth as one on the page, its length kept.
    pub(crate) fn direction(&self, v: Point) -> Point {
        match self.run {
            Run::Up => point(v.x, -v.y),
            Run::Across => point(v.y, v.x),
        }
    }

    /// A list of places.
    pub(crate) fn all(&self, points: &[Point]) -> Vec<Point> {
        points.iter().map(|&p| self.at(p)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Twice the signed area in the usual sense of a page, whose `y` runs down.
    fn seen_turn(frame: Frame) -> f64 {
        let [a, b, c] = [(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)].map(|(x, y)| frame.at(point(x, y)));
        -((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x))
    }

    #[test]
    fn no_run_mirrors_the_cloth() {
        for run in [Run::Up, Run::Across] {
            assert_eq!(seen_turn(Frame { run, origin: point(7.0, 9.0), scale: 10.0 }), 100.0);
        }
    }
}
