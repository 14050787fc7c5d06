//! Overlap, area outside, unfolding and cutting lines, judged by exact arithmetic over triangles: another family of algorithm than the
//! overlay that this crate uses for all of them.

use ellwand_geometry::{
    CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, FoldLine, Outline, Path, Placement, Pose,
    TOUCHING_AREA_MM2, area_outside, contains_point, interiors_overlap, point,
};
use ellwand_judge::{Point, area, clearance, common, covers, distance_to_border};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, RngSeed};

fn cases(cases: u32) -> ProptestConfig {
    let rng_seed = RngSeed::Fixed(0x0E11_A9A7);
    ProptestConfig {
        cases,
        rng_algorithm: RngAlgorithm::ChaCha,
        rng_seed,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn ring(outline: &Outline) -> Vec<Point> {
    outline.points().iter().map(|p| (p.x, p.y)).collect()
}

/// Star-shaped outlines of 3 to 14 corners about the origin, inward corners included.
fn star() -> impl Strategy<Value = Outline> {
    prop::collection::vec((20.0..150.0f64, 0.2..1.0f64), 3..15).prop_filter_map("must be simple", |spokes| {
        let total: f64 = spokes.iter().map(|s| s.1).sum();
        let mut angle: f64 = 0.0;
        let corners = spokes.iter().map(|&(radius, share)| {
            angle += share / total * std::f64::consts::TAU;
            (radius * angle.cos(), radius * angle.sin())
        });
        Outline::from_pairs(&corners.collect::<Vec<_>>()).ok()
    })
}

proptest! {
    #![proptest_config(cases(120))]

    /// Placed anywhere, turned and mirrored, two outlines overlap exactly when the judge says so, and by as much.
    #[test]
    fn overlap_and_area_outside_are_what_the_judge_finds(
        a in star(), b in star(), turn in 0.0..360.0f64, dx in -250.0..250.0f64, dy in -250.0..250.0f64,
    ) {
        let b = Placement::new(Pose { mirrored: dx > 0.0, turn_deg: turn }, dx, dy).apply(&b);
        let shared = common(&ring(&a), &ring(&b));
        match interiors_overlap(&a, &b) {
            Some(witness) => {
                prop_assert!(shared.area >= witness.area - 1e-6, "{witness:?} of {shared:?}");
                let at = (witness.at.x, witness.at.y);
                prop_assert!(covers(&ring(&a), at) && covers(&ring(&b), at));
            }
            // Several parts may each be too small.
            None => prop_assert!(shared.area <= 10.0 * TOUCHING_AREA_MM2 || shared.thickness < 1e-3, "{shared:?}"),
        }
        prop_assert!((area_outside(&a, &b) - (area(&ring(&a)) - shared.area)).abs() < 1e-6);
    }

    /// An outline moved until a corner lies on the other's border shares nothing worth telling, or is found to overlap.
    #[test]
    fn outlines_that_touch_are_told_from_those_that_overlap(a in star(), b in star(), k in 0usize..3, m in 0usize..3) {
        let (p, q) = (a.points()[k], b.points()[m]);
        let touching = b.translated(p - q);
        let shared = common(&ring(&a), &ring(&touching));
        let found = interiors_overlap(&a, &touching);
        if shared.area < 0.5 * TOUCHING_AREA_MM2 {
            prop_assert_eq!(found, None);
        } else if shared.area > 20.0 * TOUCHING_AREA_MM2 {
            prop_assert!(found.is_some(), "{:?}", shared);
        }
    }

    #[test]
    fn a_point_is_inside_when_the_judge_says_so(a in star(), x in -150.0..150.0f64, y in -150.0..150.0f64, k in 0usize..3) {
        prop_assert_eq!(contains_point(&a, point(x, y)), covers(&ring(&a), (x, y)));
        let corner = a.points()[k];
        prop_assert!(contains_point(&a, corner) && covers(&ring(&a), (corner.x, corner.y)));
    }

    /// The whole is the half and its mirror image: they share only the fold, and the whole covers both.
    #[test]
    fn an_unfolded_cutting_line_is_its_half_twice(
        widths in prop::collection::vec(30.0..300.0f64, 2..7), turn in 0.0..std::f64::consts::TAU,
        depths in prop::collection::vec(0.0..50.0f64, 8),
    ) {
        let step = 600.0 / (widths.len() - 1) as f64;
        let (sin, cos) = turn.sin_cos();
        let place = |x: f64, y: f64| point(cos * x - sin * y + 31.0, sin * x + cos * y - 17.0);
        let mut corners = vec![place(0.0, 0.0)];
        corners.extend(widths.iter().enumerate().map(|(i, &w)| place(w, step * i as f64)));
        corners.push(place(0.0, 600.0));
        let edge = |to| Edge { name: String::new(), to, shape: EdgeShape::Straight };
        let edges: Vec<Edge> = corners[1..].iter().chain([&corners[0]]).map(|&p| edge(p)).collect();
        let mut allowances: Vec<EdgeAllowance> = depths[..edges.len()].iter().map(|&d| EdgeAllowance::Depth(d)).collect();
        *allowances.last_mut().unwrap() = EdgeAllowance::Fold;
        let seam = Path::new(corners[0], edges).unwrap().flatten(FLATNESS_MM);
        let cut = CuttingLine::around(seam, &allowances).unwrap();
        let line = FoldLine::new(corners[0], *corners.last().unwrap()).unwrap();
        let whole = ring(&line.unfold(cut.outline()).unwrap());
        prop_assert!(clearance(&whole) >= ellwand_geometry::HAIR_MM);
        let half: Vec<Point> = cut.outline().points().iter().map(|&p| line.to_frame(p)).map(|p| (p.x, p.y)).collect();
        let other: Vec<Point> = half.iter().rev().map(|&(x, y)| (-x, y)).collect();
        prop_assert!(!common(&half, &other).is_overlap());
        prop_assert!((area(&whole) - area(&half) - area(&other)).abs() < 1e-6 * area(&whole));
        for &p in half.iter().chain(&other) {
            prop_assert!(covers(&whole, p) || distance_to_border(p, &whole) < 1e-6, "{p:?} of a half lies outside the whole");
        }
    }
}
