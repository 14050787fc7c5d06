//! From half a piece with a straight fold edge to the whole, exactly symmetric piece.

use crate::path::distance;
use crate::{Outline, OutlineFault, Point, point};

/// How near to the fold line a point counts as on it, mm: rounding, far below anything drawn.
const ON_FOLD_MM: f64 = 1e-6;

/// The line a piece is folded along, with the end that comes low (towards the hem) told from the high one.
///
/// Its frame has the fold on `x = 0`, the low end at the origin, the high end above it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoldLine {
    low: Point,
    up: Point,
}

/// Why half a piece cannot be unfolded.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum UnfoldFault {
    /// The ends of the fold line are the same point, or not finite.
    #[error("the fold edge has no length")]
    NoFoldLine,
    /// No edge of the outline lies on the fold line, or several separate ones do.
    #[error("the fold line is not one edge of the outline: {edges} separate edges lie on it")]
    NotAnEdge {
        /// Edges or runs of edges that lie on the line.
        edges: usize,
    },
    /// Part of the half lies on the other side of the fold.
    #[error(
        "the piece crosses its fold line by {by:.2} mm at ({:.1}, {:.1}) mm; the half must lie on one side of it",
        at.x, at.y
    )]
    Crosses {
        /// The farthest point on the smaller side, as given, mm.
        at: Point,
        /// How far it lies beyond the fold, mm.
        by: f64,
    },
    /// The whole is not a sound outline.
    #[error("the unfolded piece is not a sound outline: {}", listed(.0))]
    Outline(Vec<OutlineFault>),
}

