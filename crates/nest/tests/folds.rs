//! Cloth folded along two lines, and layers searched side by side: the search chooses the line that a pair is mirrored across, and what must keep
//! within a span does. Packings are judged by exact arithmetic that shares nothing with the search.

use ellwand_geometry::{Outline, Pose, outline_distance};
use ellwand_judge::{Shape, clearance};
use ellwand_nest::{AllowedPose, Axis, Budget, Item, NestError, Outcome, Packing, Problem, Settings, Silent, solve};
use proptest::prelude::*;

/// What a judge lets pass, mm.
const PASSES: f64 = 1e-3;

const ANYWHERE: AllowedPose = AllowedPose::anywhere(Pose::AS_DRAWN);

/// Each shape once, in the same poses.
fn strip(width: f64, shapes: Vec<Outline>, poses: &[AllowedPose]) -> Problem {
    let items = (0..shapes.len()).map(|shape| Item { shape, poses: poses.to_vec() }).collect();
    Problem { shapes, items, ..Problem::in_strip(0.0, width) }
}

fn rectangle(width: f64, height: f64) -> Outline {
    Outline::rectangle(width, height).unwrap()
}

fn ring(outline: &Outline) -> Vec<(f64, f64)> {
    outline.points().iter().map(|p| (p.x, p.y)).collect()
}

/// Lowest and highest `x`.
fn across(ring: &[(f64, f64)]) -> (f64, f64) {
    let xs = || ring.iter().map(|p| p.0);
    (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max))
}

/// Everything a packing must be, told from where the corners of its shapes lie.
fn assert_sound(problem: &Problem, packing: &Packing) {
    let placed = problem.placed(packing);
    let mut outlines = placed.iter();
    let mut rings = Vec::new();
    for (item, place) in problem.items.iter().zip(&packing.places) {
        let allowed = &item.poses[place.pose];
        let shape = ring(outlines.next().unwrap());
        let origin = place.placement(item).apply(&problem.shapes[item.shape]);
        assert_eq!(shape, ring(&origin));
        if let Some((left, right)) = allowed.within {
            let reach = across(&shape);
            assert!(reach.0 >= left - PASSES && reach.1 <= right + PASSES, "{reach:?} within {left} to {right}");
        }
        if let Some(axis) = allowed.twin {
            let twin = ring(outlines.next().unwrap());
            // Exact but for the last bit of the sums.
            let is_image = |p: &(f64, f64), q: &(f64, f64)| (p.0 + q.0 - 2.0 * axis).abs() < 1e-9 && p.1 == q.1;
            assert!(twin.len() == shape.len() && shape.iter().all(|p| twin.iter().any(|q| is_image(p, q))));
            let (one, other) = (across(&shape), across(&twin));
            let room = problem.gap - PASSES;
            assert!(one.0 - other.1 >= room || other.0 - one.1 >= room, "{one:?} and {other:?} across {axis}");
            rings.push(twin);
        }
        if let Axis::Fixed(x) = allowed.x {
            assert_eq!(place.x, x);
        }
        assert!(place.turn.abs() <= allowed.tilt);
        rings.push(shape);
    }
    assert!(outlines.next().is_none());
    let mut top = 0.0_f64;
    for ring in &rings {
        let (left, right) = across(ring);
        assert!(left >= problem.left - PASSES && right <= problem.right + PASSES, "{left} to {right}");
        assert!(ring.iter().all(|p| p.1 >= -PASSES));
        top = ring.iter().fold(top, |top, p| top.max(p.1));
    }
    assert!((top - packing.length).abs() < 1e-6, "{top} is not {}", packing.length);
    let judged: Vec<Shape> = rings.iter().map(|ring| Shape::of(ring)).collect();
    for (k, one) in judged.iter().enumerate() {
        assert!(judged[..k].iter().all(|other| !one.common(other).is_overlap()), "shape {k} overlaps");
    }
    if problem.gap > 0.0 {
        let is_near = |a: &Outline, b: &Outline| outline_distance(a, b) < problem.gap - PASSES;
        assert!(placed.iter().enumerate().all(|(k, one)| !placed[..k].iter().any(|other| is_near(one, other))));
    }
}

fn solved(problem: &Problem, work: u64) -> Outcome {
    let settings = Settings { budget: Budget::Work(work), threads: 1, ..Settings::default() };
    let outcome = solve(problem, &settings, &Silent).unwrap();
    for packing in [&outcome.start, &outcome.best] {
        assert_sound(problem, packing);
        assert!(outcome.bound.length <= packing.length + 1e-6, "{:?} above {}", outcome.bound, packing.length);
    }
    outcome
}

fn length(problem: &Problem) -> f64 {
    solved(problem, 20_000).best.length
}

