//! Darts: folded and pressed, the cloth between the legs ends where the cloth that it lies on ends.

use ellwand_judge::{clearance, distance_to_border};
use proptest::prelude::*;

use super::*;

fn pairs(outline: &Outline) -> Vec<(f64, f64)> {
    outline.points().iter().map(|p| (p.x, p.y)).collect()
}

/// A front 200 by 400 mm with a dart in its right side: the ends of its lower and its upper leg, and its point.
fn front(lower: Point, tip: Point, upper: Point, top: f64) -> Flattened {
    polygon(&[
        (0.0, 0.0),
        (200.0, 0.0),
        (lower.x, lower.y),
        (tip.x, tip.y),
        (upper.x, upper.y),
        (top, 400.0),
        (0.0, 400.0),
    ])
}

const LEGS: [EdgeAllowance; 2] = [EdgeAllowance::Leg, EdgeAllowance::Leg];

fn cut(seam: Flattened, depth: f64, dart: PressedDart) -> Outline {
    let around = EdgeAllowance::Depth(depth);
    let allowances = [[around, around].as_slice(), &LEGS, &[around, around, around]].concat();
    CuttingLine::around_darts(seam, &allowances, &[dart]).unwrap().outline().clone()
}

/// Folds every point of the border between the legs back onto the cloth, and sees that it lies on the border there. Returns how far each
/// half was followed.
fn assert_is_caught(outline: &Outline, tip: Point, over: Point, other: Point) {
    let ring = pairs(outline);
    let angle = |p: Point| {
        let (u, v) = (over - tip, p - tip);
        cross(u, v).atan2(dot(u, v))
    };
    let whole = angle(other);
    let axis = direction(tip, over);
    let mirrored = |p: Point| tip + axis * (2.0 * dot(p - tip, axis)) - (p - tip);
    let turned = |p: Point| {
        let (sin, cos) = (-whole).sin_cos();
        let v = p - tip;
        tip + point(v.x * cos - v.y * sin, v.x * sin + v.y * cos)
    };
    let mut seen = [0, 0];
    for (a, b) in outline.edges() {
        for i in 0..8 {
            let p = a + (b - a) * (f64::from(i) / 8.0);
            let share = angle(p) / whole;
            let is_cut_off = distance(p, tip) > 1.9 * distance(tip, over).max(distance(tip, other));
            if is_cut_off || !(0.001..=0.999).contains(&share) {
                continue;
            }
            let half = usize::from(share > 0.5);
            let q = if half == 0 { mirrored(p) } else { turned(p) };
            let off = distance_to_border((q.x, q.y), &ring);
            assert!(off <= 1e-3, "({}, {}) folded back is {off} mm off the cutting line: {ring:?}", p.x, p.y);
            seen[half] += 1;
        }
    }
    assert!(seen[0] > 0 && seen[1] > 0, "{seen:?}");
    assert!(clearance(&ring) >= HAIR_MM);
}

/// The dart of the doc example: a side seam 120 mm from the point of a dart 40 mm wide, pressed down. The tip of the cap lies as far from
/// the point as the cutting line does at twice the half angle below the leg's.
#[test]
fn a_side_dart_pressed_down_has_a_pointed_cap() {
    let (lower, tip, upper) = (point(200.0, 180.0), point(80.0, 200.0), point(200.0, 220.0));
    let outline = cut(front(lower, tip, upper, 200.0), 15.0, PressedDart { tip, over: lower });
    assert_is_caught(&outline, tip, lower, upper);
    let twice = 2.0 * 20f64.atan2(120.0);
    assert!((outline.bounds().max.x - (80.0 + 135.0 / twice.cos())).abs() < 1e-6);
    // Nothing else is changed: straight across there would be too little.
    assert!(outline.points().iter().any(|p| distance(*p, point(215.0, -15.0)) < 1e-9));
    let plain = [EdgeAllowance::Depth(15.0); 5];
    let whole = polygon(&[(0.0, 0.0), (200.0, 0.0), (200.0, 200.0), (200.0, 400.0), (0.0, 400.0)]);
    let undarted = CuttingLine::around(whole, &plain).unwrap();
    assert!(outline.area() > undarted.outline().area());
}

