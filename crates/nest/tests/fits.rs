//! What fits exactly fits, and no bound says otherwise: widths in inches and eighths, gaps between twins, obstacles in each other's way.

use ellwand_geometry::{Outline, Placement, Pose, outline_distance, point};
use ellwand_nest::{AllowedPose, Axis, Budget, Ended, Item, Outcome, Problem, Settings, Silent, solve};

const INCH: f64 = 25.4;
/// What a judge lets pass, mm.
const PASSES: f64 = 1e-3;

fn strip(left: f64, right: f64, shapes: Vec<Outline>, items: Vec<Item>) -> Problem {
    Problem { left, right, shapes, items, obstacles: Vec::new(), gap: 0.0, phases: Vec::new() }
}

fn anywhere(shape: usize) -> Item {
    Item { shape, poses: vec![AllowedPose::anywhere(Pose::AS_DRAWN)] }
}

fn rectangle(width: f64, height: f64) -> Outline {
    Outline::rectangle(width, height).unwrap()
}

/// A rectangle whose axis is its own `x = 0`, as a piece unfolded about its fold is.
fn unfolded(half: f64, height: f64) -> Outline {
    Outline::from_pairs(&[(-half, 0.0), (half, 0.0), (half, height), (-half, height)]).unwrap()
}

fn solved(problem: &Problem, work: u64) -> Outcome {
    let settings = Settings { budget: Budget::Work(work), threads: 1, ..Settings::default() };
    let outcome = solve(problem, &settings, &Silent).unwrap();
    assert!(outcome.bound.length <= outcome.best.length + PASSES, "{:?} above {}", outcome.bound, outcome.best.length);
    for (item, place) in problem.items.iter().zip(&outcome.best.places) {
        let shape = Placement::new(item.poses[place.pose].pose, place.x, place.y).apply(&problem.shapes[item.shape]);
        let bounds = shape.bounds();
        assert!(bounds.min.x >= problem.left - PASSES && bounds.max.x <= problem.right + PASSES, "{bounds:?}");
    }
    outcome
}

/// Every width from 36 to 60 in with every selvage up to an inch, in eighths, and their sides in mm by two ways of reckoning.
fn widths() -> impl Iterator<Item = (f64, f64, f64)> {
    (36 * 8..=60 * 8).step_by(3).flat_map(|width| {
        (0..=8).map(move |selvage| {
            let (width, selvage) = (f64::from(width) / 8.0 * INCH, f64::from(selvage) / 8.0 * INCH);
            (selvage, width - selvage, width)
        })
    })
}

#[test]
fn a_piece_on_the_fold_as_wide_as_the_cloth_fits() {
    let mut cases = 0;
    for (left, right, width) in widths() {
        let half = (width / INCH / 2.0 - left / INCH) * INCH;
        let mut on_fold = anywhere(0);
        on_fold.poses[0].x = Axis::Fixed(width / 2.0);
        let problem = strip(left, right, vec![unfolded(half, 250.0)], vec![on_fold; 2]);
        let outcome = solved(&problem, 2_000);
        assert_eq!(outcome.ended, Ended::ShortestPossible);
        assert!((outcome.best.length - 500.0).abs() < 1e-6, "{}", outcome.best.length);
        cases += 1;
    }
    assert!(cases > 500, "{cases}");
}

#[test]
fn pieces_that_fill_the_width_lie_side_by_side() {
    for (left, right, width) in widths() {
        for count in [1, 2, 3, 4] {
            let wide = (width / INCH - 2.0 * (left / INCH)) / f64::from(count) * INCH;
            let items = (0..count).map(|_| anywhere(0)).collect();
            let outcome = solved(&strip(left, right, vec![rectangle(wide, 250.0)], items), 1_000);
            assert!((outcome.best.length - 250.0).abs() < 1e-6, "{count} of {wide} in {left} to {right}: {outcome:?}");
        }
    }
}

/// The rounding of widths read as decimals: two pieces are together wider than the cloth by far less than a judge would see.
#[test]
fn no_bound_rests_on_what_a_judge_lets_pass() {
    let slanted = |wide: f64| Outline::from_pairs(&[(0.0, 0.0), (wide, 95.5), (wide, 231.5), (0.0, 327.0)]).unwrap();
    for excess in [0.0, 6e-8, 1e-6, 1e-4, 9e-4] {
        for count in [2_u32, 3, 5] {
            for shape in [rectangle as fn(f64, f64) -> Outline, |wide, _| unfolded(wide / 2.0, 200.0)] {
                let wide = (1000.0 + excess) / f64::from(count);
                let items = (0..count).map(|_| anywhere(0)).collect();
                let outcome = solved(&strip(0.0, 1000.0, vec![shape(wide, 200.0)], items), 100);
                assert!(outcome.bound.length <= 200.0 + PASSES, "{count}, {excess}: {:?}", outcome.bound);
            }
        }
        let items = vec![anywhere(0), anywhere(0)];
        let outcome = solved(&strip(0.0, 1000.0, vec![slanted(500.0 + excess / 2.0)], items), 100);
        assert!(outcome.bound.length <= 327.0 + PASSES, "{excess}: {:?}", outcome.bound);
    }
}

