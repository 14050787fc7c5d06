use std::cell::Cell;

use ellwand_geometry::{Outline, Point, Pose};

use super::*;
use crate::clearance::Detail;
use crate::{AllowedPose, Axis, Item, Problem};

/// The same choice of places with nothing kept from one item to the next: every column looked at from its lower end, over
/// all solids.
fn plainly(model: &Model) -> Places {
    let mut order: Vec<usize> = (0..model.items.len()).collect();
    order.sort_by(|&a, &b| model.items[b].size.total_cmp(&model.items[a].size).then(a.cmp(&b)));
    let mut board = Board::empty(model, f64::INFINITY);
    board.places = vec![(0, point(0.0, 0.0)); model.items.len()];
    for item in order {
        let lowest = (0..model.items[item].stances.len())
            .flat_map(|stance| {
                plain_columns(model, &board, item, stance).into_iter().map(move |column| (stance, column))
            })
            .filter_map(|(stance, (at, highest))| {
                let y = plainly_free_from(model, &board, item, stance, at);
                (y <= highest).then_some((stance, point(at.x, y)))
            })
            .min_by(|a, b| {
                let key = |&(stance, at): &(usize, Point)| {
                    (at.y + model.items[item].stances[stance].bounds.max.y, at.x, stance)
                };
                key(a).partial_cmp(&key(b)).unwrap()
            });
        let (stance, at) = lowest.unwrap();
        board.add(model, item, stance, at);
    }
    board.places
}

/// Lower and upper ends of the columns of one stance.
fn plain_columns(model: &Model, board: &Board, item: usize, stance_index: usize) -> Vec<(Point, f64)> {
    let stance = &model.items[item].stances[stance_index];
    let (left, right) = stance.x_range();
    let floor = stance.y_range(f64::INFINITY).0;
    let allowed = |x: f64| stance.nearest(point(x, 0.0), f64::MAX, &board.phases).map(|at| at.x);
    let even: Vec<f64> = (0..=48).filter_map(|k| allowed(left + (right - left) * f64::from(k) / 48.0)).collect();
    let mut columns: Vec<(Point, f64)> = even
        .iter()
        .map(|&x| (point(x, stance.at_or_above(floor, &board.phases).unwrap_or(floor)), f64::INFINITY))
        .collect();
    let reach = model.reach(&model.stands(item, stance_index, point(0.0, 0.0)).0);
    for solid in board.solids() {
        for x in [solid.bounds.max.x - reach.min.x, solid.bounds.min.x - reach.max.x] {
            let Some(lowest) = stance.at_or_above(floor.max(solid.bounds.min.y - reach.max.y), &board.phases) else {
                continue;
            };
            if let Some(x) = allowed(x).filter(|_| (left..=right).contains(&x))
                && even.iter().all(|even| (even - x).abs() > 1e-9 * model.width)
            {
                columns.push((point(x, lowest), solid.bounds.max.y - reach.min.y));
            }
        }
    }
    columns
}

fn plainly_free_from(model: &Model, board: &Board, item: usize, stance: usize, at: Point) -> f64 {
    let (one, twin) = model.stands(item, stance, at);
    let mut blocked = Vec::new();
    for stand in [Some(one), twin].iter().flatten() {
        for solid in board.solids() {
            model.blocked_along(&solid.stand, stand, &mut blocked);
        }
    }
    blocked.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut y = at.y;
    for (low, high) in blocked {
        if low < y - slot_rounding(model.width, y) && high > y {
            y = model.items[item].stances[stance].at_or_above(high, &board.phases).unwrap_or(y);
        }
    }
    y
}

/// Shapes with dents of all depths, some items as twins, some on a lattice, some only upright.
fn jumble(seed: u64) -> Problem {
    let mut random = Random::new(seed, 0);
    let mut shape = || {
        let (width, height) = (random.between(30.0, 150.0), random.between(30.0, 150.0));
        let dent = point(random.between(0.2, 0.8) * width, random.between(0.1, 0.9) * height);
        Outline::new(vec![point(0.0, 0.0), point(width, 0.0), point(width, height), dent, point(0.0, height)]).unwrap()
    };
    let mut shapes: Vec<Outline> = (0..4).map(|_| shape()).collect();
    shapes.push(Outline::rectangle(50.0, 50.0).unwrap());
    let lattice = Axis::Lattice { origin: 3.0, step: 25.0 };
    let item = |k: usize| {
        let anywhere = AllowedPose::anywhere(Pose::AS_DRAWN);
        let turned = AllowedPose::anywhere(Pose::turned(180.0));
        let poses = match k % 4 {
            0 => vec![AllowedPose { y: lattice, ..anywhere }, turned],
            1 => vec![AllowedPose { x: lattice, y: lattice, ..anywhere }],
            _ => vec![anywhere, turned],
        };
        let twin = k.is_multiple_of(3).then_some(200.0);
        Item { shape: k % 5, poses: poses.into_iter().map(|pose| AllowedPose { twin, ..pose }).collect() }
    };
    Problem {
        left: 0.0,
        right: 400.0,
        shapes,
        items: (0..40).map(item).collect(),
        obstacles: vec![Outline::rectangle(60.0, 45.0).unwrap().translated(point(170.0, 120.0))],
        gap: if seed.is_multiple_of(2) { 0.0 } else { 4.0 },
        phases: Vec::new(),
    }
}

#[test]
fn going_on_from_the_last_place_finds_what_looking_everywhere_does() {
    for seed in 0..6 {
        let problem = jumble(seed);
        let model =
            Model::new(&problem, &crate::tilts::Tilts::straight(&problem), Detail::Search, &crate::Regions::default())
                .unwrap();
        assert_eq!(
            largest_first(&model, &Phases::at_zero(&model.phases), &|| false).unwrap(),
            plainly(&model),
            "seed {seed}"
        );
    }
}

fn copies_of(outline: Outline, count: usize) -> Model {
    let poses = [Pose::AS_DRAWN, Pose::turned(180.0)].map(AllowedPose::anywhere).to_vec();
    let problem = Problem {
        left: 0.0,
        right: 370.0,
        shapes: vec![outline],
        items: vec![Item { shape: 0, poses }; count],
        obstacles: Vec::new(),
        gap: 0.0,
        phases: Vec::new(),
    };
    Model::new(&problem, &crate::tilts::Tilts::straight(&problem), Detail::Search, &crate::Regions::default()).unwrap()
}

#[test]
fn rectangles_fill_rows_without_a_gap() {
    let model = copies_of(Outline::rectangle(90.0, 60.0).unwrap(), 40);
    let length = model.length_of(&largest_first(&model, &Phases::at_zero(&model.phases), &|| false).unwrap());
    assert!((length - 600.0).abs() < 1e-6, "four in a row, ten rows, not {length}");
}

#[test]
fn in_a_hurry_the_rest_is_laid_by_its_boxes() {
    let triangle = Outline::new(vec![point(0.0, 0.0), point(90.0, 0.0), point(0.0, 60.0)]).unwrap();
    let model = copies_of(triangle, 40);
    let length_after = |patient: usize| {
        let asked = Cell::new(0);
        let hurry = || asked.replace(asked.get() + 1) >= patient;
        model.length_of(&clear_packing(&model, 1, &hurry).unwrap())
    };
    let lengths = [0, 20, 40].map(length_after);
    assert!((lengths[0] - 600.0).abs() < 1e-6, "four boxes in a row, ten rows: {lengths:?}");
    assert!(lengths[0] > lengths[1] && lengths[1] > lengths[2], "{lengths:?}");
}