fn listed(faults: &[OutlineFault]) -> String {
    faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

impl FoldLine {
    /// The line from its low to its high end.
    ///
    /// # Errors
    ///
    /// [`UnfoldFault::NoFoldLine`] when both are the same point or one is not finite.
    pub fn new(low: Point, high: Point) -> Result<Self, UnfoldFault> {
        let length = distance(low, high);
        if !length.is_finite() || length == 0.0 {
            return Err(UnfoldFault::NoFoldLine);
        }
        Ok(Self { low, up: (high - low) / length })
    }

    /// Where `p` lies in the frame of the fold; a rigid motion without mirroring. Exact when the fold is upright.
    pub fn to_frame(&self, p: Point) -> Point {
        self.turn_to_frame(p - self.low)
    }

    /// A displacement or direction in the frame of the fold.
    pub fn turn_to_frame(&self, v: Point) -> Point {
        point(v.x * self.up.y - v.y * self.up.x, v.x * self.up.x + v.y * self.up.y)
    }

    /// The whole outline, in the frame of the fold: the half and its mirror image across `x = 0`, point for point.
    ///
    /// The half may lie on either side. Points within a millionth of a millimetre of the line count as on it.
    ///
    /// # Errors
    ///
    /// [`UnfoldFault::NotAnEdge`], [`UnfoldFault::Crosses`], [`UnfoldFault::Outline`].
    ///
    /// ```
    /// use ellwand_geometry::{FoldLine, Outline, point};
    ///
    /// let half = Outline::from_pairs(&[(0.0, 0.0), (30.0, 0.0), (20.0, 50.0), (0.0, 40.0)]).unwrap();
    /// let whole = FoldLine::new(point(0.0, 0.0), point(0.0, 40.0)).unwrap().unfold(&half).unwrap();
    /// assert_eq!(whole.area(), 2.0 * half.area());
    /// ```
    pub fn unfold(&self, half: &Outline) -> Result<Outline, UnfoldFault> {
        let framed: Vec<Point> = (half.points().iter())
            .map(|&p| {
                let q = self.to_frame(p);
                if q.x.abs() <= ON_FOLD_MM { point(0.0, q.y) } else { q }
            })
            .collect();
        let n = framed.len();
        let on_fold = |i: usize| framed[i % n].x == 0.0;
        let runs: Vec<usize> =
            (0..n).filter(|&i| on_fold(i) && on_fold(i + 1) && !(on_fold(i + n - 1) && on_fold(i))).collect();
        if runs.len() != 1 {
            return Err(UnfoldFault::NotAnEdge { edges: runs.len() });
        }
        let to_the_right: f64 = framed.iter().map(|p| p.x).fold(0.0, f64::max);
        let to_the_left: f64 = framed.iter().map(|p| p.x).fold(0.0, f64::min);
        let wrong_side = if to_the_right >= -to_the_left { to_the_left } else { to_the_right };
        if wrong_side != 0.0 {
            let index = framed.iter().position(|p| p.x == wrong_side).unwrap_or(0);
            return Err(UnfoldFault::Crosses { at: half.points()[index], by: wrong_side.abs() });
        }
        // From the last point of the run round to its first: the half without its fold edge.
        let last = (runs[0]..runs[0] + n).take_while(|&i| on_fold(i)).last().unwrap_or(runs[0]);
        let chain: Vec<Point> = (last..=runs[0] + n).map(|i| framed[i % n]).collect();
        let (first, inner, end) = (chain[0], &chain[1..chain.len() - 1], chain[chain.len() - 1]);
        if inner.iter().any(|p| p.x == 0.0) {
            // The half touches the fold again away from its edge; the whole would touch itself there.
            return Err(UnfoldFault::NotAnEdge { edges: 2 });
        }
        let mut whole = Vec::with_capacity(2 * chain.len());
        let straight_through = |axis: Point, beside: Option<&Point>| beside.is_some_and(|b| b.y == axis.y);
        if !straight_through(first, inner.first()) {
            whole.push(first);
        }
        whole.extend_from_slice(inner);
        if !straight_through(end, inner.last()) {
            whole.push(end);
        }
        whole.extend(inner.iter().rev().map(|p| point(-p.x, p.y)));
        Outline::new(whole).map_err(UnfoldFault::Outline)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mirrored_points_present(outline: &Outline) -> bool {
        outline.points().iter().all(|p| outline.points().contains(&point(-p.x, p.y)))
    }

    #[test]
    fn a_slanted_half_on_the_left_comes_out_upright_and_symmetric() {
        // The fold runs from (100, 100) towards (160, 180): up = (0.6, 0.8); the half lies to its left.
        let place = |x: f64, y: f64| (100.0 + 0.8 * x + 0.6 * y, 100.0 - 0.6 * x + 0.8 * y);
        let half =
            Outline::from_pairs(&[place(0.0, 0.0), place(0.0, 200.0), place(-60.0, 220.0), place(-80.0, 0.0)]).unwrap();
        let (low, high) = (place(0.0, 0.0), place(0.0, 200.0));
        let fold = FoldLine::new(point(low.0, low.1), point(high.0, high.1)).unwrap();
        let whole = fold.unfold(&half).unwrap();
        assert!(mirrored_points_present(&whole));
        assert!((whole.area() - 2.0 * half.area()).abs() < 1e-6);
        assert!((whole.bounds().width() - 160.0).abs() < 1e-9);
        assert!((whole.bounds().max.y - 220.0).abs() < 1e-9);
    }

    #[test]
    fn a_straight_hem_keeps_no_point_on_the_axis() {
        let half = Outline::from_pairs(&[(0.0, 0.0), (30.0, 0.0), (30.0, 50.0), (0.0, 40.0)]).unwrap();
        let whole = FoldLine::new(point(0.0, 0.0), point(0.0, 40.0)).unwrap().unfold(&half).unwrap();
        assert_eq!(whole.points().len(), 5);
        assert!(whole.points().contains(&point(0.0, 40.0)) && !whole.points().contains(&point(0.0, 0.0)));
    }

    #[test]
    fn a_piece_across_its_fold_is_refused_with_the_amount() {
        let half = Outline::from_pairs(&[(0.0, 0.0), (30.0, 0.0), (30.0, 60.0), (-4.0, 60.0), (0.0, 40.0)]).unwrap();
        let fault = FoldLine::new(point(0.0, 0.0), point(0.0, 40.0)).unwrap().unfold(&half).unwrap_err();
        assert_eq!(fault, UnfoldFault::Crosses { at: point(-4.0, 60.0), by: 4.0 });
    }

    #[test]
    fn a_fold_line_away_from_the_outline_is_refused() {
        let half = Outline::rectangle(30.0, 40.0).unwrap();
        let fault = FoldLine::new(point(-5.0, 0.0), point(-5.0, 40.0)).unwrap().unfold(&half).unwrap_err();
        assert_eq!(fault, UnfoldFault::NotAnEdge { edges: 0 });
        assert_eq!(FoldLine::new(point(1.0, 1.0), point(1.0, 1.0)).unwrap_err(), UnfoldFault::NoFoldLine);
    }

    #[test]
    fn a_half_that_touches_the_fold_twice_is_refused() {
        let pairs = [(0.0, 0.0), (30.0, 0.0), (30.0, 90.0), (0.0, 90.0), (0.0, 60.0), (10.0, 50.0), (0.0, 40.0)];
        let half = Outline::from_pairs(&pairs).unwrap();
        let fault = FoldLine::new(point(0.0, 0.0), point(0.0, 40.0)).unwrap().unfold(&half).unwrap_err();
        assert_eq!(fault, UnfoldFault::NotAnEdge { edges: 2 });
    }

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        #[test]
        fn the_whole_is_twice_the_half_and_symmetric(
            widths in prop::collection::vec(5.0..400.0f64, 2..12), turn in 0.0..std::f64::consts::TAU,
        ) {
            let step = 900.0 / (widths.len() - 1) as f64;
            let mut pairs = vec![(0.0, 900.0), (0.0, 0.0)];
            pairs.extend(widths.iter().enumerate().map(|(i, &w)| (w, step * i as f64)));
            let (sin, cos) = turn.sin_cos();
            let turned: Vec<(f64, f64)> =
                pairs.iter().map(|&(x, y)| (cos * x - sin * y + 37.0, sin * x + cos * y - 11.0)).collect();
            let half = Outline::from_pairs(&turned).unwrap();
            let fold = FoldLine::new(point(turned[1].0, turned[1].1), point(turned[0].0, turned[0].1)).unwrap();
            let whole = fold.unfold(&half).unwrap();
            prop_assert!(mirrored_points_present(&whole));
            prop_assert!((whole.area() / (2.0 * half.area()) - 1.0).abs() < 1e-9);
        }
    }
}
