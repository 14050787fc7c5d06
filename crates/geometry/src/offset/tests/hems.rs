//! Allowances that are turned up: folded back about their seam line they lie on the piece.

use ellwand_judge::{clearance, distance_to_border};
use proptest::prelude::*;

use super::*;

fn pairs(outline: &Outline) -> Vec<(f64, f64)> {
    outline.points().iter().map(|p| (p.x, p.y)).collect()
}

fn inches(values: &[f64]) -> Vec<EdgeAllowance> {
    depths(&values.iter().map(|v| v * 25.4).collect::<Vec<_>>())
}

/// Where the outline crosses a height, from left to right.
fn crossings(outline: &Outline, y: f64) -> Vec<f64> {
    let mut xs: Vec<f64> = (outline.edges())
        .filter(|(a, b)| (a.y > y) != (b.y > y))
        .map(|(a, b)| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)))
        .collect();
    xs.sort_by(f64::total_cmp);
    xs
}

fn width_at(outline: &Outline, y: f64) -> f64 {
    let xs = crossings(outline, y);
    assert_eq!(xs.len(), 2, "{xs:?} at {y}");
    xs[1] - xs[0]
}

/// Every point below the hem line `y = 0`, folded up, lies on the border or within the outline; and the side edges on the border.
fn assert_folds_back(outline: &Outline, depth: f64) {
    let ring = pairs(outline);
    let mut sides = 0;
    for (a, b) in outline.edges().filter(|(a, b)| a.y.min(b.y) < -1e-9 && (a.y - b.y).abs() > 1e-6) {
        // The part of the edge between the hem line and the depth.
        let at = |y: f64| a + (b - a) * ((y - a.y) / (b.y - a.y)).clamp(0.0, 1.0);
        let (low, high) = (at(-depth), at(0.0));
        for i in 1..=16 {
            let p = low + (high - low) * (f64::from(i) / 16.0);
            sides += 1;
            let off = distance_to_border((p.x, -p.y), &ring);
            assert!(off <= 0.1, "({}, {}) folded up is {off} mm off the cutting line: {ring:?}", p.x, p.y);
        }
    }
    assert!(sides >= 32, "both side edges were followed, {sides} points");
}

/// Trapezoid 16 in over 8 in, height 16 in, hem 3 in. The edge that the hem must meet lies 3 in above the hem line and is
/// 8 + (16 - 8) × 3/16 = 9 1/2 in wide between seam lines, where drawing straight on gives 6 1/2 in. (The rule: a teaching page
/// on truing hems; the figures are geometry.)
#[test]
fn the_hem_of_a_tapered_sleeve_is_as_wide_as_what_it_must_meet() {
    let inch = 25.4;
    let sleeve = [(0.0, 0.0), (8.0, 0.0), (12.0, 16.0), (-4.0, 16.0)].map(|(x, y)| (x * inch, y * inch));
    let between_seams = CuttingLine::around(polygon(&sleeve), &inches(&[3.0, 0.0, 0.0, 0.0])).unwrap();
    assert!((width_at(between_seams.outline(), -3.0 * inch + 1e-9) / inch - 9.5).abs() < 1e-9);
    assert!((width_at(between_seams.outline(), -1e-9) / inch - 8.0).abs() < 1e-9);
    assert_folds_back(between_seams.outline(), 3.0 * inch);
    // With half an inch at the sides it meets the sides' cutting lines.
    let cut = CuttingLine::around(polygon(&sleeve), &inches(&[3.0, 0.5, 0.5, 0.5])).unwrap();
    let across = 2.0 * 0.5 * 0.25f64.hypot(1.0);
    assert!((width_at(cut.outline(), -3.0 * inch + 1e-9) / inch - (9.5 + across)).abs() < 1e-9);
    assert_folds_back(cut.outline(), 3.0 * inch);
    assert_eq!(cut.outline().bounds().min.y, -3.0 * inch);
}

/// A flare has more edge than it must meet: the mirrored hem is longer at the hem line and shorter at the cut edge.
#[test]
fn the_hem_of_a_flared_skirt_is_shorter_at_its_cut_edge() {
    let skirt = polygon(&[(-300.0, 0.0), (300.0, 0.0), (200.0, 600.0), (-200.0, 600.0)]);
    let cut = CuttingLine::around(skirt, &depths(&[60.0, 15.0, 15.0, 15.0])).unwrap();
    let (lean, across) = (100.0 / 600.0, 2.0 * 15.0 * f64::hypot(1.0, 100.0 / 600.0));
    assert!((width_at(cut.outline(), -1e-9) - (600.0 + across)).abs() < 1e-6);
    assert!((width_at(cut.outline(), -60.0 + 1e-9) - (600.0 + across - 2.0 * 60.0 * lean)).abs() < 1e-6);
    assert_folds_back(cut.outline(), 60.0);
}