/// A waist dart in a level edge, pressed either way, is its own mirror image.
#[test]
fn pressed_the_other_way_it_is_the_mirror_image() {
    let (lower, tip, upper) = (point(200.0, 170.0), point(90.0, 200.0), point(200.0, 230.0));
    let (down, up) =
        [lower, upper].map(|over| cut(front(lower, tip, upper, 200.0), 10.0, PressedDart { tip, over })).into();
    assert_is_caught(&down, tip, lower, upper);
    assert_is_caught(&up, tip, upper, lower);
    assert!((down.area() - up.area()).abs() < 1e-6);
}

#[test]
fn a_raw_edge_gets_the_cap_too() {
    let (lower, tip, upper) = (point(200.0, 180.0), point(80.0, 200.0), point(200.0, 220.0));
    let outline = cut(front(lower, tip, upper, 200.0), 0.0, PressedDart { tip, over: lower });
    assert_is_caught(&outline, tip, lower, upper);
}

/// The dart of a half cut on the fold keeps the fold whole.
#[test]
fn a_dart_beside_a_fold_leaves_the_fold_where_it_is() {
    let (lower, tip, upper) = (point(200.0, 180.0), point(30.0, 200.0), point(200.0, 220.0));
    let around = EdgeAllowance::Depth(15.0);
    let allowances = [[around, around].as_slice(), &LEGS, &[around, around, EdgeAllowance::Fold]].concat();
    let dart = PressedDart { tip, over: lower };
    let half = CuttingLine::around_darts(front(lower, tip, upper, 200.0), &allowances, &[dart]).unwrap();
    assert_is_caught(half.outline(), tip, lower, upper);
    assert_eq!(half.outline().bounds().min.x, 0.0);
}

/// A broad dart beside the fold, pressed towards it: part of what it lies on is the other half of the piece.
#[test]
fn a_dart_pressed_over_a_fold_lies_on_the_other_half() {
    let (over, tip, other) = (point(48.0, 0.0), point(80.0, 60.0), point(112.0, 0.0));
    let half =
        polygon(&[(0.0, 0.0), (48.0, 0.0), (80.0, 60.0), (112.0, 0.0), (387.0, 0.0), (248.0, 330.0), (0.0, 330.0)]);
    let around = EdgeAllowance::Depth(15.0);
    let allowances = [[around].as_slice(), &LEGS, &[around, around, around, EdgeAllowance::Fold]].concat();
    let cut = CuttingLine::around_darts(half, &allowances, &[PressedDart { tip, over }]).unwrap();
    let whole = FoldLine::new(point(0.0, 0.0), point(0.0, 330.0)).unwrap().unfold(cut.outline()).unwrap();
    assert_is_caught(&whole, tip, over, other);
}

#[test]
fn a_dart_that_is_not_there_is_a_fault() {
    let seam = polygon(&[(0.0, 0.0), (200.0, 0.0), (200.0, 400.0), (0.0, 400.0)]);
    let dart = PressedDart { tip: point(200.0, 0.0), over: point(0.0, 0.0) };
    let refused = CuttingLine::around_darts(seam, &depths(&[10.0; 4]), &[dart]);
    assert_eq!(refused, Err(vec![OffsetFault::NoSuchDart { at: point(200.0, 0.0) }]));
}

proptest! {
    #![proptest_config(crate::testing::cases(300))]

    /// Any dart in a slanted side, of legs that differ, on cloth whose side runs on at another slant above it.
    #[test]
    fn what_is_folded_is_caught_in_the_seam(
        tip in (60.0..140.0f64, 150.0..250.0f64), width in 6.0..90.0f64, middle in 150.0..250.0f64,
        slants in prop::array::uniform2(-30.0..30.0f64), depth in 0.0..30.0f64, second: bool,
    ) {
        let (low, high) = (middle - width / 2.0, middle + width / 2.0);
        let lower = point(200.0 + slants[0], low);
        let (tip, upper) = (point(tip.0, tip.1), point(200.0 + slants[0], high));
        let seam = front(lower, tip, upper, 200.0 + slants[1]);
        prop_assume!(seam.outline().is_ok());
        let (near, far) = if second { (upper, lower) } else { (lower, upper) };
        let outline = cut(seam, depth, PressedDart { tip, over: near });
        assert_is_caught(&outline, tip, near, far);
    }
}
