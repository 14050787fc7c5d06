//! Cutting away what lies outside of the page or of a clip.
//!
//! A clip is kept as the rectangle around it. That is exact for the clips that tiles are made with; a clip of another shape may let a
//! little more through than the file does.

use ellwand_geometry::{EdgeShape, Point, point};

use super::curve::{Span, crossings};
use crate::Run;
use crate::pdf::run_points;

/// What lies so far outside still counts as inside, mm: coordinates of a clip and of a line along it are rounded differently.
const ON_EDGE_MM: f64 = 1e-6;

/// A rectangle, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Window {
    pub(crate) min: Point,
    pub(crate) max: Point,
}

/// A stretch of a line.
pub(crate) type Stretch = (Point, Vec<Run>);

impl Window {
    pub(crate) fn around(points: impl IntoIterator<Item = Point>) -> Self {
        let nothing = Self { min: point(f64::INFINITY, f64::INFINITY), max: point(-f64::INFINITY, -f64::INFINITY) };
        points.into_iter().fold(nothing, |window, p| Self {
            min: point(window.min.x.min(p.x), window.min.y.min(p.y)),
            max: point(window.max.x.max(p.x), window.max.y.max(p.y)),
        })
    }

    pub(crate) fn meet(self, other: Self) -> Self {
        Self {
            min: point(self.min.x.max(other.min.x), self.min.y.max(other.min.y)),
            max: point(self.max.x.min(other.max.x), self.max.y.min(other.max.y)),
        }
    }

    fn holds(&self, p: Point) -> bool {
        p.x >= self.min.x - ON_EDGE_MM
            && p.x <= self.max.x + ON_EDGE_MM
            && p.y >= self.min.y - ON_EDGE_MM
            && p.y <= self.max.y + ON_EDGE_MM
    }

    /// Whether a line lies inside as a whole, told from its points.
    pub(crate) fn holds_all(&self, start: Point, runs: &[Run]) -> bool {
        self.holds(start) && runs.iter().all(|run| run_points(run).all(|p| self.holds(p)))
    }

    /// Whether a line lies outside as a whole, told from the rectangle around its points.
    pub(crate) fn misses_all(&self, start: Point, runs: &[Run]) -> bool {
        let around = Self::around(std::iter::once(start).chain(runs.iter().flat_map(run_points)));
        let shared = self.meet(around);
        shared.min.x > shared.max.x + ON_EDGE_MM || shared.min.y > shared.max.y + ON_EDGE_MM
    }

    /// Whether some of a straight line is inside.
    pub(crate) fn sees(&self, from: Point, to: Point) -> bool {
        self.holds(from) || !self.cut(from, &[Run { shape: EdgeShape::Straight, to }], false).is_empty()
    }

    /// The stretches of a line that lie inside. One that runs through the start of a closed line stays in one piece.
    pub(crate) fn cut(&self, start: Point, runs: &[Run], is_closed: bool) -> Vec<Stretch> {
        let mut stretches: Vec<Stretch> = Vec::new();
        let (mut from, mut goes_on, mut starts_inside) = (start, false, false);
        for (index, run) in runs.iter().enumerate() {
            let span = Span { from, run: *run };
            let mut times = vec![0.0, 1.0];
            if !run_points(run).chain([from]).all(|p| self.holds(p)) {
                for (axis, bound) in [(0, self.min.x), (0, self.max.x), (1, self.min.y), (1, self.max.y)] {
                    times.extend(crossings(&span, axis, bound));
                }
                times.sort_by(f64::total_cmp);
                times.dedup();
            }
            // Two parts that meet on a border which is only touched are one.
            let mut inside: Vec<[f64; 2]> = Vec::new();
            for pair in times.windows(2).filter(|pair| self.holds(span.at((pair[0] + pair[1]) / 2.0))) {
                match inside.last_mut() {
                    Some(last) if last[1] == pair[0] => last[1] = pair[1],
                    _ => inside.push([pair[0], pair[1]]),
                }
            }
            let leaves = inside.last().is_none_or(|last| last[1] < 1.0);
            for [begin, end] in inside {
                let (begin_at, part) = span.part(begin, end);
                match stretches.last_mut() {
                    Some((_, kept)) if goes_on && begin == 0.0 => kept.push(part),
                    _ => {
                        starts_inside |= index == 0 && begin == 0.0;
                        stretches.push((begin_at, vec![part]));
                    }
                }
            }
            goes_on = !leaves;
            from = run.to;
        }
        if is_closed && goes_on && starts_inside && stretches.len() > 1 {
            let (_, head) = stretches.remove(0);
            if let Some((_, tail)) = stretches.last_mut() {
                tail.extend(head);
            }
        }
        stretches
    }

