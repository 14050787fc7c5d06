//! A rectangle turned on the page: the room a label takes.

use ellwand_geometry::{Point, point};

/// A rectangle about its centre, paper mm. The turn is clockwise on the page, as in SVG, because `y` runs down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct TurnedBox {
    /// Middle.
    pub(crate) center: Point,
    /// Extent along the reading direction.
    pub(crate) width: f64,
    /// Extent across it.
    pub(crate) height: f64,
    /// Turn of the reading direction, degrees.
    pub(crate) turn_deg: f64,
}

/// `p` turned by `deg` about the origin, clockwise on a page whose `y` runs down.
pub(crate) fn turned(p: Point, deg: f64) -> Point {
    let (sin, cos) = deg.to_radians().sin_cos();
    point(cos * p.x - sin * p.y, sin * p.x + cos * p.y)
}

impl TurnedBox {
    /// The four corners in order.
    pub(crate) fn corners(&self) -> [Point; 4] {
        let (w, h) = (self.width / 2.0, self.height / 2.0);
        [(-w, -h), (w, -h), (w, h), (-w, h)].map(|(x, y)| self.center + turned(point(x, y), self.turn_deg))
    }

    /// The box with `by` more on every side.
    pub(crate) fn grown(&self, by: f64) -> Self {
        Self { width: self.width + 2.0 * by, height: self.height + 2.0 * by, ..*self }
    }

    /// The part of the segment from `a` to `b` inside the box, as a range of 0 to 1, if any.
    pub(crate) fn span_within(&self, a: Point, b: Point) -> Option<(f64, f64)> {
        let (a, b) = (turned(a - self.center, -self.turn_deg), turned(b - self.center, -self.turn_deg));
        let (mut low, mut high) = (0.0_f64, 1.0_f64);
        for (from, to, half) in [(a.x, b.x, self.width / 2.0), (a.y, b.y, self.height / 2.0)] {
            let run = to - from;
            if run == 0.0 {
                if from.abs() >= half {
                    return None;
                }
                continue;
            }
            let (s, t) = ((-half - from) / run, (half - from) / run);
            low = low.max(s.min(t));
            high = high.min(s.max(t));
        }
        (low < high).then_some((low, high))
    }

    /// Whether the interiors of the two boxes meet.
    #[cfg(test)]
    pub(crate) fn overlaps(&self, other: &Self) -> bool {
        let within = |a: &Self, b: &Self| {
            let c = a.corners();
            (0..4).any(|i| b.span_within(c[i], c[(i + 1) % 4]).is_some()) || b.span_within(a.center, c[0]).is_some()
        };
        within(self, other) || within(other, self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_through_a_box_is_inside_for_its_width() {
        let square = TurnedBox { center: point(5.0, 5.0), width: 2.0, height: 2.0, turn_deg: 0.0 };
        assert_eq!(square.span_within(point(0.0, 5.0), point(10.0, 5.0)), Some((0.4, 0.6)));
        assert_eq!(square.span_within(point(0.0, 6.5), point(10.0, 6.5)), None);
    }

    #[test]
    fn turning_a_box_upright_swaps_its_sides() {
        let strip = TurnedBox { center: point(0.0, 0.0), width: 10.0, height: 2.0, turn_deg: -90.0 };
        let reach = strip.corners().iter().fold(0.0_f64, |m, c| m.max(c.y));
        assert!((reach - 5.0).abs() < 1e-12);
    }

    #[test]
    fn crossing_boxes_overlap_without_a_corner_in_each_other() {
        let a = TurnedBox { center: point(0.0, 0.0), width: 10.0, height: 2.0, turn_deg: 0.0 };
        let b = TurnedBox { turn_deg: 90.0, ..a };
        assert!(a.overlaps(&b));
        assert!(!a.overlaps(&TurnedBox { center: point(0.0, 2.5), ..a }));
    }
}