#[test]
fn a_pair_lies_across_the_line_that_has_room_for_it() {
    let across = [60.0, 250.0].map(|axis| ANYWHERE.mirrored_across(axis));
    for poses in [across, [across[1], across[0]]] {
        let problem = strip(400.0, vec![rectangle(100.0, 50.0)], &poses);
        let outcome = solved(&problem, 2_000);
        assert_eq!(poses[outcome.best.places[0].pose].twin, Some(250.0));
        assert_eq!(outcome.best.length, 50.0);
    }
    // 2.5 mm too wide for the second and far too wide for the first.
    let problem = strip(400.0, vec![rectangle(152.5, 50.0)], &across);
    let refusal = solve(&problem, &Settings::default(), &Silent).unwrap_err();
    assert_eq!(refusal, NestError::TooWide { item: 0, short_by: 2.5 });
}

#[test]
fn pairs_share_the_folds_of_cloth_with_both_selvages_to_the_middle() {
    let folds = [100.0, 300.0].map(|axis| ANYWHERE.mirrored_across(axis));
    for (pairs, expected) in [(1, 50.0), (2, 50.0), (3, 100.0), (4, 100.0)] {
        let problem = strip(400.0, vec![rectangle(100.0, 50.0); pairs], &folds);
        let outcome = solved(&problem, 20_000);
        assert!((outcome.best.length - expected).abs() < 1e-6, "{pairs} pairs: {}", outcome.best.length);
        let first = outcome.best.places.iter().filter(|place| place.pose == 0).count();
        assert!(first.abs_diff(pairs - first) <= 1, "{pairs} pairs, {first} across the first fold");
    }
    // With one fold only each further pair lies above the others.
    let one_fold = strip(400.0, vec![rectangle(100.0, 50.0); 3], &folds[..1]);
    assert!((length(&one_fold) - 150.0).abs() < 1e-6);
}

#[test]
fn what_lies_in_one_layer_does_not_reach_into_the_other() {
    // Two layers, each 400 wide, side by side.
    let layers = [ANYWHERE.keeping_within(0.0, 400.0), ANYWHERE.keeping_within(400.0, 800.0)];
    let three = |poses: &[AllowedPose]| strip(800.0, vec![rectangle(250.0, 100.0); 3], poses);
    assert!((length(&three(&[ANYWHERE])) - 100.0).abs() < 1e-6);
    assert!((length(&three(&layers)) - 200.0).abs() < 1e-6);
    // A pair goes through both, and beside it there is room in either layer.
    let mut problem = strip(800.0, vec![rectangle(250.0, 100.0), rectangle(150.0, 100.0)], &layers);
    problem.items.push(problem.items[1].clone());
    problem.items[0].poses = vec![ANYWHERE.mirrored_across(400.0)];
    assert!((length(&problem) - 100.0).abs() < 1e-6);
    // Exactly as wide as its layer it fits, and a little wider it does not, though the strip is wide enough.
    assert_eq!(length(&strip(800.0, vec![rectangle(400.0, 100.0); 2], &layers)), 100.0);
    let wide = strip(800.0, vec![rectangle(401.5, 100.0)], &layers);
    let refusal = solve(&wide, &Settings::default(), &Silent).unwrap_err();
    assert_eq!(refusal, NestError::TooWide { item: 0, short_by: 1.5 });
    // Where its one place lies in the other layer it has none.
    let placed = AllowedPose { x: Axis::Fixed(350.0), ..layers[0] };
    let refusal = solve(&strip(800.0, vec![rectangle(100.0, 100.0)], &[placed]), &Settings::default(), &Silent);
    assert_eq!(refusal.unwrap_err(), NestError::NoPosition { item: 0 });
}

#[test]
fn the_span_is_that_of_the_placed_shape_and_not_of_its_twin() {
    let triangle = Outline::from_pairs(&[(0.0, 0.0), (120.0, 0.0), (0.0, 90.0)]).unwrap();
    let pair = ANYWHERE.mirrored_across(200.0);
    for (span, is_left) in [((0.0, 200.0), true), ((200.0, 400.0), false), ((230.0, 360.0), false)] {
        let problem = strip(400.0, vec![triangle.clone(); 3], &[pair.keeping_within(span.0, span.1)]);
        let outcome = solved(&problem, 5_000);
        let placed = problem.placed(&outcome.best);
        for two in placed.chunks(2) {
            assert_eq!(across(&ring(&two[0])).1 <= 200.0 + PASSES, is_left, "{span:?}");
            assert_eq!(across(&ring(&two[1])).0 >= 200.0 - PASSES, is_left, "{span:?}");
        }
    }
}