#[test]
fn the_hem_of_a_rectangle_is_a_rectangle() {
    let square = polygon(&[(0.0, 0.0), (300.0, 0.0), (300.0, 400.0), (0.0, 400.0)]);
    let cut = CuttingLine::around(square, &depths(&[70.0, 15.0, 10.0, 15.0])).unwrap();
    assert_corners(cut.outline(), &[(-15.0, -70.0), (315.0, -70.0), (315.0, 410.0), (-15.0, 410.0)]);
}

/// A waistband or strip lower than what is turned in: folded back it stands out beyond the far edge, as a rectangle.
#[test]
fn a_hem_deeper_than_the_piece_is_high_goes_on_square() {
    let strip = polygon(&[(0.0, 0.0), (300.0, 0.0), (300.0, 40.0), (0.0, 40.0)]);
    let cut = CuttingLine::around(strip, &depths(&[70.0, 15.0, 10.0, 15.0])).unwrap();
    assert_corners(cut.outline(), &[(-15.0, -70.0), (315.0, -70.0), (315.0, 50.0), (-15.0, 50.0)]);
    // Leaning sides are mirrored as far as they go, to the top of their allowance, and are square from there.
    let tapered = polygon(&[(0.0, 0.0), (300.0, 0.0), (310.0, 40.0), (-10.0, 40.0)]);
    let cut = CuttingLine::around(tapered, &depths(&[70.0, 0.0, 10.0, 0.0])).unwrap();
    assert!((width_at(cut.outline(), -70.0 + 1e-9) - width_at(cut.outline(), -40.0)).abs() < 6.0);
    assert!((width_at(cut.outline(), -40.0 + 1e-9) - 320.0).abs() < 1e-6);
}

/// A shirt front: hem 40 at the bottom, facing 60 at the front edge. The facing is turned over the hem's cutting line, the hem over
/// the side's.
#[test]
fn two_deep_allowances_meet_at_a_corner() {
    let front = polygon(&[(0.0, 0.0), (200.0, 0.0), (200.0, 500.0), (20.0, 500.0)]);
    let cut = CuttingLine::around(front, &depths(&[40.0, 60.0, 15.0, 15.0])).unwrap();
    let (lean, slant) = (20.0 / 500.0, f64::hypot(1.0, 20.0 / 500.0));
    let left = |y: f64| -15.0 * slant + lean * y.abs();
    let top = 515.0;
    let expected = [(left(40.0), -40.0), (260.0, -40.0), (260.0, top), (left(top), top), (left(0.0), 0.0)];
    // The side leans to the right going up, so the hem's end leans to the right going down.
    assert_corners(cut.outline(), &expected);
}

/// A half front with a slanted hem at the fold: the fold takes no allowance, the hem's cutting line runs to the fold line.
#[test]
fn a_hem_beside_a_fold_ends_on_the_fold() {
    let half = polygon(&[(0.0, 0.0), (100.0, 20.0), (110.0, 300.0), (0.0, 300.0)]);
    let mut allowances = depths(&[50.0, 10.0, 10.0, 0.0]);
    allowances[3] = EdgeAllowance::Fold;
    let cut = CuttingLine::around(half, &allowances).unwrap();
    let slant = f64::hypot(1.0, 0.2);
    let on_fold: Vec<f64> = cut.outline().points().iter().filter(|p| p.x == 0.0).map(|p| p.y).collect();
    assert_eq!(on_fold.len(), 2);
    assert!(on_fold.iter().any(|y| (y + 50.0 * slant).abs() < 1e-9), "{on_fold:?}");
    let whole = FoldLine::new(point(0.0, 0.0), point(0.0, 300.0)).unwrap().unfold(cut.outline()).unwrap();
    assert!(clearance(&pairs(&whole)) >= HAIR_MM);
}

/// A kerchief: the sides meet above the hem. Its allowance is the mirrored triangle, and no deeper.
#[test]
fn sides_that_meet_end_the_allowance_there() {
    let kerchief = polygon(&[(0.0, 0.0), (200.0, 0.0), (100.0, 60.0)]);
    let cut = CuttingLine::around(kerchief, &depths(&[150.0, 0.0, 0.0])).unwrap();
    let bounds = cut.outline().bounds();
    assert!((bounds.min.y + 60.0).abs() < 0.1, "{bounds:?}");
    assert!(clearance(&pairs(cut.outline())) >= HAIR_MM);
    assert_folds_back(cut.outline(), 59.0);
}

