//! Shapes that may be turned a little: bounds hold over the whole interval, searches use it, and never come out longer for it.

use ellwand_geometry::{Outline, Placement, Pose, interiors_overlap};
use ellwand_nest::{
    AllowedPose, Axis, Budget, Effort, Ended, Item, Outcome, Packing, Problem, Settings, Silent, solve,
};

fn strip(width: f64, shapes: Vec<Outline>, items: Vec<Item>) -> Problem {
    Problem { left: 0.0, right: width, shapes, items, obstacles: Vec::new(), gap: 0.0, phases: Vec::new() }
}

fn item(shape: usize, tilt: f64) -> Item {
    Item { shape, poses: vec![AllowedPose::anywhere(Pose::AS_DRAWN).tilting(tilt)] }
}

fn slanted(width: f64, height: f64, deg: f64) -> Outline {
    Placement::new(Pose::turned(deg), 0.0, 0.0).apply(&Outline::rectangle(width, height).unwrap())
}

/// A dart, a panel with a curved side, a triangle, and a bar.
fn garment() -> Vec<Outline> {
    let dart = [(0.0, 0.0), (200.0, 10.0), (210.0, 300.0), (110.0, 80.0), (-10.0, 300.0)];
    let mut panel = vec![(0.0, 0.0), (180.0, 0.0)];
    panel.extend(
        (0..=8).map(|k| (f64::from(k) / 8.0 * 1.57).sin_cos()).map(|(s, c)| (180.0 - 70.0 * s, 250.0 - 130.0 * c)),
    );
    panel.push((0.0, 250.0));
    let triangle = [(0.0, 0.0), (260.0, 0.0), (90.0, 190.0)];
    vec![
        Outline::from_pairs(&dart).unwrap(),
        Outline::from_pairs(&panel).unwrap(),
        Outline::from_pairs(&triangle).unwrap(),
        Outline::rectangle(60.0, 330.0).unwrap(),
    ]
}

/// Solves and judges: inside, apart, turned no further than allowed, and not below the bound.
fn solved(problem: &Problem, budget: Budget, threads: usize) -> Outcome {
    let outcome = solve(problem, &Settings { budget, threads, seed: 3, ..Settings::default() }, &Silent).unwrap();
    let mut placed: Vec<Outline> = Vec::new();
    for (item, place) in problem.items.iter().zip(&outcome.best.places) {
        assert!(place.turn.abs() <= item.poses[place.pose].tilt, "{place:?}");
        let shape = place.placement(item).apply(&problem.shapes[item.shape]);
        placed.extend(
            item.poses[place.pose].twin.map(|axis| shape.map_rigid(|p| ellwand_geometry::point(2.0 * axis - p.x, p.y))),
        );
        placed.push(shape);
    }
    let mut top = 0.0_f64;
    for (k, shape) in placed.iter().enumerate() {
        let b = shape.bounds();
        assert!(b.min.x >= problem.left - 1e-3 && b.max.x <= problem.right + 1e-3 && b.min.y >= -1e-3, "{k}: {b:?}");
        assert!(placed[..k].iter().all(|other| interiors_overlap(shape, other).is_none()), "{k} overlaps");
        top = top.max(b.max.y);
    }
    assert!((top - outcome.best.length).abs() < 1e-6);
    assert!(outcome.bound.length <= top + 1e-6, "{:?} above {top}", outcome.bound);
    outcome
}

#[test]
fn a_slanted_panel_is_laid_level_and_proven_so() {
    for (slant, tilt) in [(0.5, 1.0), (-0.25, 3.0), (1.0, 1.0)] {
        let outcome =
            solved(&strip(1000.0, vec![slanted(900.0, 300.0, slant)], vec![item(0, tilt)]), Budget::Work(2000), 1);
        assert!((outcome.best.length - 300.0).abs() < 1e-6, "{}", outcome.best.length);
        assert!((outcome.best.places[0].turn + slant).abs() < 1e-6);
        assert_eq!(outcome.ended, Ended::ShortestPossible);
    }
    // Out of reach of the interval the end of it is the best there is.
    let outcome = solved(&strip(1000.0, vec![slanted(900.0, 300.0, 2.0)], vec![item(0, 1.0)]), Budget::Work(2000), 1);
    let at_end = slanted(900.0, 300.0, 1.0).bounds().height();
    assert!((outcome.best.length - at_end).abs() < 1e-6 && outcome.ended == Ended::ShortestPossible);
}

#[test]
fn what_fits_the_width_only_tilted_is_laid_so() {
    let problem = |tilt: f64| strip(900.0, vec![slanted(900.0, 300.0, 0.7)], vec![item(0, tilt); 2]);
    let outcome = solved(&problem(1.5), Budget::Work(20_000), 1);
    assert!((outcome.best.length - 600.0).abs() < 1e-6, "{}", outcome.best.length);
    assert!(solve(&problem(0.5), &Settings::default(), &Silent).unwrap_err().to_string().contains("more width"));
}

