mod sharing;

use ellwand_geometry::{Outline, Pose, point};

use super::*;
use crate::clearance::Detail;
use crate::random::Random;
use crate::tilts::Tilts;
use crate::{AllowedPose, Axis, Budget, Ended, Item, Problem, Settings, Silent, solve};

const ANYWHERE: AllowedPose = AllowedPose::anywhere(Pose::AS_DRAWN);

fn rectangle(width: f64, height: f64) -> Outline {
    Outline::rectangle(width, height).unwrap()
}

/// Each shape once, in the same poses, in a strip 100 wide.
fn problem(shapes: Vec<Outline>, poses: &[AllowedPose]) -> Problem {
    let items = (0..shapes.len()).map(|shape| Item { shape, poses: poses.to_vec() }).collect();
    Problem { left: 0.0, right: 100.0, shapes, items, obstacles: vec![], gap: 0.0, phases: vec![] }
}

fn model(problem: &Problem) -> Model {
    Model::new(problem, &Tilts::first(problem), Detail::Search, &crate::Regions::default()).unwrap()
}

fn subjects(problem: &Problem) -> Subjects {
    Subjects::new(problem, &model(problem))
}

fn bound(problem: &Problem) -> Bound {
    Bound::of(problem, &model(problem))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

#[test]
fn two_wide_rectangles_stack() {
    let bound = bound(&problem(vec![rectangle(60.0, 30.0), rectangle(60.0, 30.0)], &[ANYWHERE]));
    assert!(near(bound.length, 60.0), "{bound:?}");
    assert!(matches!(bound.reason, BoundReason::Line { .. }));
}

#[test]
fn a_simple_proof_knows_the_area_and_the_longest_item_alone() {
    let stacked = problem(vec![rectangle(60.0, 30.0), rectangle(60.0, 30.0)], &[ANYWHERE]);
    let long = problem(vec![rectangle(20.0, 70.0), rectangle(60.0, 30.0)], &[ANYWHERE]);
    for (problem, simple, best) in [(&stacked, 36.0, 60.0), (&long, 70.0, 70.0)] {
        for (proof, length) in [(Proof::Simple, simple), (Proof::Best, best)] {
            let settings = Settings { budget: Budget::Work(100), proof, ..Settings::default() };
            let found = solve(problem, &settings, &Silent).unwrap().bound;
            assert!(near(found.length, length), "{proof:?}: {found:?}");
        }
    }
}

#[test]
fn narrow_rectangles_lie_side_by_side() {
    let bound = bound(&problem(vec![rectangle(40.0, 30.0), rectangle(40.0, 30.0)], &[ANYWHERE]));
    assert!(near(bound.length, 30.0), "{bound:?}");
    assert!(matches!(bound.reason, BoundReason::LongestItem { .. }));
}

#[test]
fn pieces_tied_to_a_line_stack_on_it() {
    let triangle = Outline::from_pairs(&[(-20.0, 0.0), (20.0, 0.0), (0.0, 50.0)]).unwrap();
    let tied = AllowedPose { x: Axis::Fixed(50.0), ..ANYWHERE };
    let bound = bound(&problem(vec![triangle.clone(), triangle], &[tied]));
    assert!(near(bound.length, 100.0), "{bound:?}");
}

#[test]
fn a_slanted_piece_covers_only_its_least_chord_of_a_line() {
    // 60 wide; moved to either side its corner of the middle line is the least it covers.
    let triangle = Outline::from_pairs(&[(0.0, 0.0), (60.0, 0.0), (60.0, 60.0)]).unwrap();
    // At x = 50 the triangle covers `50 - origin`, and its origin stands anywhere from 0 to 40.
    assert!(near(line::covered_at_least(&subjects(&problem(vec![triangle], &[ANYWHERE])), 50.0), 10.0));
}

#[test]
fn wide_and_not_so_wide_rectangles_stack_though_no_line_crosses_them_all() {
    // 45 fits beside neither 60 nor 70, but it does not reach the middle: two of 45 lie side by side.
    let shapes = vec![rectangle(70.0, 10.0), rectangle(60.0, 20.0), rectangle(45.0, 35.0)];
    let bound = bound(&problem(shapes, &[ANYWHERE]));
    assert!(near(bound.length, 65.0), "{bound:?}");
    assert_eq!(bound.reason, BoundReason::Stack { items: vec![0, 1, 2] });
}

#[test]
fn a_stack_of_nested_arrowheads_is_no_longer_than_they_nest() {
    // 30 high; one fits into the notch of the next, 10 further on, when it stands exactly above it.
    let arrow = Outline::from_pairs(&[(0.0, 0.0), (40.0, 20.0), (80.0, 0.0), (80.0, 10.0), (40.0, 30.0), (0.0, 10.0)]);
    let stack = Chains::new(&subjects(&problem(vec![arrow.unwrap(); 3], &[ANYWHERE])), Run::Along).longest_stack();
    let length = stack.unwrap().length;
    assert!(length > 48.0 && length < 50.0 + 1e-9, "{length}");
}

#[test]
fn a_stack_keeps_the_gap() {
    let mut problem = problem(vec![rectangle(70.0, 10.0), rectangle(60.0, 20.0), rectangle(45.0, 35.0)], &[ANYWHERE]);
    problem.gap = 3.0;
    assert!(near(bound(&problem).length, 71.0));
}

#[test]
fn a_row_that_is_too_wide_must_break() {
    // Three of 40 do not lie side by side; the two shortest can stand one above the other first.
    let shapes = vec![rectangle(40.0, 50.0), rectangle(40.0, 60.0), rectangle(40.0, 75.0)];
    let bound = bound(&problem(shapes, &[ANYWHERE]));
    assert!(near(bound.length, 110.0), "{bound:?}");
    assert_eq!(bound.reason, BoundReason::Row { items: vec![0, 1, 2] });
}

#[test]
fn a_row_of_flared_panels_is_as_wide_as_their_hems_unless_they_are_shifted() {
    // All the same way up, 100 high, 40 wide below and 20 above. In a strip 100 wide three of them stand
    // 120 wide. Shifting every other one by d brings neighbours 0.1 d nearer: 20 in all takes d = 100.
    let panel = Outline::from_pairs(&[(0.0, 0.0), (40.0, 0.0), (30.0, 100.0), (10.0, 100.0)]).unwrap();
    let one_way = bound(&problem(vec![panel.clone(); 3], &[ANYWHERE])).length;
    assert!(one_way > 195.0 && one_way <= 200.0 + 1e-9, "{one_way}");
    // Turned about, the middle one fills the room between the others: 40 and twice 30, no more than the strip.
    let turned = AllowedPose::anywhere(Pose::turned(180.0));
    assert!(near(bound(&problem(vec![panel; 3], &[ANYWHERE, turned])).length, 100.0));
}

#[test]
fn twins_and_a_piece_on_their_axis_are_a_row_on_half_the_strip() {
    // Left of the axis at 50 stand 15 of the piece on it and two halves of 20: too much.
    let mut problem = problem(vec![rectangle(30.0, 60.0), rectangle(20.0, 50.0), rectangle(20.0, 45.0)], &[ANYWHERE]);
    problem.items[0].poses[0].x = Axis::Fixed(35.0);
    problem.items[1].poses[0].twin = Some(50.0);
    problem.items[2].poses[0].twin = Some(50.0);
    let bound = bound(&problem);
    assert!(near(bound.length, 95.0), "{bound:?}");
    assert_eq!(bound.reason, BoundReason::Row { items: vec![0, 1, 2] });
}

#[test]
fn twins_that_may_stand_across_two_axes_are_a_row_on_neither() {
    // Across one axis two halves of 20 take more than the 25 left of it; across two, one stands left of each.
    let folds = [25.0, 75.0].map(|axis| ANYWHERE.mirrored_across(axis));
    let pairs = |count: usize, poses: &[AllowedPose]| problem(vec![rectangle(20.0, 60.0); count], poses);
    assert!(near(bound(&pairs(2, &folds[..1])).length, 120.0));
    assert!(near(bound(&pairs(2, &folds)).length, 60.0));
    // Four shapes of 20 leave 20 of the width, so a third pair has its area only.
    let three = bound(&pairs(3, &folds)).length;
    assert!(three > 71.9 && three <= 120.0 + 1e-9, "{three}");
}

#[test]
fn a_line_is_covered_as_across_the_axis_that_covers_it_least() {
    let folds = [25.0, 75.0].map(|axis| ANYWHERE.mirrored_across(axis));
    let covered = |poses: &[AllowedPose], at: f64| {
        line::covered_at_least(&subjects(&problem(vec![rectangle(20.0, 60.0)], poses)), at)
    };
    for (at, first, second) in [(12.0, 60.0, 0.0), (38.0, 60.0, 0.0), (62.0, 0.0, 60.0), (88.0, 0.0, 60.0)] {
        assert!(near(covered(&folds[..1], at), first) && near(covered(&folds[1..], at), second), "{at}");
        assert_eq!(covered(&folds, at), 0.0, "{at}");
    }
    // Across lines near to each other it covers some of a line whichever is taken.
    let near_folds = [40.0, 48.0].map(|axis| ANYWHERE.mirrored_across(axis).keeping_within(10.0, axis));
    let wide = |at: f64| line::covered_at_least(&subjects(&problem(vec![rectangle(29.0, 60.0)], &near_folds)), at);
    assert!(near(wide(25.0), 60.0) && near(wide(65.0), 60.0), "{} {}", wide(25.0), wide(65.0));
    assert_eq!(wide(44.0), 0.0);
}

/// Bars for bins of 100, an example of Martello & Toth, "Knapsack Problems" (1990), section 8.3, from memory: their area fills three
/// bins, and four are needed.
#[test]
fn bars_that_do_not_combine_take_more_than_their_area() {
    let shapes: Vec<Outline> =
        [70.0, 60.0, 50.0, 33.0, 33.0, 33.0, 11.0, 7.0, 3.0].map(|width| rectangle(width, 10.0)).to_vec();
    let free = subjects(&problem(shapes.clone(), &[ANYWHERE]));
    // 70 spoils the rest of its bin when nothing below 32.5 counts: 100 + 60 + 50 + 3 * 33 of 100.
    assert!(near(remainder::widths(&free), 30.9), "{}", remainder::widths(&free));
    // In bins of 10, that is four of them.
    let in_bins = AllowedPose { y: Axis::Lattice { origin: 0.0, step: 10.0 }, ..ANYWHERE };
    let bound = bound(&problem(shapes, &[in_bins]));
    assert!(near(bound.length, 40.0));
    // The last step is the lattice's, and said to be.
    let BoundReason::NextEnd { proven, by } = bound.reason else { panic!("{bound:?}") };
    assert!(proven > 30.0 && proven < 40.0, "{proven}, {by:?}");
}

#[test]
fn long_bars_leave_what_others_cannot_use() {
    // Of a little less than 150, 60 is more than two fifths and 35 more than one: of four parts two and one. 4 * 30 * 2/4 and
    // 4 * 45 * 1/4 are 105, more than the strip is wide. The area alone says 135.
    let mut shapes = vec![rectangle(30.0, 60.0); 4];
    shapes.extend(vec![rectangle(45.0, 35.0); 4]);
    let length = remainder::lengths(&subjects(&problem(shapes, &[ANYWHERE])), 135.0).unwrap();
    assert!(length > 149.9 && length < 150.0, "{length}");
}

#[test]
fn an_item_ends_only_where_its_lattice_lets_it() {
    let lattice = AllowedPose { y: Axis::Lattice { origin: 5.0, step: 20.0 }, ..ANYWHERE };
    let mut problem = problem(vec![rectangle(60.0, 30.0), rectangle(60.0, 30.0)], &[lattice]);
    // From 5 to 35, and from 45 to 75.
    assert!(near(bound(&problem).length, 75.0), "{:?}", bound(&problem));
    problem.items[1].poses[0].y = Axis::Free;
    assert!(near(bound(&problem).length, 65.0), "{:?}", bound(&problem));
}

#[test]
fn items_with_very_many_stances_are_left_to_the_other_bounds() {
    let poses: Vec<AllowedPose> = (0..90).map(|turn| AllowedPose::anywhere(Pose::turned(f64::from(turn)))).collect();
    let model = subjects(&problem(vec![rectangle(60.0, 30.0); 2], &poses));
    assert!(Chains::new(&model, Run::Along).longest_stack().is_none());
    assert!(Chains::new(&model, Run::Across).widest_row(40.0).is_none());
}

#[test]
fn the_search_stops_where_a_stack_or_a_row_is_reached() {
    let stack = vec![rectangle(70.0, 10.0), rectangle(60.0, 20.0), rectangle(45.0, 35.0)];
    let row = vec![rectangle(40.0, 50.0), rectangle(40.0, 60.0), rectangle(40.0, 75.0)];
    for shapes in [stack, row] {
        let problem = problem(shapes, &[ANYWHERE]);
        let settings = Settings { budget: Budget::Work(2_000_000), ..Settings::default() };
        let outcome = solve(&problem, &settings, &Silent).unwrap();
        assert_eq!(outcome.ended, Ended::ShortestPossible, "{outcome:?}");
    }
}

/// Every bound, each known to be no longer than `length`.
fn assert_none_exceeds(problem: &Problem, length: f64, case: &str) {
    let model = &subjects(problem);
    let most = length * (1.0 + 1e-9) + 1e-9;
    let start = 0.6 * length;
    let stack = Chains::new(model, Run::Along).longest_stack();
    let row = Chains::new(model, Run::Across).widest_row(start);
    let shifted = Chains::new(model, Run::Across).widest_shifted_row(start);
    let stacks = Chains::new(model, Run::Along).longest_of_stacks();
    let rows = Chains::new(model, Run::Across).widest_of_rows(start);
    let lengths = [
        line::most_covered(model).0,
        stack.map_or(0.0, |proof| proof.length),
        row.map_or(0.0, |proof| proof.length),
        shifted.map_or(0.0, |proof| proof.length),
        stacks.map_or(0.0, |proof| proof.length),
        rows.map_or(0.0, |proof| proof.length),
        remainder::widths(model),
        remainder::lengths(model, start).unwrap_or(0.0),
        bound(problem).length,
    ];
    assert!(lengths.iter().all(|&bound| bound <= most), "{case}: {lengths:?} against {length}");
}

/// Cuts a convex polygon in two by the line through two points; `None` when it does not cross it.
fn cut_in_two(points: &[(f64, f64)], from: (f64, f64), to: (f64, f64)) -> Option<[Vec<(f64, f64)>; 2]> {
    let side = |p: (f64, f64)| (to.0 - from.0) * (p.1 - from.1) - (to.1 - from.1) * (p.0 - from.0);
    let mut halves = [Vec::new(), Vec::new()];
    for (k, &p) in points.iter().enumerate() {
        let q = points[(k + 1) % points.len()];
        let (sp, sq) = (side(p), side(q));
        halves[usize::from(sp < 0.0)].push(p);
        if (sp < 0.0) != (sq < 0.0) {
            let t = sp / (sp - sq);
            let meeting = (p.0 + t * (q.0 - p.0), p.1 + t * (q.1 - p.1));
            halves.iter_mut().for_each(|half| half.push(meeting));
        }
    }
    halves.iter().all(|half| half.len() > 2).then_some(halves)
}

/// The pieces of what lies from `left` to `right` and `low` to `high` when it is cut up again and again. A piece that lies flat by rounding
/// alone is none.
fn cut_up(random: &mut Random, (left, right): (f64, f64), (low, high): (f64, f64), cuts: usize) -> Vec<Outline> {
    let mut pieces = vec![vec![(left, low), (right, low), (right, high), (left, high)]];
    for _ in 0..cuts {
        let k = random.below(pieces.len());
        let spot = (left + (right - left) * random.unit(), low + (high - low) * random.unit());
        let way = match random.below(3) {
            0 => (1.0, 0.0),
            1 => (0.0, 1.0),
            _ => (random.normal(), random.normal()),
        };
        if let Some(halves) = cut_in_two(&pieces[k], spot, (spot.0 + way.0, spot.1 + way.1)) {
            pieces.swap_remove(k);
            pieces.extend(halves);
        }
    }
    pieces.iter().filter_map(|piece| Outline::from_pairs(piece).ok()).collect()
}

/// Cloth 100 wide with both selvages to the middle, or two layers of 50 side by side, cut up through both layers and in one: a packing without
/// any waste is known.
#[test]
fn no_bound_exceeds_the_length_of_a_jigsaw_of_folded_cloth() {
    let mut random = Random::new(23, 0);
    for case in 0..80 {
        let length = 40.0 + 160.0 * random.unit();
        let parted = length * random.unit();
        let folds = [25.0, 75.0].map(|axis| ANYWHERE.mirrored_across(axis));
        let layers = [ANYWHERE.keeping_within(0.0, 50.0), ANYWHERE.keeping_within(50.0, 100.0)];
        let through_both = [ANYWHERE.mirrored_across(50.0), folds[0], folds[1]];
        let mut problem = problem(Vec::new(), &[]);
        let mut cut = |random: &mut Random, sides: (f64, f64), ends: (f64, f64), poses: &[AllowedPose]| {
            let cuts = random.below(4);
            for outline in cut_up(random, sides, ends, cuts) {
                let shape = problem.shape(outline);
                problem.items.push(Item { shape, poses: poses.to_vec() });
            }
        };
        match case % 4 {
            // Pairs left of either fold.
            0 => {
                cut(&mut random, (0.0, 25.0), (0.0, length), &folds);
                cut(&mut random, (50.0, 75.0), (0.0, length), &folds);
            }
            // Above them what lies across a fold, in one layer of it each.
            1 => {
                cut(&mut random, (25.0, 50.0), (0.0, parted), &folds);
                cut(&mut random, (75.0, 100.0), (0.0, parted), &folds);
                cut(&mut random, (0.0, 50.0), (parted, length), &layers);
                cut(&mut random, (50.0, 100.0), (parted, length), &layers);
            }
            // Pairs through both layers, and above them single pieces in either.
            2 => {
                cut(&mut random, (0.0, 50.0), (0.0, parted), &[through_both[0], layers[0].mirrored_across(50.0)]);
                cut(&mut random, (0.0, 50.0), (parted, length), &layers);
                cut(&mut random, (50.0, 100.0), (parted, length), &layers);
            }
            // All three lines, and one on each fold.
            _ => {
                cut(&mut random, (0.0, 50.0), (0.0, parted), &through_both);
                let of_fold = |axis: f64| AllowedPose { x: Axis::Fixed(axis), ..ANYWHERE };
                let shape = problem.shape(rectangle(50.0, length - parted).translated(point(-25.0, 0.0)));
                problem.items.extend(vec![Item { shape, poses: [25.0, 75.0].map(of_fold).to_vec() }; 2]);
            }
        }
        assert_eq!(problem.faults(), []);
        assert_none_exceeds(&problem, length, &format!("case {case}: {problem:?}"));
    }
}

/// The pieces of a strip 100 wide and `length` long that is cut up again and again: a packing without any waste is known.
#[test]
fn no_bound_exceeds_the_length_of_a_jigsaw() {
    let mut random = Random::new(11, 0);
    for case in 0..60 {
        let length = 40.0 + 160.0 * random.unit();
        let cuts = 3 + random.below(5);
        let shapes = cut_up(&mut random, (0.0, 100.0), (0.0, length), cuts);
        let turns: &[f64] = [&[0.0][..], &[0.0, 180.0], &[0.0, 90.0, 180.0, 270.0]][random.below(3)];
        let poses: Vec<AllowedPose> = turns.iter().map(|&turn| AllowedPose::anywhere(Pose::turned(turn))).collect();
        let problem = problem(shapes, &poses);
        assert_none_exceeds(&problem, length, &format!("case {case}: {problem:?}"));
    }
}

#[test]
fn no_bound_exceeds_what_is_found_for_random_shapes() {
    let mut random = Random::new(5, 0);
    for case in 0..40 {
        let mut shapes = Vec::new();
        for _ in 0..3 + random.below(3) {
            let (w, h) = (15.0 + 45.0 * random.unit(), 15.0 + 60.0 * random.unit());
            let outline = match random.below(4) {
                0 => Outline::from_pairs(&[(0.0, 0.0), (w, 0.0), (w * random.unit(), h)]),
                1 => Outline::from_pairs(&[
                    (0.0, 0.0),
                    (w, 0.0),
                    (w, 0.4 * h),
                    (0.4 * w, 0.4 * h),
                    (0.4 * w, h),
                    (0.0, h),
                ]),
                2 => Outline::from_pairs(&[
                    (0.0, 0.0),
                    (w, 0.0),
                    (w, h),
                    (0.6 * w, h),
                    (0.5 * w, 0.3 * h),
                    (0.4 * w, h),
                    (0.0, h),
                ]),
                _ => Outline::rectangle(w, h),
            };
            shapes.push(outline.unwrap().translated(point(-7.0, 3.0)));
        }
        let turned = AllowedPose::anywhere(Pose::turned(180.0));
        let poses = [vec![ANYWHERE], vec![ANYWHERE, turned], vec![ANYWHERE, AllowedPose::anywhere(Pose::turned(90.0))]];
        let mut problem = problem(shapes, &poses[random.below(3)]);
        problem.gap = [0.0, 2.5][random.below(2)];
        for item in &mut problem.items {
            match random.below(6) {
                5 => {
                    let at = |x: f64| {
                        item.poses.clone().into_iter().map(move |pose| AllowedPose { x: Axis::Fixed(x), ..pose })
                    };
                    item.poses = at(10.0).chain(at(58.0)).collect();
                }
                0 => item.poses.iter_mut().for_each(|pose| pose.twin = Some(62.0)),
                1 => item.poses.iter_mut().for_each(|pose| pose.x = Axis::Fixed(62.0 - 20.0)),
                2 => item.poses.iter_mut().for_each(|pose| pose.y = Axis::Lattice { origin: 4.0, step: 9.0 }),
                _ => {}
            }
        }
        let settings = Settings { budget: Budget::Work(20_000), threads: 1, ..Settings::default() };
        // What fits in no pose, half a twin wider than its half of the strip, is no problem.
        if let Ok(outcome) = solve(&problem, &settings, &Silent) {
            assert_none_exceeds(&problem, outcome.best.length, &format!("case {case}: {problem:?}"));
        }
    }
}
