use std::sync::Mutex;

use ellwand_geometry::{Outline, Point, Pose, interiors_overlap, outline_distance, point};

use super::*;
use crate::{AllowedPose, Axis, Budget, Item, Silent};

/// A shape with a curved bite out of one side, like an armhole.
fn bitten(width: f64, height: f64) -> Outline {
    let mut ring = vec![point(0.0, 0.0), point(width, 0.0)];
    ring.extend((0..=12).map(|k| {
        let angle = std::f64::consts::FRAC_PI_2 * f64::from(k) / 12.0;
        point(width - 0.4 * width * angle.sin(), height - 0.5 * height * angle.cos())
    }));
    ring.push(point(0.0, height));
    Outline::new(ring).unwrap()
}

fn problem(items: Vec<Item>) -> Problem {
    Problem {
        left: 5.0,
        right: 405.0,
        shapes: vec![bitten(180.0, 260.0), bitten(90.0, 140.0), Outline::rectangle(70.0, 70.0).unwrap()],
        items,
        obstacles: Vec::new(),
        gap: 0.0,
        phases: Vec::new(),
    }
}

fn item(shape: usize) -> Item {
    let poses = vec![AllowedPose::anywhere(Pose::AS_DRAWN), AllowedPose::anywhere(Pose::turned(180.0))];
    Item { shape, poses }
}

/// Makes an item two shapes in all of its poses, mirrored across one axis.
fn across(item: &mut Item, axis: f64) {
    item.poses.iter_mut().for_each(|pose| *pose = pose.mirrored_across(axis));
}

fn mixed() -> Vec<Item> {
    [0, 0, 0, 1, 1, 1, 1, 2, 2].into_iter().map(item).collect()
}

fn settings(work: u64, threads: usize) -> Settings {
    Settings { seed: 7, budget: Budget::Work(work), threads, ..Settings::default() }
}

/// Every shape of a packing, twins included.
fn shapes(problem: &Problem, packing: &Packing) -> Vec<Outline> {
    let mut shapes = Vec::new();
    for (item, place) in problem.items.iter().zip(&packing.places) {
        let shape = place.placement(item).apply(&problem.shapes[item.shape]);
        if let Some(axis) = item.poses[place.pose].twin {
            shapes.push(shape.map_rigid(|p: Point| point(2.0 * axis - p.x, p.y)));
        }
        shapes.push(shape);
    }
    shapes
}

/// Judged with `i_overlay`, which the search does not use.
fn assert_sound(problem: &Problem, packing: &Packing) {
    let shapes = shapes(problem, packing);
    let mut top = 0.0_f64;
    for (k, shape) in shapes.iter().enumerate() {
        let b = shape.bounds();
        assert!(b.min.x >= problem.left - 1e-6 && b.max.x <= problem.right + 1e-6 && b.min.y >= -1e-6, "{k}: {b:?}");
        top = top.max(b.max.y);
        for other in shapes[..k].iter().chain(&problem.obstacles) {
            assert!(interiors_overlap(shape, other).is_none(), "shape {k} overlaps");
            if problem.gap > 0.0 {
                assert!(outline_distance(shape, other) >= problem.gap - 1e-6, "shape {k} is too near");
            }
        }
    }
    assert!((top - packing.length).abs() < 1e-6, "{top} is not {}", packing.length);
}

#[test]
fn a_mixed_problem_gets_shorter_than_its_start_and_stays_sound() {
    let problem = problem(mixed());
    let outcome = solve(&problem, &settings(400_000, 2), &Silent).unwrap();
    assert_sound(&problem, &outcome.start);
    assert_sound(&problem, &outcome.best);
    assert!(outcome.best.length < outcome.start.length);
    assert!(outcome.best.length >= outcome.bound.length);
}

#[test]
fn one_thread_and_two_give_the_same_packing() {
    let problem = problem(mixed());
    let one = solve(&problem, &settings(200_000, 1), &Silent).unwrap();
    let two = solve(&problem, &settings(200_000, 2), &Silent).unwrap();
    assert_eq!(timeless(one), timeless(two));
}

/// `outcome` with the wall time taken out of its trace: what two runs have in common.
fn timeless(mut outcome: Outcome) -> Outcome {
    outcome.trace.iter_mut().for_each(|gain| gain.seconds = 0.0);
    outcome
}