    /// The part of a closed shape that lies inside, closed along the border: one side of the rectangle after the other (I. E. Sutherland,
    /// G. W. Hodgman, "Reentrant polygon clipping", CACM 17, 1974, <https://doi.org/10.1145/360767.360802>), with curves split where
    /// they cross it.
    pub(crate) fn trim(&self, start: Point, runs: &[Run]) -> Option<Stretch> {
        let sides = [
            Side { axis: 0, bound: self.min.x, inward: 1.0 },
            Side { axis: 0, bound: self.max.x, inward: -1.0 },
            Side { axis: 1, bound: self.min.y, inward: 1.0 },
            Side { axis: 1, bound: self.max.y, inward: -1.0 },
        ];
        sides.iter().try_fold((start, runs.to_vec()), |(start, runs), side| side.trim(start, &runs))
    }
}

/// One side of a rectangle.
struct Side {
    axis: usize,
    bound: f64,
    /// 1 when larger coordinates are inside, -1 otherwise.
    inward: f64,
}

impl Side {
    fn trim(&self, start: Point, runs: &[Run]) -> Option<Stretch> {
        let mut kept: Option<Stretch> = None;
        let mut from = start;
        for run in runs {
            let span = Span { from, run: *run };
            let mut times = vec![0.0];
            times.extend(crossings(&span, self.axis, self.bound));
            times.push(1.0);
            times.dedup();
            for pair in times.windows(2) {
                let middle = span.at((pair[0] + pair[1]) / 2.0);
                let along = if self.axis == 0 { middle.x } else { middle.y };
                if (along - self.bound) * self.inward < -ON_EDGE_MM {
                    continue;
                }
                let (begin, part) = span.part(pair[0], pair[1]);
                let (first, kept) = kept.get_or_insert_with(|| (begin, Vec::new()));
                let end = kept.last().map_or(*first, |run| run.to);
                if end != begin {
                    kept.push(Run { shape: EdgeShape::Straight, to: begin });
                }
                kept.push(part);
            }
            from = run.to;
        }
        let (first, mut kept) = kept?;
        if kept.last().is_some_and(|run| run.to != first) {
            kept.push(Run { shape: EdgeShape::Straight, to: first });
        }
        Some((first, kept))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: Window = Window { min: point(0.0, 0.0), max: point(100.0, 100.0) };

    fn straight(x: f64, y: f64) -> Run {
        Run { shape: EdgeShape::Straight, to: point(x, y) }
    }

    #[test]
    fn a_line_across_is_cut_at_both_borders() {
        let cut = PAGE.cut(point(-50.0, 10.0), &[straight(150.0, 30.0)], false);
        assert_eq!(cut, [(point(0.0, 15.0), vec![straight(100.0, 25.0)])]);
        assert_eq!(PAGE.cut(point(-50.0, 90.0), &[straight(50.0, 190.0)], false), []);
    }

    #[test]
    fn a_line_that_leaves_and_comes_back_is_two() {
        let runs = [straight(150.0, 10.0), straight(150.0, 50.0), straight(50.0, 50.0)];
        let cut = PAGE.cut(point(50.0, 10.0), &runs, false);
        assert_eq!(
            cut,
            [(point(50.0, 10.0), vec![straight(100.0, 10.0)]), (point(100.0, 50.0), vec![straight(50.0, 50.0)])]
        );
        let closed = [runs.to_vec(), vec![straight(50.0, 10.0)]].concat();
        let cut = PAGE.cut(point(50.0, 10.0), &closed, true);
        let whole = vec![straight(50.0, 50.0), straight(50.0, 10.0), straight(100.0, 10.0)];
        assert_eq!(cut, [(point(100.0, 50.0), whole)]);
    }

    #[test]
    fn a_line_along_the_border_stays() {
        let runs = [straight(100.0 + 1e-9, 100.0)];
        assert_eq!(PAGE.cut(point(100.0, 0.0), &runs, false), [(point(100.0, 0.0), runs.to_vec())]);
    }

    #[test]
    fn a_curve_is_cut_where_it_crosses() {
        // y = 200 t (1 - t) * 1.5 at its two control points' height 200: highest 150 in the middle, symmetric.
        let shape = EdgeShape::Cubic { first: point(20.0, 200.0), second: point(80.0, 200.0) };
        let cut = PAGE.cut(point(0.0, 0.0), &[Run { shape, to: point(100.0, 0.0) }], false);
        assert_eq!(cut.len(), 2);
        let left = cut[0].1[0].to;
        let right = cut[1].0;
        assert!((left.y - 100.0).abs() < 1e-9 && (right.y - 100.0).abs() < 1e-9, "{cut:?}");
        assert!((left.x + right.x - 100.0).abs() < 1e-9, "{cut:?}");
    }

    #[test]
    fn a_filled_shape_stays_closed() {
        let runs = [straight(150.0, 50.0), straight(150.0, 150.0), straight(50.0, 150.0), straight(50.0, 50.0)];
        let (start, runs) = PAGE.trim(point(50.0, 50.0), &runs).expect("a quarter of it is inside");
        assert_eq!(start, point(50.0, 50.0));
        let corners: Vec<Point> = runs.iter().map(|run| run.to).collect();
        assert_eq!(corners, [point(100.0, 50.0), point(100.0, 100.0), point(50.0, 100.0), point(50.0, 50.0)]);
        assert!(PAGE.trim(point(150.0, 150.0), &[straight(160.0, 150.0), straight(150.0, 160.0)]).is_none());
    }
}
