//! Strokes cut at a rectangle.

use ellwand_geometry::{EdgeShape, Point};

use crate::{Run, Stroke, arc, clip::Window};

impl Stroke {
    /// The stretches of it that lie in a rectangle, each a stroke of its own, in the order of the stroke; it itself where all of it lies
    /// inside. A closed stroke that is cut becomes open ones. Arcs that are cut become cubics, 4e-7 of their radius off at most.
    ///
    /// ```
    /// use ellwand_geometry::{EdgeShape, point};
    /// use ellwand_vector::{Origin, Run, Stroke, Style};
    ///
    /// let line = Stroke {
    ///     start: point(-50.0, 10.0),
    ///     runs: vec![Run { shape: EdgeShape::Straight, to: point(50.0, 10.0) }],
    ///     closed: false,
    ///     style: Style::default(),
    ///     origin: Origin::default(),
    /// };
    /// let inside = line.within(point(0.0, 0.0), point(100.0, 100.0));
    /// assert_eq!(inside.len(), 1);
    /// assert_eq!((inside[0].start, inside[0].end()), (point(0.0, 10.0), point(50.0, 10.0)));
    /// ```
    pub fn within(&self, low: Point, high: Point) -> Vec<Self> {
        let window = Window { min: low, max: high };
        let mut from = self.start;
        let mut runs = Vec::with_capacity(self.runs.len());
        for run in &self.runs {
            match run.shape {
                EdgeShape::Arc { through } => runs.extend(arc::as_cubics(from, through, run.to)),
                _ => runs.push(*run),
            }
            from = run.to;
        }
        if window.holds_all(self.start, &runs) {
            return vec![self.clone()];
        }
        if window.misses_all(self.start, &runs) {
            return Vec::new();
        }
        let part = |(start, runs): (Point, Vec<Run>)| Self {
            start,
            runs,
            closed: false,
            style: self.style.clone(),
            origin: self.origin.clone(),
        };
        window.cut(self.start, &runs, self.closed).into_iter().map(part).filter(has_length).collect()
    }
}

/// What only touches the rectangle has none.
fn has_length(stroke: &Stroke) -> bool {
    stroke.runs.iter().any(|run| {
        let off = run.to - stroke.start;
        off.x.abs() > 1e-9 || off.y.abs() > 1e-9
    })
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::point;

    use super::*;
    use crate::{Origin, Style};

    fn ring() -> Stroke {
        let run = |through, to| Run { shape: EdgeShape::Arc { through }, to };
        Stroke {
            start: point(10.0, 0.0),
            runs: vec![run(point(0.0, 10.0), point(-10.0, 0.0)), run(point(0.0, -10.0), point(10.0, 0.0))],
            closed: true,
            style: Style::default(),
            origin: Origin::default(),
        }
    }

    #[test]
    fn a_ring_is_kept_whole_inside_and_cut_to_arcs_otherwise() {
        assert_eq!(ring().within(point(-10.0, -10.0), point(10.0, 10.0)), [ring()]);
        let right = ring().within(point(6.0, -20.0), point(20.0, 20.0));
        assert_eq!(right.len(), 1, "what runs through the start stays in one piece");
        assert!(!right[0].closed);
        let off = |p: Point| p.x.hypot(p.y) - 10.0;
        for (at, y) in [(right[0].start, -8.0), (right[0].end(), 8.0)] {
            assert!((at.x - 6.0).abs() < 1e-5 && (at.y - y).abs() < 1e-5 && off(at).abs() < 1e-5, "{at:?}");
        }
        assert_eq!(ring().within(point(11.0, 11.0), point(20.0, 20.0)), []);
    }
}