#[test]
fn regions_of_other_searches_change_nothing() {
    let own = problem(mixed());
    let alone = timeless(solve(&own, &settings(20_000, 1), &Silent).unwrap());
    // The same shapes numbered otherwise, on another width, with a distance to keep and without.
    let mut other = Problem { right: 365.0, items: [2, 1, 1, 0].into_iter().map(item).collect(), ..own.clone() };
    other.shapes.swap(0, 1);
    let wide_apart = Problem { gap: 3.0, ..own.clone() };
    let regions = Regions::default();
    for neighbour in [&other, &wide_apart] {
        solve_sharing(neighbour, &settings(5_000, 2), &Silent, &regions).unwrap();
    }
    for threads in [1, 2] {
        let shared = solve_sharing(&own, &settings(20_000, threads), &Silent, &regions).unwrap();
        assert_eq!(timeless(shared), alone);
    }
}

#[test]
fn the_trace_falls_from_the_start_to_the_best() {
    let outcome = solve(&problem(mixed()), &settings(400_000, 2), &Silent).unwrap();
    let (first, last) = (outcome.trace[0], outcome.trace[outcome.trace.len() - 1]);
    assert_eq!((first.work, first.length), (0, outcome.start.length));
    assert_eq!(last.length, outcome.best.length);
    assert!(last.work <= outcome.work);
    for pair in outcome.trace.windows(2) {
        assert!(pair[1].length < pair[0].length, "{pair:?}");
        assert!(pair[1].work >= pair[0].work && pair[1].seconds >= pair[0].seconds, "{pair:?}");
    }
}

#[test]
fn twins_lie_on_both_sides_of_their_axis() {
    let mut items = mixed();
    for item in &mut items[..5] {
        across(item, 205.0);
    }
    let problem = problem(items);
    let outcome = solve(&problem, &settings(200_000, 2), &Silent).unwrap();
    assert_sound(&problem, &outcome.best);
}

#[test]
fn twins_across_different_axes_keep_clear_of_each_other() {
    let mut items = mixed();
    for (k, item) in items[3..].iter_mut().enumerate() {
        across(item, if k % 2 == 0 { 150.0 } else { 260.0 });
    }
    let problem = problem(items);
    let outcome = solve(&problem, &settings(200_000, 2), &Silent).unwrap();
    assert_sound(&problem, &outcome.start);
    assert_sound(&problem, &outcome.best);
}

#[test]
fn one_thread_and_two_choose_the_same_axes() {
    // With nothing else to lie beside them, half of the strip stays empty unless both axes are taken.
    let mut items = mixed().split_off(3);
    for item in &mut items {
        let axes = [105.0, 305.0];
        item.poses = axes.iter().flat_map(|&axis| item.poses.iter().map(move |p| p.mirrored_across(axis))).collect();
    }
    let problem = problem(items);
    let one = solve(&problem, &settings(60_000, 1), &Silent).unwrap();
    let two = solve(&problem, &settings(60_000, 2), &Silent).unwrap();
    assert_sound(&problem, &one.best);
    let axis = |k: usize| problem.items[k].poses[one.best.places[k].pose].twin;
    assert!((0..6).any(|k| axis(k) == Some(105.0)) && (0..6).any(|k| axis(k) == Some(305.0)));
    assert_eq!(timeless(one), timeless(two));
}

#[test]
fn fixed_and_lattice_positions_are_kept() {
    let mut items = mixed();
    for item in &mut items[..2] {
        for pose in &mut item.poses {
            pose.x = Axis::Fixed(if pose.pose.turn_deg == 0.0 { 100.0 } else { 280.0 });
        }
    }
    for item in &mut items[3..6] {
        for pose in &mut item.poses {
            pose.y = Axis::Lattice { origin: 12.0, step: 35.0 };
        }
    }
    let problem = problem(items);
    let outcome = solve(&problem, &settings(300_000, 2), &Silent).unwrap();
    assert_sound(&problem, &outcome.best);
    for (item, place) in problem.items.iter().zip(&outcome.best.places) {
        if let Axis::Fixed(x) = item.poses[place.pose].x {
            assert_eq!(place.x, x);
        }
        if let Axis::Lattice { origin, step } = item.poses[place.pose].y {
            let steps = (place.y - origin) / step;
            assert!((steps - steps.round()).abs() < 1e-9, "{} is off the lattice", place.y);
        }
    }
}

