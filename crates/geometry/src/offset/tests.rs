use proptest::prelude::*;

use super::*;
use crate::{Edge, EdgeShape, FLATNESS_MM, FoldLine, Path};

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

fn to_border(p: Point, ring: &[Point]) -> f64 {
    let n = ring.len();
    (0..n).map(|i| distance(p, nearest_on_segment(p, ring[i], ring[(i + 1) % n]))).fold(f64::INFINITY, f64::min)
}

fn inside(p: Point, ring: &[Point]) -> bool {
    let n = ring.len();
    (0..n)
        .filter(|&i| {
            let (a, b) = (ring[i], ring[(i + 1) % n]);
            (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)
        })
        .count()
        % 2
        == 1
}

/// Points along an outline, corners and edge middles included.
fn samples(outline: &Outline) -> impl Iterator<Item = Point> + '_ {
    outline.edges().flat_map(|(a, b)| (0..8).map(move |i| a + (b - a) * (i as f64 / 8.0)))
}

#[test]
fn every_edge_has_its_own_depth() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0)]);
    let cut = CuttingLine::around(seam, &depths(&[40.0, 15.0, 10.0, 0.0])).unwrap();
    assert_corners(cut.outline(), &[(0.0, -40.0), (115.0, -40.0), (115.0, 90.0), (0.0, 90.0)]);
}

/// The hem of an A-line skirt: the side leans by 45 degrees, so the hem's cutting line runs on by its depth.
#[test]
fn hem_and_leaning_side_meet_where_their_cutting_lines_cross() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (50.0, 50.0), (0.0, 50.0)]);
    let cut = CuttingLine::around(seam, &depths(&[20.0, 10.0, 10.0, 10.0])).unwrap();
    let run = 10.0 * 2f64.sqrt();
    assert_corners(cut.outline(), &[(-10.0, -20.0), (100.0 + run + 20.0, -20.0), (40.0 + run, 60.0), (-10.0, 60.0)]);
}

/// Interior angle 135 degrees, depths 40 and 10: the hem would stick out beyond the side's cutting line.
#[test]
fn a_deep_hem_is_trimmed_to_the_side_it_would_stick_out_of() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (200.0, 100.0), (200.0, 200.0), (0.0, 200.0)]);
    let cut = CuttingLine::around(seam, &depths(&[40.0, 10.0, 0.0, 0.0, 0.0])).unwrap();
    // The side's cutting line: x - y = 100 + 10 sqrt 2, met at y = -40.
    let x = 60.0 + 10.0 * 2f64.sqrt();
    let end = 100.0 - 10.0 * 2f64.sqrt();
    assert_corners(cut.outline(), &[(0.0, -40.0), (x, -40.0), (200.0, end), (200.0, 200.0), (0.0, 200.0)]);
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
    assert_corners(cut.outline(), &[(0.0, -40.0), (115.0, -40.0), (115.0, 215.0 + run), (0.0, 100.0 + run)]);
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

