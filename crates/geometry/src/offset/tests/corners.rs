//! Corners that an edge says something of: square, straight on, mirrored whatever the depths, mitred.

use ellwand_judge::{covers, distance_to_border};
use proptest::prelude::*;

use super::*;

fn cornered(depth: f64, corner: CornerShape) -> EdgeAllowance {
    EdgeAllowance::Cornered { depth, corner }
}

/// The end of a tapered sleeve, 8 wide and 4 high, widening by 1 on each side.
fn sleeve() -> Flattened {
    polygon(&[(0.0, 0.0), (80.0, 0.0), (90.0, 40.0), (-10.0, 40.0)])
}

fn hem(corner: CornerShape) -> Outline {
    let seam = EdgeAllowance::Depth(0.0);
    CuttingLine::around(sleeve(), &[cornered(20.0, corner), seam, seam, seam]).unwrap().outline().clone()
}

#[test]
fn a_square_hem_goes_straight_down_from_the_cutting_line() {
    let expected = [(0.0, -20.0), (80.0, -20.0), (80.0, 0.0), (90.0, 40.0), (-10.0, 40.0), (0.0, 0.0)];
    assert_corners(&hem(CornerShape::Square), &expected);
    let seams = EdgeAllowance::Depth(10.0);
    let cut = CuttingLine::around(sleeve(), &[cornered(20.0, CornerShape::Square), seams, seams, seams]).unwrap();
    let aside = 10.0 * 0.25f64.hypot(1.0);
    assert!((cut.outline().bounds().min.y + 20.0).abs() < 1e-9);
    let at_cut_edge: Vec<f64> = cut.outline().points().iter().filter(|p| p.y < -19.9).map(|p| p.x).collect();
    assert!(at_cut_edge.iter().all(|x| (x + aside).abs() < 1e-9 || (x - 80.0 - aside).abs() < 1e-9), "{at_cut_edge:?}");
}

#[test]
fn a_hem_straight_on_follows_the_side() {
    assert_corners(&hem(CornerShape::StraightOn), &[(5.0, -20.0), (75.0, -20.0), (90.0, 40.0), (-10.0, 40.0)]);
    let expected = [(-5.0, -20.0), (85.0, -20.0), (80.0, 0.0), (90.0, 40.0), (-10.0, 40.0), (0.0, 0.0)];
    assert_corners(&hem(CornerShape::Mirrored), &expected);
    // It may be said of the side as well.
    let (side, raw) = (cornered(10.0, CornerShape::StraightOn), EdgeAllowance::Depth(0.0));
    let cut = CuttingLine::around(sleeve(), &[EdgeAllowance::Depth(20.0), side, raw, raw]).unwrap();
    let aside = 10.0 * 0.25f64.hypot(1.0);
    assert!(cut.outline().points().iter().any(|p| distance(*p, point(75.0 + aside, -20.0)) < 1e-9), "{cut:?}");
}

/// A hem of 10 mm beside seams of 15 mm: by depth the seams would be turned up over it.
#[test]
fn a_mirrored_hem_is_turned_up_over_deeper_seams() {
    let (seam, hem) = (EdgeAllowance::Depth(15.0), cornered(10.0, CornerShape::Mirrored));
    let cut = CuttingLine::around(sleeve(), &[hem, seam, seam, seam]).unwrap();
    let aside = 15.0 * 0.25f64.hypot(1.0);
    for x in [80.0 + aside + 2.5, -aside - 2.5] {
        let corner = point(x, -10.0);
        assert!(
            cut.outline().points().iter().any(|p| distance(*p, corner) < 1e-9),
            "{corner:?} in {:?}",
            cut.outline()
        );
    }
}