#[test]
fn shapes_keep_their_distance_and_avoid_obstacles() {
    let mut problem = problem(mixed());
    problem.gap = 6.0;
    problem.obstacles.push(Outline::rectangle(30.0, 20.0).unwrap().translated(point(150.0, 90.0)));
    let outcome = solve(&problem, &settings(300_000, 2), &Silent).unwrap();
    assert_sound(&problem, &outcome.best);
}

#[test]
fn items_fixed_along_are_worked_around_or_refused() {
    let fixed = |y: f64| {
        let pose = AllowedPose { x: Axis::Fixed(100.0), y: Axis::Fixed(y), ..AllowedPose::anywhere(Pose::AS_DRAWN) };
        Item { shape: 2, poses: vec![pose] }
    };
    let around = problem(vec![fixed(150.0), item(0), item(0), item(0)]);
    let outcome = solve(&around, &settings(200_000, 2), &Silent).unwrap();
    assert_sound(&around, &outcome.best);
    assert_eq!(outcome.best.places[0].y, 150.0);
    assert_eq!(find_refusal(&around, &Regions::default()), Ok(()));
    let clash = problem(vec![fixed(150.0), fixed(180.0)]);
    assert_eq!(solve(&clash, &settings(1000, 1), &Silent), Err(NestError::NoPackingFound));
    assert_eq!(find_refusal(&clash, &Regions::default()), Err(NestError::NoPackingFound));
    let mut tilting = clash.clone();
    tilting.items[0].poses[0].tilt = 1.0;
    assert_eq!(find_refusal(&tilting, &Regions::default()), Err(NestError::NoPackingFound));
}

#[test]
fn what_only_the_width_can_refuse_is_told_without_a_region() {
    let regions = Regions::default();
    let mut problem = problem(mixed());
    problem.obstacles.push(Outline::rectangle(400.0, 20.0).unwrap().translated(point(5.0, 0.0)));
    problem.items[3].poses[0].y = Axis::Lattice { origin: 12.0, step: 35.0 };
    assert_eq!(find_refusal(&problem, &regions), Ok(()));
    assert_eq!(regions.built(), 0);
    problem.right = problem.left + 150.0;
    assert!(matches!(find_refusal(&problem, &regions), Err(NestError::TooWide { item: 0, .. })));
    problem.gap = f64::NAN;
    assert!(matches!(find_refusal(&problem, &regions), Err(NestError::Malformed { .. })));
}

#[test]
fn a_known_packing_is_never_made_longer() {
    let problem = problem(mixed());
    let known = solve(&problem, &settings(400_000, 2), &Silent).unwrap().best;
    let again = Settings { known: Some(known.clone()), seed: 99, ..settings(2_000, 1) };
    let outcome = solve(&problem, &again, &Silent).unwrap();
    assert!(outcome.best.length <= known.length);
    assert_eq!((outcome.trace[1].work, outcome.trace[1].length), (0, known.length), "known before any work");
    assert_sound(&problem, &outcome.best);
}

#[test]
fn the_search_ends_where_nothing_shorter_exists() {
    let problem = problem(vec![item(0)]);
    let outcome = solve(&problem, &settings(40_000_000, 2), &Silent).unwrap();
    assert_eq!(outcome.ended, Ended::ShortestPossible);
}

#[test]
fn what_is_too_wide_is_refused_with_the_amount() {
    let mut problem = problem(vec![item(0)]);
    problem.right = problem.left + 150.0;
    match solve(&problem, &settings(1000, 1), &Silent) {
        Err(NestError::TooWide { item: 0, short_by }) => assert!((short_by - 30.0).abs() < 1e-9),
        other => panic!("{other:?}"),
    }
}

/// Stops at the third event and writes down what it hears.
struct Impatient(Mutex<Vec<Event>>);

impl Observer for Impatient {
    fn event(&self, event: &Event) {
        self.0.lock().unwrap().push(event.clone());
    }

    fn should_stop(&self) -> bool {
        self.0.lock().unwrap().len() >= 3
    }
}

#[test]
fn an_observer_hears_the_start_first_and_can_stop() {
    let problem = problem(mixed());
    let observer = Impatient(Mutex::new(Vec::new()));
    let outcome = solve(&problem, &settings(40_000_000, 2), &observer).unwrap();
    assert_eq!(outcome.ended, Ended::Stopped);
    assert_sound(&problem, &outcome.best);
    assert!(matches!(observer.0.lock().unwrap()[0], Event::Started { .. }));
}