/// Packings known by construction, whose pieces were turned afterwards by something within the interval: no bound may exceed them.
#[test]
fn no_bound_exceeds_a_packing_at_any_turn_of_the_interval() {
    let turns = [-1.0, -0.83, -0.5, -0.31, 0.0, 0.17, 0.44, 0.77, 1.0];
    for tilt in [0.2, 1.0, 3.0] {
        for (k, &first) in turns.iter().enumerate() {
            let turn = |n: usize| tilt * turns[(k + 2 * n) % turns.len()];
            // Three rectangles stacked, two side by side, and three bars in a row: each exactly fills the strip once it is turned back.
            let stack = [(1000.0, 120.0), (900.0, 80.0), (700.0, 200.0)];
            let shapes = stack.iter().enumerate().map(|(n, &(w, h))| slanted(w, h, -turn(n))).collect();
            let items = (0..3).map(|shape| item(shape, tilt)).collect();
            let outcome = solved(&strip(1000.0, shapes, items), Budget::Work(200), 1);
            assert!(outcome.bound.length <= 400.0 + 1e-6, "{tilt}, {first}: {:?}", outcome.bound);
            let row = [(400.0, 300.0), (350.0, 260.0), (250.0, 280.0)];
            let shapes = row.iter().enumerate().map(|(n, &(w, h))| slanted(w, h, -turn(n))).collect();
            let items = (0..3).map(|shape| item(shape, tilt)).collect();
            let outcome = solved(&strip(1000.0, shapes, items), Budget::Work(200), 1);
            assert!(outcome.bound.length <= 300.0 + 1e-6, "{tilt}, {first}: {:?}", outcome.bound);
        }
    }
}

/// A bound for the interval is none for less if it is not below that of every pose in it.
#[test]
fn the_bound_of_the_interval_is_below_that_of_each_of_its_turns() {
    let shapes = garment();
    for (tilt, twin, fixed) in [(2.0, None, None), (1.0, Some(310.0), None), (1.5, None, Some(20.0)), (4.0, None, None)]
    {
        let with = |poses: Vec<AllowedPose>| {
            let mut items: Vec<Item> = (0..4).map(|shape| Item { shape, poses: poses.clone() }).collect();
            items[0].poses.iter_mut().for_each(|allowed| allowed.twin = twin);
            if let Some(x) = fixed {
                items[1].poses.iter_mut().for_each(|allowed| allowed.x = Axis::Fixed(x));
                items[2].poses.iter_mut().for_each(|allowed| allowed.y = Axis::Lattice { origin: 7.0, step: 40.0 });
            }
            strip(620.0, shapes.clone(), items)
        };
        let bound = |poses: Vec<AllowedPose>| solved(&with(poses), Budget::Work(200), 1).bound.length;
        let ways = [Pose::AS_DRAWN, Pose::turned(180.0)].map(AllowedPose::anywhere);
        let interval = bound(ways.map(|way| way.tilting(tilt)).to_vec());
        assert!(interval > 250.0, "it says something: {interval}");
        for share in [-1.0, -0.6, -0.37, 0.0, 0.21, 0.5, 0.93, 1.0] {
            let at = bound(ways.map(|w| AllowedPose::anywhere(Pose::turned(w.pose.turn_deg + share * tilt))).to_vec());
            assert!(interval <= at + 1e-6, "{interval} of the interval of {tilt} above {at} at {share}");
        }
    }
}

#[test]
fn what_may_be_tilted_never_takes_more_than_what_may_not() {
    let shapes = garment();
    let items = |tilt: f64| -> Vec<Item> {
        let poses = [Pose::AS_DRAWN, Pose::turned(180.0)].map(|pose| AllowedPose::anywhere(pose).tilting(tilt));
        (0..8).map(|k| Item { shape: k % 4, poses: poses.to_vec() }).collect()
    };
    let effort = Budget::Effort(Effort::Quick);
    let straight = solved(&strip(620.0, shapes.clone(), items(0.0)), effort, 2).best.length;
    let tilted = solved(&strip(620.0, shapes.clone(), items(2.0)), effort, 2);
    assert!(tilted.best.length < straight, "{} tilted, {straight} straight", tilted.best.length);
    assert!(tilted.best.places.iter().any(|place| place.turn != 0.0));
    // A tilt of next to nothing gains next to nothing and costs nothing.
    let hardly = solved(&strip(620.0, shapes.clone(), items(1e-3)), effort, 2).best.length;
    assert!(hardly <= straight, "{hardly} tilted, {straight} straight");
}

#[test]
fn one_thread_and_two_tilt_alike() {
    let poses = [Pose::AS_DRAWN, Pose::turned(90.0).mirrored()].map(|pose| AllowedPose::anywhere(pose).tilting(1.5));
    let mut items: Vec<Item> = (0..6).map(|k| Item { shape: k % 4, poses: poses.to_vec() }).collect();
    items[0].poses.iter_mut().for_each(|allowed| allowed.twin = Some(400.0));
    let problem = strip(800.0, garment(), items);
    let one = solved(&problem, Budget::Work(60_000), 1);
    let two = solved(&problem, Budget::Work(60_000), 2);
    assert_eq!(one.best, two.best);
    assert_eq!((one.work, one.separations), (two.work, two.separations));
}

#[test]
fn a_known_packing_with_tilts_is_taken_when_they_are_allowed() {
    let problem = strip(620.0, garment(), (0..4).map(|shape| item(shape, 2.0)).collect());
    let mut known = solved(&problem, Budget::Work(20_000), 1).best;
    // So that no other packing is as long.
    known.length -= 1.0;
    let heard = |known: &Packing| {
        let settings =
            Settings { budget: Budget::Work(0), threads: 1, known: Some(known.clone()), ..Settings::default() };
        let outcome = solve(&problem, &settings, &Silent).unwrap();
        assert!(outcome.best.length <= outcome.start.length);
        outcome.trace.iter().any(|gain| gain.length == known.length)
    };
    assert!(heard(&known));
    known.places[0].turn = 2.1;
    assert!(!heard(&known));
}