/// Two hems of 30 and 20 mm at a right angle: folded, their inner edges cross 20 mm from the one and 30 mm from the other.
#[test]
fn a_mitred_corner_is_cut_along_its_diagonal_with_an_allowance() {
    let seam = polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]);
    let (low, right) = (cornered(30.0, CornerShape::Mitred), cornered(20.0, CornerShape::Mitred));
    let raw = EdgeAllowance::Depth(0.0);
    let cut = CuttingLine::around(seam, &[low, right, raw, raw]).unwrap();
    // The diagonal runs through the corner in the direction (20, 30), with a quarter of an inch beyond.
    let away = |p: Point| ((p.x - 100.0) * 30.0 - p.y * 20.0) / 20f64.hypot(30.0);
    let farthest = cut.outline().points().iter().map(|&p| away(p)).fold(f64::NEG_INFINITY, f64::max);
    assert!((farthest - MITRE_ALLOWANCE).abs() < 1e-6, "{farthest}: {:?}", cut.outline());
    let on_diagonal = cut.outline().points().iter().filter(|&&p| (away(p) - MITRE_ALLOWANCE).abs() < 1e-6).count();
    assert_eq!(on_diagonal, 2, "{:?}", cut.outline());
    assert_eq!(cut.outline().bounds().min, point(0.0, -30.0));
    assert_eq!(cut.outline().bounds().max, point(120.0, 100.0));
}

#[test]
fn an_edge_that_nothing_mitres_with_is_refused() {
    let square = || polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]);
    let (hem, seam) = (cornered(30.0, CornerShape::Mitred), EdgeAllowance::Depth(15.0));
    let alone = CuttingLine::around(square(), &[seam, hem, seam, seam]);
    assert_eq!(alone, Err(vec![OffsetFault::NoMitre { edge: 1 }]));
    let at_raw_edge = CuttingLine::around(square(), &[cornered(0.0, CornerShape::Mitred), hem, seam, seam]);
    assert_eq!(at_raw_edge, Err([0, 1].map(|edge| OffsetFault::NoMitre { edge }).to_vec()));
    // An edge beside one that goes on in its line has its corner farther on.
    let split = polygon(&[(0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]);
    assert!(CuttingLine::around(split, &[seam, hem, hem, seam, seam]).is_ok());
}

/// Right angles whose directions do not come out square to the last bit: both lines of the mitre are one, and their crossing is nowhere.
#[test]
fn a_right_angle_that_is_not_axis_parallel_is_mitred_like_any() {
    for (corners, depths) in [
        ([(0.0, 0.0), (72.0, 6.0), (64.0, 102.0)], (40.0, 30.0)),
        ([(0.0, 0.0), (36.0, 279.0), (-367.0, 331.0)], (25.0, 40.0)),
        ([(0.0, 0.0), (21.0, 315.0), (-159.0, 327.0)], (50.0, 20.0)),
    ] {
        let [a, v, b] = corners;
        let far = (b.0 + a.0 - v.0, b.1 + a.1 - v.1);
        let raw = EdgeAllowance::Depth(0.0);
        let edges = [cornered(depths.0, CornerShape::Mitred), cornered(depths.1, CornerShape::Mitred), raw, raw];
        let cut = CuttingLine::around(polygon(&[a, v, b, far]), &edges).unwrap();
        let (along, up) = (direction(point(a.0, a.1), point(v.0, v.1)), direction(point(v.0, v.1), point(b.0, b.1)));
        // From the corner to where the inner edges cross, unfolded over the first edge, and a quarter of an inch beyond.
        let flat = (along * -depths.1) - up * depths.0;
        let way = flat / distance(flat, point(0.0, 0.0));
        let end = point(v.0, v.1) + flat * 0.7 + point(-way.y, way.x) * MITRE_ALLOWANCE;
        let ring: Vec<(f64, f64)> = cut.outline().points().iter().map(|p| (p.x, p.y)).collect();
        let off = distance_to_border((end.x, end.y), &ring);
        assert!(off < 1e-6, "{corners:?}: {off} mm off {ring:?}");
    }
}

/// A dart, or a line at which a piece is lengthened, cuts an edge in two: the mitre is at its end, and nowhere else.
#[test]
fn parts_of_an_edge_are_mitred_as_one() {
    let seam = || polygon(&[(0.0, 0.0), (40.0, 0.0), (80.0, 40.0), (80.0, 120.0), (0.0, 120.0)]);
    let (hem, raw) = (cornered(20.0, CornerShape::Mitred), EdgeAllowance::Depth(0.0));
    let allowances = [hem, hem, hem, raw, raw];
    let around = |drawn: &[usize]| CuttingLine::around_parts(seam(), &allowances, drawn, &[]).unwrap();
    let (parts, edges) = (around(&[0, 0, 1, 2, 3]), around(&[0, 1, 2, 3, 4]));
    // Two mitres cut away more than the one at the end of the edge.
    assert!(parts.outline().area() > edges.outline().area() + 1.0, "{:?} {:?}", parts.outline(), edges.outline());
    let lone = CuttingLine::around_parts(seam(), &[hem, hem, raw, raw, raw], &[0, 0, 1, 2, 3], &[]);
    assert_eq!(lone, Err(vec![OffsetFault::NoMitre { edge: 0 }]));
}