#[test]
fn a_known_packing_across_the_second_line_is_taken() {
    let poses = [100.0, 300.0].map(|axis| ANYWHERE.mirrored_across(axis));
    let problem = strip(400.0, vec![rectangle(70.0, 50.0), rectangle(60.0, 40.0)], &poses);
    let settings = |known| Settings { budget: Budget::Work(0), threads: 1, known, ..Settings::default() };
    let mut known = solve(&problem, &settings(None), &Silent).unwrap().best;
    known.length -= 1.0;
    for x in [205.0, 325.0] {
        (known.places[0].pose, known.places[0].x) = (1, x);
        (known.places[1].pose, known.places[1].x) = (0, 20.0);
        assert_eq!(solve(&problem, &settings(Some(known.clone())), &Silent).unwrap().best, known);
    }
    // Across the first line it may not stand there.
    known.places[0].pose = 0;
    assert_ne!(solve(&problem, &settings(Some(known.clone())), &Silent).unwrap().best, known);
}

/// What an item of a random problem is.
#[derive(Debug, Clone, Copy)]
enum Cut {
    /// A pair across either fold.
    Pair,
    /// A pair across one of them.
    PairAcross(usize),
    /// A pair whose placed half lies right of the first fold or left of the second.
    PairBetween,
    /// One shape in either half of the width.
    InOneLayer,
    /// One shape with its middle on either fold.
    OnFold,
    /// One shape anywhere.
    Open,
}

/// A dented shape about an origin inside it, of so much of the width, and so high.
fn dented(width: f64, height: f64, dent: (f64, f64)) -> Outline {
    let (w, h) = (width / 2.0, height);
    let corners = [(-w, 0.0), (w, 0.0), (w, h), (w * (2.0 * dent.0 - 1.0), h * dent.1), (-w, h)];
    Outline::from_pairs(&corners).unwrap()
}

prop_compose! {
    fn problems()(
        width in 200.0..600.0,
        folds in (0.2..0.35, 0.65..0.8),
        gap in prop_oneof![Just(0.0), Just(3.0)],
        tilt in prop_oneof![3 => Just(0.0), 1 => Just(1.5)],
        // No shape is wider than the narrowest room: a fifth of the width less half a gap.
        shapes in prop::collection::vec((0.05..0.19, 20.0..200.0, (0.2..0.8, 0.1..0.9)), 3..8),
        cuts in prop::collection::vec(prop_oneof![
            Just(Cut::Pair), Just(Cut::PairAcross(0)), Just(Cut::PairAcross(1)), Just(Cut::PairBetween),
            Just(Cut::InOneLayer), Just(Cut::OnFold), Just(Cut::Open),
        ], 8),
        ways in prop::collection::vec(any::<bool>(), 8),
    ) -> Problem {
        let folds: [f64; 2] = [folds.0 * width, folds.1 * width];
        let shapes: Vec<Outline> = shapes.iter().map(|&(w, h, dent)| dented(w * width, h, dent)).collect();
        let item = |shape: usize| {
            let both = |of_fold: &dyn Fn(f64) -> AllowedPose| folds.map(of_fold).to_vec();
            let poses = match cuts[shape] {
                Cut::Pair => both(&|fold| ANYWHERE.mirrored_across(fold)),
                Cut::PairAcross(one) => vec![ANYWHERE.mirrored_across(folds[one])],
                Cut::PairBetween => both(&|fold| ANYWHERE.mirrored_across(fold).keeping_within(folds[0], folds[1])),
                Cut::InOneLayer => {
                    vec![ANYWHERE.keeping_within(0.0, width / 2.0), ANYWHERE.keeping_within(width / 2.0, width)]
                }
                Cut::OnFold => both(&|fold| AllowedPose { x: Axis::Fixed(fold), ..ANYWHERE }),
                Cut::Open => vec![ANYWHERE],
            };
            let about = |allowed: &AllowedPose| AllowedPose { pose: Pose::turned(180.0), ..*allowed };
            let turned: Vec<AllowedPose> = poses.iter().filter(|_| ways[shape]).map(about).collect();
            let tilting = |allowed: AllowedPose| allowed.tilting(if cuts[shape].is_tilted() { tilt } else { 0.0 });
            Item { shape, poses: poses.into_iter().chain(turned).map(tilting).collect() }
        };
        let items = (0..shapes.len()).map(item).collect();
        Problem { shapes, items, gap, ..Problem::in_strip(0.0, width) }
    }
}

impl Cut {
    /// What lies on a fold may not be turned off it.
    fn is_tilted(self) -> bool {
        !matches!(self, Self::OnFold)
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn packings_across_two_folds_and_in_layers_are_sound(problem in problems()) {
        prop_assert!(problem.shapes.iter().all(|shape| clearance(&ring(shape)) > 0.0));
        prop_assert_eq!(problem.faults(), vec![]);
        solved(&problem, 6_000);
    }
}
