//! A published jigsaw, solved, and the answer judged by exact arithmetic that shares nothing with the search.
//!
//! Source: K. Dighe and M. J. Jakiela, "Solving pattern nesting problems with genetic algorithms employing task decomposition and
//! contact detection", Evolutionary Computation 3(3), 1996; instance 2 of the public data of the ESICUP working group (CC0-1.0).
//! Its ten pieces fill a square of 100 without waste, and none may be turned.

use ellwand_geometry::{Outline, Placement, Pose};
use ellwand_judge::{area, clearance, common};
use ellwand_nest::{AllowedPose, Budget, Effort, Item, Problem, Settings, Silent, solve};

const WIDTH: f64 = 100.0;

const PIECES: [&[(f64, f64)]; 10] = [
    &[(0.0, 0.0), (33.0, 0.0), (33.0, 19.0), (3.0, 11.0)],
    &[(0.0, 0.0), (42.0, 0.0), (37.0, 30.0), (0.0, 19.0)],
    &[(5.0, 0.0), (30.0, 0.0), (30.0, 51.0), (0.0, 30.0)],
    &[(0.0, 0.0), (3.0, 11.0), (7.0, 33.0), (8.0, 38.0), (0.0, 36.0)],
    &[(0.0, 0.0), (30.0, 8.0), (67.0, 19.0), (56.0, 29.0), (4.0, 22.0)],
    &[(23.0, 0.0), (53.0, 21.0), (53.0, 70.0), (19.0, 70.0), (7.0, 42.0), (0.0, 23.0), (12.0, 10.0)],
    &[(0.0, 0.0), (52.0, 7.0), (40.0, 20.0), (47.0, 39.0), (3.0, 30.0), (1.0, 5.0)],
    &[(0.0, 0.0), (8.0, 2.0), (10.0, 27.0), (12.0, 64.0), (0.0, 64.0)],
    &[(0.0, 0.0), (44.0, 9.0), (16.0, 37.0), (2.0, 37.0)],
    &[(0.0, 28.0), (28.0, 0.0), (40.0, 28.0)],
];

#[test]
fn a_published_jigsaw_is_put_together_without_overlap() {
    let whole: f64 = PIECES.iter().map(|piece| area(piece)).sum();
    assert_eq!(whole, WIDTH * WIDTH, "the pieces as published");
    assert!(PIECES.iter().all(|piece| clearance(piece) > 0.0));
    let poses = vec![AllowedPose::anywhere(Pose::AS_DRAWN)];
    let problem = Problem {
        shapes: PIECES.iter().map(|piece| Outline::from_pairs(piece).unwrap()).collect(),
        items: (0..PIECES.len()).map(|shape| Item { shape, poses: poses.clone() }).collect(),
        ..Problem::in_strip(0.0, WIDTH)
    };
    let settings = Settings { budget: Budget::Effort(Effort::Normal), threads: 1, ..Settings::default() };
    let outcome = solve(&problem, &settings, &Silent).unwrap();
    let laid: Vec<Vec<(f64, f64)>> = (problem.shapes.iter().zip(&outcome.best.places))
        .map(|(shape, place)| Placement::new(Pose::AS_DRAWN, place.x, place.y).apply(shape))
        .map(|outline| outline.points().iter().map(|p| (p.x, p.y)).collect())
        .collect();
    let top = laid.iter().flatten().map(|&(_, y)| y).fold(0.0, f64::max);
    assert!((top - outcome.best.length).abs() < 1e-6, "the length is that of the pieces: {top}");
    assert!(top < WIDTH + 1e-3, "solved to {top}");
    for (k, piece) in laid.iter().enumerate() {
        assert!(piece.iter().all(|&(x, y)| (-1e-3..=WIDTH + 1e-3).contains(&x) && y >= -1e-3), "piece {k}: {piece:?}");
        // Each is the published piece, moved.
        let (dx, dy) = (outcome.best.places[k].x, outcome.best.places[k].y);
        let moved = |&(x, y): &(f64, f64)| (x + dx, y + dy);
        assert!(piece.iter().all(|p| PIECES[k].iter().map(moved).any(|q| (p.0 - q.0).hypot(p.1 - q.1) < 1e-9)));
        for (m, other) in laid.iter().enumerate().skip(k + 1) {
            let shared = common(piece, other);
            assert!(!shared.is_overlap(), "pieces {k} and {m} have {shared:?} in common");
        }
    }
}