/// Star-shaped paths whose edges bulge in and out: sharp and blunt corners, tight and gentle curves.
fn piece() -> impl Strategy<Value = Flattened> {
    let spoke = (60.0..400.0f64, 0.2..1.0f64, -0.35..0.35f64, -0.35..0.35f64, any::<bool>());
    prop::collection::vec(spoke, 3..9).prop_filter_map("must be a sound outline", |spokes| {
        let total: f64 = spokes.iter().map(|s| s.1).sum();
        let mut angle = 0.0;
        let mut corners = Vec::new();
        for spoke in &spokes {
            corners.push(point(spoke.0 * f64::cos(angle), spoke.0 * f64::sin(angle)));
            angle += spoke.1 / total * std::f64::consts::TAU;
        }
        let edges = (0..spokes.len())
            .map(|i| {
                let (a, b) = (corners[i], corners[(i + 1) % corners.len()]);
                let (along, (_, _, bulge_a, bulge_b, curved)) = (b - a, spokes[i]);
                let square = point(along.y, -along.x);
                let shape = if curved {
                    EdgeShape::Cubic {
                        first: a + along / 3.0 + square * bulge_a,
                        second: a + along * (2.0 / 3.0) + square * bulge_b,
                    }
                } else {
                    EdgeShape::Straight
                };
                Edge { name: String::new(), to: b, shape }
            })
            .collect();
        let flat = Path::new(corners[0], edges).ok()?.flatten(FLATNESS_MM);
        flat.outline().is_ok().then_some(flat)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn with_one_depth_the_cutting_line_keeps_its_distance(seam in piece(), depth in 1.0..60.0f64) {
        let edges = seam.edge_of().iter().max().unwrap() + 1;
        let ring = seam.points().to_vec();
        let cut = CuttingLine::around(seam, &depths(&vec![depth; edges])).unwrap();
        for p in samples(cut.outline()) {
            prop_assert!(!inside(p, &ring));
            let off = to_border(p, &ring);
            prop_assert!(off >= depth - 1e-6, "{off} at {p:?}, depth {depth}");
            prop_assert!(off <= MITRE_LIMIT.hypot(1.0) * depth + 1e-6, "{off} at {p:?}, depth {depth}");
        }
        for &p in &ring {
            prop_assert!(inside(p, cut.outline().points()));
        }
    }

    #[test]
    fn with_depths_of_their_own_the_piece_is_contained_and_each_edge_has_its_depth(
        seam in piece(), values in prop::collection::vec(prop_oneof![Just(0.0), 5.0..50.0f64], 9),
    ) {
        let edges = seam.edge_of().iter().max().unwrap() + 1;
        let original = seam.outline().unwrap();
        let cut = CuttingLine::around(seam.clone(), &depths(&values[..edges])).unwrap();
        prop_assert!(cut.outline().area() >= original.area() - 1e-6);
        let deepest = values[..edges].iter().copied().fold(0.0, f64::max);
        for p in samples(cut.outline()) {
            let off = to_border(p, seam.points());
            prop_assert!(off <= 1e-6 || !inside(p, seam.points()));
            prop_assert!(off <= MITRE_LIMIT.hypot(1.0) * deepest + 1e-6);
        }
        for segment in 0..seam.points().len() {
            let (a, b) = seam.segment(segment);
            let edge = seam.edge_of()[segment];
            let (middle, out) = ((a + b) / 2.0, outward_normal(a, b));
            // Away from the corners of its edge, nothing trims a band.
            let ends_away = (0..seam.points().len()).all(|other| {
                let near = seam.edge_of()[other] != edge;
                let (c, d) = seam.segment(other);
                !near || distance(middle, nearest_on_segment(middle, c, d)) > 2.0 * TRIM_LIMIT * deepest + 2.0 * deepest
            });
            if ends_away && values[edge] > 0.0 {
                prop_assert!(inside(middle + out * (values[edge] - 1e-6), cut.outline().points()));
            }
            let carried = cut.carry_out(middle);
            if carried.edge == edge && distance(carried.on_seam, middle) < 1e-9 {
                prop_assert!(to_border(carried.at, cut.outline().points()) < 1e-6);
            }
        }
    }

    #[test]
    fn a_fold_edge_is_exactly_where_it_was(
        xs in prop::collection::vec(40.0..300.0f64, 2..7), top in 300.0..700.0f64, lift in -150.0..150.0f64,
        values in prop::collection::vec(0.0..45.0f64, 8),
    ) {
        let n = xs.len();
        let mut corners = vec![(0.0, 0.0)];
        corners.extend(xs.iter().enumerate().map(|(i, &x)| (x, (top + lift) * i as f64 / (n - 1) as f64)));
        corners.push((0.0, top));
        let seam = polygon(&corners);
        prop_assume!(seam.outline().is_ok());
        let edges = seam.edge_of().iter().max().unwrap() + 1;
        let mut allowances = depths(&values[..edges]);
        allowances[edges - 1] = EdgeAllowance::Fold;
        let cut = CuttingLine::around(seam, &allowances).unwrap();
        prop_assert_eq!(cut.outline().bounds().min.x, 0.0);
        let on_line: Vec<f64> = cut.outline().points().iter().filter(|p| p.x == 0.0).map(|p| p.y).collect();
        prop_assert_eq!(on_line.len(), 2);
        prop_assert!(on_line.iter().copied().fold(f64::INFINITY, f64::min) <= 0.0);
        prop_assert!(on_line.iter().copied().fold(0.0, f64::max) >= top);
        FoldLine::new(point(0.0, 0.0), point(0.0, top)).unwrap().unfold(cut.outline()).unwrap();
    }
}
