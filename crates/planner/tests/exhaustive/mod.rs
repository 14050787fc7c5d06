//! The shortest packing of a few rectangles on lattices, by trying everything that can matter.
//!
//! *Phases*: in a shortest packing that cannot be slid, each phase has an item on an edge of the strip or two items that drift
//! differently touch, free ones between them or not, or end equally high; so only such values are tried. *Positions*: every one of a lattice; where an axis is free an item can be
//! pushed down or to the left until it touches the edge or another item, so its place is the end of something settled and a sum of sizes of
//! other free items.

use ellwand_geometry::Placement;
use ellwand_nest::{Axis, Problem};

/// A rectangle in one pose: where it may stand, told by its lower left corner.
#[derive(Debug, Clone, Copy)]
struct Box {
    size: [f64; 2],
    axes: [Axis; 2],
    /// From the origin of the shape to the lower left corner.
    corner: [f64; 2],
}

/// Rounding of sums of sizes, mm.
const HAIR: f64 = 1e-7;

/// Length of the shortest packing, of at most `most` mm; infinite when there is none. Every shape must be an upright rectangle in
/// all of its poses, with no twins, spans, obstacles or gap.
pub(crate) fn shortest(problem: &Problem, most: f64) -> f64 {
    let items: Vec<Vec<Box>> = (problem.items.iter())
        .map(|item| {
            assert!(!item.has_twin(), "twins are not tried");
            (item.poses.iter())
                .map(|pose| {
                    assert!(pose.within.is_none(), "spans are not tried");
                    let shape = Placement::new(pose.pose, 0.0, 0.0).apply(&problem.shapes[item.shape]);
                    assert_eq!(shape.points().len(), 4, "rectangles only");
                    let bounds = shape.bounds();
                    assert!((shape.area() - bounds.width() * bounds.height()).abs() < 1e-6, "upright rectangles only");
                    Box {
                        size: [bounds.width(), bounds.height()],
                        axes: [pose.x, pose.y],
                        corner: [bounds.min.x, bounds.min.y],
                    }
                })
                .collect()
        })
        .collect();
    let mut values: Vec<Vec<f64>> = vec![Vec::new(); problem.phases.len()];
    for (phase, values) in values.iter_mut().enumerate() {
        *values = worth_trying(problem, &items, phase);
    }
    let mut best = most;
    let mut chosen = vec![0.0; values.len()];
    each_choice(&values, &mut chosen, 0, &mut |phases| {
        let settled: Vec<Vec<Box>> = (items.iter())
            .map(|poses| {
                poses.iter().map(|b| Box { axes: b.axes.map(|axis| settle(axis, phases, problem)), ..*b }).collect()
            })
            .collect();
        best = best.min(shortest_settled(problem, &settled, best));
    });
    best
}

fn each_choice(values: &[Vec<f64>], chosen: &mut Vec<f64>, index: usize, visit: &mut impl FnMut(&[f64])) {
    match values.get(index) {
        None => visit(chosen),
        Some(of_this) => {
            for &value in of_this {
                chosen[index] = value;
                each_choice(values, chosen, index + 1, visit);
            }
        }
    }
}

fn settle(axis: Axis, phases: &[f64], problem: &Problem) -> Axis {
    match axis {
        Axis::Shared { phase, sense, origin } => {
            Axis::Lattice { origin: origin + sense.sign() * phases[phase], step: problem.phases[phase] }
        }
        other => other,
    }
}