/// On a lattice a hair too much room would turn into a whole step.
#[test]
fn no_bound_goes_up_a_step_for_what_a_judge_lets_pass() {
    for excess in [-1e-7, 0.0, 1e-7, 5e-4] {
        let mut stacked = anywhere(0);
        stacked.poses[0].x = Axis::Fixed(20.0);
        stacked.poses[0].y = Axis::Lattice { origin: 0.0, step: 100.0 };
        let problem = strip(0.0, 600.0, vec![rectangle(500.0, 200.0 + excess)], vec![stacked; 3]);
        let outcome = solved(&problem, 100);
        assert!(outcome.bound.length <= 600.0 + 2.0 * PASSES, "{excess}: {:?}", outcome.bound);

        let mut beside = anywhere(0);
        beside.poses[0].x = Axis::Lattice { origin: 0.0, step: 100.0 };
        let problem = strip(0.0, 600.0 - excess.max(0.0), vec![rectangle(200.0 + excess, 300.0)], vec![beside; 3]);
        let outcome = solved(&problem, 100);
        assert!(outcome.bound.length <= 300.0 + 2.0 * PASSES, "{excess}: {:?}", outcome.bound);
    }
}

#[test]
fn twins_keep_the_gap_across_their_axis() {
    for (gap, wide) in [(5.0, 300.0), (5.0, 492.5), (20.0, 490.0 - 1e-9), (0.0, 500.0)] {
        let mut twins = anywhere(0);
        twins.poses[0].twin = Some(500.0);
        let mut problem = strip(0.0, 1000.0, vec![rectangle(wide, 300.0)], vec![twins; 2]);
        problem.gap = gap;
        let outcome = solved(&problem, 20_000);
        for place in &outcome.best.places {
            let shape = problem.shapes[0].translated(point(place.x, place.y));
            let image = shape.map_rigid(|p| point(1000.0 - p.x, p.y));
            assert!(outline_distance(&shape, &image) >= gap - 1e-6, "{place:?}");
        }
        let start = outcome.start.places.iter().map(|place| place.x.min(1000.0 - place.x - wide));
        assert!(start.fold(0.0, f64::max) <= 500.0 - gap / 2.0 - wide + 1e-6);
        // Each pair fills more than half of either layer, so they stack.
        assert!((outcome.best.length - 600.0 - gap).abs() < 0.05 * gap + 1e-6, "{}", outcome.best.length);
    }
    // Beside the fold there is room for one less wide than half the strip by half the gap.
    let mut twins = anywhere(0);
    twins.poses[0].twin = Some(500.0);
    let mut problem = strip(0.0, 1000.0, vec![rectangle(500.0, 300.0)], vec![twins]);
    problem.gap = 5.0;
    let refusal = solve(&problem, &Settings::default(), &Silent).unwrap_err();
    assert!(refusal.to_string().contains("2.5 mm more width"), "{refusal}");
}

#[test]
fn obstacles_may_overlap_each_other_and_lie_nearer_than_the_gap() {
    let hole = |x: f64, y: f64, wide: f64, high: f64| rectangle(wide, high).translated(point(x, y));
    let torn = vec![hole(200.0, 600.0, 100.0, 20.0), hole(200.0, 600.0, 20.0, 100.0)];
    let near = vec![hole(200.0, 600.0, 20.0, 20.0), hole(225.0, 600.0, 20.0, 20.0)];
    let alike = vec![hole(200.0, 100.0, 20.0, 20.0); 3];
    for (obstacles, gap) in [(torn, 0.0), (near, 10.0), (alike.clone(), 0.0), (alike, 7.0)] {
        let mut problem = strip(0.0, 1400.0, vec![rectangle(400.0, 400.0)], vec![anywhere(0); 2]);
        problem.obstacles = obstacles;
        problem.gap = gap;
        let outcome = solved(&problem, 20_000);
        assert!((outcome.best.length - 400.0).abs() < 1e-6, "{}", outcome.best.length);
        for place in &outcome.best.places {
            let shape = problem.shapes[0].translated(point(place.x, place.y));
            let clear = |hole: &Outline| outline_distance(&shape, hole) >= gap - 1e-6;
            assert!(problem.obstacles.iter().all(clear), "{place:?}");
        }
    }
}

/// What stands at a place that its item may not take is no packing of the problem, however short.
#[test]
fn a_known_packing_is_taken_only_where_every_item_may_stand_so() {
    let mut placed = anywhere(0);
    placed.poses[0].y = Axis::Lattice { origin: 0.0, step: 70.0 };
    placed.poses[0].x = Axis::Lattice { origin: 0.0, step: 70.0 };
    let problem = strip(0.0, 260.0, vec![rectangle(100.0, 50.0)], vec![placed; 3]);
    let settings = |known| Settings { budget: Budget::Work(0), threads: 1, known, ..Settings::default() };
    let start = solve(&problem, &settings(None), &Silent).unwrap().best;
    assert_eq!(start.length, 120.0);
    let mut known = start.clone();
    known.length = 119.0;
    assert_eq!(solve(&problem, &settings(Some(known.clone())), &Silent).unwrap().best, known);
    for off in [1e-9, 1e-4, 30.0] {
        let mut moved = known.clone();
        moved.places[1].y += off;
        let taken = solve(&problem, &settings(Some(moved.clone())), &Silent).unwrap().best == moved;
        assert_eq!(taken, off < 1e-6, "{off}");
    }
}
