use proptest::prelude::*;

use super::*;
use crate::Outline;
use crate::convex::convex_parts;

fn region(a: &Outline, b: &Outline) -> NoFitRegion {
    NoFitRegion::new(&convex_parts(a), &convex_parts(b))
}

fn u_shape() -> Outline {
    Outline::from_pairs(&[
        (0.0, 0.0),
        (30.0, 0.0),
        (30.0, 20.0),
        (20.0, 20.0),
        (20.0, 10.0),
        (10.0, 10.0),
        (10.0, 20.0),
        (0.0, 20.0),
    ])
    .unwrap()
}

#[test]
fn two_rectangles_by_hand() {
    let a = Outline::rectangle(40.0, 20.0).unwrap();
    let b = Outline::rectangle(10.0, 10.0).unwrap();
    let region = region(&a, &b);
    assert!(!region.overlaps(point(40.0, 5.0)), "touching is not overlapping");
    assert!(region.overlaps(point(39.9, 5.0)));
    let escape = region.escape(point(38.0, 5.0)).unwrap();
    assert!((escape.depth - 2.0).abs() < 1e-9 && (escape.to.x - 40.0).abs() < 1e-9);
    assert_eq!(region.depth(point(-10.0, 0.0)), 0.0);
}

#[test]
fn a_slot_of_exactly_the_same_width_stays_open() {
    let region = region(&u_shape(), &Outline::rectangle(10.0, 15.0).unwrap());
    assert!(!region.overlaps(point(10.0, 10.0)), "the peg sits in the slot");
    assert!(region.overlaps(point(10.1, 10.0)) && region.overlaps(point(9.9, 10.0)));
    let escape = region.escape(point(10.4, 12.0)).unwrap();
    assert!((escape.depth - 0.4).abs() < 1e-9, "the way out is into the slot");
}

/// A star-shaped outline about the origin from radii at equal angles.
fn star(radii: &[f64]) -> Outline {
    let n = radii.len() as f64;
    let ring = radii.iter().enumerate().map(|(i, r)| {
        let angle = std::f64::consts::TAU * i as f64 / n;
        point(r * angle.cos(), r * angle.sin())
    });
    Outline::new(ring.collect()).unwrap()
}

/// Overlap by brute force with `i_overlay`'s boolean intersection, which shares no code with the region: area in mm².
fn overlap_area(a: &Outline, b: &Outline) -> f64 {
    use i_overlay::core::fill_rule::FillRule;
    use i_overlay::core::overlay_rule::OverlayRule;
    use i_overlay::float::single::SingleFloatOverlay;
    let path = |o: &Outline| o.points().iter().map(|p| [p.x, p.y]).collect::<Vec<_>>();
    let shapes = path(a).overlay(&path(b), OverlayRule::Intersect, FillRule::NonZero);
    let mut area = 0.0;
    for ring in shapes.iter().flatten() {
        for k in 0..ring.len() {
            let (p, q) = (ring[k], ring[(k + 1) % ring.len()]);
            area += (p[0] * q[1] - q[0] * p[1]) / 2.0;
        }
    }
    area.abs()
}

proptest! {
    #![proptest_config(crate::testing::cases(64))]

    #[test]
    fn agrees_with_boolean_intersection_and_its_escape_is_free(
        a in proptest::collection::vec(5.0..50.0_f64, 5..14),
        b in proptest::collection::vec(5.0..50.0_f64, 3..14),
        at in proptest::collection::vec((-100.0..100.0_f64, -100.0..100.0_f64), 40),
    ) {
        let (a, b) = (star(&a), star(&b));
        let region = region(&a, &b);
        for (x, y) in at {
            let v = point(x, y);
            let area = overlap_area(&a, &b.translated(v));
            if area > 1e-3 {
                prop_assert!(region.overlaps(v), "missed an overlap of {area} at {v:?}");
            }
            match region.escape(v) {
                None => prop_assert!(area < 1e-3, "overlap of {area} at {v:?} not seen"),
                Some(escape) => {
                    prop_assert!(overlap_area(&a, &b.translated(escape.to)) < 1e-3);
                    // Nothing nearer is free: sample a circle just inside the depth.
                    for k in 0..24 {
                        let angle = std::f64::consts::TAU * f64::from(k) / 24.0;
                        let near = v + point(angle.cos(), angle.sin()) * (escape.depth * 0.98);
                        prop_assert!(region.overlaps(near), "{near:?} is free but nearer than {}", escape.depth);
                    }
                }
            }
        }
    }
}
