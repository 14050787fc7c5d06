//! Cutting lines around random outlines with a random depth for every edge, judged by brute force and exact predicates.

use ellwand_judge::{clearance, covers, distance_to_border, distance_to_segment as to_segment};
use proptest::prelude::*;

use super::*;
use crate::testing::cases;

type Pair = (f64, f64);

fn pair(p: Point) -> Pair {
    (p.x, p.y)
}

fn ring(points: &[Point]) -> Vec<Pair> {
    points.iter().copied().map(pair).collect()
}

fn edge_count(seam: &Flattened) -> usize {
    seam.edge_of().iter().max().unwrap() + 1
}

/// Points along a ring, corners and edge middles included.
fn samples(ring: &[Pair]) -> Vec<Pair> {
    let on = |(a, b): (Pair, Pair)| (0..8).map(move |i| (a, b, f64::from(i) / 8.0));
    ellwand_judge::edges(ring).flat_map(on).map(|(a, b, k)| (a.0 + (b.0 - a.0) * k, a.1 + (b.1 - a.1) * k)).collect()
}

/// What may be odd about one edge of a random piece.
#[derive(Debug, Clone, Copy)]
enum Oddity {
    None,
    /// A tiny edge at its end, this long.
    Tiny(f64),
    /// A joint in its middle that leaves the straight line by this share of the length: near-tangent.
    Joint(f64),
}

/// Star-shaped paths whose edges bulge in and out: sharp, blunt and inward corners, tight and gentle curves, tiny edges, and
/// edges that meet almost in line.
fn piece() -> impl Strategy<Value = Flattened> {
    let oddity = prop_oneof![
        3 => Just(Oddity::None),
        1 => (-3.5..0.0f64).prop_map(|exponent| Oddity::Tiny(10f64.powf(exponent))),
        1 => (-6.0..-1.0f64, any::<bool>())
            .prop_map(|(exponent, out)| Oddity::Joint(10f64.powf(exponent) * if out { 1.0 } else { -1.0 })),
    ];
    let spoke = (60.0..400.0f64, 0.2..1.0f64, -0.35..0.35f64, -0.35..0.35f64, any::<bool>(), oddity);
    prop::collection::vec(spoke, 3..9).prop_filter_map("must be a sound outline", |spokes| {
        let total: f64 = spokes.iter().map(|s| s.1).sum();
        let mut angle = 0.0;
        let mut corners = Vec::new();
        for spoke in &spokes {
            corners.push(point(spoke.0 * f64::cos(angle), spoke.0 * f64::sin(angle)));
            angle += spoke.1 / total * std::f64::consts::TAU;
        }
        let mut edges = Vec::new();
        for (i, &(_, _, bulge_a, bulge_b, curved, oddity)) in spokes.iter().enumerate() {
            let (mut a, b) = (corners[i], corners[(i + 1) % corners.len()]);
            let along = b - a;
            let square = point(along.y, -along.x);
            match oddity {
                Oddity::None => {}
                Oddity::Tiny(length) => {
                    a = a + along * (length / along.x.hypot(along.y)) + square * (length / 700.0);
                    edges.push(straight(a.x, a.y));
                }
                Oddity::Joint(off) => {
                    a = a + along / 2.0 + square * off;
                    edges.push(straight(a.x, a.y));
                }
            }
            let along = b - a;
            let square = point(along.y, -along.x);
            let shape = if curved {
                let (first, second) = (a + along / 3.0, a + along * (2.0 / 3.0));
                EdgeShape::Cubic { first: first + square * bulge_a, second: second + square * bulge_b }
            } else {
                EdgeShape::Straight
            };
            edges.push(Edge { name: String::new(), to: b, shape });
        }
        let flat = Path::new(corners[0], edges).ok()?.flatten(FLATNESS_MM);
        (flat.outline().is_ok() && clearance(&ring(flat.points())) >= HAIR_MM).then_some(flat)
    })
}

fn depth() -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 1 => Just(10.0), 1 => Just(15.0), 3 => 0.5..60.0f64]
}

/// Whether the judge finds the ring simple, with a hair between what does not meet, and the seam line within.
fn assert_sound(cut: &Outline, seam: &Flattened) -> Result<(), TestCaseError> {
    let (cut, seam) = (ring(cut.points()), ring(seam.points()));
    let clear = clearance(&cut);
    prop_assert!(clear >= HAIR_MM, "{clear} mm between parts of {cut:?}");
    for &p in &seam {
        prop_assert!(covers(&cut, p) || distance_to_border(p, &cut) <= HAIR_MM, "{p:?} is outside");
    }
    for &p in &cut {
        prop_assert!(!covers(&seam, p) || distance_to_border(p, &seam) <= HAIR_MM, "{p:?} is inside the seam line");
    }
    Ok(())
}

