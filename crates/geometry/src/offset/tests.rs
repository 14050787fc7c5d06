//! Cutting lines worked out by hand, and refusals.

use super::*;
use crate::{Edge, EdgeShape, FLATNESS_MM, FoldLine, Path};

mod corners;
mod darts;
mod hems;
mod random;

fn straight(x: f64, y: f64) -> Edge {
    Edge { name: String::new(), to: point(x, y), shape: EdgeShape::Straight }
}

fn polygon(corners: &[(f64, f64)]) -> Flattened {
    let mut edges: Vec<Edge> = corners[1..].iter().map(|&(x, y)| straight(x, y)).collect();
    edges.push(straight(corners[0].0, corners[0].1));
    Path::new(point(corners[0].0, corners[0].1), edges).unwrap().flatten(FLATNESS_MM)
}

fn depths(values: &[f64]) -> Vec<EdgeAllowance> {
    values.iter().map(|&d| EdgeAllowance::Depth(d)).collect()
}

fn assert_corners(outline: &Outline, expected: &[(f64, f64)]) {
    assert_eq!(outline.points().len(), expected.len(), "{:?}", outline.points());
    for &(x, y) in expected {
        let p = point(x, y);
        let nearest = outline.points().iter().map(|&q| distance(p, q)).fold(f64::INFINITY, f64::min);
        assert!(nearest < 1e-9, "({x}, {y}) is {nearest} mm away in {:?}", outline.points());
    }
}

#[test]
fn every_edge_has_its_own_depth() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0)]);
    let cut = CuttingLine::around(seam, &depths(&[40.0, 15.0, 10.0, 0.0])).unwrap();
    assert_corners(cut.outline(), &[(0.0, -40.0), (115.0, -40.0), (115.0, 90.0), (0.0, 90.0)]);
}

/// The hem of a skirt whose side leans in by 45 degrees: the side's cutting line runs down to the hem line and is mirrored there.
#[test]
fn a_hem_is_the_mirror_image_of_the_leaning_side_it_lies_against() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (50.0, 50.0), (0.0, 50.0)]);
    let cut = CuttingLine::around(seam, &depths(&[20.0, 10.0, 10.0, 10.0])).unwrap();
    let run = 10.0 * 2f64.sqrt();
    let expected = [(-10.0, -20.0), (80.0 + run, -20.0), (100.0 + run, 0.0), (40.0 + run, 60.0), (-10.0, 60.0)];
    assert_corners(cut.outline(), &expected);
}

/// Interior angle 135 degrees, depths 40 and 10: folded back, the hem lies under the side that leans out. The side's own end
/// at the raw edge is such a place too.
#[test]
fn a_hem_below_a_side_that_leans_out_grows_with_it() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (200.0, 100.0), (200.0, 200.0), (0.0, 200.0)]);
    let cut = CuttingLine::around(seam, &depths(&[40.0, 10.0, 0.0, 0.0, 0.0])).unwrap();
    let run = 10.0 * 2f64.sqrt();
    let expected = [
        (0.0, -40.0),
        (140.0 + run, -40.0),
        (100.0 + run, 0.0),
        (200.0 + run, 100.0),
        (200.0, 100.0),
        (200.0, 200.0),
        (0.0, 200.0),
    ];
    assert_corners(cut.outline(), &expected);
}

#[test]
fn edges_in_line_with_different_depths_meet_in_a_step() {
    let seam = polygon(&[(0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0)]);
    let cut = CuttingLine::around(seam, &depths(&[30.0, 10.0, 0.0, 0.0, 0.0])).unwrap();
    let expected = [(0.0, -30.0), (50.0, -30.0), (50.0, -10.0), (100.0, -10.0), (100.0, 80.0), (0.0, 80.0)];
    assert_corners(cut.outline(), &expected);
}

#[test]
fn an_inward_corner_is_not_cut_twice() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (60.0, 100.0), (60.0, 40.0), (0.0, 40.0)]);
    let cut = CuttingLine::around(seam, &depths(&[10.0; 6])).unwrap();
    let expected = [(-10.0, -10.0), (110.0, -10.0), (110.0, 110.0), (50.0, 110.0), (50.0, 50.0), (-10.0, 50.0)];
    assert_corners(cut.outline(), &expected);
}

#[test]
fn a_slit_narrower_than_its_allowances_closes() {
    let seam = polygon(&[
        (0.0, 0.0),
        (100.0, 0.0),
        (100.0, 100.0),
        (55.0, 100.0),
        (55.0, 20.0),
        (45.0, 20.0),
        (45.0, 100.0),
        (0.0, 100.0),
    ]);
    let cut = CuttingLine::around(seam, &depths(&[10.0; 8])).unwrap();
    assert_corners(cut.outline(), &[(-10.0, -10.0), (110.0, -10.0), (110.0, 110.0), (-10.0, 110.0)]);
}

#[test]
fn a_sharp_tip_is_cut_off_square_at_the_limit() {
    let seam = polygon(&[(0.0, 0.0), (200.0, -20.0), (200.0, 20.0)]);
    let cut = CuttingLine::around(seam, &depths(&[10.0; 3])).unwrap();
    let tip: Vec<Point> = cut.outline().points().iter().copied().filter(|p| p.x < 0.0).collect();
    assert_eq!(tip.len(), 2);
    assert!(tip.iter().all(|p| (p.x + 10.0 * MITRE_LIMIT).abs() < 1e-9), "{tip:?}");
    assert!((tip[0].y + tip[1].y).abs() < 1e-9);
}

