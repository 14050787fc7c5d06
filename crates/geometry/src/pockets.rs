//! What a shape leaves of the upright rectangle around it.

use crate::{Bounds, Outline, Point, point};

/// The parts of the upright rectangle around `outline` that lie outside it, each as an outline of its own: from one place at which the shape
/// reaches the rectangle to the next, a part is between the two. Every corner is one of the shape's or of the rectangle's, so nothing is rounded.
///
/// ```
/// use ellwand_geometry::{Outline, pockets};
///
/// let corner_off = Outline::from_pairs(&[(0.0, 0.0), (80.0, 0.0), (80.0, 30.0), (40.0, 50.0), (0.0, 50.0)]).unwrap();
/// let pockets = pockets(&corner_off);
/// assert_eq!(pockets.len(), 1);
/// assert_eq!(pockets[0].area(), 400.0);
/// ```
pub fn pockets(outline: &Outline) -> Vec<Outline> {
    let bounds = outline.bounds();
    let points = outline.points();
    let reached: Vec<usize> = (0..points.len()).filter(|&i| on_border(&bounds, points[i])).collect();
    let next = |k: usize| reached[(k + 1) % reached.len()];
    let between = |k: usize| -> Option<Outline> {
        let (from, to) = (reached[k], next(k));
        let mut ring = vec![points[from]];
        ring.extend(corners_between(&bounds, points[from], points[to]));
        // Back along the shape.
        let mut at = to;
        while at != from {
            ring.push(points[at]);
            at = (at + points.len() - 1) % points.len();
        }
        if ring.len() < 3 { None } else { Outline::new(ring).ok() }
    };
    (0..reached.len()).filter_map(between).collect()
}

fn on_border(bounds: &Bounds, p: Point) -> bool {
    p.x == bounds.min.x || p.x == bounds.max.x || p.y == bounds.min.y || p.y == bounds.max.y
}

/// How far along the border a point of it lies, counter-clockwise from the lower left corner.
fn along(bounds: &Bounds, p: Point) -> f64 {
    let (width, height) = (bounds.width(), bounds.height());
    let Bounds { min, max } = *bounds;
    if p.y == min.y && p.x < max.x {
        p.x - min.x
    } else if p.x == max.x && p.y < max.y {
        width + (p.y - min.y)
    } else if p.y == max.y && p.x > min.x {
        width + height + (max.x - p.x)
    } else {
        2.0 * width + height + (max.y - p.y)
    }
}

/// The corners of the rectangle that are passed on the way from one point of its border to another, counter-clockwise.
fn corners_between(bounds: &Bounds, from: Point, to: Point) -> Vec<Point> {
    let Bounds { min, max } = *bounds;
    let round = 2.0 * (bounds.width() + bounds.height());
    let (from, to) = (along(bounds, from), along(bounds, to));
    let to = if to <= from { to + round } else { to };
    let corners = [min, point(max.x, min.y), max, point(min.x, max.y)];
    let passed = corners.iter().cycle().zip(0..8).filter(|(corner, nth)| {
        let at = along(bounds, **corner) + if *nth < 4 { 0.0 } else { round };
        from < at && at < to
    });
    passed.map(|(corner, _)| *corner).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::area_outside;
    use proptest::prelude::*;

    fn rectangle_around(outline: &Outline) -> Outline {
        let bounds = outline.bounds();
        Outline::rectangle(bounds.width(), bounds.height()).unwrap().translated(bounds.min)
    }

    #[test]
    fn a_rectangle_has_no_pockets_and_a_diamond_four() {
        assert_eq!(pockets(&Outline::rectangle(30.0, 20.0).unwrap()), []);
        let diamond = Outline::from_pairs(&[(20.0, 0.0), (40.0, 30.0), (20.0, 60.0), (0.0, 30.0)]).unwrap();
        let areas: Vec<f64> = pockets(&diamond).iter().map(Outline::area).collect();
        assert_eq!(areas, [300.0; 4]);
    }

    #[test]
    fn a_bay_that_opens_on_one_side_is_a_pocket() {
        let corners = [
            (0.0, 0.0),
            (90.0, 0.0),
            (90.0, 50.0),
            (60.0, 50.0),
            (60.0, 20.0),
            (30.0, 20.0),
            (30.0, 50.0),
            (0.0, 50.0),
        ];
        let bay = &pockets(&Outline::from_pairs(&corners).unwrap())[..];
        assert!(matches!(bay, [bay] if bay.area() == 900.0), "{bay:?}");
    }

    proptest! {
        #![proptest_config(crate::testing::cases(200))]

        /// Shape and pockets are apart from each other and are the whole rectangle together.
        #[test]
        fn a_shape_and_its_pockets_fill_the_rectangle(radii in prop::collection::vec(20.0..100.0f64, 3..14)) {
            let step = std::f64::consts::TAU / radii.len() as f64;
            let corner = |(i, r): (usize, &f64)| ((i as f64 * step).cos() * r, (i as f64 * step).sin() * r);
            let pairs: Vec<(f64, f64)> = radii.iter().enumerate().map(corner).collect();
            let Ok(shape) = Outline::from_pairs(&pairs) else { return Ok(()) };
            let whole = rectangle_around(&shape);
            let pockets = pockets(&shape);
            for (i, pocket) in pockets.iter().enumerate() {
                prop_assert!((area_outside(pocket, &shape) - pocket.area()).abs() < 1e-3);
                prop_assert!(area_outside(pocket, &whole) < 1e-3);
                for other in &pockets[..i] {
                    prop_assert!((area_outside(pocket, other) - pocket.area()).abs() < 1e-3);
                }
            }
            let filled = shape.area() + pockets.iter().map(Outline::area).sum::<f64>();
            prop_assert!((filled - whole.area()).abs() < 1e-3);
        }
    }
}