/// Whether an allowance reaches its depth wherever, folded back about its straight edge, it lies on the piece, and everywhere if
/// no neighbour is shallower.
fn assert_depths(cut: &Outline, seam: &Flattened, values: &[f64]) -> Result<(), TestCaseError> {
    let (cut, piece) = (ring(cut.points()), ring(seam.points()));
    let n = seam.points().len();
    let lone = |segment: usize| {
        let edge = seam.edge_of()[segment];
        seam.edge_of()[(segment + 1) % n] != edge && seam.edge_of()[(segment + n - 1) % n] != edge
    };
    for segment in (0..n).filter(|&s| lone(s)) {
        let edge = seam.edge_of()[segment];
        let depth = values[edge];
        let neighbours = [(segment + 1) % n, (segment + n - 1) % n].map(|s| values[seam.edge_of()[s]]);
        let (a, b) = seam.segment(segment);
        let (along, out, length) = (direction(a, b), outward_normal(a, b), distance(a, b));
        for k in 1..12 {
            let s = length * f64::from(k) / 12.0;
            for share in [0.3, 0.7, 1.0] {
                let t = depth * share - 2.0 * HAIR_MM;
                if t <= 0.0 || length < 12.0 {
                    continue;
                }
                let at = |s: f64, t: f64| pair(a + along * s + out * t);
                let lies_on_piece = [-0.3, 0.0, 0.3].iter().all(|by| {
                    (1..=12).all(|i| covers(&piece, at(s + by, -t * f64::from(i) / 12.0)))
                        && (0..n).all(|other| {
                            let (c, d) = seam.segment(other);
                            other == segment
                                || !ellwand_judge::meet((at(s + by, 0.0), at(s + by, -t)), (pair(c), pair(d)))
                        })
                });
                if lies_on_piece || neighbours.iter().all(|&other| other > depth) {
                    prop_assert!(covers(&cut, at(s, t)), "edge {edge} of depth {depth} misses {:?}", at(s, t));
                }
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn with_one_depth_the_cutting_line_keeps_its_distance(seam in piece(), depth in 1.0..60.0f64) {
        let cut = CuttingLine::around(seam.clone(), &depths(&vec![depth; edge_count(&seam)])).unwrap();
        assert_sound(cut.outline(), &seam)?;
        let piece = ring(seam.points());
        for p in samples(&ring(cut.outline().points())) {
            prop_assert!(!covers(&piece, p));
            let off = distance_to_border(p, &piece);
            prop_assert!(off >= depth - HAIR_MM, "{off} at {p:?}, depth {depth}");
            prop_assert!(off <= MITRE_LIMIT.hypot(1.0) * depth + HAIR_MM, "{off} at {p:?}, depth {depth}");
        }
    }

    #[test]
    fn with_depths_of_their_own_the_cutting_line_is_sound(
        seam in piece(), values in prop::collection::vec(depth(), 18),
    ) {
        let values = &values[..edge_count(&seam)];
        let cut = CuttingLine::around(seam.clone(), &depths(values)).unwrap();
        assert_sound(cut.outline(), &seam)?;
        assert_depths(cut.outline(), &seam, values)?;
        let deepest = values.iter().copied().fold(0.0, f64::max);
        for p in samples(&ring(cut.outline().points())) {
            let off = distance_to_border(p, &ring(seam.points()));
            prop_assert!(off <= LONGEST_REACH * deepest + HAIR_MM, "{off} at {p:?}");
        }
        for segment in 0..seam.points().len() {
            let (a, b) = seam.segment(segment);
            let carried = cut.carry_out((a + b) / 2.0);
            let border = ring(cut.outline().points());
            prop_assert!(distance_to_border(pair(carried.at), &border) <= 2.0 * HAIR_MM, "{carried:?}");
            prop_assert!(to_segment(pair(carried.on_seam), (pair(a), pair(b))) < 1e-9 || carried.edge != seam.edge_of()[segment]);
        }
    }

    #[test]
    fn with_corners_of_their_own_the_cutting_line_is_sound(
        seam in piece(), values in prop::collection::vec(depth(), 18), words in prop::collection::vec(0..6usize, 18),
    ) {
        let mut allowances = depths(&values[..edge_count(&seam)]);
        for ((of, &word), &depth) in allowances.iter_mut().zip(&words).zip(&values) {
            let shapes = [CornerShape::Mirrored, CornerShape::Square, CornerShape::StraightOn, CornerShape::Mitred];
            if let Some(&corner) = shapes.get(word) {
                *of = EdgeAllowance::Cornered { depth, corner };
            }
        }
        // What can be mitred nowhere is refused, every edge of it.
        if let Err(faults) = CuttingLine::around(seam.clone(), &allowances) {
            for fault in faults {
                let OffsetFault::NoMitre { edge } = fault else {
                    return Err(TestCaseError::fail(format!("{fault:?}")));
                };
                prop_assert_eq!(allowances[edge].corner(), Some(CornerShape::Mitred));
                allowances[edge] = EdgeAllowance::Depth(allowances[edge].depth());
            }
        }
        let cut = CuttingLine::around(seam.clone(), &allowances).unwrap();
        assert_sound(cut.outline(), &seam)?;
        let deepest = allowances.iter().map(|a| a.depth()).fold(0.0, f64::max);
        for p in samples(&ring(cut.outline().points())) {
            let off = distance_to_border(p, &ring(seam.points()));
            prop_assert!(off <= LONGEST_REACH * deepest + HAIR_MM, "{off} at {p:?}");
        }
    }

    #[test]
    fn a_fold_edge_stays_where_it_was_and_unfolds(
        xs in prop::collection::vec(40.0..300.0f64, 2..7), top in 300.0..700.0f64, lift in -150.0..150.0f64,
        values in prop::collection::vec(depth(), 8),
    ) {
        let n = xs.len();
        let mut corners = vec![(0.0, 0.0)];
        corners.extend(xs.iter().enumerate().map(|(i, &x)| (x, (top + lift) * i as f64 / (n - 1) as f64)));
        corners.push((0.0, top));
        let seam = polygon(&corners);
        prop_assume!(seam.outline().is_ok());
        let edges = edge_count(&seam);
        let mut allowances = depths(&values[..edges]);
        allowances[edges - 1] = EdgeAllowance::Fold;
        let cut = CuttingLine::around(seam.clone(), &allowances).unwrap();
        assert_sound(cut.outline(), &seam)?;
        prop_assert_eq!(cut.outline().bounds().min.x, 0.0);
        let on_line: Vec<f64> = cut.outline().points().iter().filter(|p| p.x == 0.0).map(|p| p.y).collect();
        prop_assert_eq!(on_line.len(), 2);
        prop_assert!(on_line.iter().copied().fold(f64::INFINITY, f64::min) <= 0.0);
        prop_assert!(on_line.iter().copied().fold(0.0, f64::max) >= top);
        let whole = FoldLine::new(point(0.0, 0.0), point(0.0, top)).unwrap().unfold(cut.outline()).unwrap();
        let whole = ring(whole.points());
        prop_assert!(clearance(&whole) >= HAIR_MM);
        prop_assert!((ellwand_judge::area(&whole) - 2.0 * cut.outline().area()).abs() < 1e-6 * cut.outline().area());
        for &(x, y) in &whole {
            prop_assert!(whole.contains(&(-x, y)), "({x}, {y}) has no mirror image");
        }
    }
}

/// A waistband-like piece whose allowance of 27 mm along a hollow side ends at a curve with 10 mm.
#[test]
fn depths_that_differ_at_a_curve_leave_no_slit() {
    let arc = |to: (f64, f64), through: (f64, f64)| Edge {
        name: String::new(),
        to: point(to.0, to.1),
        shape: EdgeShape::Arc { through: point(through.0, through.1) },
    };
    let curve = |to: (f64, f64), first: (f64, f64), second: (f64, f64)| Edge {
        name: String::new(),
        to: point(to.0, to.1),
        shape: EdgeShape::Cubic { first: point(first.0, first.1), second: point(second.0, second.1) },
    };
    let edges = vec![
        curve((23.5, 302.7), (-1.5, 211.9), (8.6, 264.4)),
        straight(62.2, 353.0),
        arc((81.8, 249.7), (50.5, 297.3)),
        arc((84.3, 110.0), (55.3, 179.3)),
        curve((67.6, 55.0), (90.2, 90.2), (73.6, 71.2)),
        curve((28.0, 102.3), (60.4, 73.2), (40.2, 88.4)),
        curve((4.9, 170.6), (27.2, 124.8), (9.1, 149.2)),
    ];
    let seam = Path::new(point(4.9, 170.6), edges).unwrap().flatten(FLATNESS_MM);
    let cut = CuttingLine::around(seam.clone(), &depths(&[10.0, 10.0, 10.0, 27.0, 10.0, 10.0, 10.0])).unwrap();
    assert_sound(cut.outline(), &seam).unwrap();
}

/// Two hundred edges, each with a depth of its own: more than are added one by one.
#[test]
fn very_many_depths_make_a_sound_cutting_line() {
    let corner = |i: usize| {
        let (angle, radius) = (i as f64 / 200.0 * std::f64::consts::TAU, 400.0 + ((i * 7919) % 13) as f64 * 2.0);
        (radius * angle.cos(), radius * angle.sin())
    };
    let seam = polygon(&(0..200).map(corner).collect::<Vec<_>>());
    let values: Vec<f64> = (0..200).map(|i| 5.0 + ((i * 31) % 200) as f64 * 0.1).collect();
    let cut = CuttingLine::around(seam.clone(), &depths(&values)).unwrap();
    assert_sound(cut.outline(), &seam).unwrap();
    assert_depths(cut.outline(), &seam, &values).unwrap();
}