/// A V neck leans over the centre front fold: its allowance ends on the fold line, not beyond it.
#[test]
fn a_fold_edge_stays_on_its_line_and_grows_along_it() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 200.0), (0.0, 100.0)]);
    let fold =
        [EdgeAllowance::Depth(40.0), EdgeAllowance::Depth(15.0), EdgeAllowance::Depth(10.0), EdgeAllowance::Fold];
    let cut = CuttingLine::around(seam, &fold).unwrap();
    let bounds = cut.outline().bounds();
    assert_eq!(bounds.min, point(0.0, -40.0));
    let run = 10.0 * 2f64.sqrt();
    // The side is deeper than the neck and turned over it.
    let expected = [(0.0, -40.0), (115.0, -40.0), (115.0, 185.0 + run), (100.0, 200.0 + run), (0.0, 100.0 + run)];
    assert_corners(cut.outline(), &expected);
    let whole = FoldLine::new(point(0.0, 0.0), point(0.0, 100.0)).unwrap().unfold(cut.outline()).unwrap();
    assert!((whole.area() - 2.0 * cut.outline().area()).abs() < 1e-9);
}

#[test]
fn a_notch_is_carried_out_square_to_its_edge() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (50.0, 50.0), (0.0, 50.0)]);
    let cut = CuttingLine::around(seam, &depths(&[20.0, 10.0, 0.0, 10.0])).unwrap();
    let side = cut.carry_out(point(75.0, 25.0));
    let half = 0.5f64.sqrt();
    assert_eq!(side.edge, 1);
    assert!(distance(side.at, point(75.0 + 10.0 * half, 25.0 + 10.0 * half)) < 1e-9);
    assert!(distance(side.inward, point(-half, -half)) < 1e-12);
    assert_eq!(cut.carry_out(point(20.0, 49.0)).at, point(20.0, 50.0));
}

/// The half-circle skirt of the drafting pages: waist 31 1/2 in, so a waist radius of C / π = 10.03 in; a concave arc
/// whose allowance runs inwards to a smaller radius, and a hem running outwards to a larger one.
#[test]
fn a_ring_piece_grows_by_its_allowances() {
    let (waist, length) = (31.5 / std::f64::consts::PI * 25.4, 600.0);
    let hem = waist + length;
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let arc = |to: (f64, f64), through: (f64, f64)| Edge {
        name: String::new(),
        to: point(to.0, to.1),
        shape: EdgeShape::Arc { through: point(through.0, through.1) },
    };
    let path = Path::new(
        point(waist, 0.0),
        vec![
            straight(hem, 0.0),
            arc((0.0, hem), (hem * half, hem * half)),
            straight(0.0, waist),
            arc((waist, 0.0), (waist * half, waist * half)),
        ],
    )
    .unwrap();
    let cut = CuttingLine::around(path.flatten(FLATNESS_MM), &depths(&[0.0, 20.0, 0.0, 15.0])).unwrap();
    let quarter = std::f64::consts::FRAC_PI_4;
    let expected = quarter * ((hem + 20.0).powi(2) - (waist - 15.0).powi(2));
    assert!((cut.outline().area() / expected - 1.0).abs() < 1e-3);
    assert!(cut.outline().points().iter().all(|p| {
        let r = p.x.hypot(p.y);
        r > waist - 15.2 && r < hem + 20.2
    }));
}

#[test]
fn an_armhole_tighter_than_its_allowance_does_not_cross_itself() {
    let bite =
        Edge { name: "armhole".into(), to: point(40.0, 100.0), shape: EdgeShape::Arc { through: point(50.0, 90.0) } };
    let path = Path::new(
        point(0.0, 0.0),
        vec![
            straight(100.0, 0.0),
            straight(100.0, 100.0),
            straight(60.0, 100.0),
            bite,
            straight(0.0, 100.0),
            straight(0.0, 0.0),
        ],
    )
    .unwrap();
    let cut = CuttingLine::around(path.flatten(FLATNESS_MM), &depths(&[15.0; 6])).unwrap();
    assert_corners(cut.outline(), &[(-15.0, -15.0), (115.0, -15.0), (115.0, 115.0), (-15.0, 115.0)]);
}

#[test]
fn bad_allowances_are_all_named() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (50.0, 50.0)]);
    let faults = CuttingLine::around(seam, &depths(&[-1.0, f64::NAN])).unwrap_err();
    assert_eq!(faults[0], OffsetFault::BadDepth { edge: 0, depth: -1.0 });
    assert!(matches!(faults[1], OffsetFault::BadDepth { edge: 1, .. }));
    assert_eq!(faults[2], OffsetFault::WrongCount { edges: 3, allowances: 2 });
}

#[test]
fn a_crossed_or_bent_fold_edge_is_refused() {
    let across = polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 90.0), (-7.0, 120.0), (0.0, 80.0)]);
    let mut fold = depths(&[10.0; 5]);
    fold[4] = EdgeAllowance::Fold;
    let faults = CuttingLine::around(across, &fold).unwrap_err();
    assert_eq!(faults, vec![OffsetFault::CrossesFold { edge: 4, at: point(-7.0, 120.0), by: 7.0 }]);
    let path = Path::new(
        point(0.0, 0.0),
        vec![
            straight(100.0, 0.0),
            straight(0.0, 100.0),
            Edge { name: "fold".into(), to: point(0.0, 0.0), shape: EdgeShape::Arc { through: point(3.0, 50.0) } },
        ],
    )
    .unwrap();
    let mut fold = depths(&[10.0; 3]);
    fold[2] = EdgeAllowance::Fold;
    let faults = CuttingLine::around(path.flatten(FLATNESS_MM), &fold).unwrap_err();
    assert!(matches!(faults[0], OffsetFault::BentFold { edge: 2, by } if (by - 3.0).abs() < 0.1));
}