/// What is said of an edge without an allowance changes nothing for its neighbour.
#[test]
fn the_corner_of_a_raw_edge_says_nothing() {
    for corner in [CornerShape::Mirrored, CornerShape::Square] {
        let side = cornered(0.0, corner);
        let seam = EdgeAllowance::Depth(20.0);
        let cut = CuttingLine::around(sleeve(), &[seam, side, EdgeAllowance::Depth(0.0), side]).unwrap();
        assert_eq!(cut.outline(), &hem(CornerShape::Mirrored));
    }
}

proptest! {
    #![proptest_config(crate::testing::cases(300))]

    /// Both allowances turned up, the diagonals of a mitre are one line: what each has beyond its own is the seam's allowance.
    #[test]
    fn folded_up_both_diagonals_of_a_mitre_are_one_line(
        interior in 50.0..145.0f64, depths in (10.0..60.0f64, 10.0..60.0f64), turn in 0.0..360.0f64,
    ) {
        let (low, right) = depths;
        let turned = |x: f64, y: f64| { let (s, c) = turn.to_radians().sin_cos(); (x * c - y * s, x * s + y * c) };
        let up = (180.0 - interior).to_radians();
        let (far, tip) = (500.0, (500.0 * up.cos(), 500.0 * up.sin()));
        let corners = [turned(-far, 0.0), turned(0.0, 0.0), turned(tip.0, tip.1), turned(tip.0 - far, tip.1)];
        let raw = EdgeAllowance::Depth(0.0);
        let edges = [cornered(low, CornerShape::Mitred), cornered(right, CornerShape::Mitred), raw, raw];
        let cut = CuttingLine::around(polygon(&corners), &edges).unwrap();
        let ring: Vec<(f64, f64)> = cut.outline().points().iter().map(|p| (p.x, p.y)).collect();
        // Where the inner edges of both cross once they are turned up, from the corner.
        let inward = |along: Point| point(-along.y, along.x);
        let (along_low, along_right) = (point(1.0, 0.0), point(up.cos(), up.sin()));
        let inset = (right - low * up.cos()) / up.sin();
        let met = along_low * -inset + inward(along_low) * low;
        prop_assert!((dot(met, inward(along_right)) - right).abs() < 1e-9);
        let allowance = MITRE_ALLOWANCE.min(low.min(right) / 2.0);
        for (along, outward, depth) in [(along_low, -1.0, low), (along_right, 1.0, right)] {
            // The diagonal unfolded over this edge, and what lies beyond it there.
            let flat = along * (2.0 * dot(met, along)) - met;
            let beyond = inward(flat / distance(flat, point(0.0, 0.0))) * -outward;
            for share in [0.55, 0.75, 0.95] {
                let at = |off: f64| { let p = flat * share + beyond * off; (-dot(p, inward(along)), turned(p.x, p.y)) };
                let (off_line, inner) = at(allowance - 0.01);
                prop_assert!(off_line >= depth || covers(&ring, inner), "{inner:?} is cut away: {ring:?}");
                let (off_line, end) = at(allowance);
                // At a wide corner it may lie on the allowance of the other edge.
                if (0.0..depth).contains(&off_line) && !covers(&ring, end) {
                    let off = distance_to_border(end, &ring);
                    prop_assert!(off < 1e-6, "{end:?} is {off} off {ring:?}");
                }
                let (off_line, outer) = at(allowance + 0.01);
                if interior <= 90.0 && (0.0..depth).contains(&off_line) {
                    prop_assert!(!covers(&ring, outer), "{outer:?} is not cut away: {ring:?}");
                }
            }
        }
    }
}