/// Values of a phase at which something touches, each once.
fn worth_trying(problem: &Problem, items: &[Vec<Box>], phase: usize) -> Vec<f64> {
    let step = problem.phases[phase];
    let boxes: Vec<&Box> = items.iter().flatten().collect();
    let mut values = vec![0.0];
    for k in 0..2 {
        let edges: &[f64] = if k == 0 { &[problem.left, problem.right] } else { &[0.0] };
        // What free items that stand in between can take.
        let mut between = vec![0.0];
        for poses in items.iter().filter(|poses| poses.iter().any(|b| b.axes[k] == Axis::Free)) {
            let more: Vec<f64> = between.iter().flat_map(|sum| poses.iter().map(move |b| sum + b.size[k])).collect();
            between.extend(more);
        }
        for a in &boxes {
            let Axis::Shared { phase: of, sense, origin } = a.axes[k] else { continue };
            if of != phase {
                continue;
            }
            // The lower end of `a` is at `corner + origin + s φ`, modulo the step.
            let low = a.corner[k] + origin;
            let mut touch = |place: f64, drift: f64| {
                // low + s φ = place + drift φ, modulo the step.
                let slope = sense.sign() - drift;
                if slope != 0.0 {
                    values.push(((place - low) / slope).rem_euclid(step));
                    values.push(((place + step - low) / slope).rem_euclid(step));
                }
            };
            for (edge, gap) in edges.iter().flat_map(|edge| between.iter().map(move |gap| (edge, gap))) {
                touch(edge + gap, 0.0);
                touch(edge - gap - a.size[k], 0.0);
            }
            for b in &boxes {
                let (place, drift) = match b.axes[k] {
                    Axis::Fixed(at) | Axis::Lattice { origin: at, .. } => (at, 0.0),
                    Axis::Shared { phase: of, sense, origin } if of == phase => (origin, sense.sign()),
                    Axis::Free | Axis::Shared { .. } => continue,
                };
                let other_low = place + b.corner[k];
                // As high as each other: lower the one and the other rises.
                touch(other_low + b.size[k] - a.size[k], drift);
                for gap in &between {
                    touch(other_low + b.size[k] + gap, drift);
                    touch(other_low - gap - a.size[k], drift);
                }
            }
        }
    }
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| *a - *b < HAIR);
    values
}

/// The shortest packing with every lattice where it is.
fn shortest_settled(problem: &Problem, items: &[Vec<Box>], most: f64) -> f64 {
    let ends = [[problem.left, problem.right], [0.0, most]];
    let candidates: Vec<Vec<[Vec<f64>; 2]>> = (0..items.len())
        .map(|item| items[item].iter().map(|b| [0, 1].map(|k| places(items, item, b, k, ends[k]))).collect())
        .collect();
    let mut best = most;
    place_next(items, &candidates, &mut Vec::new(), 0.0, &mut best);
    best
}

/// Lower ends worth trying on one axis.
fn places(items: &[Vec<Box>], item: usize, b: &Box, k: usize, [low, high]: [f64; 2]) -> Vec<f64> {
    let on_lattice = |b: &Box| -> Vec<f64> {
        match b.axes[k] {
            Axis::Free => Vec::new(),
            Axis::Fixed(at) => vec![at + b.corner[k]],
            Axis::Lattice { origin, step } => {
                let first = origin + b.corner[k];
                let count = ((high - low) / step) as i64 + 1;
                let from = ((low - first) / step - HAIR).ceil();
                (0..=count).map(|n| first + (from + n as f64) * step).collect()
            }
            Axis::Shared { .. } => unreachable!("phases are settled"),
        }
    };
    let mut places = on_lattice(b);
    if b.axes[k] == Axis::Free {
        places = vec![low];
        for (other, poses) in items.iter().enumerate() {
            if other == item {
                continue;
            }
            // The ends of what stands on a lattice, and what free items take in between.
            let sums: Vec<f64> = places.iter().flat_map(|p| poses.iter().map(move |b| p + b.size[k])).collect();
            places.extend(poses.iter().flat_map(|b| on_lattice(b).into_iter().map(move |at| at + b.size[k])));
            places.extend(sums);
        }
        for (other, poses) in items.iter().enumerate() {
            if other != item {
                let sums: Vec<f64> = places.iter().flat_map(|p| poses.iter().map(move |b| p + b.size[k])).collect();
                places.extend(sums);
                places.retain(|p| p + b.size[k] <= high + HAIR);
                places.sort_by(f64::total_cmp);
                places.dedup_by(|a, b| *a - *b < HAIR);
            }
        }
    }
    places.retain(|p| *p >= low - HAIR && p + b.size[k] <= high + HAIR);
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| *a - *b < HAIR);
    places
}

