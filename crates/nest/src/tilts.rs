//! How far the search turns shapes beyond their poses: a few tilts of the interval that is allowed, refined around the best packing.
//!
//! Each tilt of a shape is another body, and regions between bodies are dear. So there are never many at once: first the straight pose,
//! both ends of the interval, and the turns between at which the shape is least wide or least high; then, round by round, the present tilt
//! of each item and those a shrinking step to either side. A tilt is told as the shape sees it before it is mirrored.

use crate::extent::{Across, Along, least_extent_turn};
use crate::fits::same_turn;
use crate::{AllowedPose, Item, Packing, Place, Problem};

/// Bodies that refined tilts may add in all: a region for every pair of these is what memory bears.
const MOST_ADDED: usize = 32;

/// What each item is offered.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Tilts {
    /// Tilts of each item, degrees.
    tilts: Vec<Vec<f64>>,
    /// The one pose that an item is held to, if it is.
    poses: Vec<Option<usize>>,
}

impl Tilts {
    /// No tilt at all.
    pub(crate) fn straight(problem: &Problem) -> Self {
        Self::in_all_poses(vec![vec![0.0]; problem.items.len()])
    }

    /// A first look at the whole interval.
    pub(crate) fn first(problem: &Problem) -> Self {
        let of_item = |item: &Item| {
            let mut tilts = vec![0.0];
            for allowed in item.poses.iter().filter(|allowed| allowed.tilt > 0.0) {
                let outline = &problem.shapes[item.shape];
                let turns = [Across, Along].map(|way| least_extent_turn(outline, allowed, way));
                for turn in turns.into_iter().chain([-allowed.tilt, allowed.tilt]) {
                    add(&mut tilts, seen_by_shape(allowed, turn));
                }
            }
            tilts
        };
        Self::in_all_poses(problem.items.iter().map(of_item).collect())
    }

    /// The same look with every item held to its pose in `packing`: what is found without tilts hardly wants other poses for having them, and
    /// there are far fewer regions.
    pub(crate) fn first_near(problem: &Problem, packing: &Packing) -> Self {
        Self { poses: packing.places.iter().map(|place| Some(place.pose)).collect(), ..Self::first(problem) }
    }

    /// The poses and tilts of `packing`, and for as many items as memory bears those up to `step` of the interval to either side; largest shapes first.
    pub(crate) fn around(problem: &Problem, packing: &Packing, step: f64) -> Self {
        let of_place = |(item, place): (&Item, &Place)| vec![seen_by_shape(&item.poses[place.pose], place.turn)];
        let mut tilts: Vec<Vec<f64>> = problem.items.iter().zip(&packing.places).map(of_place).collect();
        let mut largest_first: Vec<usize> = (0..tilts.len()).collect();
        let area = |item: usize| problem.shapes[problem.items[item].shape].area();
        largest_first.sort_by(|&a, &b| area(b).total_cmp(&area(a)).then(a.cmp(&b)));
        let mut added: Vec<(usize, f64)> = Vec::new();
        for item in largest_first {
            let (shape, most) = (problem.items[item].shape, problem.items[item].poses[packing.places[item].pose].tilt);
            let present = tilts[item][0];
            for by in [-step * most, step * most] {
                let tilt = (present + by).clamp(-most, most);
                let is_known = added.iter().any(|known| known.0 == shape && same_turn(known.1, tilt));
                if by != 0.0 && (is_known || added.len() < MOST_ADDED) {
                    add(&mut tilts[item], tilt);
                    if !is_known {
                        added.push((shape, tilt));
                    }
                }
            }
        }
        Self { tilts, ..Self::first_near(problem, packing) }
    }

    fn in_all_poses(tilts: Vec<Vec<f64>>) -> Self {
        Self { poses: vec![None; tilts.len()], tilts }
    }

    /// Whether two items are offered the same.
    pub(crate) fn same(&self, a: usize, b: usize) -> bool {
        self.tilts[a] == self.tilts[b] && self.poses[a] == self.poses[b]
    }

    /// The one pose that an item is held to, if it is.
    pub(crate) fn pose(&self, item: usize) -> Option<usize> {
        self.poses[item]
    }

    /// The tilts of an item; never empty.
    pub(crate) fn of(&self, item: usize) -> &[f64] {
        &self.tilts[item]
    }
}

/// A turn beyond a pose as the shape sees it: of its other face the other way.
fn seen_by_shape(allowed: &AllowedPose, turn: f64) -> f64 {
    if allowed.pose.mirrored { 0.0 - turn } else { turn }
}

fn add(tilts: &mut Vec<f64>, tilt: f64) {
    if !tilts.iter().any(|&known| same_turn(known, tilt)) {
        tilts.push(tilt);
    }
}
