//! An index over placed outlines that finds the few that may meet without looking at every pair.

use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};

use crate::{Bounds, Outline};

type Entry = GeomWithData<Rectangle<[f64; 2]>, usize>;

/// The bounds of placed outlines, by index. Building costs `O(n log n)`, a question about the logarithm of `n`.
///
/// ```
/// use ellwand_geometry::{Outline, PlacedIndex, point};
///
/// let square = Outline::rectangle(10.0, 10.0).unwrap();
/// let placed = [square.clone(), square.translated(point(30.0, 0.0)), square.translated(point(5.0, 5.0))];
/// assert_eq!(PlacedIndex::new(&placed).pairs_within(0.0), [(0, 2)]);
/// assert_eq!(PlacedIndex::new(&placed).pairs_within(15.0), [(0, 2), (1, 2)]);
/// ```
#[derive(Debug, Clone)]
pub struct PlacedIndex {
    tree: RTree<Entry>,
    bounds: Vec<Bounds>,
}

impl PlacedIndex {
    /// Indexes the outlines in the order given.
    pub fn new<'a>(outlines: impl IntoIterator<Item = &'a Outline>) -> Self {
        let bounds: Vec<Bounds> = outlines.into_iter().map(Outline::bounds).collect();
        let entries = bounds.iter().enumerate().map(|(index, b)| {
            let rectangle = Rectangle::from_corners([b.min.x, b.min.y], [b.max.x, b.max.y]);
            GeomWithData::new(rectangle, index)
        });
        Self { tree: RTree::bulk_load(entries.collect()), bounds }
    }

    /// Indices of the outlines whose bounds meet `window`, touching included, in ascending order.
    pub fn meeting(&self, window: &Bounds) -> Vec<usize> {
        let window = AABB::from_corners([window.min.x, window.min.y], [window.max.x, window.max.y]);
        let mut found: Vec<usize> = self.tree.locate_in_envelope_intersecting(window).map(|entry| entry.data).collect();
        found.sort_unstable();
        found
    }

    /// Every pair `(i, j)`, `i < j`, whose bounds come within `distance` mm of each other on both axes, in ascending
    /// order. Pairs that are left out are farther apart than that.
    pub fn pairs_within(&self, distance: f64) -> Vec<(usize, usize)> {
        (self.bounds.iter().enumerate())
            .flat_map(|(i, bounds)| {
                self.meeting(&bounds.grown(distance)).into_iter().filter(move |&j| j > i).map(move |j| (i, j))
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::point;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(crate::testing::cases(256))]

        /// Against looking at every pair.
        #[test]
        fn no_near_pair_is_missed(
            places in prop::collection::vec((0.0..300.0f64, 0.0..300.0f64, 1.0..90.0f64, 1.0..90.0f64), 0..30),
            distance in 0.0..20.0f64,
        ) {
            let placed: Vec<Outline> = (places.iter())
                .map(|&(x, y, w, h)| Outline::rectangle(w, h).unwrap().translated(point(x, y)))
                .collect();
            let found = PlacedIndex::new(&placed).pairs_within(distance);
            for j in 0..placed.len() {
                for i in 0..j {
                    let near = placed[i].bounds().grown(distance).overlaps(&placed[j].bounds());
                    prop_assert_eq!(found.contains(&(i, j)), near);
                }
            }
        }
    }
}