fn place_next(
    items: &[Vec<Box>],
    candidates: &[Vec<[Vec<f64>; 2]>],
    placed: &mut Vec<[f64; 4]>,
    length: f64,
    best: &mut f64,
) {
    let item = placed.len();
    if item == items.len() {
        *best = length;
        return;
    }
    for (b, [xs, ys]) in items[item].iter().zip(&candidates[item]) {
        for &y in ys {
            let top = y + b.size[1];
            if top.max(length) >= *best - HAIR {
                break;
            }
            for &x in xs {
                let right = x + b.size[0];
                let free = placed
                    .iter()
                    .all(|p| right <= p[0] + HAIR || x >= p[2] - HAIR || top <= p[1] + HAIR || y >= p[3] - HAIR);
                if free {
                    placed.push([x, y, right, top]);
                    place_next(items, candidates, placed, length.max(top), best);
                    placed.pop();
                }
            }
        }
    }
}

/// The exhaustive search itself, on cases worked out by hand.
mod itself {
    use ellwand_geometry::{Outline, Pose};
    use ellwand_nest::{AllowedPose, Item, Sense};

    use super::*;

    fn problem(width: f64, sizes: &[(f64, f64)], axes: &[(Axis, Axis)], phases: Vec<f64>) -> Problem {
        let item = |k: usize| {
            let poses = vec![AllowedPose { x: axes[k].0, y: axes[k].1, ..AllowedPose::anywhere(Pose::AS_DRAWN) }];
            Item { shape: k, poses }
        };
        Problem {
            left: 0.0,
            right: width,
            shapes: sizes.iter().map(|&(w, h)| Outline::rectangle(w, h).unwrap()).collect(),
            items: (0..sizes.len()).map(item).collect(),
            obstacles: Vec::new(),
            gap: 0.0,
            phases,
        }
    }

    fn close(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-6, "{found} instead of {expected}");
    }

    #[test]
    fn free_rectangles_fill_a_row() {
        let free = (Axis::Free, Axis::Free);
        close(shortest(&problem(100.0, &[(60.0, 30.0), (40.0, 20.0), (30.0, 10.0)], &[free; 3], vec![]), 500.0), 30.0);
    }

    #[test]
    fn stacked_on_a_lattice_each_begins_at_its_next_line() {
        // 70 long on lines 40 apart: the second begins at 80.
        let line = (Axis::Free, Axis::Lattice { origin: 0.0, step: 40.0 });
        close(shortest(&problem(100.0, &[(60.0, 70.0), (60.0, 70.0)], &[line; 2], vec![]), 500.0), 150.0);
    }

    #[test]
    fn a_shared_phase_lets_the_group_down_to_the_cut_end() {
        // Both begin 15 after a line, wherever the lines are: the lower one at 0, the other at 80.
        let shared = (Axis::Free, Axis::Shared { phase: 0, sense: Sense::With, origin: 15.0 });
        close(shortest(&problem(100.0, &[(60.0, 70.0), (60.0, 70.0)], &[shared; 2], vec![40.0]), 500.0), 150.0);
    }

    #[test]
    fn a_turned_one_comes_to_meet_the_other() {
        // One drifts up as far as the other drifts down, so some phase makes them touch.
        let with = (Axis::Free, Axis::Shared { phase: 0, sense: Sense::With, origin: 0.0 });
        let against = (Axis::Free, Axis::Shared { phase: 0, sense: Sense::Against, origin: 7.0 });
        let found = shortest(&problem(100.0, &[(60.0, 70.0), (60.0, 70.0)], &[with, against], vec![40.0]), 500.0);
        // The lower one at a, the other at a + 70: 2 a = -63 modulo 40, so a = 8.5. With one at 0 the other begins at 87.
        close(found, 8.5 + 70.0 + 70.0);
    }

    #[test]
    fn across_a_lattice_leaves_room_that_is_too_narrow() {
        // Lower left corners at 0, 50, 100: two of 60 do not lie side by side in 120 - on 0 and 60 they would.
        let columns = (Axis::Lattice { origin: 0.0, step: 50.0 }, Axis::Free);
        close(shortest(&problem(120.0, &[(60.0, 30.0), (60.0, 30.0)], &[columns; 2], vec![]), 500.0), 60.0);
    }
}
