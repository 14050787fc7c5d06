//! Items that have no place in a strip that is cut off at some length, each by itself.
//!
//! In one pose, the places at which a shape overlaps no obstacle and stays in the strip, and in its span of it, are a closed set: a rectangle without open no-fit regions.
//! Unless it is empty it has a lowest point, and of these a leftmost, where either two stretches of the boundaries meet or one of them ends or a corner of
//! the rectangle is. So it is enough to look at these points. A judge lets a hair of overlap pass, and so does this.

use ellwand_geometry::{Bounds, NoFitRegion, Outline, Placement, Point, convex_parts, point};

use crate::fits::Slack;
use crate::{AllowedPose, Problem};

/// Beyond so many pairs of convex parts nothing is tried, and so nothing proven.
const MOST_SUMS: usize = 4_000;
/// Beyond so many stretches of boundary neither.
const MOST_STRETCHES: usize = 6_000;

/// The items of `problem` for which it is proven that they have no place among the obstacles below `length`, each alone in the strip. That an item is
/// not among them does not say that there is room. Where a shape may be tilted nothing is tried. `O(n²)` for `n` stretches of boundary.
///
/// # Panics
///
/// When the problem is not well formed.
pub fn without_room(problem: &Problem, length: f64) -> Vec<usize> {
    let mut known: Vec<(usize, &[AllowedPose], bool)> = Vec::new();
    let mut is_one = |&index: &usize| {
        let item = &problem.items[index];
        if let Some((.., nowhere)) = known.iter().find(|(shape, poses, _)| *shape == item.shape && *poses == item.poses)
        {
            return *nowhere;
        }
        let shape = &problem.shapes[item.shape];
        let is_without = |allowed: &AllowedPose| allowed.tilt == 0.0 && is_without(problem, shape, allowed, length);
        let nowhere = item.poses.iter().all(is_without);
        known.push((item.shape, &item.poses, nowhere));
        nowhere
    };
    (0..problem.items.len()).filter(|index| is_one(index)).collect()
}

/// Whether a shape has no place in a pose, as far as that can be proven.
fn is_without(problem: &Problem, shape: &Outline, allowed: &AllowedPose, length: f64) -> bool {
    let slack = Slack::of(problem).conceded;
    let posed = Placement::new(allowed.pose, 0.0, 0.0).apply(shape);
    let of = posed.bounds();
    let (left, right) = allowed
        .within
        .map_or((problem.left, problem.right), |(left, right)| (left.max(problem.left), right.min(problem.right)));
    let low = point(left - of.min.x - slack, -of.min.y - slack);
    let high = point(right - of.max.x + slack, length - of.max.y + slack);
    if low.x > high.x || low.y > high.y {
        return true;
    }
    let places = Bounds { min: low, max: high };
    let moving = convex_parts(&posed);
    let fixed: Vec<_> = problem.obstacles.iter().map(convex_parts).collect();
    if moving.len() * fixed.iter().map(Vec::len).sum::<usize>() > MOST_SUMS {
        return false;
    }
    let regions: Vec<NoFitRegion> = fixed.iter().map(|parts| NoFitRegion::new(parts, &moving)).collect();
    let regions: Vec<&NoFitRegion> = regions.iter().filter(|region| region.bounds().overlaps(&places)).collect();
    let is_free = |p: Point| {
        (low.x..=high.x).contains(&p.x)
            && (low.y..=high.y).contains(&p.y)
            && regions.iter().all(|region| region.depth(p) <= slack)
    };
    let corners = [low, point(high.x, low.y), high, point(low.x, high.y)];
    if corners.into_iter().any(is_free) {
        return false;
    }
    let mut stretches: Vec<(Point, Point)> = regions.iter().flat_map(|region| region.boundary()).collect();
    if stretches.len() > MOST_STRETCHES {
        return false;
    }
    if stretches.iter().flat_map(|&(from, to)| [from, to]).any(is_free) {
        return false;
    }
    stretches.extend((0..4).map(|i| (corners[i], corners[(i + 1) % 4])));
    let boxes: Vec<Bounds> = stretches.iter().map(|&(from, to)| Bounds::of([from, to])).collect();
    let touch =
        |a: &Bounds, b: &Bounds| a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y;
    !(0..stretches.len()).any(|i| {
        (0..i).any(|k| touch(&boxes[i], &boxes[k]) && crossing(stretches[i], stretches[k]).is_some_and(is_free))
    })
}

