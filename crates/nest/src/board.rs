//! Where everything stands in a strip of some length, overlaps allowed, with an index by height.
//!
//! The index is a list of boxes sorted by their lowest `y`. A candidate meets only the run of boxes between its own lowest `y`
//! less the tallest box and its highest `y`: a number that does not grow with the strip's length.

use std::iter;

use ellwand_geometry::{Bounds, Point};

use crate::model::{Model, Places};
use crate::phase::Phases;
use crate::stance::Stand;

/// A placed body. An item has one, or two with its twin; obstacles follow the items.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Solid {
    pub(crate) bounds: Bounds,
    pub(crate) stand: Stand,
    /// The item, or the number of items plus the obstacle.
    pub(crate) owner: u32,
    /// Whether it is the half of a twin that follows the one moved.
    twin: bool,
}

/// A state of the search.
#[derive(Debug, Clone)]
pub(crate) struct Board {
    /// The strip's length.
    pub(crate) length: f64,
    /// Stance and place of each item.
    pub(crate) places: Places,
    /// Where the phases stand that lattices share.
    pub(crate) phases: Phases,
    solids: Vec<Solid>,
}

impl Board {
    /// A board with no items yet.
    pub(crate) fn empty(model: &Model, length: f64) -> Self {
        let mut board = Self { length, places: Vec::new(), phases: Phases::at_zero(&model.phases), solids: Vec::new() };
        for (k, &stand) in model.obstacles.iter().enumerate() {
            let owner = (model.items.len() + k) as u32;
            board.insert(Solid { bounds: model.reach(&stand), stand, owner, twin: false });
        }
        board
    }

    /// A board with every item at its place.
    pub(crate) fn new(model: &Model, length: f64, places: Places) -> Self {
        let mut board = Self::empty(model, length);
        for (item, &(stance, at)) in places.iter().enumerate() {
            board.solids.extend(solids_of(model, item, stance, at));
        }
        board.solids.sort_by(|a, b| a.bounds.min.y.total_cmp(&b.bounds.min.y));
        board.phases = model.phases_at(&places);
        board.places = places;
        board
    }

    /// Puts an item on the board that was not there; items are added in any order, but `places` must hold a slot for each.
    pub(crate) fn add(&mut self, model: &Model, item: usize, stance: usize, at: Point) {
        self.places[item] = (stance, at);
        for solid in solids_of(model, item, stance, at) {
            self.insert(solid);
        }
    }

    /// Moves an item. Only what lies between its old and its new height is touched.
    pub(crate) fn put(&mut self, model: &Model, item: usize, stance: usize, at: Point) {
        let (old_stance, old_at) = std::mem::replace(&mut self.places[item], (stance, at));
        for (old, new) in solids_of(model, item, old_stance, old_at).zip(solids_of(model, item, stance, at)) {
            let level = self.solids.partition_point(|s| s.bounds.min.y < old.bounds.min.y);
            let found = self.solids[level..].iter().position(|s| s.owner == old.owner && s.twin == old.twin);
            if let Some(k) = found {
                self.replace(level + k, new);
            }
        }
    }

    /// Puts a solid in the stead of the one at `from` and moves it to where it belongs, behind those as low.
    fn replace(&mut self, from: usize, solid: Solid) {
        let as_low = |s: &Solid| s.bounds.min.y <= solid.bounds.min.y;
        let below = self.solids[..from].partition_point(as_low);
        let past = from + 1 + self.solids[from + 1..].partition_point(as_low);
        self.solids[from] = solid;
        if below < from {
            self.solids[below..=from].rotate_right(1);
        } else {
            self.solids[from..past].rotate_left(1);
        }
    }

    fn insert(&mut self, solid: Solid) {
        let k = self.solids.partition_point(|s| s.bounds.min.y <= solid.bounds.min.y);
        self.solids.insert(k, solid);
    }

    /// Solids whose boxes meet `bounds`, from low to high.
    #[inline]
    pub(crate) fn near(&self, bounds: Bounds, tallest: f64) -> impl Iterator<Item = &Solid> {
        (self.above(bounds.min.y, tallest).iter())
            .take_while(move |s| s.bounds.min.y < bounds.max.y)
            .filter(move |s| s.bounds.overlaps(&bounds))
    }

    /// Every solid that reaches above `y`, from low to high, with some that do not. None is taller than `tallest`.
    #[inline]
    pub(crate) fn above(&self, y: f64, tallest: f64) -> &[Solid] {
        &self.solids[self.solids.partition_point(|s| s.bounds.min.y <= y - tallest)..]
    }

    /// Every solid, from low to high.
    pub(crate) fn solids(&self) -> &[Solid] {
        &self.solids
    }