/// Leaning out by more than 60 degrees nothing can be folded back; such a corner is a step, as between edges in line.
#[test]
fn a_side_nearly_in_line_with_the_hem_meets_it_in_a_step() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (300.0, 40.0), (300.0, 200.0), (0.0, 200.0)]);
    let cut = CuttingLine::around(seam, &depths(&[40.0, 10.0, 0.0, 0.0, 0.0])).unwrap();
    assert_eq!(cut.outline().bounds().min.y, -40.0);
    assert!(cut.outline().points().iter().all(|p| p.y > -39.0 || p.x <= 100.0 + 1e-9));
}

/// The hem of a skirt cut from a ring: its middle lies on a circle about the centre, its sides run towards it. What lies 50 mm
/// above the hem line at a place lies, mirrored, 50 mm below it at the same place.
#[test]
fn a_curved_hem_is_mirrored_place_by_place() {
    let (waist, hem, half) = (200.0, 800.0, 0.45f64);
    let at = |radius: f64, angle: f64| point(radius * angle.sin(), -radius * angle.cos());
    let arc = |radius: f64, from: f64, to: f64| Edge {
        name: String::new(),
        to: at(radius, to),
        shape: EdgeShape::Arc { through: at(radius, (from + to) / 2.0) },
    };
    // The sides flare more than the radius: they start at a narrower angle at the waist.
    let narrow = 0.15;
    let to_waist = Edge { name: String::new(), to: at(waist, narrow), shape: EdgeShape::Straight };
    let to_hem = Edge { name: String::new(), to: at(hem, -half), shape: EdgeShape::Straight };
    let path =
        Path::new(at(hem, -half), vec![arc(hem, -half, half), to_waist, arc(waist, narrow, -narrow), to_hem]).unwrap();
    let cut = CuttingLine::around(path.flatten(FLATNESS_MM), &depths(&[50.0, 0.0, 0.0, 0.0])).unwrap();
    let angle_at = |radius: f64| {
        let crossing = cut.outline().edges().filter_map(|(a, b)| {
            let (ra, rb) = (a.x.hypot(a.y), b.x.hypot(b.y));
            let p = a + (b - a) * ((radius - ra) / (rb - ra));
            ((ra > radius) != (rb > radius) && p.x > 0.0).then(|| p.x.atan2(-p.y))
        });
        crossing.fold(0.0, f64::max)
    };
    for depth in [5.0, 20.0, 45.0] {
        let (above, below) = (angle_at(hem - depth), angle_at(hem + depth));
        assert!((above - below).abs() * hem < 0.1, "{} mm apart at {depth}", (above - below) * hem);
    }
    assert!(angle_at(hem + 45.0) < angle_at(hem) - 0.003, "the mirrored side leans in");
}

/// A side that curves: the mirror image curves the same way.
#[test]
fn a_curved_side_is_mirrored_too() {
    let side = Edge {
        name: String::new(),
        to: point(140.0, 300.0),
        shape: EdgeShape::Cubic { first: point(105.0, 60.0), second: point(160.0, 150.0) },
    };
    let path = Path::new(point(0.0, 0.0), vec![straight(100.0, 0.0), side, straight(0.0, 300.0), straight(0.0, 0.0)]);
    let cut = CuttingLine::around(path.unwrap().flatten(FLATNESS_MM), &depths(&[80.0, 12.0, 12.0, 12.0])).unwrap();
    assert_folds_back(cut.outline(), 80.0);
}

/// A hem of two edges with a corner between them, one of which ends beside a side that leans in: the corner is filled all the same.
#[test]
fn the_corner_between_two_edges_of_one_hem_is_whole() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (170.0, 70.0), (100.0, 200.0), (0.0, 200.0)]);
    let cut = CuttingLine::around(seam, &depths(&[30.0, 30.0, 10.0, 10.0, 10.0])).unwrap();
    let tip = point(100.0 + 30.0 * 22.5f64.to_radians().tan(), -30.0);
    assert!(cut.outline().points().iter().any(|p| distance(*p, tip) < 1e-6), "{:?}", cut.outline());
}

proptest! {
    #![proptest_config(crate::testing::cases(200))]

    #[test]
    fn with_straight_neighbours_a_hem_folds_back_onto_the_piece(
        lean_left in -0.9..0.9f64, lean_right in -0.9..0.9f64, width in 250.0..500.0f64,
        sides in prop::array::uniform2(0.0..25.0f64), depth in 26.0..90.0f64,
    ) {
        let high = 200.0;
        let seam = polygon(&[(0.0, 0.0), (width, 0.0), (width + lean_right * high, high), (lean_left * high, high)]);
        prop_assume!(seam.outline().is_ok() && width + (lean_right - lean_left) * high > 20.0);
        let cut = CuttingLine::around(seam, &depths(&[depth, sides[0], 10.0, sides[1]])).unwrap();
        assert_folds_back(cut.outline(), depth);
        prop_assert!(clearance(&pairs(cut.outline())) >= HAIR_MM);
    }
}
