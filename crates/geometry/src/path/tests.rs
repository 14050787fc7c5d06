use super::*;
use proptest::prelude::*;

fn straight(name: &str, x: f64, y: f64) -> Edge {
    Edge { name: name.into(), to: point(x, y), shape: EdgeShape::Straight }
}

fn armhole_piece() -> Path {
    Path::new(
        point(0.0, 0.0),
        vec![
            straight("hem", 250.0, 0.0),
            straight("side", 240.0, 400.0),
            Edge {
                name: "armhole".into(),
                to: point(180.0, 600.0),
                shape: EdgeShape::Cubic { first: point(180.0, 410.0), second: point(170.0, 480.0) },
            },
            straight("shoulder", 80.0, 640.0),
            Edge {
                name: "neck".into(),
                to: point(0.0, 560.0),
                shape: EdgeShape::Arc { through: point(56.57, 583.43) },
            },
            straight("centre", 0.0, 0.0),
        ],
    )
    .unwrap()
}

#[test]
fn each_segment_knows_its_edge() {
    let path = armhole_piece();
    let flat = path.flatten(FLATNESS_MM);
    assert_eq!(flat.points().len(), flat.edge_of().len());
    let side = flat.edge_of().iter().position(|&e| e == 1).unwrap();
    assert_eq!(flat.segment(side), (point(250.0, 0.0), point(240.0, 400.0)));
    assert!(flat.edge_of().iter().filter(|&&e| e == 2).count() > 8);
    flat.outline().unwrap();
    for tolerance in [FLATNESS_MM, 1.0, 0.001] {
        assert_eq!(path.segment_count(tolerance), path.flatten(tolerance).points().len());
    }
}

#[test]
fn a_clockwise_path_keeps_its_edges_when_turned_round() {
    let path = Path::new(
        point(0.0, 0.0),
        vec![
            straight("left", 0.0, 30.0),
            straight("top", 20.0, 30.0),
            straight("right", 20.0, 0.0),
            straight("hem", 0.0, 0.0),
        ],
    )
    .unwrap();
    let flat = path.flatten(FLATNESS_MM);
    assert!(signed_area(flat.points()) > 0.0);
    for segment in 0..4 {
        let (a, b) = flat.segment(segment);
        let (p, q) = path.ends(flat.edge_of()[segment]);
        assert_eq!((a, b), (q, p), "segment {segment}");
    }
}

#[test]
fn an_open_path_says_how_far_from_closing() {
    let faults = Path::new(point(0.0, 0.0), vec![straight("a", 10.0, 0.0), straight("b", 3.0, 4.0)]).unwrap_err();
    assert_eq!(faults, vec![PathFault::Open { start: point(0.0, 0.0), end: point(3.0, 4.0), gap: 5.0 }]);
}

#[test]
fn a_tiny_gap_is_closed() {
    let path =
        Path::new(point(0.0, 0.0), vec![straight("a", 10.0, 0.0), straight("b", 3.0, 4.0), straight("c", 0.01, 0.0)])
            .unwrap();
    assert_eq!(path.ends(2).1, point(0.0, 0.0));
}

#[test]
fn every_fault_of_a_path_is_named() {
    let arc =
        |x, y, mx, my| Edge { name: "neck".into(), to: point(x, y), shape: EdgeShape::Arc { through: point(mx, my) } };
    let faults =
        Path::new(point(0.0, 0.0), vec![straight("", 0.0, 0.0), arc(10.0, 10.0, 4.0, 4.0), straight("", 9.0, 0.0)])
            .unwrap_err();
    assert_eq!(faults.len(), 3);
    assert!(matches!(faults[0], PathFault::Open { .. }));
    assert_eq!(faults[1].to_string(), "edge 1 ends where it starts");
    assert!(faults[2].to_string().starts_with("edge 2 (\"neck\") is an arc"));
}

#[test]
fn a_number_that_is_none_is_refused() {
    let faults =
        Path::new(point(0.0, f64::NAN), vec![straight("x", f64::INFINITY, 0.0), straight("y", 0.0, 0.0)]).unwrap_err();
    assert_eq!(faults[0], PathFault::StartNotFinite);
    assert_eq!(faults[1], PathFault::NotFinite { edge: 0, name: "x".into() });
}

/// The count follows from the definition of the sagitta: for a quarter of radius 100 mm at 0.1 mm a chord spans at
/// most 2 acos(1 - 0.001) = 5.125 degrees, and 90 / 5.125 = 17.56.
#[test]
fn a_quarter_circle_takes_the_fewest_chords_the_sagitta_allows() {
    let half = 100.0 * std::f64::consts::FRAC_1_SQRT_2;
    let mut points = Vec::new();
    let count = flatten_arc(point(100.0, 0.0), point(half, half), point(0.0, 100.0), 0.1, &mut points);
    assert_eq!(count, 18);
    assert!(points.iter().all(|p| (p.x.hypot(p.y) - 100.0).abs() < 1e-9));
}

proptest! {
    #![proptest_config(crate::testing::cases(256))]

    /// Against the slow obvious method: the true curve sampled finely.
    #[test]
    fn a_flattened_cubic_stays_within_the_tolerance(
        c in prop::array::uniform8(-300.0..300.0f64), exponent in -2.0..1.0f64,
    ) {
        let tolerance = 10f64.powf(exponent);
        let p: Vec<Point> = c.chunks(2).map(|c| point(c[0], c[1])).collect();
        let mut points = Vec::new();
        let count = flatten_cubic(p[0], p[1], p[2], p[3], tolerance, &mut points);
        prop_assert_eq!(points.len(), count);
        points.push(p[3]);
        for i in 0..=1000 {
            let t = i as f64 / 1000.0;
            let s = 1.0 - t;
            let q = p[0] * (s * s * s) + p[1] * (3.0 * s * s * t) + p[2] * (3.0 * s * t * t) + p[3] * (t * t * t);
            let off = (points.windows(2).map(|w| distance(q, nearest_on_segment(q, w[0], w[1]))))
                .fold(f64::INFINITY, f64::min);
            prop_assert!(off <= tolerance + 1e-9, "{off} at {t}");
        }
    }

    #[test]
    fn an_arc_passes_through_its_middle_point(
        center in prop::array::uniform2(-500.0..500.0f64), radius in 5.0..900.0f64,
        start in 0.0..std::f64::consts::TAU, sweep in 0.1..6.0f64, share in 0.05..0.95f64, tolerance in 0.01..0.5f64,
    ) {
        let at = |a: f64| point(center[0] + radius * a.cos(), center[1] + radius * a.sin());
        for sweep in [sweep, -sweep] {
            let (from, through, to) = (at(start), at(start + sweep * share), at(start + sweep));
            let mut points = Vec::new();
            flatten_arc(from, through, to, tolerance, &mut points);
            points.push(to);
            let off = (points.windows(2).map(|w| distance(through, nearest_on_segment(through, w[0], w[1]))))
                .fold(f64::INFINITY, f64::min);
            prop_assert!(off <= tolerance + 1e-6);
            prop_assert!(points.iter().all(|&p| (distance(p, point(center[0], center[1])) - radius).abs() < 1e-6));
        }
    }
}