    /// Calls `visit` with the depth of every two bodies that overlap and their owners. Obstacles may overlap each other. Of two twins that stand
    /// across one axis only the halves moved are told: the other halves are their mirror images.
    pub(crate) fn overlaps(&self, model: &Model, mut visit: impl FnMut(u32, u32, f64)) {
        let items = self.places.len();
        let is_obstacle = |solid: &Solid| solid.owner as usize >= items;
        for (k, a) in self.solids.iter().enumerate() {
            for b in self.solids[k + 1..].iter().take_while(|b| b.bounds.min.y < a.bounds.max.y) {
                let mirror_images = || {
                    let axis = |solid: &Solid| {
                        let item = solid.owner as usize;
                        model.items[item].stances[self.places[item].0].twin
                    };
                    a.twin && b.twin && axis(a) == axis(b)
                };
                let both_obstacles = is_obstacle(a) && is_obstacle(b);
                if a.owner == b.owner || both_obstacles || !a.bounds.overlaps(&b.bounds) || mirror_images() {
                    continue;
                }
                let depth = model.depth(&a.stand, &b.stand);
                if depth > 0.0 {
                    visit(a.owner, b.owner, depth);
                }
            }
        }
    }
}

/// The solids of an item at a place, its twin's second.
fn solids_of(model: &Model, item: usize, stance: usize, at: Point) -> impl Iterator<Item = Solid> {
    let (one, twin) = model.stands(item, stance, at);
    let solid = |stand: Stand, twin| Solid { bounds: model.reach(&stand), stand, owner: item as u32, twin };
    iter::once(solid(one, false)).chain(twin.map(|twin| solid(twin, true)))
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{Outline, Pose, point};

    use super::*;
    use crate::clearance::Detail;
    use crate::random::Random;
    use crate::{AllowedPose, Item, Problem};

    #[test]
    fn a_board_after_many_moves_is_the_board_of_its_places() {
        let item = |k: usize| {
            let twin = k.is_multiple_of(2).then_some(150.0);
            Item { shape: 0, poses: vec![AllowedPose { twin, ..AllowedPose::anywhere(Pose::AS_DRAWN) }] }
        };
        let problem = Problem {
            left: 0.0,
            right: 300.0,
            shapes: vec![Outline::rectangle(40.0, 30.0).unwrap()],
            items: (0..12).map(item).collect(),
            obstacles: vec![Outline::rectangle(20.0, 20.0).unwrap()],
            gap: 0.0,
            phases: Vec::new(),
        };
        let model =
            Model::new(&problem, &crate::tilts::Tilts::straight(&problem), Detail::Search, &crate::Regions::default())
                .unwrap();
        let mut board = Board::new(&model, 500.0, vec![(0, point(0.0, 0.0)); 12]);
        let mut random = Random::new(3, 0);
        for _ in 0..500 {
            // Few heights, so that many are equal.
            let at = point(random.between(0.0, 110.0), random.below(6) as f64 * 25.0);
            board.put(&model, random.below(12), 0, at);
        }
        let key = |s: &Solid| (s.bounds.min.y, s.bounds.min.x, s.owner, s.twin);
        assert!(board.solids.is_sorted_by(|a, b| a.bounds.min.y <= b.bounds.min.y));
        let sorted = |board: &Board| {
            let mut keys: Vec<_> = board.solids.iter().map(key).collect();
            keys.sort_by(|a, b| a.partial_cmp(b).unwrap());
            keys
        };
        assert_eq!(sorted(&board), sorted(&Board::new(&model, 500.0, board.places.clone())));
    }

    /// Two pairs whose second halves lie at one place: of halves that mirror across one axis the first ones say so.
    #[test]
    fn overlaps_of_second_halves_are_told_where_the_axes_differ() {
        let poses = [100.0, 170.0].map(|axis| AllowedPose::anywhere(Pose::AS_DRAWN).mirrored_across(axis));
        let mut problem = Problem::in_strip(-50.0, 300.0);
        let shape = problem.shape(Outline::rectangle(40.0, 30.0).unwrap());
        problem.items = vec![Item { shape, poses: poses.to_vec() }; 2];
        let tilts = crate::tilts::Tilts::straight(&problem);
        let model = Model::new(&problem, &tilts, Detail::Search, &crate::Regions::default()).unwrap();
        // The stance that shows the placed shape across an axis, where its second half begins at 180.
        let across = |axis: f64| {
            let stances = &model.items[0].stances;
            let stance = stances.iter().position(|s| s.twin == Some(axis) && !s.shows_twin).unwrap();
            (stance, point(2.0 * axis - 220.0, 0.0))
        };
        for axes in [[100.0, 170.0], [170.0, 100.0], [100.0, 100.0], [170.0, 170.0]] {
            let board = Board::new(&model, 100.0, axes.map(across).to_vec());
            let mut told = Vec::new();
            board.overlaps(&model, |a, b, depth| told.push((a.min(b), a.max(b), depth)));
            assert_eq!(told.len(), 1, "{axes:?}: {told:?}");
            assert_eq!((told[0].0, told[0].1), (0, 1));
            assert!((told[0].2 - 30.0).abs() < 1e-9, "{told:?}");
        }
    }
}
