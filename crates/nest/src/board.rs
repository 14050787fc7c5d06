//! Where everything stands in a strip of some length, overlaps allowed, with an index by height.
//!
//! The index is a list of boxes sorted by their lowest `y`. A candidate meets only the run of boxes between its own lowest `y`
//! less the tallest box and its highest `y`: a number that does not grow with the strip's length.

use ellwand_geometry::{Bounds, Point};

use crate::model::{Model, Stand};

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
    pub(crate) places: Vec<(usize, Point)>,
    solids: Vec<Solid>,
}

impl Board {
    /// A board with no items yet.
    pub(crate) fn empty(model: &Model, length: f64) -> Self {
        let mut board = Self { length, places: Vec::new(), solids: Vec::new() };
        for (k, &stand) in model.obstacles.iter().enumerate() {
            let owner = (model.items.len() + k) as u32;
            board.insert(Solid { bounds: model.reach(&stand), stand, owner, twin: false });
        }
        board
    }

    /// A board with every item at its place.
    pub(crate) fn new(model: &Model, length: f64, places: Vec<(usize, Point)>) -> Self {
        let mut board = Self::empty(model, length);
        board.places = places;
        for item in 0..board.places.len() {
            board.add_solids(model, item);
        }
        board
    }

    /// Puts an item on the board that was not there; items are added in any order, but `places` must hold a slot for each.
    pub(crate) fn add(&mut self, model: &Model, item: usize, stance: usize, at: Point) {
        self.places[item] = (stance, at);
        self.add_solids(model, item);
    }

    fn add_solids(&mut self, model: &Model, item: usize) {
        let (stance, at) = self.places[item];
        let (one, twin) = model.stands(item, stance, at);
        self.insert(Solid { bounds: model.reach(&one), stand: one, owner: item as u32, twin: false });
        if let Some(twin) = twin {
            self.insert(Solid { bounds: model.reach(&twin), stand: twin, owner: item as u32, twin: true });
        }
    }

    /// Moves an item.
    pub(crate) fn put(&mut self, model: &Model, item: usize, stance: usize, at: Point) {
        self.remove(item);
        self.add(model, item, stance, at);
    }

    /// Takes an item off the board; its slot in `places` keeps the old place.
    pub(crate) fn remove(&mut self, item: usize) {
        self.solids.retain(|s| s.owner != item as u32);
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

    /// Calls `visit` with the depth of every two bodies that overlap and their owners. Of two twins with one axis only the
    /// halves moved are told: the other halves are their mirror images.
    pub(crate) fn overlaps(&self, model: &Model, mut visit: impl FnMut(u32, u32, f64)) {
        for (k, a) in self.solids.iter().enumerate() {
            for b in self.solids[k + 1..].iter().take_while(|b| b.bounds.min.y < a.bounds.max.y) {
                let mirror_images = || {
                    let axis = |solid: &Solid| model.items[solid.owner as usize].twin;
                    a.twin && b.twin && axis(a) == axis(b)
                };
                if a.owner == b.owner || !a.bounds.overlaps(&b.bounds) || mirror_images() {
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
