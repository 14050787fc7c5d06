//! What lies between two heights.

use crate::{Point, point};

/// The part of the segment from `a` to `b` between the heights `low` and `high`, both included; none where it has none. Its ends keep their order.
///
/// ```
/// use ellwand_geometry::{point, segment_between};
///
/// let slanted = [point(0.0, 0.0), point(8.0, 4.0)];
/// assert_eq!(segment_between(slanted, 1.0, 3.0), Some([point(2.0, 1.0), point(6.0, 3.0)]));
/// assert_eq!(segment_between(slanted, 5.0, 6.0), None);
/// ```
pub fn segment_between([a, b]: [Point; 2], low: f64, high: f64) -> Option<[Point; 2]> {
    let at = |y: f64| point(a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)), y);
    let end = |p: Point| {
        if p.y < low {
            at(low)
        } else if p.y > high {
            at(high)
        } else {
            p
        }
    };
    (a.y.max(b.y) >= low && a.y.min(b.y) <= high).then(|| [end(a), end(b)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_segment_is_cut_at_both_heights() {
        let slanted = [point(0.0, 0.0), point(8.0, 4.0)];
        assert_eq!(segment_between(slanted, 1.0, 3.0), Some([point(2.0, 1.0), point(6.0, 3.0)]));
        assert_eq!(segment_between(slanted, 5.0, 6.0), None);
        let level = [point(0.0, 1.0), point(8.0, 1.0)];
        assert_eq!(segment_between(level, 0.0, 3.0), Some(level));
    }
}