/// Where two stretches cross; none where they run alike.
fn crossing((p, to): (Point, Point), (q, end): (Point, Point)) -> Option<Point> {
    let (along, other, apart) = (to - p, end - q, q - p);
    let turn = along.x * other.y - along.y * other.x;
    if turn == 0.0 {
        return None;
    }
    let share = (apart.x * other.y - apart.y * other.x) / turn;
    let of_other = (apart.x * along.y - apart.y * along.x) / turn;
    // What misses by rounding is judged by its depth.
    const NEAR: std::ops::RangeInclusive<f64> = -1e-6..=1.0 + 1e-6;
    (NEAR.contains(&share) && NEAR.contains(&of_other)).then(|| p + along * share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Item;
    use ellwand_geometry::{Pose, pockets};

    /// A square of `side` in a strip 400 wide, of which what is left of it has these corners.
    fn square_in(side: f64, corners: &[(f64, f64)], poses: &[Pose]) -> Problem {
        let cloth = Outline::from_pairs(corners).unwrap();
        let mut problem = Problem::in_strip(0.0, 400.0);
        let shape = problem.shape(Outline::rectangle(side, side).unwrap());
        problem.items = vec![Item::anywhere(shape, poses.iter().copied())];
        problem.obstacles = pockets(&cloth);
        problem
    }

    const TRIANGLE: [(f64, f64); 3] = [(0.0, 0.0), (400.0, 0.0), (0.0, 400.0)];

    #[test]
    fn a_square_that_just_fits_a_triangle_has_a_place_and_a_larger_one_none() {
        assert_eq!(without_room(&square_in(200.0, &TRIANGLE, &[Pose::AS_DRAWN]), 400.0), []);
        assert_eq!(without_room(&square_in(200.1, &TRIANGLE, &[Pose::AS_DRAWN]), 400.0), [0]);
        // Turned by an eighth it needs more.
        let turned = [Pose::turned(45.0)];
        let side = 400.0 / 1.5 / 2.0_f64.sqrt();
        assert_eq!(without_room(&square_in(side, &TRIANGLE, &turned), 400.0), []);
        assert_eq!(without_room(&square_in(side + 0.1, &TRIANGLE, &turned), 400.0), [0]);
        assert_eq!(without_room(&square_in(side + 0.1, &TRIANGLE, &[turned[0], Pose::AS_DRAWN]), 400.0), []);
    }

    #[test]
    fn a_place_that_is_a_single_point_is_one() {
        let slot = [(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (400.0, 50.0), (400.0, 150.0), (0.0, 150.0)];
        let wide = |side: f64| square_in(side, &slot, &[Pose::AS_DRAWN]);
        assert_eq!(without_room(&wide(100.0), 150.0), []);
        assert_eq!(without_room(&wide(100.01), 150.0), [0]);
        // Cut off lower, the arm is too low for it, and the foot just wide enough.
        assert_eq!(without_room(&wide(100.0), 100.0), []);
        assert_eq!(without_room(&wide(100.0), 99.0), [0]);
    }

    #[test]
    fn what_must_keep_within_a_span_has_its_places_there_only() {
        let within = |left: f64, right: f64| {
            let mut problem = square_in(150.0, &TRIANGLE, &[Pose::AS_DRAWN]);
            problem.items[0].poses[0] = problem.items[0].poses[0].keeping_within(left, right);
            without_room(&problem, 400.0)
        };
        // At the foot of the triangle the square reaches to 250 at most.
        assert_eq!(within(0.0, 400.0), []);
        assert_eq!(within(100.0, 260.0), []);
        assert_eq!(within(101.0, 400.0), [0]);
        assert_eq!(within(0.0, 149.0), [0]);
    }

    #[test]
    fn what_may_be_tilted_is_not_judged() {
        let mut problem = square_in(300.0, &TRIANGLE, &[Pose::AS_DRAWN]);
        problem.items[0].poses[0].tilt = 1.0;
        assert_eq!(without_room(&problem, 400.0), []);
    }
}
